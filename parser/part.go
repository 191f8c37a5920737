package parser

import (
	"strings"

	"halfweight/rules/load"
)

// holding is what is told of how parts, locks and the joint are held, while it
// is read.
type holding struct {
	art    *article
	parts  []int    // those the next state is told of
	locks  []string // locks named, in or out not told yet
	joint  bool     // the next state is told of the joint
	neg    bool     // a denial waits for what it denies
	negAt  int      // its token; -1 none
	nor    bool     // "neither bucket nor boom": it denies the state of them all
	has    bool     // told with "with": the machine has it
	states int      // states told of the parts and locks in hand
	told   bool     // something is told of them
}

// afresh lays the parts and locks in hand aside: what follows is told of others.
func (h *holding) afresh() { h.parts, h.locks, h.joint, h.states = nil, nil, false, 0 }

// untie tells of the parts in hand that nothing holds them.
func (h *holding) untie(d *denied, parts ...int) {
	for _, k := range parts {
		h.art.Parts[k].Tied = load.No
		d.hold(h.art.Parts[k].Name)
	}
	h.neg, h.told = false, true
}

// held reads accessories and locks with how they are held: "bucket down and
// chained", "forks n mast chained", "blade not tied", "no ripper", "lock bar
// in", "steering locked", "joint not locked".
func (r *reader) held(a, b int) {
	h := holding{negAt: -1}
	if a = r.runsOver(&h, a, b); a >= b {
		return
	}
	r.close()
	h.art = r.article()
	if r.doubtful(a, b) {
		r.doubted(&h, a, b)
		return
	}
	h.nor = r.kindAt(a) == kNeg && r.t(a).raw == "neither"
	h.has = r.kindAt(a-1) == kWith
	for i := a; i < b; i++ {
		switch t := r.t(i); t.kind {
		case kNeg:
			h.neg, h.negAt = t.raw != "only" && t.raw != "but", i
			r.own(i, OwnPhrase)
		case kSep:
			if h.has && h.states == 0 && !r.hasAnd(i, b) {
				h.parts = nil // "with ripper, blade chained": the ripper is only spoken of
			}
		case kPart:
			r.heldPart(&h, i)
		case kJoint:
			if h.states == 0 || len(h.parts) > 0 { // not "locked at the joint"
				h.joint = true
				r.lastPart = -1
			}
		case kLock:
			r.heldLock(&h, i, i > a)
		case kState, kLoose, kGone:
			r.heldState(&h, t)
		case kMat:
			if h.neg {
				h.untie(&r.deny, h.parts...)
				h.states++
			}
		}
	}
	if h.states == 0 {
		r.onlyNamed(&h, b)
	}
	if n := len(h.parts); n > 0 && h.told && r.kindAt(b) == kWith {
		if p := &h.art.Parts[h.parts[n-1]]; p.Tied == load.Yes {
			r.nextOn, r.nextOnBy = p.Name, b+4 // "bucket chained with 3/8 g70"
		}
	}
	r.ownAll(a, b, OwnFact)
}

// runsOver takes "over the blade", "on the bucket": where a tie-down runs, if
// one is being read. What follows is told of that part. It returns the token
// after it.
func (r *reader) runsOver(h *holding, a, b int) int {
	k, on := r.placeOn(a, b)
	if k == a {
		return a
	}
	if r.denied(k, b) {
		// "1x 3/8 g70 over bucket not tied": where the chain runs is not told
		r.cl.places = r.cl.places[:len(r.cl.places)-1]
	}
	h.joint = on < 0
	if k < b && on >= 0 && !r.t(k).kind.in(kSep, kLine) {
		h.parts = append(h.parts, on)
	}
	return k
}

// doubted takes what is told as a wish, a plan or a doubt: the parts and locks
// are spoken of, nothing is told.
func (r *reader) doubted(h *holding, a, b int) {
	art := h.art
	if !r.has(a, b, kPart, kLock, kJoint) && r.lastPart >= 0 {
		r.deny.hold(art.Parts[r.lastPart].Name) // "over the blade, maybe chained"
	}
	r.aside = r.aside || !r.has(a, b, kPart, kLock, kJoint) // "tied to the hoses"
	for i := a; i < b; i++ {
		switch t := r.t(i); t.kind {
		case kPart:
			k := r.part(t)
			r.doubtPart(&art.Parts[k])
			r.lastPart = k
		case kLock:
			w, _ := t.lock()
			r.mention(art, h.parts, w, true)
			if art.Joint.Has {
				r.doubtJoint(art)
			}
		case kJoint:
			r.doubtJoint(art)
		}
	}
	r.ownAll(a, b, OwnPhrase)
}

