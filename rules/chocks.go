package rules

import "halfweight/rules/load"

// Reasons of chocks.
const (
	reasonChocked  = "chocked"
	reasonOnEnd    = "on its end"
	reasonBanded   = "banded into one"
	reasonUnwedged = "not chocked"
	reasonMayRoll  = "not told what keeps it from rolling"
)

// chocks asks of an article that is likely to roll that chocks, wedges, a cradle
// or the like keep it from rolling (49 CFR 393.106(c)(1)). It is asked of the
// kinds that the cargo table calls rolling, until told: pipe, spools, drums, and
// the coils, rolls and rocks that are too light for a section of their own.
//
// On its end, or banded into one piece, it is taken not to roll. Whether a chock
// can work loose is not seen.
func chocks(s *sheet) {
	if !s.cargo.Rolls || s.own.rule != "" {
		return
	}
	f := Finding{Rule: "chocks", Reason: reasonMayRoll, Ask: AskChocks}
	switch c := &s.art.Cargo; {
	case c.Chocked == load.Yes:
		f.Outcome, f.Reason, f.Ask = Met, reasonChocked, ""
	case c.Banded == load.Yes:
		f.Outcome, f.Reason, f.Ask = Met, reasonBanded, ""
	case c.Lies == load.OnEnd:
		f.Outcome, f.Reason, f.Ask = Met, reasonOnEnd, ""
	case c.Chocked == load.No:
		f.Outcome, f.Reason, f.Ask = Short, reasonUnwedged, ""
	}
	s.find(f)
}
