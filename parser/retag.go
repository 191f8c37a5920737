package parser

import "halfweight/rules/load"

// retag settles words that mean one thing in one company and another in
// another, before the grammar sees them.
func retag(toks []tok) {
	c := companyOf(toks)
	c.sames()
	c.placed()
	for i := range toks {
		switch t := &toks[i]; t.kind {
		case kKind:
			if t.word == "hoe" && (c.backhoe || c.onlyHeld(i)) || t.word == "loader" && c.tractor || t.word == "crane" && c.logger {
				t.kind = kPart // the back end of the backhoe, and the like
			}
		case kPart:
			if _, k := c.prev(i); t.word == "mower" && k == kMass && !c.kind {
				t.kind, t.word = kKind, "unknown" // "a 4000 lb mower" rides by itself
			}
		case kEnd:
			if i+1 < len(toks) && toks[i+1].kind == kPart {
				c.endOfPart(i)
			} else if t.word == "middle" {
				c.middle(i)
			} else if t.raw == "back" && c.tiedBack(i) {
				t.kind = kFiller
			}
		case kTens:
			if t.word == "ratchet" && c.wideRatchet(i) {
				t.kind, t.word = kMat, "ratchet strap"
			}
		case kPlain, kFiller, kOther:
			switch t.raw {
			case "take", "took", "pull", "pulled":
				c.takes(i)
			case "open":
				if j, k := c.prev(i); k == kTens || k == kBe && j > 0 && toks[j-1].kind == kTens {
					t.kind, t.word = kLoose, "loose" // "one binder is open"
				}
			case "out":
				if j, k := c.prev(i); t.kind == kFiller && (k == kLock || k == kBe && j > 0 && toks[j-1].kind == kLock) {
					t.kind, t.word = kState, "not locked"
				}
			}
		case kAsk:
			if _, k := c.prev(i); c.loaded && (k.in(kState, kLock) || c.next(i) != kNone && k.in(kGrade, kSize, kMass, kBig)) {
				t.kind, t.word = kHedge, "?" // asked in passing: not sure of it
			}
		case kOn:
			if t.raw == "in" || t.raw == "on" {
				c.lockIn(i)
			}
		case kGone:
			if _, k := c.prev(i); t.word == "taken off" && (k == kPart || k == kBe && partBefore(toks, i)) {
				t.kind, t.word = kState, "off"
			}
		case kState:
			switch {
			case t.word == "off":
				c.offOf(i)
			case t.raw == "hanging" || t.word == "down" && c.lying(i):
				c.hangs(i)
			}
		case kRoad:
			if t.word == "at" && t.raw != "" && c.next(i) != kNone {
				t.kind = kUnit
			}
		}
	}
	c.cargoCompany()
}

// company is what the words of a message stand among.
type company struct {
	toks                     []tok
	backhoe, tractor, logger bool // such a machine is named
	kind                     bool // an article is named
	loaded                   bool // a count and an article are told
	woven                    bool // a tie-down other than chain is named
}

func companyOf(toks []tok) company {
	c := company{toks: toks}
	counted, noun := false, false
	for i := range toks {
		switch t := &toks[i]; t.kind {
		case kKind:
			noun, c.kind = true, true
			switch t.word {
			case "backhoe":
				c.backhoe = true
			case "tractor":
				c.tractor = true
			case "forwarder", "harvester", "skidder":
				c.logger = true
			}
		case kMat:
			c.woven = c.woven || materials[t.word].material != load.Chain
		case kCount, kNum, kTimes:
			counted = true
		case kQuery:
			noun = false
		}
	}
	c.loaded = counted && noun
	return c
}

// onlyHeld says whether the hoe at i is told nothing but how it is held: "hoe
// chained", of the backhoe in hand.
func (c *company) onlyHeld(i int) bool {
	if !c.next(i).in(kState) {
		return false
	}
	for k := range c.toks {
		if k != i && c.toks[k].kind.in(kKind, kMass, kBig, kCount, kTimes, kSize, kGrade, kQuery, kAsk) {
			return false
		}
	}
	return true
}

// placed settles small words between a place and the tie-downs told there: "the
// front 2 are 3/8 g70", "two 3/8 g70 off the front".
func (c *company) placed() {
	if !c.loaded {
		return
	}
	for i := range c.toks {
		t := &c.toks[i]
		j, k := c.prev(i)
		switch {
		case t.kind == kBe && k.in(kNum, kEnd) && c.next(i) == kSize:
			if k == kNum {
				_, k = c.prev(j)
			}
			if k == kEnd {
				t.kind = kFiller
			}
		case t.raw == "off" && t.end-t.at == 3 && k.in(kNum, kCount, kSize, kGrade) && c.placeBehind(i) && !c.takenBefore(i):
			t.kind = kOn
		}
	}
}

// takenBefore says whether a word for taking away stands before token i.
func (c *company) takenBefore(i int) bool {
	for k := range c.toks[:i] {
		if t := &c.toks[k]; t.kind.in(kGone, kDoubt, kNeg) || t.raw == "take" || t.raw == "took" || t.raw == "pull" || t.raw == "pulled" {
			return true
		}
	}
	return false
}

