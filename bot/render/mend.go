package render

import (
	"slices"
	"strconv"
	"strings"

	"halfweight/rules"
	"halfweight/rules/load"
	"halfweight/rules/tables"
)

// mends says what would mend a short article: what to put on, all of it in one
// sentence, then what else to do. Tightening and binders are said with what is
// set aside; where that alone does it, nothing else is.
func (p *page) mends(c *rules.Count) {
	d := &p.w.Do
	var puts, dos []string
	where, ends := p.lacking(c)
	for i := range c.Mends {
		m := &c.Mends[i]
		switch {
		case m.Alone:
			return
		case m.Do == rules.DoTighten, m.Do == rules.DoBinder:
		case m.Do != "":
			dos = append(dos, p.mend(c, m, ""))
		case atEnd(m) && where != "":
			if ends > 0 {
				puts = append(puts, p.many(ends, p.brief(m.Tie, ends), false)+d.Ways[m.Tie.Route]+where)
				ends = 0 // said with the first
			}
		case m.Or && len(puts) > 0:
			puts[len(puts)-1] += d.Or + p.mend(c, m, p.brief(m.Tie, m.Count))
		default:
			kind := p.brief(m.Tie, m.Count)
			if len(puts) > 0 && sameKind(&c.Mends[i-1].Tie, &m.Tie) {
				kind = ""
			}
			if ways := p.eitherWay(c, m); ways != "" {
				puts = append(puts, p.many(1, kind, inUse(c, &m.Tie))+ways)
				continue
			}
			puts = append(puts, p.mend(c, m, kind)+p.direct(c, m))
		}
	}
	for _, do := range dos {
		p.say(d.Do, "what", do)
	}
	if len(puts) > 0 {
		p.say(d.PutOn, "what", strings.Join(puts, d.And))
	}
}

// settles says what to put on that would settle what is open, whatever the
// answer.
func (p *page) settles(c *rules.Count) {
	if len(c.Mends) == 0 || c.Mends[0].Do != "" {
		return
	}
	m := &c.Mends[0]
	it := p.w.Do.It
	switch n := len(m.Closes); {
	case n == 2:
		it = p.w.Do.Both
	case n > 2:
		it = filled(p.w.Do.All, "n", strconv.Itoa(n))
	}
	p.say(p.w.Do.Settles, "what", p.mend(c, m, p.brief(m.Tie, m.Count)), "it", it)
}

// atEnd says whether a mend holds the article itself at one of its ends.
func atEnd(m *rules.Mend) bool {
	return m.Do == "" && m.Tie.Route == load.Direct && m.Tie.Place.End != ""
}

// lacking says where those go that corners or ends lack, and how many they are:
// in place of what is set aside, or where none is, the places of those in use
// not being told. It is "" where the ends that lack them are known.
func (p *page) lacking(c *rules.Count) (where string, n int) {
	d := &p.w.Do
	corners := false
	for i := range c.Mends {
		if m := &c.Mends[i]; atEnd(m) {
			n += m.Count
			corners = corners || slices.Contains(m.Closes, "corners")
		}
	}
	gone, told := 0, 0 // told: that another goes there is said with what is set aside
	for i := range c.SetAside {
		switch a := &c.SetAside[i]; {
		case a.Tie.Place.On != "" || a.Counts || mendKey(a) == "no binder":
		case a.Fix:
			told += a.Count
		default:
			gone += a.Count
		}
	}
	unplaced := slices.ContainsFunc(c.Lines, func(l rules.Line) bool {
		return l.Tie.Place == (load.Place{}) && l.Tie.Route == load.Direct
	})
	switch {
	case n == 0:
		return "", 0
	case n <= told:
		return d.InPlace, 0
	case n == told+1 && gone > 0:
		return d.InPlace, 1
	case n <= told+gone:
		return d.InPlaces, n - told
	case !unplaced:
		return "", 0
	case n > 1 && corners:
		return d.EachCorner, n
	case corners:
		return d.Corner, n
	case n == 1:
		return d.OtherEnd, n
	}
	return "", 0
}

// eitherWay says what one gives over and direct, where one more does it either
// way.
func (p *page) eitherWay(c *rules.Count, m *rules.Mend) string {
	over, direct := each(m, load.Over), each(m, load.Direct)
	if !weightAlone(c, m) || m.Count > 1 || c.NeedHigh-c.Credit > direct {
		return ""
	}
	return filled(p.w.Do.EitherWay, "over", p.down(over), "direct", p.down(direct))
}

// direct says how many direct ones would do in place of those over that close
// the gap of the weight, where that is all there is to mend.
func (p *page) direct(c *rules.Count, m *rules.Mend) string {
	direct := each(m, load.Direct)
	if !weightAlone(c, m) || direct == 0 {
		return ""
	}
	return filled(p.w.Do.Twice, "n", strconv.FormatInt(ceil(c.NeedHigh-c.Credit, direct), 10))
}

