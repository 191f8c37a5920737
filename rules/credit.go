package rules

import (
	"halfweight/rules/load"
	"halfweight/rules/tables"
)

// Interval is what one tie-down counts for: the credit on what is told, and the
// most it could be. A tie-down whose size is not told, or whose size and grade
// have no table row, has no WLL and no credit, but a Most.
type Interval struct {
	WLL       load.Mass // the least of its parts' (49 CFR 393.108(a)); 0 when there is none
	LimitedBy string    // the part that gives the WLL: "chain", "webbing", "binder", "hook", ...
	Low       load.Mass // counted: WLL by route (393.106(d))
	Weaker    load.Mass // Low, were its binder not told the commonest weaker one
	Most      load.Mass // the most that what is not told allows; Unbounded where nothing limits it

	doubt doubt
	rests codes
}

// doubt is a set of the reasons why an interval is open.
type doubt uint8

const (
	noSize   doubt = 1 << iota // size or width not told
	noRow                      // the table has no row: only a tag can tell
	noGrade                    // chain's grade not read
	noRating                   // binder known by its size label only
	noRoute                    // route not told
)

// Credit is what t counts for by what is told of its parts and its route,
// whatever its condition: half of its WLL from the trailer to the cargo or back
// to the same side, the whole of it over to the other side (49 CFR 393.106(d)).
// From a front anchor to a rear one is not named there and counts half. A route
// not told counts half and could be whole; at a corner it is taken as direct.
// The shares are l's.
func Credit(t *load.TieDown, l *tables.Limits) Interval {
	own, most, d, rests := material(t)
	if !l.Unmarked && d&noGrade != 0 && t.Grade.Reading == load.NotRead {
		own, rests = 0, 0 // it may bear no mark, and then it counts for nothing
	}
	in := Interval{WLL: own, LimitedBy: materialName(t.Material), doubt: d, rests: rests}

	binder := t.Tensioner.Rating
	hook, stamp := t.Hook, load.Mass(0) // the stamp of a binder tells no rating of it
	if hook == 0 {
		hook = stamped(t, t.HookStamp, unmarked)
	}
	if binder == 0 {
		stamp = stamped(t, t.Tensioner.Stamp, tables.BinderTo)
	}
	most = least(most, binder, stamp, hook, t.Anchor)
	if binder == 0 && t.Tensioner.Label != "" {
		if f, ok := tables.BinderLabel(t.Tensioner.Label); ok {
			binder = f.WLL
			if binder < own {
				in.doubt |= noRating
			}
		}
	}
	in.limit(binder, tensionerName(t))
	in.limit(stamp, tensionerName(t))
	in.limit(hook, "hook")
	in.limit(t.Anchor, "anchor")

	weaker := in.WLL
	if t.Material == load.Chain && binder == 0 {
		f, ok := tables.WeakerBinder(t.Size)
		if t.Size == 0 {
			f, ok = tables.LeastWeakerBinder()
		}
		if ok && f.WLL < weaker {
			weaker = f.WLL
		}
	}
	if in.WLL > 0 && partUntold(t) {
		in.rests |= codePartsNotWeaker
	}

	low, high, told := shares(t, l)
	if !told {
		in.doubt |= noRoute
	}
	if t.Route == "" && (told || in.WLL > 0) {
		in.rests |= codeHalfCredit
	}
	in.Low, in.Weaker, in.Most = tables.Of(low, in.WLL), tables.Of(low, weaker), most
	if most != Unbounded {
		in.Most = tables.Of(high, most)
	}
	return in
}

// shares is the least and the most of its WLL that t counts for by its route; told
// is false where the route is not told and its place does not tell it.
func shares(t *load.TieDown, l *tables.Limits) (low, high tables.Percent, told bool) {
	switch t.Route {
	case load.SameSide:
		return l.CreditSameSide, l.CreditSameSide, true
	case load.Lengthwise:
		return l.CreditLengthwise, l.CreditLengthwise, true
	case load.Over:
		return l.CreditOver, l.CreditOver, true
	case "":
		if !atCorner(t) {
			return l.CreditDirect, l.CreditOver, false
		}
	}
	return l.CreditDirect, l.CreditDirect, true
}

// stamped is the rating of a fitting by the size and grade it bears: the
// row of the chain or webbing it is made for (49 CFR 393.108(a): the weakest part);
// on chain without a grade what bySize gives, where it is made for a smaller one. 0
// where it tells nothing less than the chain's own.
func stamped(t *load.TieDown, s load.Stamp, bySize func(load.Length) (tables.Figure, bool)) load.Mass {
	size := s.Size
	if size == 0 {
		size = t.Size
	}
	var f tables.Figure
	switch {
	case size == 0:
	case t.Material == load.Webbing && s.Size != 0 && s.Size < t.Size:
		f, _ = tables.Webbing(size)
	case t.Material != load.Chain:
	case s.Grade != "":
		f, _ = tables.Chain(size, s.Grade)
	case s.Size != 0 && s.Size < t.Size:
		f, _ = bySize(size)
		if f.WLL == 0 {
			f, _ = unmarked(size)
		}
	}
	return f.WLL
}

// unmarked is the row of a chain without marks (49 CFR 393.108).
func unmarked(size load.Length) (tables.Figure, bool) { return tables.Chain(size, "30") }

