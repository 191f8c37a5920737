package rules

import (
	"halfweight/rules/load"
	"halfweight/rules/tables"
)

// This file holds what the rules of the sections that one kind of cargo has to
// itself (49 CFR 393.116 to 393.136) have in common: which section governs the
// article, which of its tie-downs the section counts, and how a count of them
// ends. Each section's own duties stand in the file named by its rule's id.

// The rules of the sections that one kind of cargo has to itself.
const (
	ruleLogs      = "logs"
	ruleLumber    = "lumber"
	ruleCoils     = "coils"
	rulePaper     = "paper"
	ruleConcrete  = "concrete"
	ruleContainer = "container"
	ruleFlattened = "flattened"
	ruleRollOff   = "roll-off"
	ruleBoulder   = "boulder"
)

// Reasons of the sections' rules.
const (
	reasonApart    = "several, each on its own"
	reasonLies     = "how it lies not told"
	reasonShape    = "its shape not told"
	reasonStacks   = "stacks not told"
	reasonTiers    = "tiers not told"
	reasonOneTier  = "one tier"
	reasonWalls    = "walls not told"
	reasonLoaded   = "loaded or empty not told"
	reasonWLL      = "rating not told"
	reasonLocks    = "its locks not told"
	reasonLocksOut = "a lock not in"
	reasonLocksIn  = "held by its locks"
	reasonWalled   = "walled on all sides"
	reasonStrap    = "a strap on it"
	reasonTooWeak  = "a tie-down too weak"
	reasonBore     = "its diameter not told"
	reasonMany     = "number of pieces not told"
)

// Whys of tie-downs that a section does not count (Aside.Why).
const (
	whyNoChain = "not a chain"
	whyNoStrap = "strap on it"
	whyIfEmpty = "a strap, unless empty"
)

// section is the section that governs the article, so far as its weight and how
// it lies are told.
type section struct {
	rule   string // id of its rule; "" none
	open   bool   // whether it governs is not told
	ask    string // what would settle that
	reason string
	count  asked // as its rule has settled it
}

// govern finds the section that governs the article.
func (s *sheet) govern() {
	k := tables.Cargo(s.art.Kind)
	c, lim := &s.art.Cargo, &s.lim.Cargo
	s.cargo = k
	switch k.Section {
	case ruleCoils:
		s.from(k.Section, lim.CoilsFrom, lim.CoilsFromMetric)
	case rulePaper:
		s.from(k.Section, lim.PaperFrom, lim.PaperFromMetric)
	case ruleBoulder:
		s.from(k.Section, lim.BoulderFrom, lim.BoulderFromMetric)
	case ruleLogs:
		if c.Banded != load.Yes {
			s.own = section{rule: k.Section}
		}
	case ruleConcrete:
		switch {
		case c.Banded == load.Yes, c.Lies == load.Along, c.Lies == load.OnEnd:
		case c.Lies == load.Across:
			s.own = section{rule: k.Section}
		default:
			s.own = section{rule: k.Section, open: true, ask: AskLies, reason: reasonLies}
		}
	case "":
	default:
		s.own = section{rule: k.Section}
	}
}

// from lets a section govern from a weight up.
func (s *sheet) from(rule string, pounds, kilograms load.Mass) {
	w, line := &s.art.Weight, pounds
	if w.Metric {
		line = kilograms
	}
	switch {
	case !w.Known():
		s.own = section{rule: rule, open: true, ask: AskWeight, reason: reasonNoWeight}
	case w.Low >= line:
		s.own = section{rule: rule}
	case w.High >= line:
		s.own = section{rule: rule, open: true, ask: AskPlate, reason: reasonNearLine}
	}
}

// byLength says whether the number by length (393.110) is asked of the article:
// not where a section with a count of its own governs it.
func (s *sheet) byLength() bool {
	switch s.own.rule {
	case "", ruleLumber, rulePaper:
		return true
	}
	return false
}

// unfit is the condition of a tie-down that the article's section does not let
// count, whatever its state: anything but chain on a boulder (393.136), webbing
// on flattened vehicles (393.132), anything but chain and wire rope at a loaded
// container's corners (393.126).
func (s *sheet) unfit(t *load.TieDown) condition {
	c := &s.art.Cargo
	switch {
	case t.Material == "":
	case s.own.rule == ruleBoulder && !s.own.open && t.Material != load.Chain:
		return condition{fate: out, why: whyNoChain, duty: ruleBoulder}
	case s.own.rule == ruleFlattened && strap(t):
		return condition{fate: out, why: whyNoStrap, fix: true, duty: ruleFlattened}
	case s.own.rule == ruleContainer && !chainOrRope(t) && c.Empty == load.No && c.Chassis != load.Yes:
		return condition{fate: out, why: whyNoStrap, duty: ruleContainer}
	case s.own.rule == ruleContainer && !chainOrRope(t) && c.Empty == load.Untold && c.Chassis != load.Yes:
		return condition{fate: maybe, why: whyIfEmpty, duty: ruleContainer}
	}
	return condition{}
}

// strap says whether t is of webbing or fibre rope.
func strap(t *load.TieDown) bool { return t.Material == load.Webbing || t.Material == load.Cordage }

// chainOrRope says whether t is of chain or wire rope.
func chainOrRope(t *load.TieDown) bool {
	return t.Material == load.Chain || t.Material == load.WireRope
}

// noSum says whether the article is held by what is no tie-down, so that no sum
// of working load limits is asked: a container on its locks, or with neither locks
// nor tie-downs told yet; flattened vehicles walled on all four sides; a roll-off
// container on the hold-downs made for it.
func (s *sheet) noSum() bool {
	c := &s.art.Cargo
	switch s.own.rule {
	case ruleContainer:
		return c.Locked == load.Yes || c.Locked == load.Untold && len(s.art.Ties) == 0 && !s.art.Bare
	case ruleFlattened:
		return c.Walls == allWalls
	case ruleRollOff:
		return c.Locked == load.Yes
	}
	return false
}

