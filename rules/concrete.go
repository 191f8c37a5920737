package rules

import "halfweight/rules/load"

// concrete asks of concrete pipe loaded crosswise on an open deck (49 CFR
// 393.124): up to 45 in inside, one tie-down through the front pipe, one through
// the rear pipe, and over the group lengthwise one of 1/2 in chain or wire rope
// or two of less; larger, one through every pipe, and two more where the end
// pipes touch no wall or stakes. Banded, lengthwise or on end the pipe rides by
// the general rules.
//
// It does not see which pipe a tie-down goes through, its angle, tiers, bells or
// blocks: those are the section's checks by eye.
func concrete(s *sheet) {
	if s.own.rule != ruleConcrete {
		return
	}
	c, lim := &s.art.Cargo, &s.lim.Cargo
	few, small := lim.PipeTies, lim.PipeTies
	switch s.halfInch() { // without one, two of less in its place
	case load.No:
		few, small = few+1, small+1
	case load.Untold:
		small++
	}
	fewest, most := lim.PipeLargeEach, many
	if c.Pieces > 0 {
		fewest, most = lim.PipeLargeEach*c.Pieces, lim.PipeLargeEach*c.Pieces+2
	}
	all := s.countOf(anyTie)
	switch {
	case c.Bore == 0:
		s.findSection(all.settle(min(few, fewest), max(small, most), AskBore, reasonBore))
	case c.Bore <= lim.PipeLarge:
		s.findSection(all.settle(few, small, AskSize, reasonWLL))
	case c.Pieces == 0:
		s.findSection(all.settle(fewest, most, AskPieces, reasonMany))
	case s.art.Blocked == load.Yes:
		s.findSection(all.settle(fewest, fewest, "", ""))
	case s.art.Blocked == load.No:
		s.findSection(all.settle(most, most, "", ""))
	default:
		s.findSection(all.settle(fewest, most, AskBlocked, reasonNoBlocked))
	}
}

// halfInch says whether a chain or wire rope of 1/2 in or more is on, which will
// do alone over a group of pipes lengthwise.
func (s *sheet) halfInch() load.Tri {
	answer := load.No
	for i := range s.groups {
		g := &s.groups[i]
		t := g.tie
		switch {
		case g.cond.fate > maybe, t.Material == load.Webbing, t.Material == load.Cordage, t.Material == load.SteelStrap:
		case t.Size >= load.Inch/2 && t.Material != "" && g.cond.fate == counts:
			return load.Yes
		case t.Size == 0, t.Size >= load.Inch/2:
			answer = load.Untold
		}
	}
	return answer
}
