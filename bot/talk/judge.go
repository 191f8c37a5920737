package talk

import (
	"halfweight/rules"
	"halfweight/rules/load"
	"halfweight/rules/plan"
)

// Judge has the rules judge a load and the planner say what would mend it: the
// report that a reply is made of. gear is what is to hand beside the load.
func Judge(l load.Load, set rules.Set, gear ...plan.Stock) rules.Report {
	r := rules.Evaluate(l, set)
	plan.Mend(&r, set, gear)
	return r
}
