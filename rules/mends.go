package rules

import (
	"slices"

	"halfweight/rules/load"
	"halfweight/rules/tables"
)

// What a mend can be that is not a tie-down (Mend.Do).
const (
	DoTighten = "tighten"
	DoBinder  = "put a binder on"
	DoLower   = "lower it"
	DoLock    = "lock the joint"
)

// again is s with its tie-downs changed, judged anew.
func (s *sheet) again(set Set, groups []group) *sheet {
	return s.anew(new(sheet), set, groups)
}

// anew is again on t, a sheet that is done with.
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

// mending is a short article while it is being mended on paper.
type mending struct {
	set   Set
	now   *sheet
	kind  load.TieDown // what to put on
	list  []Mend
	start []string // the rules short before anything was done
}

// mends lists what would mend a short article: tightening what is loose, where
// that alone does it; then, step by step, what closes the gaps together: a
// binder on each that has none, one over each part or joint that must be tied
// (it counts toward the weight as well), those the ends lack, and what the
// weight still lacks after that.
func (s *sheet) mends(set Set) []Mend {
	m := mending{set: set, now: s, kind: s.inUse(), start: s.shorts()}
	m.tighten()
	m.binders()
	m.parts()
	m.ends()
	m.number()
	m.section()
	m.weight()
	return m.list
}

// settles offers, for an article not settled, one over a part not told to be
// tied, where that settles the weight as well: "a chain over the bucket fixes
// both".
func (s *sheet) settles(set Set) []Mend {
	t := s.inUse()
	if t.Material == "" {
		return nil
	}
	open := s.keys(Untold)
	for i := range s.findings {
		f := &s.findings[i]
		if f.Rule != "accessory" || f.Part == "" || f.Outcome != Untold {
			continue
		}
		t.Route, t.Place.On = load.Over, f.Part
		left := s.again(set, append(slices.Clone(s.groups), s.group(&t, 1))).keys(Untold)
		mend := Mend{Count: 1, Tie: t}
		for _, key := range open {
			if !slices.Contains(left, key) {
				mend.Closes = append(mend.Closes, key)
			}
		}
		if len(mend.Closes) > 1 {
			return []Mend{mend}
		}
	}
	return nil
}

// shorts lists the rules that are short, an accessory's with its word.
func (s *sheet) shorts() []string { return s.keys(Short) }

// keys lists the rules that end so, an accessory's with its word.
func (s *sheet) keys(o Outcome) []string {
	var list []string
	for i := range s.findings {
		f := &s.findings[i]
		if f.Outcome != o {
			continue
		}
		key := f.Rule
		if f.Subject != "" {
			key += ":" + f.Subject
		}
		list = append(list, key)
	}
	return list
}

// inUse is the kind of tie-down in use, as it would be put on anew: the one most
// used of those rated, the strongest of equals.
func (s *sheet) inUse() load.TieDown {
	var best *group
	for i := range s.groups {
		g := &s.groups[i]
		switch {
		case g.in.WLL == 0, s.barred(g.tie).fate == out:
		case best == nil,
			best.cond.fate != counts && g.cond.fate == counts,
			best.cond.fate == g.cond.fate && (g.n > best.n || g.n == best.n && g.in.WLL > best.in.WLL):
			best = g
		}
	}
	if best == nil {
		if len(s.groups) > 0 && s.barred(s.groups[0].tie).fate == out {
			return s.allowed()
		}
		return load.TieDown{}
	}
	t := best.tie
	return load.TieDown{
		Material: t.Material, Size: t.Size, SizeWord: t.SizeWord, Thick: t.Thick, Make: t.Make,
		Grade: t.Grade, Mark: t.Marked(), Hook: t.Hook, Anchor: t.Anchor,
		Tensioner: load.Tensioner{Has: load.Yes, Kind: t.Tensioner.Kind, Rating: t.Tensioner.Rating, Label: t.Tensioner.Label},
		State:     load.State{Tight: load.Yes, Sound: load.Yes},
	}
}

