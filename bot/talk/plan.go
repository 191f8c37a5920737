package talk

import (
	"cmp"
	"slices"

	"halfweight/parser"
	"halfweight/rules"
	"halfweight/rules/load"
	"halfweight/rules/plan"
	"halfweight/rules/tables"
)

// Plan and PlanLine are plans as they are said.
type (
	Plan     = plan.Plan
	PlanLine = plan.Line
)

// Planned answers what to put on: the ways to do it, best first; with none, how
// near the gear comes and what to buy.
type Planned struct {
	Report  rules.Report // what is planned for, as it stands before
	Plans   []Plan
	Nearest *Plan
	Buy     []PlanLine
	Spare   bool // still covered after any single loss
	Cut     bool // no plan was found, but the search was cut short
	Usual   bool // no gear is known: planned with the kinds most used
}

// Smallest answers which chain is the smallest that so many direct ones of make up
// a weight's half with.
type Smallest struct {
	Weight load.Weight
	Need   load.Mass
	Count  int
	Each   load.Mass // least rating of each one's parts
	Chains []Rated   // the smallest of each grade that has one; none: no chain is rated so
}

// Rated is a chain with its rating by the table.
type Rated struct {
	Tie load.TieDown
	WLL load.Mass
}

func (Planned) say()  {}
func (Smallest) say() {}

// plan answers a question for a plan.
func (t *turn) plan(q *parser.Ask) {
	arts, ok := t.planFor(q)
	switch {
	case !ok:
		return
	case q.Plan.Smallest:
		t.smallest(arts, q.Plan.Count)
		return
	}
	a := plan.Ask{Set: t.set, Spare: q.Plan.Spare}
	at := unrun(&arts)
	a.Load = arts
	said := Planned{Report: Judge(arts, t.set), Spare: q.Plan.Spare}
	if slices.ContainsFunc(arts.Articles, func(x load.Article) bool { return !x.Weight.Known() }) {
		t.say(Need{Report: &said.Report})
		return
	}
	gear, ok := t.planGear(q, &a.Load, at)
	if !ok {
		said.Usual = true
		said.Plans = usualPlans(a, &said.Report, q.Plan)
		if len(said.Plans) == 0 { // all of them left out
			t.say(Need{Report: &said.Report})
			return
		}
	} else {
		a.Exclude = materials(q.Plan.Exclude)
		r := madeOf(a, gear, q.Plan)
		said.Plans, said.Nearest, said.Buy, said.Cut = r.Plans, r.Nearest, r.Buy, r.Cut
	}
	if len(said.Plans) > 0 && said.Plans[0].Pieces == 0 && len(arts.Articles[0].Ties) > 0 {
		t.say(Need{Report: &said.Report})
		return
	}
	t.say(said)
}

// madeOf plans with the gear that is wanted; where only some of it is and that does
// not do, with the rest too.
func madeOf(a plan.Ask, gear []plan.Stock, how *parser.Plan) plan.Result {
	some := *how
	for _, only := range []load.Material{how.Material, ""} {
		some.Material = only
		a.Gear = slices.DeleteFunc(slices.Clone(gear), func(s plan.Stock) bool { return unwanted(&s.Tie, &some) })
		if r := plan.Make(a); len(r.Plans) > 0 || only == "" {
			return r
		}
	}
	return plan.Result{}
}

// planFor is what a plan is asked for: the articles named in the question, else
// the load in hand. A weight told alone is taken as a machine's.
func (t *turn) planFor(q *parser.Ask) (load.Load, bool) {
	if len(q.Plan.Articles) == 0 {
		if len(t.load.Articles) == 0 {
			t.cannot("no load")
			return load.Load{}, false
		}
		return clone(t.load), true
	}
	var l load.Load
	for i := range q.Plan.Articles {
		a := q.Plan.Articles[i]
		t.machine(&a)
		t.inUnits(&a.Weight)
		a.ID, a.Ties = i+1, nil
		if a.Kind == "" {
			a.Kind = string(tables.ClassVague)
			a.OnWheels = load.Yes
		}
		l.Articles = append(l.Articles, a.Article)
	}
	return l, true
}