// allWalls is a load walled on all four sides.
const allWalls = 4

// needs are the least and the most that the credits must reach for a weight:
// half of it, of logs that lie lengthwise a sixth (49 CFR 393.116), of logs not
// told how they lie between the two.
func (s *sheet) needs(m load.Mass) (least, most load.Mass) {
	half := s.need(m)
	switch {
	case s.noSum():
		return 0, 0
	case s.own.rule != ruleLogs, s.art.Cargo.Lies == load.Across, s.lim.Need > tables.Federal().Need:
		return half, half // a crew that asks more asks it of logs too
	}
	n := load.Mass(s.lim.Cargo.LogsShare)
	part := (m + n - 1) / n
	if s.art.Cargo.Lies == load.Along {
		return part, part
	}
	return part, half
}

// tallied is a count of the tie-downs that a section counts: those that fit and
// count, and those that may.
type tallied struct {
	have, more int
	ask        string
}

// countOf counts the tie-downs that fit.
func (s *sheet) countOf(fits func(*group) load.Tri) tallied {
	var t tallied
	for i := range s.groups {
		g := &s.groups[i]
		fit := fits(g)
		if fit == load.No || g.n == 0 || g.cond.fate > maybe {
			continue
		}
		switch {
		case g.cond.fate == maybe:
			t.more, t.ask = t.more+g.n, g.returns()
		case fit == load.Yes:
			t.have += g.n
		default:
			t.more, t.ask = t.more+g.n, g.question()
		}
		if g.tie.Plural {
			t.more, t.ask = many, AskCount
		}
	}
	return t
}

// anyTie fits every tie-down.
func anyTie(*group) load.Tri { return load.Yes }

// settle says how a count ends between the fewest and the most that what is not
// told could ask for; ask and reason are of what is not told.
func (t tallied) settle(fewest, most int, ask, reason string) asked {
	a := asked{applies: true, want: most, stand: stand{have: t.have, reason: reasonEnough}}
	if most == many {
		a.want = fewest
	}
	switch {
	case t.have >= most:
		a.outcome = Met
	case t.have+t.more < fewest:
		a.outcome, a.reason, a.want = Short, reasonFew, fewest
	case t.have < fewest:
		a.ask, a.reason, a.want = t.ask, reasonOf(t.ask), fewest
	case ask == "":
		a.ask, a.reason = t.ask, reasonOf(t.ask)
	default:
		a.ask, a.reason = ask, reason
	}
	return a
}

// findSection lists the count of the section that governs the article. Where it
// may not govern, it is untold until that is told.
func (s *sheet) findSection(a asked) {
	if len(s.art.Ties) == 0 && a.outcome == Short && a.reason == reasonFew {
		a.stand = noTies(s.art)
	}
	if s.own.open && a.outcome != Untold && a.reason != reasonBare {
		a.outcome, a.ask, a.reason = Untold, s.own.ask, s.own.reason
	}
	s.own.count = a
	switch a.outcome {
	case Met:
		s.rely()
	case Short:
		for i := range s.groups { // too few strong ones: by the ratings taken for them
			if g := &s.groups[i]; g.cond.fate <= maybe {
				g.used |= g.in.rests
			}
		}
	}
	s.find(Finding{Rule: s.own.rule, Outcome: a.outcome, Reason: a.reason, Have: a.have, Want: a.want, Ask: a.ask})
	s.demands = append(s.demands, s.ownDemand(a.want, a.have))
}

// ownDemand is what the article's own section asks of its tie-downs.
func (s *sheet) ownDemand(want, have int) Demand {
	d := Demand{Rule: s.own.rule, Number: want, Have: Have{Number: have}}
	switch s.own.rule {
	case ruleContainer:
		d.Front, d.Rear = want/2, want/2
		if !s.several() {
			d.Ends, d.Number = want, 0
			d.Have = Have{Front: s.places.front, Rear: s.places.rear, Free: s.places.assumed}
		}
	case ruleRollOff:
		d.Rear = want
	case ruleFlattened:
		d.Least = s.lim.Cargo.FlattenedLeast
	}
	return d
}

// rely notes what counting the tie-downs at all takes for granted of them.
func (s *sheet) rely() {
	for i := range s.groups {
		if g := &s.groups[i]; g.cond.fate == counts {
			g.used |= g.any
		}
	}
}

// several says whether more than one is told as one article.
func (s *sheet) several() bool {
	return s.art.Cargo.Pieces > 1 || s.art.Cargo.Several && s.art.Cargo.Pieces == 0
}

// apart is how a section's count ends for several pieces told together that it
// holds one by one: which tie-down holds which is not told.
func (s *sheet) apart(each int) (a asked, several bool) {
	n := s.art.Cargo.Pieces
	switch {
	case !s.several():
		return asked{}, false
	case n == 0:
		return s.countOf(anyTie).settle(2*each, many, AskPieces, reasonMany), true
	}
	return s.countOf(anyTie).settle(each*n, many, AskAlone, reasonApart), true
}

// strong says whether a tie-down's WLL is at least m at the upper end of a
// weight, high, or less at the lower end, low; untold between, and where what is
// not told of it may make it more.
func (g *group) strong(low, high load.Mass) load.Tri {
	switch {
	case high > 0 && g.in.WLL >= high:
		return load.Yes
	case g.in.doubt&(noSize|noRow|noGrade|noRating) != 0, g.in.WLL >= low:
		return load.Untold
	}
	return load.No
}
