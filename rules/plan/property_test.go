package plan

import (
	"slices"
	"testing"

	"halfweight/rules"
	"halfweight/rules/load"
	"halfweight/rules/tables"

	"pgregory.net/rapid"
)

func pick[T any](t *rapid.T, label string, list ...T) T {
	return list[rapid.IntRange(0, len(list)-1).Draw(t, label)]
}

// drawGear draws what a chat may own: with the gaps that people leave.
func drawGear(t *rapid.T, label string) []Stock {
	var gear []Stock
	for range rapid.IntRange(1, 5).Draw(t, label) {
		s := Stock{Count: rapid.IntRange(1, 9).Draw(t, "count")}
		if s.Tie = drawKind(t); pick(t, "limit", true, true, true, false) == false {
			s.Count = Plenty
		}
		gear = append(gear, s)
	}
	return gear
}

func drawKind(t *rapid.T) load.TieDown {
	chain := func(size load.Length, grade string) load.TieDown {
		return load.TieDown{Material: load.Chain, Size: size, Grade: load.Grade{Value: grade, Reading: load.Read}}
	}
	x := pick(t, "kind",
		chain(load.Inch*3/8, "70"), chain(load.Inch/2, "70"), chain(load.Inch*5/16, "70"), chain(load.Inch*3/8, "80"), chain(load.Inch/2, "100"),
		chain(load.Inch*7/16, "80"), // no row: nothing tells what it holds
		load.TieDown{Material: load.Chain, Size: load.Inch * 3 / 8},
		load.TieDown{Material: load.Webbing, Size: load.Inch * 4}, load.TieDown{Material: load.Webbing, Size: load.Inch * 2, Mark: 3333 * load.Pound},
		load.TieDown{Material: load.Cordage, Size: load.Inch, Make: "nylon"}, load.TieDown{Material: load.WireRope, Size: load.Inch / 2},
		load.TieDown{Material: load.SteelStrap, Size: load.Inch * 2}, load.TieDown{Material: load.Chain, Mark: 3000 * load.Kilogram})
	x.Tensioner.Rating = pick(t, "binder", 0, 0, 5400*load.Pound, 9200*load.Pound)
	x.Anchor = pick(t, "ring", 0, 0, 6600*load.Pound)
	return x
}

var (
	plannedKinds = []string{"roller", "wheel loader", "excavator", "mini excavator", "backhoe", "dozer", "grader", "skid steer", "crane", "trencher", "tractor", "pickup", "truck", "machine", "unknown", "crate"}
	plannedParts = []string{"bucket", "boom", "stick", "blade", "hoe", "ripper", "outriggers", "attachment"}
)

// drawLoad draws articles of known weight with some tie-downs on.
func drawLoad(t *rapid.T, most int) load.Load {
	var l load.Load
	id := 0
	for range rapid.IntRange(1, most).Draw(t, "articles") {
		a := load.Article{ID: len(l.Articles) + 1, Kind: pick(t, "kind", plannedKinds...)}
		a.Name = a.Kind
		w := load.Mass(rapid.IntRange(500, 80000).Draw(t, "pounds")) * load.Pound
		a.Weight = load.Exact(w, false)
		if pick(t, "loosely", false, false, true) {
			a.Weight.Low, a.Weight.High = w-w/20, w+w/20
		}
		a.Length = load.Length(rapid.IntRange(0, 45).Draw(t, "feet")) * load.Foot
		a.Blocked = pick(t, "blocked", load.Untold, load.Yes, load.No)
		for _, name := range plannedParts {
			if pick(t, name, 0, 0, 0, 1) == 1 {
				a.Parts = append(a.Parts, load.Part{
					Name: name, Word: name, Down: pick(t, "down", load.Untold, load.Yes, load.No), Tied: pick(t, "tied", load.Untold, load.No, load.Yes),
					Loose: pick(t, "loose", false, false, true), Hydraulics: pick(t, "hydraulics", false, false, true), Off: pick(t, "off", false, false, true),
					Locks: pick(t, "locks", nil, nil, []string{"pin"}, []string{"boom lock"}),
				})
			}
		}
		a.Joint = pick(t, "joint", load.Joint{}, load.Joint{Locked: load.No}, load.Joint{Locked: load.Yes, How: load.LockBar}, load.Joint{How: load.SteeringWheel})
		for line := range rapid.IntRange(0, 2).Draw(t, "lines on") {
			x := drawKind(t)
			x.Line = line + 1
			x.Route = pick(t, "route", load.Direct, load.Direct, load.Over, "")
			x.Place = pick(t, "place", load.Place{}, load.Place{End: front}, load.Place{End: rear}, load.Place{On: "joint"}, load.Place{On: "bucket"}, load.Place{On: "blade"})
			x.State.Tight = pick(t, "tight", load.Untold, load.Untold, load.Untold, load.No)
			x.Tensioner.Has = pick(t, "tensioner", load.Untold, load.Yes, load.Yes, load.No)
			for range rapid.IntRange(1, 3).Draw(t, "pieces") {
				id++
				x.ID = id
				a.Ties = append(a.Ties, x)
			}
		}
		l.Articles = append(l.Articles, a)
	}
	return l
}

