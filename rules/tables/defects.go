package tables

import (
	_ "embed"
	"sync"

	"halfweight/rules/load"
)

//go:embed defects.csv
var defectsCSV string

// Defect is what a part of a tie-down is out for: a hurt as such, or more of it
// than a figure. Cuts of straps and worn links have tables of their own
// (CutLimits, WornBelow).
type Defect struct {
	Part string // "chain", "webbing", "wire rope", "cordage", "steel strapping", "hook", "binder", "ratchet", "anchor"
	Hurt string // load.Damage.Kind
	Rule string // "road"; "lifting": a rule for lifting gear, none for a tie-down; "practice"
	Source

	measure string
	size    load.Length
	number  int
	atLimit bool // the limit itself is out, not only more
}

// Past says whether n, in the limit's own unit, is out.
func (d *Defect) Past(n int) bool { return n > d.number || d.atLimit && n == d.number }

// PastShare says whether a share of the size as new is out; lost of whole.
func (d *Defect) PastShare(lost, whole int64) bool {
	a, b := lost*100, whole*int64(d.number)
	return a > b || d.atLimit && a == b
}

// Count is the figure of a limit in wires or rope diameters.
func (d *Defect) Count() int { return d.number }

// Share is the figure of a limit in hundredths of the size when new.
func (d *Defect) Share() Percent { return Percent(d.number) }

// Length is the figure of a limit in inches.
func (d *Defect) Length() load.Length { return d.size }

var defects = sync.OnceValue(func() []Defect {
	return parse("defects.csv", defectsCSV, func(r row) Defect {
		d := Defect{
			Part: r.text("part"), Hurt: r.text("hurt"), Rule: r.text("rule"), Source: r.source(),
			measure: r.text("measure"), atLimit: r.text("out_from") == "that much",
		}
		switch r.text("unit") {
		case "":
		case "in":
			d.size = r.inches("limit")
		default:
			d.number = int(r.whole("limit"))
		}
		return d
	})
})

// OutFor is what says that a part is out for a hurt, whatever its measure; ok is
// false for a hurt that is measured, or of which nothing is published.
func OutFor(part, hurt string) (d *Defect, ok bool) { return defect(part, hurt, "") }

// HurtLimit is the figure past which a part is out for a hurt. measure is
// what is measured: "along" (broken wires within "span" rope diameters),
// "strand", "fitting", "share" (of the size when new), "most", and for comparing
// "crane lay", "crane strand", "sling lay", "sling strand".
func HurtLimit(part, hurt, measure string) (d *Defect, ok bool) {
	if measure == "" {
		return nil, false
	}
	return defect(part, hurt, measure)
}

func defect(part, hurt, measure string) (*Defect, bool) {
	list := defects()
	for i := range list {
		if d := &list[i]; d.Part == part && d.Hurt == hurt && d.measure == measure {
			return d, true
		}
	}
	return nil, false
}
