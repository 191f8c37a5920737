package tables

import (
	_ "embed"
	"sync"

	"halfweight/rules/load"
)

//go:embed webbing.csv
var webbingCSV string

type webbingRow struct {
	width load.Length
	Figure
}

var webbings = sync.OnceValue(func() []webbingRow {
	return parse("webbing.csv", webbingCSV, func(r row) webbingRow {
		return webbingRow{r.inches("width_in"), r.figure()}
	})
})

// Webbing looks up 49 CFR 393.108's webbing row for a width. A 1 in strap has
// none: its tag is all there is.
func Webbing(width load.Length) (f Figure, ok bool) {
	width = Nominal(width, load.Webbing)
	for _, w := range webbings() {
		if w.width == width {
			return w.Figure, true
		}
	}
	return Figure{}, false
}
