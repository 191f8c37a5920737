package parser

import (
	"slices"
	"strings"

	"halfweight/rules/load"
)

// This file reads cuts, burns and holes of a strap with their sizes: each is folded
// into one word for them all (foldHurts).

// onlyMeasure is the kind of a hurt of which nothing but its measure was told.
const onlyMeasure = "measure"

// described says whether the length before token i is a chain's or a strap's own
// size: the words for those follow it.
func (r *reader) described(i int) bool {
	return r.kindAt(i).in(kMat, kGrade, kGradeWord, kTimes, kTens, kLink) || r.kindAt(i) == kRoute && !r.otherEdge(i)
}

// otherEdge says whether "other side" at i is of a strap: so it is where a cut
// is told there.
func (r *reader) otherEdge(i int) bool {
	t := r.t2(i)
	if t.kind != kRoute || t.word != "over" {
		return false
	}
	return slices.Contains([]string{"other", "opposite", "far"}, t.raw)
}

// gashes reads one or more cuts, burns, holes of a strap with their sizes, from
// the first of them at i.
func (r *reader) gashes(i int) (f hurtFold, end int, ok bool) {
	f, end, ok = r.gashAt(i)
	if !ok {
		return f, i, false
	}
	for {
		k := r.past(end, kSep, kAnd, kWith, kExtra)
		if k == end && !r.kindAt(end-1).in(kEdge, kSide) {
			break
		}
		loose := k
		k = r.past(k, kDet, kEdge) // "and an edge cut of 1/8"
		next, after, more := r.gashAt(k)
		if !more {
			next, after, more = r.bareGash(k, k > end && (r.kindAt(end) != kSep || r.kindAt(loose-1) == kAnd))
		}
		if !more {
			break
		}
		f.eat(end, after)
		f.d.Size = append(f.d.Size, next.d.Size...)
		f.d.Share = min(load.One, f.d.Share+next.d.Share)
		end = after
	}
	return f, end, true
}

// bareGash reads one more size of the same hurt: "and 1/8 on the other edge".
// Where only a comma joins it, its place has to be told.
func (r *reader) bareGash(i int, joined bool) (f hurtFold, end int, ok bool) {
	l, end, ok := r.measureOfHurt(i)
	if !ok || r.described(end) || r.unsureAt(end) || l >= 4*load.Inch {
		return f, i, false
	}
	k, both := r.edges(end)
	if k == end && !joined {
		return f, i, false
	}
	f.d.Size = []load.Length{l}
	if both {
		f.d.Size = append(f.d.Size, l)
	}
	return f, k, true
}

