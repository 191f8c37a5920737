package tables

import (
	"encoding/csv"
	"fmt"
	"math/big"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"halfweight/rules/load"
)

// These tests hold the tables to testdata/reference: the published rows, each
// with the place where it was read and how sure that is. The files there are
// read here on their own, not by the package's reader.

// lines reads a CSV file as maps by column.
func lines(t *testing.T, path string) []map[string]string {
	t.Helper()
	f, err := os.Open(path)
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
		m := make(map[string]string)
		for i, c := range cells {
			m[all[0][i]] = c
		}
		out = append(out, m)
	}
	if len(out) == 0 {
		t.Fatalf("%s has no rows", path)
	}
	return out
}

func reference(t *testing.T, name string) []map[string]string {
	return lines(t, filepath.Join("..", "..", "testdata", "reference", name))
}

// published is a size as printed ("1-3/4", "0.394"), exactly.
func published(t *testing.T, cell string) load.Length {
	t.Helper()
	sum := new(big.Rat)
	for part := range strings.SplitSeq(cell, "-") {
		r, ok := new(big.Rat).SetString(part)
		if !ok {
			t.Fatalf("size %q does not read", cell)
		}
		sum.Add(sum, r)
	}
	sum.Mul(sum, big.NewRat(int64(load.Inch), 1))
	if !sum.IsInt() {
		t.Fatalf("size %q is no whole number of nanometres", cell)
	}
	return load.Length(sum.Num().Int64())
}

func mass(t *testing.T, cell string, unit load.Mass) load.Mass {
	t.Helper()
	var n int64
	if _, err := fmt.Sscan(cell, &n); err != nil {
		t.Fatal(err)
	}
	return load.Mass(n) * unit
}

// tie is one reference file and the table that holds its rows, each row brought
// to the same words: what it is of, its figures, its mark.
type tie struct {
	reference, table string
	printed, kept    func(map[string]string) string
}

func columns(names ...string) func(map[string]string) string {
	return func(m map[string]string) string {
		cells := make([]string, len(names))
		for i, n := range names {
			cells[i] = m[n]
		}
		return strings.Join(cells, " | ")
	}
}

var ties = []tie{
	{"chain.csv", "chain.csv",
		columns("size_in", "grade", "wll_lb", "wll_kg", "confidence"),
		columns("size_in", "grade", "wll_lb", "wll_kg", "mark")},
	{"webbing.csv", "webbing.csv",
		columns("width_in", "wll_lb", "wll_kg", "confidence"),
		columns("width_in", "wll_lb", "wll_kg", "mark")},
	{"wire_rope.csv", "wire_rope.csv",
		columns("size_in", "construction", "wll_lb", "wll_kg", "confidence"),
		columns("size_in", "make", "wll_lb", "wll_kg", "mark")},
	{"cordage.csv", "cordage.csv",
		func(m map[string]string) string {
			m["material"] = strings.TrimSuffix(m["material"], " (3-strand and 8-strand)")
			return columns("diameter_in", "material", "wll_lb", "wll_kg", "confidence")(m)
		},
		columns("size_in", "make", "wll_lb", "wll_kg", "mark")},
	{"steel_strap.csv", "steel_strap.csv",
		columns("width_in", "thickness_in", "wll_lb", "wll_kg", "confidence"),
		columns("width_in", "thickness_in", "wll_lb", "wll_kg", "mark")},
	{"binders.csv", "binders.csv", printedBinder,
		columns("label", "type", "least_lb", "most_lb", "mark")},
	{"webbing_defects.csv", "cuts.csv",
		func(m map[string]string) string {
			kind := "published"
			if strings.Contains(m["source"], "trade advice") {
				kind = "trade"
			}
			return columns("width_in", "limit_total_cut_burn_hole_in", "confidence")(m) + " | " + kind
		},
		columns("width_in", "more_than_in", "mark", "kind")},
	{"chain_dims.csv", "stock.csv",
		columns("trade_size_in", "grade", "wire_diameter_in", "confidence"),
		columns("trade_size_in", "grade", "wire_in", "mark")},
	{"chain_wear.csv", "lifting_wear.csv",
		func(m map[string]string) string {
			by, _, _ := strings.Cut(m["basis"], " ")
			return by + " | " + columns("nominal_size_in", "min_link_size_in", "min_link_size_decimal_in", "confidence")(m)
		},
		columns("by", "size_in", "least_link_in", "least_link_decimal_in", "mark")},
	{"limits.csv", "figures.csv",
		columns("key", "value", "unit", "confidence"),
		columns("key", "value", "unit", "mark")},
	{"limits_canada.csv", "figures_canada.csv",
		columns("key", "value", "unit", "confidence"),
		columns("key", "value", "unit", "mark")},
}

// printedBinder brings "3/8-1/2 (stronger types),12000" to label, type, least
// and most. The mark ends where it names who printed it.
func printedBinder(m map[string]string) string {
	label, _, stronger := strings.Cut(m["label_size_in"], " (stronger types)")
	kind := ""
	if stronger {
		kind = "stronger"
	}
	label = strings.TrimSuffix(label, " only")
	least, most, between := strings.Cut(m["usual_wll_lb"], " to ")
	if !between {
		most = least
	}
	mark, _, _ := strings.Cut(m["confidence"], " at ")
	return strings.Join([]string{label, kind, least, most, mark}, " | ")
}

