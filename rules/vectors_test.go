package rules_test

import (
	"encoding/csv"
	"fmt"
	"math/big"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"halfweight/rules"
	"halfweight/rules/load"
)

// The vectors of testdata/rules build loads directly, so that a reader's mistake
// cannot hide a rule's. One row is one article; a column is a fact, empty where
// it is not told. ties holds pieces: "4 chain 3/8 g70 direct; 1 webbing 4 over
// rear mark=5400"; parts: "bucket down tied; hoe lock=boom-lock+swing-pin".

// vector is one row, by column.
type vector struct {
	file string
	line int
	cell map[string]string
}

func (v vector) String() string { return fmt.Sprintf("%s:%d %s", v.file, v.line, v.cell["name"]) }

// vectors reads testdata/rules/<file>.csv.
func vectors(t *testing.T, file string) []vector {
	t.Helper()
	return readCSV(t, filepath.Join("..", "testdata", "rules", file+".csv"))
}

func readCSV(t *testing.T, path string) []vector {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	var list []vector
	for i, row := range rows[1:] {
		v := vector{file: filepath.Base(path), line: i + 2, cell: map[string]string{}}
		for j, name := range rows[0] {
			v.cell[name] = strings.TrimSpace(row[j])
		}
		list = append(list, v)
	}
	return list
}

// facts are the columns that build the article; the rest is expected of it.
var facts = []string{"kind", "weight", "length", "blocked", "wheels", "bends", "still", "bare", "parts", "joint", "cargo", "ties", "set", "house"}

// article builds the article of a row.
func (v vector) article(t testing.TB) load.Article {
	t.Helper()
	a := load.Article{ID: 1, Kind: v.cell["kind"], Name: v.cell["kind"]}
	a.Weight = readWeight(t, v.cell["weight"])
	a.Length, a.InMetres = readLength(t, v.cell["length"])
	a.Cargo = readCargo(t, v.cell["cargo"])
	a.Blocked = readTri(t, v.cell["blocked"])
	a.OnWheels = readTri(t, v.cell["wheels"])
	a.Articulated = readTri(t, v.cell["bends"])
	a.Still = v.cell["still"] != ""
	a.Bare = v.cell["bare"] != ""
	a.Joint = readJoint(t, v.cell["joint"])
	for _, text := range clauses(v.cell["parts"]) {
		a.Parts = append(a.Parts, readPart(t, text))
	}
	for _, text := range clauses(v.cell["ties"]) {
		a.Ties = append(a.Ties, readTies(t, text, len(a.Ties))...)
	}
	return a
}

// evaluate judges one article.
func evaluate(a load.Article) rules.Count {
	return rules.Evaluate(load.Load{Articles: []load.Article{a}}, rules.Federal).Articles[0]
}

// evaluate judges the article of a row by the law of the row.
func (v vector) evaluate(t testing.TB) rules.Count {
	t.Helper()
	return rules.Evaluate(load.Load{Articles: []load.Article{v.article(t)}}, v.law(t)).Articles[0]
}

// law is the set and the house rules that the row names, the federal set where it
// names none.
func (v vector) law(t testing.TB) rules.Set {
	t.Helper()
	set := rules.Federal
	if v.cell["set"] == "canada" {
		set = rules.Canada
	}
	house := readHouse(t, v.cell["house"])
	for _, h := range house {
		if err := set.Tightens(h); err != nil {
			t.Fatalf("%v: %v", v, err)
		}
	}
	return set.With(house...)
}

// readHouse reads house rules: "need 60; webbing; rating 5000".
func readHouse(t testing.TB, s string) []rules.House {
	t.Helper()
	var list []rules.House
	for _, text := range clauses(s) {
		kind, figure, _ := strings.Cut(text, " ")
		h := rules.House{Kind: kind}
		n, _ := strconv.Atoi(figure)
		switch kind {
		case rules.HouseNeed:
			h.Percent = n
		case rules.HouseRating:
			h.Mass = load.Mass(n) * load.Pound
		default:
			h.Count = n
		}
		list = append(list, h)
	}
	return list
}

