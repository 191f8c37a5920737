package rules

import "halfweight/rules/tables"

// Canada is National Safety Code Standard 10, so far as its text was read: half
// of the weight, four tie-downs of 2,268 kg or more each on a machine over
// 4,500 kg, gear without marks refused. Its own credit for a direct tie-down is
// read in two ways and no text of it is at hand: the lesser counts, and that is
// said. What was not read of it is taken from the federal set.
var Canada = Set{
	Name:   "canada",
	Limits: tables.Canada,
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
