package plan

import (
	"slices"

	"halfweight/rules"
	"halfweight/rules/load"
	"halfweight/rules/tables"
)

// Places of load.Place.
const (
	front   = "front"
	rear    = "rear"
	corners = "corners"
	ends    = "ends"
)

// made turns uses into tie-downs with their places, and has the rules judge the
// load with them on.
func (p *planner) made(way Way, uses [][]use) Plan {
	plan := Plan{Way: way, Off: p.off}
	l := load.Load{Articles: slices.Clone(p.Load.Articles)}
	id := highestID(&l)
	for j := range l.Articles {
		art := &l.Articles[j]
		plan.lower(j, art, p.report.Articles[j].Demands)
		at := p.placing(j)
		art.Ties = slices.Clip(art.Ties)
		for _, k := range p.strongestFirst() {
			for _, t := range at.put(p, k, uses[j][k]) {
				id++
				t.ID, t.Line = id, id
				art.Ties = append(art.Ties, t)
				plan.add(j, p.gearOf(k), t)
			}
			n := uses[j][k].direct + uses[j][k].over
			plan.Pieces += n
			plan.Weight += p.model.kinds[k].weight * int64(n)
		}
	}
	plan.spread()
	plan.judge(l, p.Set)
	return plan
}

// gearOf is the place in the gear of a kind of the model; -1 for what is bought.
func (p *planner) gearOf(k int) int {
	if k < len(p.gear) {
		return p.gear[k]
	}
	return -1
}

func highestID(l *load.Load) (id int) {
	for i := range l.Articles {
		for j := range l.Articles[i].Ties {
			id = max(id, l.Articles[i].Ties[j].ID)
		}
	}
	return id
}

// strongestFirst is the kinds of the model in order of strength.
func (p *planner) strongestFirst() []int {
	order := make([]int, len(p.model.kinds))
	for k := range order {
		order[k] = k
	}
	slices.SortStableFunc(order, func(a, b int) int { return int(min(1, max(-1, p.model.kinds[b].wll-p.model.kinds[a].wll))) })
	return order
}

// lower lowers what rides up and is to be tied.
func (p *Plan) lower(j int, art *load.Article, demands []rules.Demand) {
	for _, d := range demands {
		for _, key := range d.Lower {
			if lowerPart(art, key) {
				p.Lower = append(p.Lower, LowerPart{j, key})
			}
		}
	}
}

// lowerPart lowers a part told of.
func lowerPart(art *load.Article, key string) bool {
	i := slices.IndexFunc(art.Parts, func(part load.Part) bool { return part.Name == key })
	if i < 0 {
		return false
	}
	art.Parts = slices.Clone(art.Parts)
	art.Parts[i].Down, art.Parts[i].Hydraulics = load.Yes, false
	return true
}

// placing is where the next tie-down of an article goes.
type placing struct {
	front, rear int
	atRear      bool     // all at the rear
	on          []string // parts that each still want one over them, the joint too
}

func (p *planner) placing(j int) *placing {
	at := &placing{}
	for _, d := range p.report.Articles[j].Demands {
		if d.Ends > 0 {
			at.front, at.rear = d.Have.Front, d.Have.Rear
			for range min(d.Have.Free, most) {
				at.next()
			}
		}
		at.atRear = at.atRear || d.Number > 0 && d.Rear > 0 && d.Front == 0
		if d.On != "" {
			for range p.lacksOn(&d) {
				at.on = append(at.on, d.On)
			}
		}
	}
	return at
}

// put places the pieces of one kind: over ones on the parts that want one, then
// over the article; direct ones at the end that has fewest.
func (at *placing) put(p *planner, k int, u use) []load.TieDown {
	t := p.kindOf(k)
	var list []load.TieDown
	for range u.over {
		x := p.piece(t, load.Over)
		if len(at.on) > 0 {
			x.Place.On, at.on = at.on[0], at.on[1:]
		}
		list = append(list, x)
	}
	for range u.direct {
		x := p.piece(t, load.Direct)
		x.Place.End = at.next()
		list = append(list, x)
	}
	return list
}

// next is the end that the next one goes to: the one that has fewest.
func (at *placing) next() string {
	if at.atRear || at.front > at.rear {
		at.rear++
		return rear
	}
	at.front++
	return front
}

// kindOf is the tie-down that a kind of the model stands for.
func (p *planner) kindOf(k int) load.TieDown {
	if k < len(p.gear) {
		return p.Gear[p.gear[k]].Tie
	}
	return *p.bought
}

// add adds a piece to the lines.
func (p *Plan) add(j, gear int, t load.TieDown) {
	for i := range p.Lines {
		l := &p.Lines[i]
		if l.Article == j && l.Gear == gear && l.Tie.Route == t.Route && l.Tie.Place == t.Place {
			l.Count++
			return
		}
	}
	line := Line{Article: j, Count: 1, Gear: gear, Tie: t}
	if f, ok := tables.WeakerBinder(t.Size); ok {
		if in := rules.Credit(&t, tables.Federal()); in.Weaker < in.Low {
			line.Weaker = f.WLL
		}
	}
	p.Lines = append(p.Lines, line)
}

// spread says of equal ones that stand at both ends in one line.
func (p *Plan) spread() {
	var out []Line
	for _, l := range p.Lines {
		i := slices.IndexFunc(out, func(o Line) bool {
			return o.Article == l.Article && o.Gear == l.Gear && o.Tie.Route == load.Direct && l.Tie.Route == load.Direct &&
				o.Count == l.Count && o.Tie.Place.End == front && l.Tie.Place.End == rear
		})
		if i < 0 {
			out = append(out, l)
			continue
		}
		out[i].Count += l.Count
		out[i].Tie.Place = load.Place{Spread: corners}
		if l.Count == 1 {
			out[i].Tie.Place.Spread = ends
		}
	}
	slices.SortStableFunc(out, func(a, b Line) int {
		switch {
		case a.Article != b.Article:
			return a.Article - b.Article
		case (a.Tie.Route == load.Direct) != (b.Tie.Route == load.Direct):
			if a.Tie.Route == load.Direct {
				return -1
			}
			return 1
		}
		return 0
	})
	p.Lines = out
}

// judge has the rules judge the load with the plan's tie-downs on.
func (p *Plan) judge(l load.Load, set rules.Set) {
	p.Report = rules.Evaluate(l, set)
	p.Spare = rules.Unbounded
	for j := range p.Report.Articles {
		c := &p.Report.Articles[j]
		p.Credit += c.Weaker
		p.Spare = min(p.Spare, c.Weaker-c.NeedHigh)
		for _, f := range c.Findings {
			if f.Outcome != rules.Met {
				p.Open = append(p.Open, Finding{j, f})
			}
		}
	}
}
