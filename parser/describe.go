package parser

import (
	"math/bits"
	"strings"

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
			if k := r.kindAt(i + 1); k == kTens || k == kHook || k == kRing || k == kGrade && (r.kindAt(i+2) == kHook || r.kindAt(i+2) == kRing || r.kindAt(i+2) == kTens) {
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
			if k := r.kindAt(i + 1); k == kLong || k == kWide {
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
			if k := r.kindAt(i - 1); t.word == "unmarked" && (k == kTens || k == kHook || k == kRing || k == kBe && r.nearFitting(i-1)) {
				r.own(i, OwnPhrase) // the binder's stamp
				continue
			}
			if r.kindAt(i-1) == kOf && r.kindAt(i-2) == kKind && cargoKind(r.t(i-2).word) {
				r.own(i, OwnPhrase) // "spool of cable"
				continue
			}
			r.material(i)
		case kRoute:
			if t.word == "over" && (r.kindAt(i+1) == kHedge || r.kindAt(i+1) == kMass || r.kindAt(i+1) == kBig) {
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
				if r.cl != nil || r.lastClause() != nil {
					r.fresh().rest = true
					r.own(i, OwnFact)
				}
			}
		case kOther, kPlain:
			if r.kindAt(i-1) == kOf && r.kindAt(i-2) == kKind && cargoKind(r.t(i-2).word) {
				r.own(i, OwnPhrase) // "pallet of blocks": what it is made of
			}
		case kHaul:
			if k := r.kindAt(i + 1); k == kNum || k == kBig || k == kOther {
				r.ownAll(i, i+2, OwnPhrase) // "job 1187"
				r.skip = i + 2
			}
		case kBends:
			r.article().Articulated = load.Yes
			if t.word == "no" {
				r.cur.Articulated = load.No
			}
			r.onPart = false
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
			if r.onPart && r.lastPart >= 0 {
				r.cur.Parts[r.lastPart].Tied = load.No
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
			if r.cl != nil || r.lastClause() != nil {
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
			case t.word == "trailer" && (r.kindAt(i+1) == kRing || r.kindAt(i-1) == kDet || r.kindAt(i-1) == kOn):
				r.own(i, OwnPhrase)
			}
		case kRoad:
			if t.word == "checked" && (r.cl != nil || r.lastClause() != nil) {
				r.own(i, OwnPhrase)
			}
		case kUnsure:
			r.unsure(i, b)
		case kQuery, kThem:
			if t.kind == kThem {
				r.them = r.cl == nil && len(r.arts) == 0
			}
			if len(r.arts) > 0 || r.cl != nil || r.them {
				r.own(i, OwnPhrase)
			}
		}
	}
}

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
}