// limit lowers the WLL to that of a part, where one is told (not 0).
func (in *Interval) limit(part load.Mass, name string) {
	if part > 0 && part < in.WLL {
		in.WLL, in.LimitedBy = part, name
	}
}

// least is the least of m and the parts told (not 0).
func least(m load.Mass, parts ...load.Mass) load.Mass {
	for _, p := range parts {
		if p > 0 && p < m {
			m = p
		}
	}
	return m
}

// partUntold says whether the rating of a part that t has is not told. Steel
// strapping has no tensioner left on it.
func partUntold(t *load.TieDown) bool {
	return t.Tensioner.Rating == 0 && t.Material != load.SteelStrap || t.Hook == 0 || t.Anchor == 0
}

// atCorner says whether t is told to hold a corner of the article itself.
func atCorner(t *load.TieDown) bool {
	p := &t.Place
	if p.On != "" {
		return false
	}
	return p.Spread == spreadCorners || (p.End == front || p.End == rear) && p.Side != ""
}

// tooMuch says whether the mark told of t is more than a working load limit of its
// size can be, so that it is a breaking strength: a strap's tag names both. The bounds
// are common practice, no source: a quarter over the best row of a chain's size, twice
// the row of a strap, without a width that of 4 in, or of a wire rope.
func tooMuch(t *load.TieDown) bool {
	m := t.Marked()
	if m == 0 {
		return false
	}
	switch t.Material {
	case load.Chain:
		f, _, ok := tables.ChainBest(t.Size)
		return ok && m > f.WLL*5/4
	case load.Webbing:
		width := t.Size
		if width == 0 {
			width = 4 * load.Inch
		}
		f, ok := tables.Webbing(width)
		return ok && m > 2*f.WLL
	case load.WireRope:
		f, ok := tables.WireRope(t.Size, t.Make)
		return ok && m > 2*f.WLL
	}
	return false
}

// material is the rating of the chain, webbing, rope or strapping alone: the
// mark on it, else its table row (49 CFR 393.108). low is 0 where there is none.
func material(t *load.TieDown) (low, most load.Mass, d doubt, rests codes) {
	if m := t.Marked(); m > 0 && !tooMuch(t) {
		return m, m, 0, 0
	}
	if t.Size == 0 {
		// Not told: no credit, and at the most the best of its table, which a
		// size without a row or a mark could still belie.
		grade := ""
		if t.Grade.Reading == load.Read {
			grade = t.Grade.Value
		}
		if best, ok := tables.Best(t.Material, grade); ok {
			return 0, best.WLL, noSize, codeTableRow
		}
		return 0, Unbounded, noSize, 0
	}
	var f tables.Figure
	ok := false
	switch t.Material {
	case load.Chain:
		return chain(t.Size, t.Grade)
	case load.Webbing:
		f, ok = tables.Webbing(t.Size)
	case load.WireRope:
		f, ok = tables.WireRope(t.Size, t.Make)
	case load.Cordage:
		f, ok = tables.Cordage(t.Size, t.Make)
	case load.SteelStrap:
		f, ok = tables.SteelStrap(t.Size, t.Thick)
	}
	if !ok {
		return 0, Unbounded, noRow, 0
	}
	if t.State.NoTag {
		return f.WLL, f.WLL, 0, 0 // told: there is no tag to look at
	}
	return f.WLL, f.WLL, 0, codeTableRow
}

// chain is the rating of a chain by its grade. A grade not read counts as grade
// 30 and could be the best of that size; a chain told without marks is grade 30
// (393.108: unmarked chain); alloy without a figure is the lesser of 80 and 100.
func chain(size load.Length, g load.Grade) (low, most load.Mass, d doubt, rests codes) {
	switch g.Reading {
	case load.Read:
		if f, ok := tables.Chain(size, g.Value); ok {
			return f.WLL, f.WLL, 0, 0
		}
		return 0, Unbounded, noRow, 0
	case load.Alloy:
		a, okA := tables.Chain(size, "80")
		b, okB := tables.Chain(size, "100")
		if okA && okB {
			return min(a.WLL, b.WLL), max(a.WLL, b.WLL), noGrade, codeLesserAlloy
		}
		return 0, Unbounded, noRow, 0
	}
	f, ok := tables.Chain(size, "30")
	if g.Reading == load.NoMarks {
		return f.WLL, f.WLL, 0, 0 // told: no tag can be asked for either
	}
	best, _, okBest := tables.ChainBest(size)
	if !ok || !okBest {
		return 0, Unbounded, noRow, 0
	}
	return f.WLL, best.WLL, noGrade, codeGrade30
}

// materialName is the word for a material as the part that limits a tie-down.
func materialName(m load.Material) string {
	if m == load.Cordage {
		return "rope"
	}
	return string(m)
}

// tensionerName is the word for the tensioner of t as the part that limits it.
func tensionerName(t *load.TieDown) string {
	switch t.Tensioner.Kind {
	case "ratchet", "strap winch":
		return t.Tensioner.Kind
	case "":
		if t.Material == load.Webbing {
			return "ratchet"
		}
	}
	return "binder"
}

// plus is a sum of masses that stops at Unbounded.
func plus(a, b load.Mass) load.Mass {
	if a > Unbounded-b {
		return Unbounded
	}
	return a + b
}

// times is n times m, and stops at Unbounded.
func times(m load.Mass, n int) load.Mass {
	if n > 0 && m > Unbounded/load.Mass(n) {
		return Unbounded
	}
	return m * load.Mass(n)
}
