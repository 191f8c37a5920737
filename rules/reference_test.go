package rules_test

import (
	"fmt"
	"path/filepath"
	"testing"

	"halfweight/rules"
	"halfweight/rules/load"
)

// example is how a row of the published and derived worked examples
// (testdata/reference/worked_examples.csv) is held: as vectors of its own, with
// what they must end as, or set apart with the reason.
type example struct {
	apart  string // why the row is not a federal rule's of this package
	checks []vectorRow
}

// vectorRow is a vector written out: columns as in testdata/rules.
type vectorRow map[string]string

// The figures are the rows' own. A row with no entry fails the test.
var examples = map[string]example{
	"P01": {checks: []vectorRow{
		{"kind": "crate", "weight": "30000", "ties": "4 webbing 4 over", "need": "15000"},
	}},
	// P02 to P04 are printed for Canada; 393.110 and 393.106(d) have the same figures.
	"P02": {checks: []vectorRow{
		{"kind": "crate", "weight": "600kg", "length": "3.65m", "blocked": "no", "ties": "3 chain 3/8 over mark=221 binder=5400", "findings": "aggregate=met number=met"},
		{"kind": "crate", "weight": "600kg", "length": "3.65m", "blocked": "no", "ties": "3 chain 3/8 over mark=220 binder=5400", "findings": "aggregate=short number=met"}, // 99.8 kg each
		{"kind": "crate", "weight": "600kg", "length": "3.65m", "blocked": "no", "ties": "2 chain 3/8 over mark=400 binder=5400", "findings": "number=short"},
	}},
	"P03": {checks: []vectorRow{
		{"kind": "crate", "weight": "600kg", "length": "3.65m", "blocked": "no", "ties": "6 chain 3/8 over mark=111 binder=5400", "findings": "aggregate=met number=met"}, // 50.3 kg each
		{"kind": "crate", "weight": "600kg", "length": "3.65m", "blocked": "no", "ties": "5 chain 3/8 over mark=111 binder=5400", "findings": "aggregate=short number=met"},
	}},
	"P04": {checks: []vectorRow{
		{"kind": "crate", "weight": "600kg", "length": "3.65m", "blocked": "no", "ties": "2 chain 3/8 over mark=441 binder=5400", "findings": "aggregate=met number=short"}, // 200 kg each
		{"kind": "crate", "weight": "600kg", "length": "3.65m", "blocked": "no", "ties": "3 chain 3/8 over mark=441 binder=5400", "findings": "aggregate=met number=met"},
	}},
	"P05": {checks: number("5", "1100", 1)},
	"P06": {checks: append(number("6", "900", 2), append(number("10", "40000", 2), number("5'1", "1100", 2)...)...)},
	"P07": {checks: append(number("5", "1101", 2), number("3", "1101", 2)...)},
	"P08": {checks: number("15", "4000", 3)},
	"P09": {checks: number("25", "4000", 4)},
	"P10": {checks: []vectorRow{
		{"kind": "backhoe", "weight": "20000", "ties": "4 chain 3/8 g70 direct binder=9200", "need": "10000", "credit": "13200", "findings": "aggregate=met corners=met"},
		{"kind": "backhoe", "weight": "20000", "ties": "3 chain 3/8 g70 direct binder=9200", "credit": "9900", "findings": "aggregate=short corners=short"},
		{"kind": "backhoe", "weight": "20000", "ties": "1 chain 3/8 g70 direct binder=9200", "credit": "3300"},
	}},
	"P11": {checks: []vectorRow{
		{"kind": "crate", "weight": "24000", "ties": "4 webbing 2 over mark=3335", "need": "12000", "credit": "13340", "findings": "aggregate=met"},
		{"kind": "crate", "weight": "24000", "ties": "3 webbing 2 over mark=3335", "findings": "aggregate=short"},
	}},
	"P12": {checks: []vectorRow{
		{"kind": "crate", "weight": "40200", "length": "18", "blocked": "no", "ties": "5 webbing 4 over mark=5000", "need": "20100", "credit": "25000", "findings": "aggregate=met number=met"},
		{"kind": "crate", "weight": "40200", "length": "18", "blocked": "no", "ties": "4 webbing 4 over mark=5000", "findings": "aggregate=short number=met"},
		{"kind": "crate", "weight": "4000", "length": "18", "blocked": "no", "ties": "2 webbing 4 over mark=5000", "findings": "number=short"},
	}},
	"P13": {checks: []vectorRow{ // 7,083.3 lb, said rounded up
		{"kind": "log", "weight": "42500", "cargo": "stacks=1 lies=lengthwise", "ties": "2 chain 3/8 over mark=3542 binder=5400", "credit": "7084", "findings": "aggregate=met logs=met"},
		{"kind": "log", "weight": "42500", "cargo": "stacks=1 lies=lengthwise", "ties": "1 chain 3/8 over mark=3542 binder=5400; 1 chain 3/8 over mark=3541 binder=5400", "credit": "7083", "findings": "aggregate=short logs=met"},
	}},
	"P14": {checks: []vectorRow{
		{"kind": "tractor", "weight": "7000", "ties": "1 chain 5/16 g70 over front hook=6600 binder=5200; 1 chain 5/16 g70 over rear hook=6600 binder=5200; 1 chain 5/16 g70 over on=loader hook=6600 binder=5200",
			"need": "3500", "credit": "14100", "limited": "chain", "findings": "aggregate=met ends=met accessory:loader=met"},
		{"kind": "tractor", "weight": "7000", "ties": "2 chain 5/16 g70 over hook=6600 binder=5200", "credit": "9400"},
	}},
	"P15": {checks: []vectorRow{
		{"kind": "tractor", "weight": "7000", "ties": "4 chain 5/16 g70 direct corners hook=6600 binder=5200; 1 chain 5/16 g70 over on=loader hook=6600 binder=5200", "credit": "14100", "findings": "aggregate=met ends=met"},
	}},
	"P16": {apart: "Canadian: National Safety Code Standard 10"},
	"P17": {apart: "Canadian: National Safety Code Standard 10"},
	"P18": {checks: number("20", "4000", 3)}, // its manual says 2; its own note says 393.110(b) gives 3
	"P19": {checks: number("40", "4000", 5)}, // its manual says 4; its own note says 393.110(b) gives 5
	"P20": {checks: []vectorRow{
		{"kind": "crate", "weight": "3800", "ties": "1 chain 5/16 nomarks over", "credit": "1900", "findings": "aggregate=met"},
		{"kind": "crate", "weight": "3800", "ties": "1 chain 5/16 over", "credit": "1900", "assumed": "grade-30"},
	}},
	"N01": {checks: []vectorRow{
		{"kind": "machine", "weight": "30000", "ties": "4 chain 3/8 direct mark=3750 binder=3750", "need": "15000", "credit": "7500", "findings": "aggregate=short"},
		{"kind": "machine", "weight": "30000", "ties": "4 chain 3/8 over mark=3750 binder=3750", "credit": "15000", "findings": "aggregate=met"},
	}},
	"N02": {checks: []vectorRow{
		{"kind": "dozer", "weight": "55000", "ties": "8 chain 1/2 direct mark=11000 binder=11000", "need": "27500", "credit": "44000", "findings": "aggregate=met"},
	}},
	"N03": {checks: []vectorRow{ // two are asked for, by 393.128, not four
		{"kind": "skid steer", "weight": "6200", "parts": "bucket lock=pin", "ties": "2 chain 5/16 g70 direct", "verdict": "covered", "findings": "ends=met number=absent corners=absent accessory:bucket=met"},
	}},
	"N04": {checks: []vectorRow{ // bad data; the plain sum of the six it lists
		{"kind": "crate", "weight": "66000", "ties": "3 chain 3/8 over mark=4000 binder=9200; 2 chain 3/8 over mark=6500 binder=9200; 1 chain 3/8 over mark=8000 binder=9200", "credit": "33000", "findings": "aggregate=met"},
	}},
	"D01": {checks: []vectorRow{
		{"kind": "dozer", "weight": "10000", "ties": "4 chain 3/8 g70 direct", "need": "5000", "findings": "corners=met ends=absent"},
		{"kind": "dozer", "weight": "10000", "ties": "3 chain 3/8 g70 direct", "findings": "corners=short"},
	}},
	"D02": {checks: []vectorRow{
		{"kind": "dozer", "weight": "9999", "ties": "2 chain 3/8 g70 direct", "need": "4999.5", "findings": "ends=met corners=absent"},
	}},
	"D03": {checks: []vectorRow{
		{"kind": "pickup", "weight": "10000", "ties": "2 chain 3/8 g70 direct", "findings": "ends=met corners=absent"},
	}},
	"D04": {checks: []vectorRow{
		{"kind": "pickup", "weight": "10001", "ties": "4 chain 3/8 g70 direct", "findings": "corners=met ends=absent"},
		{"kind": "pickup", "weight": "10001", "ties": "3 chain 3/8 g70 direct", "findings": "corners=short"},
	}},
	"D05": {checks: []vectorRow{
		{"kind": "excavator", "weight": "40000", "ties": "4 chain 3/8 g70 direct binder=9200", "need": "20000", "credit": "13200", "findings": "aggregate=short"},
		{"kind": "excavator", "weight": "40000", "ties": "7 chain 3/8 g70 direct binder=9200", "credit": "23100", "findings": "aggregate=met"},
		{"kind": "excavator", "weight": "40000", "ties": "6 chain 3/8 g70 direct binder=9200", "findings": "aggregate=short"},
	}},
	"D06": {checks: []vectorRow{
		{"kind": "excavator", "weight": "40000", "ties": "4 chain 1/2 g70 direct binder=9200", "need": "20000", "credit": "18400", "limited": "binder", "findings": "aggregate=short"},
	}},
	"D07": {checks: []vectorRow{
		{"kind": "excavator", "weight": "40000", "ties": "4 chain 1/2 g70 direct binder=13000 anchor=12000", "credit": "22600", "limited": "chain", "findings": "aggregate=met"},
	}},
	"D08": {checks: []vectorRow{
		{"kind": "dozer", "weight": "20000", "ties": "2 chain 3/8 g70 over binder=9200", "need": "10000", "credit": "13200", "findings": "aggregate=met corners=short"},
	}},
	"D09": {checks: []vectorRow{
		{"kind": "wheel loader", "weight": "15000", "ties": "4 chain 3/8 nomarks direct", "need": "7500", "credit": "5300", "findings": "aggregate=short"},
	}},
	"D10": {checks: []vectorRow{
		{"kind": "tractor", "weight": "9000", "ties": "1 chain 3/8 g70 direct binder=5400", "credit": "2700", "limited": "binder"},
	}},
	"D11": {checks: []vectorRow{
		{"kind": "tractor", "weight": "9000", "ties": "1 chain 3/8 g80 direct anchor=4000", "credit": "2000", "limited": "anchor"},
		{"kind": "tractor", "weight": "9000", "ties": "1 chain 3/8 g80 over anchor=4000", "credit": "4000"},
	}},
	"D12": {checks: []vectorRow{
		{"kind": "tractor", "weight": "9000", "ties": "1 chain 5/16 g70 over", "credit": "4700"},
		{"kind": "tractor", "weight": "9000", "ties": "1 chain 5/16 g80 over", "credit": "4500"},
	}},
	"D13": {checks: []vectorRow{
		{"kind": "crane", "weight": "9000", "ties": "1 chain 3/8 g70 same-side on=boom", "credit": "3300"},
	}},
	"D14": {checks: []vectorRow{
		{"kind": "tractor", "weight": "9000", "ties": "1 chain 3/8 g70 over", "credit": "6600"},
	}},
	"D15": {checks: []vectorRow{
		{"kind": "crate", "weight": "8000", "ties": "1 webbing 4 over", "credit": "4000", "assumed": "table-row", "findings": "aggregate=met"},
	}},
	"D16": {checks: []vectorRow{
		{"kind": "crate", "weight": "8000", "ties": "1 webbing 4 over mark=5400", "credit": "5400", "not_assumed": "table-row"},
	}},
	"D17": {checks: []vectorRow{
		{"kind": "crate", "weight": "800", "ties": "1 webbing 1 over", "credit": "0", "findings": "aggregate=untold"},
	}},
	"D18": {checks: number("10", "4000", 2)},
	"D19": {checks: number("10'1", "4000", 3)},
	"D20": {checks: append(number("20", "4000", 3), blocked("20", 2)...)},
	"D21": {checks: append(number("20'1", "4000", 4), blocked("20'1", 3)...)},
	"D22": {checks: number("5", "1100", 1)},
	"D23": {checks: number("5", "1101", 2)},
	"D24": {checks: []vectorRow{
		{"kind": "boulder", "weight": "20000", "cargo": "shape=unstable", "ties": "1 chain 1/2 direct mark=10000 binder=13000; 4 chain 3/8 direct mark=5000 binder=5400", "findings": "aggregate=met boulder=met"},
		{"kind": "boulder", "weight": "20000", "cargo": "shape=unstable", "ties": "1 chain 1/2 direct mark=9999 binder=13000; 4 chain 3/8 direct mark=5000 binder=5400", "findings": "boulder=short"},
		{"kind": "boulder", "weight": "20000", "cargo": "shape=unstable", "ties": "1 chain 1/2 direct mark=10000 binder=13000; 4 chain 3/8 direct mark=4999 binder=5400", "findings": "boulder=short"},
	}},
	"D25": {checks: []vectorRow{
		{"kind": "boulder", "weight": "12000", "cargo": "shape=cubic", "ties": "2 chain 3/8 g70 over", "findings": "boulder=met number=absent"},
		{"kind": "boulder", "weight": "10000", "length": "5", "blocked": "no", "ties": "2 chain 3/8 g70 over", "findings": "boulder=absent number=met"},
		{"kind": "boulder", "weight": "11000", "cargo": "shape=cubic", "ties": "2 chain 3/8 g70 over", "findings": "boulder=met number=absent"},
		{"kind": "boulder", "weight": "5000kg", "cargo": "shape=cubic", "ties": "2 chain 3/8 g70 over", "findings": "boulder=met number=absent"},
	}},
	"D26": {apart: "Canadian: National Safety Code Standard 10"},
	"D27": {apart: "Canadian: National Safety Code Standard 10"},
	"D28": {checks: []vectorRow{
		{"kind": "car", "weight": "3600", "ties": "4 webbing 2 direct; 1 webbing 2 direct hurt=cut:3/8", "credit": "5000"},
		{"kind": "car", "weight": "3600", "ties": "4 webbing 2 direct; 1 webbing 2 direct hurt=cut:0.376", "credit": "4000", "aside": "1 cut fix"},
	}},
	"D29": {checks: []vectorRow{
		{"kind": "container", "weight": "40000", "cargo": "empty=no", "ties": "4 chain 1/2 g70 direct corners binder=13000", "need": "20000", "credit": "22600", "findings": "aggregate=met container=met"},
		{"kind": "container", "weight": "40000", "cargo": "empty=no", "ties": "4 chain 1/2 g70 direct corners binder=9200", "findings": "aggregate=short container=met"},
	}},
}