// next is the kind of the significant token after i.
func (c *company) next(i int) kind {
	for i++; i < len(c.toks); i++ {
		if k := c.toks[i].kind; !k.in(kFiller, kDecor) {
			return k
		}
	}
	return kNone
}

// prev is the significant token before i, and its kind.
func (c *company) prev(i int) (int, kind) {
	for i--; i >= 0; i-- {
		if k := c.toks[i].kind; !k.in(kFiller, kDecor) {
			return i, k
		}
	}
	return -1, kNone
}

// endOfPart settles "front bucket chained": the end tells which of the
// machine's parts, no place.
func (c *company) endOfPart(i int) {
	j, k := c.prev(i)
	if k == kDet {
		_, k = c.prev(j)
	}
	bucket := c.backhoe && c.toks[i+1].word == "bucket"
	if !bucket && !k.in(kSep, kLine, kStop, kNone, kAnd, kWith, kState, kKind, kMass) {
		return
	}
	if part := &c.toks[i+1]; c.backhoe && c.toks[i].word == "rear" && part.word == "bucket" {
		part.word = "hoe"
	}
	c.toks[i].kind = kFiller
}

// tiedBack says whether the token is how a part is tied, "mast tied back", and no
// place of what is told next.
func (c *company) tiedBack(i int) bool {
	j, k := c.prev(i)
	return k == kState && c.toks[j].word == "tied" && partBefore(c.toks, j) && (i+1 == len(c.toks) || c.toks[i+1].kind.in(kSep, kLine, kStop, kAnd))
}

// wideRatchet settles "2x 3in ratchets": a ratchet spoken of by its width is a
// strap, where no strap is named that it could be of.
func (c *company) wideRatchet(i int) bool {
	j, k := c.prev(i)
	if c.woven || k != kSize || c.toks[j].size < load.Inch {
		return false
	}
	_, k = c.prev(j)
	return k != kWith
}

// middle settles "center pinned", "pinned in the middle": the joint.
func (c *company) middle(i int) {
	t, toks := &c.toks[i], c.toks
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
}

// takes settles "pulled the lock bar", which denies it, and "take the strap
// off".
func (c *company) takes(i int) {
	t, toks := &c.toks[i], c.toks
	if n := c.next(i); n == kLock || n == kDet && lockAhead(toks, i) {
		t.kind, t.word = kNeg, "no"
		return
	}
	for k := i + 1; k < len(toks) && k < i+6 && !toks[k].kind.in(kSep, kLine, kStop, kPart); k++ {
		if toks[k].raw == "off" && toks[k].kind.in(kFiller, kState) {
			t.kind, t.word, toks[k].kind = kGone, "taken off", kFiller
			return
		}
	}
}

// offOf settles "one is off", "not on yet": a tie-down that is not on, where no
// part is named that it could be said of.
func (c *company) offOf(i int) {
	t := &c.toks[i]
	j, k := c.prev(i)
	for k.in(kBe, kIt) {
		j, k = c.prev(j)
	}
	denied := t.raw != "off" && k.in(kNone, kSep, kLine, kStop, kAnd)
	if denied || k.in(kNum, kMat, kThem, kEnd, kSide, kCorner, kRest, kLast, kAll, kExtra, kTens) {
		t.kind, t.word = kGone, "taken off"
	}
}

// hangs settles "one chain is hanging", "one of them is lying on the deck": it
// does not hold.
func (c *company) hangs(i int) {
	j, k := c.prev(i)
	for k.in(kBe, kOther, kPlain) {
		j, k = c.prev(j)
	}
	if !k.in(kNum, kMat, kThem, kExtra) {
		return
	}
	t := &c.toks[i]
	if n := i + 1; t.raw == "hanging" && n < len(c.toks) && c.toks[n].word == "down" {
		c.toks[n].kind = kFiller
	}
	if t.kind, t.word = kLoose, "loose"; t.raw != "hanging" {
		t.kind, t.word = kGone, "taken off"
		for j++; j < i; j++ {
			if x := &c.toks[j]; x.kind.in(kOther, kPlain) {
				x.kind = kFiller
			}
		}
	}
}

// lying says whether "lying" or "laying" stands right before token i.
func (c *company) lying(i int) bool {
	j, _ := c.prev(i)
	return j >= 0 && (c.toks[j].raw == "lying" || c.toks[j].raw == "laying")
}

// lockIn settles "lock bar in", "steering lock is in".
func (c *company) lockIn(i int) {
	j, k := c.prev(i)
	for k.in(kBe, kNeg, kAll) {
		j, k = c.prev(j)
	}
	if k != kLock {
		return
	}
	if n := i + 1; n < len(c.toks) && c.toks[n].raw == "place" {
		c.toks[n].kind = kFiller // "lock bar is in place"
	}
	next := c.next(i)
	for n := i + 1; next == kDet && n+1 < len(c.toks); n++ {
		if c.toks[n].kind == kDet {
			next = c.toks[n+1].kind // "lock bar in a 3/8 g70 chain on each corner"
			if !next.in(kSize, kGrade) {
				next = kDet
			}
			break
		}
	}
	if !next.in(kDet, kIt, kThem, kRing, kOther, kPlain) {
		c.toks[i].kind, c.toks[i].word = kState, "locked"
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
