package rules

import (
	"cmp"
	"slices"

	"halfweight/rules/load"
	"halfweight/rules/tables"
)

// Reasons of accessory.
const (
	reasonTied       = "tied"
	reasonHeldWith   = "held with another part"
	reasonLocked     = "locked"
	reasonOff        = "taken off"
	reasonStowed     = "stowed"
	reasonStill      = "nothing moves"
	reasonLoose      = "loose"
	reasonHydraulics = "on hydraulics only"
	reasonUp         = "up"
	reasonNotTied    = "not tied"
	reasonSetAside   = "its tie-down is set aside"
	reasonUnlocked   = "no lock and no tie-down"
	reasonOneLock    = "one of two locks"
	reasonTieAsWell  = "locked, tie it as well"
	reasonProp       = "on a service prop"
	reasonMentioned  = "only mentioned"
	reasonExpected   = "not told"
	reasonVague      = "kind too vague"
)

// accessory asks of each accessory of a machine of 10,000 lb or more that it is
// lowered and tied down (49 CFR 393.130(b)(1)), and of a lighter machine that it
// cannot shift (393.100(b), 393.106(b)): there a lock, latch or pin is enough.
// At any weight locks are enough for the parts that the kinds and parts tables
// name: a backhoe's hoe with both of its locks in, a trencher's boom, outriggers
// and stabilisers. One tie-down over a bucket, its stick or its boom holds all of
// them; one over a skidder's blade does not hold its grapple. Parts expected of a kind are untold until told; its other parts are
// taken as stowed until named.
//
// It does not see whether a part would stick out past the deck if lowered, and
// asks nothing of what moves on cars and trucks, or inside a machine.
func accessory(s *sheet) {
	if s.class == tables.ClassCargo {
		return
	}
	views := s.parts()
	s.settleParts(views)
	for i := range views {
		s.findPart(&views[i])
	}
	if s.vague {
		s.find(s.movingParts())
		return
	}
	for _, other := range s.kind.Others {
		if !slices.ContainsFunc(views, func(v part) bool { return v.key == other }) {
			s.assume(CodeOtherStowed, other)
		}
	}
}

// part is one accessory as the rule sees it.
type part struct {
	key, word string
	told      load.Part // what was told; zero where it is only expected
	named     bool      // told of, not only expected
	set       int       // index of the kind's set it belongs to; -1 none
	tied      bool      // a tie-down that counts is on it
	maybe     string    // what would bring back a tie-down that is on it
	lost      bool      // a tie-down set aside or gone was on it, and none that counts is

	outcome     Outcome
	reason, ask string
	down        bool // met with lowering taken for granted
}

// parts lists the accessories to judge: those told of and those a tie-down is
// told on, and of each set of the kind of which none is told, the first.
func (s *sheet) parts() []part {
	views := make([]part, 0, len(s.art.Parts)+len(s.kind.Expects))
	for i := range s.art.Parts {
		p := &s.art.Parts[i]
		views = append(views, part{key: p.Name, word: p.Word, told: *p, named: true, set: s.setOf(p.Name)})
	}
	for i := range s.groups {
		on := s.groups[i].tie.Place.On
		if on == "" || on == joint || slices.ContainsFunc(views, func(v part) bool { return v.key == on }) {
			continue
		}
		views = append(views, part{key: on, named: true, set: s.setOf(on)})
	}
	for i := range views {
		s.tiesOn(&views[i])
	}
	if !s.vague {
		for i, set := range s.kind.Expects {
			if key := expected(views, i, set); key != "" {
				views = append(views, part{key: key, set: i})
			}
		}
	}
	for i := range views {
		if views[i].word == "" {
			views[i].word = views[i].key
		}
	}
	return views
}

// setOf is the index of the kind's set that a part belongs to, or -1.
func (s *sheet) setOf(key string) int {
	if s.vague {
		return -1
	}
	return slices.IndexFunc(s.kind.Expects, func(set []string) bool { return slices.Contains(set, key) })
}

// expected is the part of a set that is still to be told of: none where one of
// it was told to be there, else its first; and where that was told off, the
// first that is no attachment, for the arms still stand.
func expected(views []part, i int, set []string) string {
	off := false
	for j := range views {
		if views[j].set != i {
			continue
		}
		if !views[j].told.Off {
			return ""
		}
		off = true
	}
	if !off {
		return set[0]
	}
	for _, key := range set {
		if p, ok := tables.FindPart(key); ok && p.Attachment || key == "attachment" {
			continue
		}
		if !slices.ContainsFunc(views, func(v part) bool { return v.set == i && v.key == key }) {
			return key
		}
	}
	return ""
}

