package parser

import "halfweight/rules/load"

// This file reads what is told of the condition of tie-downs: loose, cut, came
// off, no binder, no mark, tightened, replaced. Such a phrase points at
// tie-downs told in this message or before it, so it becomes a Change; or it
// belongs to the clause being read ("with no binder"), and waits there.

// window is how far a condition looks for its subject, in tokens.
const window = 10

// troubles finds the condition phrases between from and to, takes their tokens
// and notes what they change.
func (r *reader) troubles(from, to int) {
	for i := from; i < to; i++ {
		if r.t(i).owner != "" {
			continue
		}
		switch r.t(i).kind {
		case kBe:
			r.copula(i, from, to)
		case kBare:
			r.noneAt(i, to) // "no chains at the rear"
		case kTail:
			if n := r.kindAt(i + 1); (n == kNum && r.t(i+1).num < load.One || n == kSize) && r.t(i).raw != "left" {
				r.trouble(i, i+1, from, to) // "rear left link is down to .31"
			}
		case kLoose, kGone, kDamage, kNoGuard, kNoMark, kNoTag, kTighten, kReplace, kTight, kSound, kNoTens:
			r.trouble(i, i+1, from, to)
		case kNeg:
			k := i + 1
			if r.kindAt(k).in(kExtra, kDet) {
				k++
			}
			if r.kindAt(i+1) == kNum && r.kindAt(i+2) == kTens && (r.t(i).raw == "short" || r.t(i).raw == "shy") {
				// "short one binder"
				n := int(r.t(i+1).num / load.One)
				r.take(i, i+3)
				r.changes = append(r.changes, Change{Ref: Ref{Which: Some, Count: n}, Edit: Edit{Set: load.TieDown{Tensioner: load.Tensioner{Has: load.No}}}})
				continue
			}
			if k < to && r.kindAt(k) == kTens && !r.ratedAhead(k+1) {
				r.trouble(i, k+1, from, to)
			} else {
				r.noneAt(i, to)
			}
		}
	}
}

func (r *reader) ratedAhead(i int) bool {
	k := r.kindAt(i)
	return k.in(kMass, kBig)
}

