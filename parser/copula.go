package parser

import (
	"halfweight/rules/load"
)

// copula reads "one is 5/16", "the front two are over", "one of them is on the
// bucket": facts of tie-downs told already, never more of them.
func (r *reader) copula(i, from, to int) {
	if !r.tiesBefore(i) && r.describes(from, to) {
		return // the message has told none yet: this is how it tells them
	}
	s, start := r.copulaSubject(i, from)
	if !s.told || s.counted {
		return
	}
	set, end, ok := r.copulaFacts(i, to)
	if !ok {
		return
	}
	for _, k := range s.size {
		s.ref.Like.Size, s.ref.Like.SizeWord = r.t(k).size, r.t(k).word
	}
	if s.ref.Which == It && (s.plural || s.ref.Like.Place == (load.Place{})) {
		s.ref.Which = All
	}
	r.take(start, end)
	r.changes = append(r.changes, Change{Ref: s.ref, Edit: Edit{Set: set}})
}

// copulaSubject is what stands before the verb at i, and its first token.
func (r *reader) copulaSubject(i, from int) (s subject, start int) {
	start = i
	for k := i - 1; k >= from && k >= i-window; k-- {
		t := r.t(k)
		if t.owner != "" || t.kind.in(kRoute, kTens, kHook, kRing, kLink, kIt) {
			break
		}
		if t.kind == kDoubt && s.told {
			return s, k // "except one is 5/16"
		}
		if !s.take(r, k) {
			break
		}
		start = k
	}
	return s, start
}

// copulaFacts is what stands behind the verb at i, and the token after it; ok is
// false when it tells no fact.
func (r *reader) copulaFacts(i, to int) (set load.TieDown, end int, ok bool) {
	for end = i + 1; end < to; end++ {
		t := r.t(end)
		if t.owner != "" {
			return set, end, ok
		}
		switch t.kind {
		case kSize:
			set.Size, set.SizeWord, ok = t.size, t.word, true
		case kGrade:
			set.Grade, ok = readGrade(t.word), true
		case kRoute:
			if t.word == "?" {
				return set, end, ok
			}
			set.Route, ok = load.Route(t.word), true
		case kMat:
			m, known := materials[t.word]
			if !known {
				return set, end, ok
			}
			if m.grade.Reading != load.NotRead {
				set.Grade, ok = m.grade, true
			}
		case kPart, kJoint:
			if !r.kindAt(end-1).in(kDet, kOn) {
				return set, end, ok
			}
			set.Place.On, ok = t.word, true
			if t.kind == kJoint {
				set.Place.On = "joint"
			}
		case kNeg:
			if t.raw == "only" && end == i+1 && r.kindAt(end+1).in(kSize, kGrade) {
				continue // "one is only 5/16"
			}
			if !r.kindAt(end+1).in(kSize, kGrade) {
				return set, end, ok
			}
			end++ // "is 3/8 not 1/2"
		case kDet, kOn, kAll, kBe:
		default:
			return set, end, ok
		}
	}
	return set, end, ok
}

// tiesBefore says whether tie-downs were described before token i.
func (r *reader) tiesBefore(i int) bool {
	if r.tiesTold() {
		return true
	}
	if r.tiesFrom == 0 {
		// the first token behind a count and a kind, found once
		r.tiesFrom = len(r.sig) + 1
		core, count := false, false // a kind of tie-down, and how many or where
		for k := 0; k < len(r.sig) && r.tiesFrom > len(r.sig); k++ {
			switch r.t(k).kind {
			case kSize, kGrade, kMat:
				core = true
			case kCount, kTimes, kNum, kEnd, kSide, kCorner, kSpread:
				count = true
			}
			switch r.t(k).kind {
			case kSep, kStop, kLine, kRoute, kTimes:
				if core && count {
					r.tiesFrom = k + 1
				}
			}
		}
	}
	return i >= r.tiesFrom
}

// describes says whether an article or a count is told in from..to.
func (r *reader) describes(from, to int) bool {
	if l := &r.loaded; l.from != from || l.to != to {
		*l = loaded{from, to, r.has(from, to, kKind, kCount, kMass, kBig)}
	}
	return r.loaded.yes
}

// loaded keeps what describes found for a sentence, so that it is looked for
// once.
type loaded struct {
	from, to int
	yes      bool
}

// deniesAll says whether a denial tells that there is none at all, not that
// something is not so: "none at the front", not "isnt on yet".
func deniesAll(t *tok) bool {
	switch t.raw {
	case "not", "isnt", "arent", "aint", "dont", "doesnt", "wasnt", "wont", "cannot", "only":
		return t.kind == kBare
	}
	return true
}

// noneAt reads "no chains at the rear", "none at the front": a place told empty.
// It is no place of the tie-downs told, and the answer cannot stand on it.
func (r *reader) noneAt(i, to int) {
	k := i + 1
	if !deniesAll(r.t(i)) {
		return
	}
	for r.kindAt(k) == kMat || k > i+1 && r.kindAt(k).in(kOr, kAnd) && r.kindAt(k+1) == kMat {
		k++
	}
	if !r.kindAt(k).in(kOn, kRoute) && !(r.kindAt(k) == kEnd && k == i+1) {
		return
	}
	k = r.past(k, kOn, kDet, kRoute)
	switch r.kindAt(k) {
	case kPart:
		// "no chain over the bucket"
		r.partTies = append(r.partTies, partTie{part: r.t(k).word})
		r.deny.hold(r.t(k).word)
		r.take(i, k+1)
		return
	case kJoint:
		r.take(i, k+1)
		r.uncrossed = true
		return
	case kEnd, kSide, kCorner:
	default:
		return
	}
	if r.has(0, len(r.sig), kKind, kCount, kTimes, kSize, kMass, kBig) {
		r.leaveUnread(i, k+1)
		return
	}
	// of tie-downs told before this message
	var s subject
	s.take(r, k)
	r.take(i, k+1)
	r.changes = append(r.changes, Change{Ref: Ref{Which: All, Like: s.ref.Like}, Edit: Edit{Gone: "lost"}})
}
