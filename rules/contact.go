package rules

import "halfweight/rules/load"

// Reasons of contact.
const (
	reasonTouching = "touching or blocked apart"
	reasonGaps     = "not touching"
	reasonMayMove  = "not told whether they touch"
)

// contact asks of several articles told as one group that those side by side
// touch, or are kept from moving toward each other (49 CFR 393.106(c)(2)). It is
// not asked of what a section holds one by one.
//
// The section speaks of tie-downs that run across; which of them do, and whether
// the articles stand side by side or one behind the other, is not known, so it is
// asked of any group.
func contact(s *sheet) {
	if !s.several() || !s.byLength() {
		return
	}
	f := Finding{Rule: "contact", Reason: reasonMayMove, Ask: AskTouching}
	switch c := &s.art.Cargo; {
	case c.Banded == load.Yes:
		f.Outcome, f.Reason, f.Ask = Met, reasonBanded, ""
	case c.Touching == load.Yes:
		f.Outcome, f.Reason, f.Ask = Met, reasonTouching, ""
	case c.Touching == load.No:
		f.Outcome, f.Reason, f.Ask = Short, reasonGaps, ""
	}
	s.find(f)
}
