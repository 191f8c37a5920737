package parser

import (
	"strings"

	"halfweight/rules/load"
)

// one counts "a 3/8 chain", "another 3/8 g70 over".
func (r *reader) one(i int) {
	switch r.kindAt(i + 1) {
	case kSize, kGrade, kMat:
	default:
		return
	}
	if r.kindAt(i+1) == kMat && r.t(i+1).plural {
		return
	}
	c := r.cl
	if c != nil && (c.told || c.named || c.routes > 0) {
		c = r.fresh()
	} else {
		c = r.open()
	}
	c.count, c.told, c.one = 1, true, true
	if p := c.place(); p != nil && p.Spread != "" && r.leadEach > 0 {
		c.count, c.one, r.leadEach = r.leadEach, false, 0
	}
}

// oneMore counts one more of the kind told last.
func (r *reader) oneMore() {
	c := r.open()
	if c.named || c.told {
		c = r.fresh()
	}
	c.count, c.told = 1, true
}

// bareNumber settles a number with no unit: a count, a count of binders, a
// grade, or unread.
func (r *reader) bareNumber(i int) {
	if r.bareGrade(i) || r.taggedOut(i) {
		return // "inspector tagged one out"
	}
	if r.high(i) || r.piecesOf(i) {
		return
	}
	n := r.t(i).num
	if n == load.One && r.kindAt(i+1).in(kMass, kBig, kKind) && r.kindAt(r.past(i+1, kMass, kBig)) == kKind && r.sig[i+1] == r.sig[i]+1 && r.sent(i) == "one" {
		r.own(i, OwnPhrase) // "one 12000 lb tractor"
		return
	}
	if n%load.One != 0 || n > maxCount*load.One || r.kindAt(i-1) == kCount || n > mostBare*load.One && !r.coreAhead(i+1) {
		return
	}
	if r.kindAt(i+1) == kTens && r.binderCount(i) {
		return
	}
	if r.kindAt(i-1) == kRated && !r.coreAhead(i+1) {
		return // "inspector tagged one out"
	}
	if r.kindAt(i+1) == kExtra && r.t(i+1).raw == "more" && !r.anyNoun() {
		r.add = true // "one more over": more of the kind in hand
	}
	k := r.past(i+1, kExtra, kOf, kDet, kTaken)
	if r.kindAt(k).in(kOther, kPlain) && r.kindAt(k+1).in(kSize, kGrade) {
		k++ // "4 gold 3/8 chains"
	}
	switch r.kindAt(k) {
	case kSize, kGrade, kMat, kRoute, kEnd, kSide, kCorner, kSpread, kSpreadOne, kGradeWord:
		r.counted(i, false)
	case kThem:
		// "one of them on the bucket"
		if r.tiesTold() {
			r.counted(i, false)
			r.open().ofThem = true
			r.ownAll(i+1, k+1, OwnPhrase)
		}
	case kNone:
		if r.add {
			r.more(i)
		} else {
			r.trailing(i)
		}
	case kOn, kEach:
		r.countAt(i, k)
	case kSep, kLine:
		if r.t(k).word == "-" && r.kindAt(k+1) == kSize && (r.cl == nil || r.cl.told || !r.cl.named) {
			r.counted(i, false) // "4 - 3/8 g70 direct"
			return
		}
		r.trailing(i)
	}
}

// taggedOut says whether the number at i is of those an inspector tagged out.
func (r *reader) taggedOut(i int) bool {
	return r.kindAt(i-1) == kRated && r.t(i-1).raw == "tagged" && !r.coreAhead(i+1)
}

// mostBare is the most pieces that a bare number counts where no tie-down
// stands right behind it: a larger one may be anything.
const mostBare = 24

// bareGrade takes a bare number for a grade: right behind a size, or behind a
// word that tells of a mark.
func (r *reader) bareGrade(i int) bool {
	t := r.t(i)
	g := gradeValue(t.num)
	if g == "" || t.num < 30*load.One {
		return false
	}
	c := r.namedClause()
	ungraded := c != nil && (c.tie.Material == load.Chain || c.tie.Material == "") && c.tie.Grade.Reading == load.NotRead
	if r.hedged(i) && ungraded {
		r.own(i, OwnFact) // "I think they are 70": not read
		return true
	}
	if ungraded && r.kindAt(i-1) == kRated && !r.nearFitting(i-1) {
		c.tie.Grade, c.named = readGrade(g), true
		r.own(i-1, OwnPhrase)
		r.own(i, OwnFact)
		return true
	}
	if r.kindAt(i-1) == kSize && r.cl != nil && r.cl.tie.Grade.Reading == load.NotRead {
		t.word = g
		r.graded(i)
		return true
	}
	return false
}

