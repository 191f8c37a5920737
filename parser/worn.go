package parser

import (
	"strings"

	"halfweight/rules/load"
)

// This file reads what is worn or opened: what is left of a link or a rope, what it
// has lost, how far the throat of a hook is wider than new.

// hookOpened settles "the hook opened up": of a binder it tells that it is loose,
// of a hook that its throat is wider, wherever on the load the hook is: "the hook at
// the front right has opened up". Tightening mends the one and not the other.
func (r *reader) hookOpened(i int) {
	t := r.t(i)
	if k := r.back(i-1, kBe, kWith, kOn, kDet, kEnd, kSide, kCorner, kOf, kIt, kMat, kHedge); t.kind == kLoose && t.raw == "opened" && r.kindAt(k) == kHook {
		t.kind, t.word = kDamage, "opened"
	}
}

// saysBad says whether token i only says how bad the hurt before it is: "frayed
// bad".
func (r *reader) saysBad(i int) bool {
	return r.kindAt(i) == kDamage && r.t(i).raw == "bad" && r.kindAt(i-1) == kDamage && r.sig[i] == r.sig[i-1]+1
}

// onLink passes over "on one link" behind a measure.
func (r *reader) onLink(i int) int {
	k := i
	if r.kindAt(k) != kOn {
		return i
	}
	if k++; r.kindAt(k) == kDet || r.whole(k) == 1 {
		k++
	}
	if r.kindAt(k) != kLink {
		return i
	}
	return k + 1
}

// gradedLink reads "a grade 43 repair link": the grade is that link's, not the
// chain's.
func (r *reader) gradedLink(i int) (f hurtFold, end int, ok bool) {
	h := r.t2(i + 1)
	if r.kindAt(i) != kGrade || h.kind != kDamage || h.word != "repair link" || h.hurt != nil {
		return f, i, false
	}
	f.head, f.kind = i+1, h.word
	f.eat(i, i+2)
	return f, i + 2, true
}

// openedAt reads how far a hook has opened, or by how much a part is worn, told as
// a share or as what is lost: "opened 5 %", "worn by 1/16", "20 percent worn".
func (r *reader) openedAt(i int) (f hurtFold, end int, ok bool) {
	if s, k, shared := r.share(i); shared {
		if h := r.t2(k); h.kind == kDamage && shareable(h.word) && h.hurt == nil && !r.unsureAt(i-1) {
			f.head, f.kind, end = k, h.word, k+1
			f.d.Share = s
			f.eat(i, end)
			return f, end, true
		}
	}
	h := r.t2(i)
	if h.kind != kDamage || !shareable(h.word) || h.hurt != nil {
		return f, i, false
	}
	f.head, f.kind = i, h.word
	k := i + 1
	by := false
	if r.kindAt(k) == kOn && r.t(k).raw == "by" || r.kindAt(k) == kDet {
		by = r.kindAt(k) == kOn
		k++
	}
	if s, after, shared := r.share(k); shared && !r.unsureAt(after) {
		f.d.Share = s
		f.eat(i, after)
		return f, after, true
	}
	if r.kindAt(k) == kFrom {
		was, after, a := r.measureOfHurt(k + 1)
		now, last, b := r.measureOfHurt(after + 1)
		if a && b && r.kindAt(after) == kTo {
			if h.word == "opened" {
				f.d.New, f.d.Lost = was, max(now-was, 0)
				f.eat(i, last)
				return f, last, f.d.Lost > 0
			}
			f.d.Left = now
			f.eaten = []int{k, after}
			f.eat(after+1, last)
			return f, last, true
		}
	}
	l, after, measured := r.measureOfHurt(k)
	const little = load.Inch / 8 // no chain is so thin: it is what is lost
	if !measured || r.described(after) || r.unsureAt(after) || h.word != "opened" && !by && (h.word != "worn" || l > little || r.kindAt(i+1) == kNum) {
		return f, i, false
	}
	f.d.Lost = l
	f.eat(i, after)
	return f, after, true
}

// shareable says whether a hurt of that word is told by how much of a size is
// lost.
func shareable(word string) bool {
	switch word {
	case "worn", "opened", "stretched":
		return true
	}
	return false
}

