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
	for i := range c.Mends {
		m := &c.Mends[i]
		switch {
		case m.Alone:
			return
		case m.Do == rules.DoTighten, m.Do == rules.DoBinder:
		case m.Do != "":
			dos = append(dos, p.mend(c, m, ""))
		case m.Or && len(puts) > 0:
			puts[len(puts)-1] += d.Or + p.mend(c, m, p.brief(m.Tie, m.Count))
		default:
			kind := p.brief(m.Tie, m.Count)
			if len(puts) > 0 && sameKind(&c.Mends[i-1].Tie, &m.Tie) {
				kind = ""
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

// direct says how many direct ones would do in place of those over that close
// the gap of the weight, where that is all there is to mend.
func (p *page) direct(c *rules.Count, m *rules.Mend) string {
	if !slices.Equal(m.Closes, []string{"aggregate"}) || m.Tie.Route != load.Over || m.Tie.Place != (load.Place{}) {
		return ""
	}
	for i := range c.Mends {
		if other := &c.Mends[i]; other != m && !other.Or {
			return ""
		}
	}
	t := m.Tie
	t.Route = load.Direct
	each := rules.Credit(&t, tables.Federal()).Low
	if each == 0 {
		return ""
	}
	n := int(ceil(c.NeedHigh-c.Credit, each))
	if n == m.Count {
		return p.w.Do.Direct
	}
	return filled(p.w.Do.Twice, "n", strconv.Itoa(n))
}

// mend is one step to mend a short article: "one more 3/8 g70 chain over". The
// data names its kind in full, the reply in brief.
func (p *page) mend(c *rules.Count, m *rules.Mend, kind string) string {
	d := &p.w.Do
	if m.Do != "" {
		return filled(d.Instead[m.Do], "part", p.w.part(m.Part, c.Article.Parts), "which", p.pieces(c, m.IDs))
	}
	var s strings.Builder
	s.WriteString(p.number(m.Count))
	at := m.Tie.Place
	if at == (load.Place{}) && inUse(c, &m.Tie) {
		s.WriteString(d.More)
	}
	if kind != "" {
		s.WriteString(" " + kind)
	}
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
		s.WriteString(filled(d.Binder, "least", p.up(m.Binder)))
	}
	return s.String()
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

// aside tells of tie-downs set aside and what to do about them.
func (p *page) aside(c *rules.Count, a *rules.Aside) {
	w := &p.w.Aside
	which, why := p.which(c, &a.Line), p.why(a)
	phrase := w.Out
	if a.Counts {
		phrase = w.Counts
	}
	p.say(phrase, "which", which, "why", why)
	if !a.Fix {
		return
	}
	it := w.It
	if a.Count > 1 {
		it = w.Each
	}
	p.say(w.Mend[mendKey(a)], "it", it, "noun", p.w.noun(a.Tie.Material, 1), "tensioner", p.w.Name.Tensioner[a.Tie.Material])
	if a.Tie.Material == load.Webbing && slices.ContainsFunc(a.Tie.State.Damage, measurable) {
		p.limits(&a.Tie)
		p.say(w.LookAlong)
	}
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
	var sizes []string
	var sum load.Length
	for _, d := range a.Tie.State.Damage {
		for _, size := range d.Size {
			sizes = append(sizes, inches(size))
			sum += size
		}
		if d.Left > 0 {
			s += filled(p.w.Aside.Left, "left", decimal(d.Left))
		}
	}
	switch {
	case a.Settle != "" && len(a.Tie.State.Damage) > 0:
		s += p.w.Aside.NotMeasured
	case len(sizes) == 1:
		s += " " + sizes[0] + p.w.Name.Inch
	case len(sizes) > 1:
		s += filled(p.w.Aside.Total, "sum", strings.Join(sizes, " + "), "total", inches(sum))
	}
	return s
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