// planGear is the gear to plan with: what the question names, else what this chat
// owns and the load does not use, and what is at hand for the load but not told how
// it runs; with none of that, more of the kinds on the load. ok is false where
// nothing tells.
func (t *turn) planGear(q *parser.Ask, l *load.Load, at []plan.Stock) (gear []plan.Stock, ok bool) {
	for i := range q.Ties {
		x := q.Ties[i]
		t.complete(&x)
		if !described(&x) {
			continue
		}
		s := plan.Stock{Tie: x, Count: plan.Plenty}
		if i < len(q.Lines) && q.Lines[i].Told {
			s.Count = q.Lines[i].Count
		} else if at := slices.IndexFunc(t.s.Gear, func(g GearRow) bool { return sameKind(&g.Tie, &x) }); at >= 0 {
			s.Count = t.s.Gear[at].Count
		}
		gear = append(gear, s)
	}
	if len(gear) == 0 {
		gear = t.spare(l)
	}
	for _, s := range at {
		i := slices.IndexFunc(gear, func(g plan.Stock) bool { return sameKind(&g.Tie, &s.Tie) })
		if i < 0 {
			gear = append(gear, s)
		} else if gear[i].Count != plan.Plenty && len(q.Ties) == 0 {
			gear[i].Count = max(gear[i].Count, s.Count) // of the same gear
		}
	}
	if len(gear) == 0 {
		gear = inUse(l)
	}
	for i := range gear {
		if r := t.s.Ring; r > 0 && (gear[i].Tie.Anchor == 0 || r < gear[i].Tie.Anchor) {
			gear[i].Tie.Anchor = r
		}
	}
	return gear, len(gear) > 0
}

// spare is what this chat owns and the load does not use, hooked to its trailer.
func (t *turn) spare(l *load.Load) (gear []plan.Stock) {
	for _, g := range t.s.Gear {
		if r := t.s.Ring; r > 0 && (g.Tie.Anchor == 0 || r < g.Tie.Anchor) {
			g.Tie.Anchor = r
		}
		gear = append(gear, plan.Stock{Tie: g.Tie, Count: max(0, g.Count-onLoad(l, &g.Tie))})
	}
	return gear
}

// unrun takes off the load the sound tie-downs of which neither how they run nor
// where they hold was told: a plan tells how to run them.
func unrun(l *load.Load) (at []plan.Stock) {
	for i := range l.Articles {
		a := &l.Articles[i]
		a.Ties = slices.DeleteFunc(a.Ties, func(x load.TieDown) bool {
			if x.Route != "" || x.Place != (load.Place{}) || x.State.Tight == load.No || x.State.Gone != "" || len(x.State.Damage) > 0 || x.Plural || !described(&x) {
				return false
			}
			k := slices.IndexFunc(at, func(s plan.Stock) bool { return sameKind(&s.Tie, &x) })
			if k < 0 {
				at, k = append(at, plan.Stock{Tie: x}), len(at)
			}
			at[k].Count++
			return true
		})
	}
	return at
}

// onLoad is how many of a kind are on the load.
func onLoad(l *load.Load, kind *load.TieDown) (n int) {
	for i := range l.Articles {
		for j := range l.Articles[i].Ties {
			if x := &l.Articles[i].Ties[j]; x.State.Gone == "" && sameKind(x, kind) {
				n++
			}
		}
	}
	return n
}

// inUse is the kinds on the load, as many of each as it takes.
func inUse(l *load.Load) (gear []plan.Stock) {
	for i := range l.Articles {
		for j := range l.Articles[i].Ties {
			x := l.Articles[i].Ties[j]
			known := slices.ContainsFunc(gear, func(s plan.Stock) bool { return sameKind(&s.Tie, &x) })
			if !known && described(&x) && x.State.Gone == "" {
				x.Hook, x.Anchor = 0, 0
				gear = append(gear, plan.Stock{Tie: x, Count: plan.Plenty})
			}
		}
	}
	return gear
}

// unwanted says whether a kind of gear is not to be used: it is one of those left
// out, or not of what the plan is to be made with.
func unwanted(g *load.TieDown, p *parser.Plan) bool {
	if p.Material != "" && g.Material != p.Material {
		return true
	}
	return slices.ContainsFunc(p.Exclude, func(x load.TieDown) bool { return owned(g, &x) })
}