// settledByNoTieDown says whether a finding may be open in a plan: it asks what
// only the crew can tell.
func settledByNoTieDown(f rules.Finding) bool {
	switch f.Rule {
	case "accessory":
		return f.Part == tables.MovingParts
	case "number":
		return f.Ask == rules.AskLength || f.Ask == rules.AskBlocked || f.Ask == rules.AskWheels
	case "corners", "ends":
		return f.Ask == rules.AskWheels
	case "tensioner":
		return f.Ask == rules.AskTensioner // a rope that is on already
	}
	return false
}

func TestMake_everyPlanStandsBeforeTheRules(t *testing.T) {
	planned := 0
	rapid.Check(t, func(t *rapid.T) {
		a := Ask{Load: drawLoad(t, 2), Set: rules.Federal, Gear: drawGear(t, "kinds"), Spare: pick(t, "spare", false, false, true)}
		for _, p := range Make(a).Plans {
			planned++
			l := p.on(a)
			stands(t, l, &p)
			holds(t, a, &p)
			if !a.Spare {
				continue
			}
			for i := range l.Articles {
				for j := range l.Articles[i].Ties {
					lost := load.Load{Articles: slices.Clone(l.Articles)}
					art := &lost.Articles[i]
					art.Ties = slices.Clone(art.Ties)
					if art.Ties[j].State.Gone == "" {
						art.Ties[j].State.Gone = "lost"
						stands(t, lost, &p)
					}
				}
			}
		}
	})
	if planned < 50 {
		t.Errorf("only %d plans were tried", planned)
	}
}

// on is the load as the plan leaves it, put together from its lines alone.
func (p *Plan) on(a Ask) load.Load {
	q := planner{Ask: a}
	q.takeOff()
	l := load.Load{Articles: slices.Clone(q.Load.Articles)}
	id := highestID(&l)
	for _, part := range p.Lower {
		lowerPart(&l.Articles[part.Article], part.Part)
	}
	for _, line := range p.Lines {
		art := &l.Articles[line.Article]
		art.Ties = slices.Clone(art.Ties)
		for i := range line.Count {
			id++
			x := line.Tie
			x.ID, x.Line = id, 0
			if x.Place.Spread != "" {
				x.Place = load.Place{End: []string{front, rear}[i%2]}
			}
			art.Ties = append(art.Ties, x)
		}
	}
	return l
}

func stands(t *rapid.T, l load.Load, p *Plan) {
	r := rules.Evaluate(l, rules.Federal)
	if r.Verdict == rules.VerdictCovered || r.Verdict == rules.VerdictFix {
		return
	}
	for i := range r.Articles {
		for _, f := range r.Articles[i].Findings {
			if f.Outcome != rules.Met && (f.Outcome == rules.Short || !settledByNoTieDown(f)) {
				t.Fatalf("%s %s is %v (%s, asks %q) with %+v\non %+v", f.Rule, f.Subject, f.Outcome, f.Reason, f.Ask, p.Lines, l.Articles[i])
			}
		}
	}
}

