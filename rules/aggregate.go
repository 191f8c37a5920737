package rules

import "halfweight/rules/load"

// Reasons of aggregate.
const (
	reasonCovers   = "covers"
	reasonLess     = "less than half the weight"
	reasonBinder   = "not with the commonest weaker binders"
	reasonCouldBe  = "could be enough"
	reasonBothEnds = "not at both ends of the weight"
	reasonHoist    = "the hoist holds the rest"
)

// aggregate asks that the credits of an article's tie-downs together be at least
// half its weight (49 CFR 393.106(d)): met where even the least credit covers
// the upper end of the weight, short where even the most does not cover the
// lower end. Where it covers only if the binders that were not told are not the
// commonest weaker ones, it is untold. Tie-downs on an accessory or across the
// joint are summed with the rest (393.106(d) sums all that hold the article).
//
// Logs that lie lengthwise need a sixth (393.116); what is held by locks or walls
// and by no tie-down has no sum. Of a roll-off container a sum below half is
// untold: what the hoist holds is not known.
//
// It does not reckon forces, angles or friction (393.102), and takes from the
// route alone whether a tie-down counts half or whole.
func aggregate(s *sheet) {
	if s.noSum() {
		return
	}
	f := Finding{Rule: "aggregate"}
	switch {
	case s.art.Bare && len(s.art.Ties) == 0:
		f.Outcome, f.Reason = Short, reasonBare
	case len(s.art.Ties) == 0:
		f.Reason, f.Ask = reasonNoTies, AskTies
	case s.most == 0:
		f.Outcome, f.Reason = Short, reasonLess // whatever it weighs
	case !s.art.Weight.Known():
		f.Reason, f.Ask = reasonNoWeight, AskWeight
	case s.most < s.needLow && s.own.rule == ruleRollOff:
		f.Reason, f.Ask = reasonHoist, AskHoist
	case s.most < s.needLow:
		f.Outcome, f.Reason = Short, reasonLess
	case s.allUntold():
		f.Reason, f.Ask = reasonBothEnds, AskTogether
	case s.weaker >= s.needHigh:
		f.Outcome, f.Reason = Met, reasonCovers
		s.accessoryCounted()
	case s.credit >= s.needHigh:
		f.Reason, f.Ask = reasonBinder, AskBinder
		s.accessoryCounted()
	case s.credit >= s.needLow:
		f.Reason, f.Ask = reasonBothEnds, s.weightAsk()
	case s.own.rule == ruleRollOff && s.mostOpen() == AskPlate:
		f.Reason, f.Ask = reasonHoist, AskHoist
	default:
		f.Reason, f.Ask = reasonCouldBe, s.mostOpen()
	}
	if f.Outcome == Short {
		s.bounded()
	}
	s.find(f)
	s.demands = append(s.demands, Demand{Rule: f.Rule, Credit: s.needHigh, Have: Have{Credit: s.weaker, Largest: s.largest()}})
}

// largest is the most that the loss of one tie-down takes off the credit.
func (s *sheet) largest() (most load.Mass) {
	for i := range s.groups {
		if g := &s.groups[i]; g.cond.fate == counts && g.n > 0 {
			most = max(most, g.in.Weaker)
		}
	}
	return most
}

// weightAsk is what would bring the two ends of the need together: how logs lie,
// what a group weighs together, the plate.
func (s *sheet) weightAsk() string {
	switch w := &s.art.Weight; {
	case s.own.rule == ruleLogs && s.art.Cargo.Lies == "":
		return AskLies
	case s.art.Cargo.Pieces > 1 && w.Low < w.High:
		return AskTogether
	}
	return AskPlate
}

// allUntold says whether the weight of a plural with no number may be that of one
// of them.
func (s *sheet) allUntold() bool {
	c := &s.art.Cargo
	return c.Several && c.Pieces == 0 && !c.Total
}

// accessoryCounted notes that the tie-downs on accessories and the joint are
// what covers the weight.
func (s *sheet) accessoryCounted() {
	itself := s.credit
	for i := range s.groups {
		if g := &s.groups[i]; g.cond.fate == counts && !g.itself() {
			itself -= times(g.in.Low, g.n)
		}
	}
	if itself >= s.needHigh {
		return
	}
	for i := range s.groups {
		if g := &s.groups[i]; g.cond.fate == counts && !g.itself() {
			g.used |= codeAccessoryCounted
		}
	}
}

// bounded notes what a short sum takes for granted of the tie-downs that count
// for nothing yet: those whose size was not told, that the best of their table is
// the most they can be, those without a row, and those that may come back, what their credit would
// rest on.
func (s *sheet) bounded() {
	for i := range s.groups {
		g := &s.groups[i]
		if g.cond.fate == maybe || g.cond.fate == counts && g.in.doubt&(noSize|noRow) != 0 {
			g.used |= g.in.rests
		}
	}
}

// mostOpen is the question whose answer could lift the credit most.
func (s *sheet) mostOpen() string {
	var best load.Mass
	ask := AskPlate
	offer := func(lift load.Mass, question string) {
		if lift > best {
			best, ask = lift, question
		}
	}
	for i := range s.groups {
		g := &s.groups[i]
		if g.cond.fate > maybe {
			continue
		}
		lift := times(g.in.Most, g.n)
		switch {
		case g.tie.Plural:
			offer(Unbounded, AskCount)
		case g.cond.fate == maybe:
			offer(lift, g.returns())
		default:
			offer(lift-times(g.in.Low, g.n), g.question())
		}
	}
	for i := range s.art.Parts {
		if s.undescribed(&s.art.Parts[i]) {
			offer(s.lim.BestChain, AskChain)
		}
	}
	return ask
}

// question is what would narrow the credit of g most.
func (g *group) question() string {
	d := g.in.doubt
	switch {
	case d&noSize != 0:
		return AskSize
	case d&noRow != 0:
		return AskTag
	case d&noGrade != 0:
		return AskGrade
	case d&noRoute != 0:
		return AskRoute
	}
	return AskBinder
}
