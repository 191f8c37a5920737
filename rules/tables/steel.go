package tables

import (
	_ "embed"
	"sync"

	"halfweight/rules/load"
)

//go:embed steel_strap.csv
var steelStrapCSV string

type steelStrapRow struct {
	width, thickness load.Length
	Figure
}

var steelStraps = sync.OnceValue(func() []steelStrapRow {
	return parse("steel_strap.csv", steelStrapCSV, func(r row) steelStrapRow {
		return steelStrapRow{r.inches("width_in"), r.inches("thickness_in"), r.figure()}
	})
})

// SteelStrap looks up a steel strapping row; thickness 0 is the least of that
// width.
func SteelStrap(width, thickness load.Length) (f Figure, ok bool) {
	for _, s := range steelStraps() {
		if s.width != width || (thickness != 0 && s.thickness != thickness) {
			continue
		}
		if !ok || s.WLL < f.WLL {
			f, ok = s.Figure, true
		}
	}
	return f, ok
}
