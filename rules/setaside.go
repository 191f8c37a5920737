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
)

// hurtBeyondUse are the kinds of damage that take a tie-down out without a
// measure; every other kind asks for one. Source: spec of this project after
// the roadside practice for chain, hooks and binders; 49 CFR 393.104(f)(1) for
// knots and (f)(2) for repairs.
var hurtBeyondUse = map[string]bool{
	"bent": true, "stretched": true, "cracked": true, "twisted": true, "broken": true,
	"knot": true, "welded": true, "kinked": true, "birdcaged": true,
}

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

// damage is how what is told of a tie-down's hurts is taken, the worst of them.
func damage(t *load.TieDown) condition {
	worst := condition{}
	var cuts load.Length
	cutWhy := ""
	for i := range t.State.Damage {
		d := &t.State.Damage[i]
		c := condition{why: hurtWord(t, d), fix: true, duty: "damaged"}
		switch {
		case d.Kind == "knot":
			c.fate, c.duty = out, "knot"
		case hurtBeyondUse[d.Kind]:
			c.fate = out
		case len(d.Size) > 0 && t.Material == load.Webbing && ofMaterial(t, d):
			for _, s := range d.Size {
				cuts += s
			}
			cutWhy = c.why
			continue
		case d.Left > 0 && t.Material == load.Chain && ofMaterial(t, d):
			c = worn(t, d.Left, c)
		default:
			c.fate, c.settle = maybe, measureOf(t, d)
		}
		worst = worstOf(worst, c)
	}
	if cuts > 0 {
		worst = worstOf(worst, cut(t, cuts, cutWhy))
	}
	return worst
}

// worstOf keeps the graver of two conditions, the first of equals.
func worstOf(a, b condition) condition {
	if b.fate > a.fate || b.fate == a.fate && b.fix && !a.fix {
		return b
	}
	return a
}

// cut takes the cuts, burns and holes of a strap together: more than the
// published table for its width is out; past stricter trade advice it counts
// and is to be mended. Nicks on both edges add.
func cut(t *load.TieDown, total load.Length, why string) condition {
	c := condition{why: why, fix: true, duty: "damaged"}
	published, trade, _, ok := tables.CutLimits(t.Size)
	switch {
	case !ok && t.Size == 0:
		c.fate, c.settle = maybe, settleWidth
	case !ok:
		c.fate, c.settle = maybe, settleDamage // no row for that width
	case total > published:
		c.fate = out
	case trade > 0 && total > trade:
	default:
		return condition{}
	}
	return c
}

// worn takes a chain link by what is left of it at its thinnest, against the
// stock it was made of (roadside practice, not in part 393). Where the grade is
// not read, and so the stock not known, a link below the larger usual stock's
// limit may be one of a thinner stock.
func worn(t *load.TieDown, left load.Length, c condition) condition {
	grade := ""
	if t.Grade.Reading == load.Read {
		grade = t.Grade.Value
	}
	stock, nominal, _, ok := tables.WornBelow(t.Size, grade)
	switch {
	case !ok && t.Size == 0:
		c.fate, c.settle = maybe, settleSize
	case !ok:
		c.fate, c.settle = maybe, settleDamage
	case left >= stock:
		return condition{}
	case grade == "" && left >= nominal:
		c.fate, c.settle = maybe, settleGrade
	default:
		c.fate = out
	}
	return c
}

// ofMaterial says whether a hurt is one of the chain, webbing or rope itself.
func ofMaterial(t *load.TieDown, d *load.Damage) bool {
	switch d.Part {
	case "", "rope", string(t.Material):
		return true
	}
	return false
}

// measureOf is the measure that would settle a hurt told without one.
func measureOf(t *load.TieDown, d *load.Damage) string {
	if !ofMaterial(t, d) {
		return settleDamage
	}
	switch t.Material {
	case load.Webbing:
		return settleCut
	case load.Chain:
		return settleLink
	}
	return settleDamage
}

// hurtWord is the reason as it is listed: "cut", "cracked hook".
func hurtWord(t *load.TieDown, d *load.Damage) string {
	if ofMaterial(t, d) {
		return d.Kind
	}
	return d.Kind + " " + d.Part
}
