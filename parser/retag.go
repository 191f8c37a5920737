package parser

// retag settles words that mean one thing in one company and another in
// another, before the grammar sees them.
func retag(toks []tok) {
	next := func(i int) kind {
		for i++; i < len(toks); i++ {
			if !toks[i].kind.in(kFiller, kDecor) {
				return toks[i].kind
			}
		}
		return kNone
	}
	prev := func(i int) (int, kind) {
		for i--; i >= 0; i-- {
			if !toks[i].kind.in(kFiller, kDecor) {
				return i, toks[i].kind
			}
		}
		return -1, kNone
	}
	backhoe, tractor, logger := false, false, false
	for i := range toks {
		if toks[i].kind == kKind {
			switch toks[i].word {
			case "backhoe":
				backhoe = true
			case "tractor":
				tractor = true
			case "forwarder", "harvester", "skidder":
				logger = true
			}
		}
	}
	counted, noun := false, false
	for i := range toks {
		switch toks[i].kind {
		case kKind:
			noun = true
		case kCount, kNum, kTimes:
			counted = true
		case kQuery:
			noun = false
		}
	}
	loaded := counted && noun
	for i := range toks {
		t := &toks[i]
		switch {
		case t.kind == kKind && t.word == "hoe" && backhoe:
			t.kind = kPart // the back end of the backhoe
		case t.kind == kKind && (t.word == "loader" && tractor || t.word == "crane" && logger):
			t.kind = kPart
		case t.kind == kEnd && i+1 < len(toks) && toks[i+1].kind == kPart:
			// "front bucket chained": which of the machine's parts, not a place
			j, k := prev(i)
			if k == kDet {
				_, k = prev(j)
			}
			switch k {
			case kSep, kLine, kStop, kNone, kAnd, kWith, kState, kKind, kMass:
				if backhoe && t.word == "rear" && toks[i+1].word == "bucket" {
					toks[i+1].word = "hoe"
				}
				t.kind = kFiller
			}
		case t.kind.in(kPlain, kFiller, kOther) && (t.raw == "take" || t.raw == "took" || t.raw == "pull" || t.raw == "pulled"):
			if n := next(i); n == kLock || n == kDet && lockAhead(toks, i) {
				t.kind, t.word = kNeg, "no" // "pulled the lock bar"
				break
			}
			// "take the strap off"
			for k := i + 1; k < len(toks) && k < i+6; k++ {
				if toks[k].kind.in(kSep, kLine, kStop, kPart) {
					break
				}
				if toks[k].raw == "off" && toks[k].kind.in(kFiller, kState) {
					t.kind, t.word, toks[k].kind = kGone, "taken off", kFiller
					break
				}
			}
		case t.kind == kFiller && t.raw == "out":
			if j, k := prev(i); k == kLock || k == kBe && j > 0 && toks[j-1].kind == kLock {
				t.kind, t.word = kState, "not locked"
			}
		case t.kind == kEnd && t.word == "middle":
			// "center pinned", "pinned in the middle": the joint
			for k := i + 1; k < len(toks) && k < i+3; k++ {
				if toks[k].kind == kState && (toks[k].word == "locked" || toks[k].word == "not locked") {
					t.kind, t.word = kJoint, "joint"
				}
				if toks[k].kind != kBe {
					break
				}
			}
			for k := i - 1; k >= 0 && k > i-4; k-- {
				if toks[k].kind == kState && toks[k].word == "locked" {
					t.kind, t.word = kJoint, "joint"
				}
				if !toks[k].kind.in(kDet, kOn) {
					break
				}
			}
		case t.kind == kAsk && loaded:
			if _, k := prev(i); k.in(kState, kLock) || next(i) != kNone && k.in(kGrade, kSize, kMass, kBig) {
				t.kind, t.word = kHedge, "?" // asked in passing: not sure of it
			}
		case t.kind == kOn && (t.raw == "in" || t.raw == "on"):
			// "lock bar in", "steering lock is in"
			j, k := prev(i)
			for k.in(kBe, kNeg, kAll) {
				j, k = prev(j)
			}
			switch next(i) {
			case kDet, kIt, kThem, kRing, kOther, kPlain:
			default:
				if k == kLock {
					t.kind, t.word = kState, "locked"
				}
			}
		case t.kind == kGone && (t.word == "taken off" || t.word == "came off"):
			if _, k := prev(i); (k == kPart || k == kBe && partBefore(toks, i)) && t.word == "taken off" {
				t.kind, t.word = kState, "off"
			}
		case t.kind == kRoad && t.word == "at" && next(i) != kNone && t.raw != "":
			t.kind = kUnit
		}
	}
}

// lockAhead says whether a lock of the joint is the noun after token i.
func lockAhead(toks []tok, i int) bool {
	for i++; i < len(toks); i++ {
		switch toks[i].kind {
		case kDet, kFiller, kDecor:
			continue
		}
		return toks[i].kind == kLock
	}
	return false
}

// partBefore says whether the noun before i, a verb aside, is a part.
func partBefore(toks []tok, i int) bool {
	for i--; i >= 0; i-- {
		switch toks[i].kind {
		case kBe, kFiller, kDecor, kDet:
			continue
		case kPart:
			return true
		}
		return false
	}
	return false
}