func clauses(s string) []string {
	if s == "" {
		return nil
	}
	parts := strings.Split(s, ";")
	for i := range parts {
		parts[i] = strings.TrimSpace(parts[i])
	}
	return parts
}

func readTri(t testing.TB, s string) load.Tri {
	t.Helper()
	switch s {
	case "":
		return load.Untold
	case "yes":
		return load.Yes
	case "no":
		return load.No
	}
	t.Fatalf("%q is not yes, no or empty", s)
	return load.Untold
}

func readJoint(t testing.TB, s string) load.Joint {
	t.Helper()
	switch s {
	case "":
		return load.Joint{}
	case "bar":
		return load.Joint{Locked: load.Yes, How: load.LockBar}
	case "locked":
		return load.Joint{Locked: load.Yes}
	case "steering lock":
		return load.Joint{Locked: load.Yes, How: load.SteeringLock}
	case "steering wheel":
		return load.Joint{How: load.SteeringWheel}
	case "not locked":
		return load.Joint{Locked: load.No}
	case "not locked, not crossed":
		return load.Joint{Locked: load.No, Uncrossed: true}
	case "has lock":
		return load.Joint{Has: true}
	}
	t.Fatalf("joint %q", s)
	return load.Joint{}
}

// figure reads "14000", "3/8", "1-3/4", "0.25".
func figure(t testing.TB, s string) *big.Rat {
	t.Helper()
	whole, frac, mixed := strings.Cut(s, "-")
	r, ok := new(big.Rat).SetString(whole)
	if !ok {
		t.Fatalf("figure %q", s)
	}
	if mixed {
		f, ok := new(big.Rat).SetString(frac)
		if !ok {
			t.Fatalf("figure %q", s)
		}
		r.Add(r, f)
	}
	return r
}

func scaled[Q ~int64](t testing.TB, s string, unit Q) Q {
	t.Helper()
	r := figure(t, s)
	r.Mul(r, new(big.Rat).SetInt64(int64(unit)))
	if !r.IsInt() {
		t.Fatalf("%q is no whole number of the smallest unit", s)
	}
	return Q(r.Num().Int64())
}

// readWeight reads "14000" (pounds), "4536kg", "12ton", "14000~" (told loosely)
// and "13000..15000".
func readWeight(t testing.TB, s string) load.Weight {
	t.Helper()
	if s == "" {
		return load.Weight{}
	}
	if low, high, ok := strings.Cut(s, ".."); ok {
		return load.Weight{Told: scaled(t, high, load.Pound), Low: scaled(t, low, load.Pound), High: scaled(t, high, load.Pound)}
	}
	if n, ok := strings.CutSuffix(s, "kg"); ok {
		return load.Exact(scaled(t, n, load.Kilogram), true)
	}
	if n, ok := strings.CutSuffix(s, "ton"); ok {
		short, metric := scaled(t, n, load.ShortTon), scaled(t, n, load.Tonne)
		return load.Weight{Told: short, Low: short, High: metric, Ton: true}
	}
	if n, ok := strings.CutSuffix(s, "~"); ok {
		m := scaled(t, n, load.Pound)
		return load.Weight{Told: m, Low: m - m/20, High: m + m/20}
	}
	return load.Exact(scaled(t, s, load.Pound), false)
}

