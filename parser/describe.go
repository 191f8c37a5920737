package parser

import (
	"halfweight/rules/load"
)

// describe reads what is told of articles and tie-downs in tokens from..to.
func (r *reader) describe(from, to int) {
	r.troubles(from, to)
	for _, p := range phrases(r.toks, r.sig[from:to]) {
		a, b := from+p.from, from+p.to
		if r.skip > a {
			if r.skip >= b {
				continue
			}
			a = r.skip
		}
		switch {
		case p.Words:
			r.words(a, b)
		case p.Rating:
			r.rating(a, b)
		case p.Graded:
			r.stampedGrade(a, b)
		case p.Weight:
			r.weightPhrase(a, b)
		case p.Blocks:
			r.blocks(a, b)
		case p.Extent:
			r.extent(a, b)
		case p.Held:
			r.held(a, b)
		case p.Locked:
			r.lockedPhrase(a, b)
		case p.Fixed:
			r.fixed(a, b)
		default:
			r.lone(a)
		}
	}
	r.close()
}

// words reads a run of words that begin no longer phrase.
func (r *reader) words(a, b int) {
	for i := a; i < b; i++ {
		if i < r.skip {
			continue
		}
		r.pos = i
		switch t := r.t(i); t.kind {
		case kTaken:
			r.attachAt(i)
		case kCount, kTimes:
			r.counted(i, t.kind == kTimes)
		case kNum:
			r.bareNumber(i)
		case kSize:
			r.sizeWord(i)
		case kGrade:
			if n, ok := r.stampAt(i); ok {
				r.skip = n
			} else if r.kindAt(i+1) == kRing {
				r.own(i, OwnPhrase) // "g70 rings"
			} else {
				r.graded(i)
			}
		case kMat:
			r.materialWord(i)
		case kRoute:
			if t.word != "over" || !r.kindAt(i+1).in(kHedge, kMass, kBig) { // not "over 14000 lb": more than
				r.routed(i)
			}
		case kEnd, kSide, kCorner, kSpread, kSpreadOne, kNose:
			r.placeWord(i)
		case kKind:
			r.noun(i)
		case kCargo:
			r.cargoWord(i)
		case kBends, kStill, kWheels, kBare:
			r.trait(i)
		case kRest:
			r.restOfThem(i)
		case kOther, kPlain:
			if r.madeOf(i) {
				r.own(i, OwnPhrase) // "pallet of blocks"
			}
		case kHaul:
			if r.kindAt(i+1).in(kNum, kBig, kOther) {
				r.ownAll(i, i+2, OwnPhrase) // "job 1187"
				r.skip = i + 2
			}
		case kFrom:
			if n := r.fromTo(i); n > i {
				r.skip = n
			}
		case kIt:
			r.overIt(i)
		case kAll:
			r.allOf(i)
		case kEach:
			r.eachOf(i)
		case kSame:
			r.same(i)
		default:
			r.smallWord(i, b)
		}
	}
}

// sizeWord takes a size: of a tie-down, of what it is fitted with, or a length.
func (r *reader) sizeWord(i int) {
	next := r.kindAt(i + 1)
	switch {
	case r.across(i):
	case next == kRing, next == kGrade && r.kindAt(i+2) == kRing:
		r.own(i, OwnPhrase) // "1/2 d rings": the ring's own size
	case next == kTo && r.kindAt(i+2) == kSize && r.kindAt(i+3) == kTens:
		// "5/16 to 3/8 binders": a size label
		if c := r.lastOrOpen(); c != nil {
			c.tie.Tensioner.Has, c.tie.Tensioner.Label = load.Yes, r.t(i).word+"-"+r.t(i+2).word
		}
		r.ownAll(i, i+4, OwnFact)
		r.skip = i + 4
	case next.in(kLong, kWide):
		r.inchesLong(i)
	default:
		if n, ok := r.stampAt(i); ok {
			r.skip = n
			return
		}
		r.sized(i)
	}
}

// materialWord takes a word for what a tie-down is made of, or tells that it is
// said of something else.
func (r *reader) materialWord(i int) {
	before := r.kindAt(i - 1)
	switch {
	case r.t(i).word == "unmarked" && (before.in(kTens, kHook, kRing) || before == kBe && r.nearFitting(i-1)):
		r.own(i, OwnPhrase) // the binder's stamp
	case r.madeOf(i), r.cl == nil && r.t(i).plural && r.kindAt(i+1) == kSep && r.t(i+1).word == ":" && r.kindAt(i+2).in(kNum, kCount) && r.kindAt(i+3).in(kSize, kGrade):
		r.own(i, OwnPhrase) // "spool of cable", "chains: 4 x 3/8 g70"
	default:
		r.material(i)
	}
}

// madeOf says whether the word at i tells what an article is made of: "pallet
// of blocks".
func (r *reader) madeOf(i int) bool {
	return r.kindAt(i-1) == kOf && r.kindAt(i-2) == kKind && cargoKind(r.t(i-2).word)
}

