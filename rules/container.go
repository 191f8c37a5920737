package rules

import "halfweight/rules/load"

// container asks of an intermodal container that it is held at all four lower
// corners, its front and rear apart (49 CFR 393.126): on a container chassis, or
// wherever it has them, by locks told in; elsewhere by a tie-down at each corner,
// of chain or wire rope where it is loaded. Direct ones with no place told are
// taken one per corner.
//
// It does not see corners that rest on nothing, play in the locks, overhang, or
// chains crossed at the upper corners: those are the section's checks by eye.
func container(s *sheet) {
	if s.own.rule != ruleContainer {
		return
	}
	c, want := &s.art.Cargo, s.lim.Cargo.ContainerCorners
	if a, several := s.apart(want); several {
		s.findSection(a)
		return
	}
	a := asked{applies: true, want: want, stand: s.places.against(want, want/2)}
	switch {
	case c.Locked == load.Yes:
		a.stand = stand{outcome: Met, have: a.have, reason: reasonLocksIn}
	case a.outcome == Met:
		s.took(&a, codeOnePerCorner)
	case len(s.art.Ties) > 0:
	case c.Chassis == load.Yes && c.Locked == load.No:
		a.stand = stand{outcome: Short, reason: reasonLocksOut}
	case c.Locked == load.Untold && !s.art.Bare:
		a.stand = stand{reason: reasonLocks, ask: AskLocks}
	}
	s.findSection(a)
}
