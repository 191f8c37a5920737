package plan

import (
	"slices"

	"halfweight/rules/load"
	"halfweight/rules/tables"
)

// mostBought is as many pieces of one kind as a purchase is thought of.
const mostBought = 40

// sold is the grade of the chain to buy: the one made for tying down, its
// strength in its mark.
const sold = "70"

// short is the result where the gear does not do: the least to buy with it, and
// how far the gear comes without that.
func (p *planner) short() Result {
	var r Result
	if slices.Contains(p.Exclude, load.Chain) {
		return r
	}
	*p.model.work = patience // another question
	largest, _ := nextSold(0)
	for t, ok := largest, true; ok; t, ok = nextSold(t.Size) {
		largest = t
	}
	for n := 1; n <= mostBought; n++ {
		if m := p.with(largest, n).model; !m.can() {
			continue // then no smaller one does
		}
		for t, ok := nextSold(0); ok; t, ok = nextSold(t.Size) {
			plan, found := p.with(t, n).plan(Best, nil)
			if !found {
				continue
			}
			nearest := Plan{Way: Best, Off: p.off, Lower: plan.Lower, Proven: plan.Proven}
			for _, l := range plan.Lines {
				if l.Gear < 0 {
					r.Buy = append(r.Buy, l)
				} else {
					nearest.Lines = append(nearest.Lines, l)
				}
			}
			p.putOn(&nearest)
			r.Nearest = &nearest
			return r
		}
	}
	return r
}

// nextSold is the next larger chain that can be bought, with a binder rated no
// less.
func nextSold(size load.Length) (load.TieDown, bool) {
	next, f, ok := tables.NextChain(size, sold)
	return load.TieDown{
		Material: load.Chain, Size: next, Grade: load.Grade{Value: sold, Reading: load.Read},
		Tensioner: load.Tensioner{Has: load.Yes, Rating: f.WLL},
	}, ok
}

// with is the planner with n more pieces, bought.
func (p *planner) with(t load.TieDown, n int) *planner {
	q := *p
	q.bought, q.model = &t, p.model.copy()
	for j := range q.model.wants {
		w := &q.model.wants[j]
		w.of = slices.Clone(w.of)
	}
	q.addKind(t, n)
	return &q
}

// putOn has the rules judge the load with the plan's lines on.
func (p *planner) putOn(plan *Plan) {
	l := load.Load{Articles: slices.Clone(p.Load.Articles)}
	id := highestID(&l)
	for _, line := range plan.Lines {
		art := &l.Articles[line.Article]
		art.Ties = slices.Clip(art.Ties)
		for range line.Count {
			id++
			t := line.Tie
			t.ID, t.Line = id, id
			if t.Place.Spread != "" {
				t.Line = line.Gear // told together
			}
			art.Ties = append(art.Ties, t)
		}
		weight, _, _ := tables.Weight(line.Tie.Material, line.Tie.Size, gradeOf(&line.Tie))
		plan.Pieces += line.Count
		plan.Weight += int64(weight) * int64(line.Count)
	}
	for _, part := range plan.Lower {
		lowerPart(&l.Articles[part.Article], part.Part)
	}
	plan.judge(l, p.Set)
}
