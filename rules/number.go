package rules

import (
	"halfweight/rules/load"
)

// Reasons of number.
const (
	reasonNoLength  = "length not told"
	reasonNoBlocked = "blocking not told"
)

// number asks of an article that is not on wheels or tracks as many tie-downs as
// its length and weight ask for, fewer where something blocks it from moving
// forward (49 CFR 393.110(b), (c)). Every tie-down that counts is one of them,
// wherever it holds.
//
// It does not apply 393.110(d): an article that by its design must be fastened
// by special methods is not known from its name. Lengths are compared in feet;
// the section's own metric limits (1.52 m, 3.04 m) are a hair shorter.
func number(s *sheet) {
	a := &s.scope.number
	if !a.applies {
		return
	}
	if a.outcome == Met {
		for i := range s.groups {
			if g := &s.groups[i]; g.cond.fate == counts {
				g.used |= g.any
			}
		}
	}
	s.find(Finding{
		Rule: "number", Outcome: a.outcome, Reason: a.reason,
		Have: a.have, Want: a.want, Ask: a.ask,
	})
	s.demands = append(s.demands, Demand{Rule: "number", Number: a.want})
}

// numberAsked settles number between the fewest and the most that what is not
// told could ask for. want is the most, or the fewest where there is no most.
func (s *sheet) numberAsked() asked {
	have, more, ask := 0, 0, ""
	for i := range s.groups {
		g := &s.groups[i]
		switch {
		case g.cond.fate == counts:
			have += g.n
		case g.cond.fate == maybe:
			more, ask = more+g.n, g.returns()
		}
		if g.tie.Plural && g.cond.fate <= maybe {
			more, ask = many, AskCount
		}
	}
	fewest, most := s.wanted()
	fewest, most = max(fewest, s.lim.LeastTies), max(most, s.lim.LeastTies)
	a := asked{applies: true, want: most, stand: stand{have: have, reason: reasonEnough}}
	if most == many {
		a.want = fewest
	}
	switch {
	case have >= most:
		a.outcome = Met
	case have+more < fewest:
		a.outcome, a.reason = Short, reasonFew
	case have < fewest:
		a.ask, a.reason = ask, reasonOf(ask)
	case s.art.Length == 0:
		a.ask, a.reason = AskLength, reasonNoLength
	case s.art.Blocked == load.Untold && have < most:
		a.ask, a.reason = AskBlocked, reasonNoBlocked
	case ask != "":
		a.ask, a.reason = ask, reasonOf(ask)
	case s.art.Weight.Known():
		a.ask, a.reason = AskPlate, reasonNearLine
	default:
		a.ask, a.reason = AskWeight, reasonNoWeight
	}
	return a
}

// wanted is the fewest and the most tie-downs that the section can ask for, by
// what is told of length, weight and blocking.
func (s *sheet) wanted() (fewest, most int) {
	l, w := s.art.Length, &s.art.Weight
	if l == 0 {
		if s.art.Blocked == load.No && w.Known() && s.overLight(w.Low) {
			return s.lim.NumberBase, many
		}
		return 1, many
	}
	fewest, most = s.unblocked(l, false), s.unblocked(l, true)
	if w.Known() {
		fewest, most = s.unblocked(l, s.overLight(w.Low)), s.unblocked(l, s.overLight(w.High))
	}
	switch s.art.Blocked {
	case load.Yes:
		return s.each(l), s.each(l)
	case load.Untold:
		fewest = min(fewest, s.each(l))
	}
	return fewest, most
}

// overLight says whether a weight is more than 1,100 lb, where told in metric
// units more than 500 kg.
func (s *sheet) overLight(m load.Mass) bool {
	if s.art.Weight.Metric {
		return m > s.lim.NumberLightMetric
	}
	return m > s.lim.NumberLight
}

// unblocked is 393.110(b): one for up to 5 ft and 1,100 lb, two for up to 10 ft,
// and one more for each 10 ft, or part of it, beyond.
func (s *sheet) unblocked(l load.Length, over bool) int {
	switch {
	case l <= s.lim.NumberShort && !over:
		return s.lim.NumberShortLight
	case l <= s.lim.NumberLong:
		return s.lim.NumberBase
	}
	return s.lim.NumberBase + s.each(l-s.lim.NumberLong)
}

// each is 393.110(c): one for each 10 ft or part of it.
func (s *sheet) each(l load.Length) int {
	return int((l + s.lim.NumberEach - 1) / s.lim.NumberEach)
}
