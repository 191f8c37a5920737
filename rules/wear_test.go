package rules_test

import (
	"encoding/csv"
	"math/big"
	"os"
	"strconv"
	"strings"
	"testing"

	"halfweight/rules"
	"halfweight/rules/load"
)

// These tests hold what becomes of a hurt tie-down to the published figures of
// testdata/reference, row by row: at the limit, and the smallest step to either
// side of it. The files are read here on their own, not by the program's reader.

func published(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open("../testdata/reference/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, cells := range all[1:] {
		m := map[string]string{}
		for i, c := range cells {
			m[all[0][i]] = c
		}
		out = append(out, m)
	}
	return out
}

// length is "1-3/4", "3/8" or "0.406" in inches, exactly.
func length(t *testing.T, cell string) load.Length {
	t.Helper()
	sum := new(big.Rat)
	for part := range strings.SplitSeq(cell, "-") {
		r, ok := new(big.Rat).SetString(part)
		if !ok {
			t.Fatalf("%q is no length", cell)
		}
		sum.Add(sum, r)
	}
	sum.Mul(sum, big.NewRat(int64(load.Inch), 1))
	if !sum.IsInt() {
		t.Fatalf("%q is no whole number of nanometres", cell)
	}
	return load.Length(sum.Num().Int64())
}

