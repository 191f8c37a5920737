package rules

import "halfweight/rules/load"

// rollOff asks of a roll-on/roll-off or hook-lift container, carried without the
// hold-downs built into truck and box, at least one tie-down that holds its rear
// to the truck (49 CFR 393.134); hold-downs told in will do.
//
// It does not reckon what the hoist and the stops hold, which no text gives, so
// that a sum of tie-downs below half the weight stays untold; where the rear one
// sits and what holds the front are the section's checks by eye.
func rollOff(s *sheet) {
	if s.own.rule != ruleRollOff {
		return
	}
	if s.art.Cargo.Locked == load.Yes {
		s.findSection(asked{applies: true, stand: stand{outcome: Met, reason: reasonLocksIn}})
		return
	}
	want := s.lim.Cargo.RollOffRear
	t := s.countOf(func(g *group) load.Tri {
		switch p := g.tie.Place; {
		case p.End == rear, p.Spread != "":
			return load.Yes
		case p.End == front, p.End == middle:
			return load.No
		}
		return load.Untold
	})
	a := t.settle(want, want, "", "")
	if a.outcome == Untold && a.ask != AskCount && a.ask != AskDamage {
		a.ask, a.reason = AskRear, reasonPlace
	}
	if len(s.art.Ties) == 0 && !s.art.Bare {
		a.stand = stand{reason: reasonLocks, ask: AskRear}
	}
	s.findSection(a)
}