// bareNumber settles a number with no unit: a count, a count of binders, a
// grade, or unread.
func (r *reader) bareNumber(i int) {
	t := r.t(i)
	next := r.kindAt(i + 1)
	whole := t.num%load.One == 0 && t.num <= maxCount*load.One
	if g := gradeValue(t.num); g != "" && t.num >= 30*load.One {
		c := r.cl
		if c == nil || !c.named {
			c = r.lastClause()
		}
		chain := c != nil && (c.tie.Material == load.Chain || c.tie.Material == "") && c.tie.Grade.Reading == load.NotRead
		if r.hedged(i) && chain {
			r.own(i, OwnFact) // "I think they are 70": not read
			return
		}
		if chain && r.kindAt(i-1) == kRated && !r.nearFitting(i-1) {
			c.tie.Grade, c.named = load.Grade{Value: g, Reading: load.Read}, true
			r.own(i-1, OwnPhrase)
			r.own(i, OwnFact)
			return
		}
	}
	if g := gradeValue(t.num); g != "" && r.kindAt(i-1) == kSize && t.num >= 30*load.One && r.cl != nil && r.cl.tie.Grade.Reading == load.NotRead {
		t.word = g
		r.graded(i)
		return
	}
	if !whole || r.kindAt(i-1) == kCount || t.num > 24*load.One && !r.coreAhead(i+1) {
		return
	}
	if next == kTens && (r.kindAt(i+2) == kBe || r.kindAt(i+2) == kRated || r.ratedAhead(i+2)) {
		return // "one binder is a 5400"
	}
	if next == kTens {
		k := i + 1
		c := r.cl
		if c == nil {
			c = r.lastClause()
		}
		if c != nil && r.t(k).word != "ratchet" {
			switch {
			case r.kindAt(k+1) == kEach:
			case r.kindAt(i-1) == kWith || len(r.article().clauses) == 0:
				c.binders = int(t.num / load.One)
			default:
				r.article().binders = int(t.num / load.One) // of all told so far
			}
			r.own(i, OwnFact)
			return
		}
		if c == nil {
			return
		}
	}
	k := i + 1
	for k < len(r.sig) {
		switch r.kindAt(k) {
		case kExtra, kOf, kDet, kTaken:
			k++
			continue
		}
		break
	}
	switch r.kindAt(k) {
	case kSize, kGrade, kMat, kRoute, kEnd, kSide, kCorner, kSpread, kSpreadOne, kGradeWord:
		r.counted(i, false)
	case kThem:
		// "one of them on the bucket"
		if r.cl != nil || r.lastClause() != nil {
			r.counted(i, false)
			r.open().ofThem = true
			r.ownAll(i+1, k+1, OwnPhrase)
		}
	case kNone:
		if r.add {
			r.counted1(i)
		} else if c := r.cl; c != nil && c.named && !c.told {
			r.counted(i, true)
		}
	case kOn, kEach:
		if r.kindAt(k) == kOn && (r.kindAt(k+1) == kSize || r.kindAt(k+1) == kGrade) {
			r.own(k, OwnPhrase) // "4 @ 3/8 g70"
			r.counted(i, false)
			return
		}
		at := k + 1
		for r.kindAt(at) == kDet || r.kindAt(at) == kOn {
			at++
		}
		switch r.kindAt(at) {
		case kPart, kJoint, kEnd, kSide, kCorner, kSpread, kSpreadOne:
			if r.cl != nil || r.lastClause() != nil || len(r.arts) > 0 {
				r.counted(i, false)
			}
			return
		}
		if r.kindAt(k) == kEach {
			r.counted(i, false)
		}
	case kSep, kLine:
		// "3/8 g70 direct, 4": a count that trails
		if c := r.cl; c != nil && c.named && !c.told {
			r.counted(i, true)
		}
	}
}

