package rules

import (
	"halfweight/rules/load"
)

// Reasons of number.
const (
	reasonNoLength  = "length not told"
	reasonNoBlocked = "blocking not told"
	reasonNoRow     = "length of the row not told"
	reasonNoRows    = "number and length of the row not told"
	reasonSpecial   = "special method"
	reasonIfSpecial = "too few unless a special method"
)

// number asks of an article that is not on wheels or tracks as many tie-downs as
// its length and weight ask for, fewer where something blocks it from moving
// forward (49 CFR 393.110(b), (c)). Every tie-down that counts is one of them,
// wherever it holds.
//
// Of several told as one group the length is that of the group: where only that
// of each is told, it may be so many times that. A length told in metres is
// compared with the section's own metric limits, which are a hair shorter. Beams
// and other fabricated structural items that must be fastened by special methods
// are let off the number once that is told (393.110(d)).
//
// It does not know what a special method is, nor lets machinery without wheels
// off by its name. Whether a headboard is strong enough (393.114) is not seen.
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
	f := Finding{
		Rule: "number", Outcome: a.outcome, Reason: a.reason,
		Have: a.have, Want: a.want, Ask: a.ask,
	}
	if a.reason == reasonSpecial || a.reason == reasonIfSpecial {
		f.Cite = s.lim.Citation("special")
	}
	s.find(f)
	s.demands = append(s.demands, Demand{Rule: "number", Number: a.want, Have: Have{Number: a.have}})
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
		if s.rowUntold() {
			a.want = fewest // of any row there may be
		}
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
	if s.rowUntold() && (a.ask == AskBlocked || a.ask == AskPlate || a.ask == AskWeight) && a.outcome == Untold {
		a.ask, a.reason = AskRow, reasonNoRow
		if most == many {
			a.reason = reasonNoRows
		}
	}
	s.special(&a)
	return a
}

// rowUntold says whether only the length of each of several is told, not that of
// the group as it rides.
func (s *sheet) rowUntold() bool {
	return s.several() && s.art.Length > 0 && !s.art.Cargo.Whole
}

// special lets a fabricated structural item off the number where it is told to
// be fastened by special methods (393.110(d)); too few, it is asked.
func (s *sheet) special(a *asked) {
	if !s.cargo.Special || a.outcome == Met {
		return
	}
	switch s.art.Cargo.Special {
	case load.Yes:
		a.outcome, a.ask, a.reason = Met, "", reasonSpecial
	case load.Untold:
		if a.outcome == Short {
			a.outcome, a.ask, a.reason = Untold, AskSpecial, reasonIfSpecial
		}
	}
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
	row := l
	if s.rowUntold() {
		row = l * load.Length(s.art.Cargo.Pieces)
	}
	fewest, most = s.unblocked(l, false), s.unblocked(row, true)
	if w.Known() {
		fewest, most = s.unblocked(l, s.overLight(w.Low)), s.unblocked(row, s.overLight(w.High))
	}
	switch s.art.Blocked {
	case load.Yes:
		fewest, most = s.each(l), s.each(row)
	case load.Untold:
		fewest = min(fewest, s.each(l))
	}
	if row == 0 {
		most = many // a plural: any number
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
	short, long := s.lim.NumberShort, s.lim.NumberLong
	if s.art.InMetres {
		short, long = s.lim.Cargo.NumberShortMetric, s.lim.Cargo.NumberLongMetric
	}
	switch {
	case l <= short && !over:
		return s.lim.NumberShortLight
	case l <= long:
		return s.lim.NumberBase
	}
	return s.lim.NumberBase + s.each(l-long)
}

// each is 393.110(c): one for each 10 ft (3.04 m) or part of it.
func (s *sheet) each(l load.Length) int {
	ten := s.lim.NumberEach
	if s.art.InMetres {
		ten = s.lim.Cargo.NumberLongMetric
	}
	return int((l + ten - 1) / ten)
}
