// Package tables holds the published figures, each with its source and mark,
// embedded from the *.csv files beside it. No figure of a rule stands in code.
//
// A lookup never takes the next row: what the table does not print has no row,
// and ok is false. Sizes are looked up as told, in inches or millimetres (see
// Nominal). A table is read on its first use; lookups do not allocate, and what
// they return is shared and not to be changed.
package tables

import (
	"strings"

	"halfweight/rules/load"
)

// Source is where a figure was read and how sure that is.
type Source struct {
	Text string // "49 CFR 393.108 table"
	Mark string // "seen-2" (read in two places), "partly seen", "memory" (recalled only), "derived" (computed), "trade fact"
	Cite string // section, such as "49 CFR 393.108"; "" where no section says it
}

// WasRead says whether the figure itself was read somewhere, rather than
// recalled, computed or told by the trade: `why` must never show the rest as
// read.
func (s Source) WasRead() bool {
	return strings.Contains(s.Mark, "seen") && !strings.Contains(s.Mark, "from memory")
}

// Figure is a rating from a table.
type Figure struct {
	WLL    load.Mass // from the pound column
	Metric load.Mass // from the kilogram column, which is rounded on its own: no conversion of WLL; 0 where the table has none
	Source
}