// trouble reads the condition told in tokens i..j, with its subject before or
// after it.
func (r *reader) trouble(i, j, from, to int) {
	k, at := r.nounBefore(i, from)
	if k == kMat && r.kindAt(at-1) == kPart && at-1 >= from {
		r.partTie(at-1, at, i, j) // "the bucket chain is loose"
		return
	}
	if k.in(kJoint, kPart) {
		// "the one over the joint is loose"
		m := r.back(at-1, kDet)
		if r.kindAt(m).in(kRoute, kOn) {
			if n := r.kindAt(m - 1); n.in(kIt, kNum, kThem) || n == kMat && k == kJoint {
				var s subject
				if e, ok := r.edit(i, j, &s, nil, false); ok {
					name := r.t(at).word
					r.take(m-1, j)
					r.changes = append(r.changes, Change{Ref: Ref{Like: load.TieDown{Place: load.Place{On: name}}}, Edit: e})
				}
				return
			}
		}
	}
	if k == kPart && (r.kindAt(at-1).in(kOn, kRoute) || r.kindAt(at-1) == kDet && r.kindAt(at-2).in(kOn, kRoute)) {
		for m := at - 1; m >= from && m >= at-4; m-- {
			if r.kindAt(m) == kMat {
				r.partTie(at, m, i, j) // "the chain on the bucket came off"
				return
			}
		}
	}
	if k.in(kPart, kJoint, kLock) {
		return // told of the machine, not of a tie-down
	}
	what := r.t(i).kind
	if n := i + 1; what == kGone && r.kindAt(n) == kDet && r.kindAt(n+1) == kKind && n+1 < to && r.kindAt(n+2) != kMat {
		// "take off the crate": an article taken off is not ours to guess at
		for m := i; m <= n+1; m++ {
			x := r.t(m)
			x.owner, x.kind, x.figure = OwnUnread, kTaken, true
		}
		return
	}
	var left, right subject
	measure := r.measureBefore(i, from)
	a := i
	if measure {
		a--
	}
	negated := false
	if what == kTighten {
		// "not tightened yet", "front left needs tightening"
		for m := i - 1; m >= from && m >= i-4; m-- {
			if x := r.kindAt(m); x.in(kNeg, kDoubt) {
				negated = true
				r.own(m, OwnFact)
			} else if !x.in(kIt, kThem, kBe, kDet, kAll) {
				break
			}
		}
	}
	start := a
	for k := a - 1; k >= from && k >= a-window; k-- {
		t := r.t(k)
		if t.owner == OwnFact && t.kind.in(kNeg, kDoubt) {
			start = k
			continue
		}
		if t.owner != "" {
			break
		}
		if t.kind == kNeg && what == kTight {
			negated = true
			start = k
			continue
		}
		if t.kind.in(kOr, kAnd) && k == a-1 && what == kDamage && r.kindAt(k-1) == kTaken && r.negatedAt == k-1 && k > 0 {
			negated = true // "no cuts or tears"
			start = k
			break
		}
		if t.kind == kNeg && k == a-1 {
			negated = true
			start = k
			continue
		}
		if t.kind == kRoute {
			switch r.kindAt(k - 1) {
			case kDet, kAll, kThem, kRest, kLast, kNone:
			case kSize, kGrade, kMat:
				if !r.theBefore(k - 1) {
					t = nil
				}
			default:
				t = nil // "4x 3/8 direct front left is loose": the clause before it
			}
		}
		if t == nil {
			break
		}
		if t.kind == kWith && left.number && k > from && left.ref.Which == Some && r.kindAt(k+1) == kNum {
			// "left rear chain has 2 nicked links": links, not chains
			left.number, left.ref.Count, left.ref.Which = false, 0, It
			left.told = left.ref.Like.Material != "" || left.ref.Like.Place != (load.Place{})
		}
		if t.kind == kKind && (r.kindAt(k-1) == kOn || r.kindAt(k-1) == kDet && r.kindAt(k-2) == kOn) && (r.kindsTold() > 1 || r.kindAt(k-1) == kDet && r.t(k-1).raw == "the") {
			left.ref.Kind = t.word // "front left on the car is loose"
			start = k
			continue
		}
		if !left.take(r, k) {
			break
		}
		start = k
	}
	b := j
	sizes := []load.Length{}
	end := j
	both, unsure := false, false
	var thin load.Length
	for k := b; k < to && k < b+window; k++ {
		t := r.t(k)
		if t.owner != "" {
			break
		}
		if t.kind == kSize && r.measures(i) && (left.told || right.told || left.fitting || !r.kindAt(k+1).in(kMat, kGrade)) {
			if !unsure {
				sizes = append(sizes, t.size)
			}
			end = k + 1
			continue
		}
		if t.kind == kNum && t.num < load.One && (what.in(kDamage, kTail)) {
			thin, _ = load.Times(t.num, load.Inch) // "worn to .31"
			end = k + 1
			continue
		}
		if t.kind.in(kHedge, kDoubt) {
			unsure = true // a measure told with a doubt is none
			if t.kind == kDoubt {
				end = k + 1
				continue
			}
		}
		if t.kind.in(kTail, kTo) {
			end = k + 1
			continue
		}
		if t.kind == kEach && t.raw != "per" {
			both = true
			end = k + 1
			continue
		}
		if t.kind == kSpread && t.word == "ends" {
			both = true
			end = k + 1
			continue
		}
		if left.told && (t.kind.in(kNum, kCount, kEnd, kCorner, kMat, kAll, kGrade, kRest, kThem, kSide, kRoute) || t.kind == kTens && t.plural) {
			break // the next thing told
		}
		if t.kind == kRoute && what != kGone || t.kind == kCount {
			break
		}
		if t.kind == kNum && r.kindAt(k+1).in(kSize, kMass) && what != kGone {
			break
		}
		if !right.take(r, k) {
			break
		}
		switch t.kind {
		case kBe, kWith, kDet, kOn, kOf, kFrom, kHedge, kIt:
			if t.kind == kIt && !left.told {
				end = k + 1
			}
		default:
			end = k + 1
		}
	}
	if measure {
		size := r.t(a).size
		sizes = append([]load.Length{size}, sizes...)
		if k := a - 1; r.kindAt(k) == kNum && left.number && r.t(k).num <= 4*load.One {
			for n := r.t(k).num/load.One - 1; n > 0; n-- {
				sizes = append(sizes, size)
			}
			both = false
			left.number, left.ref.Count, left.ref.Which = false, 0, It
		}
	}
	if both && len(sizes) == 1 {
		sizes = append(sizes, sizes[0])
	}
	s := left
	if !left.told && right.told {
		s = right
		if left.fitting && !right.fitting {
			s.part, s.fitting = left.part, true
		}
		if !left.fitting && len(left.size) == 0 {
			start = a
			if negated {
				start--
			}
		}
	} else if right.fitting && right.part != "" {
		s.part, s.fitting = right.part, true
	}
	if s.fitting && !s.told && !s.plural && !what.in(kNeg, kNoTens, kNoMark, kReplace, kTighten) {
		s.ref.Which, s.ref.Count, s.told = Some, 1, true // "a binder popped": one of them
	}
	// the subject's own size is the tie-down's
	for _, k := range s.size {
		if s.ref.Like.Size == 0 {
			s.ref.Like.Size, s.ref.Like.SizeWord = r.t(k).size, r.t(k).word
			s.told = true
		}
	}
	end = r.onArticle(end, &s)
	e, ok := r.edit(i, j, &s, sizes, negated)
	if !ok {
		return
	}
	if thin > 0 && !unsure && len(e.Damage) == 1 {
		e.Damage[0].Left = thin
	}
	clause := s.counted && (len(s.size) > 0 || s.ref.Like.Grade.Reading != load.NotRead) || !s.told && !s.fitting
	if s.fitting && !s.told && !r.anyTies() {
		clause = false
	}
	if clause || !s.told && (r.clauseBefore(start, from)) {
		// of the clause it stands in
		if s.counted {
			start = a
			if negated {
				start--
			}
		}
		if s.told && !s.counted {
			start = i
		}
		r.take(start, end)
		if negated || what == kSound {
			r.negatedAt = end - 1
		}
		r.attach = append(r.attach, attached{i, e, what.in(kSound, kTight)})
		return
	}
	r.take(start, end)
	if negated || what == kSound {
		r.negatedAt = end - 1
	}
	if s.ref.Which == It && s.plural && !s.number {
		s.ref.Which = All
	}
	if what == kNoMark && s.ref.Which == It {
		s.ref.Which = All // "cant find a mark on the chain"
	}
	r.changes = append(r.changes, Change{Ref: s.ref, Edit: e})
}