// weightAlone says whether a mend puts on what the weight lacks, and nothing
// else is to be mended.
func weightAlone(c *rules.Count, m *rules.Mend) bool {
	if !slices.Equal(m.Closes, []string{"aggregate"}) || m.Tie.Route != load.Over || m.Tie.Place != (load.Place{}) {
		return false
	}
	return !slices.ContainsFunc(c.Mends, func(other rules.Mend) bool { return !other.Or && !sameMend(&other, m) })
}

func sameMend(a, b *rules.Mend) bool {
	return a.Do == b.Do && a.Count == b.Count && a.Tie.Route == b.Tie.Route && a.Tie.Place == b.Tie.Place
}

// each is what one of what a mend puts on counts for, run that way.
func each(m *rules.Mend, way load.Route) load.Mass {
	t := m.Tie
	t.Route = way
	return rules.Credit(&t, tables.Federal()).Low
}

// mend is one step to mend a short article: "one more 3/8 g70 chain over". The
// data names its kind in full, the reply in brief.
func (p *page) mend(c *rules.Count, m *rules.Mend, kind string) string {
	d := &p.w.Do
	if m.Do != "" {
		return filled(d.Instead[m.Do], "part", p.w.part(m.Part, c.Article.Parts), "which", p.pieces(c, m.IDs))
	}
	var s strings.Builder
	at := m.Tie.Place
	s.WriteString(p.many(m.Count, kind, at == (load.Place{}) && inUse(c, &m.Tie)))
	part := p.w.part(at.On, c.Article.Parts)
	switch {
	case at.On == "joint":
		s.WriteString(d.Across)
	case at.On != "" && m.Tie.Route == load.Over:
		s.WriteString(filled(d.Over, "part", part))
	case at.On != "":
		s.WriteString(filled(d.OnPart, "part", part))
	default:
		s.WriteString(d.Ways[m.Tie.Route])
		if place := p.w.place(at, nil); place != "" {
			s.WriteString(filled(d.At, "place", place))
		}
	}
	if m.Binder > 0 {
		s.WriteString(filled(d.Binder, "least", p.stampUp(m.Binder)))
	}
	return s.String()
}

// many is so many of a kind: "one more 3/8 g70 chain", "2".
func (p *page) many(n int, kind string, more bool) string {
	s := p.number(n)
	if more {
		s += p.w.Do.More
	}
	if kind != "" {
		s += " " + kind
	}
	return s
}

// number is a count of things: one in a word, more in figures.
func (p *page) number(n int) string {
	if n == 1 {
		return p.w.Do.One
	}
	return strconv.Itoa(n)
}

// inUse says whether a kind is among those that hold the article.
func inUse(c *rules.Count, t *load.TieDown) bool {
	for i := range c.Lines {
		if sameKind(&c.Lines[i].Tie, t) {
			return true
		}
	}
	return false
}

// pieces names the tie-downs set aside that have some of the ids.
func (p *page) pieces(c *rules.Count, ids []int) string {
	var which []string
	for i := range c.SetAside {
		if l := &c.SetAside[i].Line; about(l, ids) {
			which = append(which, p.which(c, l))
		}
	}
	return p.w.list(which)
}

// asides tells of what is set aside and what to do about it, those together of
// which the same is said.
func (p *page) asides(c *rules.Count) {
	var room [8]bool
	said := room[:0]
	for range c.SetAside {
		said = append(said, false)
	}
	for i := range c.SetAside {
		if said[i] {
			continue
		}
		a := &c.SetAside[i]
		why, like := p.why(a), []*rules.Aside{a}
		for j := i + 1; j < len(c.SetAside); j++ {
			if b := &c.SetAside[j]; b.Fix == a.Fix && b.Counts == a.Counts && (!a.Fix || sameKind(&b.Tie, &a.Tie)) && p.why(b) == why {
				like, said[j] = append(like, b), true
			}
		}
		p.aside(c, like, why)
	}
}

// aside tells of tie-downs set aside for the same reason.
func (p *page) aside(c *rules.Count, like []*rules.Aside, why string) {
	w, a := &p.w.Aside, like[0]
	phrase := w.Out
	if a.Counts {
		phrase = w.Counts
	}
	p.say(phrase, "which", p.whichOf(c, like), "why", why)
	if !a.Fix {
		return
	}
	it := w.It
	if len(like) > 1 || a.Count > 1 {
		it = w.Each
	}
	key := mendKey(a)
	if key == "damage" && c.Verdict == rules.VerdictShort {
		key = "damage short"
	}
	p.say(w.Mend[key], "it", it, "noun", p.w.noun(a.Tie.Material, 1), "tensioner", p.w.Name.Tensioner[a.Tie.Material])
	if strings.HasPrefix(key, "damage") && a.Tie.Material == load.Webbing && slices.ContainsFunc(a.Tie.State.Damage, measurable) {
		p.limits(&a.Tie)
		p.say(w.LookAlong)
	}
}