// number is one short of n tie-downs and n of them on an article that nothing
// blocks.
func number(length, weight string, n int) []vectorRow {
	few := vectorRow{"kind": "crate", "length": length, "weight": weight, "blocked": "no", "ties": pieces(n - 1), "findings": "number=short"}
	enough := vectorRow{"kind": "crate", "length": length, "weight": weight, "blocked": "no", "ties": pieces(n), "findings": "number=met"}
	if n == 1 {
		few["bare"] = "yes"
	}
	return []vectorRow{few, enough}
}

// blocked is the same on an article that is blocked.
func blocked(length string, n int) []vectorRow {
	rows := number(length, "4000", n)
	for i := range rows {
		rows[i]["blocked"] = "yes"
	}
	return rows
}

func pieces(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprintf("%d webbing 4 over", n)
}

// Every row of the worked examples holds, or is set apart with its reason. The
// negative ones (N) are answered by the rule, not by what was printed.
func TestReference_everyWorkedExampleHolds(t *testing.T) {
	rows := readCSV(t, filepath.Join("..", "testdata", "reference", "worked_examples.csv"))
	seen := map[string]bool{}
	for _, row := range rows {
		id := row.cell["id"]
		seen[id] = true
		e, ok := examples[id]
		switch {
		case !ok:
			t.Errorf("%s is not held: %s", id, row.cell["inputs"])
		case e.apart == "" && len(e.checks) == 0 || e.apart != "" && len(e.checks) > 0:
			t.Errorf("%s has neither checks nor a reason, or both", id)
		}
		for i, check := range e.checks {
			v := vector{file: id, line: i + 1, cell: check}
			v.check(t, "", evaluate(v.article(t)))
		}
	}
	for id := range examples {
		if !seen[id] {
			t.Errorf("%s is held but is no row", id)
		}
	}
}

// The card's example, as sent.
func card() load.Load {
	var t testing.T
	v := vector{cell: vectorRow{"kind": "roller", "weight": "14000", "bends": "yes", "ties": "4 chain 3/8 g70 direct; 1 chain 3/8 g70 over"}}
	return load.Load{Articles: []load.Article{v.article(&t)}}
}

// BenchmarkEvaluate judges the card's example; "covered" is the same with its
// joint locked, where each single loss is tried too, "short" has too few.
func BenchmarkEvaluate(b *testing.B) {
	covered := card()
	covered.Articles[0].Joint = load.Joint{Locked: load.Yes}
	short := card()
	short.Articles[0].Ties = short.Articles[0].Ties[:3]
	for name, l := range map[string]load.Load{"card": card(), "covered": covered, "short": short} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				rules.Evaluate(l, rules.Federal)
			}
		})
	}
}
