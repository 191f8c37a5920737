package rules

import (
	"halfweight/rules/load"
	"halfweight/rules/tables"
)

// Reasons of eye.
const (
	reasonLooked  = "looked at"
	reasonFailed  = "one not so"
	reasonNotSeen = "not told to be looked at"
)

// eye asks that the checks which the article's own section names, and which only
// an eye can make, were made (49 CFR 393.116 to 393.136; 393.100(c) has cargo
// secured in accordance with them): cradles, blocks, notches, corners that rest.
// They stand in rules/tables/checks.csv. It is untold until told, and met on the
// word that all of them were made, once the lie or shape that some of them hang
// on is told.
//
// What it does not cover is what a photograph would not show either: the strength
// of walls, stakes and headboards.
func eye(s *sheet) {
	if s.own.rule == "" || s.own.rule == ruleLumber && s.oneTier() || len(tables.Checks(s.own.rule)) == 0 {
		return
	}
	f := Finding{Rule: "eye", Subject: s.art.Kind, Part: s.own.rule, Cite: s.lim.Citation(s.own.rule), Reason: reasonNotSeen, Ask: AskEye}
	sure := !s.own.open && (s.own.rule != ruleLumber || s.art.Cargo.Tiers > 0)
	switch c := &s.art.Cargo; {
	case c.Checked == load.No && sure:
		f.Outcome, f.Reason, f.Ask = Short, reasonFailed, ""
	case s.cargo.Rolls && c.Chocked == load.No:
		if sure {
			f.Outcome, f.Reason, f.Ask = Short, reasonUnwedged, ""
		}
	case c.Checked == load.Yes && layAsk(s.own.rule, c) != "":
		f.Ask, f.Reason = layAsk(s.own.rule, c), reasonLies
		if f.Ask == AskShape {
			f.Reason = reasonShape
		}
	case c.Checked == load.Yes:
		f.Outcome, f.Reason, f.Ask = Met, reasonLooked, ""
		s.assume(CodeByEye, s.own.rule)
	}
	s.find(f)
}

// Checks are the checks by eye that a rule asks for of an article, so far as is
// told how it lies and what it rides on, those that matter most first.
func Checks(a *load.Article, rule string) []tables.Check {
	var list []tables.Check
	for _, c := range tables.Checks(rule) {
		if c.When == "" || applies(a, c.When) {
			list = append(list, c)
		}
	}
	return list
}

// layAsk is the key of the question on which checks of a rule apply, "" when it
// is answered.
func layAsk(rule string, c *load.Cargo) string {
	switch {
	case (rule == ruleCoils || rule == ruleLogs) && c.Lies == "":
		return AskLies
	case rule == ruleBoulder && c.Shape == "":
		return AskShape
	}
	return ""
}

// applies says whether a check that is asked only of some is asked of a.
func applies(a *load.Article, when string) bool {
	c := &a.Cargo
	onLocks := c.Chassis == load.Yes || c.Locked == load.Yes
	switch when {
	case "chassis":
		return onLocks
	case "other":
		return !onLocks && c.Empty != load.Yes
	case "empty":
		return !onLocks && c.Empty == load.Yes
	}
	return when == c.Lies || when == c.Shape
}
