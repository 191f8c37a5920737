package parser

import (
	"halfweight/rules/load"
)

// This file folds the measure told of a hurt into the word for the hurt, before
// anything else is read: "1/4 cut and 1/8 on the other edge", "8.1 mm left",
// "12 broken wires in a foot", "opened 5 %". What is left is one word of damage
// that holds its measure, so that questions and statements read it alike. A
// measure told with a doubt is none.

// reach is how far a measure looks for the word that it goes with, in tokens.
const reach = 6

// hurtFold is one hurt and its measure while they are read: the head is the
// token that will stand for both, eaten are the others.
type hurtFold struct {
	head  int
	eaten []int
	kind  string
	d     load.Damage
}

// foldHurts folds every measured hurt of the message.
func (r *reader) foldHurts() {
	gone := map[int]bool{}
	for i := 0; i < len(r.sig); i++ {
		r.hookOpened(i)
		if r.saysBad(i) {
			t := r.t(i)
			t.kind, t.owner, t.of = kTaken, OwnFact, r.sig[i-1]+1
			gone[i] = true
			continue
		}
		f, end, ok := r.hurtAt(i)
		if !ok {
			continue
		}
		r.fold(&f)
		for _, k := range f.eaten {
			gone[k] = k != f.head
		}
		i = max(end, f.head+1) - 1
	}
	if len(gone) == 0 {
		r.bareMeasures()
		return
	}
	kept := make([]int, 0, len(r.sig))
	for i, x := range r.sig {
		if !gone[i] {
			kept = append(kept, x)
		}
	}
	r.sig = kept
}

// fold makes the head of f stand for all of it.
func (r *reader) fold(f *hurtFold) {
	head := r.t(f.head)
	head.kind, head.word = kDamage, f.kind
	d := f.d
	d.Kind = f.kind
	head.hurt = &d
	for _, k := range f.eaten {
		if k != f.head {
			t := r.t(k)
			t.kind, t.owner, t.of = kTaken, OwnFact, r.sig[f.head]+1
		}
	}
}

// hurtAt reads the measured hurt that begins at token i; end is the token after
// it.
func (r *reader) hurtAt(i int) (f hurtFold, end int, ok bool) {
	if r.t(i).owner != "" {
		return f, i, false
	}
	for _, read := range []func(int) (hurtFold, int, bool){
		r.wiresAt, r.gradedLink, r.gashes, r.openedAt, r.throatAt, r.lostAt, r.waysAt, r.leftAt,
	} {
		if f, end, ok = read(i); ok {
			return f, end, true
		}
	}
	return f, i, false
}

// measureOfHurt is a length told of a hurt: a size, a decimal of an inch, whole inches and
// a fraction.
func (r *reader) measureOfHurt(i int) (l load.Length, end int, ok bool) {
	switch t := r.t2(i); t.kind {
	case kSize:
		return t.size, i + 1, t.size > 0
	case kNum:
		if n := r.t2(i + 1); n.kind == kSize && n.size < load.Inch && t.num%load.One == 0 && t.num < 5*load.One && r.nextTo(i) {
			return load.Length(t.num/load.One)*load.Inch + n.size, i + 2, true
		}
		if t.num < load.One {
			l, ok = load.Times(t.num, load.Inch)
			return l, i + 1, ok && l > 0
		}
	}
	return 0, i, false
}

// t2 is the i-th significant token, an empty one beyond the ends.
func (r *reader) t2(i int) tok {
	if i < 0 || i >= len(r.sig) {
		return tok{}
	}
	return *r.t(i)
}

// nextTo says whether nothing but a blank stands between tokens i and i+1.
func (r *reader) nextTo(i int) bool {
	return r.sig[i+1] == r.sig[i]+1 && r.t(i+1).at-r.t(i).end <= 1
}

// share is a share told at i: "20 %", "a fifth".
func (r *reader) share(i int) (n load.Micro, end int, ok bool) {
	switch t := r.t2(i); t.kind {
	case kShare:
		var scale load.Micro = load.One
		for k, c := range t.word {
			if k > 1 {
				scale /= 10
				n += load.Micro(c-'0') * scale
			}
		}
		return n, i + 1, n > 0
	case kNum:
		if t.num == load.One && r.kindAt(i+1) == kShare {
			return r.share(i + 1) // "one fifth"
		}
		if r.kindAt(i+1) == kPercent && t.num > 0 && t.num <= 100*load.One {
			return t.num / 100, i + 2, true
		}
	}
	return 0, i, false
}

// unsureAt says whether token i makes a figure beside it one that is not sure.
func (r *reader) unsureAt(i int) bool { return r.kindAt(i).in(kHedge, kDoubt) }

// eat takes tokens a..b into the fold.
func (f *hurtFold) eat(a, b int) {
	for ; a < b; a++ {
		f.eaten = append(f.eaten, a)
	}
}