// counted1 counts "add 2": more of the kind told last.
func (r *reader) counted1(i int) {
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
		k := i + 2
		for r.kindAt(k) == kDet {
			k++
		}
		if x := r.kindAt(k); x == kRoute || x == kSide || x == kRing {
			r.own(i, OwnPhrase) // "both ends on the same rail": the chain's own ends
			return
		}
	}
	r.placed(i, load.Place{Spread: t.word})
	if r.cl == nil && r.lead != nil && each {
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
		if c.told && c.count != n && r.opens(i) && c.named {
			p := *c.place()
			c.places = c.places[:len(c.places)-1]
			c = r.fresh()
			c.places = append(c.places, p)
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
	offs := offsets(r.text)
	s := lower(r.text[offs.at(r.t(i).at):offs.at(r.t(i).end)])
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
		if r.onPart && r.lastPart >= 0 && r.cl != nil && r.cur != nil {
			r.cl.places = append(r.cl.places, load.Place{On: r.cur.Parts[r.lastPart].Name})
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
	for r.kindAt(k) == kBe || r.kindAt(k) == kDet || r.kindAt(k) == kThem || r.kindAt(k) == kOn {
		k++
	}
	if r.cl == nil && r.lastClause() == nil {
		if n := r.kindAt(k); n == kEnd || n == kSide {
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
				}
				took = true
			case kGrade:
				if c.tie.Grade.Reading == load.NotRead && c.tie.Grade.Value == "" {
					c.tie.Grade, c.named = load.Grade{Value: t.word, Reading: load.Read}, true
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
		if offs := offsets(r.text); r.kindAt(i-1) == kNum && len(lower(r.text[offs.at(r.t(i).at):offs.at(r.t(i).end)])) > 6 && c.told && len(c.places) == 0 {
			c.count *= 2
		}
		r.own(i, OwnPhrase)
	} else if len(r.arts) > 0 || r.lastClause() != nil {
		r.own(i, OwnPhrase)
	}
}

// unsure reads "dunno the grade", "dont know if 80 or 100": the grade of the
// clause before is not read.
func (r *reader) unsure(i, b int) {
	c := r.cl
	if c == nil || !c.named {
		c = r.lastClause()
	}
	k := i + 1
	for r.kindAt(k) == kQuery || r.kindAt(k) == kDet || r.kindAt(k) == kIt || r.kindAt(k) == kBe || r.kindAt(k) == kOr {
		k++
	}
	switch r.kindAt(k) {
	case kPart, kJoint, kLock, kState:
		return // of that, not of the grade
	}
	if c == nil {
		return
	}
	k = i + 1
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
		if len(r.arts) > 0 || r.cl != nil {
			r.own(i, OwnPhrase)
		}
	case kState:
		r.loneState(i)
	case kLength:
		r.extent(i, i+1)
	case kCorrect:
		k := i + 1
		for r.kindAt(k) == kIt || r.kindAt(k) == kBe || r.kindAt(k) == kCorrect || r.kindAt(k) == kThem {
			k++
		}
		if c := r.lastOrOpen(); c != nil && (r.kindAt(k) == kSize || r.kindAt(k) == kGrade || r.kindAt(k) == kRoute && r.t(k).word != "?") {
			// "3/8, i mean 5/16": the last one told stands
			switch x := r.t(k); x.kind {
			case kSize:
				c.tie.Size, c.tie.SizeWord, c.named = x.size, x.word, true
			case kGrade:
				c.tie.Grade, c.named = load.Grade{Value: x.word, Reading: load.Read}, true
			case kRoute:
				c.tie.Route, c.routes = load.Route(x.word), 1
			}
			r.ownAll(i, k, OwnPhrase)
			r.own(k, OwnFact)
			r.skip = k + 1
			return
		}
		if len(r.arts) > 0 || r.cl != nil {
			r.own(i, OwnPhrase)
		}
	case kWeigh, kLong, kRated, kWide:
		if t.kind == kRated {
			if t.word != "breaking" {
				r.own(i, OwnPhrase) // "the boss says": no figure behind it
			}
			return
		}
		if len(r.arts) > 0 || r.cl != nil {
			r.own(i, OwnPhrase)
		}
	}
}

// tensioner reads a binder or ratchet told without its rating.
func (r *reader) tensioner(i int) {
	t := r.t(i)
	r.lastFitting = kTens
	c := r.cl
	if c == nil || !c.named && !c.told {
		c = r.lastClause()
	}
	if c == nil {
		return
	}
	if c.tie.Tensioner.Has == load.Untold {
		c.tie.Tensioner.Has = load.Yes
	}
	if c.tie.Tensioner.Kind == "" {
		c.tie.Tensioner.Kind = t.word
	}
	r.own(i, OwnFact)
	if r.kindAt(i+1) == kEach {
		r.own(i+1, OwnPhrase)
	}
}

// mass reads a mass: the article's weight, unless something else stands right
// behind it.
func (r *reader) mass(i int, w load.Weight, hedge, told bool) {
	switch r.kindAt(i + 1) {
	case kMat, kTens, kHook, kRing, kOf:
		if !told {
			return // "5400 lb straps": not the article's
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
	for k := a - 1; k >= 0 && k >= a-4; k-- {
		switch r.t(k).kind {
		case kIt, kBe, kDet, kThem, kWeigh:
			continue
		case kHedge, kDoubt:
			r.own(k, OwnPhrase)
			return true
		}
		return false
	}
	return false
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
		art.Length = r.t(at).size
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
		art.Length = r.t(i).size
		r.ownAll(i, i+2, OwnFact)
		r.skip = i + 2
	}
}

// fixed reads a figure put right within the message: "3, no wait 4", "sorry
// 12000". The last figure stands.
func (r *reader) fixed(a, b int) {
	i := b - 1
	t := r.t(i)
	switch t.kind {
	case kNum, kCount:
		c := r.cl
		if c == nil || !c.told {
			if l := r.lastClause(); l != nil && l.told && (c == nil || !c.named) {
				c = l
			}
		}
		if c != nil && c.told && t.num%load.One == 0 && t.num <= maxCount*load.One {
			c.count = int(t.num / load.One)
			r.ownAll(a, b, OwnFact)
			return
		}
	case kBig, kMass:
		if r.cur != nil && r.cur.Weight.Known() {
			r.cur.Weight = t.weight
			r.ownAll(a, b, OwnFact)
			return
		}
		if r.weight != nil {
			*r.weight = t.weight
			r.ownAll(a, b, OwnFact)
			return
		}
	}
	if r.lastClause() == nil && r.cl == nil && len(r.arts) == 0 {
		return // an answer or a correction of what was told before
	}
	if t.kind == kNum || t.kind == kCount {
		if k := r.kindAt(a - 1); (k == kNum || k == kCount) && r.t(a-1).owner == "" {
			r.own(a-1, OwnPhrase) // "3, no wait 4": the last figure stands
		} else if k := r.kindAt(a - 2); r.kindAt(a-1) == kSep && (k == kNum || k == kCount) && r.t(a-2).owner == "" {
			r.own(a-2, OwnPhrase)
		}
		r.ownAll(a, b-1, OwnPhrase)
		r.words(b-1, b)
		return
	}
	r.ownAll(a, b-1, OwnPhrase)
	r.weighs(i, t.weight, false, false)
}

// rating reads a rating told of a binder, hook, ring, or of the tie-down's own
// mark.
func (r *reader) rating(a, b int) {
	fitting, at, label, word := kNone, -1, -1, ""
	tens := ""
	for i := a; i < b; i++ {
		switch t := r.t(i); t.kind {
		case kTens:
			fitting, tens = kTens, t.word
		case kHook, kRing:
			fitting = t.kind
		case kMass, kBig:
			at = i
		case kLabel:
			label = i
		case kRated:
			word = t.word
		}
	}
	if c := r.lastOrOpen(); word == "breaking" {
		if c != nil && c.tie.Mark != 0 {
			r.ownAll(a, b, OwnPhrase) // told beside the working load limit
		}
		return // a breaking strength is no working load limit; the figure stays unread
	}
	if r.kindAt(b) == kRated && r.t(b).word == "breaking" && r.kindAt(b+1) != kMass && r.kindAt(b+1) != kBig {
		return // "tagged 10000 breaking"
	}
	if label >= 0 {
		e := load.Tensioner{Has: load.Yes, Kind: tens, Label: r.t(label).word}
		r.lastFitting = kTens
		r.fit(a, b, func(t *load.TieDown) {
			if t.Tensioner.Label == "" {
				t.Tensioner.Has, t.Tensioner.Label = load.Yes, e.Label
			}
			if t.Tensioner.Kind == "" {
				t.Tensioner.Kind = e.Kind
			}
		}, Edit{Set: load.TieDown{Tensioner: e}}, false)
		return
	}
	m := r.t(at).weight.Told
	if fitting != kNone && r.kindAt(at+1) == kWith {
		// "14000 with ratchet binders": the article's weight, and its binders
		r.weighs(at, r.t(at).weight, false, false)
		for i := at + 2; i < b; i++ {
			if r.t(i).kind == kTens {
				r.tensioner(i)
			}
		}
		return
	}
	if fitting == kNone && r.lastOrOpen() == nil && r.t(at).kind == kMass {
		for i := a; i < b; i++ {
			if r.t(i).kind == kIt {
				r.ownAll(a, b, OwnPhrase)
				r.t(at).owner = ""
				r.weighs(at, r.t(at).weight, false, true) // "he says its 14 tonnes"
				return
			}
		}
	}
	if fitting == kNone && r.kindAt(a-1) == kThem && (r.lastFitting == kTens) {
		fitting = kTens
	}
	if fitting == kNone && r.lastFitting != kNone && (r.lastFitting == kTens || r.lastFitting == kRing || r.lastFitting == kHook) && a > 0 && r.nearFitting(a) {
		fitting = r.lastFitting
	}
	if fitting != kNone {
		r.lastFitting = fitting
	}
	switch fitting {
	case kTens:
		r.fit(a, b, func(t *load.TieDown) {
			if t.Tensioner.Rating == 0 {
				t.Tensioner.Has, t.Tensioner.Rating = load.Yes, m
				if tens != "" {
					t.Tensioner.Kind = tens
				}
			}
		}, Edit{Set: load.TieDown{Tensioner: load.Tensioner{Has: load.Yes, Kind: tens, Rating: m}}}, false)
	case kHook:
		r.fit(a, b, func(t *load.TieDown) {
			if t.Hook == 0 {
				t.Hook = m
			}
		}, Edit{Set: load.TieDown{Hook: m}}, false)
	case kRing:
		r.fit(a, b, func(t *load.TieDown) {
			if t.Anchor == 0 {
				t.Anchor = m
			}
		}, Edit{Set: load.TieDown{Anchor: m}}, true)
	default:
		c := r.cl
		if c == nil || !c.named && !c.told {
			c = r.lastClause()
		}
		if c == nil {
			return // "they read 9200": only an open question says of what
		}
		if c.tie.Mark == 0 {
			c.tie.Mark = m
			r.ownAll(a, b, OwnFact)
		}
	}
}

// lastOrOpen is the clause being read, else the last one read.
func (r *reader) lastOrOpen() *clause {
	if r.cl != nil && (r.cl.named || r.cl.told) {
		return r.cl
	}
	return r.lastClause()
}

// nearFitting says whether the fitting told last stands right before token a.
func (r *reader) nearFitting(a int) bool {
	for k := a - 1; k >= 0 && k >= a-4; k-- {
		switch r.t(k).kind {
		case kTens, kHook, kRing:
			return true
		case kDet, kBe, kWith, kThem, kOn, kAnd, kSep, kIt, kRated, kGrade:
			continue
		}
		return false
	}
	return false
}

// fit applies a fitting's rating: to the clause it stands in when "with" or one
// clause says so, else to all clauses of the article that lack it; rings are
// the trailer's, so to all. With no tie-down in the message it is a Change.
func (r *reader) fit(a, b int, set func(*load.TieDown), e Edit, all bool) {
	r.ownAll(a, b, OwnFact)
	if k := a - 1; r.kindAt(k) == kNum && r.t(k).owner == "" && r.t(k).num <= 24*load.One && (len(r.arts) > 0 || r.cl != nil) {
		// "one binder is a 5400": of so many of them
		r.own(k, OwnFact)
		r.changes = append(r.changes, Change{Ref: Ref{Which: Some, Count: int(r.t(k).num / load.One)}, Edit: e})
		return
	}
	with := r.kindAt(a-1) == kWith || r.kindAt(a-1) == kDet && r.kindAt(a-2) == kWith || r.kindAt(a-1) == kEach
	if with && r.kindAt(a-1) == kDet {
		r.own(a-1, OwnPhrase)
	}
	if with && !all && r.cl != nil && (r.cl.named || r.cl.told) {
		set(&r.cl.tie)
		return
	}
	any := false
	if r.cl != nil && (r.cl.named || r.cl.told) {
		set(&r.cl.tie)
		any = true
	}
	for _, art := range r.arts {
		if art != r.cur {
			continue
		}
		for _, c := range art.clauses {
			set(&c.tie)
			any = true
		}
	}
	if any {
		if all {
			r.rings = append(r.rings, set)
		}
		return
	}
	r.fits = append(r.fits, fitted{set, Change{Ref: Ref{Which: All, Lacks: true}, Edit: e}})
}

// fitted is a rating told before any tie-down: of those that follow in this
// message, else of those told before it.
type fitted struct {
	set    func(*load.TieDown)
	change Change
}
