package tables

import (
	_ "embed"
	"sync"

	"halfweight/rules/load"
)

//go:embed wire_rope.csv
var wireRopeCSV string

//go:embed cordage.csv
var cordageCSV string

type ropeRow struct {
	diameter load.Length
	make     string
	Figure
}

func ropeRows(r row) ropeRow {
	return ropeRow{r.inches("size_in"), r.text("make"), r.figure()}
}

var (
	wireRopes = sync.OnceValue(func() []ropeRow { return parse("wire_rope.csv", wireRopeCSV, ropeRows) })
	cordage   = sync.OnceValue(func() []ropeRow { return parse("cordage.csv", cordageCSV, ropeRows) })
)

// The rows that 393.108 gives a rope of unknown make-up.
const (
	wireRopeUnknown = "6x37 fiber core"
	cordageUnknown  = "polypropylene"
)

// WireRope looks up a wire rope of that diameter. The table has one make-up,
// the one 393.108 gives where the make-up is unknown; every other one, and "",
// is taken as that.
func WireRope(diameter load.Length, make string) (f Figure, ok bool) {
	return rope(wireRopes(), Nominal(diameter, load.WireRope), make, wireRopeUnknown)
}

// Cordage looks up a fibre rope of that diameter by the stuff it is made of:
// "manila", "polypropylene", "polyester", "nylon", "double-braided nylon".
// Synthetic rope that bears no identification is polypropylene by 393.108, and
// so is a make that the table does not have, and "".
func Cordage(diameter load.Length, make string) (f Figure, ok bool) {
	return rope(cordage(), Nominal(diameter, load.Cordage), make, cordageUnknown)
}

// CordageLeast is the least rating of any fibre rope of that diameter, for rope
// of which nothing is told: it may be manila, which has less than
// polypropylene.
func CordageLeast(diameter load.Length) (f Figure, make string, ok bool) {
	diameter = Nominal(diameter, load.Cordage)
	for _, r := range cordage() {
		if r.diameter == diameter && (!ok || r.WLL < f.WLL) {
			f, make, ok = r.Figure, r.make, true
		}
	}
	return f, make, ok
}

// rope finds the row of that make, or of the make taken where the table does
// not have it.
func rope(rows []ropeRow, diameter load.Length, make, unknown string) (f Figure, ok bool) {
	for _, r := range rows {
		if r.diameter != diameter {
			continue
		}
		if r.make == make {
			return r.Figure, true
		}
		if r.make == unknown {
			f, ok = r.Figure, true
		}
	}
	return f, ok
}
