package rules

import (
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
