// Package plan works out which gear to put on and where: the fewest tie-downs
// that meet every demand of the rules, then the least to drag out, then the most
// to spare. The rules state the demands and verify what is found; no duty is
// judged here. Start with Make.
package plan

import (
	"math"
	"slices"

	"halfweight/rules"
	"halfweight/rules/load"
	"halfweight/rules/tables"
)

// Stock is tie-downs of one kind that may be used.
type Stock struct {
	Tie   load.TieDown // what it is; route, place and state are not looked at
	Count int          // pieces; Plenty where their number is not limited
}

// Plenty is a count without a limit.
const Plenty = -1

// Ask is what is to be planned.
type Ask struct {
	Load    load.Load // the articles, with what is on already
	Set     rules.Set
	Gear    []Stock
	Spare   bool            // it must still be covered after the loss of any one tie-down
	Exclude []load.Material // not to be used
}

// Plan is one way to do it.
type Plan struct {
	Way    Way
	Lines  []Line
	Pieces int         // put on
	Weight int64       // hundredths of a pound for a foot of each piece
	Credit load.Mass   // of all tie-downs, those on already too; binders not told taken as the commonest weaker ones
	Spare  load.Mass   // the least that any article has to spare
	Off    []int       // IDs of tie-downs set aside, to be taken off or mended first: nothing is counted on them
	Lower  []LowerPart // to be lowered first
	Report rules.Report
	Open   []Finding // what no tie-down settles, by article
	Proven bool      // none of its way is better; false where the search was cut short
}

// Way is the choice that a plan stands for.
type Way string

// The ways: the best of all, the best with every tie-down direct that can be, the
// best with one kind only.
const (
	Best   Way = "best"
	Direct Way = "direct"
	OneOf  Way = "one kind"
)

// Line is equal tie-downs to put on.
type Line struct {
	Article int // index in the load
	Count   int
	Gear    int          // index in the gear asked with; -1 for one to be bought
	Tie     load.TieDown // with its route and place; at the corners or ends where it stands at both
	Weaker  load.Mass    // its binder was taken to be one of this rating, for want of a told one; 0 where told
}

// LowerPart is a part that rides up and must be lowered.
type LowerPart struct {
	Article int
	Part    string
}

// Finding is a finding that a plan leaves open.
type Finding struct {
	Article int
	rules.Finding
}

// Result is the plans, best first, or why there is none.
type Result struct {
	Plans []Plan
	// With no plan: the nearest that the gear comes, and the least to buy with it
	// (one kind of grade 70 chain, its binder rated no less); nil where the load
	// itself is not known well enough.
	Nearest *Plan
	Buy     []Line
	Cut     bool   // no plan was found, but the search was cut short
	Ask     string // key of the question without whose answer nothing can be planned
}

// most is how many pieces of a kind without limit are thought of.
const most = 200

// Make plans. Every plan it gives was judged by the rules: met but for what is in
// Open.
func Make(a Ask) Result {
	p := newPlanner(a)
	if p.ask != "" {
		return Result{Ask: p.ask}
	}
	best, ok := p.plan(Best, nil)
	if !ok {
		r := p.short()
		r.Cut = !best.Proven
		return r
	}
	r := Result{Plans: []Plan{best}}
	add := func(next Plan, ok bool) {
		if ok && !slices.ContainsFunc(r.Plans, func(had Plan) bool { return had.alike(&next) }) {
			r.Plans = append(r.Plans, next)
		}
	}
	if p.mayGoDirect(&best) {
		add(p.plan(Direct, nil))
	}
	add(p.oneKind(&best))
	return r
}

// planner is a load and gear made ready for the model.
type planner struct {
	Ask
	report rules.Report
	gear   []int         // by kind of the model: index in Gear
	bought *load.TieDown // the kind after those, where one is bought
	off    []int         // IDs of what was taken off
	model  model
	ask    string
	asTold bool // binders not told are taken to be no weaker than the chain, as the count takes them
}