// readCargo reads "pieces=6 lies=on-end chocked=yes".
func readCargo(t testing.TB, s string) load.Cargo {
	t.Helper()
	var c load.Cargo
	number := map[string]*int{"pieces": &c.Pieces, "stacks": &c.Stacks, "tiers": &c.Tiers, "walls": &c.Walls}
	tri := map[string]*load.Tri{
		"chassis": &c.Chassis, "empty": &c.Empty, "locked": &c.Locked, "chocked": &c.Chocked, "banded": &c.Banded,
		"touching": &c.Touching, "special": &c.Special, "checked": &c.Checked,
	}
	for _, w := range strings.Fields(s) {
		key, value, _ := strings.Cut(w, "=")
		switch {
		case number[key] != nil:
			n, err := strconv.Atoi(value)
			if err != nil {
				t.Fatalf("cargo %q: %v", s, err)
			}
			*number[key] = n
		case tri[key] != nil:
			*tri[key] = readTri(t, value)
		case key == "lies":
			c.Lies = strings.ReplaceAll(value, "-", " ")
		case key == "shape":
			c.Shape = value
		case key == "bore":
			c.Bore = scaled(t, value, load.Inch)
		case key == "whole":
			c.Whole = true
		case key == "several":
			c.Several = true
		case key == "total":
			c.Total = true
		default:
			t.Fatalf("cargo %q: %q", s, w)
		}
	}
	return c
}

// readLength reads feet, "10'1" for feet and inches, and metres, "3.04m".
func readLength(t testing.TB, s string) (l load.Length, metres bool) {
	t.Helper()
	if s == "" {
		return 0, false
	}
	if n, ok := strings.CutSuffix(s, "m"); ok {
		return scaled(t, n, load.Metre), true
	}
	feet, inches, _ := strings.Cut(s, "'")
	l = scaled(t, feet, load.Foot)
	if inches != "" {
		l += scaled(t, inches, load.Inch)
	}
	return l, false
}

func readPart(t testing.TB, text string) load.Part {
	t.Helper()
	words := strings.Fields(text)
	name := strings.ReplaceAll(words[0], "-", " ")
	p := load.Part{Name: name, Word: name}
	for _, w := range words[1:] {
		key, value, _ := strings.Cut(w, "=")
		switch key {
		case "down":
			p.Down = load.Yes
		case "up":
			p.Down = load.No
		case "tied":
			p.Tied = load.Yes
		case "untied":
			p.Tied = load.No
		case "unlocked":
			p.Unlocked = true
		case "hydraulics":
			p.Hydraulics = true
		case "prop":
			p.Prop = true
		case "loose":
			p.Loose = true
		case "off":
			p.Off = true
		case "stowed":
			p.Stowed = true
		case "lock":
			p.Locks = strings.Split(strings.ReplaceAll(value, "-", " "), "+")
		case "word":
			p.Word = value
		default:
			t.Fatalf("part %q: %q", text, w)
		}
	}
	return p
}

var materials = map[string]load.Material{
	"chain": load.Chain, "webbing": load.Webbing, "wire-rope": load.WireRope, "cordage": load.Cordage, "steel": load.SteelStrap,
}

// readTies reads pieces; the first word is how many, "some" a plural whose
// number was not told.
func readTies(t testing.TB, text string, after int) []load.TieDown {
	t.Helper()
	words := strings.Fields(text)
	var td load.TieDown
	n := 1
	if words[0] == "some" {
		td.Plural = true
	} else {
		var err error
		if n, err = strconv.Atoi(words[0]); err != nil {
			t.Fatalf("ties %q: %v", text, err)
		}
	}
	for _, w := range words[1:] {
		readTie(t, &td, w)
	}
	list := make([]load.TieDown, n)
	for i := range list {
		list[i] = td
		list[i].ID = after + i + 1
	}
	return list
}