// heldPart takes the part at i into hand, and what a denial right before it
// tells of it.
func (r *reader) heldPart(h *holding, i int) {
	if h.states > 0 {
		h.afresh() // a part told after a state
		h.told = false
	}
	k := r.part(r.t(i))
	p := &h.art.Parts[k]
	if h.has && h.states == 0 && r.kindAt(i-1) == kPart {
		h.parts = nil // "with ripper blade chained": the ripper is only spoken of
	}
	h.parts = append(h.parts, k)
	if w := r.surfaceOf(i); w != "" && p.Name == "attachment" {
		p.Word = w
	}
	r.lastPart = k
	if !h.neg {
		return
	}
	right, raw := h.negAt == i-1, r.t(h.negAt).raw
	switch {
	case right && (raw == "nor" || raw == "neither"):
		h.nor = true // "neither bucket nor boom chained": of the state that follows
	case right && r.kindAt(i+1) == kMat:
		h.untie(&r.deny, k) // "no blade chain"
		r.own(i+1, OwnFact)
		r.skip = i + 2
	case raw == "nothing" && (right || h.negAt == i-2 && r.kindAt(i-1) == kDet):
		h.untie(&r.deny, k) // "nothing holding the bucket"
	case right:
		p.Off = true
		h.neg, h.told = false, true
	}
}

// heldLock takes the lock at i: in or out where that is told with it, else it
// waits for a state. Behind says that it is not the first word of its phrase.
func (r *reader) heldLock(h *holding, i int, behind bool) {
	word, in := r.t(i).lock()
	ofJoint := word == "lock bar" || word == "steering lock" || word == "steering wheel"
	if ofJoint || h.states > 0 && !r.inBefore(i) && r.kindAt(i-1) != kAnd {
		h.afresh()
	}
	switch {
	case in || len(h.parts) > 0 && h.states == 0 && behind && r.inBefore(i):
		r.lock(h.art, h.parts, word, !h.neg)
		h.told, h.neg = true, false
		h.states++
	case h.neg:
		r.lock(h.art, h.parts, word, false)
		h.told, h.neg = true, false
	default:
		h.locks = append(h.locks, word)
	}
	if ofJoint {
		r.lastPart = -1
	}
}

// heldState lays the state t over what is in hand: the locks, else the joint
// and the parts.
func (r *reader) heldState(h *holding, t *tok) {
	h.states++
	h.told = true
	yes := !h.neg && !h.nor
	h.neg = false
	if t.kind == kState && t.word == "no joint lock" {
		// never the bucket's
		h.art.Joint.Locked, h.art.Joint.How, r.deny.joint = load.No, load.LockBar, true
		return
	}
	for _, w := range h.locks {
		in := t.kind == kState && (t.word == "locked" || t.word == "down" || t.word == "stowed" || t.word == "tied")
		r.lock(h.art, h.parts, w, in == yes)
	}
	if h.joint {
		r.jointState(h.art, t, yes)
	}
	if len(h.locks) > 0 {
		return
	}
	if len(h.parts) == 0 && !h.joint && r.lastPart >= 0 {
		h.parts = []int{r.lastPart} // "over the blade, nothing on it"
	}
	for _, k := range h.parts {
		r.partState(&h.art.Parts[k], t, yes)
	}
}

// onlyNamed takes locks told with no state, in the phrase that ends at b: the
// machine has them.
func (r *reader) onlyNamed(h *holding, b int) {
	for _, w := range h.locks {
		r.mention(h.art, h.parts, w, h.has)
		if h.art.Joint.Has && r.kindAt(b) == kOn || r.kindAt(b) == kBe && r.kindAt(b+1) == kOn {
			h.art.Joint = load.Joint{Has: true, Doubtful: true} // "the lock bar is in the cab"
		}
	}
}

// denied says whether tokens a..b tell of a part that it is not held.
func (r *reader) denied(a, b int) bool {
	// a word or two behind the phrase too: "over bucket is not tied down"
	for i := a; i < min(b+2, len(r.sig)); i++ {
		t := r.t(i)
		if t.kind.in(kSep, kLine) {
			return false
		}
		if t.kind.in(kNeg, kLoose, kBare) {
			return true
		}
		if t.kind == kState {
			switch t.word {
			case "not tied", "up", "hydraulics", "not locked", "free", "no lock", "no joint lock":
				return true
			}
		}
	}
	return false
}