// tiesOn looks for the tie-downs told on a part.
func (s *sheet) tiesOn(v *part) {
	for i := range s.groups {
		g := &s.groups[i]
		if g.tie.Place.On != v.key || g.n == 0 {
			continue
		}
		switch g.cond.fate {
		case counts:
			v.tied = true
		case maybe:
			v.maybe = g.returns()
		default:
			v.lost = true
		}
	}
	v.lost = v.lost && !v.tied
}

// settleParts settles the parts by the side of the heavy line the article is on;
// on both, where the weight does not tell, what differs is untold.
func (s *sheet) settleParts(views []part) {
	switch s.heavy {
	case load.Yes:
		s.settleAs(views, s.heavyPart)
	case load.No:
		s.settleAs(views, s.lightPart)
	default:
		light := slices.Clone(views)
		s.settleAs(light, s.lightPart)
		s.settleAs(views, s.heavyPart)
		for i := range views {
			v := &views[i]
			if v.outcome == light[i].outcome {
				continue
			}
			v.outcome = Untold
			if v.ask == "" {
				v.ask = AskTied
			}
		}
	}
}

// settleAs settles the parts on one side of the line.
func (s *sheet) settleAs(views []part, settle func(*part)) {
	for i := range views {
		settle(&views[i])
	}
	for i := range views {
		s.holdWith(views, &views[i])
	}
}

// end is how a part ends.
func (v *part) end(o Outcome, reason, ask string) { v.outcome, v.reason, v.ask = o, reason, ask }

// plainPart settles what is the same at any weight: off, loose, on hydraulics
// only, and stowed where that is its place on the road.
func (s *sheet) plainPart(v *part) bool {
	p := &v.told
	switch {
	case p.Off:
		v.end(Met, reasonOff, "")
	case p.Loose && !v.tied:
		s.shortPart(v, reasonLoose)
	case p.Hydraulics && !v.tied:
		s.shortPart(v, reasonHydraulics)
	case p.Stowed && !v.lost && p.Tied != load.No && p.Down != load.No && slices.Contains(s.kind.Others, v.key):
		v.end(Met, reasonStowed, "")
	default:
		return false
	}
	return true
}

// shortPart is short, unless a tie-down on it may come back.
func (s *sheet) shortPart(v *part, reason string) {
	if v.maybe != "" {
		v.end(Untold, reason, v.maybe)
		return
	}
	v.end(Short, reason, "")
}

// lightPart settles a part of a machine below 10,000 lb.
func (s *sheet) lightPart(v *part) {
	p := &v.told
	switch {
	case s.plainPart(v):
	case v.heldByTold():
		v.end(Met, reasonTied, "")
	case len(p.Locks) > 0:
		v.end(Met, reasonLocked, "")
	case p.Unlocked && (p.Tied == load.No || v.lost):
		s.shortPart(v, reasonUnlocked)
	default:
		v.end(Untold, toldOf(v), cmp.Or(v.maybe, AskLatched))
	}
}

// heavyPart settles a part of a machine of 10,000 lb or more.
func (s *sheet) heavyPart(v *part) {
	p := &v.told
	needs, lockable := s.lockEnough(v.key)
	locked := lockable == load.Yes && holdsAll(p.Locks, needs)
	switch {
	case p.Down == load.No && lockable == load.No && !p.Off:
		v.end(Short, reasonUp, "") // tied or not: lowered is asked first
	case s.plainPart(v):
	case locked:
		v.end(Met, reasonLocked, "")
	case p.Down == load.No && len(needs) > 1 && len(p.Locks) == 0:
		v.end(Short, reasonUp, "") // a backhoe's hoe with neither lock told; locks told later put right what was told
	case p.Down == load.No:
		v.end(Untold, reasonUp, AskLock)
	case v.heldByTold():
		v.end(Met, reasonTied, "")
		v.down = p.Down == load.Untold
	case lockable != load.No && p.Unlocked && (p.Tied == load.No || v.lost):
		s.shortPart(v, reasonUnlocked)
	case lockable == load.Yes && len(needs) > 1 && len(p.Locks) > 0:
		v.end(Untold, reasonOneLock, AskOtherLock)
	case lockable != load.No && (p.Tied == load.No || v.lost):
		v.end(Untold, reasonNotTied, AskLock)
	case v.lost:
		s.shortPart(v, reasonSetAside)
	case p.Tied == load.No:
		s.shortPart(v, reasonNotTied)
	case p.Prop:
		v.end(Untold, reasonProp, AskTied)
	case len(p.Locks) > 0:
		v.end(Untold, reasonTieAsWell, AskTied)
	default:
		v.end(Untold, toldOf(v), cmp.Or(v.maybe, AskTied))
	}
}

