package plan

import (
	"math"
	"slices"

	"halfweight/rules"
	"halfweight/rules/load"
	"halfweight/rules/tables"
)

// Mend writes into each article of r what would mend it (rules.Count.Mends): of a
// short one what is to be done until nothing is short, of one not settled the one
// tie-down that settles it and the weight together, where there is one. How many
// go where is solved like any plan, with pieces of one kind: of gear, what is to hand
// and not on the load, where one does, else of the kind in use. Every step is judged
// by the rules of set, and says what it closes by their word.
//
// What is on stays as it is: to tighten it, to put a binder on, to lower a part and
// to lock the joint are no choice between pieces, so the rules alone are asked
// whether they do it. Binders not told are taken as told of: what weaker ones would
// change is said beside it.
func Mend(r *rules.Report, set rules.Set, gear []Stock) {
	gear = slices.Clone(gear)
	for i := range r.Articles {
		c := &r.Articles[i]
		switch c.Verdict {
		case rules.VerdictShort:
			m := mending{set: set, gear: gear, art: *c.Article, now: *c, start: keys(c, rules.Short)}
			m.all()
			c.Mends = m.list
			spend(gear, m.list)
		case rules.VerdictUnsettled:
			c.Mends = settles(c, set)
		}
	}
}

// mending is a short article while it is being mended on paper.
type mending struct {
	set   rules.Set
	gear  []Stock
	hand  int // how many are to hand of what is being put on; 0 where it is no gear
	art   load.Article
	now   rules.Count // how it stands
	start []string    // the rules short before anything was done
	list  []rules.Mend
}

func (m *mending) all() {
	m.tighten()
	m.binders()
	m.lower()
	var first *mending
	for _, kind := range m.toHand() {
		if try, ok := m.tried(kind.Tie, kind.Count); ok && len(try.lacking()) == 0 && len(try.art.Ties)-len(m.art.Ties) <= kind.Count {
			*m = try
			return
		}
	}
	for _, kind := range m.kinds() {
		try, ok := m.tried(kind, 0)
		if !ok {
			continue
		}
		if len(try.lacking()) == 0 {
			*m = try
			return
		}
		if first == nil {
			first = &try
		}
	}
	if first != nil { // it closes what pieces of that kind can close
		*m = *first
	}
}

// spend takes what mends of one article put on off the gear, so that the next is not
// offered the same pieces.
func spend(gear []Stock, mends []rules.Mend) {
	for _, m := range mends {
		i := slices.IndexFunc(gear, func(s Stock) bool { return alike(&s.Tie, &m.Tie) })
		if m.Hand > 0 && i >= 0 {
			gear[i].Count -= m.Count
		}
	}
}

// tried is m with pieces of a kind put on; ok is false where none of that kind do.
func (m *mending) tried(kind load.TieDown, hand int) (try mending, ok bool) {
	try = *m
	try.hand = hand
	try.list = slices.Clip(m.list)
	return try, try.putOn(kind)
}

// toHand is the gear that may be put on: the kind in use first, then in the order it
// was told.
func (m *mending) toHand() (list []Stock) {
	used := m.inUse()
	for _, s := range m.gear {
		if s.Count <= 0 || m.set.Barred(&m.art, &s.Tie) {
			continue
		}
		s.Tie.Tensioner.Has, s.Tie.State = load.Yes, load.State{Tight: load.Yes, Sound: load.Yes}
		s.Tie.Route, s.Tie.Place, s.Tie.FromGear = "", load.Place{}, false
		if alike(&s.Tie, &used) {
			list = slices.Insert(list, 0, s)
		} else {
			list = append(list, s)
		}
	}
	return list
}

// alike says whether two tie-downs are of one kind.
func alike(a, b *load.TieDown) bool {
	return a.Material == b.Material && a.Size == b.Size && a.Grade == b.Grade && a.Make == b.Make
}

// judge has the rules judge one article by itself.
func judge(a load.Article, set rules.Set) rules.Count {
	return rules.Evaluate(load.Load{Articles: []load.Article{a}}, set).Articles[0]
}

// keys lists the rules that end so, an accessory's with its word.
func keys(c *rules.Count, o rules.Outcome) []string {
	var list []string
	for i := range c.Findings {
		if f := &c.Findings[i]; f.Outcome == o {
			list = append(list, key(f.Rule, f.Subject))
		}
	}
	return list
}

func key(rule, subject string) string {
	if subject == "" {
		return rule
	}
	return rule + ":" + subject
}

// short says whether a rule is short, of an accessory where part is one.
func (m *mending) short(rule, part string) bool {
	return slices.ContainsFunc(m.now.Findings, func(f rules.Finding) bool {
		return f.Rule == rule && f.Part == part && f.Outcome == rules.Short
	})
}