// placeWord takes a word for a place.
func (r *reader) placeWord(i int) {
	switch t := r.t(i); t.kind {
	case kEnd:
		r.placed(i, load.Place{End: t.word})
	case kSide:
		r.placed(i, load.Place{Side: t.word})
	case kCorner:
		r.placed(i, cornerPlace(t.word))
	case kSpread:
		r.spread(i)
	case kSpreadOne:
		if r.kindAt(i-1) == kEach {
			r.placed(i, load.Place{Spread: "corners"})
		} else {
			r.own(i, OwnPhrase)
		}
	case kNose:
		r.own(i, OwnPhrase) // the machine's own end: which way it faces is not told
	}
}

// trait takes a word for what the article is like, or that nothing holds it.
func (r *reader) trait(i int) {
	t := r.t(i)
	yes := tri(t.word != "no")
	switch t.kind {
	case kBends:
		r.article().Articulated = yes
		r.lastPart = -1
	case kStill:
		r.article().Still = true
	case kWheels:
		r.article().OnWheels = yes
	case kBare:
		if p := r.partInHand(); p != nil {
			p.Tied = load.No
		} else if r.cl == nil && (r.cur == nil || len(r.cur.clauses) == 0) {
			r.article().Bare = true
			if r.says(i, "strap") {
				r.bareOf = load.Webbing
			}
		} else {
			return // tie-downs are told: it is not clear of what
		}
	}
	r.own(i, OwnFact)
}

// restOfThem reads "the rest direct at the corners": the total less what was
// told of it.
func (r *reader) restOfThem(i int) {
	if r.kindAt(i+1).in(kRoute, kOn, kSpread, kEnd, kBe, kCorner) && r.tiesTold() {
		r.fresh().rest = true
		r.own(i, OwnFact)
	}
}

// smallWord takes a word that tells little by itself.
func (r *reader) smallWord(i, b int) {
	switch t := r.t(i); t.kind {
	case kGuard:
		if c := r.lastOrOpen(); c != nil {
			c.tie.State.Guarded = load.Yes
			r.own(i, OwnFact)
		}
	case kLink, kTail:
		if r.tiesTold() {
			r.own(i, OwnPhrase)
		}
	case kExtra:
		if t.raw == "spare" {
			r.aside = true // it lies there, it is not on
		}
		if t.raw == "another" || t.raw == "one" {
			if r.add && r.kindAt(i+1).in(kNone, kSep, kStop, kLine, kRoute, kOn) {
				r.oneMore() // "added another"
			}
			r.one(i)
		}
		r.own(i, OwnPhrase)
	case kDet:
		if t.raw == "a" || t.raw == "an" {
			r.one(i)
		}
	case kCmd:
		if t.word == "add" {
			r.add = true
			r.own(i, OwnPhrase)
		} else if t.word == "trailer" && (r.kindAt(i+1) == kRing || r.kindAt(i-1).in(kDet, kOn)) {
			r.own(i, OwnPhrase)
		}
	case kRoad:
		if t.word == "checked" && r.tiesTold() {
			r.own(i, OwnPhrase)
		}
	case kMiles:
		if r.begun() {
			r.own(i, OwnPhrase) // "20 miles to go"
		}
	case kUnsure:
		r.unsure(i, b)
	case kThem:
		r.them = !r.begun()
		r.own(i, OwnPhrase)
	case kQuery:
		if t.word != "better" && (r.begun() || r.them) {
			r.own(i, OwnPhrase)
		}
	}
}

// unsure reads "dunno the grade", "dont know if 80 or 100": the grade of the
// clause before is not read.
func (r *reader) unsure(i, b int) {
	c := r.namedClause()
	if r.t(i).word == "weight" {
		r.doubtWeight(i)
		return
	}
	if c == nil || c.tie.Material != "" && c.tie.Material != load.Chain || r.kindAt(r.past(i+1, kQuery, kDet, kIt, kBe, kOr)).in(kPart, kJoint, kLock, kState) {
		return // of that, not of the grade
	}
	k := i + 1
	for ; k < b; k++ {
		switch t := r.t(k); t.kind {
		case kGrade, kOr, kDet, kBe, kIt, kGradeWord, kThem, kOf, kQuery:
			continue
		case kNum:
			if gradeValue(t.num) != "" {
				continue
			}
		}
		break
	}
	c.tie.Grade = load.Grade{}
	r.ownAll(i, k, OwnFact)
	r.skip = k
}

// lone reads a token that began a phrase and found none.
func (r *reader) lone(i int) {
	switch t := r.t(i); t.kind {
	case kMass:
		r.mass(i, t.weight, false, false)
	case kBig:
		r.weighs(i, t.weight, false, false)
	case kTens:
		r.tensioner(i)
	case kHook, kRing:
		r.lastFitting = t.kind
		if r.begun() {
			r.own(i, OwnPhrase)
		}
	case kState:
		r.loneState(i)
	case kLength:
		r.extent(i, i+1)
	case kCorrect:
		if !r.putRight(i) && r.begun() {
			r.own(i, OwnPhrase)
		}
	case kWeigh, kLong, kRated, kWide:
		if t.kind == kRated {
			if t.word != "breaking" {
				r.own(i, OwnPhrase) // "the boss says": no figure behind it
			}
			return
		}
		if r.begun() {
			r.own(i, OwnPhrase)
		}
	}
}