func newPlanner(a Ask) *planner {
	p := &planner{Ask: a}
	p.model.work = new(int)
	*p.model.work = patience
	p.takeOff()
	p.report = rules.Evaluate(p.Load, a.Set)
	for i := range a.Gear {
		if g := &a.Gear[i]; g.Count != 0 && !slices.Contains(a.Exclude, g.Tie.Material) {
			p.gear = append(p.gear, i)
		}
	}
	for i := range p.report.Articles {
		if !a.Load.Articles[i].Weight.Known() {
			p.ask = rules.AskWeight
			return p
		}
		p.model.wants = append(p.model.wants, p.want(i))
	}
	for _, i := range p.gear {
		p.addKind(a.Gear[i].Tie, a.Gear[i].Count)
	}
	return p
}

// takeOff takes off what the rules set aside, so that nothing rests on it.
func (p *planner) takeOff() {
	for _, c := range rules.Evaluate(p.Load, p.Set).Articles {
		for i := range c.SetAside {
			if a := &c.SetAside[i]; !a.Counts && a.Tie.State.Gone == "" {
				p.off = append(p.off, a.IDs...)
			}
		}
	}
	if len(p.off) == 0 {
		return
	}
	p.Load.Articles = slices.Clone(p.Load.Articles)
	for i := range p.Load.Articles {
		art := &p.Load.Articles[i]
		art.Ties = slices.Clone(art.Ties)
		for j := range art.Ties {
			if t := &art.Ties[j]; slices.Contains(p.off, t.ID) {
				t.State.Gone = "taken off"
			}
		}
	}
}

// want is what the demands on article i leave to be met.
func (p *planner) want(i int) want {
	w := want{spare: p.Spare, credit: math.MinInt64 / 2}
	lost := 0 // of each number asked for, that must be left when one is lost
	if p.Spare {
		lost = 1
	}
	for _, d := range p.report.Articles[i].Demands {
		h := &d.Have
		switch {
		case d.On != "":
			w.over += p.lacksOn(&d)
		case d.Ends > 0:
			lacks := max(0, d.Front+lost-h.Front) + max(0, d.Rear+lost-h.Rear)
			w.direct = max(w.direct, lacks-h.Free, d.Ends+lost-h.Front-h.Rear-h.Free)
		case d.Number > 0 && d.Front+d.Rear > 0: // a container's corners, or its rear
			w.direct = max(w.direct, d.Number+lost-h.Number)
		case d.Number > 0:
			w.number = max(w.number, d.Number+lost-h.Number)
		case d.Credit > 0 && p.asTold:
			w.credit = max(w.credit, d.Credit-p.report.Articles[i].Credit)
		case d.Credit > 0:
			w.credit = max(w.credit, d.Credit-h.Credit)
			w.largest = h.Largest
		}
	}
	return w
}

// lacksOn is how many tie-downs a part or joint lacks. One that was told to be
// there but not described is no spare.
func (p *planner) lacksOn(d *rules.Demand) int {
	switch {
	case p.Spare:
		return max(0, 2-d.Have.Number)
	case d.Have.Told:
		return 0
	}
	return max(0, 1-d.Have.Number)
}

// addKind adds a kind to the model, with what a piece of it counts for on each
// article.
func (p *planner) addKind(t load.TieDown, count int) {
	k := kind{n: count}
	lim := p.Set.Limits()
	for j := range p.model.wants {
		w := &p.model.wants[j]
		direct, over := p.piece(t, load.Direct), p.piece(t, load.Over)
		d, o := rules.Credit(&direct, lim), rules.Credit(&over, lim)
		k.wll = o.Weaker
		opt := option{d.Weaker, o.Weaker}
		if p.asTold {
			opt = option{d.Low, o.Low}
		}
		for _, demand := range p.report.Articles[j].Demands {
			if d.WLL >= demand.Least {
				continue
			}
			opt.direct = barred
			if demand.Ends == 0 {
				opt.over = barred
			}
		}
		if p.Set.Barred(p.report.Articles[j].Article, &t) {
			opt = option{barred, barred}
		}
		w.of = append(w.of, opt)
	}
	if k.wll == 0 {
		k.n = 0 // nothing tells what it holds
	}
	if count == Plenty && k.wll > 0 {
		k.n = most
	}
	weight, _, _ := tables.Weight(t.Material, t.Size, gradeOf(&t))
	k.weight = int64(weight)
	p.model.kinds = append(p.model.kinds, k)
}

