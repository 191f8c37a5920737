package rules

import "halfweight/rules/tables"

// Canada is National Safety Code Standard 10, so far as its text was read: half
// of the weight, four tie-downs of 2,268 kg or more each on a machine over
// 4,500 kg, gear without marks refused. Its own credit for a direct tie-down is
// read in two ways and no text of it is at hand: the lesser counts, and that is
// said. The duties are those of the federal set: what differs is figures, and
// what was not read of it is the federal one.
var Canada = Set{Name: "canada", Limits: tables.Canada, Rules: Federal.Rules}
