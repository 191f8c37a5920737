package tables

import (
	"testing"

	"halfweight/rules/load"
)

// BenchmarkRead is what the first use of every table costs, once a run.
func BenchmarkRead(b *testing.B) {
	tables := []struct{ name, text string }{
		{"chain.csv", chainCSV}, {"webbing.csv", webbingCSV}, {"wire_rope.csv", wireRopeCSV},
		{"cordage.csv", cordageCSV}, {"steel_strap.csv", steelStrapCSV}, {"binders.csv", bindersCSV},
		{"cuts.csv", cutsCSV}, {"stock.csv", stockCSV}, {"lifting_wear.csv", liftingWearCSV},
		{"sizes.csv", sizesCSV}, {"kinds.csv", kindsCSV}, {"parts.csv", partsCSV},
		{"figures.csv", figuresCSV}, {"duties.csv", dutiesCSV}, {"guidance.csv", guidanceCSV},
	}
	b.ReportAllocs()
	for b.Loop() {
		for _, t := range tables {
			read(t.name, t.text)
		}
	}
}

var lookups = []struct {
	name string
	one  func() bool
}{
	{"chain", func() bool { _, ok := Chain(load.Inch*5/8, "100"); return ok }},
	{"chain in mm", func() bool { _, ok := Chain(16*load.Millimetre, "100"); return ok }},
	{"best chain", func() bool { _, _, ok := ChainBest(load.Inch * 3 / 8); return ok }},
	{"webbing", func() bool { _, ok := Webbing(4 * load.Inch); return ok }},
	{"wire rope", func() bool { _, ok := WireRope(load.Inch, "6x19 IWRC"); return ok }},
	{"cordage", func() bool { _, ok := Cordage(load.Inch, ""); return ok }},
	{"least cordage", func() bool { _, _, ok := CordageLeast(load.Inch); return ok }},
	{"steel strapping", func() bool { _, ok := SteelStrap(2*load.Inch, 0); return ok }},
	{"weaker binder", func() bool { _, ok := WeakerBinder(load.Inch / 2); return ok }},
	{"binder label", func() bool { _, ok := BinderLabel("1/2-5/8"); return ok }},
	{"cuts", func() bool { _, _, _, ok := CutLimits(4 * load.Inch); return ok }},
	{"worn", func() bool { _, _, _, ok := WornBelow(load.Inch*3/8, ""); return ok }},
	{"lifting wear", func() bool { _, _, _, ok := LiftingWear(load.Inch * 3 / 8); return ok }},
	{"kind", func() bool { _, ok := Kind("articulated dump truck"); return ok }},
	{"lock", func() bool { m, _ := Kind("backhoe"); _, ok := m.LockEnough("hoe"); return ok }},
	{"part", func() bool { _, ok := FindPart("outriggers"); return ok }},
	{"limits", func() bool { return Federal().Heavy > 0 }},
	{"citation", func() bool { return Federal().Citation("articulation") != "" }},
}

func TestLookups_doNotAllocate(t *testing.T) {
	for _, l := range lookups {
		if !l.one() {
			t.Errorf("%s: nothing found", l.name)
		}
		if n := testing.AllocsPerRun(100, func() { l.one() }); n > 0 {
			t.Errorf("%s: %v allocations", l.name, n)
		}
	}
}

func BenchmarkLookup(b *testing.B) {
	for _, l := range lookups {
		b.Run(l.name, func(b *testing.B) {
			for b.Loop() {
				l.one()
			}
		})
	}
}
