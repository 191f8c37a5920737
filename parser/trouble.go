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
			if r.kindAt(k) == kExtra || r.kindAt(k) == kDet {
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
	return k == kMass || k == kBig
}

// subject is what a condition is told of.
type subject struct {
	ref     Ref
	told    bool // something points at tie-downs
	number  bool
	part    string // damaged part: "hook", "binder", ...
	fitting bool
	plural  bool
	size    []int
	counted bool // told as "4x": a clause, not a reference
}

// take lays token k into the subject; ok is false when k is no part of one.
func (s *subject) take(r *reader, k int) bool {
	t := r.t(k)
	switch t.kind {
	case kMat:
		m, ok := materials[t.word]
		if !ok && t.word != "tie-down" {
			return false
		}
		if ok {
			s.ref.Like.Material = m.material
			if s.part == "" {
				s.part = string(m.material)
			}
		}
		s.told = true
		s.plural = s.plural || t.plural
	case kTens:
		s.part, s.fitting = "binder", true
		if t.word == "ratchet" {
			s.part = "ratchet"
		}
		s.plural = s.plural || t.plural
	case kHook:
		s.part, s.fitting = "hook", true
	case kRing:
		s.part, s.fitting = "anchor", true
	case kLink:
		s.part, s.fitting = "chain", true
	case kEnd:
		s.ref.Like.Place, s.told = merge(s.ref.Like.Place, load.Place{End: t.word}), true
		if t.raw == "rears" {
			s.plural = true
		}
	case kSide:
		s.ref.Like.Place, s.told = merge(s.ref.Like.Place, load.Place{Side: t.word}), true
	case kCorner:
		s.ref.Like.Place, s.told = cornerPlace(t.word), true
	case kAll:
		s.ref.Which, s.told = All, true
		if t.raw == "both" && s.ref.Count == 0 {
			s.ref.Count = 2
		}
	case kRest:
		s.ref.Which, s.told = Rest, true
	case kLast:
		s.ref.Which, s.told = Last, true
	case kThem:
		if s.ref.Which == It {
			s.ref.Which = All
		}
		s.told = true
	case kNum, kCount:
		if t.num > maxCount*load.One {
			return false
		}
		if t.kind == kCount {
			s.counted = true
		}
		if r.kindAt(k+1) == kLink || r.kindAt(k+1) == kDamage && r.kindAt(k+2) == kLink {
			return true // counts links, not chains
		}
		s.ref.Count, s.number, s.told = int(t.num/load.One), true, true
		if s.ref.Which != Last {
			s.ref.Which = Some
		}
	case kExtra:
		s.ref.Count, s.number, s.told, s.ref.Which = 1, true, true, Some
	case kSize:
		s.size = append(s.size, k)
	case kGrade:
		s.ref.Like.Grade = load.Grade{Value: t.word, Reading: load.Read}
		s.told = true
	case kRoute:
		if t.word == "?" {
			return false
		}
		s.ref.Like.Route = load.Route(t.word)
	case kIt, kDet, kOf, kOn, kBe, kWith, kEach, kFrom, kHedge:
		if t.kind == kIt {
			s.told = true
		}
	default:
		return false
	}
	return true
}

