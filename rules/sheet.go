package rules

import (
	"slices"

	"halfweight/rules/load"
	"halfweight/rules/tables"
)

// Places and spreads of load.Place.
const (
	front         = "front"
	rear          = "rear"
	middle        = "middle"
	left          = "left"
	joint         = "joint"
	spreadCorners = "corners"
	spreadEnds    = "ends"
)

// group is equal tie-downs of one article.
type group struct {
	tie  *load.TieDown // the first of them
	n    int
	ids  []int
	cond condition
	in   Interval
	any  codes // what any of them takes for granted by itself
	used codes // what a figure or finding took for granted of them
}

// itself says whether the group holds the article itself: not an accessory of
// it, and not its joint.
func (g *group) itself() bool { return g.tie.Place.On == "" }

// placed says whether any place of the group was told.
func (g *group) placed() bool {
	p := &g.tie.Place
	return p.End != "" || p.Side != "" || p.Spread != "" || p.On != ""
}

// sheet is the count of one article while it is being worked out.
type sheet struct {
	art    *load.Article
	lim    *tables.Limits
	kind   tables.Machine
	class  tables.Class
	vague  bool // the kind does not say what moves on it
	heavy  load.Tri
	cargo  tables.CargoKind
	own    section // the section it has to itself
	groups []group
	places places
	scope  scope

	credit, weaker, most load.Mass
	needLow, needHigh    load.Mass

	findings []Finding
	notes    []Assumption // taken for granted of the article, its parts and its joint
	remarks  []Remark
	tooMuch  []int // ids of those told with a mark that no working load limit reaches
	demands  []Demand
}

// judge works out the count of one article.
func judge(a *load.Article, set Set) Count {
	s := open(a, set.Limits())
	s.run(set)
	c := Count{
		Article:  a,
		Verdict:  s.verdict(),
		Heavy:    s.heavy,
		NeedLow:  s.needLow,
		NeedHigh: s.needHigh,
		Need:     s.mostNeed(a.Weight.Told),
		NoSum:    s.noSum(),
		Credit:   s.credit,
		Most:     s.most,
		Weaker:   s.weaker,
		GoodUpTo: s.goodUpTo(s.credit),
		Findings: s.findings,
		Demands:  s.demands,
	}
	c.Lines, c.SetAside = s.lines()
	c.Assumed = s.assumed()
	s.remark()
	c.Remarks = s.remarks
	if c.Verdict == VerdictCovered {
		c.Sinks = s.sinks(set)
	}
	return c
}

// open lays out the sheet of a: its kind, its weight class, its tie-downs.
func open(a *load.Article, lim *tables.Limits) *sheet {
	s := &sheet{art: a, lim: lim, groups: make([]group, 0, min(len(a.Ties), 8))}
	s.classify()
	s.govern()
	for i := range a.Ties {
		s.lay(&a.Ties[i])
	}
	return s
}

// classify says what kind of article it is, so far as told. A noun not known is
// taken by its wheels, once they are told.
func (s *sheet) classify() {
	m, ok := tables.Kind(s.art.Kind)
	if !ok {
		m, _ = tables.Kind(string(tables.ClassUnknown))
	}
	s.kind, s.class = m, m.Class
	if m.Class == tables.ClassUnknown {
		switch s.art.OnWheels {
		case load.Yes:
			s.class = tables.ClassVague
		case load.No:
			s.class = tables.ClassCargo
		}
	}
	s.vague = s.class == tables.ClassVague || s.class == tables.ClassUnknown
}

// lay adds one piece to the group it belongs to.
func (s *sheet) lay(t *load.TieDown) {
	if tooMuch(t) {
		s.tooMuch = append(s.tooMuch, t.ID)
		byTable := *t
		byTable.Mark = 0 // what the report says of it is then the table's, as its credit is
		t = &byTable
	}
	for i := len(s.groups) - 1; i >= 0; i-- {
		g := &s.groups[i]
		if same(g.tie, t) {
			g.n++
			g.ids = append(g.ids, t.ID)
			g.any |= untoldOf(t)
			return
		}
	}
	g := s.group(t, 1)
	g.ids = []int{t.ID}
	s.groups = append(s.groups, g)
}

