package rules

import (
	"halfweight/rules/load"
	"halfweight/rules/tables"
)

// fate is what becomes of a tie-down in the count.
type fate uint8

const (
	counts fate = iota
	maybe       // counts for nothing now, but one told fact would bring it back
	out         // counts for nothing: loose, hurt beyond a limit, no tensioner
	gone        // not on any more
)

// finding of a tie-down's condition: its fate and how it is listed.
type condition struct {
	fate   fate
	why    string // "" when nothing is to be listed
	fix    bool
	settle string
	duty   string // key of the duty it breaks
}

// What is said of a tie-down set aside, where it is not its damage (Aside.Why),
// and what would settle one that may come back (Aside.Settle).
const (
	whyLoose    = "loose"
	whyNoBinder = "no binder"
	whyShared   = "holds two articles"
	whyNoGuard  = "no edge guard"
	whyUnmarked = "no mark"
	// By a rule of the crew's own.
	whyWebbing   = "a strap"
	whyGrade     = "grade too low"
	whyGradeOpen = "grade not read"

	settleCut     = "cut size"
	settleLink    = "link left"
	settleWidth   = "width"
	settleSize    = "size"
	settleGrade   = "grade"
	settleDamage  = "damage"
	settleArticle = "which article"
	settleWires   = "wires"
	settleRope    = "rope left"
	settleOpened  = "hook opened"
	settleHook    = "hook worn"
	settleRepair  = "repair link"
)

// setAside is how the condition of t is taken. Told loose, hurt beyond a limit,
// or without a tensioner, it counts for nothing; hurt with no measure told, or
// shared between two articles, it counts for nothing but may come back. A strap
// hurt past trade advice only, or without an edge guard, counts, and is to be
// mended. Duty: 49 CFR 393.104(b), (f) and 393.112. It does not look at decks,
// rings and pockets as such (393.104(c)), only at those told of a tie-down.
func setAside(t *load.TieDown, lim *tables.Limits) condition {
	s := &t.State
	if s.Gone != "" {
		return condition{fate: gone, why: s.Gone, duty: "loose"}
	}
	hurt := damage(t)
	switch {
	case hurt.fate == out:
		return hurt
	case s.Tight == load.No:
		return condition{fate: out, why: whyLoose, fix: true, duty: "loose"}
	case t.Tensioner.Has == load.No && t.Material != load.SteelStrap:
		return condition{fate: out, why: whyNoBinder, fix: true, duty: "tensioner"}
	case !lim.Unmarked && (s.NoTag || t.Grade.Reading == load.NoMarks):
		return condition{fate: out, why: whyUnmarked, fix: true, duty: "unmarked"}
	case hurt.fate == maybe:
		return hurt
	case t.Shared:
		return condition{fate: maybe, why: whyShared, settle: settleArticle, duty: "aggregate"}
	case hurt.fix:
		return hurt
	case s.NoGuard:
		return condition{why: whyNoGuard, fix: true, duty: "edge guard"}
	}
	return condition{}
}

// returns is the question whose answer would bring g back into the count; "" for
// one that counts or is out for good.
func (g *group) returns() string {
	switch {
	case g.cond.fate != maybe:
		return ""
	case g.cond.why == whyShared:
		return AskShared
	case g.cond.why == whyIfEmpty:
		return AskEmpty
	}
	return AskDamage
}

// worstOf keeps the graver of two conditions, the first of equals.
func worstOf(a, b condition) condition {
	if b.fate > a.fate || b.fate == a.fate && b.fix && !a.fix {
		return b
	}
	return a
}

// ofMaterial says whether a hurt is one of the chain, webbing or rope itself.
func ofMaterial(t *load.TieDown, d *load.Damage) bool {
	switch d.Part {
	case "", "rope", string(t.Material):
		return true
	}
	return false
}

// hurtWord is the reason as it is listed: "cut", "cracked hook".
func hurtWord(t *load.TieDown, d *load.Damage) string {
	switch d.Kind {
	case "wires", "strand":
		return "broken " + d.Kind
	}
	if ofMaterial(t, d) {
		return d.Kind
	}
	return d.Kind + " " + d.Part
}
