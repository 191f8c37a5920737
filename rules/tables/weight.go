package tables

import (
	_ "embed"
	"sync"

	"halfweight/rules/load"
)

//go:embed weight.csv
var weightCSV string

// PerFoot is a weight in hundredths of a pound per foot.
type PerFoot int64

type weightRow struct {
	material load.Material
	size     load.Length
	grade    string
	weight   PerFoot
	Source
}

var weights = sync.OnceValue(func() []weightRow {
	return parse("weight.csv", weightCSV, func(r row) weightRow {
		return weightRow{
			load.Material(r.text("material")), r.inches("size_in"), r.text("grade"),
			PerFoot(r.whole("hundredths_lb_per_ft")), r.source(),
		}
	})
})

// Weight is about what a foot of a tie-down's chain, strap or rope weighs, to tell
// which of two is less to drag out. Of a chain whose grade is not told it is the
// heaviest of its size; where there is no row it is the heaviest of its material,
// so that nothing is chosen for a lightness it may not have, and ok is false.
func Weight(m load.Material, size load.Length, grade string) (w PerFoot, src Source, ok bool) {
	size = Nominal(size, m)
	var heaviest, fit weightRow
	for _, r := range weights() {
		if r.material != m && m != "" {
			continue
		}
		if r.weight > heaviest.weight {
			heaviest = r
		}
		if r.size == size && m != "" && (r.grade == grade || r.grade == "" || grade == "") && r.weight > fit.weight {
			fit, ok = r, true
		}
	}
	if !ok {
		fit = heaviest
	}
	return fit.weight, fit.Source, ok
}