// heldByTold says whether a tie-down holds the part: one that counts is told on
// it, or it is told tied and none told on it is set aside.
func (v *part) heldByTold() bool {
	return v.tied || v.told.Tied == load.Yes && !v.lost && v.maybe == ""
}

// toldOf is the reason of a part of which nothing was told that settles it.
func toldOf(v *part) string {
	switch {
	case v.lost:
		return reasonSetAside
	case v.told.Tied == load.No:
		return reasonNotTied
	case v.told.Prop:
		return reasonProp
	case v.named:
		return reasonMentioned
	}
	return reasonExpected
}

// lockEnough says whether locks alone hold a part at any weight, and which must
// all be in (none named: any). Of a kind too vague, what holds for some kind may
// hold for it.
func (s *sheet) lockEnough(key string) (needs []string, enough load.Tri) {
	if needs, ok := s.kind.LockEnough(key); ok {
		return needs, load.Yes
	}
	if s.vague {
		for _, k := range tables.Kinds() {
			if _, ok := k.LockEnough(key); ok {
				return nil, load.Untold
			}
		}
	}
	return nil, load.No
}

// holdsAll says whether all of needs were told in; any lock will do where none
// is named.
func holdsAll(locks, needs []string) bool {
	for _, n := range needs {
		if !slices.Contains(locks, n) {
			return false
		}
	}
	return len(locks) > 0
}

// holdWith settles a part that no tie-down is told on by another that one is: a
// chain over the stick holds the bucket, and one over the bucket the boom.
func (s *sheet) holdWith(views []part, v *part) {
	if v.outcome == Met || v.told.Loose || v.told.Hydraulics || v.reason == reasonUp || v.told.Off {
		return
	}
	for i := range views {
		w := &views[i]
		if w == v || !s.oneTie(v, w) {
			continue
		}
		switch tied := w.outcome == Met && w.reason == reasonTied; {
		case tied && s.vague && v.outcome == Short:
			v.end(Untold, v.reason, AskKind)
		case tied && !s.vague:
			v.end(Met, reasonHeldWith, "")
			v.down = s.heavy != load.No && v.told.Down == load.Untold
			return
		case w.maybe != "" && w.outcome != Met && v.outcome == Short:
			v.end(Untold, v.reason, w.maybe)
		}
	}
}

// oneTie says whether one tie-down holds both parts: they are of one set, and
// one of them is the arm that carries the other. Of a kind too vague that is not
// known.
func (s *sheet) oneTie(v, w *part) bool {
	return s.vague || v.set >= 0 && v.set == w.set && (isArm(v.key) || isArm(w.key))
}

func isArm(key string) bool {
	p, _ := tables.FindPart(key)
	return p.Sort == "arm"
}

// findPart lists a part, with what its outcome takes for granted.
func (s *sheet) findPart(v *part) {
	f := Finding{Rule: "accessory", Subject: v.word, Part: v.key, Outcome: v.outcome, Reason: v.reason, Ask: v.ask}
	if s.heavy == load.No {
		f.Cite = s.lim.Citation("accessory light")
	}
	switch {
	case v.down:
		s.assume(CodeDown, v.key)
	case v.outcome == Short:
		// No other tie-down is on it, nor on what it is held with.
		if !s.onTheMachine() {
			s.assume(CodeOnTheMachine, v.key)
		}
	}
	switch v.reason {
	case reasonTied:
		s.heldBy(v)
	case reasonHeldWith:
		s.assume(CodeSound, v.key) // not told loose itself
	}
	if v.reason == reasonLocked && s.heavy != load.No {
		s.remarkPart(RemarkLocksDiffer, v.key)
	}
	if v.told.Down == load.No && !v.told.Off {
		s.remarkPart(RemarkHeight, v.key)
	}
	s.find(f)
	if v.outcome != Met {
		s.demands = append(s.demands, Demand{Rule: f.Rule, Subject: v.word, On: v.key})
	}
}

// heldBy notes what a part told tied takes for granted: of the tie-downs told on
// it that they are as they were told; where none is, that those set aside are
// none of it.
func (s *sheet) heldBy(v *part) {
	for i := range s.groups {
		g := &s.groups[i]
		switch {
		case v.tied && g.cond.fate == counts && g.tie.Place.On == v.key:
			g.used |= g.any
		case !v.tied && g.cond.fate != counts && g.itself():
			g.used |= codeOnTheMachine
		}
	}
}

// movingParts is the one finding of an article whose kind does not say what
// moves on it.
func (s *sheet) movingParts() Finding {
	f := Finding{Rule: "accessory", Subject: tables.MovingParts, Part: tables.MovingParts, Reason: reasonVague, Ask: AskKind}
	if s.art.Still {
		f.Outcome, f.Reason, f.Ask = Met, reasonStill, ""
	}
	return f
}
