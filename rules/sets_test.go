package rules_test

import (
	"errors"
	"testing"

	"halfweight/rules"
	"halfweight/rules/load"
)

// Other sets and a crew's own rules, on whole loads.
func TestVectors_eachSetJudgesByItsOwnFigures(t *testing.T) {
	for _, v := range vectors(t, "sets") {
		c := v.evaluate(t)
		v.check(t, "", c)
		if v.cell["aside"] == "" && asides(c) != "" {
			t.Errorf("%v: set aside %q, want nothing", v, asides(c))
		}
	}
}

// A house rule that asks less than the law, or as much, is refused.
func TestTightens_aRuleThatLoosensIsRefused(t *testing.T) {
	pound := load.Pound
	for _, c := range []struct {
		set   rules.Set
		house rules.House
		want  error
	}{
		{rules.Federal, rules.House{Kind: rules.HouseNeed, Percent: 50}, rules.ErrLoosens},
		{rules.Federal, rules.House{Kind: rules.HouseNeed, Percent: 40}, rules.ErrLoosens},
		{rules.Federal, rules.House{Kind: rules.HouseNeed, Percent: 51}, nil},
		{rules.Federal, rules.House{Kind: rules.HouseNeed, Percent: 201}, rules.ErrOutOfReach},
		{rules.Federal, rules.House{Kind: rules.HouseTies, Count: 2}, rules.ErrLoosens},
		{rules.Federal, rules.House{Kind: rules.HouseTies, Count: 3}, nil},
		{rules.Federal, rules.House{Kind: rules.HouseTies, Count: 21}, rules.ErrOutOfReach},
		{rules.Federal, rules.House{Kind: rules.HouseEnds, Count: 1}, rules.ErrLoosens},
		{rules.Federal, rules.House{Kind: rules.HouseEnds, Count: 2}, nil},
		{rules.Federal, rules.House{Kind: rules.HouseGrade, Count: 30}, rules.ErrLoosens},
		{rules.Federal, rules.House{Kind: rules.HouseGrade, Count: 70}, nil},
		{rules.Federal, rules.House{Kind: rules.HouseRating, Mass: 4000 * pound}, nil},
		{rules.Canada, rules.House{Kind: rules.HouseRating, Mass: 4000 * pound}, rules.ErrLoosens},
		{rules.Canada, rules.House{Kind: rules.HouseRating, Mass: 5001 * pound}, nil},
		{rules.Federal, rules.House{Kind: "colour"}, rules.ErrNoHouse},
	} {
		if err := c.set.Tightens(c.house); !errors.Is(err, c.want) {
			t.Errorf("%s with %+v: %v, want %v", c.set.Name, c.house, err, c.want)
		}
	}
}

// What a house rule tightens is cited as one, beside the law it tightens; the
// law's own set is not changed by it.
func TestWith_theFindingCitesTheHouseRuleAndTheLaw(t *testing.T) {
	set := rules.Federal.With(rules.House{Kind: rules.HouseNeed, Percent: 60})
	if got, want := set.Limits().Citation("aggregate"), "house rule, tighter than 49 CFR 393.106(d)"; got != want {
		t.Errorf("cites %q, want %q", got, want)
	}
	if got, want := set.Limits().Citation("corners"), rules.Federal.Limits().Citation("corners"); got != want {
		t.Errorf("what it does not tighten cites %q, want %q", got, want)
	}
	if got := rules.Federal.Limits().Need; got != 50 {
		t.Errorf("the federal need is %d percent now", got)
	}
}

// A house rule made beside one set asks nothing beside another that asks as much.
func TestWith_aRuleThatAsksNoMoreAsksNothing(t *testing.T) {
	set := rules.Canada.With(rules.House{Kind: rules.HouseRating, Mass: 4000 * load.Pound})
	if got, want := set.Limits().LeastHold, rules.Canada.Limits().LeastHold; got != want {
		t.Errorf("each is to be rated %v, want %v", got, want)
	}
}