// gradeOf is the grade by which a chain is weighed.
func gradeOf(t *load.TieDown) string {
	if t.Grade.Reading == load.Read {
		return t.Grade.Value
	}
	return ""
}

// piece is one of a kind of gear as it would be put on: tight and sound, with
// something to tighten it.
func (p *planner) piece(t load.TieDown, r load.Route) load.TieDown {
	t.ID, t.Line, t.Route, t.Place = 0, 0, r, load.Place{}
	t.State = load.State{NoTag: t.State.NoTag}
	t.Plural, t.Shared = false, false
	if t.Material != load.SteelStrap {
		t.Tensioner.Has = load.Yes
	}
	return t
}

// plan solves one way, with the kinds of the model at those places only where
// only is not nil, and has the rules judge it.
func (p *planner) plan(way Way, only []int) (Plan, bool) {
	m := p.model.copy()
	if way == Direct {
		for j := range m.wants {
			m.wants[j].allDirect = p.onWheels(j)
		}
	}
	if only != nil {
		for k := range m.kinds {
			if !slices.Contains(only, k) {
				m.kinds[k].n = 0
			}
		}
	}
	a, ok := m.solve()
	if !ok {
		return Plan{Proven: a.proven}, false
	}
	made := p.made(way, a.uses)
	made.Proven = a.proven
	return made, made.Report.Verdict != rules.VerdictShort
}

// copy is the model with kinds and wants of its own.
func (m *model) copy() model {
	return model{kinds: slices.Clone(m.kinds), wants: slices.Clone(m.wants), work: m.work}
}

// onWheels says whether corners or ends are asked of article j.
func (p *planner) onWheels(j int) bool {
	return slices.ContainsFunc(p.report.Articles[j].Demands, func(d rules.Demand) bool { return d.Ends > 0 })
}

// mayGoDirect says whether a plan has one over that could go direct: on a machine
// or vehicle, and not on a part or joint of it.
func (p *planner) mayGoDirect(plan *Plan) bool {
	return slices.ContainsFunc(plan.Lines, func(l Line) bool {
		return l.Tie.Route == load.Over && l.Tie.Place.On == "" && p.onWheels(l.Article)
	})
}

// oneKind is the best plan with one kind of gear other than the one that best
// uses alone.
func (p *planner) oneKind(best *Plan) (plan Plan, ok bool) {
	for k := range p.model.kinds {
		if p.model.kinds[k].n == 0 || best.usesOnly(p.gear[k]) {
			continue
		}
		if next, found := p.plan(OneOf, []int{k}); found && (!ok || next.tally().compare(plan.tally()) < 0) {
			plan, ok = next, true
		}
	}
	return plan, ok
}

func (p *Plan) usesOnly(gear int) bool {
	return !slices.ContainsFunc(p.Lines, func(l Line) bool { return l.Gear != gear })
}

func (p *Plan) tally() tally { return tally{p.Pieces, p.Weight, p.Credit} }

// alike says whether two plans come to the same.
func (p *Plan) alike(q *Plan) bool {
	return slices.EqualFunc(p.Lines, q.Lines, func(a, b Line) bool {
		return a.Article == b.Article && a.Count == b.Count && a.Gear == b.Gear && a.Tie.Route == b.Tie.Route && a.Tie.Place == b.Tie.Place
	})
}
