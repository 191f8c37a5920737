package rules

import "halfweight/rules/load"

// coils asks of a metal coil of 5,000 lb (2,268 kg) or more a number of
// tie-downs by how its eye lies (49 CFR 393.120): up, three (two crossed over the
// eye, one straight over it); crosswise, two (through the eye, one forward, one
// rearward); lengthwise, three, or two where both go over. A lighter coil rides
// by the general rules.
//
// It does not see angles, cradles and timbers (the section's checks by eye), nor
// reckon rows of coils: several are asked one by one.
func coils(s *sheet) {
	if s.own.rule != ruleCoils {
		return
	}
	lim := &s.lim.Cargo
	if a, several := s.apart(lim.CoilAlOver); several {
		s.findSection(a)
		return
	}
	all := s.countOf(anyTie)
	switch s.art.Cargo.Lies {
	case load.OnEnd:
		s.findSection(all.settle(lim.CoilOnEnd, lim.CoilOnEnd, "", ""))
	case load.Across:
		s.findSection(all.settle(lim.CoilAcross, lim.CoilAcross, "", ""))
	case load.Along:
		s.findSection(s.alongCoil(all))
	default:
		s.findSection(all.settle(min(lim.CoilAcross, lim.CoilAlOver), max(lim.CoilOnEnd, lim.CoilAlong), AskLies, reasonLies))
	}
}

// alongCoil settles a coil whose eye lies lengthwise: three, or two over.
func (s *sheet) alongCoil(all tallied) asked {
	lim := &s.lim.Cargo
	over := s.countOf(func(g *group) load.Tri {
		switch g.tie.Route {
		case load.Over:
			return load.Yes
		case "":
			return load.Untold
		}
		return load.No
	})
	if a := over.settle(lim.CoilAlOver, lim.CoilAlOver, "", ""); a.outcome != Short {
		if b := all.settle(lim.CoilAlong, lim.CoilAlong, "", ""); b.outcome == Met {
			return b
		}
		return a
	}
	return all.settle(lim.CoilAlong, lim.CoilAlong, "", "")
}