// hasAnd says whether a list goes on to an "and" in tokens i..b.
func (r *reader) hasAnd(i, b int) bool {
	for ; i < b; i++ {
		switch r.t(i).kind {
		case kAnd:
			return true
		case kState:
			return false
		}
	}
	return false
}

// doubtful says whether what is told in tokens a..b is told as a wish, a plan or
// a doubt, by a word in it, before it or right behind it.
func (r *reader) doubtful(a, b int) bool {
	found := r.has(a, b, kHedge, kDoubt) || r.notNow(a, b)
	if k := r.backIn(a-1, 4, kDet, kIt, kQuery, kBe, kOr, kThem, kNeg, kCmd); r.kindAt(k).in(kHedge, kDoubt, kUnsure) {
		r.own(k, OwnPhrase)
		found = true
	}
	if r.kindAt(b).in(kHedge, kDoubt, kUnsure) {
		switch r.kindAt(b + 1) {
		case kSep, kLine, kStop, kNone, kCount, kNum, kKind, kPart, kState:
			r.own(b, OwnPhrase)
			found = true
		}
	}
	return found
}

// notNow says whether tokens a..b tell how a part was held, not how it is: "bucket
// was chained"; or that it is held to another part: "chained to the loader arms".
func (r *reader) notNow(a, b int) bool {
	for i := a; i < b; i++ {
		if t := r.t(i); t.kind == kBe && (t.raw == "was" || t.raw == "were") && i+1 < b && r.kindAt(i+1) == kState && holds(r.t(i+1).word) && !r.has(i+2, b, kLoose, kGone) {
			return true
		}
	}
	return b > a && r.kindAt(b) == kTo && r.kindAt(b-1) == kState && r.kindAt(r.past(b+1, kDet)) == kPart
}

// holds says whether a state tells that the part is held.
func holds(state string) bool { return state == "tied" || state == "locked" || state == "down" }

// placeOn reads a part told as where a tie-down runs. It returns the token
// after it, a when there is none, and the part's index, -1 for the joint.
func (r *reader) placeOn(a, b int) (next, part int) {
	c := r.cl
	if c == nil || !c.named && !c.told && c.routes == 0 && !c.through {
		return a, -1
	}
	k := r.back(a-1, kDet)
	switch r.kindAt(k) {
	case kRoute:
		if w := r.t(k).word; w == "direct" || w == "same side" {
			return a, -1 // "4x direct, bucket not tied"
		}
	case kOn, kTo:
	default:
		return a, -1
	}
	at := r.past(a, kDet)
	if at >= b {
		return a, -1
	}
	switch t := r.t(at); t.kind {
	case kPart:
		if after := r.kindAt(at + 1); at+1 < b && (after.in(kAnd, kPart)) {
			r.aside = r.aside || after == kPart // "two on the blade blade down"
			return a, -1                        // "over the forks and mast": no one place
		}
		c.places = append(c.places, load.Place{On: t.word})
		part = r.part(t)
		if w := r.surfaceOf(at); w != "" {
			r.cur.Parts[part].Word = w
		}
		r.lastPart = part
	case kJoint:
		c.places = append(c.places, load.Place{On: "joint"})
		part = -1
	default:
		return a, -1
	}
	r.ownAll(k, at+1, OwnFact)
	return at + 1, part
}

// part is the index of the article's part of that word, made if it is new.
func (r *reader) part(t *tok) int {
	art := r.article()
	for k := range art.Parts {
		if n := art.Parts[k].Name; n == t.word || t.word == "attachment" && english().tools[n] {
			return k // "the attachment" is the brush cutter told of before
		}
	}
	art.Parts = append(art.Parts, load.Part{Name: t.word, Word: t.word})
	art.lone = art.lone || !t.plural && !strings.HasSuffix(t.word, "s") // "forks" are told so of one machine too
	return len(art.Parts) - 1
}

// partInHand is the part that is the noun told last, so that "it" means that;
// nil when the noun told last is another.
func (r *reader) partInHand() *load.Part {
	if r.lastPart < 0 || r.cur == nil {
		return nil
	}
	return &r.cur.Parts[r.lastPart]
}

// surfaceOf is the user's word for the attachment at i; "" where the canonical
// word says as much.
func (r *reader) surfaceOf(i int) string {
	if r.t(i).word != "attachment" {
		return ""
	}
	return r.sent(i)
}