func readTie(t testing.TB, td *load.TieDown, w string) {
	t.Helper()
	key, value, _ := strings.Cut(w, "=")
	dashed := strings.ReplaceAll(value, "-", " ")
	switch key {
	case "chain", "webbing", "wire-rope", "cordage", "steel":
		td.Material = materials[key]
	case "nomarks":
		td.Grade.Reading = load.NoMarks
	case "alloy":
		td.Grade.Reading = load.Alloy
	case "direct", "over":
		td.Route = load.Route(key)
	case "same-side":
		td.Route = load.SameSide
	case "lengthwise":
		td.Route = load.Lengthwise
	case "front", "rear", "middle":
		td.Place.End = key
	case "left", "right":
		td.Place.Side = key
	case "corners", "ends":
		td.Place.Spread = key
	case "on":
		td.Place.On = dashed
	case "thick":
		td.Thick = scaled(t, value, load.Inch)
	case "make":
		td.Make = dashed
	case "mark":
		td.Mark = scaled(t, value, load.Pound)
	case "binder":
		td.Tensioner.Rating, td.Tensioner.Has = scaled(t, value, load.Pound), load.Yes
	case "label":
		td.Tensioner.Label, td.Tensioner.Has = value, load.Yes
	case "kind":
		td.Tensioner.Kind, td.Tensioner.Has = dashed, load.Yes
	case "nobinder":
		td.Tensioner.Has = load.No
	case "hook":
		td.Hook = scaled(t, value, load.Pound)
	case "anchor":
		td.Anchor = scaled(t, value, load.Pound)
	case "loose":
		td.State.Tight = load.No
	case "tight":
		td.State.Tight = load.Yes
	case "sound":
		td.State.Sound = load.Yes
	case "gone":
		td.State.Gone = "came off"
	case "guarded":
		td.State.Guarded = load.Yes
	case "noguard":
		td.State.NoGuard = true
	case "notag":
		td.State.NoTag = true
	case "shared":
		td.Shared = true
	case "gear":
		td.FromGear = true
	case "hurt": // hurt=cracked/hook, hurt=cut:0.25+0.25
		what, sizes, _ := strings.Cut(value, ":")
		d := load.Damage{}
		d.Kind, d.Part, _ = strings.Cut(what, "/")
		if sizes != "" {
			for _, s := range strings.Split(sizes, "+") {
				d.Size = append(d.Size, scaled(t, s, load.Inch))
			}
		}
		td.State.Damage = append(td.State.Damage, d)
	case "left-of-link":
		td.State.Damage = append(td.State.Damage, load.Damage{Kind: "worn", Left: scaled(t, value, load.Inch)})
	default:
		if g, ok := strings.CutPrefix(w, "g"); ok {
			td.Grade = load.Grade{Value: g, Reading: load.Read}
			return
		}
		if mm, ok := strings.CutSuffix(w, "mm"); ok {
			td.Size, td.SizeWord = scaled(t, mm, load.Millimetre), w
			return
		}
		td.Size, td.SizeWord = scaled(t, w, load.Inch), w
	}
}

// check compares a count with what a row expects; a column it does not know
// fails.
func (v vector) check(t *testing.T, rule string, c rules.Count) {
	t.Helper()
	f, listed := find(c, rule, v.cell["subject"])
	for name, want := range v.cell {
		if want == "" || slices.Contains(facts, name) {
			continue
		}
		var got string
		switch name {
		case "name", "source", "subject":
			continue
		case "outcome":
			got = "absent"
			if listed {
				got = f.Outcome.String()
			}
		case "have":
			got = strconv.Itoa(f.Have)
		case "want":
			got = strconv.Itoa(f.Want)
		case "ask":
			got = f.Ask
		case "reason":
			got = f.Reason
		case "verdict":
			got = string(c.Verdict)
		case "credit":
			got = pounds(c.Credit)
		case "need":
			got = pounds(c.Need)
		case "weaker":
			got = pounds(c.Weaker)
		case "most":
			got = pounds(c.Most)
		case "limited":
			if len(c.Lines) > 0 {
				got = c.Lines[0].LimitedBy
			}
		case "findings":
			v.checkFindings(t, c, want)
			continue
		case "assumed", "not_assumed", "remarks":
			v.checkCodes(t, name, c, want)
			continue
		case "aside":
			got = asides(c)
		default:
			t.Fatalf("%v: unknown column %q", v, name)
		}
		if got != want {
			t.Errorf("%v: %s is %q, want %q", v, name, got, want)
		}
	}
}

func pounds(m load.Mass) string {
	if m == rules.Unbounded {
		return "unbounded"
	}
	return strconv.FormatFloat(m.Pounds(), 'f', -1, 64)
}

