package rules

import (
	"slices"
	"testing"

	"halfweight/rules/load"
)

// A hook or binder made for a smaller or a weaker chain is the weakest part
// (49 CFR 393.108(a)); its figure is the row of that chain, without a grade that of
// chain without marks, for a binder the least of its label (common practice, no source).
func TestCredit_aFittingOfASmallerOrWeakerChainCountsAsThatChain(t *testing.T) {
	const in = load.Inch
	for _, c := range []struct {
		name         string
		hook, binder load.Stamp
		limited      string
		pounds       load.Mass
	}{
		{"none told", load.Stamp{}, load.Stamp{}, "chain", 11300},
		{"3/8 g70 hooks", load.Stamp{Size: in * 3 / 8, Grade: "70"}, load.Stamp{}, "hook", 6600},
		{"3/8 hooks", load.Stamp{Size: in * 3 / 8}, load.Stamp{}, "hook", 2650},
		{"g43 hooks", load.Stamp{Grade: "43"}, load.Stamp{}, "hook", 9200},
		{"g80 hooks", load.Stamp{Grade: "80"}, load.Stamp{}, "chain", 11300},
		{"1/2 hooks", load.Stamp{Size: in / 2}, load.Stamp{}, "chain", 11300},
		{"5/8 hooks", load.Stamp{Size: in * 5 / 8}, load.Stamp{}, "chain", 11300},
		{"3/8 binders", load.Stamp{}, load.Stamp{Size: in * 3 / 8}, "binder", 5400},
		{"5/16 binders", load.Stamp{}, load.Stamp{Size: in * 5 / 16}, "binder", 2200},
		{"g43 binders", load.Stamp{}, load.Stamp{Grade: "43"}, "binder", 9200},
		{"both", load.Stamp{Size: in * 5 / 16, Grade: "70"}, load.Stamp{Size: in * 3 / 8}, "hook", 4700},
	} {
		tie := load.TieDown{
			Material: load.Chain, Size: in / 2, SizeWord: "1/2", Grade: load.Grade{Value: "70", Reading: load.Read},
			Route: load.Direct, HookStamp: c.hook, Tensioner: load.Tensioner{Has: load.Yes, Stamp: c.binder},
		}
		got := Credit(&tie, Federal.Limits())
		if got.LimitedBy != c.limited || got.WLL != c.pounds*load.Pound || got.Low != got.WLL/2 {
			t.Errorf("%s: %v by the %s, counted %v", c.name, got.WLL/load.Pound, got.LimitedBy, got.Low/load.Pound)
		}
	}
}

// A strap's tag names its breaking strength beside the working load limit, three times
// as much and more; a figure beyond what such a size can bear is no limit (common
// practice, no source), and the table counts (49 CFR 393.108).
func TestEvaluate_aMarkBeyondItsSizeIsABreakingStrength(t *testing.T) {
	const in = load.Inch
	strap := func(width load.Length) load.TieDown { return load.TieDown{Material: load.Webbing, Size: width} }
	chain := load.TieDown{Material: load.Chain, Size: in * 3 / 8, Grade: load.Grade{Value: "70", Reading: load.Read}}
	for _, c := range []struct {
		name   string
		tie    load.TieDown
		mark   load.Mass
		pounds load.Mass
	}{
		{"2 in strap, 3,333", strap(2 * in), 3333, 3333},
		{"2 in strap, 10,000", strap(2 * in), 10000, 2000},
		{"4 in strap, 5,400", strap(4 * in), 5400, 5400},
		{"4 in strap, 16,200", strap(4 * in), 16200, 4000},
		{"strap, 10,000", strap(0), 10000, 0},
		{"3/8 chain, 6,600", chain, 6600, 6600},
		{"3/8 chain of a grade beyond the table, 10,600", chain, 10600, 10600},
		{"3/8 chain, 26,400", chain, 26400, 6600},
	} {
		c.tie.ID, c.tie.Mark, c.tie.Route = 1, c.mark*load.Pound, load.Over
		if wll := Credit(&c.tie, Federal.Limits()).WLL; wll != c.pounds*load.Pound { // what questions and plans go by
			t.Errorf("%s: credited %v", c.name, wll/load.Pound)
		}
		r := Evaluate(load.Load{Articles: []load.Article{{Kind: "crate", Weight: load.Exact(4000*load.Pound, false), Ties: []load.TieDown{c.tie}}}}, Federal)
		got := r.Articles[0]
		if len(got.Lines) != 1 || got.Lines[0].WLL != c.pounds*load.Pound {
			t.Errorf("%s: %+v", c.name, got.Lines)
		}
		said := slices.ContainsFunc(got.Remarks, func(m Remark) bool { return m.Code == RemarkTooMuch })
		if said != (c.pounds != c.mark) {
			t.Errorf("%s: said %v", c.name, said)
		}
	}
}
