package render

import (
	"slices"
	"strconv"
	"strings"

	"halfweight/bot/talk"
	"halfweight/rules"
	"halfweight/rules/load"
	"halfweight/rules/tables"
)

// planned says a plan: the best way with counts and places, what it comes to, the
// other ways, what to read on the stamps, and what else is to be seen to.
func (p *page) planned(s talk.Planned) {
	w := &p.w.Plan
	if len(s.Plans) == 0 {
		p.notPlanned(s)
		return
	}
	best := &s.Plans[0]
	p.oneSpare = s.Spare
	p.best(best, slices.ContainsFunc(s.Report.Articles, func(c rules.Count) bool { return len(c.Lines) > 0 }))
	for i := range best.Report.Articles {
		c := &best.Report.Articles[i]
		p.say(w.Comes, "what", p.what(c), "need", p.needs(c), "has", p.down(c.Weaker), "spare", p.left(c.Weaker-c.NeedHigh))
	}
	if s.Spare {
		p.say(w.AnyOne)
	}
	if !best.Proven {
		p.say(w.NotProven)
	}
	p.turn()
	p.first(best)
	for i := range s.Plans[1:] {
		other := &s.Plans[i+1]
		p.line(w.Or, "ways", p.way(other), "spare", p.left(other.Spare))
	}
	p.planStamps(s.Plans)
	p.planOpen(best)
}

// best says the best way; onTop says that something is on already.
func (p *page) best(plan *talk.Plan, onTop bool) {
	w := &p.w.Plan
	head := w.Best
	if onTop {
		head = w.OnTop
	}
	switch ways := p.ways(plan); len(ways) {
	case 0:
		p.say(w.Nothing)
	case 1:
		p.say(w.Way, "plan", head, "way", ways[0])
	default:
		p.line(w.Ways, "plan", head)
		for _, way := range ways {
			p.line(w.WayOf, "way", way)
		}
	}
	p.turn()
}

// left is what a plan leaves over, with its unit.
func (p *page) left(spare load.Mass) string {
	if spare < p.size {
		return p.w.Head.NoSpare
	}
	return filled(p.w.Head.Spare, "spare", p.down(spare), "unit", p.word)
}

// notPlanned says that the gear does not do, how near it comes, and what to get.
func (p *page) notPlanned(s talk.Planned) {
	w := &p.w.Plan
	switch {
	case s.Nearest == nil:
		p.line(w.Never)
		return
	case s.Cut:
		p.say(w.Cut)
	default:
		p.say(w.Short)
	}
	p.turn()
	for i := range s.Nearest.Report.Articles {
		c := &s.Nearest.Report.Articles[i]
		p.say(w.Near, "what", p.what(c), "short", p.planShort(c, s.Spare))
	}
	n := 0
	var where []string
	for _, l := range s.Buy {
		n += l.Count
		where = append(where, p.many(l.Count, "", false)+p.planPlace(&s.Nearest.Report, &l))
	}
	kind := s.Buy[0].Tie
	p.line(w.Get, "what", p.many(n, p.brief(kind, n), false), "least", p.stampUp(kind.Tensioner.Rating), "where", strings.Join(where, w.Plus))
	if s.Nearest.Pieces > 0 {
		p.line(w.With, "ways", p.way(s.Nearest))
	}
	p.first(s.Nearest)
	p.planStamps([]talk.Plan{*s.Nearest})
}

// planShort says what an article still lacks with all the gear on that serves it,
// its binders as they were counted.
func (p *page) planShort(c *rules.Count, spare bool) string {
	var list []string
	if lack := c.NeedHigh - c.Weaker; lack > 0 {
		list = append(list, filled(p.w.Plan.Lacks, "short", p.up(lack), "need", p.needs(c), "unit", p.word))
	}
	for i := range c.Findings {
		f := &c.Findings[i]
		switch {
		case f.Outcome == rules.Met || f.Rule == "aggregate" || f.Rule == "weight":
		case f.Outcome == rules.Short:
			list = addNew(list, p.short(c, f))
		default:
			s := strings.TrimSuffix(p.wanted(c, f), ".")
			list = addNew(list, strings.ToLower(s[:1])+s[1:])
		}
	}
	switch {
	case len(list) > 0:
	case spare:
		return p.w.Plan.NoSpare
	default:
		return p.w.Plan.None
	}
	return strings.Join(list, "; ")
}