func asides(c rules.Count) string {
	var list []string
	for _, a := range c.SetAside {
		s := fmt.Sprintf("%d %s", a.Count, a.Why)
		if a.Fix {
			s += " fix"
		}
		if a.Counts {
			s += " counts"
		}
		if a.Settle != "" {
			s += " settle=" + a.Settle
		}
		list = append(list, s)
	}
	return strings.Join(list, "; ")
}

// find is the finding of a rule, of a subject where one is named.
func find(c rules.Count, rule, subject string) (rules.Finding, bool) {
	for _, f := range c.Findings {
		if f.Rule == rule && (subject == "" || f.Subject == subject) {
			return f, true
		}
	}
	return rules.Finding{}, false
}

// checkFindings reads "aggregate=met accessory:bucket=short accessory:*=met":
// "*" is the accessories not named beside it, none left is met.
func (v vector) checkFindings(t *testing.T, c rules.Count, want string) {
	t.Helper()
	named := map[string]bool{}
	for _, w := range strings.Fields(want) {
		key, _, _ := strings.Cut(w, "=")
		named[key] = true
	}
	for _, w := range strings.Fields(want) {
		key, outcome, _ := strings.Cut(w, "=")
		rule, subject, _ := strings.Cut(key, ":")
		subject = strings.ReplaceAll(subject, "-", " ")
		got := "absent"
		if subject == "*" {
			got = "met"
		}
		for _, f := range c.Findings {
			switch {
			case f.Rule != rule:
			case subject == "*":
				if !named[rule+":"+f.Subject] && f.Outcome != rules.Met && got != "short" {
					got = f.Outcome.String()
				}
			case subject == "" || subject == f.Subject:
				got = f.Outcome.String()
			}
		}
		if got != outcome {
			t.Errorf("%v: %s is %s, want %s", v, key, got, outcome)
		}
	}
}

func (v vector) checkCodes(t *testing.T, name string, c rules.Count, want string) {
	t.Helper()
	for _, code := range strings.Fields(want) {
		there := assumes(c, code)
		if name == "remarks" {
			there = slices.ContainsFunc(c.Remarks, func(r rules.Remark) bool { return r.Code == code })
		}
		if there == (name == "not_assumed") {
			t.Errorf("%v: %s %s: have %v", v, name, code, c.Assumed)
		}
	}
}

func assumes(c rules.Count, code string) bool {
	return slices.ContainsFunc(c.Assumed, func(a rules.Assumption) bool { return a.Code == code })
}

// Every rule of the set has its vectors, and they cover each outcome that the
// rule can have.
func TestVectors_eachRuleEndsAsItsTableSays(t *testing.T) {
	for _, r := range rules.Federal.Rules {
		t.Run(r.ID, func(t *testing.T) {
			seen := map[string]bool{}
			for _, v := range vectors(t, r.ID) {
				v.check(t, r.ID, v.evaluate(t))
				seen[v.cell["outcome"]] = true
				if v.cell["source"] == "" {
					t.Errorf("%v has no source", v)
				}
			}
			for _, o := range []string{"met", "short", "untold"} {
				if !seen[o] && !(r.ID == "weight" && o == "short") {
					t.Errorf("no vector ends %s", o)
				}
			}
		})
	}
}

// Whole loads as crews text them, with what a right answer holds.
func TestVectors_wholeLoadsEndAsTheCrewsMessagesDo(t *testing.T) {
	for _, v := range vectors(t, "loads") {
		v.check(t, "", v.evaluate(t))
	}
}

// What is set aside, why, and whether it is to be mended.
func TestVectors_whatIsSetAsideIsListedWithItsReason(t *testing.T) {
	for _, v := range vectors(t, "setaside") {
		c := v.evaluate(t)
		v.check(t, "", c)
		if v.cell["aside"] == "" && asides(c) != "" {
			t.Errorf("%v: set aside %q, want nothing", v, asides(c))
		}
	}
}
