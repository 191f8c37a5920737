package parser

import "halfweight/rules/load"

// stampAt reads the size and grade that a fitting bears, at the first of them,
// token i: "5/16 g70 hooks", "with grade 43 binders", "hooks are 3/8", "binders
// stamped grade 70". end is past them; ok is false where they are a chain's.
func (r *reader) stampAt(i int) (end int, ok bool) {
	var s load.Stamp
	end = i
	for ; r.kindAt(end).in(kSize, kGrade, kGradeWord); end++ {
		switch t := r.t(end); t.kind {
		case kSize:
			if s.Size != 0 {
				return i, false
			}
			s.Size = t.size
		case kGrade:
			s.Grade = t.word
		}
	}
	a, fitting := r.fittingBefore(i)
	if a < 0 {
		if !r.kindAt(end).in(kTens, kHook) {
			return i, false
		}
		a, fitting = i, r.t(end)
		if r.kindAt(end) == kHook {
			end++ // a binder says more than that it is there
		}
	}
	r.stamp(a, end, fitting.kind, s)
	return end, true
}

// stampedGrade reads a grade told behind a fitting, which is that part's and never
// the chain's: "hooks are grade 43", "binder says 70".
func (r *reader) stampedGrade(a, b int) {
	var s load.Stamp
	for i := a; i < b; i++ {
		switch t := r.t(i); t.kind {
		case kGrade:
			s.Grade = t.word
		case kNum:
			s.Grade = gradeValue(t.num)
		}
	}
	if s.Grade == "" {
		r.ownAll(a, b, OwnPhrase)
		return
	}
	r.stamp(a, b, r.t(a).kind, s)
}

// stamp lays what a fitting told in tokens a..b bears over its tie-downs.
func (r *reader) stamp(a, b int, fitting kind, s load.Stamp) {
	r.lastFitting = fitting
	if fitting == kRing {
		r.ownAll(a, b, OwnPhrase) // a ring's grade rates no ring
		return
	}
	set := func(t *load.TieDown) {
		switch fitting {
		case kHook:
			lessStamp(&t.HookStamp, s)
		case kTens:
			lessStamp(&t.Tensioner.Stamp, s)
		}
	}
	var told load.TieDown
	set(&told)
	r.fit(a, b, set, Edit{Set: told}, false)
}

// lessStamp lays a stamp over what was told before: of two sizes the lesser.
func lessStamp(to *load.Stamp, s load.Stamp) {
	if s.Size != 0 && (to.Size == 0 || s.Size < to.Size) {
		to.Size = s.Size
	}
	if s.Grade != "" {
		to.Grade = s.Grade
	}
}

// fittingBefore is the hook or binder that what stands at i is said of: "hooks
// are", "the binder is stamped", "hooks say". It is at token a, -1 for none.
func (r *reader) fittingBefore(i int) (a int, fitting *tok) {
	said := false
	for a = i - 1; a >= 0 && a > i-6; a-- {
		switch t := r.t(a); t.kind {
		case kBe, kRated:
			said = true
		case kDet, kThem, kAll, kOn:
		case kTens, kHook:
			if said || r.bareStamp(a, i) {
				return a, t
			}
			return -1, nil
		default:
			return -1, nil
		}
	}
	return -1, nil
}

// bareStamp says whether what stands at i right behind the fitting at a, with
// nothing more, is its own: "..., clevis hooks 1/4".
func (r *reader) bareStamp(a, i int) bool {
	end := r.past(i, kSize, kGrade, kGradeWord)
	c := r.lastOrOpen()
	return a == i-1 && r.kindAt(end).in(kNone, kSep, kLine, kStop) && c != nil && c.tie.Size != 0
}