// binderCount takes the number at i, a binder or ratchet right behind it. It
// says whether the number is settled: taken, or left to what is told of the
// binder.
func (r *reader) binderCount(i int) bool {
	if r.kindAt(i+2).in(kBe, kRated) || r.ratedAhead(i+2) {
		return true // "one binder is a 5400"
	}
	c := r.cl
	if c == nil {
		c = r.lastClause()
	}
	if c == nil {
		return true
	}
	if r.t(i+1).word == "ratchet" {
		return false
	}
	n := int(r.t(i).num / load.One)
	switch {
	case r.kindAt(i+2) == kEach:
	case r.kindAt(i-1) == kWith || len(r.article().clauses) == 0:
		c.binders = n
	default:
		r.article().binders = n // of all told so far
	}
	r.own(i, OwnFact)
	return true
}

// trailing takes a count that trails: "3/8 g70 direct, 4".
func (r *reader) trailing(i int) {
	if c := r.cl; c != nil && c.named && !c.told && !r.kindAt(i-1).in(kOther, kPlain, kRated, kWith, kDoubt, kNeg, kUnsure, kHedge, kGone) {
		r.counted(i, true)
	}
}

// countAt takes the count at i with "on" or "each" at k behind it: "2 on the
// bucket", "4 @ 3/8 g70".
func (r *reader) countAt(i, k int) {
	on := r.kindAt(k) == kOn
	switch {
	case on && r.kindAt(k+1).in(kSize, kGrade):
		r.own(k, OwnPhrase) // "4 @ 3/8 g70"
		r.counted(i, false)
	case on && r.add && r.kindAt(k+1).in(kRoute, kNone, kSep, kStop):
		r.own(k, OwnPhrase) // "put one more on direct"
		r.counted(i, false)
	case r.kindAt(r.past(k+1, kDet, kOn)).in(kPart, kJoint, kEnd, kSide, kCorner, kSpread, kSpreadOne):
		if r.begun() {
			r.counted(i, false)
		}
	case !on:
		r.counted(i, false)
	}
}

// more counts "add 2": more of the kind told last.
func (r *reader) more(i int) {
	if r.kindAt(i-2) == kDoubt || r.kindAt(i-1) == kDoubt {
		return // "could add 2 more"
	}
	c := r.open()
	if c.named || c.told {
		c = r.fresh()
	}
	c.count, c.told = int(r.t(i).num/load.One), true
	r.own(i, OwnFact)
}

// spread takes "on the corners", "each end" and counts what it multiplies.
func (r *reader) spread(i int) {
	t := r.t(i)
	each := t.raw == "each" || t.raw == "every" || t.raw == "per" || t.raw == "one" || t.raw == "both" || (t.raw == "at" || t.raw == "on" || t.raw == "to") && r.eachWithin(i)
	n := 2
	if t.word == "corners" {
		n = 4
	}
	if t.raw == "both" && t.word == "ends" && r.kindAt(i+1) == kOn {
		if r.kindAt(r.past(i+2, kDet)).in(kRoute, kSide, kRing) {
			r.own(i, OwnPhrase) // "both ends on the same rail": the chain's own ends
			return
		}
	}
	r.placed(i, load.Place{Spread: t.word})
	if r.cl == nil && r.lead != nil && (each || t.word == "corners" && r.says(i, "four", "4 ", "all ")) {
		next := r.kindAt(i + 1)
		if next == kSep && r.t(i+1).word == ":" {
			next = r.kindAt(i + 2)
		}
		switch next {
		case kWith, kBe, kSize, kGrade, kMat, kNum, kCount:
			r.leadEach = n // "each corner has a 3/8 g70", "all four corners 3/8 g70"
		}
		return
	}
	c := r.cl
	if c == nil {
		return
	}
	if t.raw == "front" && !c.told {
		c.plural = true // "3/8 g70 front and back": how many is not told
	}
	if t.word == "corners" && r.says(i, "four", "4 ", "all ") {
		// "four corners direct" after a total, "at all four corners"
		if c.told && c.count != n && c.named && (r.opens(i) || c.count > n && c.count%n != 0) {
			p, some := *c.place(), c.count > n
			c.places = c.places[:len(c.places)-1]
			c = r.fresh()
			c.places, c.ofThem = append(c.places, p), some
		}
		if !c.told {
			c.count, c.told = n, true
		}
	}
	switch {
	case each && (!c.told && !c.plural || c.told && c.count == 1):
		c.count, c.told = n, true
	case each && c.told && c.count == 2 && t.raw != "both" && !(n == 4 && r.kindAt(i-1) != kNum):
		c.count = 2 * n
	case t.raw == "one":
		if !c.told {
			c.count, c.told = n, true
		}
	}
}

