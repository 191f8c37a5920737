package rules

import (
	"halfweight/rules/load"
	"halfweight/rules/tables"
)

// boulder asks of a natural rock of 11,000 lb (5,000 kg) or more chain and
// nothing else, by its shape (49 CFR 393.136): cubic, or on a steady base, at
// least two chains on each; on an unsteady one, a chain round it of half its
// weight or more and four from that to the deck of a quarter each. Exactly the
// limit, which no clause of the section names, is taken with the heavier; a
// lighter rock rides by the general rules.
//
// It does not ask whether a lighter one has more than two cubic metres, nor see
// blocks, notches and angles: those are the section's checks by eye.
func boulder(s *sheet) {
	if s.own.rule != ruleBoulder {
		return
	}
	want := s.lim.Cargo.BoulderChains
	if a, several := s.apart(want); several {
		s.findSection(a)
		return
	}
	all := s.countOf(chainFits)
	switch s.art.Cargo.Shape {
	case load.Cubic, load.Stable:
		s.findSection(all.settle(want, want, "", ""))
	case load.Unstable:
		s.findSection(s.unsteady(all))
	default:
		a := all.settle(want, want, "", "")
		if b := s.unsteady(all); a.outcome == Met && b.outcome != Met {
			a.outcome, a.ask, a.reason = Untold, AskShape, reasonShape
		}
		s.findSection(a)
	}
}

// chainFits fits chain; what is not told to be of any material may be one.
func chainFits(g *group) load.Tri {
	switch g.tie.Material {
	case load.Chain:
		return load.Yes
	case "":
		return load.Untold
	}
	return load.No
}

// unsteady settles a rock on an unsteady base: the strongest chain goes round it.
func (s *sheet) unsteady(all tallied) asked {
	w, lim := &s.art.Weight, &s.lim.Cargo
	want := lim.BoulderLegs + 1
	round := s.countOf(func(g *group) load.Tri {
		return g.strong(tables.Of(lim.BoulderAround, w.Low), tables.Of(lim.BoulderAround, w.High))
	}).settle(1, 1, "", "")
	legs := s.countOf(func(g *group) load.Tri {
		return g.strong(tables.Of(lim.BoulderLeg, w.Low), tables.Of(lim.BoulderLeg, w.High))
	}).settle(want, want, "", "")
	a := legs
	switch {
	case legs.outcome == Short && all.have >= want:
		a.reason = reasonTooWeak
	case legs.outcome == Met && round.outcome != Met:
		a.stand = round.stand
		if a.outcome == Short {
			a.reason = reasonTooWeak
		}
	}
	a.have = all.have
	return a
}