// way is a plan's tie-downs in one sentence.
func (p *page) way(plan *talk.Plan) string { return strings.Join(p.ways(plan), "; ") }

// ways is a plan's tie-downs article by article.
func (p *page) ways(plan *talk.Plan) (arts []string) {
	for i := range plan.Report.Articles {
		var items []string
		last := load.TieDown{}
		for k := range plan.Lines {
			l := &plan.Lines[k]
			if l.Article != i {
				continue
			}
			kind := p.brief(l.Tie, l.Count)
			if sameKind(&l.Tie, &last) && l.Tie.Tensioner == last.Tensioner {
				kind = ""
			}
			last = l.Tie
			items = append(items, p.many(l.Count, kind, false)+p.planPlace(&plan.Report, l))
		}
		if len(items) == 0 {
			continue
		}
		list := strings.Join(items, p.w.Plan.Plus)
		if len(plan.Report.Articles) > 1 {
			list = filled(p.w.Plan.On, "name", p.name(&plan.Report.Articles[i]), "list", list)
		}
		arts = append(arts, list)
	}
	return arts
}

// planPlace is how and where a line of a plan runs.
func (p *page) planPlace(r *rules.Report, l *talk.PlanLine) string {
	d, w := &p.w.Do, &p.w.Plan
	at := l.Tie.Place
	switch {
	case at.On == "joint":
		return d.Across
	case at.On != "":
		return filled(d.Over, "part", p.w.part(at.On, r.Articles[l.Article].Article.Parts))
	case at.Spread != "" && l.Count == 4:
		return d.Ways[l.Tie.Route] + w.Corners
	case at.Spread != "":
		return d.Ways[l.Tie.Route] + filled(w.BothEnds, "n", p.number(l.Count/2))
	case at.End != "" && !p.oneSpare && unplaced(&r.Articles[l.Article]):
		return d.Ways[l.Tie.Route] + p.whereLacking(&r.Articles[l.Article], l.Count)
	case at.End != "":
		return d.Ways[l.Tie.Route] + filled(d.At, "place", p.w.place(at, nil))
	}
	return d.Ways[l.Tie.Route]
}

// unplaced says whether direct ones are on whose places were not told.
func unplaced(c *rules.Count) bool {
	return slices.ContainsFunc(c.Lines, func(l rules.Line) bool {
		return l.Tie.Route == load.Direct && l.Tie.Place == (load.Place{})
	})
}

// whereLacking is where the direct ones go that are lacking, the places of the
// others not being told.
func (p *page) whereLacking(c *rules.Count, n int) string {
	d := &p.w.Do
	corners := slices.ContainsFunc(c.Findings, func(f rules.Finding) bool { return f.Rule == "corners" })
	switch {
	case !corners:
		return d.OtherEnd
	case n > 1:
		return d.EachCorner
	}
	return p.w.Plan.Corner
}

// first says what is to be done before anything is put on.
func (p *page) first(plan *talk.Plan) {
	w := &p.w.Plan
	if len(plan.Off) > 0 {
		p.say(w.Off)
	}
	for _, low := range plan.Lower {
		p.say(w.Lower, "part", p.w.part(low.Part, plan.Report.Articles[low.Article].Article.Parts))
	}
	p.turn()
}

// planStamps says what was taken of the parts that no one told of.
func (p *page) planStamps(plans []talk.Plan) {
	w := &p.w.Plan
	var weak []string
	for i := range plans {
		for k := range plans[i].Lines {
			if l := &plans[i].Lines[k]; l.Weaker > 0 {
				weak = addNew(weak, filled(w.Weaker, "size", strings.TrimSuffix(p.w.size(l.Tie), p.w.Name.Inch), "weak", p.stamp(l.Weaker)))
			}
		}
	}
	if len(weak) > 0 {
		p.say(w.Binders, "list", p.w.list(weak))
	}
	if rings := toldRings(plans); rings > 0 {
		p.say(w.Rings, "mass", p.stamp(rings))
		p.say(w.Hooks)
	} else {
		p.say(w.Stamps)
	}
	p.turn()
}

// toldRings is the rating told of the rings that all tie-downs of the plans are
// hooked to; 0 where it was not told of all.
func toldRings(plans []talk.Plan) (rings load.Mass) {
	for i := range plans {
		for k := range plans[i].Lines {
			switch a := plans[i].Lines[k].Tie.Anchor; {
			case a == 0, rings > 0 && a != rings:
				return 0
			default:
				rings = a
			}
		}
	}
	return rings
}

