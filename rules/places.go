package rules

import "halfweight/rules/load"

// cornersOfSide is the corners on one side of an article.
const cornersOfSide = 2

// many stands for a number of pieces that was not told ("chains on the front").
const many = 1 << 20

// places counts the tie-downs that hold the article itself near its front and
// rear. One on an accessory, on the joint or in the middle is in none of them.
type places struct {
	front, rear int // told there
	assumed     int // direct ones that can be taken one per corner or end
	// Those that a fact told later could bring to an end, known or not: over
	// ones with no place, one side told only, the unmeasured, the shared, the
	// rest of a plural.
	maybeFront, maybeRear, maybeAny int
	ask                             string // what would settle those

	spreadOpen bool // some of assumed were told at "corners" or "ends", but not at which
}

// tally counts the places.
//
// Decisions: direct ones told on the left or the right only are taken one per
// corner of that side, so two of a side at the most; more are asked. One that runs from a front anchor to a rear one holds an end
// only where one is told for it. Pieces told at "corners" or "ends" are spread
// evenly as they were told, and a piece of them that is set aside is missing
// where it hurts most.
func (s *sheet) tally() places { return s.tallyOf(func(*group) bool { return true }) }

// tallyOf is tally of those that fit.
func (s *sheet) tallyOf(fits func(*group) bool) places {
	var p places
	var spreads []spread
	onLeft, onRight := 0, 0
	for i := range s.groups {
		g := &s.groups[i]
		if !g.itself() || g.tie.Place.End == middle || g.n == 0 || !fits(g) {
			continue
		}
		if g.tie.Place.Spread != "" {
			spreads = addSpread(spreads, g)
		}
		p.add(g)
		if g.cond.fate == counts && sideOnly(g.tie) {
			if g.tie.Place.Side == left {
				onLeft += g.n
			} else {
				onRight += g.n
			}
		}
	}
	p.side(onLeft)
	p.side(onRight)
	for i := range spreads {
		spreads[i].settle(&p)
	}
	return p
}

// add counts a group that holds the article itself.
func (p *places) add(g *group) {
	n, t := g.n, g.tie
	switch {
	case g.cond.fate > maybe:
		return
	case g.cond.fate == maybe:
		p.question(g.returns())
	case t.Place.End == front:
		p.front += n
	case t.Place.End == rear:
		p.rear += n
	case t.Place.Spread != "":
		// counted with its spread
	case sideOnly(t):
		// counted by side
	case t.Route == load.Direct:
		p.assumed += n
	default:
		p.maybeAny += n
		p.question(AskPlace)
	}
	more := 0
	if g.cond.fate == maybe {
		more = n
	}
	if t.Plural {
		more = many
		p.question(AskCount)
	}
	switch {
	case more == 0:
	case t.Place.End == front:
		p.maybeFront += more
	case t.Place.End == rear:
		p.maybeRear += more
	default:
		p.maybeAny += more
	}
}

// sideOnly says whether t is a direct one told on a side, but not at which end.
func sideOnly(t *load.TieDown) bool {
	return t.Route == load.Direct && t.Place.Side != "" && t.Place.End == "" && t.Place.Spread == ""
}

// side counts the direct ones of one side: two have a corner of it each.
func (p *places) side(n int) {
	corners := min(n, cornersOfSide)
	p.assumed += corners
	if n > corners {
		p.maybeAny += n - corners
		p.question(AskPlace)
	}
}

// question keeps the question that comes first: how many, then where.
func (p *places) question(ask string) {
	order := [...]string{AskCount, AskPlace, AskDamage, AskShared, AskEmpty}
	for _, o := range order {
		if o == p.ask || o == ask {
			p.ask = o
			return
		}
	}
}

// spread is the pieces told together at "corners" (or "ends"): each at one of
// them.
type spread struct {
	line        int
	over        string
	told        int // as told, those set aside since and those gone too
	front, rear int // of them, told since to be at that end
	lost        int // set aside or gone, at an end not told
	left        int // still counting, at an end not told
}

