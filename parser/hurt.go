package parser

import (
	"slices"
	"strings"

	"halfweight/rules/load"
)

// This file folds the measure told of a hurt into the word for the hurt, before
// anything else is read: "1/4 cut and 1/8 on the other edge", "8.1 mm left",
// "12 broken wires in a foot", "opened 5 %". What is left is one word of damage
// that holds its measure, so that questions and statements read it alike. A
// measure told with a doubt is none.

// onlyMeasure is the kind of a hurt of which nothing but its measure was told.
const onlyMeasure = "measure"

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

// hookOpened settles "the hook opened up": of a binder it tells that it is loose,
// of a hook that its throat is wider.
func (r *reader) hookOpened(i int) {
	t := r.t(i)
	if k := r.back(i-1, kBe); t.kind == kLoose && t.raw == "opened" && r.kindAt(k) == kHook {
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

// wiresAt reads broken wires counted: "12 broken wires in a foot", "8 broken wires
// in 3 inches, 2 in one strand".
func (r *reader) wiresAt(i int) (f hurtFold, end int, ok bool) {
	n, k := r.whole(i), i
	if n > 0 && !r.unsureAt(i-1) {
		k++
	}
	h := r.t2(k)
	if n > 0 && h.kind == kDamage && h.word == "broken" && h.hurt == nil && r.kindAt(k+1) == kSpot {
		h.word = "wires" // "10 broken in a lay"
	}
	if h.kind != kDamage || h.word != "wires" || h.hurt != nil {
		return f, i, false
	}
	if n == 0 { // "broken wires, 12 in 3 inches"
		if n = r.whole(r.past(k+1, kSep)); n == 0 || !r.kindAt(r.past(k+1, kSep)+1).in(kOn, kSpot) {
			return f, i, false
		}
		k = r.past(k+1, kSep)
		f.head, f.kind = i, h.word
	} else {
		f.head, f.kind = k, h.word
	}
	end = r.wiresWhere(&f, n, k+1)
	for m := r.past(end, kSep, kAnd); m > end && r.whole(m) > 0; m = r.past(end, kSep, kAnd) {
		after := m + 1
		if r.kindAt(after) == kOf && r.kindAt(after+1).in(kThem, kAll, kIt) {
			after += 2 // "2 of them in one strand"
		} else if r.kindAt(after) == kThem {
			after++
		}
		if d := r.t2(after); d.kind == kDamage && d.word == "wires" {
			after++
		}
		if !r.kindAt(r.past(after, kOn, kDet)).in(kSpot, kNum) {
			break
		}
		end = r.wiresWhere(&f, r.whole(m), after)
	}
	f.eat(i, end)
	return f, end, true
}

// whole is the whole number told at i, 0 where there is none.
func (r *reader) whole(i int) int {
	if t := r.t2(i); (t.kind == kNum || t.kind == kCount) && t.num >= load.One && t.num%load.One == 0 && t.num <= maxCount*load.One {
		return int(t.num / load.One)
	}
	return 0
}

// wiresWhere reads where n wires were counted, from token i on.
func (r *reader) wiresWhere(f *hurtFold, n, i int) (end int) {
	end = i
	told := &f.d.Wires
	defer func() { *told = n }()
	for k := i; k < i+reach; k++ {
		t := r.t2(k)
		switch {
		case t.kind == kSpot && t.word == "strand":
			told = &f.d.Strand
		case t.kind == kSpot && t.word == "fitting":
			told = &f.d.Fitting
		case t.kind == kSpot:
			f.d.Lay = true
		case t.kind.in(kSize, kLength):
			f.d.Over = t.size
		case t.kind == kUnit && t.word == "ft" && r.kindAt(k-1) == kDet:
			f.d.Over = load.Foot
		case t.kind == kUnit && t.word == "in" && r.kindAt(k-1) == kDet:
			f.d.Over = load.Inch
		case t.kind == kNum && r.kindAt(k+1) == kSpot, t.kind.in(kOn, kOf, kDet):
			continue
		default:
			return end
		}
		end = k + 1
	}
	return end
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

// eat takes tokens a..b into the fold.
func (f *hurtFold) eat(a, b int) {
	for ; a < b; a++ {
		f.eaten = append(f.eaten, a)
	}
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