// onArticle takes "on the car" at i, behind a condition: of that article's
// tie-downs. It returns the token after it.
func (r *reader) onArticle(i int, s *subject) (end int) {
	k := r.past(i, kOn, kDet)
	if k == i || r.kindAt(k) != kKind || r.kindsTold() < 2 {
		return i
	}
	s.ref.Kind = r.t(k).word
	return k + 1
}

// kindsTold counts the nouns for articles in the message.
func (r *reader) kindsTold() (n int) {
	for m := range r.sig {
		if r.t(m).kind == kKind {
			n++
		}
	}
	return n
}

// take marks tokens a..b as understood and out of the grammar's way.
func (r *reader) take(a, b int) {
	for k := a; k < b; k++ {
		t := r.t(k)
		t.owner, t.kind = OwnFact, kTaken
	}
}

// anyTies says whether anything of a tie-down still waits to be read.
func (r *reader) anyTies() bool {
	for i := range r.sig {
		if t := r.t(i); t.owner == "" && t.kind.in(kSize, kGrade, kMat) {
			return true
		}
	}
	return false
}

// clauseBefore says whether a clause of tie-downs stands right before token i.
func (r *reader) clauseBefore(i, from int) bool {
	k := r.backIn(i-1, 3, kWith, kAnd, kSep, kBe, kDet, kTaken)
	return k >= from && r.kindAt(k).in(kRoute, kMat, kGrade, kSize, kTimes, kSpread, kTens)
}