// eachWithin says whether the spread phrase at i names each place: "at each
// corner", not "at the corners".
func (r *reader) eachWithin(i int) bool { return r.says(i, "each", "both") }

// says says whether the phrase at i as sent holds one of the words.
func (r *reader) says(i int, words ...string) bool {
	s := r.sent(i)
	for _, w := range words {
		if strings.Contains(s, w) {
			return true
		}
	}
	return false
}

// overIt reads "over it": the part told last, if that is the noun told last.
func (r *reader) overIt(i int) {
	switch r.kindAt(i - 1) {
	case kRoute, kOn, kTo:
		r.own(i, OwnPhrase)
		if p := r.partInHand(); p != nil && r.cl != nil {
			r.cl.places = append(r.cl.places, load.Place{On: p.Name})
		}
	default:
		if len(r.arts) > 0 || r.kindAt(i+1) == kWeigh {
			r.own(i, OwnPhrase)
		}
	}
}

// allOf reads "all direct", "both 3/8 g70": told of every clause that lacks it.
func (r *reader) allOf(i int) {
	r.own(i, OwnPhrase)
	k := i + 1
	if r.cl != nil && r.kindAt(i-1) == kRoute && r.t(i).raw == "both" && len(r.arts) > 1 {
		r.cl.tie.Shared = true
	}
	if r.cl != nil && r.kindAt(i-1) == kRoute && r.t(i).raw == "both" {
		for j := k; j < k+4; j++ {
			if r.kindAt(j) == kKind {
				r.cl.tie.Shared = true // "over both the pallet and the crate"
			}
		}
	}
	k = r.past(k, kBe, kDet, kThem, kOn)
	if r.kindAt(k) == kSpread && r.t(k).raw == "front" {
		r.aside = true // "all in front, rear 2x": where the one ends is not clear
	}
	if !r.tiesTold() {
		if r.kindAt(k).in(kEnd, kSide) || r.kindAt(k) == kRoute && r.t(k).word == "same side" {
			r.aside = true // told ahead of the tie-downs it is said of
		}
		return
	}
	r.close()
	done := false
	for ; k < len(r.sig); k++ {
		t := r.t(k)
		took := false
		for _, c := range r.article().clauses {
			switch t.kind {
			case kRoute:
				if t.word != "?" && c.tie.Route == "" && c.routes == 0 {
					c.tie.Route, c.routes = load.Route(t.word), 1
				} else if t.word == "same side" && c.tie.Route != load.SameSide {
					r.aside = true // "direct, all on the same side": nothing holds the other
				}
				took = true
			case kGrade:
				if c.tie.Grade.Reading == load.NotRead && c.tie.Grade.Value == "" {
					c.tie.Grade, c.named = readGrade(t.word), true
				}
				took = true
			case kSize:
				if c.tie.Size == 0 {
					c.tie.Size, c.tie.SizeWord, c.named = t.size, t.word, true
				}
				took = true
			case kMat:
				if m, ok := materials[t.word]; ok && c.tie.Material == "" {
					c.tie.Material = m.material
				}
				took = true
			case kEnd, kSide:
				if len(c.places) > 0 {
					r.aside = true // told at the corners, and all at one end
				}
				if len(c.places) == 0 {
					if t.kind == kEnd {
						c.places = []load.Place{{End: t.word}}
					} else {
						c.places = []load.Place{{Side: t.word}}
					}
				}
				took = true
			}
		}
		if !took {
			break
		}
		done = true
		r.own(k, OwnFact)
	}
	if done {
		r.skip = k
	}
}

// eachOf reads "each": a word that binds, and "two each side", which is four.
func (r *reader) eachOf(i int) {
	if c := r.cl; c != nil && r.t(i).word == "each" {
		if r.kindAt(i-1) == kNum && len(r.sent(i)) > len("each")+2 && c.told && len(c.places) == 0 {
			c.count *= 2
		}
		c.each = c.each || r.eachAlike(i)
		r.own(i, OwnPhrase)
	} else if len(r.arts) > 0 {
		r.own(i, OwnPhrase)
	}
}
