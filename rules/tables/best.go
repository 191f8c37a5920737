package tables

import (
	"halfweight/rules/load"
)

// Best is the highest rating of any size of a material; of a chain of that
// grade, where a grade is given. It bounds a tie-down whose size is not told.
func Best(m load.Material, grade string) (f Figure, ok bool) {
	better := func(g Figure) {
		if g.WLL > f.WLL {
			f, ok = g, true
		}
	}
	switch m {
	case load.Chain:
		for i := range chains() {
			if c := &chains()[i]; grade == "" || c.grade == grade {
				better(c.Figure)
			}
		}
	case load.Webbing:
		for i := range webbings() {
			better(webbings()[i].Figure)
		}
	case load.WireRope:
		for i := range wireRopes() {
			better(wireRopes()[i].Figure)
		}
	case load.Cordage:
		for i := range cordage() {
			better(cordage()[i].Figure)
		}
	case load.SteelStrap:
		for i := range steelStraps() {
			better(steelStraps()[i].Figure)
		}
	}
	return f, ok
}

// NextChain is the next larger chain of that grade that the table has and that
// is rated higher.
func NextChain(size load.Length, grade string) (next load.Length, f Figure, ok bool) {
	size = Nominal(size, load.Chain)
	now, _ := Chain(size, grade)
	for i := range chains() {
		c := &chains()[i]
		if c.grade == grade && c.size > size && c.WLL > now.WLL && (!ok || c.size < next) {
			next, f, ok = c.size, c.Figure, true
		}
	}
	return next, f, ok
}

// LeastWeakerBinder is the least of the binders that WeakerBinder knows, for a
// chain whose size is not told.
func LeastWeakerBinder() (f Figure, ok bool) {
	for i := range binders() {
		if b := &binders()[i]; b.weakerOn != 0 && (!ok || b.WLL < f.WLL) {
			f, ok = b.Figure, true
		}
	}
	return f, ok
}
