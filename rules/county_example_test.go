package rules_test

import (
	"fmt"

	"halfweight/rules"
	"halfweight/rules/load"
)

// Alder County is invented. It asks what the federal set does and, of a heavy
// machine, two tie-downs at each end and 60 percent of the weight.
var alderCounty = func() rules.Set {
	set := rules.Federal.With(
		rules.House{Kind: rules.HouseEnds, Count: 2},
		rules.House{Kind: rules.HouseNeed, Percent: 60},
	)
	set.Name = "alder county"
	return set
}()

// A county's rules are a Set: here the federal one, tightened. One that asks
// something new adds a Rule of its own file to Rules.
func ExampleSet() {
	roller := load.Article{ID: 1, Kind: "roller", Weight: load.Exact(14000*load.Pound, false), Joint: load.Joint{Locked: load.Yes}}
	for id := range 4 {
		t := load.TieDown{
			ID: id + 1, Material: load.Chain, Size: load.Inch * 3 / 8, Grade: load.Grade{Value: "70", Reading: load.Read},
			Route: load.Direct, Place: load.Place{End: "front"},
		}
		if id == 3 {
			t.Place.End = "rear"
		}
		roller.Ties = append(roller.Ties, t)
	}
	l := load.Load{Articles: []load.Article{roller}}
	for _, set := range []rules.Set{rules.Federal, alderCounty} {
		c := rules.Evaluate(l, set).Articles[0]
		fmt.Println(set.Name, c.Verdict, c.Need.Pounds())
	}
	// Output:
	// federal covered 7000
	// alder county short 8400
}
