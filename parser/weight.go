package parser

import (
	"math/bits"
	"strings"

	"halfweight/rules/load"
)

// mass reads a mass: the article's weight, unless something else stands right
// behind it.
func (r *reader) mass(i int, w load.Weight, hedge, told bool) {
	switch r.kindAt(i + 1) {
	case kMat, kTens, kHook, kRing, kOf:
		if !told && !(r.kindAt(i-1) == kKind && r.cur != nil && !r.cur.Weight.Known()) {
			return // "5400 lb straps": not the article's
		}
	case kCmd:
		if r.t(i+1).word == "trailer" {
			r.ownAll(i, i+2, OwnPhrase) // "on a 7000 lb trailer"
			return
		}
	case kPart:
		if r.cur == nil || r.cur.Weight.Known() {
			return // "600 lb bucket"
		}
	}
	r.weighs(i, w, hedge, told)
}

func (r *reader) weightPhrase(a, b int) {
	hedge, told, at := false, false, -1
	for i := a; i < b; i++ {
		switch r.t(i).kind {
		case kHedge:
			hedge = true
		case kDoubt:
			hedge = hedge || at < 0 // "12000 need 4x ...": not of the weight
		case kWeigh:
			told = true
		case kMass, kBig:
			at = i
		}
	}
	if at < 0 {
		return
	}
	r.ownAll(a, b, OwnPhrase)
	r.t(at).owner = ""
	if b > at+1 && r.t(b-1).kind == kDoubt {
		r.t(b - 1).owner = ""
	}
	if r.doubt(a) {
		hedge = true
	}
	w := r.t(at).weight
	if from, both, ok := r.ranged(at); ok {
		if r.t(from).owner == OwnFact {
			r.forget(from)
		}
		r.ownAll(from, at, OwnFact)
		w = both
	}
	if r.t(at).kind == kMass {
		r.mass(at, w, hedge, told)
	} else {
		r.weighs(at, w, hedge, told)
	}
}

// doubt says whether a hedge stands before token a, small words aside: "pretty
// sure its 14000 lb".
func (r *reader) doubt(a int) bool {
	k := r.backIn(a-1, 4, kIt, kBe, kDet, kThem, kWeigh)
	if !r.kindAt(k).in(kHedge, kDoubt) {
		return false
	}
	r.own(k, OwnPhrase)
	return true
}

// ranged reads "13000 to 15000 lb" and "13 to 15 thousand", the last figure
// being at i: the weight with both ends, and the first token of it.
func (r *reader) ranged(i int) (from int, w load.Weight, ok bool) {
	switch sep := r.kindAt(i - 1); {
	case i < 2:
		return 0, w, false
	case sep == kTo, sep == kOr, sep == kAnd, sep == kSep && r.t(i-1).word == "-" && r.t(i-1).glued:
	default:
		return 0, w, false
	}
	low, high := r.t(i-2), r.t(i)
	var l load.Weight
	switch low.kind {
	case kMass, kBig:
		l = low.weight
		if low.kind == kBig && high.weight.Metric {
			l, ok = weightOf(low.num, load.Kilogram, true)
			if !ok {
				return 0, w, false
			}
		}
	case kNum:
		// the unit, or the thousands, of the second figure are meant
		n := low.num
		if high.num > 100*n {
			n *= 1000
		}
		if high.num <= 0 {
			return 0, w, false
		}
		part := func(m load.Mass) load.Mass {
			hi, lo := bits.Mul64(uint64(m), uint64(n))
			if hi >= uint64(high.num) {
				return 0
			}
			q, rem := bits.Div64(hi, lo, uint64(high.num))
			if 2*rem >= uint64(high.num) {
				q++
			}
			return load.Mass(q)
		}
		l = load.Weight{Told: part(high.weight.Told), Low: part(high.weight.Low), High: part(high.weight.High)}
	default:
		return 0, w, false
	}
	if l.Told <= 0 || l.Told >= high.weight.Told || l.Told*2 < high.weight.Told {
		return 0, w, false
	}
	w = high.weight
	w.Low = l.Low
	return i - 2, w, true
}

func (r *reader) blocks(a, b int) {
	no := r.t(a).kind == kNeg
	word := r.t(b - 1).word
	art := r.article()
	art.Blocked = load.Yes
	if no != (word == "no") {
		art.Blocked = load.No
	}
	r.ownAll(a, b, OwnFact)
}

