package parser

import (
	"halfweight/rules/load"
)

// commands reads what stands at the head of a message and is no load: house
// words, gear, road words, bare answers. It returns the first token left for
// the rest of the reader.
func (r *reader) commands() int {
	n := len(r.sig)
	i := r.start(0)
	if i >= n {
		return n
	}
	if r.sameWhole(i) || r.bareFigure(i) || r.bareWord(i) || r.barePlace(i) {
		return n
	}
	t := r.t(i)
	if t.kind == kExtra && t.raw == "more" && r.rest(i+1) {
		r.ownAll(i, n, OwnFact)
		r.acts = append(r.acts, House{Word: "more"})
		return n
	}
	if t.kind == kCmd {
		switch t.word {
		case "undo", "history", "export", "forget me", "more", "help", "new load", "units kg", "units lb", "units ?":
			return r.house(i)
		case "gear":
			return r.gear(i)
		case "trailer":
			return r.trailer(i)
		case "make":
			return r.make(i)
		case "rules ?", "rules canada", "rules federal":
			return r.rulesWord(i)
		case "house", "house off":
			return r.houseRule(i)
		}
	}
	if t.kind == kCorrect && t.raw == "make" && !r.has(i, n, kNum, kCount, kTimes) {
		if k := r.make(i); k > i+1 {
			return k // "make that 1/2"
		}
	}
	if r.general(i) || t.kind == kKind && r.machineIs(i) || r.markReads(i) || r.markBack(i) || r.markSwap(i) || r.notThis(i) {
		return n
	}
	if k := r.turnsDown(i); r.attribute(k) {
		r.ownAll(i, k, OwnPhrase)
		return n
	}
	if r.kindAt(i) == kAnd {
		r.own(i, OwnPhrase)
		i++
	}
	if r.kindAt(i) == kExtra && r.t(i).raw == "another" {
		r.add = true // "another on the back"
	}
	if r.roadOnly(i) {
		return n
	}
	return i
}

// start is the first token from i that is no separator.
func (r *reader) start(i int) int { return r.past(i, kSep, kLine, kStop, kAsk) }

// rest says whether nothing but separators and small words follow at i.
func (r *reader) rest(i int) bool {
	return r.past(i, kSep, kLine, kStop, kDet, kIt, kAsk, kThem, kLast) >= len(r.sig)
}

func (r *reader) house(i int) int {
	t := r.t(i)
	h := House{Word: t.word}
	switch t.word {
	case "units kg":
		h = House{Word: "units", Arg: "kg"}
	case "units lb":
		h = House{Word: "units", Arg: "lb"}
	case "units ?":
		h = House{Word: "units"}
	}
	if t.word != "new load" && t.word != "units ?" && !r.rest(i+1) {
		if t.word == "help" {
			r.own(i, OwnPhrase)
			return i + 1
		}
		return i
	}
	r.own(i, OwnFact)
	r.acts = append(r.acts, h)
	if t.word == "new load" {
		return i + 1
	}
	for k := i + 1; k < len(r.sig); k++ {
		r.own(k, OwnPhrase)
	}
	return len(r.sig)
}

// roadOnly reads a message of nothing but words from the road.
func (r *reader) roadOnly(i int) bool {
	var acts []Act
	for k := i; k < len(r.sig); k++ {
		t := r.t(k)
		switch t.kind {
		case kRoad:
			acts = append(acts, Road{Word: t.word})
		case kMiles:
			miles := float64(t.num) / float64(load.One)
			if n := len(acts); n > 0 {
				if x, ok := acts[n-1].(Road); ok && x.Word != "at" && x.Miles == 0 {
					acts = append(acts[:n-1], Road{Word: "at", Miles: miles}, x)
					continue
				}
			}
			acts = append(acts, Road{Word: "at", Miles: miles})
		case kSound:
			if t.raw != "checked" && t.raw != "all" && len(acts) == 0 {
				return false
			}
		case kTight, kAll, kIt, kThem, kSep, kLine, kStop, kOn, kDet, kAnd, kBe, kWith, kLast:
		default:
			return false
		}
	}
	if len(acts) == 0 {
		return false
	}
	r.ownAll(i, len(r.sig), OwnFact)
	r.acts = append(r.acts, acts...)
	return true
}

// barePlace reads a message of nothing but a place: "front left", "on each
// corner". It tells of the tie-downs known already.
func (r *reader) barePlace(i int) bool {
	at := load.Place{}
	for k := i; k < len(r.sig); k++ {
		place := load.Place{}
		switch t := r.t(k); t.kind {
		case kEnd:
			place.End = t.word
		case kSide:
			place.Side = t.word
		case kCorner:
			place = cornerPlace(t.word)
		case kSpread:
			place.Spread = t.word
		case kSpreadOne:
			place.Spread = "corners"
		case kDet, kOn, kEach, kIt, kThem, kBe, kSep, kStop, kLine, kAll:
			continue
		default:
			return false
		}
		if !mergeable(at, place) {
			return false // "front, rear": which is where is not told
		}
		at = merge(at, place)
	}
	if at == (load.Place{}) {
		return false
	}
	r.ownAll(i, len(r.sig), OwnFact)
	r.acts = append(r.acts, Change{Ref: Ref{Which: All, Lacks: true}, Edit: Edit{Set: load.TieDown{Place: at}}})
	return true
}
