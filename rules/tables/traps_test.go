package tables

import (
	"testing"

	"halfweight/rules/load"
)

const inch = load.Inch

func pounds(n int64) load.Mass { return load.Mass(n) * load.Pound }

func rated(t *testing.T, size load.Length, grade string) load.Mass {
	t.Helper()
	f, ok := Chain(size, grade)
	if !ok {
		t.Fatalf("no row for %v in grade %s", size.Inches(), grade)
	}
	return f.WLL
}

// 49 CFR 393.108 chain table: 4,500 against 4,700 (facts read in two places).
func TestChain_fiveSixteenthsGrade80IsBelowGrade70(t *testing.T) {
	if g80, g70 := rated(t, inch*5/16, "80"), rated(t, inch*5/16, "70"); g80 != pounds(4500) || g70 != pounds(4700) {
		t.Errorf("grade 80 %v lb, grade 70 %v lb", g80.Pounds(), g70.Pounds())
	}
}

// The blank cells and missing rows of 49 CFR 393.108.
func TestChain_noRowIsNoFigure(t *testing.T) {
	for _, c := range []struct {
		size  load.Length
		grade string
	}{
		{inch * 7 / 16, "80"}, {inch * 7 / 16, "100"}, // blank cells
		{inch * 3 / 4, "30"}, {inch * 3 / 4, "70"}, {inch * 3 / 4, "100"},
		{inch * 7 / 32, "70"}, {inch * 9 / 32, "80"}, {inch * 9 / 32, "100"},
		{inch * 3 / 8, "120"}, {inch * 1 / 2, "120"}, {inch * 3 / 8, "90"},
		{inch * 3 / 8, ""}, {0, "70"}, {inch*3/8 + 1, "70"},
		{9 * load.Millimetre, "80"}, {12 * load.Millimetre, "80"}, {11 * load.Millimetre, "80"},
	} {
		if f, ok := Chain(c.size, c.grade); ok || f != (Figure{}) {
			t.Errorf("%v in grade %q: %v lb", c.size.Inches(), c.grade, f.WLL.Pounds())
		}
	}
}

func TestChainBest_ofEachSize(t *testing.T) {
	for _, c := range []struct {
		size  load.Length
		lb    int64
		grade string
	}{
		{inch / 4, 4300, "100"}, {inch * 5 / 16, 5700, "100"}, {inch * 3 / 8, 8800, "100"},
		{inch * 7 / 16, 8750, "70"}, // its alloy cells are blank
		{inch / 2, 15000, "100"}, {inch * 5 / 8, 22600, "100"},
		{10 * load.Millimetre, 8800, "100"},
	} {
		f, grade, ok := ChainBest(c.size)
		if !ok || f.WLL != pounds(c.lb) || grade != c.grade {
			t.Errorf("%v: %v lb, grade %s, %v", c.size.Inches(), f.WLL.Pounds(), grade, ok)
		}
	}
	if _, _, ok := ChainBest(inch * 3 / 4); ok {
		t.Error("3/4 in has a best")
	}
	if Federal().BestChain != pounds(22600) { // 5/8 grade 100
		t.Errorf("best of all: %v lb", Federal().BestChain.Pounds())
	}
}

func TestWebbing_oneInchHasNoRow(t *testing.T) {
	for _, w := range []load.Length{0, inch, inch * 3 / 2, inch * 5 / 2, 5 * inch, 25 * load.Millimetre} {
		if f, ok := Webbing(w); ok {
			t.Errorf("%v in: %v lb", w.Inches(), f.WLL.Pounds())
		}
	}
}

// 4,500 lb stands beside 2,000 kg, which is 4,409 lb.
func TestFigure_kilogramsAreTheirOwnColumn(t *testing.T) {
	f, _ := Chain(inch*5/16, "80")
	if f.Metric != 2000*load.Kilogram || f.WLL != pounds(4500) {
		t.Errorf("got %v kg, %v lb", f.Metric.Kilograms(), f.WLL.Pounds())
	}
	for i := range chains() {
		if c := &chains()[i]; c.Metric == c.WLL {
			t.Errorf("%v in grade %s is converted", c.size.Inches(), c.grade)
		}
	}
}