// undescribed adds a tie-down told with nothing but the place it holds.
func (r *reader) undescribed(art *article, on string) {
	r.close()
	art.clauses = append(art.clauses, &clause{count: 1, told: true, named: true, binders: -1, tie: load.TieDown{Material: load.Chain}, places: []load.Place{{On: on}}})
}

// partState lays a state told of a part over it; yes is false where the state
// is denied. What is told later wins over what it contradicts.
func (r *reader) partState(p *load.Part, t *tok, yes bool) {
	r.deny.part(p.Name, t, yes)
	switch t.kind {
	case kLoose, kGone:
		switch {
		case p.Tied == load.Yes && yes:
			p.Tied = load.No // "was chained but came loose": its chain did
		case t.kind == kLoose:
			p.Loose = yes
		default:
			p.Off = yes
		}
		return
	}
	switch t.word {
	case "tied":
		p.Tied = tri(yes)
		if yes {
			p.Loose = false
		}
	case "not tied":
		p.Tied = tri(!yes)
	case "down":
		p.Down = tri(yes)
	case "up":
		p.Down = tri(!yes)
	case "locked":
		lockPart(p, "lock", yes)
	case "not locked", "no lock":
		p.Unlocked = yes
		if yes {
			p.Locks = nil
		}
	case "hydraulics":
		p.Hydraulics = yes
	case "prop":
		p.Prop = yes
	case "off":
		p.Off = yes
	case "stowed":
		p.Stowed = yes
	case "free":
		p.Loose = yes
	}
}

func tri(yes bool) load.Tri {
	if yes {
		return load.Yes
	}
	return load.No
}

// loneState reads a state that stands by itself: of the part told last, of the
// joint, or no fact of its own ("strapped down with four straps").
func (r *reader) loneState(i int) {
	t := r.t(i)
	neg := r.kindAt(i-1) == kNeg && r.t(i-1).owner == "" && r.t(i-1).raw != "only"
	yes := !neg
	took := func() {
		r.own(i, OwnFact)
		if neg {
			r.own(i-1, OwnFact)
		}
	}
	if r.doubtful(i, i+1) {
		if k := r.past(i+1, kDet); r.kindAt(k) == kPart {
			r.deny.hold(r.t(k).word) // "havent chained the blade yet"
		} else if t.word == "locked" && r.cur != nil {
			r.doubtJoint(r.cur)
		} else if t.word == "locked" {
			r.deny.joint = true
		} else {
			r.aside = true // "tied to the hoses"
		}
		r.own(i, OwnPhrase)
		return
	}
	if p := r.partInHand(); p != nil && (r.cl == nil || r.cl.place() != nil && r.cl.place().On != "") {
		r.partState(p, t, yes)
		took()
		return
	}
	if r.kindAt(r.backIn(i-1, 4, kWith, kBe, kDet, kNeg)).in(kHook, kTens, kRing, kLink) {
		return // "one hook has no latch"
	}
	if r.cur != nil && (r.cur.Kind == "container" || r.cur.Kind == "roll-off container") && (t.word == "locked" || t.word == "not locked" || t.word == "no lock") {
		r.cur.Cargo.Locked = tri(yes == (t.word == "locked"))
		took()
		return
	}
	if t.word == "not tied" && r.cur != nil && r.cur.noun && r.cl == nil && len(r.cur.clauses) == 0 && len(r.cur.Parts) == 0 {
		r.cur.Article.Bare = true // "crate 2000 lb, nothing on it"
		took()
		return
	}
	switch t.word {
	case "locked", "not locked", "no lock", "no joint lock":
		if r.cur == nil && len(r.sig) <= 3 {
			return // an answer
		}
		if k := r.sig[i] - 1; k >= 0 && r.toks[k].kind.in(kOther, kPlain) && r.toks[k].owner == "" {
			return // "cab locked": the lock of something else
		}
		art := r.article()
		art.Joint.How = load.LockBar
		art.Joint.Locked = tri(yes == (t.word == "locked"))
		r.deny.joint = r.deny.joint || art.Joint.Locked == load.No
		took()
	case "tied", "down":
		if !neg && (r.cur != nil || r.cl != nil) {
			switch r.kindAt(i + 1) {
			case kWith, kOn, kTo, kSep, kNum, kCount, kStop, kNone, kDet, kAll, kSize, kEnd, kCorner, kSpread, kRoute:
				r.own(i, OwnPhrase)
			}
		}
	case "stowed":
		if !neg && r.cur != nil {
			r.own(i, OwnPhrase)
		}
	}
}
