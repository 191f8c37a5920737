package parser

import "halfweight/rules/load"

// turnsDown is the first token behind words that only turn down what was told before:
// "no", "actually", "no wait". i where there are none.
func (r *reader) turnsDown(i int) int {
	for k := i; k < len(r.sig); k++ {
		switch t := r.t(k); {
		case t.kind == kCorrect && t.raw != "make" && t.raw != "change":
		case t.kind.in(kSep, kLine, kAnd) && k > i:
		case t.kind == kNeg && refuses(t.raw) && r.kindAt(k+1).in(kSep, kLine, kDet, kIt, kThem, kCorrect):
		case t.kind == kNeg && t.raw == "only" && r.kindAt(k+1).in(kDet, kThem):
		default:
			return k
		}
	}
	return i
}

// turnedDown takes words that turn down what was told before, ahead of a message that
// only changes tie-downs and is read whole: "no, front left is loose".
func (r *reader) turnedDown() {
	from := r.start(0)
	k := r.turnsDown(from)
	if k == from || len(r.acts) == 0 {
		return
	}
	for _, act := range r.acts {
		if _, ok := act.(Change); !ok {
			return
		}
	}
	for i := k; i < len(r.sig); i++ {
		if t := r.t(i); t.owner == "" && !t.kind.in(kSep, kLine, kStop) || t.owner == OwnUnread {
			return
		}
	}
	r.ownAll(from, k, OwnPhrase)
}

// notThis reads "not g70 its g43", "its 3/8 not 1/2" as the whole message: told of
// those that were told otherwise.
func (r *reader) notThis(i int) bool {
	c := Change{Ref: Ref{Which: All}}
	was, now, neg := 0, 0, false
	for k := i; k < len(r.sig); k++ {
		t := r.t(k)
		to, n := &c.Edit.Set, &now
		if neg {
			to, n = &c.Ref.Like, &was
		}
		switch t.kind {
		case kIt, kThem, kBe, kSep, kDet, kCorrect, kGradeWord, kStop:
			continue
		case kNeg:
			if !refuses(t.raw) && !denies(t.raw) || was > 0 {
				return false
			}
			neg = true
			continue
		case kMat:
			if m, ok := materials[t.word]; ok && len(t.tags) == 0 && m.grade == (load.Grade{}) && m.make == "" {
				continue
			}
			return false
		case kSize:
			to.Size, to.SizeWord = t.size, t.word
		case kGrade:
			to.Grade = readGrade(t.word)
		default:
			return false
		}
		*n, neg = *n+1, false
	}
	like, set := &c.Ref.Like, &c.Edit.Set
	if was != 1 || now != 1 || (like.Size != 0) != (set.Size != 0) {
		return false
	}
	r.ownAll(i, len(r.sig), OwnFact)
	r.acts = append(r.acts, c)
	return true
}

// denies says whether a denial says that what follows is not so.
func denies(raw string) bool {
	switch raw {
	case "isnt", "arent", "aint", "wasnt":
		return true
	}
	return false
}
