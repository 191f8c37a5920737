package rules

import "slices"

// again is s with its tie-downs changed, judged anew.
func (s *sheet) again(set Set, groups []group) *sheet {
	t := &sheet{art: s.art, lim: s.lim, kind: s.kind, class: s.class, vague: s.vague, cargo: s.cargo, own: s.own, groups: groups}
	for i := range t.groups {
		t.groups[i].used = 0
	}
	t.run(set)
	return t
}

// sinks lists the tie-downs whose single loss would leave a covered article not
// covered, one of each kind, with the ids of all of that kind.
func (s *sheet) sinks(set Set) []Line {
	var list []Line
	for i := range s.groups {
		g := &s.groups[i]
		if g.cond.fate > maybe {
			continue
		}
		groups := slices.Clone(s.groups)
		lost := groups[i]
		groups[i].n--
		lost.n, lost.cond = 1, condition{fate: gone, why: "lost"}
		if s.again(set, append(groups, lost)).verdict() == VerdictCovered {
			continue
		}
		l := g.line()
		l.Count, l.Credit = 1, g.in.Low
		list = append(list, l)
	}
	return list
}
