package tables

import (
	_ "embed"
	"sync"

	"halfweight/rules/load"
)

//go:embed cuts.csv
var cutsCSV string

//go:embed stock.csv
var stockCSV string

//go:embed lifting_wear.csv
var liftingWearCSV string

type cutRow struct {
	width    load.Length
	kind     string // "published" or "trade"
	moreThan load.Length
	Source
}

var cuts = sync.OnceValue(func() []cutRow {
	return parse("cuts.csv", cutsCSV, func(r row) cutRow {
		return cutRow{r.inches("width_in"), r.text("kind"), r.inches("more_than_in"), r.source()}
	})
})

// CutLimits are the total cut, burn or hole sizes past which a strap of that
// width is out (exactly that much is not): by the published table, with its
// source, and by stricter trade advice (0 when none differs).
func CutLimits(width load.Length) (published, trade load.Length, src Source, ok bool) {
	width = Nominal(width, load.Webbing)
	for _, c := range cuts() {
		switch {
		case c.width != width:
		case c.kind == "trade":
			trade = c.moreThan
		default:
			published, src, ok = c.moreThan, c.Source, true
		}
	}
	return published, trade, src, ok
}

// CutWidths are the widths that CutLimits has.
func CutWidths() (list []load.Length) {
	for _, c := range cuts() {
		if c.kind != "trade" {
			list = append(list, c.width)
		}
	}
	return list
}

type stockRow struct {
	tradeSize load.Length // as the trade lists it: alloy 9/32
	size      load.Length // as 393.108 lists it: 1/4
	grade     string
	wire      load.Length
	Source
}

var stock = sync.OnceValue(func() []stockRow {
	return parse("stock.csv", stockCSV, func(r row) stockRow {
		return stockRow{r.inches("trade_size_in"), r.inches("size_in"), r.text("grade"), r.inches("wire_in"), r.source()}
	})
})

// WornBelow is the thickness below which a chain link is out: 80 % of the stock
// it was made of, and the same of the nominal size, which a gauge made on the
// nominal size would let it go to. Where the grade is unknown, or no stock is
// listed for it, the larger usual stock of that size is taken. Both are rounded
// up to the thousandth of an inch. src is where the stock was read; the 80 %
// is roadside practice, not in Part 393.
func WornBelow(size load.Length, grade string) (stockLeft, nominalLeft load.Length, src Source, ok bool) {
	wire, src, ok := Stock(size, grade)
	if !ok {
		return 0, 0, Source{}, false
	}
	worn := Federal().WornLeft
	return thousandthUp(Of(worn, wire)), thousandthUp(Of(worn, Nominal(size, load.Chain))), src, true
}

// Stock is the thickness of the steel that a chain of that size is made of;
// where the grade is unknown, or no stock is listed for it, the larger usual one.
func Stock(size load.Length, grade string) (wire load.Length, src Source, ok bool) {
	size = Nominal(size, load.Chain)
	listed := false // stock of that very grade
	for _, s := range stock() {
		if s.size != size && s.tradeSize != size {
			continue
		}
		if s.grade == grade && !listed {
			listed, wire = true, 0
		}
		if (s.grade == grade || !listed) && s.wire > wire {
			wire, src, ok = s.wire, s.Source, true
		}
	}
	return wire, src, ok
}

func thousandthUp(l load.Length) load.Length {
	const thousandth = load.Inch / 1000
	return (l + thousandth - 1) / thousandth * thousandth
}

type liftingRow struct {
	size  load.Length
	by    string // "OSHA" or "ASME"
	least load.Length
	Source
}

var liftingWear = sync.OnceValue(func() []liftingRow {
	return parse("lifting_wear.csv", liftingWearCSV, func(r row) liftingRow {
		least := r.inches("least_link_in")
		if least == 0 {
			least = r.inches("least_link_decimal_in")
		}
		return liftingRow{r.inches("size_in"), r.text("by"), least, r.source()}
	})
})

// LiftingWear is the least link thickness that the strictest rule for alloy
// lifting chain allows in that size, and who says so ("OSHA", "ASME"). It is no
// rule for a tie-down, and worth naming beside WornBelow.
func LiftingWear(size load.Length) (least load.Length, by string, src Source, ok bool) {
	size = Nominal(size, load.Chain)
	for _, w := range liftingWear() {
		if w.size == size && w.least > least {
			least, by, src, ok = w.least, w.by, w.Source, true
		}
	}
	return least, by, src, ok
}