// holds says that no more is used than there is, and nothing but what was given.
func holds(t *rapid.T, a Ask, p *Plan) {
	used := make([]int, len(a.Gear))
	pieces := 0
	for _, l := range p.Lines {
		used[l.Gear] += l.Count
		pieces += l.Count
		if g := &a.Gear[l.Gear].Tie; l.Tie.Material != g.Material || l.Tie.Size != g.Size || l.Tie.Grade != g.Grade || l.Tie.Mark != g.Mark || l.Tie.Tensioner.Rating != g.Tensioner.Rating || l.Tie.Anchor != g.Anchor {
			t.Fatalf("%+v is not of the gear %+v", l.Tie, g)
		}
	}
	if pieces != p.Pieces {
		t.Fatalf("%d pieces in lines of %d", p.Pieces, pieces)
	}
	for i, n := range used {
		if a.Gear[i].Count != Plenty && n > a.Gear[i].Count {
			t.Fatalf("%d used of %d", n, a.Gear[i].Count)
		}
	}
}

func TestMake_moreGearNeverMakesAWorsePlan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := Ask{Load: drawLoad(t, 2), Set: rules.Federal, Gear: drawGear(t, "kinds"), Spare: pick(t, "spare", false, false, true)}
		before := Make(a).Plans
		if len(before) == 0 {
			t.Skip("no plan")
		}
		if more := drawGear(t, "more kinds"); pick(t, "how", true, false) {
			a.Gear = append(slices.Clone(a.Gear), more...)
		} else {
			a.Gear = slices.Clone(a.Gear)
			if g := &a.Gear[0]; g.Count != Plenty {
				g.Count += rapid.IntRange(1, 5).Draw(t, "more of it")
			}
		}
		after := Make(a).Plans
		if len(after) == 0 {
			t.Fatalf("before %+v, after none", before[0].tally())
		}
		was, is := before[0].tally(), after[0].tally()
		is.credit += load.Mass(is.pieces) * coarse // told in kilograms and in pounds, they are told apart to this
		if is.compare(was) > 0 {
			t.Fatalf("before %+v, after %+v", was, is)
		}
	})
}

func TestMake_saysTheLeastToBuyAndThatDoes(t *testing.T) {
	bought := 0
	rapid.Check(t, func(t *rapid.T) {
		a := Ask{Load: drawLoad(t, 1), Set: rules.Federal, Gear: drawGear(t, "kinds"), Spare: pick(t, "spare", false, false, true)}
		r := Make(a)
		if len(r.Plans) > 0 || len(r.Buy) == 0 {
			t.Skip("nothing to buy")
		}
		bought++
		n := 0
		for _, l := range r.Buy {
			n += l.Count
		}
		kind := Stock{Tie: r.Buy[0].Tie, Count: n}
		with := a
		with.Gear = append(slices.Clone(a.Gear), kind)
		if len(Make(with).Plans) == 0 {
			t.Fatalf("it does not do with %d of %+v", n, kind.Tie)
		}
		for x, ok := nextSold(0); ok; x, ok = nextSold(x.Size) {
			if x.Size < kind.Tie.Size || n > 1 {
				less := a
				less.Gear = append(slices.Clone(a.Gear), Stock{Tie: x, Count: n})
				if x.Size >= kind.Tie.Size {
					less.Gear[len(a.Gear)].Count = n - 1
				}
				if p := Make(less).Plans; len(p) > 0 {
					t.Fatalf("%d of %v are enough, not %d of %v", less.Gear[len(a.Gear)].Count, x.Size, n, kind.Tie.Size)
				}
			}
		}
	})
	if bought < 10 {
		t.Errorf("only %d times was something to be bought", bought)
	}
}