// step adds a mend and has the article judged with it.
func (m *mending) step(mend rules.Mend, a load.Article) {
	before := keys(&m.now, rules.Short)
	m.art, m.now = a, judge(a, m.set)
	mend.Closes = without(before, keys(&m.now, rules.Short))
	m.list = append(m.list, mend)
}

// without is the keys of a that are not in b.
func without(a, b []string) (list []string) {
	for _, key := range a {
		if !slices.Contains(b, key) {
			list = append(list, key)
		}
	}
	return list
}

// with is the article with n more tie-downs.
func with(a load.Article, n int, t load.TieDown) load.Article {
	id := 0
	for i := range a.Ties {
		id = max(id, a.Ties[i].ID)
	}
	a.Ties = slices.Clip(a.Ties)
	t.Line = id + 1
	for range n {
		id++
		t.ID = id
		a.Ties = append(a.Ties, t)
	}
	return a
}

// changed is the article with a change to the tie-downs set aside for a reason, and
// their ids.
func (m *mending) changed(why string, change func(*load.TieDown)) (a load.Article, ids []int) {
	for i := range m.now.SetAside {
		if s := &m.now.SetAside[i]; s.Why == why && !s.Counts {
			ids = append(ids, s.IDs...)
		}
	}
	a = m.art
	a.Ties = slices.Clone(a.Ties)
	for i := range a.Ties {
		if slices.Contains(ids, a.Ties[i].ID) {
			change(&a.Ties[i])
		}
	}
	return a, ids
}

// tighten offers to tighten what is loose, where that alone does it. What follows
// is then to be done instead.
func (m *mending) tighten() {
	a, ids := m.changed(rules.WhyLoose, func(t *load.TieDown) { t.State.Tight = load.Yes })
	if ids == nil {
		return
	}
	if c := judge(a, m.set); c.Verdict != rules.VerdictShort {
		m.list = append(m.list, rules.Mend{Do: rules.DoTighten, IDs: ids, Closes: m.start, Alone: true})
	}
}

// binders puts a tensioner on each tie-down told to have none.
func (m *mending) binders() {
	a, ids := m.changed(rules.WhyNoBinder, func(t *load.TieDown) { t.Tensioner.Has = load.Yes })
	if ids != nil {
		m.step(rules.Mend{Do: rules.DoBinder, IDs: ids}, a)
	}
}

// lower lowers the parts that are short for riding up, and those that a tie-down
// holds only once they are lowered.
func (m *mending) lower() {
	var up []string
	for _, f := range m.now.Findings {
		if f.Rule == "accessory" && f.Outcome == rules.Short && f.Reason == rules.ReasonUp {
			up = append(up, f.Part)
		}
	}
	for _, d := range m.lacking() {
		up = append(up, d.Lower...)
	}
	for i, part := range up {
		if a := m.art; !slices.Contains(up[:i], part) && lowerPart(&a, part) {
			m.step(rules.Mend{Do: rules.DoLower, Part: part}, a)
		}
	}
}

// kinds is what to put on, the first that does: the kind in use, else what fits in
// its place.
func (m *mending) kinds() []load.TieDown {
	var list []load.TieDown
	if t := m.inUse(); t.Material != "" || !m.barred() {
		list = append(list, t)
	}
	for _, grade := range [...]string{"70", "80", "100"} {
		for t, ok := chainFrom(usualSize, grade); ok; t, ok = larger(t) {
			if !m.set.Barred(&m.art, &t) {
				list = append(list, t)
			}
		}
	}
	return list
}

// barred says whether what is on cannot be what more is put on of: a rule bars it,
// or wants what only a told kind can give.
func (m *mending) barred() bool {
	if len(m.art.Ties) > 0 && m.set.Barred(&m.art, &m.art.Ties[0]) {
		return true
	}
	strap := load.TieDown{Material: load.Webbing}
	return m.set.Barred(&m.art, &strap) || slices.ContainsFunc(m.now.Demands, func(d rules.Demand) bool { return d.Least > 0 || d.Rule == "container" })
}

// usualSize is the chain most used on machines (common practice, no source).
const usualSize = load.Inch * 3 / 8

// chainFrom is the chain of a grade of at least a size, to be put on.
func chainFrom(size load.Length, grade string) (load.TieDown, bool) {
	size, _, ok := tables.NextChain(size-1, grade)
	t := load.TieDown{
		Material: load.Chain, Size: size, Grade: load.Grade{Value: grade, Reading: load.Read},
		Tensioner: load.Tensioner{Has: load.Yes}, State: load.State{Tight: load.Yes, Sound: load.Yes},
	}
	if size == usualSize {
		t.SizeWord = "3/8"
	}
	return t, ok
}