// extent reads a length: the article's, not the trailer's, not a chain's, and
// no width or height.
func (r *reader) extent(a, b int) {
	at := -1
	for i := a; i < b; i++ {
		switch r.t(i).kind {
		case kLength:
			at = i
		case kWide:
			r.ownAll(a, b, OwnPhrase)
			return
		}
	}
	if at < 0 {
		return
	}
	switch k := r.kindAt(b); {
	case k == kCmd && r.t(b).word == "trailer", k == kMat, k == kRoute && r.kindAt(b+1) == kMat, k == kSize, k == kGrade:
		r.ownAll(a, b, OwnPhrase)
		if k == kCmd {
			r.own(b, OwnPhrase)
		}
		return
	}
	if r.trailerAfter(b) {
		r.ownAll(a, b, OwnPhrase)
		return
	}
	if art := r.article(); art.Length == 0 {
		art.Length, art.InMetres = r.t(at).size, r.t(at).word == "m"
		r.ownAll(a, b, OwnFact)
	}
}

// trailerAfter says whether the words right behind a length name the trailer.
func (r *reader) trailerAfter(i int) bool {
	if i <= 0 || i > len(r.sig) {
		return false
	}
	from := r.sig[i-1] + 1
	for k := from; k < len(r.toks) && k < from+3; k++ {
		t := &r.toks[k]
		if t.kind == kFiller {
			switch t.raw {
			case "deck", "flatbed", "lowboy", "gooseneck", "equipment", "tag", "step", "tilt":
				return true
			}
			continue
		}
		return t.kind == kCmd && t.word == "trailer"
	}
	return false
}

func (r *reader) inchesLong(i int) {
	if r.kindAt(i+1) == kWide {
		r.ownAll(i, i+2, OwnPhrase)
		r.skip = i + 2
		return
	}
	if art := r.article(); art.Length == 0 {
		art.Length, art.InMetres = r.t(i).size, strings.HasSuffix(r.t(i).word, "mm")
		r.ownAll(i, i+2, OwnFact)
		r.skip = i + 2
	}
}

// weighs takes a weight told at token i, loosely where hedge says so.
func (r *reader) weighs(i int, w load.Weight, hedge, told bool) {
	if hedge {
		w = loosely(w)
	}
	if r.kindAt(i-1) == kWith && r.t(i-1).raw == "plus" {
		return // "plus 20000 of water": not the whole
	}
	if k := i - 1; r.kindAt(k) == kNeg && r.t(k).raw == "not" && r.cur != nil && r.cur.Weight.Known() && r.cur.Weight.Told != w.Told {
		r.own(k, OwnPhrase) // "14000 lb, not 15000"
		r.own(i, OwnPhrase)
		return
	}
	r.own(i, OwnFact)
	// "12000 lb water truck": it belongs to the noun that follows
	if !told && r.nounFollows(i+1) {
		r.weight, r.weightAt = &w, i
		return
	}
	if told && r.cur == nil && r.nounFollows(i+1) {
		r.weight, r.weightAt = &w, i
		return
	}
	if r.cur != nil && r.cur.Weight.Known() {
		if r.cur.Weight == w {
			return
		}
		if r.cur.Weight.Bare && !w.Bare {
			// a figure with a unit beats one without, which then stands nowhere
			for k := i - 1; k >= 0; k-- {
				if t := r.t(k); t.kind == kBig && t.weight.Told == r.cur.Weight.Told {
					t.owner = OwnUnread
				}
			}
			r.cur.Weight = w
			return
		}
		r.t(i).owner = OwnUnread // two weights told: the second stands nowhere
		return
	}
	r.article().Weight = w
}

// forget takes back the weight told at token i: it was the low end of a range.
func (r *reader) forget(i int) {
	if r.weight != nil && r.weightAt == i {
		r.weight = nil
	} else if r.cur != nil && r.cur.Weight == r.t(i).weight {
		r.cur.Weight = load.Weight{}
	}
}

// nounFollows says whether the next noun comes at i, adjectives aside.
func (r *reader) nounFollows(i int) bool {
	return r.kindPast(i, 4, kBends, kWheels, kDet, kOf, kExtra) == kKind
}

// leastMachine is the least weight that is taken as read for a thing on wheels
// or tracks: "14 lb roller" is a slip, and half of it is nothing.
const leastMachine = 200 * load.Pound

// doubtWeight takes "dont know the weight", told at token i beside a weight: it
// is told loosely, wherever it stands.
func (r *reader) doubtWeight(i int) {
	r.own(i, OwnFact)
	r.guessed = true
}
