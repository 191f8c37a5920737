package rules

import "halfweight/rules/load"

// Reasons of tensioner.
const (
	reasonTightens    = "can be tightened"
	reasonNoTensioner = "no tensioner"
	reasonRope        = "rope, tensioner not told"
)

// tensioner asks that every tie-down that is on can be tightened on the road
// (49 CFR 393.112); steel strapping is exempt. On chain and webbing a binder or
// ratchet not told is taken as there; on wire and fibre rope it is untold. Told
// that there is none, the tie-down counts for nothing.
//
// It does not tell binders from each other: any kind that the driver can use
// will do.
func tensioner(s *sheet) {
	f := Finding{Rule: "tensioner", Outcome: Met, Reason: reasonTightens}
	on := false
	for i := range s.groups {
		g := &s.groups[i]
		if g.cond.fate == gone || g.n == 0 {
			continue
		}
		on = true
		g.used |= g.any & codeTensionerThere
		switch {
		case g.tie.Material == load.SteelStrap:
		case g.tie.Tensioner.Has == load.No:
			f.Outcome, f.Reason, f.Ask = Short, reasonNoTensioner, ""
		case g.cond.fate == out || f.Outcome == Short:
		case rope(g.tie.Material) && !hasTensioner(g.tie):
			f.Outcome, f.Reason, f.Ask = Untold, reasonRope, AskTensioner
		}
	}
	if on {
		s.find(f)
	}
}

// rope says whether a material is wire or fibre rope, or is not told.
func rope(m load.Material) bool {
	return m == load.WireRope || m == load.Cordage || m == ""
}