// nounBefore is the kind of the noun that the condition at i is told of, and
// where it stands.
func (r *reader) nounBefore(i, from int) (kind, int) {
	k := r.back(i-1, kBe, kDet, kNeg, kIt, kHedge, kOn)
	if k < from {
		return kNone, -1
	}
	return r.kindAt(k), k
}

// measures says whether a size told with the damage at i is its measure.
func (r *reader) measures(i int) bool {
	if r.t(i).kind != kDamage {
		return false
	}
	switch r.t(i).word {
	case "cut", "nicked", "burned", "hole", "frayed", "gouged":
		return true
	}
	return r.leftOf(i) || r.kindAt(i+1) == kTo
}

// theBefore says whether a kind told at k is told with "the": one known already.
func (r *reader) theBefore(k int) bool {
	k = r.back(k, kSize, kGrade, kMat)
	return r.kindAt(k) == kDet && r.t(k).raw == "the"
}

// measureBefore says whether a size right before the damage at i is its
// measure: "a 1/2 in cut".
func (r *reader) measureBefore(i, from int) bool {
	if r.t(i).kind != kDamage || i-1 < from || r.t(i-1).kind != kSize {
		return false
	}
	switch r.t(i).word {
	case "cut", "nicked", "burned", "hole", "frayed", "gouged":
	default:
		return false
	}
	switch r.kindAt(i - 2) {
	case kNum, kCount:
		// "one 3/8 cut" is the chain's size; "strap two 1/4 nicks" the cuts'
		return r.kindAt(i-3).in(kMat, kWith)
	}
	return true
}

// edit is what the condition at i..j changes.
func (r *reader) edit(i, j int, s *subject, sizes []load.Length, negated bool) (Edit, bool) {
	t := r.t(i)
	var e Edit
	switch t.kind {
	case kLoose:
		if negated {
			e.Set.State.Tight = load.Yes
		} else {
			e.Loose = true
		}
	case kGone:
		switch {
		case negated:
			return e, false
		case (s.part == "binder" || s.part == "ratchet") && t.word == "lost":
			e.Set.Tensioner.Has = load.No
			if !s.told && !s.plural {
				s.ref.Which, s.ref.Count, s.told = Some, 1, true
			}
		case s.fitting && s.part != "chain":
			e.Loose = true // a binder that popped off: the chain hangs
		default:
			e.Gone = t.word
		}
	case kDamage:
		if negated {
			e.Set.State.Sound = load.Yes
			break
		}
		d := load.Damage{Kind: t.word, Part: s.part}
		if len(sizes) > 0 {
			switch t.word {
			case "worn", "stretched", "bent", "cracked":
				if r.leftOf(i) || r.kindAt(i+1) == kTo {
					d.Left = sizes[0]
				}
			default:
				d.Size = sizes
			}
		}
		e.Damage = []load.Damage{d}
	case kTail:
		d := load.Damage{Kind: "worn", Part: "chain"}
		if len(sizes) > 0 {
			d.Left = sizes[0]
		}
		e.Damage = []load.Damage{d}
	case kNoGuard:
		if s.ref.Like.Material != load.Chain {
			e.Set.State.NoGuard = !negated // a guard is for a strap or rope
		}
	case kNoMark:
		if s.fitting && s.part != "chain" {
			return e, true // an unmarked hook or binder has no figure either way
		}
		e.Set.Grade = load.Grade{Reading: load.NoMarks}
	case kNoTag:
		return e, true
	case kTighten:
		if negated {
			e.Loose = true
		} else {
			e.Tightened = true
		}
	case kReplace:
		e.Replaced = true
	case kTight:
		if negated {
			e.Loose = true
		} else {
			e.Set.State.Tight = load.Yes
		}
	case kSound:
		if negated {
			e.Damage = []load.Damage{{Kind: "damaged", Part: s.part}}
		} else {
			e.Set.State.Sound = load.Yes
		}
	case kNeg, kNoTens:
		e.Set.Tensioner.Has = load.No
	default:
		return e, false
	}
	return e, true
}

// leftOf says whether a measure after token i is told as what is left.
func (r *reader) leftOf(i int) bool {
	for k := i + 1; k < len(r.sig) && k < i+6; k++ {
		if r.t(k).kind == kTail {
			return true
		}
	}
	return false
}
