// Package tables holds the published figures, each with its source and mark,
// embedded from the *.csv files beside it. No figure of a rule stands in code.
package tables

import "halfweight/rules/load"

// Source is where a figure was read and how sure that is: "seen-N" (read in N
// places), "memory" (recalled only), "derived", "trade".
type Source struct {
	Text string
	Mark string
	Cite string // section, such as "49 CFR 393.108"
}

// Figure is a rating from a table.
type Figure struct {
	WLL load.Mass // from the pound column
	Source
}

// Chain looks up 49 CFR 393.108's chain table. ok is false when the table has
// no row: never take the next one.
func Chain(size load.Length, grade string) (f Figure, ok bool) { panic("todo") }

// ChainBest is the highest rating of any grade of that size.
func ChainBest(size load.Length) (f Figure, grade string, ok bool) { panic("todo") }

// Webbing looks up the webbing row for a width.
func Webbing(width load.Length) (f Figure, ok bool) { panic("todo") }

// WireRope looks up a wire rope row; make "" is the table's row for
// construction unknown.
func WireRope(diameter load.Length, make string) (f Figure, ok bool) { panic("todo") }

// Cordage looks up a rope row; make "" is polypropylene (393.108: no
// identification).
func Cordage(diameter load.Length, make string) (f Figure, ok bool) { panic("todo") }

// SteelStrap looks up a steel strapping row; thickness 0 is the least of that
// width.
func SteelStrap(width, thickness load.Length) (f Figure, ok bool) { panic("todo") }

// WeakerBinder is the commonest binder weaker than the best chain of that size:
// 5,400 lb on 3/8, 9,200 on 1/2; ok is false for other sizes.
func WeakerBinder(size load.Length) (f Figure, ok bool) { panic("todo") }

// BinderLabel is the least rating usual for a binder's size label ("3/8-1/2").
func BinderLabel(label string) (f Figure, ok bool) { panic("todo") }

// CutLimits are the total cut, burn or hole sizes past which a strap of that
// width is out: by the published table, and by stricter trade advice (0 when
// none differs).
func CutLimits(width load.Length) (published, trade load.Length, src Source, ok bool) { panic("todo") }

// WornBelow is the thickness below which a chain link is out: 80 % of the stock
// it was made of (the larger usual stock where unknown), and the same of the
// nominal size.
func WornBelow(size load.Length, grade string) (stock, nominal load.Length, src Source, ok bool) {
	panic("todo")
}

// Machine is a row of kinds.csv: what a kind of article has that moves.
type Machine struct {
	Key     string
	Class   string     // "machine", "vehicle" (car, pickup, van, light truck), "truck" (a truck of any sort: no accessory, no joint), "cargo" (not on wheels or tracks), "vague" (too vague a kind: machine, equipment, unit)
	Joint   string     // "asked", "if told", "none"
	Expects [][]string // accessories expected until told; each is a set of which one settles it, its first the name to say
	Others  []string   // accessories taken as stowed until named
	Locks   []string   // parts for which a lock or pin is enough at any weight ("hoe:boom lock+swing pin", "outriggers")
	Source
}

// Kind looks up a kind of article by its key.
func Kind(key string) (m Machine, ok bool) { panic("todo") }

// Kinds lists all kinds, in file order.
func Kinds() []Machine { panic("todo") }
