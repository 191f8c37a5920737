package tables

import (
	_ "embed"
	"sync"

	"halfweight/rules/load"
)

//go:embed chain.csv
var chainCSV string

type chainRow struct {
	size  load.Length
	grade string
	Figure
}

var chains = sync.OnceValue(func() []chainRow {
	return parse("chain.csv", chainCSV, func(r row) chainRow {
		return chainRow{r.inches("size_in"), r.text("grade"), r.figure()}
	})
})

// Chain looks up 49 CFR 393.108's chain table; grade is "30", "43", "70", "80"
// or "100". ok is false when the table has no row: never take the next one.
func Chain(size load.Length, grade string) (f Figure, ok bool) {
	size = Nominal(size, load.Chain)
	for _, c := range chains() {
		if c.size == size && c.grade == grade {
			return c.Figure, true
		}
	}
	return Figure{}, false
}

// ChainBest is the highest rating of any grade of that size.
func ChainBest(size load.Length) (f Figure, grade string, ok bool) {
	size = Nominal(size, load.Chain)
	for _, c := range chains() {
		if c.size == size && c.WLL > f.WLL {
			f, grade, ok = c.Figure, c.grade, true
		}
	}
	return f, grade, ok
}
