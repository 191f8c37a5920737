package rules

import "halfweight/rules/load"

// flattened asks of flattened or crushed vehicles a number of tie-downs on each
// stack by how many sides of the load are walled to its full height (49 CFR
// 393.132): four with none, three with walls in front and at the rear, two with
// walls on three sides, none with walls all round; each of 5,000 lb or more, and
// no webbing on the vehicles, which is short.
//
// The 5,000 lb stand in the federal handbook; the section's own text was not
// read. It does not ask that two walls are those in front and at the rear, and
// sees no loose part: those are the section's checks by eye.
func flattened(s *sheet) {
	if s.own.rule != ruleFlattened {
		return
	}
	c, least := &s.art.Cargo, s.lim.Cargo.FlattenedLeast
	t := s.countOf(func(g *group) load.Tri { return g.strong(least, least) })
	fewest, most := s.eachStack()
	var a asked
	switch {
	case c.Walls == allWalls:
		a = asked{applies: true, stand: stand{outcome: Met, reason: reasonWalled}}
	case c.Stacks > 0:
		a = t.settle(fewest*c.Stacks, most*c.Stacks, AskWalls, reasonWalls)
	default:
		a = t.settle(fewest, many, AskStacks, reasonStacks)
	}
	if a.outcome == Short && s.countOf(anyTie).have >= a.want {
		a.reason = reasonTooWeak
	}
	for i := range s.groups {
		if g := &s.groups[i]; strap(g.tie) && g.cond.fate != gone && g.n > 0 {
			a.outcome, a.reason, a.ask = Short, reasonStrap, ""
			a.want = max(a.want, fewest*max(c.Stacks, 1))
		}
	}
	s.findSection(a)
}

// eachStack is the fewest and the most tie-downs of a stack that the walls told
// ask for.
func (s *sheet) eachStack() (fewest, most int) {
	lim := &s.lim.Cargo
	switch s.art.Cargo.Walls {
	case 0:
		return 0, lim.FlattenedOpen
	case 2:
		return lim.FlattenedTwoWalls, lim.FlattenedTwoWalls
	case 3:
		return lim.FlattenedThreeWalls, lim.FlattenedThreeWalls
	}
	return lim.FlattenedOpen, lim.FlattenedOpen
}
