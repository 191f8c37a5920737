package rules

import (
	"errors"
	"fmt"

	"halfweight/rules/load"
	"halfweight/rules/tables"
)

// House is one rule of a crew's own. It only tightens: Tightens says where it
// would not.
type House struct {
	Kind    string    `json:"kind"` // one of the House constants
	Percent int       `json:"percent,omitzero"`
	Count   int       `json:"count,omitzero"`
	Mass    load.Mass `json:"mass,omitzero"`
}

// Kinds of house rules.
const (
	HouseNeed    = "need"    // Percent of the weight, at least, must be covered
	HouseTies    = "ties"    // Count tie-downs, at least, on each article
	HouseEnds    = "ends"    // Count of them, at least, at the front and as many at the rear
	HouseWebbing = "webbing" // no strap counts on a machine or vehicle
	HouseGrade   = "grade"   // chain below grade Count counts for nothing
	HouseRating  = "rating"  // each that holds a corner of a heavy machine is rated Mass, at least
	HouseGuards  = "guards"  // every strap or rope over a machine has an edge guard
)

// What a house rule is refused for.
var (
	ErrLoosens    = errors.New("it would ask less than the rules do")
	ErrNoHouse    = errors.New("no such house rule")
	ErrOutOfReach = errors.New("no load could meet it")
)

// With is set with a crew's own rules added; set itself is not changed. A rule
// that asks no more than set does (it may have been made for another) asks
// nothing.
func (set Set) With(house ...House) Set {
	if len(house) == 0 {
		return set
	}
	base := set.Limits()
	cites := make(map[string]string)
	l := base.Tightened(nil)
	for _, h := range house {
		if set.Tightens(h) == nil {
			h.lay(l, base, cites)
		}
	}
	l = l.Tightened(cites)
	set.Limits = func() *tables.Limits { return l }
	return set
}

// Tightens says why h cannot be a house rule beside set: ErrLoosens,
// ErrOutOfReach or ErrNoHouse; nil where it can.
func (set Set) Tightens(h House) error { return h.check(set.Limits()) }

// most pieces, percent and grade that a house rule can ask for.
const (
	mostTies    = 20
	mostPercent = 200
	mostGrade   = 100
)

// check says whether h tightens l.
func (h House) check(l *tables.Limits) error {
	over := func(n, least, most int) error {
		switch {
		case n <= least:
			return ErrLoosens
		case n > most:
			return ErrOutOfReach
		}
		return nil
	}
	switch h.Kind {
	case HouseNeed:
		return over(h.Percent, int(l.Need), mostPercent)
	case HouseTies:
		return over(h.Count, l.Ends, mostTies)
	case HouseEnds:
		return over(h.Count, l.EachEnd, mostTies/2)
	case HouseGrade:
		return over(h.Count, leastGrade, mostGrade)
	case HouseRating:
		switch {
		case h.Mass <= l.LeastHold:
			return ErrLoosens
		case h.Mass > l.BestChain:
			return ErrOutOfReach
		}
		return nil
	case HouseWebbing, HouseGuards:
		return nil
	}
	return ErrNoHouse
}

// leastGrade is the grade that chain without marks counts as (49 CFR 393.108).
const leastGrade = 30

// lay puts h on l, and its cite beside the duty that it tightens.
func (h House) lay(l, base *tables.Limits, cites map[string]string) {
	cite := func(duties ...string) {
		for _, d := range duties {
			cites[d] = "house rule"
			if law := base.Citation(d); law != "" {
				cites[d] = "house rule, tighter than " + law
			}
		}
	}
	switch h.Kind {
	case HouseNeed:
		l.Need = max(l.Need, tables.Percent(h.Percent))
		cite("weight", "aggregate")
	case HouseTies:
		l.LeastTies = max(l.LeastTies, h.Count)
		l.Corners, l.Ends = max(l.Corners, h.Count), max(l.Ends, h.Count)
		cite("ends", "number")
		if h.Count > base.Corners {
			cite("corners")
		}
	case HouseEnds:
		l.EachEnd = max(l.EachEnd, h.Count)
		l.Corners, l.Ends = max(l.Corners, 2*h.Count), max(l.Ends, 2*h.Count)
		cite("corners", "ends")
	case HouseWebbing:
		l.NoWebbing = true
		cite("no webbing")
	case HouseGrade:
		l.LeastGrade = max(l.LeastGrade, h.Count)
		cite("least grade")
	case HouseRating:
		l.LeastHold = max(l.LeastHold, h.Mass)
		cite("rating")
	case HouseGuards:
		l.Guards = true
		cite("guard")
	}
}

// barred is what the article's own section, or a house rule, makes of t: by a
// house rule a strap on a machine, or a chain of a
// grade below the one it asks, counts for nothing. A grade not read may be high
// enough.
func (s *sheet) barred(t *load.TieDown) condition {
	if c := s.unfit(t); c.fate != counts {
		return c
	}
	switch {
	case s.lim.NoWebbing && t.Material == load.Webbing && s.class != tables.ClassCargo:
		return condition{fate: out, why: whyWebbing, duty: "no webbing"}
	case s.lim.LeastGrade > 0 && t.Material == load.Chain:
		switch g := gradeOf(t); {
		case g == 0:
			return condition{fate: maybe, why: whyGradeOpen, settle: settleGrade, duty: "least grade"}
		case g < s.lim.LeastGrade:
			return condition{fate: out, why: whyGrade, duty: "least grade"}
		}
	}
	return condition{}
}

// Barred says whether a rule of the crew's own, or the set itself, lets t count
// for nothing on a, whatever its condition.
func (set Set) Barred(a *load.Article, t *load.TieDown) bool {
	s := &sheet{art: a, lim: set.Limits()}
	s.classify()
	s.govern()
	return s.barred(t).fate != counts || !s.lim.Unmarked && (t.State.NoTag || t.Grade.Reading == load.NoMarks)
}

// gradeOf is the grade of a chain as told; 0 where it was not read. A chain told
// without marks is grade 30, an alloy one at least 80.
func gradeOf(t *load.TieDown) int {
	switch t.Grade.Reading {
	case load.Read:
		n := 0
		if _, err := fmt.Sscanf(t.Grade.Value, "%d", &n); err == nil {
			return n
		}
	case load.NoMarks:
		return leastGrade
	case load.Alloy:
		return alloyGrade
	}
	return 0
}

// alloyGrade is the least grade of alloy chain in 49 CFR 393.108's table.
const alloyGrade = 80