// addSpread adds g to the pieces it was told with.
func addSpread(list []spread, g *group) []spread {
	for i := range list {
		if list[i].line == g.tie.Line && list[i].over == g.tie.Place.Spread {
			list[i].add(g)
			return list
		}
	}
	sp := spread{line: g.tie.Line, over: g.tie.Place.Spread}
	sp.add(g)
	return append(list, sp)
}

func (sp *spread) add(g *group) {
	sp.told += g.n
	switch {
	case g.tie.Place.End == front:
		sp.front += g.n
	case g.tie.Place.End == rear:
		sp.rear += g.n
	case g.cond.fate != counts:
		sp.lost += g.n
	default:
		sp.left += g.n
	}
}

// settle adds to p what a spread leaves at each end for certain; the rest is at
// a corner or end, and can be taken to be at one that lacks.
func (sp *spread) settle(p *places) {
	if sp.left == 0 {
		return
	}
	each := sp.told / 2
	if sp.over == spreadCorners && sp.told <= cornersOfSide {
		each = 0 // both could be at one end
	}
	f := min(max(0, each-sp.front-sp.lost), sp.left)
	r := min(max(0, each-sp.rear-sp.lost), sp.left-f)
	p.front += f
	p.rear += r
	rest := sp.left - f - r
	p.assumed += rest
	p.spreadOpen = p.spreadOpen || rest > 0
}

// stand is how a count of places ends against a number asked for.
type stand struct {
	outcome Outcome
	assumed bool // it is met only with those taken one per corner or end
	have    int
	reason  string
	ask     string
}

// Reasons of corners and ends (Finding.Reason).
const (
	reasonEnough   = "enough"
	reasonFew      = "too few"
	reasonNoFront  = "none at the front"
	reasonNoRear   = "none at the rear"
	reasonFewFront = "too few at the front" // of more than one asked for by a house rule
	reasonFewRear  = "too few at the rear"
	reasonPlace    = "place not told"
	reasonNoTies   = "no tie-down told"
	reasonBare     = "nothing on it"
	reasonNoWeight = "weight not told"
	reasonNearLine = "weight on both sides of the line"
	reasonNoWheels = "wheels or tracks not told"
	reasonDamage   = "damage not measured"
	reasonShared   = "one holds two articles"
	reasonNoCount  = "number not told"
)

// against says how p stands against want tie-downs, at least each of them at
// either end.
func (p *places) against(want, each int) stand {
	have := p.front + p.rear + p.assumed
	st := stand{have: have, reason: reasonEnough}
	if have >= want && lacking(p.front, p.rear, each) <= p.assumed {
		st.outcome = Met
		st.assumed = p.front+p.rear < want || lacking(p.front, p.rear, each) > 0
		return st
	}
	f, r, free := p.front+p.maybeFront, p.rear+p.maybeRear, p.assumed+p.maybeAny
	switch {
	case f+r+free < want:
		st.outcome, st.reason = Short, reasonFew
	case lacking(f, r, each) > free:
		st.outcome, st.reason = Short, lackingAt(f, r, each)
	default:
		st.outcome, st.ask = Untold, p.ask
		st.reason = reasonOf(p.ask)
	}
	return st
}

// reasonOf is the reason that goes with the question of a place.
func reasonOf(ask string) string {
	switch ask {
	case AskCount:
		return reasonNoCount
	case AskDamage:
		return reasonDamage
	case AskShared:
		return reasonShared
	case AskEmpty:
		return reasonLoaded
	case AskSize, AskTag, AskGrade, AskBinder, AskRoute:
		return reasonWLL
	}
	return reasonPlace
}

// lacking is how many the two ends lack of so many at each.
func lacking(front, rear, each int) int {
	return max(0, each-front) + max(0, each-rear)
}

// lackingAt is the end that lacks tie-downs, the front before the rear.
func lackingAt(front, rear, each int) string {
	switch {
	case front == 0:
		return reasonNoFront
	case front < each:
		return reasonFewFront
	case rear == 0:
		return reasonNoRear
	}
	return reasonFewRear
}

// filled is how many are at each end once those taken one per corner are put
// where fewest are.
func (p *places) filled() (front, rear int) {
	front, rear = p.front, p.rear
	for range min(p.assumed, many) {
		if front <= rear {
			front++
		} else {
			rear++
		}
	}
	return front, rear
}