// allowed is a chain that no house rule bars: the size used most, of grade 70 or
// of the least grade asked for.
func (s *sheet) allowed() load.TieDown {
	for _, grade := range [...]string{"70", "80", "100"} {
		t := load.TieDown{Material: load.Chain, Size: usualSize, SizeWord: "3/8", Grade: load.Grade{Value: grade, Reading: load.Read},
			Tensioner: load.Tensioner{Has: load.Yes}, State: load.State{Tight: load.Yes, Sound: load.Yes}}
		if s.barred(&t).fate == counts {
			return t
		}
	}
	return load.TieDown{}
}

// usualSize is the chain most used on machines (common practice, no source).
const usualSize = load.Inch * 3 / 8

// step adds a mend and judges the article with it.
func (m *mending) step(mend Mend, groups []group) {
	before := m.now.shorts()
	m.now = m.now.again(m.set, groups)
	after := m.now.shorts()
	for _, key := range before {
		if !slices.Contains(after, key) {
			mend.Closes = append(mend.Closes, key)
		}
	}
	m.list = append(m.list, mend)
}

// put adds n tie-downs.
func (m *mending) put(n int, t load.TieDown) {
	m.step(Mend{Count: n, Tie: t}, append(slices.Clone(m.now.groups), m.now.group(&t, n)))
}

// tighten offers to tighten what is loose, where that alone does it. What
// follows is then to be done instead.
func (m *mending) tighten() {
	groups := slices.Clone(m.now.groups)
	var ids []int
	for i := range groups {
		if groups[i].cond.fate != out || groups[i].cond.why != whyLoose {
			continue
		}
		t := *groups[i].tie
		t.State.Tight = load.Yes
		ids = append(ids, groups[i].ids...)
		again := m.now.group(&t, groups[i].n)
		again.ids = groups[i].ids
		groups[i] = again
	}
	if ids == nil || m.now.again(m.set, groups).verdict() == VerdictShort {
		return
	}
	m.list = append(m.list, Mend{Do: DoTighten, IDs: ids, Closes: m.start, Alone: true})
}

// binders puts a tensioner on each tie-down told to have none.
func (m *mending) binders() {
	groups := slices.Clone(m.now.groups)
	var ids []int
	for i := range groups {
		if groups[i].cond.why != whyNoBinder {
			continue
		}
		t := *groups[i].tie
		t.Tensioner.Has = load.Yes
		ids = append(ids, groups[i].ids...)
		again := m.now.group(&t, groups[i].n)
		again.ids = groups[i].ids
		groups[i] = again
	}
	if ids != nil {
		m.step(Mend{Do: DoBinder, IDs: ids}, groups)
	}
}

// parts puts one over each part that is short, and over the joint where the
// weight is short too; a joint alone is locked.
func (m *mending) parts() {
	for _, f := range m.now.findings {
		if f.Outcome != Short || f.Rule != "accessory" && f.Rule != "articulation" {
			continue
		}
		if m.now.outcome(f.Rule, f.Part) != Short {
			continue // closed with another part
		}
		t := m.kind
		t.Route, t.Place.On = load.Over, f.Part
		switch {
		case f.Rule == "articulation" && m.now.outcome("aggregate", "") != Short:
			m.list = append(m.list, Mend{Do: DoLock, Closes: []string{f.Rule}})
			continue
		case f.Rule == "articulation":
			t.Place.On = joint
		case f.Reason == reasonUp:
			m.lower(f.Part)
			if m.now.outcome(f.Rule, f.Part) == Met {
				continue // tied already
			}
		}
		m.put(1, t)
	}
}

// lower lowers a part told up, and leaves how it is held to the tie-down that
// goes over it.
func (m *mending) lower(part string) {
	art := *m.now.art
	art.Parts = slices.Clone(art.Parts)
	for i := range art.Parts {
		if p := &art.Parts[i]; p.Name == part {
			p.Down, p.Hydraulics = load.Yes, false
		}
	}
	m.now.art = &art
	m.step(Mend{Do: DoLower, Part: part}, slices.Clone(m.now.groups))
}

// outcome is how a rule ends, of an accessory where part is one.
func (s *sheet) outcome(rule, part string) Outcome {
	for i := range s.findings {
		if f := &s.findings[i]; f.Rule == rule && f.Part == part {
			return f.Outcome
		}
	}
	return Met
}

