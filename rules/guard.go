package rules

import "halfweight/rules/load"

// Reasons of guard.
const (
	reasonGuarded   = "guarded"
	reasonUnguarded = "no edge guard"
	reasonNoGuard   = "edge guard not told"
)

// guard asks, where a crew's own rule does, that every strap or rope that runs
// over or through a machine be told to have an edge guard. 49 CFR 393.104(f)
// asks one where the edge would cut: without the crew's rule that is the remark
// edge-guard.
func guard(s *sheet) {
	if !s.lim.Guards {
		return
	}
	f, any := Finding{Rule: "guard", Outcome: Met, Reason: reasonGuarded}, false
	for i := range s.groups {
		g := &s.groups[i]
		if g.cond.fate != counts || !s.bearsOnEdges(g) {
			continue
		}
		any = true
		f.Want += g.n
		switch {
		case g.tie.State.NoGuard:
			f.Outcome, f.Reason, f.Ask = Short, reasonUnguarded, ""
		case g.tie.State.Guarded == load.Yes:
			f.Have += g.n
		case f.Outcome == Met:
			f.Outcome, f.Reason, f.Ask = Untold, reasonNoGuard, AskGuard
		}
	}
	if any {
		s.find(f)
	}
}