// All of cordage, most of steel strapping and the two thickest wire ropes were
// recalled, by the marks in testdata/reference.
func TestSource_recalledFiguresSaySo(t *testing.T) {
	for i := range cordage() {
		if c := &cordage()[i]; c.WasRead() {
			t.Errorf("%s rope is marked %q", c.make, c.Mark)
		}
	}
	read := 0
	for i := range steelStraps() {
		if steelStraps()[i].WasRead() {
			read++
		}
	}
	if read != 1 {
		t.Errorf("%d rows of steel strapping were read, want 1", read)
	}
	for size, want := range map[load.Length]bool{inch * 3 / 4: true, inch * 7 / 8: false, inch: false} {
		if f, ok := WireRope(size, ""); !ok || f.WasRead() != want {
			t.Errorf("%v in wire rope is marked %q", size.Inches(), f.Mark)
		}
	}
	if f, _ := Chain(inch*3/8, "70"); !f.WasRead() {
		t.Errorf("chain is marked %q", f.Mark)
	}
	for mark, want := range map[string]bool{
		"seen-1, answer from memory": false, "seen-1 + memory": true, "partly seen": true,
		"derived + memory": false, "trade fact": false, "memory - conflicts with 0.406": false,
	} {
		if got := (Source{Mark: mark}).WasRead(); got != want {
			t.Errorf("mark %q: %v", mark, got)
		}
	}
}

// 393.108: construction unknown is 6x37 fibre core; synthetic rope with no
// identification is polypropylene.
func TestRope_unknownMakeUp(t *testing.T) {
	for _, made := range []string{"", "6x37 fiber core", "6x19 IWRC"} {
		if f, ok := WireRope(inch/2, made); !ok || f.WLL != pounds(5300) {
			t.Errorf("wire rope %q: %v lb, %v", made, f.WLL.Pounds(), ok)
		}
	}
	for made, lb := range map[string]int64{"": 625, "polypropylene": 625, "aramid": 625, "nylon": 525, "manila": 315} {
		if f, ok := Cordage(inch/2, made); !ok || f.WLL != pounds(lb) {
			t.Errorf("rope %q: %v lb, %v", made, f.WLL.Pounds(), ok)
		}
	}
	if f, made, ok := CordageLeast(inch / 2); !ok || made != "manila" || f.WLL != pounds(315) {
		t.Errorf("least: %s, %v lb", made, f.WLL.Pounds())
	}
	for _, size := range []load.Length{0, inch / 8, 2 * inch, 11 * load.Millimetre} {
		if _, ok := WireRope(size, ""); ok {
			t.Errorf("wire rope of %v in has a row", size.Inches())
		}
		if _, ok := Cordage(size, ""); ok {
			t.Errorf("rope of %v in has a row", size.Inches())
		}
	}
}

func TestSteelStrap_noThicknessIsTheLeastOfItsWidth(t *testing.T) {
	for _, c := range []struct{ width, thickness load.Length }{{inch * 5 / 4, 0}, {inch * 5 / 4, inch * 29 / 1000}} {
		if f, ok := SteelStrap(c.width, c.thickness); !ok || f.WLL != pounds(1190) {
			t.Errorf("%v: %v lb, %v", c, f.WLL.Pounds(), ok)
		}
	}
	for _, c := range []struct{ width, thickness load.Length }{{inch * 5 / 4, inch * 30 / 1000}, {inch, 0}, {0, 0}, {2 * inch, inch * 29 / 1000}} {
		if _, ok := SteelStrap(c.width, c.thickness); ok {
			t.Errorf("%v has a row", c)
		}
	}
}

// testdata/reference/chain_dims.csv pairs 8, 10, 13 and 16 mm with 5/16, 3/8,
// 1/2 and 5/8 in, and 7 mm with 9/32 in, which 393.108 prints as 1/4.
func TestNominal_millimetresKnowTheirInches(t *testing.T) {
	for _, m := range reference(t, "chain_dims.csv") {
		if m["grade"] != "80" {
			continue
		}
		size := published(t, m["trade_size_in"])
		if size > inch*5/8 {
			continue
		}
		if m["trade_size_in"] == "9/32" {
			size = inch / 4
		}
		told := load.Length(mass(t, m["wire_diameter_mm"], 1)) * load.Millimetre
		if got := Nominal(told, load.Chain); got != size {
			t.Errorf("%s mm chain: %v in, want %s", m["wire_diameter_mm"], got.Inches(), m["trade_size_in"])
		}
	}
	for _, c := range []struct {
		mm       int64
		material load.Material
		want     load.Length
	}{
		{11, load.Chain, inch * 7 / 16}, {50, load.Webbing, 2 * inch}, {75, load.Webbing, 3 * inch}, {100, load.Webbing, 4 * inch},
		{12, load.Chain, 12 * load.Millimetre}, {50, load.Chain, 50 * load.Millimetre}, {10, load.Webbing, 10 * load.Millimetre},
	} {
		if got := Nominal(load.Length(c.mm)*load.Millimetre, c.material); got != c.want {
			t.Errorf("%d mm %s: %v in", c.mm, c.material, got.Inches())
		}
	}
	for _, s := range metricSizes() {
		if s.material != load.Chain && s.material != load.Webbing && s.nominal > s.told {
			t.Errorf("%s of %v mm is taken as a thicker one", s.material, s.told/load.Millimetre)
		}
	}
}