func whole(t *testing.T, cell string) int {
	t.Helper()
	n, err := strconv.Atoi(cell)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// How a hurt tie-down is taken.
const (
	isOut   = "out"
	isOpen  = "waits for a measure"
	isIn    = "counts"
	isToFix = "counts, to be mended"
)

func taken(x load.TieDown) string {
	x.ID, x.Route = 1, load.Direct
	c := rules.Evaluate(load.Load{Articles: []load.Article{{ID: 2, Ties: []load.TieDown{x}}}}, rules.Federal).Articles[0]
	if len(c.SetAside) == 0 {
		return isIn
	}
	switch a := c.SetAside[0]; {
	case a.Counts:
		return isToFix
	case a.Settle != "":
		return isOpen
	}
	return isOut
}

func hurt(m load.Material, size load.Length, d ...load.Damage) load.TieDown {
	return load.TieDown{Material: m, Size: size, State: load.State{Damage: d}}
}

func expect(t *testing.T, what string, x load.TieDown, want string) {
	t.Helper()
	if got := taken(x); got != want {
		t.Errorf("%s: %s, want %s", what, got, want)
	}
}

// webbing_defects.csv: cuts, burns, holes totalling more than so much; a row of
// trade advice beside it is stricter.
func TestWear_everyWidthOfStrapAtItsLimits(t *testing.T) {
	limits := map[load.Length]map[bool]load.Length{} // by width; true is trade
	for _, m := range published(t, "webbing_defects.csv") {
		width := length(t, m["width_in"])
		if limits[width] == nil {
			limits[width] = map[bool]load.Length{}
		}
		limits[width][strings.Contains(m["source"], "trade advice")] = length(t, m["limit_total_cut_burn_hole_in"])
	}
	if len(limits) != 4 {
		t.Fatalf("%d widths", len(limits))
	}
	for width, l := range limits {
		for _, kind := range []string{"cut", "burned", "hole", "nicked", "frayed"} {
			past, stricter := l[false], l[true]
			atLimit := isIn
			if stricter > 0 {
				atLimit = isToFix
				expect(t, "trade -1", hurt(load.Webbing, width, load.Damage{Kind: kind, Size: []load.Length{stricter - 1}}), isIn)
				expect(t, "trade 0", hurt(load.Webbing, width, load.Damage{Kind: kind, Size: []load.Length{stricter}}), isIn)
				expect(t, "trade +1", hurt(load.Webbing, width, load.Damage{Kind: kind, Size: []load.Length{stricter + 1}}), isToFix)
			}
			expect(t, "-1", hurt(load.Webbing, width, load.Damage{Kind: kind, Size: []load.Length{past - 1}}), atLimit)
			expect(t, "0", hurt(load.Webbing, width, load.Damage{Kind: kind, Size: []load.Length{past}}), atLimit)
			expect(t, "+1", hurt(load.Webbing, width, load.Damage{Kind: kind, Size: []load.Length{past + 1}}), isOut)
			// one hurt and another, on both edges or apart, add
			expect(t, "two, 0", hurt(load.Webbing, width, load.Damage{Kind: kind, Size: []load.Length{past / 2}}, load.Damage{Kind: "hole", Size: []load.Length{past - past/2}}), atLimit)
			expect(t, "two, +1", hurt(load.Webbing, width, load.Damage{Kind: kind, Size: []load.Length{past / 2, past - past/2 + 1}}), isOut)
		}
		expect(t, "not measured", hurt(load.Webbing, width, load.Damage{Kind: "cut"}), isOpen)
		expect(t, "half way across", hurt(load.Webbing, width, load.Damage{Kind: "cut", Share: load.One / 2}), isOut)
	}
}

// chain_dims.csv with the practice of 80 % (limits.csv, worn_left): of two stocks
// listed for a size and grade the larger is taken.
func TestWear_everyLinkAtFourFifthsOfItsStock(t *testing.T) {
	type of struct{ size, grade string }
	stock := map[of]load.Length{}
	for _, m := range published(t, "chain_dims.csv") {
		key := of{m["trade_size_in"], m["grade"]}
		stock[key] = max(stock[key], length(t, m["wire_diameter_in"]))
	}
	if len(stock) < 15 {
		t.Fatalf("%d stocks", len(stock))
	}
	for k, wire := range stock {
		limit := wire * 4 / 5
		if thousandth := load.Inch / 1000; limit%thousandth > 0 {
			limit += thousandth - limit%thousandth // measured in thousandths
		}
		link := func(left load.Length) load.TieDown {
			x := hurt(load.Chain, length(t, k.size), load.Damage{Kind: "worn", Left: left})
			x.Grade = load.Grade{Value: k.grade, Reading: load.Read}
			return x
		}
		expect(t, k.size+" grade "+k.grade+" -1", link(limit-1), isOut)
		expect(t, k.size+" grade "+k.grade+" 0", link(limit), isIn)
		expect(t, k.size+" grade "+k.grade+" +1", link(limit+1), isIn)
		expect(t, k.size+" grade "+k.grade+" thicker than it was made", link(2*wire), isOpen)
	}
}

// Told by what is lost it is not known of which size, the plain one or the stock:
// only what holds for both is settled. guidance.csv G10.
func TestWear_aLinkToldByWhatIsLost(t *testing.T) {
	three8 := load.Inch * 3 / 8
	g70 := func(d load.Damage) load.TieDown {
		x := hurt(load.Chain, three8, d)
		x.Grade = load.Grade{Value: "70", Reading: load.Read}
		return x
	}
	for _, c := range []struct {
		percent int
		want    string
	}{{5, isIn}, {13, isIn}, {14, isOpen}, {19, isOpen}, {21, isOut}, {50, isOut}} {
		expect(t, strconv.Itoa(c.percent)+" %", g70(load.Damage{Kind: "worn", Share: load.Micro(c.percent) * load.One / 100}), c.want)
	}
	expect(t, "1/32 gone", g70(load.Damage{Kind: "worn", Lost: load.Inch / 32}), isIn)
	expect(t, "1/16 gone", g70(load.Damage{Kind: "worn", Lost: load.Inch / 16}), isOpen)
	expect(t, "1/8 gone", g70(load.Damage{Kind: "worn", Lost: load.Inch / 8}), isOut)
}

// A measure in millimetres is exact: 80 % of 0.406 in is 8.255 mm once rounded up
// to the thousandth of an inch (0.325).
func TestWear_millimetresAreExact(t *testing.T) {
	for um, want := range map[load.Length]string{8_254: isOut, 8_255: isIn, 8_256: isIn} {
		x := hurt(load.Chain, 10*load.Millimetre, load.Damage{Kind: "worn", Left: um * load.Millimetre / 1000})
		x.Grade = load.Grade{Value: "70", Reading: load.Read}
		expect(t, x.State.Damage[0].Kind, x, want)
	}
	for um, want := range map[load.Length]string{9_524: isToFix, 9_525: isToFix, 9_526: isOut} { // 3/8 in is 9.525 mm
		expect(t, "50 mm strap", hurt(load.Webbing, 50*load.Millimetre, load.Damage{Kind: "cut", Size: []load.Length{um * load.Millimetre / 1000}}), want)
	}
}

// defects.csv: every row, those with a figure at it and a step to either side.
func TestWear_everyDefectRow(t *testing.T) {
	half := load.Inch / 2
	material := map[string]load.Material{"webbing": load.Webbing, "wire rope": load.WireRope, "cordage": load.Cordage, "steel strapping": load.SteelStrap, "ratchet": load.Webbing}
	tie := func(part string, d load.Damage) load.TieDown {
		m, ok := material[part]
		if !ok {
			m = load.Chain
		}
		if part == "hook" || part == "binder" || part == "ratchet" || part == "anchor" {
			d.Part = part
		}
		return hurt(m, half, d)
	}
	rows := 0
	for _, m := range published(t, "defects.csv") {
		name := m["part"] + " " + m["hurt"] + " " + m["measure"]
		rows++
		if m["measure"] == "" {
			expect(t, name, tie(m["part"], load.Damage{Kind: m["hurt"]}), isOut)
			continue
		}
		at := func(step int) load.Damage {
			d := load.Damage{Kind: m["hurt"]}
			switch m["unit"] {
			case "percent":
				d.Share = load.Micro(whole(t, m["limit"]))*load.One/100 + load.Micro(step)
			case "in":
				d.Lost, d.New = length(t, m["limit"])+load.Length(step), 20*load.Inch
			case "wires":
				n := whole(t, m["limit"]) + step
				switch m["measure"] {
				case "along":
					d.Wires, d.Lay, d.Strand = n, true, 1
				case "strand":
					d.Strand = n
				case "fitting":
					d.Fitting = n
				}
			}
			return d
		}
		switch m["measure"] {
		case "span": // the length along which "along" is counted
			span := load.Length(whole(t, m["limit"])) * half
			expect(t, name+" 0", tie("wire rope", load.Damage{Kind: "wires", Wires: 12, Over: span}), isOut)
			expect(t, name+" +1", tie("wire rope", load.Damage{Kind: "wires", Wires: 12, Over: span + 1}), isOpen)
			expect(t, name+" -1", tie("wire rope", load.Damage{Kind: "wires", Wires: 5, Strand: 1, Over: span - 1}), isOpen)
		case "crane lay": // past what a lifting rule lets pass: counts, and is to be mended
			expect(t, name+" 0", tie("wire rope", load.Damage{Kind: "wires", Wires: whole(t, m["limit"]), Lay: true, Strand: 1}), isIn)
			expect(t, name+" +1", tie("wire rope", load.Damage{Kind: "wires", Wires: whole(t, m["limit"]) + 1, Lay: true, Strand: 1}), isToFix)
		case "crane strand", "sling lay", "sling strand": // named beside the others, and compared with nothing
		case "along":
			expect(t, name+" -1", tie(m["part"], at(-1)), isToFix)
			expect(t, name+" 0", tie(m["part"], at(0)), isToFix)
			expect(t, name+" +1", tie(m["part"], at(1)), isOut)
		default:
			if m["part"] == "chain" { // a stretched link is out without measure: the figure is only named
				expect(t, name, tie("chain", at(-1)), isOut)
				continue
			}
			reached := isIn
			if m["out_from"] == "that much" {
				reached = isOut
			}
			expect(t, name+" -1", tie(m["part"], at(-1)), isIn)
			expect(t, name+" 0", tie(m["part"], at(0)), reached)
			expect(t, name+" +1", tie(m["part"], at(1)), isOut)
		}
	}
	if rows < 50 {
		t.Errorf("%d rows only", rows)
	}
}

// Own decision, after the specification: nothing measured counts for nothing, and
// the measure is the question; a hurt nobody has a figure for waits as well.
func TestWear_notMeasuredCountsForNothing(t *testing.T) {
	for _, x := range []load.TieDown{
		hurt(load.Chain, load.Inch/2, load.Damage{Kind: "worn"}),
		hurt(load.Chain, load.Inch/2, load.Damage{Kind: "gouged", Size: []load.Length{load.Inch / 16}}),
		hurt(load.Chain, 0, load.Damage{Kind: "worn", Left: load.Inch / 3}),
		hurt(load.Chain, load.Inch/2, load.Damage{Kind: "repair link"}),
		hurt(load.Chain, load.Inch/2, load.Damage{Kind: "opened", Part: "hook"}),
		hurt(load.Chain, load.Inch/2, load.Damage{Kind: "opened", Part: "hook", Lost: load.Inch / 8}),
		hurt(load.Chain, load.Inch/2, load.Damage{Kind: "rusted", Part: "binder"}),
		hurt(load.Webbing, 0, load.Damage{Kind: "cut", Size: []load.Length{load.Inch / 8}}),
		hurt(load.Webbing, load.Inch, load.Damage{Kind: "cut", Size: []load.Length{load.Inch / 8}}),
		hurt(load.WireRope, load.Inch/2, load.Damage{Kind: "wires"}),
		hurt(load.WireRope, load.Inch/2, load.Damage{Kind: "wires", Wires: 3}),
		hurt(load.WireRope, load.Inch/2, load.Damage{Kind: "wires", Wires: 4, Lay: true}),
		hurt(load.WireRope, load.Inch/2, load.Damage{Kind: "wires", Wires: 2}, load.Damage{Kind: "wires", Wires: 2}),
		hurt(load.Cordage, load.Inch/2, load.Damage{Kind: "worn"}),
		hurt(load.Cordage, load.Inch/2, load.Damage{Kind: "worn", Left: load.Inch}),
	} {
		expect(t, string(x.Material)+" "+x.State.Damage[0].Kind, x, isOpen)
	}
	expect(t, "a repair link of the chain's grade", hurt(load.Chain, load.Inch/2, load.Damage{Kind: "matching link"}), isIn)
	expect(t, "two broken wires", hurt(load.WireRope, load.Inch/2, load.Damage{Kind: "wires", Wires: 2}), isIn)
}
