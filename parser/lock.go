package parser

import "halfweight/rules/load"

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
			j.Locked, r.deny.joint = load.No, true
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
// to. Of what swings on an excavator the rules know the pin alone: its house is no
// accessory to be lowered and tied.
func lockedPart(kind, lock string) string {
	switch {
	case kind == "backhoe":
		return "hoe"
	case lock == "swing pin" && (kind == "excavator" || kind == "mini excavator"):
		return "swing pin"
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
			j.Locked, r.deny.joint = load.No, true
		}
	case t.kind == kState && (t.word == "not locked" || t.word == "no lock" || t.word == "no joint lock"), t.kind == kState && t.word == "free", t.kind == kLoose, t.kind == kGone:
		j.Locked, j.How, r.deny.joint = load.No, load.LockBar, true
	case t.kind == kState && t.word == "tied" && yes:
		r.undescribed(art, "joint")
	case t.kind == kState && (t.word == "not tied" || t.word == "off"):
		r.aside = true // "joint locked, nothing on it": of the joint or of the machine
	}
}

// inBefore says whether the lock at i is told as where the part rests: "hoe is
// in the travel lock", "boom held by the boom lock".
func (r *reader) inBefore(i int) bool {
	return r.kindAt(r.backIn(i-1, 3, kDet)).in(kOn, kBe, kWith)
}

// doubtedPhrase takes "maybe chained bucket", "should be pinned at the joint":
// what it names is spoken of, and nothing is told.
func (r *reader) doubtedPhrase(art *article, a, b int) {
	joint := true
	for i := a; i < b; i++ {
		if t := r.t(i); t.kind == kPart {
			k := r.part(t)
			r.doubtPart(&art.Parts[k])
			r.lastPart, joint = k, false
		}
	}
	if joint {
		r.doubtJoint(art)
	}
	r.ownAll(a, b, OwnPhrase)
}

// nothingOn takes "no chain on the bucket", "nothing on the blade".
func (r *reader) nothingOn(art *article, a, b int) {
	r.close()
	for i := a; i < b; i++ {
		if t := r.t(i); t.kind == kPart {
			k := r.part(t)
			art.Parts[k].Tied = load.No
			r.deny.hold(t.word)
			r.lastPart = k
		}
	}
	r.ownAll(a, b, OwnFact)
}

// lockedPhrase reads "pinned at the joint", "locked joint", "no steering lock",
// "chained bucket".
func (r *reader) lockedPhrase(a, b int) {
	art := r.article()
	if r.doubtful(a, b) {
		r.doubtedPhrase(art, a, b)
		return
	}
	if r.t(a).kind == kNeg && !r.has(a, b, kLock) {
		r.nothingOn(art, a, b)
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
			r.partState(&art.Parts[k], state, r.kindAt(a-1) != kNeg)
			if r.kindAt(a-1) == kNeg {
				r.own(a-1, OwnFact)
			}
			r.ownAll(a, b, OwnFact)
			r.lastPart = k
			return
		}
	}
	if yes && state != nil && r.kindAt(a-1) == kNeg {
		art.Joint.Locked, r.deny.joint = load.No, true
		r.own(a-1, OwnFact)
	}
	r.ownAll(a, b, OwnFact)
	r.lastPart = -1
}
