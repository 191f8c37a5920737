package parser

import (
	"halfweight/rules/load"
)

// fixed reads a figure put right within the message: "3, no wait 4", "sorry
// 12000". The last figure stands.
func (r *reader) fixed(a, b int) {
	i := b - 1
	t := r.t(i)
	switch t.kind {
	case kNum, kCount:
		c := r.cl
		if c == nil || !c.told {
			if l := r.lastClause(); l != nil && l.told && (c == nil || !c.named) {
				c = l
			}
		}
		if c != nil && c.told && t.num%load.One == 0 && t.num <= maxCount*load.One {
			c.count = int(t.num / load.One)
			r.ownAll(a, b, OwnFact)
			return
		}
	case kBig, kMass:
		if r.cur != nil && r.cur.Weight.Known() {
			r.cur.Weight = t.weight
			r.ownAll(a, b, OwnFact)
			return
		}
		if r.weight != nil {
			*r.weight = t.weight
			r.ownAll(a, b, OwnFact)
			return
		}
	}
	if !r.begun() {
		return // an answer or a correction of what was told before
	}
	if t.kind.in(kNum, kCount) {
		if k := r.kindAt(a - 1); k.in(kNum, kCount) && r.t(a-1).owner == "" {
			r.own(a-1, OwnPhrase) // "3, no wait 4": the last figure stands
		} else if k := r.kindAt(a - 2); r.kindAt(a-1) == kSep && k.in(kNum, kCount) && r.t(a-2).owner == "" {
			r.own(a-2, OwnPhrase)
		}
		r.ownAll(a, b-1, OwnPhrase)
		r.words(b-1, b)
		return
	}
	r.ownAll(a, b-1, OwnPhrase)
	r.weighs(i, t.weight, false, false)
}

// putRight reads "3/8, i mean 5/16", the correction being at i: the last one
// told stands.
func (r *reader) putRight(i int) bool {
	k := r.past(i+1, kIt, kBe, kCorrect, kThem)
	c := r.lastOrOpen()
	if c == nil || k >= len(r.sig) {
		return false
	}
	switch t := r.t(k); t.kind {
	case kSize:
		c.tie.Size, c.tie.SizeWord, c.named = t.size, t.word, true
	case kGrade:
		c.tie.Grade, c.named = readGrade(t.word), true
	case kRoute:
		if t.word == "?" {
			return false
		}
		c.tie.Route, c.routes = load.Route(t.word), 1
	default:
		return false
	}
	r.ownAll(i, k, OwnPhrase)
	r.own(k, OwnFact)
	r.skip = k + 1
	return true
}
