package talk

import (
	"slices"

	"halfweight/parser"
	"halfweight/rules"
	"halfweight/rules/load"
	"halfweight/rules/tables"
)

// sense is what a change does to a tie-down, as far as choosing one goes.
type sense uint8

const (
	tells sense = iota // a fact: nothing may be chosen freely
	harms              // counts for less: the strongest that fits is the safe choice
	mends              // counts again: only what is set aside is meant
)

// senseOf is the sense of an edit.
func senseOf(e *parser.Edit) sense {
	s := &e.Set
	switch {
	case e.Loose || len(e.Damage) > 0 || e.Gone != "" || s.State.Tight == load.No || s.State.NoGuard || s.State.NoTag ||
		s.Tensioner.Has == load.No || s.Grade.Reading == load.NoMarks:
		return harms
	case e.Tightened || e.Replaced || e.Back || s.State.Tight == load.Yes:
		return mends
	}
	return tells
}

// picked is what a reference came to.
type picked struct {
	ties []*load.TieDown
	at   load.Place // the place it was told by, now known of ties
	open []int      // those one of which may have been meant instead
}

// Reasons why a reference points at nothing (Cannot.Why).
const (
	noSuch      = "no such tie-down"
	whichOne    = "which of several"
	nothingToDo = "nothing to mend"
)

// pick resolves a reference to tie-downs, once. why says that it cannot; open
// are then those to choose from.
func (t *turn) pick(ref *parser.Ref, e *parser.Edit) (p picked, why string) {
	does := senseOf(e)
	all := t.pool(ref, e)
	if on := slices.DeleteFunc(slices.Clone(all), func(x *load.TieDown) bool { return x.State.Gone != "" }); len(ref.Like.State.Damage) > 0 && len(on) > 0 {
		all = on // "replaced the cut one": not the one that is off already
	}
	if len(all) == 0 {
		return p, noSuch
	}
	if does == mends {
		if ref.Which == parser.It && bare(&ref.Like) {
			return t.bareMend(all, e)
		}
		if aside := thoseToMend(all, e); len(aside) > 0 {
			all = aside
		}
	}
	p.at = ref.Like.Place
	if (ref.Which == parser.It || t.answersMeasure(ref)) && measures(e) {
		if asked, _ := placed(unmeasured(all), p.at); len(asked) > 0 {
			ref = &parser.Ref{Like: ref.Like, Kind: ref.Kind}
			all, does = asked, mends // the measure that was asked for
		}
	}
	all, known := placed(all, p.at)
	if len(all) == 0 {
		return p, noSuch
	}
	if all = slices.DeleteFunc(slices.Clone(all), func(x *load.TieDown) bool { return wrong(x) && !mendedBy(x, e) }); len(all) == 0 {
		return p, nothingToDo
	}
	switch {
	case ref.Which == parser.Rest:
		all = slices.DeleteFunc(all, func(x *load.TieDown) bool { return slices.Contains(t.spoken, x.ID) })
		if len(all) == 0 {
			return p, noSuch
		}
		p.ties = all
		return p, ""
	case ref.Which == parser.Last:
		p.ties = lastOf(all, ref.Count)
		if len(p.ties) < ref.Count {
			return p, noSuch
		}
		return p, ""
	case ref.Which == parser.All:
		if corrects(&ref.Like, &e.Set) && !oneLine(all) {
			p.open = ids(all)
			return p, whichOne
		}
		return t.pickAll(all, ref, known, p)
	case ref.Which == parser.Some:
		return choose(all, max(ref.Count, 1), does, p)
	}
	if bare(&ref.Like) {
		if spoken := t.among(all, t.spoken); len(spoken) > 0 {
			if all = spoken; t.them {
				p.ties = all // "take off the pickup straps"
				return p, ""
			}
		}
	}
	return pickIt(all, ref, does, known, p)
}

// answersMeasure says whether "the hook", "a link" points at the tie-down whose
// measure was asked for.
func (t *turn) answersMeasure(ref *parser.Ref) bool {
	q := t.s.Asked
	return q != nil && q.Key == rules.AskDamage && ref.Which == parser.Some && ref.Count == 1 && bare(&ref.Like)
}

