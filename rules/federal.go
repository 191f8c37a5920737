package rules

import "halfweight/rules/tables"

// Set is one authority's rules, in the order in which they are listed, and the
// figures they compare with.
type Set struct {
	Name   string
	Limits func() *tables.Limits
	Rules  []Rule
}

// Rule is one duty. Its judge adds findings to the sheet of the article in hand:
// none where the duty does not apply.
type Rule struct {
	ID    string
	judge func(*sheet)
}

// Federal is the United States' federal minimum: 49 CFR 393.100 to 393.136, so
// far as they bear on machines, vehicles and other cargo on an open deck.
var Federal = Set{
	Name:   "federal",
	Limits: tables.Federal,
	Rules: []Rule{
		{"weight", weight},
		{"aggregate", aggregate},
		{"corners", corners},
		{"ends", ends},
		{"rating", rating},
		{"number", number},
		{"chocks", chocks},
		{"contact", contact},
		{ruleLogs, logs},
		{ruleLumber, lumber},
		{ruleCoils, coils},
		{ruleConcrete, concrete},
		{ruleContainer, container},
		{ruleFlattened, flattened},
		{ruleRollOff, rollOff},
		{ruleBoulder, boulder},
		{"eye", eye},
		{"accessory", accessory},
		{"articulation", articulation},
		{"tensioner", tensioner},
		{"guard", guard},
	},
}

// Named is the set of that name; any other name, "" among them, is the federal
// one.
func Named(name string) Set {
	if name == Canada.Name {
		return Canada
	}
	return Federal
}
