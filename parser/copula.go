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
	var s subject
	start := i
	for k := i - 1; k >= from && k >= i-window; k-- {
		t := r.t(k)
		if t.owner != "" || t.kind.in(kRoute, kTens, kHook, kRing, kLink, kIt) {
			break
		}
		if t.kind == kDoubt && s.told {
			start = k // "except one is 5/16"
			break
		}
		if !s.take(r, k) {
			break
		}
		start = k
	}
	if !s.told || s.counted {
		return
	}
	for _, k := range s.size {
		s.ref.Like.Size, s.ref.Like.SizeWord = r.t(k).size, r.t(k).word
	}
	var e Edit
	fact := false
	k := i + 1
loop:
	for ; k < to; k++ {
		t := r.t(k)
		if t.owner != "" {
			break
		}
		switch t.kind {
		case kSize:
			e.Set.Size, e.Set.SizeWord, fact = t.size, t.word, true
		case kGrade:
			e.Set.Grade, fact = readGrade(t.word), true
		case kRoute:
			if t.word == "?" {
				break loop
			}
			e.Set.Route, fact = load.Route(t.word), true
		case kMat:
			m, ok := materials[t.word]
			if !ok {
				break loop
			}
			if m.grade.Reading != load.NotRead {
				e.Set.Grade, fact = m.grade, true
			}
		case kPart, kJoint:
			if !r.kindAt(k-1).in(kDet, kOn) {
				break loop
			}
			on := t.word
			if t.kind == kJoint {
				on = "joint"
			}
			e.Set.Place.On, fact = on, true
		case kNeg:
			if r.kindAt(k+1).in(kSize, kGrade) {
				k++ // "is 3/8 not 1/2"
				continue
			}
			break loop
		case kDet, kOn, kAll, kBe:
		default:
			break loop
		}
	}
	if !fact {
		return
	}
	if s.ref.Which == It && (s.plural || s.ref.Like.Place == (load.Place{})) {
		s.ref.Which = All
	}
	r.take(start, k)
	r.changes = append(r.changes, Change{Ref: s.ref, Edit: e})
}

// tiesBefore says whether tie-downs were described before token i.
func (r *reader) tiesBefore(i int) bool {
	if r.tiesTold() {
		return true
	}
	if r.tiesFrom == 0 {
		// the first token behind a count and a kind, found once
		r.tiesFrom = len(r.sig) + 1
		core, count := false, false
		for k := 0; k < len(r.sig) && r.tiesFrom > len(r.sig); k++ {
			switch r.t(k).kind {
			case kSize, kGrade, kMat:
				core = true
			case kCount, kTimes, kNum:
				count = true
			case kSep, kStop, kLine, kRoute:
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

// noneAt reads "no chains at the rear", "none at the front": a place told empty.
// It is no place of the tie-downs told, and the answer cannot stand on it.
func (r *reader) noneAt(i, to int) {
	k := i + 1
	if r.kindAt(k) == kMat {
		k++
	}
	if !r.kindAt(k).in(kOn, kRoute) {
		return
	}
	k = r.past(k, kOn, kDet, kRoute)
	switch r.kindAt(k) {
	case kPart:
		// "no chain over the bucket"
		r.partTies = append(r.partTies, partTie{r.t(k).word, false})
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
	r.leaveUnread(i, k+1)
}