// materials are those not to be used in any size.
func materials(kinds []load.TieDown) (list []load.Material) {
	for _, x := range kinds {
		if x.Size == 0 && x.Grade == (load.Grade{}) {
			list = append(list, x.Material)
		}
	}
	return list
}

// usual are the kinds most used, those for machines first (common practice, no
// source).
var usual = []load.TieDown{
	{Material: load.Chain, Size: load.Inch * 3 / 8, SizeWord: "3/8", Grade: load.Grade{Value: "70", Reading: load.Read}},
	{Material: load.Chain, Size: load.Inch / 2, SizeWord: "1/2", Grade: load.Grade{Value: "70", Reading: load.Read}},
	{Material: load.Webbing, Size: load.Inch * 4, SizeWord: "4"},
	{Material: load.Webbing, Size: load.Inch * 2, SizeWord: "2"},
}

// usualPlans is the best plan with each of the kinds most used, by itself, and the
// one with all of the first kind direct: chains on machines and vehicles, straps on
// other cargo, unless the question names the one or leaves the other out.
func usualPlans(a plan.Ask, r *rules.Report, how *parser.Plan) (list []Plan) {
	wheels := slices.ContainsFunc(r.Articles, func(c rules.Count) bool {
		return slices.ContainsFunc(c.Demands, func(d rules.Demand) bool { return d.Ends > 0 })
	})
	material := how.Material
	if material != load.Chain && material != load.Webbing {
		material = load.Webbing
		if out := slices.Contains(materials(how.Exclude), load.Webbing); wheels || out {
			material = load.Chain
		}
		if slices.Contains(materials(how.Exclude), load.Chain) {
			material = load.Webbing
		}
	}
	for _, x := range usual {
		if x.Material != material || unwanted(&x, &parser.Plan{Exclude: how.Exclude}) {
			continue
		}
		a.Gear = []plan.Stock{{Tie: x, Count: plan.Plenty}}
		plans := plan.Make(a).Plans
		if len(list) > 0 {
			plans = plans[:min(1, len(plans))]
		}
		list = append(list, plans...)
	}
	slices.SortStableFunc(list, func(a, b Plan) int {
		return cmp.Or(cmp.Compare(a.Pieces, b.Pieces), cmp.Compare(a.Weight, b.Weight))
	})
	return list
}

// smallest says which chain of each grade is the smallest that does with so many
// direct; as many as the corners or ends ask for where no number is told.
func (t *turn) smallest(l load.Load, n int) {
	c := Judge(l, t.set).Articles[0]
	if !c.Article.Weight.Known() {
		t.say(Need{Report: &rules.Report{Verdict: c.Verdict, Articles: []rules.Count{c}}})
		return
	}
	if n == 0 {
		n = t.set.Limits().Corners
		for _, d := range c.Demands {
			if d.Ends > 0 {
				n = d.Ends
			}
		}
	}
	s := Smallest{Weight: c.Article.Weight, Need: c.NeedHigh, Count: n}
	s.Each = ratingFor(c.NeedHigh, n, t.set.Limits().CreditDirect)
	for _, d := range c.Demands {
		s.Each = max(s.Each, d.Least)
	}
	for _, grade := range []string{"70", "80", "100"} {
		for size, f, ok := tables.NextChain(0, grade); ok; size, f, ok = tables.NextChain(size, grade) {
			if f.WLL >= s.Each {
				x := load.TieDown{Material: load.Chain, Size: size, Grade: load.Grade{Value: grade, Reading: load.Read}}
				s.Chains = append(s.Chains, Rated{Tie: x, WLL: f.WLL})
				break
			}
		}
	}
	t.say(s)
}

// ratingFor is the least rating with which so many direct ones, each counting the
// share of it, make up a need.
func ratingFor(need load.Mass, n int, share tables.Percent) load.Mass {
	each := (need + load.Mass(n) - 1) / load.Mass(n)
	rating := each * 100 / load.Mass(share)
	for tables.Of(share, rating) < each {
		rating++
	}
	return rating
}