// testdata/reference/binders.csv: the one that fits and is weaker.
func TestBinder_commonestWeakerOne(t *testing.T) {
	for size, lb := range map[load.Length]int64{inch * 3 / 8: 5400, 10 * load.Millimetre: 5400, inch / 2: 9200, inch * 5 / 16: 0, inch * 5 / 8: 0, 0: 0} {
		f, ok := WeakerBinder(size)
		if ok != (lb > 0) || f.WLL != pounds(lb) {
			t.Errorf("%v in: %v lb, %v", size.Inches(), f.WLL.Pounds(), ok)
		}
		if best, _, _ := ChainBest(size); ok && f.WLL >= best.WLL {
			t.Errorf("%v in: %v lb is not weaker", size.Inches(), f.WLL.Pounds())
		}
	}
}

func TestBinder_labelIsItsLeastUsualRating(t *testing.T) {
	for label, lb := range map[string]int64{"1/4-5/16": 2200, "5/16-3/8": 5400, "3/8-1/2": 9200, "1/2": 9200, "1/2-5/8": 13000, "3/4": 0, "": 0} {
		f, ok := BinderLabel(label)
		if ok != (lb > 0) || f.WLL != pounds(lb) || f.Cite != "" {
			t.Errorf("%q: %v lb, %v, %q", label, f.WLL.Pounds(), ok, f.Cite)
		}
	}
}

// testdata/reference/webbing_defects.csv: trade advice differs on 2 and 4 in.
func TestCutLimits_tradeIsStricterOrSilent(t *testing.T) {
	for _, c := range []struct{ width, published, trade load.Length }{
		{inch * 7 / 4, inch * 3 / 8, 0},
		{2 * inch, inch * 3 / 8, inch / 4},
		{3 * inch, inch * 5 / 8, 0},
		{4 * inch, inch * 3 / 4, inch / 2},
		{100 * load.Millimetre, inch * 3 / 4, inch / 2},
	} {
		published, trade, src, ok := CutLimits(c.width)
		if !ok || published != c.published || trade != c.trade || src.Cite != "49 CFR 393.104(b)" {
			t.Errorf("%v in: %v, %v, %v, %v", c.width.Inches(), published.Inches(), trade.Inches(), src, ok)
		}
	}
	if _, _, _, ok := CutLimits(inch); ok {
		t.Error("1 in has a limit")
	}
}

// testdata/reference/guidance.csv G10: 3/8 grade 70 is 0.406 stock, out below
// 0.325; a gauge made on 3/8 lets it go to 0.300. 1/2 is 0.531, out below 0.425.
func TestWornBelow_takesTheStockItWasMadeOf(t *testing.T) {
	const thousandth = inch / 1000
	for _, c := range []struct {
		size           load.Length
		grade          string
		stock, nominal load.Length
	}{
		{inch * 3 / 8, "70", 325, 300},
		{inch * 3 / 8, "", 325, 300},   // stock unknown: the larger
		{inch * 3 / 8, "30", 325, 300}, // none listed for that grade: the larger
		{inch * 3 / 8, "80", 316, 300}, // of 0.394: 0.3152
		{10 * load.Millimetre, "80", 316, 300},
		{inch / 2, "70", 425, 400},
		{inch / 2, "100", 410, 400}, // of 0.512: 0.4096
		{inch / 4, "80", 221, 200},  // listed as 9/32, of 0.276: 0.2208
		{inch * 7 / 16, "70", 375, 350},
	} {
		stock, nominal, _, ok := WornBelow(c.size, c.grade)
		if !ok || stock != c.stock*thousandth || nominal != c.nominal*thousandth {
			t.Errorf("%v in grade %q: %v, %v, %v", c.size.Inches(), c.grade, stock.Inches(), nominal.Inches(), ok)
		}
	}
	if _, _, _, ok := WornBelow(2*inch, "70"); ok {
		t.Error("2 in chain has stock")
	}
}

// testdata/reference/chain_wear.csv, 3/8: 19/64 in by OSHA, 0.342 by ASME.
func TestLiftingWear_isTheStricterOfTwo(t *testing.T) {
	least, by, src, ok := LiftingWear(inch * 3 / 8)
	if !ok || by != "ASME" || least != inch*342/1000 || src.Cite != "ASME B30.9" {
		t.Errorf("%v by %s, %v, %v", least.Inches(), by, src, ok)
	}
}

func TestPercent_isExactForAnyMass(t *testing.T) {
	if got := Of(50, pounds(26402)); got != pounds(13201) {
		t.Errorf("half of 26,402 is %v", got.Pounds())
	}
	if got := Of(100, load.Mass(1<<62)); got != 1<<62 {
		t.Errorf("the whole of it is %v", got)
	}
}
