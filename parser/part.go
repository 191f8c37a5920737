package parser

import "halfweight/rules/load"

// held reads accessories and locks with how they are held: "bucket down and
// chained", "forks n mast chained", "blade not tied", "no ripper", "lock bar
// in", "steering locked", "joint not locked".
func (r *reader) held(a, b int) {
	// "over the blade", "on the bucket": where a tie-down runs, if one is being
	// read; what follows is told of that part
	var parts []int
	onJoint := false
	if k, on := r.placeOn(a, b); k > a {
		if r.denied(k, b) {
			// "1x 3/8 g70 over bucket not tied": where the chain runs is not told
			r.cl.places = r.cl.places[:len(r.cl.places)-1]
		}
		if k >= b {
			return
		}
		onJoint = on < 0
		a = k
		if on >= 0 && r.t(a).kind != kSep && r.t(a).kind != kLine {
			parts = append(parts, on)
		}
	}
	r.close()
	art := r.article()
	if r.doubtful(a, b) {
		// a wish, a plan or a doubt: the part is spoken of, nothing is told
		for i := a; i < b; i++ {
			switch t := r.t(i); t.kind {
			case kPart:
				k := r.part(t)
				art.Parts[k] = load.Part{Name: art.Parts[k].Name, Word: art.Parts[k].Word, Doubtful: true}
				r.lastPart = k
			case kLock:
				w, _ := t.lock()
				r.mention(art, parts, w, true)
				if art.Joint.Has {
					art.Joint = load.Joint{Has: true, Doubtful: true}
				}
			case kJoint:
				art.Joint = load.Joint{Has: true, Doubtful: true}
			}
		}
		r.ownAll(a, b, OwnPhrase)
		return
	}
	var locks []string
	joint, neg, negAt, states, told := false, false, -1, 0, false
	nor := r.kindAt(a) == kNeg && r.t(a).raw == "neither"
	joint = onJoint
	has := r.kindAt(a-1) == kWith
	for i := a; i < b; i++ {
		t := r.t(i)
		switch t.kind {
		case kNeg:
			neg, negAt = t.raw != "only" && t.raw != "but", i
			r.own(i, OwnPhrase)
		case kSep:
			if has && states == 0 && !r.hasAnd(i, b) {
				parts = nil // "with ripper, blade chained": the ripper is only spoken of
			}
		case kPart:
			if states > 0 {
				// a part told after a state begins anew
				parts, locks, joint, states, told = nil, nil, false, 0, false
			}
			k := r.part(t)
			parts = append(parts, k)
			if w := r.surfaceOf(i); w != "" && art.Parts[k].Name == "attachment" {
				art.Parts[k].Word = w
			}
			if neg && negAt == i-1 && (r.t(negAt).raw == "nor" || r.t(negAt).raw == "neither") {
				// "neither bucket nor boom chained": of the state that follows
				nor = true
			} else if neg && negAt == i-1 && r.kindAt(i+1) == kMat {
				art.Parts[k].Tied = load.No // "no blade chain"
				r.own(i+1, OwnFact)
				r.skip = i + 2
				neg, told = false, true
			} else if neg && (negAt == i-1 || negAt == i-2 && r.kindAt(i-1) == kDet) && r.t(negAt).raw == "nothing" {
				art.Parts[k].Tied = load.No // "nothing holding the bucket"
				neg, told = false, true
			} else if neg && negAt == i-1 {
				art.Parts[k].Off = true
				neg, told = false, true
			}
			r.lastPart = k
		case kJoint:
			if states > 0 && len(parts) == 0 {
				break // "locked at the joint"
			}
			joint = true
			r.lastPart = -1
		case kLock:
			word, in := t.lock()
			jointLock := word == "lock bar" || word == "steering lock" || word == "steering wheel"
			if jointLock || states > 0 && !r.inBefore(i) && r.kindAt(i-1) != kAnd {
				parts, locks, joint, states = nil, nil, false, 0
			}
			if in || len(parts) > 0 && states == 0 && i > a && r.inBefore(i) {
				r.lock(art, parts, word, !neg)
				told, neg = true, false
				states++
			} else if neg {
				r.lock(art, parts, word, false)
				told, neg = true, false
			} else {
				locks = append(locks, word)
			}
			if jointLock {
				r.lastPart = -1
			}
		case kState, kLoose, kGone:
			states++
			told = true
			yes := !neg && !nor
			neg = false
			if t.kind == kState && t.word == "no joint lock" {
				// never the bucket's
				art.Joint.Locked, art.Joint.How = load.No, load.LockBar
				continue
			}
			for _, w := range locks {
				in := t.kind == kState && (t.word == "locked" || t.word == "down" || t.word == "stowed" || t.word == "tied")
				r.lock(art, parts, w, in == yes)
			}
			if joint {
				r.jointState(art, t, yes)
			}
			if len(locks) > 0 {
				continue
			}
			for _, k := range parts {
				partState(&art.Parts[k], t, yes)
			}
		case kMat:
			if neg {
				for _, k := range parts {
					art.Parts[k].Tied = load.No
				}
				neg, told = false, true
				states++
			}
		}
	}
	for _, w := range locks {
		if states == 0 {
			r.mention(art, parts, w, has)
			if art.Joint.Has && r.kindAt(b) == kOn || r.kindAt(b) == kBe && r.kindAt(b+1) == kOn {
				art.Joint = load.Joint{Has: true, Doubtful: true} // "the lock bar is in the cab"
			}
		}
	}
	if n := len(parts); n > 0 && told && art.Parts[parts[n-1]].Tied == load.Yes && r.kindAt(b) == kWith {
		r.nextOn, r.nextOnBy = art.Parts[parts[n-1]].Name, b+4
	}
	r.ownAll(a, b, OwnFact)
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
	found := r.has(a, b, kHedge, kDoubt)
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

// inBefore says whether the lock at i is told as where the part rests: "hoe is
// in the travel lock", "boom held by the boom lock".
func (r *reader) inBefore(i int) bool {
	return r.kindAt(r.backIn(i-1, 3, kDet)).in(kOn, kBe, kWith)
}

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
			return a, -1 // "over the forks and mast": no one place
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

// lock lays a lock told in or out over the part or joint it holds.
func (r *reader) lock(art *article, parts []int, word string, in bool) {
	switch load.Lock(word) {
	case load.LockBar, load.SteeringLock, load.SteeringWheel, "pin":
		if len(parts) > 0 && word == "pin" {
			for _, k := range parts {
				lockPart(&art.Parts[k], word, in)
			}
			return
		}
		if word == "pin" {
			word = string(load.LockBar)
		}
		j := &art.Joint
		if word == string(load.SteeringWheel) {
			if j.How == "" && j.Locked == load.Untold {
				j.How = load.SteeringWheel
			}
			return
		}
		j.How, j.Locked = load.Lock(word), load.Yes
		if !in {
			j.Locked = load.No
		}
		return
	}
	if len(parts) == 0 {
		parts = []int{r.part(&tok{word: lockedPart(art.Kind, word)})}
	}
	for _, k := range parts {
		lockPart(&art.Parts[k], word, in)
	}
}

// lockedPart is the part that a boom lock or swing pin told by itself belongs
// to.
func lockedPart(kind, lock string) string {
	switch {
	case kind == "backhoe":
		return "hoe"
	case lock == "swing pin":
		return "turntable"
	}
	return "boom"
}

func lockPart(p *load.Part, word string, in bool) {
	if !in {
		p.Unlocked = true
		return
	}
	p.Unlocked = false
	for _, w := range p.Locks {
		if w == word {
			return
		}
	}
	p.Locks = append(p.Locks, word)
}

// mention takes a lock that the machine is told to have, in or not.
func (r *reader) mention(art *article, parts []int, word string, has bool) {
	switch load.Lock(word) {
	case load.LockBar, load.SteeringLock, "pin":
		art.Joint.Has = true
	case load.SteeringWheel:
		r.lock(art, parts, word, true)
	default:
		if len(parts) == 0 {
			r.part(&tok{word: lockedPart(art.Kind, word)})
		}
	}
}

// jointState lays a state told of the joint over it.
func (r *reader) jointState(art *article, t *tok, yes bool) {
	j := &art.Joint
	switch {
	case t.kind == kState && t.word == "locked":
		j.Locked, j.How = load.Yes, load.LockBar
		if !yes {
			j.Locked = load.No
		}
	case t.kind == kState && (t.word == "not locked" || t.word == "no lock" || t.word == "no joint lock"), t.kind == kState && t.word == "free", t.kind == kLoose, t.kind == kGone:
		j.Locked, j.How = load.No, load.LockBar
	case t.kind == kState && t.word == "tied" && yes:
		r.undescribed(art, "joint")
	}
}

// undescribed adds a tie-down told with nothing but the place it holds.
func (r *reader) undescribed(art *article, on string) {
	r.close()
	art.clauses = append(art.clauses, &clause{count: 1, told: true, named: true, binders: -1, tie: load.TieDown{Material: load.Chain}, places: []load.Place{{On: on}}})
}

// partState lays a state told of a part over it; yes is false where the state
// is denied. What is told later wins over what it contradicts.
func partState(p *load.Part, t *tok, yes bool) {
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

// lockedPhrase reads "pinned at the joint", "locked joint", "no steering lock",
// "chained bucket".
func (r *reader) lockedPhrase(a, b int) {
	art := r.article()
	if r.doubtful(a, b) {
		art.Joint = load.Joint{Has: true, Doubtful: true}
		r.ownAll(a, b, OwnPhrase)
		return
	}
	if r.t(a).kind == kNeg && !r.has(a, b, kLock) {
		// "no chain on the bucket", "nothing on the blade"
		r.close()
		for i := a; i < b; i++ {
			if t := r.t(i); t.kind == kPart {
				k := r.part(t)
				art.Parts[k].Tied = load.No
				r.lastPart = k
			}
		}
		r.ownAll(a, b, OwnFact)
		return
	}
	yes := true
	state := (*tok)(nil)
	for i := a; i < b; i++ {
		t := r.t(i)
		switch t.kind {
		case kNeg:
			yes = false
		case kState:
			state = t
		case kLock:
			w, _ := t.lock()
			in := yes
			if state != nil {
				in = state.word == "locked"
			}
			r.lock(art, nil, w, in)
		case kJoint:
			if state != nil {
				r.jointState(art, state, yes)
			}
		case kPart:
			k := r.part(t)
			if w := r.surfaceOf(i); w != "" {
				art.Parts[k].Word = w
			}
			partState(&art.Parts[k], state, r.kindAt(a-1) != kNeg)
			if r.kindAt(a-1) == kNeg {
				r.own(a-1, OwnFact)
			}
			r.ownAll(a, b, OwnFact)
			r.lastPart = k
			return
		}
	}
	if yes && state != nil && r.kindAt(a-1) == kNeg {
		art.Joint.Locked = load.No
		r.own(a-1, OwnFact)
	}
	r.ownAll(a, b, OwnFact)
	r.lastPart = -1
}

// loneState reads a state that stands by itself: of the part told last, of the
// joint, or no fact of its own ("strapped down with four straps").
func (r *reader) loneState(i int) {
	t := r.t(i)
	neg := r.kindAt(i-1) == kNeg && r.t(i-1).owner == ""
	yes := !neg
	took := func() {
		r.own(i, OwnFact)
		if neg {
			r.own(i-1, OwnFact)
		}
	}
	if p := r.partInHand(); p != nil && (r.cl == nil || r.cl.place() != nil && r.cl.place().On != "") {
		partState(p, t, yes)
		took()
		return
	}
	if r.doubtful(i, i+1) {
		if t.word == "locked" && r.cur != nil {
			r.cur.Joint = load.Joint{Has: true, Doubtful: true}
		}
		r.own(i, OwnPhrase)
		return
	}
	if r.kindAt(r.backIn(i-1, 4, kWith, kBe, kDet, kNeg)).in(kHook, kTens, kRing, kLink) {
		return // "one hook has no latch"
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