// hurts tells of tie-downs that count with a measured hurt, and past what they
// no longer do.
func (p *page) hurts(c *rules.Count) {
	for i := range c.Lines {
		l := &c.Lines[i]
		if slices.ContainsFunc(c.SetAside, func(a rules.Aside) bool { return about(&a.Line, l.IDs) }) {
			continue // told with what is to be mended
		}
		a := rules.Aside{Line: *l}
		why := p.measured(&a)
		if why == "" {
			continue
		}
		p.say(p.w.Aside.Counts, "which", p.which(c, l), "why", why)
		p.limits(&l.Tie)
		p.linkLimit(&l.Tie)
	}
}

// linkLimit says below what a worn link is out.
func (p *page) linkLimit(t *load.TieDown) {
	if stock, _, _, ok := tables.WornBelow(t.Size, t.Grade.Value); ok && t.Material == load.Chain {
		p.say(p.w.Wear.LinkLimit, "limit", decimal(stock))
	}
}

// whichOf names tie-downs set aside together: "the front left and rear right
// chains".
func (p *page) whichOf(c *rules.Count, like []*rules.Aside) string {
	var places, names []string
	for i, a := range like {
		at := a.Tie.Place
		if a.Count == 1 && at.On == "" && at.End != "" && at.Side != "" {
			places = addNew(places, p.w.place(at, nil))
		}
		l, told := a.Line, false
		for j, b := range like {
			if j != i && b.Tie.Place == at && sameKind(&b.Tie, &a.Tie) {
				l.Count += b.Count
				told = told || j < i
			}
		}
		if !told {
			names = append(names, p.which(c, &l))
		}
	}
	if len(places) == len(like) {
		return filled(p.w.Name.At, "noun", p.w.noun(like[0].Tie.Material, len(like)), "place", p.w.list(places))
	}
	return p.w.list(names)
}

// measurable says whether a hurt of a strap is one the limits speak of.
func measurable(d load.Damage) bool {
	switch d.Kind {
	case "cut", "nicked", "burned", "hole":
		return true
	}
	return len(d.Size) > 0
}

// mendKey is what kind of mend a tie-down set aside wants.
func mendKey(a *rules.Aside) string {
	switch {
	case a.Why == "loose", a.Why == "no binder", a.Why == "no edge guard":
		return a.Why
	case a.Counts:
		return "damage counts"
	}
	return "damage"
}

// why is the reason with the measure told: "cut 1/4 + 1/4 = 1/2 in".
func (p *page) why(a *rules.Aside) string {
	s := word(p.w.Aside.Why, a.Why)
	if key := mendKey(a); key != "damage" && key != "damage counts" {
		return s
	}
	if a.Settle != "" && len(a.Tie.State.Damage) > 0 {
		return s + p.w.Aside.NotMeasured
	}
	return s + p.told(a)
}

// measured is a hurt with the measure told; "" where none was.
func (p *page) measured(a *rules.Aside) string {
	size := p.told(a)
	if size == "" {
		return ""
	}
	return word(p.w.Aside.Why, a.Tie.State.Damage[0].Kind) + size
}

// told is the measure told of a tie-down's hurts: " 1/4 + 1/4 = 1/2 in",
// ", 0.310 in left".
func (p *page) told(a *rules.Aside) string {
	var sizes []string
	var sum load.Length
	left := ""
	for _, d := range a.Tie.State.Damage {
		for _, size := range d.Size {
			sizes = append(sizes, inches(size))
			sum += size
		}
		if d.Left > 0 {
			left = filled(p.w.Aside.Left, "left", decimal(d.Left))
		}
	}
	switch {
	case len(sizes) == 1:
		left += " " + sizes[0] + p.w.Name.Inch
	case len(sizes) > 1:
		left += filled(p.w.Aside.Total, "sum", strings.Join(sizes, " + "), "total", inches(sum))
	}
	return left
}

// which names tie-downs in a sentence: "the front left chain", "one 3/8 g70
// chain".
func (p *page) which(c *rules.Count, l *rules.Line) string {
	n, noun := &p.w.Name, p.w.noun(l.Tie.Material, l.Count)
	at := l.Tie.Place
	count := p.number(l.Count)
	switch {
	case at.On != "":
		return filled(n.OnPart, "n", count, "noun", noun, "part", p.w.part(at.On, c.Article.Parts))
	case at.End != "" && at.Side != "" && l.Count == 1:
		return filled(n.At, "noun", noun, "place", p.w.place(at, nil))
	case at.End != "" || at.Side != "":
		return filled(n.AtPlace, "n", count, "noun", noun, "place", p.w.place(at, nil))
	}
	return filled(n.Plain, "n", count, "noun", noun, "kind", p.after(l.Tie))
}
