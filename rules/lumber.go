package rules

// lumber asks of bundles of lumber and the like in more than one tier at least
// the two tie-downs that go over a top bundle (49 CFR 393.118); one tier, or one
// bundle, rides by the general rules. How many tiers there are is asked.
//
// It does not know how many bundles lie on top, nor spacers, stakes or friction
// between tiers: those are the section's checks by eye.
func lumber(s *sheet) {
	if s.own.rule != ruleLumber {
		return
	}
	if s.oneTier() {
		s.findSection(asked{applies: true, stand: stand{outcome: Met, reason: reasonOneTier}})
		return
	}
	top := s.lim.Cargo.LumberTop
	fewest := top
	if s.art.Cargo.Tiers == 0 {
		fewest = 0
	}
	a := s.countOf(anyTie).settle(fewest, top, AskTiers, reasonTiers)
	if s.art.Cargo.Tiers == 0 && len(s.art.Ties) > 0 {
		a.outcome, a.ask, a.reason = Untold, AskTiers, reasonTiers
	}
	s.findSection(a)
}

// oneTier says whether the bundles are told to lie in one tier, or there is only
// one.
func (s *sheet) oneTier() bool { return s.art.Cargo.Tiers == 1 || s.art.Cargo.Pieces == 1 }