func TestTables_holdEveryReferenceRowAndNoOther(t *testing.T) {
	for _, tie := range ties {
		t.Run(tie.table, func(t *testing.T) {
			var want, got []string
			for _, m := range reference(t, tie.reference) {
				want = append(want, tie.printed(m))
			}
			for _, m := range lines(t, tie.table) {
				got = append(got, tie.kept(m))
			}
			slices.Sort(want)
			slices.Sort(got)
			if d := cmp.Diff(want, got); d != "" {
				t.Errorf("testdata/reference/%s (-) and rules/tables/%s (+) differ:\n%s", tie.reference, tie.table, d)
			}
		})
	}
}

func TestTables_nameTheirSourceAndMark(t *testing.T) {
	files, err := filepath.Glob("*.csv")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		if file == "parts.csv" { // vocabulary; it holds no figure
			continue
		}
		for i, m := range lines(t, file) {
			if m["source"] == "" || m["mark"] == "" {
				t.Errorf("%s, row %d: source %q, mark %q", file, i+1, m["source"], m["mark"])
			}
			if strings.Contains(m["source"], ".com") || strings.Contains(m["mark"], ".us") {
				t.Errorf("%s, row %d names a site", file, i+1)
			}
		}
	}
}

// figure checks a looked up rating against a reference row.
func figure(t *testing.T, what string, got Figure, ok bool, row map[string]string) {
	t.Helper()
	want := Figure{
		WLL:    mass(t, row["wll_lb"], load.Pound),
		Metric: mass(t, row["wll_kg"], load.Kilogram),
		Source: got.Source,
	}
	want.Mark, want.Cite = row["confidence"], "49 CFR 393.108"
	if !ok || got != want {
		t.Errorf("%s: got %+v, %v; want %+v", what, got, ok, want)
	}
}

func TestRatings_areThePublishedOnes(t *testing.T) {
	for _, m := range reference(t, "chain.csv") {
		f, ok := Chain(published(t, m["size_in"]), m["grade"])
		figure(t, m["size_in"]+" grade "+m["grade"], f, ok, m)
	}
	for _, m := range reference(t, "webbing.csv") {
		f, ok := Webbing(published(t, m["width_in"]))
		figure(t, m["width_in"]+" strap", f, ok, m)
	}
	for _, m := range reference(t, "wire_rope.csv") {
		f, ok := WireRope(published(t, m["size_in"]), m["construction"])
		figure(t, m["size_in"]+" wire rope", f, ok, m)
	}
	for _, m := range reference(t, "cordage.csv") {
		made, _, _ := strings.Cut(m["material"], " (")
		f, ok := Cordage(published(t, m["diameter_in"]), made)
		figure(t, m["diameter_in"]+" "+made, f, ok, m)
	}
	for _, m := range reference(t, "steel_strap.csv") {
		f, ok := SteelStrap(published(t, m["width_in"]), published(t, m["thickness_in"]))
		figure(t, m["width_in"]+" x "+m["thickness_in"], f, ok, m)
	}
}

func TestDuties_standInTheSections(t *testing.T) {
	marks := make(map[string]string)
	for _, m := range reference(t, "sections.csv") {
		marks[m["section"]] = m["confidence"]
	}
	used := make(map[string]bool)
	for key, d := range duties(dutiesCSV) {
		sections := strings.Split(strings.TrimPrefix(d.Cite, "49 CFR "), " and ")
		sure := false
		for _, s := range sections {
			if _, ok := marks[s]; !ok {
				t.Errorf("%s cites %s, which testdata/reference/sections.csv does not have", key, s)
			}
			used[s] = true
			sure = sure || marks[s] == d.Mark
		}
		for s, mark := range marks { // the paragraph, where the cite names the section above it
			if strings.HasPrefix(s, sections[0]) && mark == d.Mark {
				used[s], sure = true, true
			}
		}
		if !sure {
			t.Errorf("%s is marked %q; its sections are not", key, d.Mark)
		}
	}
	for s := range marks {
		if !used[s] {
			t.Errorf("no duty cites %s", s)
		}
	}
}

// The citations of the requirements are fixed by the specification's table.
func TestCitation_ofEachRule(t *testing.T) {
	for rule, want := range map[string]string{
		"weight":          "49 CFR 393.106(d)",
		"aggregate":       "49 CFR 393.106(d)",
		"corners":         "49 CFR 393.130(c)",
		"ends":            "49 CFR 393.128(b)",
		"number":          "49 CFR 393.110",
		"accessory":       "49 CFR 393.130(b)(1)",
		"accessory light": "49 CFR 393.100(b) and 393.106(b)",
		"articulation":    "49 CFR 393.130(b)(2)",
		"tensioner":       "49 CFR 393.112",
		"damaged":         "49 CFR 393.104(b)",
		"loose":           "49 CFR 393.104(f)",
		"florp":           "",
	} {
		if got := Federal().Citation(rule); got != want {
			t.Errorf("Citation(%q) = %q, want %q", rule, got, want)
		}
	}
}

func TestGuidance_isTheReferencesOwn(t *testing.T) {
	rows := make(map[string]map[string]string)
	for _, m := range reference(t, "guidance.csv") {
		rows[m["id"]] = m
	}
	for key, g := range guidance() {
		m := rows[key]
		want := Guidance{m["question"], m["answer_in_own_words"], Source{"regulatory guidance", m["confidence"], m["source"]}}
		if d := cmp.Diff(want, g); d != "" {
			t.Errorf("%s:\n%s", key, d)
		}
	}
	for _, key := range []string{"G1", "G2", "G3"} {
		if _, ok := FindGuidance(key); !ok {
			t.Errorf("no guidance %s", key)
		}
	}
	if g, _ := FindGuidance("G3"); g.WasRead() {
		t.Error("G3 was recalled, and says it was read")
	}
}