// group is n pieces like t.
func (s *sheet) group(t *load.TieDown, n int) group {
	cond := setAside(t, s.lim)
	if bar := s.barred(t); bar.fate > cond.fate {
		cond = bar
	}
	return group{tie: t, n: n, cond: cond, in: Credit(t, s.lim), any: untoldOf(t)}
}

// untoldOf is what counting t at all takes for granted.
func untoldOf(t *load.TieDown) codes {
	var c codes
	if t.State.Tight != load.Yes || t.State.Sound != load.Yes {
		c |= codeSound
	}
	if t.Tensioner.Has == load.Untold && t.Material != load.SteelStrap && !hasTensioner(t) {
		c |= codeTensionerThere
	}
	if t.Plural {
		c |= codeCountOne
	}
	if t.FromGear {
		c |= codeFromGear
	}
	return c
}

// hasTensioner says whether what is told of t tells of a tensioner on it.
func hasTensioner(t *load.TieDown) bool {
	n := &t.Tensioner
	return n.Has != load.No && (n.Has == load.Yes || n.Kind != "" || n.Rating > 0 || n.Label != "")
}

// same says whether two tie-downs are alike in all that is counted and printed.
// Whether one was told tight or sound is not printed, nor in which clause; but
// those spread over corners or ends are spread with those they were told with.
func same(a, b *load.TieDown) bool {
	return a.Material == b.Material && a.Size == b.Size && a.SizeWord == b.SizeWord &&
		a.Thick == b.Thick && a.Make == b.Make && a.Grade == b.Grade && a.Mark == b.Mark &&
		a.Tensioner == b.Tensioner && a.Hook == b.Hook && a.HookStamp == b.HookStamp && a.Anchor == b.Anchor &&
		a.Route == b.Route && a.Place == b.Place && a.Plural == b.Plural &&
		a.Shared == b.Shared && (a.Tag == b.Tag || sound(&a.State)) && (a.Place.Spread == "" || a.Line == b.Line) && sameState(&a.State, &b.State)
}

// sound says whether nothing is told that sets a tie-down aside; then it is all
// one what the crew calls it.
func sound(s *load.State) bool { return s.Tight != load.No && s.Gone == "" && len(s.Damage) == 0 }

func sameState(a, b *load.State) bool {
	if (a.Tight == load.No) != (b.Tight == load.No) || a.NoGuard != b.NoGuard || a.Guarded != b.Guarded || a.NoTag != b.NoTag || a.Gone != b.Gone || len(a.Damage) != len(b.Damage) {
		return false
	}
	for i := range a.Damage {
		x, y := &a.Damage[i], &b.Damage[i]
		if x.Part != y.Part || x.Kind != y.Kind || x.Left != y.Left || len(x.Size) != len(y.Size) {
			return false
		}
		for j := range x.Size {
			if x.Size[j] != y.Size[j] {
				return false
			}
		}
	}
	return true
}

// run sums the credits, counts the places and asks every rule of the set.
func (s *sheet) run(set Set) {
	s.findings = slices.Grow(s.findings, 8) // most rules find nothing of an article
	s.weigh()
	s.sum()
	s.places = s.tally()
	s.scope = s.settleScope()
	for i := range set.Rules {
		set.Rules[i].judge(s)
	}
}

// weigh halves the weight and says on which side of the heavy line it lies.
func (s *sheet) weigh() {
	w := &s.art.Weight
	s.needLow, _ = s.needs(w.Low)
	s.needHigh = s.mostNeed(w.High)
	if !w.Known() || s.class == tables.ClassCargo {
		return
	}
	switch {
	case s.overLine(w.Low):
		s.heavy = load.Yes
	case s.underLine(w.High):
		s.heavy = load.No
	}
}

// need is what the credits must reach for a weight, rounded up: what must be
// covered is never rounded away.
func (s *sheet) need(m load.Mass) load.Mass { return m - tables.Of(100-s.lim.Need, m) }

// mostNeed is the most that the credits must reach for a weight.
func (s *sheet) mostNeed(m load.Mass) load.Mass {
	_, most := s.needs(m)
	return most
}