// corrects says whether a fact is told in place of another: "grade is 80 not 70".
func corrects(was, now *load.TieDown) bool {
	return was.Grade != (load.Grade{}) && now.Grade != (load.Grade{}) || was.Size != 0 && now.Size != 0 || was.Mark != 0 && now.Mark != 0
}

// pickIt is for "the front left", "the strap", "it": one, save where a fact is
// told of a clause, or the lesser reading is all of them.
func pickIt(all []*load.TieDown, ref *parser.Ref, does sense, known bool, p picked) (picked, string) {
	switch {
	case does == harms && known && wholeEnd(&ref.Like), // "the rear is loose"
		does == tells && known && (oneLine(all) || alike(all)) && (len(all) == 1 || ref.Like.Place.Side == ""):
		p.ties = all
		return p, ""
	}
	return choose(all, 1, does, p)
}

// bareMend is for "tightened", "replaced" with none named: the one that is set
// aside. Where several are, it may be one or all of them, and is asked.
func (t *turn) bareMend(all []*load.TieDown, e *parser.Edit) (p picked, why string) {
	aside := thoseToMend(all, e)
	if e.Replaced && len(aside) > 1 {
		aside = t.worstHurt(aside)
	}
	switch {
	case len(aside) == 1:
		p.ties = aside
	case len(aside) > 1:
		p.open = ids(aside)
		return p, whichOne
	case e.Replaced || e.Back || slices.ContainsFunc(t.pool(&parser.Ref{}, &parser.Edit{Back: true}), wrong):
		return p, nothingToDo
	default:
		p.ties = all // told tight, and none was told loose
	}
	return p, ""
}

// worstHurt keeps those that count for nothing, else those that are to be mended,
// where some are: a link worn within its limit is not what was replaced.
func (t *turn) worstHurt(all []*load.TieDown) []*load.TieDown {
	report := rules.Evaluate(t.load, t.set)
	var out, fix []int
	for i := range report.Articles {
		for _, a := range report.Articles[i].SetAside {
			if fix = append(fix, a.IDs...); !a.Counts {
				out = append(out, a.IDs...)
			}
		}
	}
	for _, some := range [][]int{out, fix} {
		if list := t.among(all, some); len(list) > 0 {
			return list
		}
	}
	return all
}

// pool is the tie-downs that fit what the reference tells but its place. Those
// that are not on are meant only by what puts them on again.
func (t *turn) pool(ref *parser.Ref, e *parser.Edit) []*load.TieDown {
	var list []*load.TieDown
	for i := range t.load.Articles {
		a := &t.load.Articles[i]
		if ref.Kind != "" && a.Kind != ref.Kind && a.Name != ref.Kind {
			continue
		}
		for j := range a.Ties {
			x := &a.Ties[j]
			if (x.State.Gone == "" || e.Back || e.Replaced) && fits(x, &ref.Like) {
				list = append(list, x)
			}
		}
	}
	return list
}

// fits says whether x is like what was told of it. A fact that x was not told
// with fits too, so long as x could be so.
func fits(x, like *load.TieDown) bool {
	return same(x.Material, like.Material) && sameSize(x, like) && same(x.Make, like.Make) &&
		(like.Grade == load.Grade{} || x.Grade == load.Grade{} || x.Grade == like.Grade) &&
		same(x.Mark, like.Mark) && same(x.Hook, like.Hook) && same(x.Anchor, like.Anchor) &&
		same(x.Tensioner.Rating, like.Tensioner.Rating) && same(x.Tensioner.Kind, like.Tensioner.Kind) &&
		(like.Tensioner.Has != load.No || x.Tensioner.Has == load.No) &&
		same(x.Route, like.Route) && (like.Tag == "" || x.Tag == like.Tag) &&
		(like.State.Tight != load.No || x.State.Tight == load.No) &&
		(len(like.State.Damage) == 0 || hurtLike(x, &like.State.Damage[0]))
}

// same says whether two facts agree or one of them was not told.
func same[T comparable](a, b T) bool {
	var untold T
	return a == b || a == untold || b == untold
}

func sameSize(a, b *load.TieDown) bool {
	m := a.Material
	if m == "" {
		m = b.Material
	}
	return same(tables.Nominal(a.Size, m), tables.Nominal(b.Size, m))
}