// larger is the next larger chain of the same grade, with a binder that is not
// weaker than it.
func larger(t load.TieDown) (load.TieDown, bool) {
	if t.Material != load.Chain || t.Grade.Reading != load.Read || t.Marked() > 0 {
		return t, false
	}
	size, f, ok := tables.NextChain(t.Size, t.Grade.Value)
	t.Size, t.SizeWord = size, ""
	t.Tensioner = load.Tensioner{Has: load.Yes, Rating: f.WLL}
	return t, ok
}

// inUse is the kind of tie-down in use, as it would be put on anew: the one most
// used of those that count and are rated, the strongest of equals; where none
// counts, of those set aside.
func (m *mending) inUse() load.TieDown {
	var best *rules.Line
	consider := func(l *rules.Line) {
		if l.WLL > 0 && !m.set.Barred(&m.art, &l.Tie) && (best == nil || l.Count > best.Count || l.Count == best.Count && l.WLL > best.WLL) {
			best = l
		}
	}
	for i := range m.now.Lines {
		consider(&m.now.Lines[i])
	}
	if best == nil {
		for i := range m.now.SetAside {
			consider(&m.now.SetAside[i].Line)
		}
	}
	if best == nil {
		return load.TieDown{}
	}
	t := best.Tie
	return load.TieDown{
		Material: t.Material, Size: t.Size, SizeWord: t.SizeWord, Thick: t.Thick, Make: t.Make,
		Grade: t.Grade, Mark: t.Marked(), Hook: t.Hook, HookStamp: t.HookStamp, Anchor: t.Anchor,
		Tensioner: load.Tensioner{Has: load.Yes, Kind: t.Tensioner.Kind, Rating: t.Tensioner.Rating, Label: t.Tensioner.Label, Stamp: t.Tensioner.Stamp},
		State:     load.State{Tight: load.Yes, Sound: load.Yes},
	}
}

// putOn plans what is short with pieces of one kind, and puts on what the plan
// says: over the parts, at the corners or ends, over the article. It is false, and
// nothing done, where none of that kind do.
func (m *mending) putOn(t load.TieDown) bool {
	demands := m.lacking()
	parts := m.parts(demands)
	u, ok := m.solved(demands, len(parts), t)
	if !ok {
		return false
	}
	bent := m.short("articulation", "")
	if bent && u.over > len(parts) {
		parts, bent = append(parts, joint), false // it goes over anyhow, so across the joint
	}
	if bent {
		a := m.art
		a.Joint = load.Joint{Locked: load.Yes, How: load.LockBar}
		m.step(rules.Mend{Do: rules.DoLock}, a)
	}
	for _, part := range parts {
		m.put(1, t, load.Over, load.Place{On: part})
	}
	m.atEnds(u.direct, t, demands)
	m.over(u.over-len(parts), t)
	return true
}

// joint is the place of a tie-down across the joint.
const joint = "joint"

// lacking is the demands that are short, and those of parts that were and are not
// met by being lowered alone.
func (m *mending) lacking() []rules.Demand {
	short, met := keys(&m.now, rules.Short), keys(&m.now, rules.Met)
	var list []rules.Demand
	for _, d := range m.now.Demands {
		k := key(d.Rule, d.Subject)
		lowered := d.Rule == "accessory" && slices.Contains(m.start, k) && !slices.Contains(met, k)
		if lowered || slices.Contains(short, k) {
			list = append(list, d)
		}
	}
	return list
}

// parts is the parts that one is to go over each: those whose demand is short, and
// of parts held with another those that are short still.
func (m *mending) parts(demands []rules.Demand) (list []string) {
	a := m.art
	put := func(part string) {
		list = append(list, part)
		a = with(a, 1, load.TieDown{Route: load.Over, Place: load.Place{On: part}})
	}
	for _, d := range demands {
		if d.Rule == "accessory" && !d.Have.Told && d.Have.Number == 0 {
			put(d.On)
		}
	}
	for _, f := range m.now.Findings {
		if f.Rule != "accessory" || f.Part == "" || f.Outcome != rules.Short || slices.Contains(list, f.Part) {
			continue
		}
		c := judge(a, m.set)
		if slices.Contains(keys(&c, rules.Short), key(f.Rule, f.Subject)) {
			put(f.Part)
		}
	}
	return list
}

// solved is how many of a kind the demands take, direct and over: so many over
// parts among them. A kind that nothing tells the strength of fills places only.
func (m *mending) solved(demands []rules.Demand, parts int, t load.TieDown) (use, bool) {
	p := planner{Ask: Ask{Set: m.set}, asTold: true, report: rules.Report{Articles: []rules.Count{m.now}}}
	p.report.Articles[0].Demands = demands
	w := p.want(0)
	w.over = parts
	in := rules.Credit(&t, m.set.Limits())
	if in.WLL == 0 {
		w.credit = math.MinInt64 / 2
	}
	p.model.wants = []want{w}
	p.addKind(t, Plenty)
	p.model.kinds[0].n = most
	a, ok := p.model.solve()
	if !ok {
		return use{}, false
	}
	return a.uses[0][0], true
}

