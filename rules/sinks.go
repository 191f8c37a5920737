package rules

// anew is s with its tie-downs changed, judged anew on t, a sheet that is done with.
func (s *sheet) anew(t *sheet, set Set, groups []group) *sheet {
	*t = sheet{
		art: s.art, lim: s.lim, kind: s.kind, class: s.class, vague: s.vague, cargo: s.cargo, own: s.own, groups: groups,
		findings: t.findings[:0], notes: t.notes[:0], remarks: t.remarks[:0], demands: t.demands[:0],
	}
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
	var left sheet
	groups := make([]group, 0, len(s.groups)+1)
	for i := range s.groups {
		g := &s.groups[i]
		if g.cond.fate > maybe {
			continue
		}
		groups = append(groups[:0], s.groups...)
		groups[i].n--
		lost := *g
		lost.n, lost.cond = 1, condition{fate: gone, why: "lost"}
		if s.anew(&left, set, append(groups, lost)).verdict() == VerdictCovered {
			continue
		}
		l := g.line()
		l.Count, l.Credit = 1, g.in.Low
		list = append(list, l)
	}
	return list
}
