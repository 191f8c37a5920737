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
		case kDoubt:
			if k := r.past(i+1, kDet); (r.t(i).raw == "needs" || r.t(i).raw == "need") && k < to && r.kindAt(k) == kTens && !r.ratedAhead(k+1) {
				r.t(i).kind = kNoTens // "rear left needs a binder"
				r.trouble(i, k+1, from, to)
			}
		case kRated:
			r.tagOf(i, from, to)
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
			if r.shortOf(i, from, to) {
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

// shortOf reads "short one", "one chain short", "two shy": so many tie-downs are
// not on.
func (r *reader) shortOf(i, from, to int) bool {
	switch r.t(i).raw {
	case "short", "shy", "lacking", "less", "minus":
	default:
		return false
	}
	at, end := i+1, i+2 // the number before or behind it
	start := i
	if r.kindAt(at) != kNum || at >= to {
		end = i + 1
		if at = r.back(i-1, kMat); at < from || r.kindAt(at) != kNum {
			return false
		}
		start = at
	} else if r.kindAt(end) == kMat {
		end++
	}
	n := r.t(at).num
	if n%load.One != 0 || n > mostBare*load.One || n == 0 || r.t(at).owner != "" || end < to && r.kindAt(end).in(kSize, kGrade, kMass, kTens) {
		return false
	}
	r.take(start, end)
	r.changes = append(r.changes, Change{Ref: Ref{Which: Some, Count: int(n / load.One)}, Edit: Edit{Gone: "lost"}})
	return true
}

func (r *reader) ratedAhead(i int) bool {
	k := r.kindAt(i)
	return k.in(kMass, kBig)
}

// condition is one condition while it is read.
type condition struct {
	at, behind int  // its own words: tokens at..behind
	from, to   int  // the sentence it stands in
	what       kind // of token at
	start, end int  // all that it takes
	negated    bool

	before, after subject // what it is told of

	instead *load.TieDown // put in the place of what was replaced; nil not told
}

// trouble reads the condition told in tokens i..j, with its subject before or
// after it.
func (r *reader) trouble(i, j, from, to int) {
	switch k := r.t(i).kind; {
	case k.in(kLoose, kGone, kDamage):
		r.harmAt = max(r.harmAt, i)
	case k.in(kTighten, kReplace):
		r.mendAt = max(r.mendAt, i)
	}
	if r.ofPart(i, j, from) || r.articleGone(i, to) {
		return
	}
	if r.mended(i, to) {
		r.own(i, OwnPhrase)
		r.own(i-1, OwnPhrase)
		return
	}
	c := condition{at: i, behind: j, from: from, to: to, what: r.t(i).kind, end: j}
	c.start = c.at
	r.notYet(&c)
	r.subjectBefore(&c)
	r.subjectAfter(&c)
	s := r.subjectOf(&c)
	c.end = r.onArticle(c.end, &s)
	if c.what.in(kTighten, kReplace, kGone) && s.ref.Which == It && !s.told && r.says(i, " em", "them", "both") {
		s.ref.Which = All // "hooked em back up"
	}
	e, ok := r.edit(i, &s, c.negated)
	if !ok {
		return
	}
	if c.instead != nil {
		e.Set, e.Part = *c.instead, ""
	}
	r.aside = r.aside || c.what.in(kTighten, kReplace) && r.has(c.start, c.end+1, kDoubt) // "tightened it by hand"
	r.lay(&c, s, e)
}

// mended says whether the looseness at i is told as past and mended right behind:
// "was loose but tightened it". One that is named is set aside and brought back.
func (r *reader) mended(i, to int) bool {
	was := r.kindAt(i-1) == kBe && (r.t(i-1).raw == "was" || r.t(i-1).raw == "were")
	named := !r.kindAt(i-2).in(kSep, kLine, kStop, kNone, kThem, kIt, kAnd, kRoute)
	k := r.past(i+1, kAnd, kSep, kIt, kThem)
	return !named && r.kindAt(i) == kLoose && was && k < to && r.kindAt(k) == kTighten
}

// ofPart reads a condition told of a part's tie-down, or of the machine itself:
// those say nothing of the other tie-downs.
func (r *reader) ofPart(i, j, from int) bool {
	k, at := r.nounBefore(i, from)
	if r.kindAt(i) == kGone && r.kindAt(r.past(i+1, kDet)).in(kThem, kMat, kNum, kAll, kTens, kHook) {
		return false // "over the blade took them off"
	}
	if k == kMat && r.kindAt(at-1) == kPart && at-1 >= from {
		r.partTie(at-1, at, i, j) // "the bucket chain is loose"
		return true
	}
	if k.in(kJoint, kPart) {
		m := r.back(at-1, kDet)
		n := r.kindAt(m - 1)
		if r.kindAt(m).in(kRoute, kOn) && (n.in(kIt, kNum, kThem) || n == kMat && k == kJoint) {
			// "the one over the joint is loose"
			var s subject
			if e, ok := r.edit(i, &s, false); ok {
				r.changes = append(r.changes, Change{Ref: Ref{Like: load.TieDown{Place: load.Place{On: r.t(at).word}}}, Edit: e})
				r.take(m-1, j)
			}
			return true
		}
	}
	if k == kPart && (r.kindAt(at-1).in(kOn, kRoute) || r.kindAt(at-1) == kDet && r.kindAt(at-2).in(kOn, kRoute)) {
		for m := at - 1; m >= from && m >= at-4; m-- {
			if r.kindAt(m) == kMat {
				r.partTie(at, m, i, j) // "the chain on the bucket came off"
				return true
			}
		}
	}
	return k.in(kPart, kJoint, kLock)
}

// articleGone leaves "take off the crate" unread: an article taken off is not
// ours to guess at.
func (r *reader) articleGone(i, to int) bool {
	if r.kindAt(i) != kGone || r.kindAt(i+1) != kDet || r.kindAt(i+2) != kKind || i+2 >= to || r.kindAt(i+3) == kMat {
		return false
	}
	r.leaveUnread(i, i+3)
	return true
}

// leaveUnread keeps tokens a..b from being read as anything else.
func (r *reader) leaveUnread(a, b int) {
	for k := a; k < b; k++ {
		t := r.t(k)
		t.owner, t.kind, t.figure = OwnUnread, kTaken, true
	}
}

// notYet finds what denies a tightening: "not tightened yet", "front left needs
// tightening".
func (r *reader) notYet(c *condition) {
	if c.what != kTighten {
		return
	}
	for m := c.at - 1; m >= c.from && m >= c.at-4; m-- {
		if x := r.kindAt(m); x.in(kNeg, kDoubt) {
			c.negated = true
			r.own(m, OwnFact)
		} else if !x.in(kIt, kThem, kBe, kDet, kAll) {
			break
		}
	}
}

// subjectBefore reads what stands before the condition: its subject, and a
// denial.
func (r *reader) subjectBefore(c *condition) {
	s := &c.before
	for k := c.at - 1; k >= c.from && k >= c.at-window; k-- {
		t := r.t(k)
		next := k == c.at-1
		switch {
		case t.owner == OwnFact && t.kind.in(kNeg, kDoubt):
			c.start = k
			continue
		case t.owner != "":
			return
		case s.number && t.kind.in(kSize, kGrade, kMat, kNum, kCount, kTimes, kTens) && !c.what.in(kNeg) && r.kindAt(k+1) == kNum:
			return // "4 chains 3/8 g70 one loose": the clause before it
		case t.kind == kNeg && t.raw == "only":
			return // "only 3 tight": not one of the others
		case t.kind == kNeg && c.what == kDamage && next && (r.t(c.at).raw == "no" || r.t(c.at).raw == "not"):
			c.start = k // "aint no good"
			continue
		case t.kind == kNeg && (next || c.what == kTight), t.kind == kDoubt && c.what == kTight && cannot(t.raw):
			c.negated = true
			c.start = k
			continue
		case t.kind.in(kDoubt, kHedge) && c.what.in(kLoose, kGone, kDamage) && !c.negated:
			c.start = k // "one might be loose": as if it were
			continue
		case t.kind.in(kOr, kAnd) && next && c.what == kDamage && r.kindAt(k-1) == kTaken && r.negatedAt == k-1:
			c.negated = true // "no cuts or tears"
			c.start = k
			return
		case t.kind == kRoute && !r.pointsByRoute(k):
			return // "4x 3/8 direct front left is loose": the clause before it
		case t.kind == kWith && s.number && k > c.from && s.ref.Which == Some && r.kindAt(k+1) == kNum:
			// "left rear chain has 2 nicked links": links, not chains
			s.uncount()
			s.told = s.ref.Like.Material != "" || s.ref.Like.Place != (load.Place{})
		case t.kind == kKind && r.pointsByKind(k):
			s.ref.Kind = t.word // "front left on the car is loose"
			c.start = k
			continue
		}
		if !s.take(r, k) {
			return
		}
		c.start = k
	}
}

// cannot says whether a doubt that begins with the word raw tells that it was
// tried in vain: "cant get one tight".
func cannot(raw string) bool {
	switch raw {
	case "cant", "can", "cannot", "couldnt", "wont":
		return true
	}
	return false
}

// uncount takes back a number that counts something else than tie-downs.
func (s *subject) uncount() { s.number, s.ref.Count, s.ref.Which = false, 0, It }

// pointsByRoute says whether the route at k points at tie-downs told before:
// "the direct one".
func (r *reader) pointsByRoute(k int) bool {
	switch r.kindAt(k - 1) {
	case kDet, kAll, kThem, kRest, kLast, kNone:
		return true
	case kSize, kGrade, kMat:
		return r.theBefore(k - 1)
	}
	return false
}

// pointsByKind says whether the article at k is the one a tie-down is told to
// be on.
func (r *reader) pointsByKind(k int) bool {
	det := r.kindAt(k-1) == kDet
	on := r.kindAt(k-1) == kOn || det && r.kindAt(k-2) == kOn
	return on && (r.kindsTold() > 1 || det && r.t(k-1).raw == "the")
}

// subjectAfter reads what stands behind the condition: its measures, and its
// subject where none was told before it.
func (r *reader) subjectAfter(c *condition) {
	for k := c.behind; k < c.to && k < c.behind+window; k++ {
		t := r.t(k)
		if t.owner != "" {
			return
		}
		if r.unsureMeasure(c, k) {
			c.end = k + 1
			continue
		}
		if r.theHurtOne(c, k) {
			c.end = k + 1
			continue
		}
		if c.what == kReplace {
			if set, end := r.inPlace(k, c.to); end > k {
				c.instead, c.end = &set, end
				return
			}
		}
		if r.nextTold(c, k) || !c.after.take(r, k) {
			return
		}
		switch t.kind {
		case kBe, kWith, kDet, kOn, kOf, kFrom, kHedge:
		case kIt:
			if !c.before.told {
				c.end = k + 1
			}
		default:
			c.end = k + 1
		}
	}
}

// theHurtOne reads "the cut one", "the loose chain" behind what was done with it:
// the hurt points at it.
func (r *reader) theHurtOne(c *condition, k int) bool {
	t := r.t(k)
	if !c.what.in(kGone, kReplace, kTighten) || c.before.told || r.kindAt(k-1) != kDet || r.t(k-1).raw != "the" || !r.kindAt(k+1).in(kThem, kIt, kMat, kHook, kTens, kRing, kLink, kNum, kSize) {
		return false
	}
	s := &c.after.ref.Like.State
	switch {
	case t.kind == kDamage && t.hurt == nil:
		s.Damage = []load.Damage{{Kind: t.word}}
	case t.kind == kLoose:
		s.Tight = load.No
	default:
		return false
	}
	c.after.told = true
	return true
}

// nextTold says whether token k, behind the condition, begins what is told
// next.
func (r *reader) nextTold(c *condition, k int) bool {
	t := r.t(k)
	if c.before.told && (t.kind.in(kNum, kCount, kEnd, kCorner, kMat, kAll, kGrade, kRest, kThem, kSide, kRoute) || t.kind == kTens && t.plural) {
		return true
	}
	if c.what == kGone {
		return t.kind == kCount
	}
	return t.kind.in(kRoute, kCount) || t.kind == kNum && r.kindAt(k+1).in(kSize, kMass)
}

// subjectOf settles what the condition is told of, from what stands before and
// after it.
func (r *reader) subjectOf(c *condition) subject {
	s := c.before
	if !c.before.told && c.after.told {
		s = c.after
		if c.before.fitting && !c.after.fitting {
			s.part, s.fitting = c.before.part, true
		}
		if !c.before.fitting && len(c.before.size) == 0 {
			c.startAtHead()
		}
	} else if c.after.fitting && c.after.part != "" && !(c.before.part == string(load.Webbing) && ofWebbing(r.t(c.at))) {
		s.part, s.fitting = c.after.part, true
	}
	if s.fitting && !s.told && !s.plural && !c.what.in(kNeg, kNoTens, kNoMark, kReplace, kTighten) {
		s.ref.Which, s.ref.Count, s.told = Some, 1, true // "a binder popped": one of them
	}
	if len(s.size) == 0 { // "8.1 mm left on a 10 mm link"
		s.size = c.before.size
		if len(s.size) == 0 && c.after.fitting && !c.before.told {
			s.size = c.after.size
		}
	}
	// the subject's own size is the tie-down's
	for _, k := range s.size {
		if s.ref.Like.Size == 0 {
			s.ref.Like.Size, s.ref.Like.SizeWord = r.t(k).size, r.t(k).word
			s.told = true
		}
	}
	return s
}

// ofWebbing says whether a hurt is the webbing's own, wherever on it: "strap cut
// by the ratchet".
func ofWebbing(t *tok) bool {
	return t.kind == kDamage && (gash(t.word) || t.word == "stitching" || t.word == "worn")
}

// startAtHead leaves what stands before the condition, its denial aside.
func (c *condition) startAtHead() {
	c.start = c.at
	if c.negated {
		c.start--
	}
}

// lay takes the condition's tokens and lays what it tells where it belongs: the
// clause it stands in, or tie-downs told before.
func (r *reader) lay(c *condition, s subject, e Edit) {
	described := len(s.size) > 0 || s.ref.Like.Grade.Reading != load.NotRead
	counted := s.counted || described && s.number && r.firstTold(c.start)
	described = described && counted
	inClause := described || !s.told && (!s.fitting || r.clauseBefore(c.start, c.from))
	if inClause && counted {
		c.startAtHead()
	}
	r.take(c.start, c.end)
	if c.negated || c.what == kSound {
		r.negatedAt = c.end - 1
	}
	if inClause {
		r.attach = append(r.attach, attached{c.at, e, c.what.in(kSound, kTight)})
		return
	}
	if s.ref.Which == It && (s.plural && !s.number || c.what == kNoMark) {
		s.ref.Which = All // "cant find a mark on the chain"
	}
	r.changes = append(r.changes, eachTag(Change{Ref: s.ref, Edit: e}, s.tags)...)
}

// firstTold says whether tie-downs told at i are the first of a load told before
// them: "22k excavator, 4 3/8 chains loose" tells what there is, it points at none.
func (r *reader) firstTold(i int) bool {
	return !r.has(0, i, kMat, kSize, kGrade, kCount, kTimes) && r.has(0, i, kKind) && r.has(0, i, kMass, kBig)
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

// theBefore says whether a kind told at k is told with "the": one known already.
func (r *reader) theBefore(k int) bool {
	k = r.back(k, kSize, kGrade, kMat)
	return r.kindAt(k) == kDet && r.t(k).raw == "the"
}
