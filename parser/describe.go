package parser

import (
	"halfweight/rules/load"
)

// describe reads what is told of articles and tie-downs in tokens from..to.
func (r *reader) describe(from, to int) {
	r.troubles(from, to)
	for _, p := range phrases(r.toks, r.sig[from:to]) {
		a, b := from+p.Pos.Offset, from+p.EndPos.Offset
		if b <= a {
			b = to
		}
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
			r.ownAll(a, b, OwnPhrase) // a grade stamped on a hook or binder is that part's
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
		case kCount:
			r.counted(i, false)
		case kTimes:
			r.counted(i, true)
		case kNum:
			r.bareNumber(i)
		case kSize:
			if k := r.kindAt(i + 1); k.in(kTens, kHook, kRing) || k == kGrade && r.kindAt(i+2).in(kHook, kRing, kTens) {
				r.own(i, OwnPhrase) // "with 3/8 binders", "5/16 g70 hooks": that part's size
				continue
			}
			if r.kindAt(i+1) == kTo && r.kindAt(i+2) == kSize && r.kindAt(i+3) == kTens {
				// "5/16 to 3/8 binders": a size label
				if c := r.lastOrOpen(); c != nil {
					c.tie.Tensioner.Has, c.tie.Tensioner.Label = load.Yes, t.word+"-"+r.t(i+2).word
				}
				r.ownAll(i, i+4, OwnFact)
				r.skip = i + 4
				continue
			}
			if r.kindAt(i+1).in(kLong, kWide) {
				r.inchesLong(i)
				continue
			}
			r.sized(i)
		case kGrade:
			switch r.kindAt(i + 1) {
			case kHook, kRing:
				r.own(i, OwnPhrase) // "with grade 70 hooks": the hook's stamp
				continue
			case kTens:
				r.own(i, OwnPhrase) // "g70 binders"
				continue
			}
			r.graded(i)
		case kMat:
			if k := r.kindAt(i - 1); t.word == "unmarked" && (k.in(kTens, kHook, kRing) || k == kBe && r.nearFitting(i-1)) {
				r.own(i, OwnPhrase) // the binder's stamp
				continue
			}
			if r.kindAt(i-1) == kOf && r.kindAt(i-2) == kKind && cargoKind(r.t(i-2).word) {
				r.own(i, OwnPhrase) // "spool of cable"
				continue
			}
			r.material(i)
		case kRoute:
			if t.word == "over" && r.kindAt(i+1).in(kHedge, kMass, kBig) {
				continue // "over 14000 lb": more than
			}
			r.routed(i)
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
		case kKind:
			r.noun(i)
		case kRest:
			// "the rest direct at the corners": the total less what was told
			switch r.kindAt(i + 1) {
			case kRoute, kOn, kSpread, kEnd, kBe, kCorner:
				if r.tiesTold() {
					r.fresh().rest = true
					r.own(i, OwnFact)
				}
			}
		case kOther, kPlain:
			if r.kindAt(i-1) == kOf && r.kindAt(i-2) == kKind && cargoKind(r.t(i-2).word) {
				r.own(i, OwnPhrase) // "pallet of blocks": what it is made of
			}
		case kHaul:
			if r.kindAt(i+1).in(kNum, kBig, kOther) {
				r.ownAll(i, i+2, OwnPhrase) // "job 1187"
				r.skip = i + 2
			}
		case kBends:
			r.article().Articulated = load.Yes
			if t.word == "no" {
				r.cur.Articulated = load.No
			}
			r.lastPart = -1
			r.own(i, OwnFact)
		case kStill:
			r.article().Still = true
			r.own(i, OwnFact)
		case kWheels:
			r.article().OnWheels = load.Yes
			if t.word == "no" {
				r.cur.OnWheels = load.No
			}
			r.own(i, OwnFact)
		case kBare:
			if p := r.partInHand(); p != nil {
				p.Tied = load.No
			} else if r.cl == nil && (r.cur == nil || len(r.cur.clauses) == 0) {
				r.article().Bare = true
			} else {
				continue
			}
			r.own(i, OwnFact)
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
		case kGuard, kLink, kTail:
			if r.tiesTold() {
				r.own(i, OwnPhrase)
			}
		case kExtra:
			if t.raw == "spare" {
				r.aside = true // it lies there, it is not on
			}
			if t.raw == "another" || t.raw == "one" {
				r.one(i)
			}
			r.own(i, OwnPhrase)
		case kDet:
			if t.raw == "a" || t.raw == "an" {
				r.one(i)
			}
		case kCmd:
			switch {
			case t.word == "add":
				r.add = true
				r.own(i, OwnPhrase)
			case t.word == "trailer" && (r.kindAt(i+1) == kRing || r.kindAt(i-1).in(kDet, kOn)):
				r.own(i, OwnPhrase)
			}
		case kRoad:
			if t.word == "checked" && r.tiesTold() {
				r.own(i, OwnPhrase)
			}
		case kUnsure:
			r.unsure(i, b)
		case kQuery, kThem:
			if t.kind == kThem {
				r.them = r.cl == nil && len(r.arts) == 0
			}
			if r.begun() || r.them {
				r.own(i, OwnPhrase)
			}
		}
	}
}

// unsure reads "dunno the grade", "dont know if 80 or 100": the grade of the
// clause before is not read.
func (r *reader) unsure(i, b int) {
	c := r.namedClause()
	if c == nil || r.kindAt(r.past(i+1, kQuery, kDet, kIt, kBe, kOr)).in(kPart, kJoint, kLock, kState) {
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
		k := r.past(i+1, kIt, kBe, kCorrect, kThem)
		if c := r.lastOrOpen(); c != nil && (r.kindAt(k).in(kSize, kGrade) || r.kindAt(k) == kRoute && r.t(k).word != "?") {
			// "3/8, i mean 5/16": the last one told stands
			switch x := r.t(k); x.kind {
			case kSize:
				c.tie.Size, c.tie.SizeWord, c.named = x.size, x.word, true
			case kGrade:
				c.tie.Grade, c.named = readGrade(x.word), true
			case kRoute:
				c.tie.Route, c.routes = load.Route(x.word), 1
			}
			r.ownAll(i, k, OwnPhrase)
			r.own(k, OwnFact)
			r.skip = k + 1
			return
		}
		if r.begun() {
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
