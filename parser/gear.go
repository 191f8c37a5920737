package parser

import (
	"slices"
	"strconv"

	"halfweight/rules/load"
)

// within reads tokens from i on with a reader of its own.
func (r *reader) within(i int) *reader {
	if i >= len(r.sig) {
		return readerOf(r.text, nil)
	}
	lo := r.sig[i]
	sub := readerOf(r.text, r.toks[lo:])
	for _, k := range r.sig[i:] {
		sub.sig = append(sub.sig, k-lo)
	}
	sub.describe(0, len(sub.sig))
	sub.finish()
	return sub
}

// ties are the tie-downs a sub-reader read, one a line.
func (r *reader) ties() (lines []Line, ties []load.TieDown, art *Article) {
	for _, act := range r.acts {
		d, ok := act.(Describe)
		if !ok {
			continue
		}
		for k := range d.Articles {
			a := &d.Articles[k]
			if art == nil {
				art = a
			}
			for i := range a.Lines {
				lines = append(lines, a.Lines[i])
				ties = append(ties, firstOf(a.Ties, i))
			}
		}
	}
	return lines, ties, art
}

func (r *reader) gear(i int) int {
	r.own(i, OwnFact)
	k := r.start(i + 1)
	if k >= len(r.sig) || r.rest(k) {
		r.acts = append(r.acts, Gear{Do: "show"})
		return len(r.sig)
	}
	do := "set"
	switch t := r.t(k); {
	case t.kind == kNeg && t.raw != "no", t.kind == kGone && t.word == "taken off", t.kind == kGone && t.word == "lost":
		do = "less"
	case t.kind == kCmd && t.word == "add", t.kind == kAnd, t.kind == kExtra, t.kind == kWith && t.raw == "plus":
		do = "add"
	case t.kind.in(kBe, kWith):
		r.own(k, OwnPhrase)
		k++
	}
	if do != "set" {
		r.own(k, OwnFact)
		k++
	}
	if k < len(r.sig) && len(r.t(k).tags) > 0 {
		if r.gearMark(k, do) {
			return len(r.sig)
		}
		r.t(i).owner = ""
		return i
	}
	sub := r.within(k)
	lines, ties, _ := sub.ties()
	if len(lines) == 0 {
		r.t(i).owner = ""
		return i
	}
	var rest []Act
	for _, act := range sub.acts {
		if c, ok := act.(Change); ok && !rateGear(ties, &c) {
			rest = append(rest, c) // "gear 6x 3/8 g70, chain 7 is bent"
		}
	}
	r.acts = append(append(r.acts, Gear{Do: do, Lines: lines, Ties: ties}), rest...)
	r.looseTensioners(k, lines)
	return len(r.sig)
}

// rateGear lays a binder's rating told behind the list ("6x 3/8 g70, 6 binders
// 9200") on the tie-downs of it that have none.
func rateGear(ties []load.TieDown, c *Change) bool {
	n := c.Edit.Set.Tensioner
	if n.Rating == 0 || c.Ref.Like.Tag != "" {
		return false
	}
	for i := range ties {
		if t := &ties[i]; t.Tensioner.Rating == 0 && t.Material == load.Chain {
			t.Tensioner.Has, t.Tensioner.Rating = load.Yes, n.Rating
		}
	}
	return true
}

// looseTensioners leaves unread what the gear list has no row for: binders and
// ratchets that are not as many as the tie-downs told with them ("6x 3/8 g70, 2
// snap binders").
func (r *reader) looseTensioners(from int, lines []Line) {
	for i := from; i+1 < len(r.sig); i++ {
		t := r.t(i)
		if !t.kind.in(kNum, kCount) || r.kindAt(i+1) != kTens || r.ratedAhead(i+2) || !r.kindAt(i-1).in(kSep, kLine, kStop, kAnd) {
			continue
		}
		if slices.ContainsFunc(lines, func(l Line) bool { return l.Count == int(t.num/load.One) }) {
			continue
		}
		t.owner, r.t(i+1).owner = OwnUnread, OwnUnread
	}
}

// trailer reads "trailer d-rings 6600".
func (r *reader) trailer(i int) int {
	if r.rest(i + 1) {
		r.ownAll(i, len(r.sig), OwnFact)
		r.acts = append(r.acts, Gear{Do: "show"}) // its rings stand in the list
		return len(r.sig)
	}
	for k := i + 1; k < len(r.sig); k++ {
		switch r.kindAt(k) {
		case kMass, kBig:
			if r.has(i, len(r.sig), kRing) && !r.has(i, len(r.sig), kKind) && !r.has(i, len(r.sig), kSize) {
				r.ownAll(i, len(r.sig), OwnFact)
				r.acts = append(r.acts, Gear{Do: "anchor", Anchor: r.t(k).weight.Told})
				return len(r.sig)
			}
			return i + 1
		case kRing, kHook, kBe, kRated, kWith, kDet, kOn, kHedge:
		case kNum: // "trailer 2: roller ..."
			r.ownAll(i, k+1, OwnPhrase)
			return k + 1
		default:
			return i
		}
	}
	return i
}

// machineIs reads "machine 12 is a 14000 lb roller, articulated, steering lock".
func (r *reader) machineIs(i int) bool {
	if !r.nameable(r.t(i).word) || r.kindAt(i+1) != kNum || r.kindAt(i+2) != kBe && !(r.kindAt(i+2) == kSep && r.t(i+2).word == "=") || r.t(i+1).num%load.One != 0 {
		return false
	}
	sub := r.within(i + 3)
	_, ties, art := sub.ties()
	if art == nil || len(ties) > 0 {
		return false
	}
	r.ownAll(i, i+3, OwnFact)
	r.acts = append(r.acts, Gear{Do: "machine", Machine: strconv.Itoa(int(r.t(i+1).num / load.One)), Article: art.Article})
	return true
}
