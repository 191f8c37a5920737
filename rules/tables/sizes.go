package tables

import (
	_ "embed"
	"sync"

	"halfweight/rules/load"
)

//go:embed sizes.csv
var sizesCSV string

type metricSize struct {
	material load.Material
	told     load.Length
	nominal  load.Length
}

var metricSizes = sync.OnceValue(func() []metricSize {
	return parse("sizes.csv", sizesCSV, func(r row) metricSize {
		return metricSize{
			load.Material(r.text("material")),
			load.Length(r.whole("told_mm")) * load.Millimetre,
			r.inches("size_in"),
		}
	})
})

// Nominal is the size in inches that the tables know a size told in whole
// millimetres by: 10 mm chain is 3/8, a 50 mm strap is 2 in. Any other size
// comes back as it is. Every lookup does this by itself.
//
// Rope is taken so only where the size in inches is the thinner one: 11 mm rope
// is thinner than 7/16 in, and has no row.
func Nominal(size load.Length, m load.Material) load.Length {
	for _, s := range metricSizes() {
		if s.told == size && s.material == m {
			return s.nominal
		}
	}
	return size
}