// goodUpTo is the heaviest weight that a credit covers.
func (s *sheet) goodUpTo(credit load.Mass) load.Mass {
	if s.own.rule == ruleLogs && s.art.Cargo.Lies == load.Along && s.lim.Need == tables.Federal().Need {
		return times(credit, s.lim.Cargo.LogsShare)
	}
	p := load.Mass(s.lim.Need)
	return plus(times(credit/p, 100), credit%p*100/p)
}

// overLine says whether a weight is surely one of the heavy section: 10,000 lb
// or more (393.130(a)), where told in metric units 4,536 kg or more. A car, light
// truck or van of exactly that may still be held as a light one (393.128(a)), and
// what is not known may be one.
func (s *sheet) overLine(m load.Mass) bool {
	line := s.line()
	return m > line || m == line && !s.lim.HeavyOver && s.class != tables.ClassVehicle && s.kind.Class != tables.ClassUnknown
}

// underLine says whether a weight is surely not one of the heavy section.
func (s *sheet) underLine(m load.Mass) bool {
	line := s.line()
	return m < line || m == line && (s.lim.HeavyOver || s.class == tables.ClassVehicle)
}

// line is the heavy line in the unit the weight was told in.
func (s *sheet) line() load.Mass {
	if s.art.Weight.Metric {
		return s.lim.HeavyMetric
	}
	return s.lim.Heavy
}

// sum adds up the credits of what counts, and the most of what may.
func (s *sheet) sum() {
	s.credit, s.weaker, s.most = 0, 0, 0
	for i := range s.groups {
		g := &s.groups[i]
		if g.cond.fate > maybe {
			continue
		}
		s.most = plus(s.most, times(g.in.Most, g.n))
		if g.tie.Plural {
			s.most = Unbounded
		}
		if g.cond.fate == maybe {
			if !g.cond.fix {
				g.used |= g.any & codeSound // loose, it would have to be mended
			}
			continue
		}
		s.credit = plus(s.credit, times(g.in.Low, g.n))
		s.weaker = plus(s.weaker, times(g.in.Weaker, g.n))
		g.used |= g.any
		if g.in.WLL > 0 {
			g.used |= g.in.rests
		}
	}
	for i := range s.art.Parts {
		if s.undescribed(&s.art.Parts[i]) {
			s.most = plus(s.most, s.lim.BestChain)
		}
	}
}

// undescribed says whether a part is told tied by something no tie-down tells
// of ("blade chained").
func (s *sheet) undescribed(p *load.Part) bool {
	if p.Tied != load.Yes || p.Off {
		return false
	}
	for i := range s.groups {
		if s.groups[i].tie.Place.On == p.Name {
			return false
		}
	}
	return true
}

// find adds a finding, with its rule's citation where it names no other.
func (s *sheet) find(f Finding) {
	if f.Cite == "" {
		f.Cite = s.lim.Citation(f.Rule)
	}
	s.findings = append(s.findings, f)
}

// verdict is the verdict on the findings and on what is set aside.
func (s *sheet) verdict() Verdict {
	v := VerdictCovered
	for i := range s.groups {
		if s.groups[i].cond.fix && s.groups[i].n > 0 {
			v = VerdictFix
		}
	}
	for i := range s.findings {
		switch s.findings[i].Outcome {
		case Short:
			return VerdictShort
		case Untold:
			v = VerdictUnsettled
		}
	}
	return v
}

// lines lists what counts and what is set aside, equal pieces together.
func (s *sheet) lines() (lines []Line, aside []Aside) {
	lines = make([]Line, 0, len(s.groups))
	for i := range s.groups {
		g := &s.groups[i]
		if g.cond.fate == counts {
			lines = append(lines, g.line())
		}
		if g.cond.why != "" {
			aside = append(aside, Aside{
				Line: g.line(), Why: g.cond.why, Fix: g.cond.fix, Counts: g.cond.fate == counts,
				Settle: g.cond.settle, Cite: s.lim.Citation(g.cond.duty),
			})
		}
	}
	return lines, aside
}

// line is a group in print.
func (g *group) line() Line {
	l := Line{Count: g.n, IDs: g.ids, Tie: *g.tie, WLL: g.in.WLL, LimitedBy: g.in.LimitedBy}
	if g.cond.fate == counts {
		l.Credit = times(g.in.Low, g.n)
		l.Usable = l.Credit > 0
	}
	if l.WLL == 0 {
		l.LimitedBy = ""
	}
	return l
}