// ends puts direct ones where corners or ends lack them: first where one that is
// set aside was told to hold, then at the end that has fewest.
func (m *mending) ends() {
	for _, rule := range [...]string{"corners", "ends"} {
		a := &m.now.scope.corners
		if rule == "ends" {
			a = &m.now.scope.ends
		}
		if m.now.outcome(rule, "") != Short {
			continue
		}
		lacks := a.want - a.have
		for i := range m.now.groups {
			g := &m.now.groups[i]
			p := g.tie.Place
			if g.cond.fate <= maybe || !g.itself() || p.End != front && p.End != rear {
				continue
			}
			n := min(g.n, lacks)
			m.putAt(n, load.Place{End: p.End, Side: p.Side})
			lacks -= n
		}
		f, r := m.now.places.filled()
		addF, addR := 0, 0
		for f+addF+r+addR < a.want || f+addF < m.now.lim.EachEnd || r+addR < m.now.lim.EachEnd {
			if f+addF <= r+addR {
				addF++
			} else {
				addR++
			}
		}
		m.putAt(addF, load.Place{End: front})
		m.putAt(addR, load.Place{End: rear})
	}
}

// putAt adds n direct ones at a place; none where n is not more than 0.
func (m *mending) putAt(n int, p load.Place) {
	if n <= 0 {
		return
	}
	t := m.kind
	t.Route, t.Place = load.Direct, p
	m.put(n, t)
}

// number puts over what an article not on wheels or tracks lacks by number.
func (m *mending) number() {
	a := &m.now.scope.number
	if m.now.outcome("number", "") != Short {
		return
	}
	fewest, _ := m.now.wanted()
	lacks := max(fewest, a.want) - a.have
	if lacks <= 0 {
		return // put on already for another rule
	}
	t := m.kind
	t.Route = load.Over
	m.put(lacks, t)
}

// section puts on what an article lacks by the count of its own section, over, at
// the rear of a roll-off container, at the corners of any other.
func (m *mending) section() {
	rule := m.now.own.rule
	if rule == "" || m.now.outcome(rule, "") != Short {
		return
	}
	a := &m.now.own.count
	lacks := a.want - a.have
	if lacks <= 0 || a.reason == reasonTooWeak {
		return // more of them would not do
	}
	if (m.kind.Material == "" || m.now.barred(&m.kind).fate != counts) && (rule == ruleBoulder || rule == ruleFlattened || rule == ruleContainer) {
		m.kind = m.now.allowed() // no strap will do
	}
	switch rule {
	case ruleRollOff:
		m.putAt(lacks, load.Place{End: rear})
	case ruleContainer:
		t := m.kind
		t.Route, t.Place.Spread = load.Direct, spreadCorners
		m.put(lacks, t)
	default:
		t := m.kind
		t.Route = load.Over
		m.put(lacks, t)
	}
}

// weight puts over what the weight still lacks, and offers fewer of the next
// larger chain instead, with the binder it takes.
func (m *mending) weight() {
	if m.now.outcome("aggregate", "") != Short || m.now.needHigh == 0 {
		return
	}
	t := m.kind
	t.Route = load.Over
	lacks := m.now.needHigh - m.now.credit
	n := pieces(lacks, Credit(&t, m.now.lim).Low)
	if n == 0 {
		return
	}
	before := m.now
	m.put(n, t)
	up, ok := nextUp(t)
	if k := pieces(lacks, Credit(&up, m.now.lim).Low); ok && k > 0 && k < n {
		after := m.now
		m.now = before
		m.put(k, up)
		m.now = after
		last := &m.list[len(m.list)-1]
		last.Binder, last.Or = up.Tensioner.Rating, true
	}
}

// nextUp is the next larger chain of the same grade, with a binder that is not
// weaker than it.
func nextUp(t load.TieDown) (load.TieDown, bool) {
	if t.Material != load.Chain || t.Grade.Reading != load.Read || t.Marked() > 0 {
		return t, false
	}
	size, f, ok := tables.NextChain(t.Size, t.Grade.Value)
	t.Size, t.SizeWord = size, ""
	t.Tensioner = load.Tensioner{Has: load.Yes, Rating: f.WLL}
	return t, ok
}

// pieces is how many of a credit close a gap; 0 where none can, or none is needed.
func pieces(gap, credit load.Mass) int {
	if credit == 0 || gap <= 0 {
		return 0
	}
	return int((gap + credit - 1) / credit)
}