// trouble reads the condition told in tokens i..j, with its subject before or
// after it.
func (r *reader) trouble(i, j, from, to int) {
	k, at := r.nounBefore(i, from)
	if k == kMat && r.kindAt(at-1) == kPart && at-1 >= from {
		r.partTie(at-1, at, i, j) // "the bucket chain is loose"
		return
	}
	if k == kJoint || k == kPart {
		// "the one over the joint is loose"
		m := at - 1
		for r.kindAt(m) == kDet {
			m--
		}
		if o := r.kindAt(m); o == kRoute || o == kOn {
			if n := r.kindAt(m - 1); n == kIt || n == kNum || n == kThem || n == kMat && k == kJoint {
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
	if k == kPart && (r.kindAt(at-1) == kOn || r.kindAt(at-1) == kRoute || r.kindAt(at-1) == kDet && (r.kindAt(at-2) == kOn || r.kindAt(at-2) == kRoute)) {
		for m := at - 1; m >= from && m >= at-4; m-- {
			if r.kindAt(m) == kMat {
				r.partTie(at, m, i, j) // "the chain on the bucket came off"
				return
			}
		}
	}
	if k == kPart || k == kJoint || k == kLock {
		return // told of the machine, not of a tie-down
	}
	what := r.t(i).kind
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
			if x := r.kindAt(m); x == kNeg || x == kDoubt {
				negated = true
				r.own(m, OwnFact)
			} else if x != kIt && x != kThem && x != kBe && x != kDet && x != kAll {
				break
			}
		}
	}
	start := a
	for k := a - 1; k >= from && k >= a-window; k-- {
		t := r.t(k)
		if t.owner == OwnFact && (t.kind == kNeg || t.kind == kDoubt) {
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
		if (t.kind == kOr || t.kind == kAnd) && k == a-1 && what == kDamage && r.kindAt(k-1) == kTaken && r.negatedAt == k-1 && k > 0 {
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
		if t.kind == kKind && (r.kindAt(k-1) == kOn || r.kindAt(k-1) == kDet && r.kindAt(k-2) == kOn) && r.kindsTold() > 1 {
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
		if t.kind == kSize && r.measures(i) && (left.told || right.told || left.fitting || r.kindAt(k+1) != kMat && r.kindAt(k+1) != kGrade) {
			if !unsure {
				sizes = append(sizes, t.size)
			}
			end = k + 1
			continue
		}
		if t.kind == kNum && t.num < load.One && (what == kDamage || what == kTail) {
			thin, _ = load.Times(t.num, load.Inch) // "worn to .31"
			end = k + 1
			continue
		}
		if t.kind == kHedge || t.kind == kDoubt {
			unsure = true // a measure told with a doubt is none
			if t.kind == kDoubt {
				end = k + 1
				continue
			}
		}
		if t.kind == kTail || t.kind == kTo {
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
		if left.told && (t.kind == kNum || t.kind == kCount || t.kind == kEnd || t.kind == kCorner || t.kind == kMat || t.kind == kAll || t.kind == kGrade || t.kind == kRest || t.kind == kThem || t.kind == kSide || t.kind == kRoute || t.kind == kTens && t.plural) {
			break // the next thing told
		}
		if t.kind == kRoute && what != kGone || t.kind == kCount {
			break
		}
		if t.kind == kNum && (r.kindAt(k+1) == kSize || r.kindAt(k+1) == kMass) && what != kGone {
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
	if s.fitting && !s.told && !s.plural && what != kNeg && what != kNoTens && what != kNoMark && what != kReplace && what != kTighten {
		s.ref.Which, s.ref.Count, s.told = Some, 1, true // "a binder popped": one of them
	}
	// the subject's own size is the tie-down's
	for _, k := range s.size {
		if s.ref.Like.Size == 0 {
			s.ref.Like.Size, s.ref.Like.SizeWord = r.t(k).size, r.t(k).word
			s.told = true
		}
	}
	if r.onArticle(end, &s) {
		end = r.skipTo
	}
	e, ok := r.edit(i, j, &s, sizes, negated)
	if !ok {
		return
	}
	if thin > 0 && !unsure && len(e.Damage) == 1 {
		e.Damage[0].Left = thin
	}
	clause := s.counted && (len(s.size) > 0 || s.ref.Like.Grade.Reading != load.NotRead) || !s.told && !s.fitting
	if s.fitting && !s.told && !r.anyTies(from) {
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
		r.attach = append(r.attach, attached{i, e, what == kSound || what == kTight})
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

// onArticle takes "on the car" behind a condition: of that article's tie-downs.
func (r *reader) onArticle(i int, s *subject) bool {
	k := i
	for r.kindAt(k) == kOn || r.kindAt(k) == kDet {
		k++
	}
	if k == i || r.kindAt(k) != kKind {
		return false
	}
	if r.kindsTold() < 2 {
		return false
	}
	s.ref.Kind = r.t(k).word
	r.skipTo = k + 1
	return true
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

// attached is a condition that waits for the clause it stands in.
type attached struct {
	at   int
	edit Edit
	all  bool // told of everything: "tight and checked"
}

// take marks tokens a..b as understood and out of the grammar's way.
func (r *reader) take(a, b int) {
	for k := a; k < b; k++ {
		t := r.t(k)
		t.owner, t.kind = OwnFact, kTaken
	}
}

// anyTies says whether tie-downs were told before token i.
func (r *reader) anyTies(i int) bool {
	for k := 0; k < len(r.sig); k++ {
		switch r.t(k).kind {
		case kSize, kGrade, kMat:
			if r.t(k).owner == "" {
				return true
			}
		}
	}
	return false
}

// clauseBefore says whether a clause of tie-downs stands right before token i.
func (r *reader) clauseBefore(i, from int) bool {
	for k := i - 1; k >= from && k >= i-3; k-- {
		switch r.t(k).kind {
		case kWith, kAnd, kSep, kBe, kDet, kTaken:
			continue
		case kRoute, kMat, kGrade, kSize, kTimes, kSpread, kTens:
			return true
		}
		return false
	}
	return false
}

// nounBefore is the kind of the noun that the condition at i is told of, and
// where it stands.
func (r *reader) nounBefore(i, from int) (kind, int) {
	for k := i - 1; k >= from; k-- {
		switch r.t(k).kind {
		case kBe, kDet, kNeg, kIt, kHedge, kOn:
			continue
		}
		return r.t(k).kind, k
	}
	return kNone, -1
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

// partTie reads what is told of the tie-down on the part at token p: the part
// is not held by it any more, or it is again.
func (r *reader) partTie(p, mat, i, j int) {
	what := r.t(i).kind
	held := what == kTight || what == kTighten || what == kReplace || what == kSound
	start := min(p, mat)
	for start > 0 && r.kindAt(start-1) == kDet {
		start--
	}
	name := r.t(p).word
	c := Change{Ref: Ref{Like: load.TieDown{Place: load.Place{On: name}}}}
	var s subject
	if e, ok := r.edit(i, j, &s, nil, false); ok {
		c.Edit = e
		r.changes = append(r.changes, c)
	}
	r.partTies = append(r.partTies, partTie{name, held})
	r.take(start, j)
}

// partTie is what became of the tie-down on a part, where it was told by the
// part's name only.
type partTie struct {
	part string
	held bool
}

// copula reads "one is 5/16", "the front two are over", "one of them is on the
// bucket": facts of tie-downs told already, never more of them.
func (r *reader) copula(i, from, to int) {
	if !r.tiesBefore(i) && r.anyKindOrCount(from, to) {
		return // the message has told none yet: this is how it tells them
	}
	var s subject
	start := i
	for k := i - 1; k >= from && k >= i-window; k-- {
		t := r.t(k)
		if t.owner != "" || t.kind == kRoute || t.kind == kTens || t.kind == kHook || t.kind == kRing || t.kind == kLink || t.kind == kIt {
			break
		}
		if t.kind == kDoubt && s.told {
			start = k // "except one is 5/16"
			break
		}
		if !s.take(r, k) {
			break
		}
		start = k
	}
	if !s.told || s.counted {
		return
	}
	for _, k := range s.size {
		s.ref.Like.Size, s.ref.Like.SizeWord = r.t(k).size, r.t(k).word
	}
	var e Edit
	fact := false
	k := i + 1
loop:
	for ; k < to; k++ {
		t := r.t(k)
		if t.owner != "" {
			break
		}
		switch t.kind {
		case kSize:
			e.Set.Size, e.Set.SizeWord, fact = t.size, t.word, true
		case kGrade:
			e.Set.Grade, fact = load.Grade{Value: t.word, Reading: load.Read}, true
		case kRoute:
			if t.word == "?" {
				break loop
			}
			e.Set.Route, fact = load.Route(t.word), true
		case kMat:
			m, ok := materials[t.word]
			if !ok {
				break loop
			}
			if m.grade.Reading != load.NotRead {
				e.Set.Grade, fact = m.grade, true
			}
		case kPart, kJoint:
			if r.kindAt(k-1) != kDet && r.kindAt(k-1) != kOn {
				break loop
			}
			on := t.word
			if t.kind == kJoint {
				on = "joint"
			}
			e.Set.Place.On, fact = on, true
		case kNeg:
			if n := r.kindAt(k + 1); n == kSize || n == kGrade {
				k++ // "is 3/8 not 1/2"
				continue
			}
			break loop
		case kDet, kOn, kAll, kBe:
		default:
			break loop
		}
	}
	if !fact {
		return
	}
	if s.ref.Which == It && (s.plural || s.ref.Like.Place == (load.Place{})) {
		s.ref.Which = All
	}
	r.take(start, k)
	r.changes = append(r.changes, Change{Ref: s.ref, Edit: e})
}

// tiesBefore says whether tie-downs were described before token i.
func (r *reader) tiesBefore(i int) bool {
	if r.lastClause() != nil || r.cl != nil {
		return true
	}
	core, count := false, false
	for k := 0; k < i; k++ {
		switch r.t(k).kind {
		case kSize, kGrade, kMat:
			core = true
		case kCount, kTimes, kNum:
			count = true
		case kSep, kStop, kLine, kRoute:
			if core && count {
				return true
			}
		}
	}
	return false
}

// anyKindOrCount says whether an article or a count is told in from..to.
func (r *reader) anyKindOrCount(from, to int) bool {
	return r.has(from, to, kKind) || r.has(from, to, kCount) || r.has(from, to, kMass) || r.has(from, to, kBig)
}

// noneAt reads "no chains at the rear", "none at the front": a place told empty.
// It is no place of the tie-downs told, and the answer cannot stand on it.
func (r *reader) noneAt(i, to int) {
	k := i + 1
	if r.kindAt(k) == kMat {
		k++
	}
	if r.kindAt(k) != kOn && r.kindAt(k) != kRoute {
		return
	}
	for k < to && (r.kindAt(k) == kOn || r.kindAt(k) == kDet || r.kindAt(k) == kRoute) {
		k++
	}
	switch r.kindAt(k) {
	case kPart:
		// "no chain over the bucket"
		r.partTies = append(r.partTies, partTie{r.t(k).word, false})
		r.take(i, k+1)
		return
	case kJoint:
		r.take(i, k+1)
		r.uncrossed = true
		return
	case kEnd, kSide, kCorner:
	default:
		return
	}
	for ; i <= k; i++ {
		t := r.t(i)
		t.owner, t.kind, t.figure = OwnUnread, kTaken, true
	}
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
		return r.kindAt(i-3) == kMat || r.kindAt(i-3) == kWith
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

// attachAt applies what waits for the clause that is being read at token i.
func (r *reader) attachAt(i int) {
	for _, x := range r.attach {
		if x.at != i {
			continue
		}
		c := r.cl
		if c == nil || !c.named && !c.told {
			c = r.lastClause()
		}
		if c == nil || x.all && r.brokeBack(i) {
			which := r.allOr()
			if x.all || x.edit.Set.Grade.Reading != load.NotRead {
				which = All
			}
			r.changes = append(r.changes, Change{Ref: Ref{Which: which}, Edit: x.edit})
			continue
		}
		c.apply(x.edit)
	}
}

// allOr points at all tie-downs where this message told some, else at the one
// spoken of.
func (r *reader) allOr() Which {
	for _, a := range r.arts {
		if len(a.clauses) > 0 {
			return All
		}
	}
	if r.cl != nil {
		return All
	}
	return It
}

// brokeBack says whether a separator stands before the condition at i.
func (r *reader) brokeBack(i int) bool {
	for i--; i >= 0; i-- {
		switch r.t(i).kind {
		case kSep, kLine, kStop:
			return true
		case kTaken, kAnd:
			continue
		}
		return false
	}
	return false
}

func (r *reader) lastClause() *clause {
	for k := len(r.arts) - 1; k >= 0; k-- {
		if n := len(r.arts[k].clauses); n > 0 {
			return r.arts[k].clauses[n-1]
		}
	}
	return nil
}

// apply lays a condition over all pieces of a clause.
func (c *clause) apply(e Edit) {
	s := &c.tie.State
	if e.Loose {
		s.Tight = load.No
	}
	if e.Set.State.Tight == load.Yes {
		s.Tight = load.Yes
	}
	if e.Set.State.Sound == load.Yes {
		s.Sound = load.Yes
	}
	s.NoGuard = s.NoGuard || e.Set.State.NoGuard && c.tie.Material != load.Chain
	s.Damage = append(s.Damage, e.Damage...)
	if e.Gone != "" {
		s.Gone = e.Gone
	}
	if e.Set.Grade.Reading != load.NotRead {
		c.tie.Grade = e.Set.Grade
		c.named = true
	}
	if e.Set.Tensioner.Has != load.Untold {
		c.tie.Tensioner.Has = e.Set.Tensioner.Has
	}
}