// bare says whether nothing was told of the tie-down meant.
func bare(like *load.TieDown) bool {
	return like.Material == "" && like.Size == 0 && like.Grade == (load.Grade{}) && like.Mark == 0 && like.Route == "" &&
		like.Place == (load.Place{}) && like.Tag == "" && like.Tensioner == (load.Tensioner{}) && like.Make == "" &&
		like.Hook == 0 && like.HookStamp == (load.Stamp{}) && like.Anchor == 0 && like.State.Tight == load.Untold && len(like.State.Damage) == 0
}

// wholeEnd says whether only an end was told: "the rear".
func wholeEnd(like *load.TieDown) bool {
	return like.Place.End != "" && like.Place.Side == "" && like.Material == ""
}

// measures says whether an edit tells how bad the damage is.
func measures(e *parser.Edit) bool {
	return len(e.Damage) > 0 && !slices.ContainsFunc(e.Damage, func(d load.Damage) bool { return !d.Measured() })
}

// unmeasured keeps those with damage told without a measure.
func unmeasured(all []*load.TieDown) []*load.TieDown {
	var list []*load.TieDown
	for _, x := range all {
		if openDamage(x) != nil {
			list = append(list, x)
		}
	}
	return list
}

// thoseToMend keeps those the edit can bring back.
func thoseToMend(all []*load.TieDown, e *parser.Edit) []*load.TieDown {
	var list []*load.TieDown
	for _, x := range all {
		s := &x.State
		switch {
		case e.Back && (s.Gone != "" || s.Tight == load.No),
			e.Replaced && wrong(x) && mendedBy(x, e),
			!e.Back && !e.Replaced && s.Tight == load.No && s.Gone == "":
			list = append(list, x)
		}
	}
	return list
}

// mendedBy says whether a new part, where that is all that was replaced, mends x: a
// new binder does nothing for a cracked hook.
func mendedBy(x *load.TieDown, e *parser.Edit) bool {
	part := fittingOf(e.Part)
	if !e.Replaced || part == "" {
		return true
	}
	if x.State.Gone != "" || x.Tensioner.Has == load.No && part != "binder" {
		return false
	}
	return !slices.ContainsFunc(x.State.Damage, func(d load.Damage) bool { return fittingOf(d.Part) != part })
}

// fittingOf is the part that a word for one names.
func fittingOf(part string) string {
	if part == "ratchet" {
		return "binder"
	}
	return part
}

// placed keeps those at a place: the ones told to be there, else those that
// best could be. known says that they were told to be there.
func placed(all []*load.TieDown, at load.Place) (list []*load.TieDown, known bool) {
	if at == (load.Place{}) {
		return all, true
	}
	best := 0
	for _, x := range all {
		n := nearness(x, at)
		if n > best {
			best, list = n, list[:0:0]
		}
		if n > 0 && n == best {
			list = append(list, x)
		}
	}
	return list, best == there
}

// there is the nearness of a tie-down told to be at a place.
const there = 100

// nearness is how well x fits a place: 0 it is elsewhere, there it was told to
// be at it, between the two it could be. One told at the corners, or taken one
// per corner, could be at any of them; one on a part is nowhere else.
func nearness(x *load.TieDown, at load.Place) int {
	p := &x.Place
	if at.On != "" || p.On != "" {
		if at.On == p.On {
			return there
		}
		return 0
	}
	if at.Spread != "" {
		switch {
		case p.Spread == at.Spread, p.End != "" && p.End != "middle" && (p.Side != "" || at.Spread == "ends"):
			return there
		case p.End == "" && p.Spread == "":
			return couldBe(x)
		}
		return 0
	}
	if !same(p.End, at.End) || !same(p.Side, at.Side) {
		return 0
	}
	if (at.End == "" || p.End != "") && (at.Side == "" || p.Side != "") {
		return there
	}
	n := couldBe(x)
	if at.End != "" && p.End != "" || at.Side != "" && p.Side != "" {
		n += 10
	}
	return n
}

// couldBe ranks those whose place was not told: at the corners or ends, then
// direct, which are taken one per corner, then the rest.
func couldBe(x *load.TieDown) int {
	switch {
	case x.Place.Spread != "":
		return 3
	case x.Route == load.Direct:
		return 2
	}
	return 1
}