// throatAt reads a hook's throat as it is and as it was: "throat 1 1/8, new 1".
func (r *reader) throatAt(i int) (f hurtFold, end int, ok bool) {
	h := r.t2(i)
	if h.kind != kHook {
		return f, i, false
	}
	k := r.past(i+1, kBe, kTail, kOn, kDet, kRated)
	now, after, a := r.length(k)
	if !a {
		return f, i, false
	}
	m := r.past(after, kSep, kAnd, kBe, kDoubt, kFrom, kDet, kOn, kIt)
	if t := r.t2(m); m == after && !(m < len(r.sig) && r.filler(m, "new")) || t.kind == kNone {
		return f, i, false
	}
	was, last, b := r.length(m)
	if !b || was >= now || now > 6*load.Inch {
		return f, i, false
	}
	f.head, f.kind = k, "opened"
	f.d.Part, f.d.New, f.d.Lost = "hook", was, now-was
	f.eat(k, last)
	return f, last, true
}

// length is measureOfHurt, or whole inches with no unit.
func (r *reader) length(i int) (l load.Length, end int, ok bool) {
	if l, end, ok = r.measureOfHurt(i); ok {
		return l, end, ok
	}
	if t := r.t2(i); t.kind == kNum && t.num >= load.One && t.num < 6*load.One {
		l, ok = load.Times(t.num, load.Inch)
		return l, i + 1, ok
	}
	return 0, i, false
}

// filler says whether a filler word stands right before token i.
func (r *reader) filler(i int, word string) bool {
	k := r.sig[i] - 1
	return k >= 0 && r.toks[k].kind == kFiller && r.toks[k].raw == word
}

// lostAt reads what a link has lost: "lost 1/16", "1/16 worn off".
func (r *reader) lostAt(i int) (f hurtFold, end int, ok bool) {
	if s, k, shared := r.share(i); shared && r.kindAt(k) == kGone && r.t(k).word == "lost" && r.linkNear(i) && !r.unsureAt(i-1) {
		f.head, f.kind, f.d.Share = k, "worn", s // "20 % gone"
		f.eat(i, k+1)
		return f, k + 1, true
	}
	if t := r.t2(i); t.kind == kGone && t.word == "lost" && r.linkNear(i) {
		if s, k, shared := r.share(i + 1); shared {
			f.d.Share, end = s, k
		} else if l, k, measured := r.measureOfHurt(i + 1); measured && !r.described(k) {
			f.d.Lost, end = l, k
		} else {
			return f, i, false
		}
		f.head, f.kind = i, "worn"
		if r.kindAt(end).in(kTo, kOf) && r.kindAt(end+1) == kDamage {
			end += 2 // "to wear"
		}
		if k := r.onLink(end); k > end {
			end, f.d.Part = k, string(load.Chain)
		}
		f.eat(i, end)
		return f, end, true
	}
	l, k, measured := r.measureOfHurt(i)
	k = r.past(k, kOf)
	if h := r.t2(k); measured && l <= load.Inch/8 && h.kind == kDamage && h.word == "worn" && h.hurt == nil && !r.unsureAt(i-1) {
		f.head, f.kind = k, "worn"
		f.d.Lost = l
		f.eat(i, k+1)
		return f, k + 1, true
	}
	return f, i, false
}

// linkNear says whether a link, or a chain, is spoken of near token i.
func (r *reader) linkNear(i int) bool {
	for k := i - reach; k <= i+reach; k++ {
		if t := r.t2(k); t.kind == kLink || t.kind == kMat && materials[t.word].material == load.Chain {
			return true
		}
	}
	return false
}

// wearsNear says whether what can wear thin is spoken of near token i.
func (r *reader) wearsNear(i int) bool {
	for k := i - reach; k <= i+reach; k++ {
		switch t := r.t2(k); {
		case t.kind == kLink, t.kind == kTail && t.raw == "thinnest", t.kind == kMat && materials[t.word].material != load.Webbing, t.kind == kDamage && t.word == "worn":
			return true
		}
	}
	return false
}