// gashAt reads one cut with its size: "a 3/8 cut", "cut 1/4 each side", "two 1/4
// nicks", "cut half way across".
func (r *reader) gashAt(i int) (f hurtFold, end int, ok bool) {
	start, n := i, 1
	if t := r.t2(i); (t.kind == kNum || t.kind == kCount) && t.num >= load.One && t.num <= 4*load.One && t.num%load.One == 0 && r.kindAt(i-1).in(kMat, kWith, kNone) {
		l, after, whole := r.measureOfHurt(i)
		if h := r.t2(after); !whole || h.kind == kDamage && l > load.Inch && h.raw != "" && h.raw[len(h.raw)-1] == 's' {
			start, n = i+1, int(t.num/load.One) // "two 1/4 nicks", "2 cuts 1/4 each"
		}
	}
	if r.unsureAt(i - 1) {
		return f, i, false
	}
	var sizes []load.Length
	k := start
	for l, after, more := r.measureOfHurt(k); more; l, after, more = r.measureOfHurt(k) {
		sizes = append(sizes, l)
		if k = after; r.kindAt(k) != kAnd {
			break
		}
		if _, _, again := r.measureOfHurt(k + 1); again {
			k++ // "1/4 and 1/8 cuts"
		}
	}
	k = r.past(k, kLong, kWide)
	share, after, shared := r.share(k)
	if shared {
		k = after
	}
	h := r.t2(k)
	if h.kind != kDamage || !gash(h.word) || h.hurt != nil || h.owner != "" {
		return f, i, false
	}
	if len(sizes) == 1 && start == i && (r.kindAt(i-1).in(kNum, kCount) || r.kindAt(i-1) == kGrade) {
		return f, i, false // "one 3/8 cut": the chain's own size
	}
	if len(sizes) > 1 && slices.ContainsFunc(sizes, func(l load.Length) bool { return l >= load.Inch }) {
		return f, i, false
	}
	f.head, f.kind, end = k, h.word, k+1
	for r.kindAt(end) == kDamage && gash(r.t(end).word) && r.t(end).hurt == nil {
		end++ // "burn hole"
	}
	if len(sizes) == 0 && !shared {
		k, _ = r.edges(end)
		k = r.past(k, kOf, kBe, kDet)
		if l, after, more := r.measureOfHurt(k); more && !r.described(after) && !r.unsureAt(after) {
			sizes, end = []load.Length{l}, after
		} else if s, after, more := r.share(k); more {
			share, shared, end = s, true, after
		}
	}
	if len(sizes) == 0 && !shared {
		return f, i, false
	}
	var both bool
	end, both = r.edges(end)
	if both && len(sizes) == 1 && n == 1 {
		n = 2
	}
	for ; n > 0; n-- {
		f.d.Size = append(f.d.Size, sizes...)
	}
	if shared {
		f.d.Share = share
	}
	f.eat(i, end)
	return f, end, true
}

// edges passes over where on a strap a cut is; both says that it is told of each
// edge.
func (r *reader) edges(i int) (end int, both bool) {
	end = i
	for k := i; k < i+reach; k++ {
		switch t := r.t2(k); {
		case t.kind == kEdge, r.otherEdge(k):
			end = k + 1
		case t.kind == kNum && t.num == load.One && r.kindAt(k+1) == kEdge:
		case t.kind == kEach && t.raw != "per", t.kind == kSpread && t.word == "ends":
			end, both = k+1, true
		case t.kind == kLong, t.kind == kWide, t.kind == kRoute && t.raw == "across":
			end = k + 1
		case t.kind == kEnd && t.word == "middle" && r.kindAt(k-1).in(kOn, kDet):
			end = k + 1
		case t.kind == kSide && r.kindAt(k+1) == kEdge:
		case t.kind == kSide && strings.HasSuffix(r.sent(k), "side") && !r.kindAt(k+1).in(kMat, kEnd, kCorner):
			end = k + 1 // "1/2 left side 1/4 right side"
		case t.kind.in(kOn, kDet, kOf, kFrom):
		default:
			return end, both
		}
	}
	return end, both
}

// bareMeasures reads a message of nothing but measures, as the answer to how bad a
// cut is: "1/4 and 1/8", "1/4 each side", "half way across".
func (r *reader) bareMeasures() {
	var f hurtFold
	n := 0
	for k := 0; k < len(r.sig); {
		if l, after, ok := r.measureOfHurt(k); ok && l < 4*load.Inch {
			after, both := r.edges(after)
			f.d.Size = append(f.d.Size, l)
			if n++; both {
				f.d.Size = append(f.d.Size, l)
				n++
			}
			k = after
			continue
		}
		if s, after, ok := r.share(k); ok && r.kindAt(k) == kShare && f.d.Share == 0 {
			f.d.Share = s
			k, n = after, n+2
			continue
		}
		if !r.kindAt(k).in(kAnd, kSep, kStop) {
			return
		}
		k++
	}
	if n < 2 {
		return
	}
	f.kind = onlyMeasure
	if ways := slices.ContainsFunc(r.sig, func(x int) bool { return r.toks[x].kind == kEdge && r.toks[x].word == "way" }); ways && len(f.d.Size) > 0 {
		f.d.Left, f.d.Size = slices.Min(f.d.Size), nil
	}
	f.eat(0, len(r.sig))
	r.fold(&f)
	r.sig = r.sig[:1]
}