// pickAll is for "the straps", "both", "they".
func (t *turn) pickAll(all []*load.TieDown, ref *parser.Ref, known bool, p picked) (picked, string) {
	n := ref.Count
	if n == 0 && !known && p.at.Spread == "" {
		n = min(2, len(all)) // "the rear straps" of some whose place was not told
		if p.at.End != "" && p.at.Side != "" {
			n = 1 // "right rear is 1/2": a corner
		}
	}
	switch {
	case n == 0 || n == len(all):
		p.ties = all
		return p, ""
	case n > len(all):
		return p, noSuch
	}
	if spoken := t.among(all, t.spoken); len(spoken) == n {
		p.ties = spoken
		return p, ""
	}
	return choose(all, n, harms, p)
}

// choose takes n of those that fit. Where they are not alike, harm is done to
// the strongest and it is asked which it was; anything else is asked first.
func choose(all []*load.TieDown, n int, does sense, p picked) (picked, string) {
	if does == harms {
		// Told again of one set aside already, it may be one more.
		if good := slices.DeleteFunc(slices.Clone(all), wrong); len(good) >= n {
			all = good
		}
	}
	if len(all) < n {
		return p, noSuch
	}
	if len(all) == n {
		p.ties = all
		return p, ""
	}
	if !alike(all) {
		p.open = ids(all)
		if does != harms {
			return p, whichOne
		}
	}
	p.ties = strongest(all)[:n]
	return p, ""
}

// wrong says whether x is told loose, hurt or off.
func wrong(x *load.TieDown) bool {
	return x.State.Tight == load.No || len(x.State.Damage) > 0 || x.State.Gone != "" || x.Tensioner.Has == load.No
}

// strongest orders tie-downs by what they count for, the most first; those that
// count alike as told.
func strongest(all []*load.TieDown) []*load.TieDown {
	list := slices.Clone(all)
	slices.SortStableFunc(list, func(a, b *load.TieDown) int {
		x, y := rules.Credit(a, tables.Federal()).Low, rules.Credit(b, tables.Federal()).Low
		switch {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	return list
}

// lastOf is the n told last, those of the last clause where n was not told.
func lastOf(all []*load.TieDown, n int) []*load.TieDown {
	list := slices.Clone(all)
	slices.SortStableFunc(list, func(a, b *load.TieDown) int { return a.ID - b.ID })
	if n == 0 {
		for n < len(list) && list[len(list)-1-n].Line == list[len(list)-1].Line {
			n++
		}
	}
	return list[max(0, len(list)-n):]
}

// among keeps those of some IDs.
func (t *turn) among(all []*load.TieDown, some []int) []*load.TieDown {
	var list []*load.TieDown
	for _, x := range all {
		if slices.Contains(some, x.ID) {
			list = append(list, x)
		}
	}
	return list
}

func ids(ties []*load.TieDown) []int {
	list := make([]int, len(ties))
	for i, x := range ties {
		list[i] = x.ID
	}
	return list
}

// oneLine says whether tie-downs were told in one clause.
func oneLine(all []*load.TieDown) bool {
	return !slices.ContainsFunc(all, func(x *load.TieDown) bool { return x.Line != all[0].Line })
}

// alike says whether it is all one which of some tie-downs is meant.
func alike(all []*load.TieDown) bool {
	return !slices.ContainsFunc(all, func(x *load.TieDown) bool { return !twin(x, all[0]) })
}

func twin(a, b *load.TieDown) bool {
	return a.Material == b.Material && a.Size == b.Size && a.Make == b.Make && a.Grade == b.Grade && a.Mark == b.Mark &&
		a.Tensioner == b.Tensioner && a.Hook == b.Hook && a.HookStamp == b.HookStamp && a.Anchor == b.Anchor && a.Route == b.Route && a.Place == b.Place &&
		a.State.Tight == b.State.Tight && a.State.Gone == b.State.Gone && a.State.NoGuard == b.State.NoGuard && a.State.NoTag == b.State.NoTag &&
		len(a.State.Damage) == len(b.State.Damage) && a.Tag == b.Tag
}
