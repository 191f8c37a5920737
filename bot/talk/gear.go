package talk

import (
	"slices"
	"time"

	"halfweight/parser"
	"halfweight/rules/load"
)

// gear keeps what this chat owns: tie-downs by kind and number, the rating of
// the trailer's rings, the machines it moves. A load judged before is not
// judged again by it.
func (t *turn) gear(g *parser.Gear) {
	t.did = true
	if len(g.Tags) > 0 {
		t.gearPieces(g)
		return
	}
	switch g.Do {
	case "set", "add":
		t.addGear(g)
	case "less":
		t.lessGear(g)
		return
	case "anchor":
		t.s.Ring = g.Anchor
		t.say(Done{What: "anchor", Mass: g.Anchor})
		return
	case "machine":
		t.nameMachine(g)
		return
	}
	t.say(t.gearList("gear"))
}

// gearList is the gear as it is now.
func (t *turn) gearList(what string) Done {
	return Done{What: what, Gear: t.s.Gear, Pieces: t.s.Pieces, Mass: t.s.Ring, Machines: t.s.Machines, Now: t.now}
}

// addGear notes kinds of tie-downs; a kind set anew takes its old number's place.
func (t *turn) addGear(g *parser.Gear) {
	rows := slices.Clone(t.s.Gear)
	var told []load.TieDown // kinds that this message told before
	for i := range g.Ties {
		x := g.Ties[i]
		if x.Tag != "" {
			t.listPiece(&parser.Change{Ref: parser.Ref{Like: load.TieDown{Tag: x.Tag}}, Edit: parser.Edit{Set: x}})
			continue
		}
		x.ID, x.Line, x.Route, x.Place, x.Plural = 0, 0, "", load.Place{}, false
		n := countOf(g.Lines, i)
		read := time.Time{}
		if x.Mark > 0 || x.Tensioner.Rating > 0 {
			read = t.now
		}
		at := slices.IndexFunc(rows, func(r GearRow) bool { return twin(&r.Tie, &x) })
		switch {
		case at < 0:
			rows = append(rows, GearRow{Count: n, Tie: x, Read: read})
		case g.Do == "add", slices.ContainsFunc(told, func(o load.TieDown) bool { return twin(&o, &x) }):
			rows[at].Count += n
		default:
			rows[at].Count = n
		}
		told = append(told, x)
		if at >= 0 && !read.IsZero() {
			rows[at].Read = read
		}
	}
	t.s.Gear = rows
}

func countOf(lines []parser.Line, i int) int {
	if i < len(lines) {
		return lines[i].Count
	}
	return 1
}

// lessGear takes tie-downs out of the gear: of the one kind that fits, else
// nothing is changed and it is asked.
func (t *turn) lessGear(g *parser.Gear) {
	rows := slices.Clone(t.s.Gear)
	for i := range g.Ties {
		x := &g.Ties[i]
		var fits []int
		for j := range rows {
			if rows[j].Count > 0 && owned(&rows[j].Tie, x) {
				fits = append(fits, j)
			}
		}
		n := countOf(g.Lines, i)
		if len(fits) > 1 {
			which := WhichGear{Count: n}
			for _, j := range fits {
				which.Kinds = append(which.Kinds, rows[j].Tie)
			}
			t.say(which)
			return
		}
		at := -1
		if len(fits) == 1 {
			at = fits[0]
		}
		if at < 0 || rows[at].Count < n {
			t.cannot("gear fewer")
			return
		}
		rows[at].Count -= n
	}
	t.s.Gear = slices.DeleteFunc(rows, func(r GearRow) bool { return r.Count == 0 })
	t.say(t.gearList("gear less"))
}

// nameMachine keeps a machine under its name in this chat, in place of one that
// had it.
func (t *turn) nameMachine(g *parser.Gear) {
	art := g.Article
	art.ID, art.Ties = 0, nil
	t.inUnits(&art.Weight)
	list := slices.DeleteFunc(slices.Clone(t.s.Machines), func(m Machine) bool { return m.Name == g.Machine })
	t.s.Machines = append(list, Machine{Name: g.Machine, Article: art})
	t.say(Done{What: "machine", Words: g.Machine})
}