// planOpen says what no tie-down of the plan settles, and how a joint or a light
// part may be held without one.
func (p *page) planOpen(plan *talk.Plan) {
	w := &p.w.Plan
	var say []string
	for k := range plan.Lines {
		l := &plan.Lines[k]
		c := &plan.Report.Articles[l.Article]
		switch {
		case l.Tie.Place.On == "joint" && c.Article.Joint.Locked != load.No:
			say = addNew(say, w.OrLocked)
		case l.Tie.Place.On != "" && l.Tie.Place.On != "joint" && c.Heavy == load.No:
			say = addNew(say, w.OrPinned)
		}
	}
	for i := range plan.Open {
		f := &plan.Open[i]
		if f.Ask == rules.AskWheels {
			say = addNew(say, p.w.Questions[rules.AskWheels].Ask)
			continue
		}
		say = addNew(say, p.wanted(&plan.Report.Articles[f.Article], &f.Finding))
	}
	for i := range plan.Report.Articles {
		for _, r := range plan.Report.Articles[i].Remarks {
			if r.Code == rules.RemarkUnder5000 || r.Code == rules.RemarkEdgeGuard || r.Code == rules.RemarkNearLine || r.Code == rules.RemarkWeighIt {
				say = addNew(say, p.filled(p.w.Remarks[r.Code]))
			}
		}
	}
	for _, s := range say {
		p.say(s)
	}
	p.turn()
}

// smallest says which chain is the smallest for so many.
func (p *page) smallest(s talk.Smallest) {
	w := &p.w.Plan
	p.line(w.Each, "n", strconv.Itoa(s.Count), "weight", p.near(s.Weight.Told), "need", p.up(s.Need), "each", p.up(s.Each))
	var list []string
	for _, c := range s.Chains {
		list = append(list, filled(w.Chain, "kind", p.kind(c.Tie), "wll", p.down(c.WLL)))
	}
	if len(list) == 0 {
		p.line(w.NoChain)
		return
	}
	p.line(w.Smallest, "list", p.w.either(list))
	p.line(w.EachStamp, "each", p.stampUp(s.Each))
}

// plansData is the plans of a reply as data, best first; nil where none was asked
// for.
func (p *page) plansData(says []talk.Say) []planData {
	for _, s := range says {
		switch s := s.(type) {
		case talk.Planned:
			list := []planData{}
			for i := range s.Plans {
				list = append(list, p.planData(&s.Plans[i], nil))
			}
			if s.Nearest != nil {
				list = append(list, p.planData(s.Nearest, s.Buy))
			}
			return list
		case talk.Smallest:
			return p.smallestData(s)
		}
	}
	return nil
}

func (p *page) planData(plan *talk.Plan, buy []talk.PlanLine) planData {
	d := planData{Pieces: plan.Pieces, Credit: pounds(plan.Credit), Spare: pounds(plan.Spare), TieDowns: []planTie{}, Lacks: []planTie{}}
	for i := range plan.Lines {
		d.TieDowns = append(d.TieDowns, p.planTie(&plan.Report, &plan.Lines[i]))
	}
	for i := range buy {
		d.Lacks = append(d.Lacks, p.planTie(&plan.Report, &buy[i]))
	}
	return d
}

func (p *page) planTie(r *rules.Report, l *talk.PlanLine) planTie {
	c := &r.Articles[l.Article]
	return planTie{
		Count: l.Count, What: p.w.full(l.Tie), Route: told(string(l.Tie.Route)),
		Place: told(p.w.place(l.Tie.Place, c.Article.Parts)), Article: c.Article.Name,
	}
}

func (p *page) smallestData(s talk.Smallest) []planData {
	list := []planData{}
	for _, c := range s.Chains {
		credit := tables.Of(tables.Federal().CreditDirect, c.WLL) * load.Mass(s.Count)
		direct, corners := string(load.Direct), p.w.place(load.Place{Spread: "corners"}, nil)
		list = append(list, planData{
			Pieces: s.Count, Credit: pounds(credit), Spare: pounds(credit - s.Need), Lacks: []planTie{},
			TieDowns: []planTie{{Count: s.Count, What: p.w.full(c.Tie), Route: &direct, Place: told(corners)}},
		})
	}
	return list
}