// leftAt reads what is left of a link or rope: "down to .31", "worn to 8.1 mm",
// "8.1 mm left", "11/32 at the thinnest".
func (r *reader) leftAt(i int) (f hurtFold, end int, ok bool) {
	t := r.t2(i)
	switch {
	case t.kind == kDamage && t.word == "worn" && t.hurt == nil && (r.kindAt(i+1).in(kTo, kTail) && r.t(i+1).raw != "left"):
		l, after, measured := r.measureOfHurt(i + 2)
		if !measured || r.unsureAt(after) || r.described(after) && r.kindAt(after) != kTens {
			return f, i, false
		}
		f.head, f.d.Left, end = i, l, after
	case r.kindAt(i-1) == kLink && r.noSizeSold(i) && r.kindAt(i+1) != kTail:
		f.head = i // "link 8.5 mm", "link .320"
		f.d.Left, end, _ = r.measureOfHurt(i)
		if r.kindAt(end) == kSide && r.t(end).raw == "left" && r.t(end-1).kind == kNum {
			end++ // "link .33 left"
		}
	case t.kind == kBe && r.kindAt(i-1) == kLink && r.kindAt(i+1) == kNum:
		l, after, measured := r.measureOfHurt(i + 1) // "link is .34"
		if !measured || r.unsureAt(after) || l >= load.Inch {
			return f, i, false
		}
		f.head, f.d.Left, end = i, l, after
	case t.kind == kTail && r.wearsNear(i):
		l, after, measured := r.measureOfHurt(i + 1)
		if !measured || r.unsureAt(after) || t.raw != "down" && !r.ofThinLink(i, i+1) {
			return f, i, false
		}
		f.head, f.d.Left, end = i, l, after
	default:
		l, after, measured := r.measureOfHurt(i)
		tail := r.t2(after)
		if !measured || r.unsureAt(i-1) || !r.wearsNear(i) || !r.ofThinLink(i, i) {
			return f, i, false
		}
		if tail.kind != kTail && !(tail.kind == kSide && tail.raw == "left" && r.kindAt(after+1).in(kOn, kOf, kNone, kSep, kStop, kAsk, kLine)) {
			return f, i, false
		}
		if tail.kind == kTail {
			if _, _, behind := r.measureOfHurt(after + 1); behind {
				return f, i, false // "3/8 measures .33": the measure is behind
			}
		}
		f.head, f.d.Left, end = after, l, after+1
	}
	f.kind, f.d.Part = "worn", ""
	if r.kindAt(end) == kTail && r.t(end).raw != "down" {
		end++ // "down to .31 at the thinnest"
	}
	f.eat(i, end)
	end = r.otherWay(&f, end)
	return f, end, true
}

// ofThinLink says whether the length at k is told of what is worn thin near token
// i, and is not the size of chain: "3/8 thick chain", "chains 3/8 left".
func (r *reader) ofThinLink(i, k int) bool {
	if r.noSizeSold(k) {
		return true
	}
	for n := i - reach; n <= i+reach; n++ {
		if t := r.t2(n); t.kind == kLink || t.kind == kTail && t.raw == "thinnest" || t.kind == kDamage && t.word == "worn" {
			return true
		}
	}
	return false
}

// noSizeSold says whether the length at i is none that chain is sold by: a decimal
// of an inch, or a part of a millimetre.
func (r *reader) noSizeSold(i int) bool {
	t := r.t2(i)
	_, _, ok := r.measureOfHurt(i)
	return ok && (t.kind == kNum && t.num < load.One || t.kind == kSize && strings.HasSuffix(t.word, "mm") && t.size%load.Millimetre != 0)
}

// otherWay reads the measure the other way: of two the thinner one is the link's.
func (r *reader) otherWay(f *hurtFold, i int) (end int) {
	k := r.past(i, kEdge, kSep, kAnd, kDet)
	if k == i || r.kindAt(i) != kEdge && r.kindAt(k-1) != kAnd {
		if k > i && r.kindAt(i) == kEdge {
			f.eat(i, k)
			return k
		}
		return i
	}
	l, after, ok := r.measureOfHurt(k)
	if !ok || r.described(after) {
		return i
	}
	f.d.Left = min(f.d.Left, l)
	after = r.past(after, kEdge)
	f.eat(i, after)
	return after
}

// waysAt reads a link measured both ways: ".33 one way .30 the other".
func (r *reader) waysAt(i int) (f hurtFold, end int, ok bool) {
	l, k, ok := r.measureOfHurt(i)
	if ok && r.kindAt(k) == kNum && r.t(k).num == load.One {
		k++ // "one way"
	}
	if !ok || r.kindAt(k) != kEdge || r.t(k).word != "way" || !r.linkNear(i) {
		return f, i, false
	}
	f.head, f.kind, f.d.Left = k, "worn", l
	f.eat(i, k+1)
	end = k + 1
	m := r.past(end, kSep, kAnd, kDet)
	if l, after, again := r.measureOfHurt(m); again && !r.described(after) {
		f.d.Left = min(f.d.Left, l)
		after = r.past(after, kEdge)
		if r.t2(after).raw == "other" || r.kindAt(after) == kDet && r.t2(after+1).raw == "other" {
			after = r.past(after, kDet) + 1
		}
		f.eat(end, after)
		end = after
	}
	return f, end, true
}
