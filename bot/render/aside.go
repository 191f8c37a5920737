package render

import (
	"slices"
	"strings"

	"halfweight/rules"
	"halfweight/rules/load"
)

// asides tells of what is set aside and what to do about it, those together of
// which the same is said.
func (p *page) asides(c *rules.Count) {
	said := make([]bool, len(c.SetAside))
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
	if !strings.HasPrefix(key, "damage") {
		return
	}
	p.limits(&a.Tie)
	if a.Tie.Material == load.Webbing && slices.ContainsFunc(a.Tie.State.Damage, measurable) {
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
	}
}

// whichOf names tie-downs set aside together: "the front left and rear right
// chains".
func (p *page) whichOf(c *rules.Count, like []*rules.Aside) string {
	var places, names []string
	for i, a := range like {
		at := a.Tie.Place
		if a.Count == 1 && a.Tie.Tag == "" && at.On == "" && at.End != "" && at.Side != "" {
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
	case a.Why == "loose", a.Why == "no binder", a.Why == "no edge guard", a.Why == "strap on it":
		return a.Why
	case a.Counts:
		return "damage counts"
	}
	return "damage"
}

// why is the reason with the measure told: "cut 1/4 + 1/4 = 1/2 in".
func (p *page) why(a *rules.Aside) string {
	s := word(p.w.Aside.Why, a.Why)
	if hurt, at, ok := strings.Cut(s, " "); ok {
		if part, known := p.w.Name.Limits[at]; known {
			s = hurt + " " + part // "cracked ring"
		}
	}
	if key := mendKey(a); key != "damage" && key != "damage counts" {
		return s
	}
	if a.Settle != "" && a.Settle != "damage" && !slices.ContainsFunc(a.Tie.State.Damage, func(d load.Damage) bool { return d.Measured() }) && len(a.Tie.State.Damage) > 0 {
		return s + p.w.Aside.NotMeasured
	}
	return s + p.told(a)
}

// measured is a hurt with the measure told; "" where none was.
func (p *page) measured(a *rules.Aside) string {
	if len(a.Tie.State.Damage) == 0 || !a.Tie.State.Damage[0].Measured() {
		return ""
	}
	d := &a.Tie.State.Damage[0]
	return p.hurtName(d, true) + p.measuresOf(&a.Tie, hurtKey(d)) + p.cuts(&a.Tie)
}

// told is the measure told of what set a tie-down aside: " 1/4 + 1/4 = 1/2 in",
// ", 0.310 in left".
func (p *page) told(a *rules.Aside) string {
	for i := range a.Tie.State.Damage {
		if key := hurtKey(&a.Tie.State.Damage[i]); strings.ReplaceAll(key, "/", " ") == a.Why {
			return p.measuresOf(&a.Tie, key) + p.cuts(&a.Tie)
		}
	}
	return ""
}

// cuts are the cuts of a strap and their sum: " 1/4 + 1/4 = 1/2 in".
func (p *page) cuts(t *load.TieDown) string {
	var sizes []string
	for _, d := range t.State.Damage {
		for _, size := range d.Size {
			sizes = append(sizes, p.length(size))
		}
	}
	switch inch := p.w.Name.Inch; len(sizes) {
	case 0:
		return ""
	case 1:
		return " " + sizes[0]
	default:
		for i := range sizes {
			sizes[i] = strings.TrimSuffix(sizes[i], inch)
		}
		return filled(p.w.Aside.Total, "sum", strings.Join(sizes, " + "), "total", strings.TrimSuffix(p.length(cutOf(t)), inch))
	}
}

// which names tie-downs in a sentence: "the front left chain", "one 3/8 g70
// chain".
func (p *page) which(c *rules.Count, l *rules.Line) string {
	n, noun := &p.w.Name, p.w.noun(l.Tie.Material, l.Count)
	at := l.Tie.Place
	count := p.number(l.Count)
	switch {
	case l.Tie.Tag != "" && l.Count == 1:
		return strings.Trim(plain(l.Tie.Tag, long)+", "+p.w.place(at, c.Article.Parts), ", ")
	case at.On != "":
		return filled(n.OnPart, "n", count, "noun", noun, "part", p.w.part(at.On, c.Article.Parts))
	case at.End != "" && at.Side != "" && l.Count == 1:
		return filled(n.At, "noun", noun, "place", p.w.place(at, nil))
	case at.End != "" || at.Side != "":
		return filled(n.AtPlace, "n", count, "noun", noun, "place", p.w.place(at, nil))
	}
	return filled(n.Plain, "n", count, "noun", noun, "kind", p.after(l.Tie))
}