// put puts on n tie-downs; none where n is not more than 0.
func (m *mending) put(n int, t load.TieDown, way load.Route, at load.Place) {
	if n > 0 {
		t.Route, t.Place = way, at
		m.step(rules.Mend{Count: n, Tie: t, Hand: m.hand}, with(m.art, n, t))
	}
}

// atEnds puts n direct ones where they are asked for.
func (m *mending) atEnds(n int, t load.TieDown, demands []rules.Demand) {
	all := load.Place{} // of all of them
	for _, d := range demands {
		switch {
		case d.Number > 0 && d.Front > 0, d.Rule == "container" && d.Have == (rules.Have{}):
			all.Spread = corners
		case d.Number > 0 && d.Rear > 0:
			all.End = rear
		}
	}
	if all != (load.Place{}) {
		m.put(n, t, load.Direct, all)
		return
	}
	for _, at := range m.places(n, demands) {
		m.put(at.n, t, load.Direct, at.Place)
	}
}

// spot is a place and how many go there.
type spot struct {
	load.Place
	n int
}

// places is where n direct ones go so that no end lacks: as many as that leaves
// where one that is set aside was told to hold, the others at the end that has
// fewest.
func (m *mending) places(n int, demands []rules.Demand) (list []spot) {
	var lacks []rules.Demand // of the ends
	for _, d := range demands {
		if d.Ends > 0 {
			lacks = append(lacks, d)
		}
	}
	f, r := 0, 0          // put there
	does := func() bool { // with all that are left to put where they lack
		return !slices.ContainsFunc(lacks, func(d rules.Demand) bool {
			return max(0, d.Front-d.Have.Front-f)+max(0, d.Rear-d.Have.Rear-r) > d.Have.Free+n-f-r
		})
	}
	for i := range m.now.SetAside {
		s := &m.now.SetAside[i]
		p := load.Place{End: s.Tie.Place.End, Side: s.Tie.Place.Side}
		if s.Counts || s.Settle != "" || s.Tie.Place.On != "" || p.End != front && p.End != rear {
			continue
		}
		at := &f
		if p.End == rear {
			at = &r
		}
		k, was := 0, *at
		for ; k < s.Count && f+r < n; k++ {
			if *at++; !does() {
				*at--
				break
			}
		}
		if *at > was {
			list = append(list, spot{p, k})
		}
	}
	p := planner{report: rules.Report{Articles: []rules.Count{m.now}}}
	at := p.placing(0)
	at.front, at.rear = at.front+f, at.rear+r
	ends := [...]spot{{load.Place{End: front}, 0}, {load.Place{End: rear}, 0}}
	for range n - f - r {
		if at.next() == front {
			ends[0].n++
		} else {
			ends[1].n++
		}
	}
	return append(list, ends[:]...)
}

// over puts n over the article, and offers fewer of the next larger chain instead,
// with the binder it takes.
func (m *mending) over(n int, t load.TieDown) {
	if n <= 0 {
		return
	}
	before := *m
	before.list = nil
	m.put(n, t, load.Over, load.Place{})
	up, ok := larger(t)
	if !ok || m.hand > 0 || m.set.Barred(&m.art, &up) {
		return
	}
	if u, ok := before.solved(before.lacking(), 0, up); ok && u.direct == 0 && u.over > 0 && u.over < n {
		before.put(u.over, up, load.Over, load.Place{})
		or := before.list[0]
		or.Binder, or.Or = up.Tensioner.Rating, true
		m.list = append(m.list, or)
	}
}

// settles offers, for an article not settled, one over a part not told to be tied,
// where that settles the weight as well: "a chain over the bucket fixes both". It
// is one tie-down at one place: there is nothing to solve.
func settles(c *rules.Count, set rules.Set) []rules.Mend {
	m := mending{set: set, art: *c.Article, now: *c}
	t := m.inUse()
	if t.Material == "" {
		return nil
	}
	open := keys(c, rules.Untold)
	for i := range c.Findings {
		f := &c.Findings[i]
		if f.Rule != "accessory" || f.Part == "" || f.Outcome != rules.Untold {
			continue
		}
		t.Route, t.Place.On = load.Over, f.Part
		after := judge(with(*c.Article, 1, t), set)
		if closes := without(open, keys(&after, rules.Untold)); len(closes) > 1 {
			return []rules.Mend{{Count: 1, Tie: t, Closes: closes}}
		}
	}
	return nil
}
