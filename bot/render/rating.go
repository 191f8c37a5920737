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

// plainRating says whether a rating was asked of one kind alone, with no route
// told: "3/8 g70?".
func plainRating(c *rules.Count) bool {
	return len(c.Lines) == 1 && c.Lines[0].Count == 1 && c.Lines[0].Tie.Route == "" || len(c.Lines) == 0
}

// rating answers what a kind is rated, or what a set of tie-downs is good for.
func (p *page) rating(c *rules.Count) {
	p.asides(c)
	if !plainRating(c) {
		p.say(p.w.Count.NoWeight, "has", p.down(c.Credit), "list", p.tally(c), "good", p.down(c.GoodUpTo), "unit", p.word)
		if _, weak := p.binderFigures(c.Lines); len(weak) > 0 && c.Weaker < c.Credit {
			good := c.Weaker / load.Mass(p.lim.Need) * 100
			p.say(p.w.Rating.Weaker, "has", p.down(c.Weaker), "weak", p.w.list(weak), "good", p.down(good))
		}
		p.weakest(c)
		p.say(p.w.Rating.Besides)
		return
	}
	for i := range c.Lines {
		l := &c.Lines[i]
		if !p.rated(&l.Tie, ownRating(l)) {
			continue
		}
		p.weakest(c)
		p.say(p.w.Rating.Ways, "half", p.down(l.WLL/2), "whole", p.down(l.WLL))
		p.say(p.w.Rating.Stamps, "stamps", p.w.either(p.stamps(nil, &l.Tie)))
	}
}

// ownRating is that of the material of a line's tie-downs: their rating is less
// where another part limits it.
func ownRating(l *rules.Line) load.Mass {
	if l.WLL == 0 {
		return 0
	}
	if m := l.Tie.Marked(); m > 0 {
		return max(m, l.WLL)
	}
	f, _ := figure(&l.Tie)
	return max(f.WLL, l.WLL)
}

// rated says what one is rated and by what: "3/8 in grade 70 chain: 6,600 lb by
// the federal table." It says whether there is a rating.
func (p *page) rated(t *load.TieDown, wll load.Mass) bool {
	w := &p.w.Rating
	switch {
	case wll > 0:
		p.say(w.By, "what", p.w.full(*t), "wll", p.down(wll), "unit", p.word, "source", p.source(t))
		return true
	case t.Size == 0:
		p.say(w.NoSize, "what", p.w.full(*t))
	default:
		p.say(w.NoRow, "what", p.w.full(*t))
	}
	return false
}

// source says where a rating comes from: "its mark", "the federal table, from
// memory".
func (p *page) source(t *load.TieDown) string {
	if t.Marked() > 0 {
		return p.w.Rating.ByMark
	}
	f, ok := figure(t)
	if ok && !f.WasRead() {
		return p.w.Rating.ByMemory
	}
	return p.w.Rating.ByTable
}

// figure is the table row of a tie-down's material.
func figure(t *load.TieDown) (tables.Figure, bool) {
	switch t.Material {
	case load.Chain:
		grade := t.Grade.Value
		switch t.Grade.Reading {
		case load.Read:
		case load.Alloy:
			grade = "80"
		default:
			grade = "30"
		}
		return tables.Chain(t.Size, grade)
	case load.Webbing:
		return tables.Webbing(t.Size)
	case load.WireRope:
		return tables.WireRope(t.Size, t.Make)
	case load.Cordage:
		return tables.Cordage(t.Size, t.Make)
	case load.SteelStrap:
		return tables.SteelStrap(t.Size, t.Thick)
	}
	return tables.Figure{}, false
}

// compare answers which of two kinds is rated higher.
func (p *page) compare(s talk.Compare) {
	w := &p.w.Rating
	a, b := rules.Credit(&s.A, p.lim).WLL, rules.Credit(&s.B, p.lim).WLL
	if a == 0 || b == 0 {
		p.rated(&s.A, a)
		p.rated(&s.B, b)
		return
	}
	more, less := s.A, s.B
	if b > a {
		more, less, a, b = s.B, s.A, b, a
	}
	phrase := w.Stronger
	if a == b {
		phrase = w.Alike
	}
	p.say(phrase, "more", p.brief(more, 1), "less", p.brief(less, 1), "wll", p.down(a), "other", p.down(b), "unit", p.word)
	p.crossed(&more, &less)
	p.say(w.SizeFirst)
}

// crossed warns of the one size in which grade 80 is rated below grade 70, where
// the two grades are compared in other sizes.
func (p *page) crossed(a, b *load.TieDown) {
	const size = load.Inch * 5 / 16
	if a.Material != load.Chain || b.Material != load.Chain || a.Size == size && b.Size == size {
		return
	}
	grades := []string{a.Grade.Value, b.Grade.Value}
	slices.Sort(grades)
	if !slices.Equal(grades, []string{"70", "80"}) {
		return
	}
	g70, ok70 := tables.Chain(size, "70")
	g80, ok80 := tables.Chain(size, "80")
	if ok70 && ok80 && g80.WLL < g70.WLL {
		p.say(p.w.Rating.Crossed, "g80", p.down(g80.WLL), "g70", p.down(g70.WLL))
	}
}

// howMany answers how many of a kind a weight takes; where the size is not told,
// how many of the kinds most used.
func (p *page) howMany(s talk.HowMany) {
	w, weight := &p.w.Rating, s.Weight
	needs := w.Needs
	switch {
	case weight.Low == weight.High:
	case weight.Ton:
		needs = w.NeedsTon
	default:
		needs = w.NeedsMost
	}
	p.say(needs, "weight", p.near(weight.Told), "low", p.up(tables.Of(p.lim.Need, weight.Low)), "most", p.near(weight.High), "need", p.up(s.Need), "unit", p.word)
	switch {
	case s.WLL > 0:
		if s.Have > 0 {
			p.have(s)
		}
		p.say(w.Takes, "what", p.brief(s.Tie, 1), "wll", p.down(s.WLL), "half", p.down(s.WLL/2), "direct", strconv.Itoa(s.Direct), "over", strconv.Itoa(s.Over))
		if s.WeakDirect > s.Direct || s.WeakOver > s.Over {
			if f, ok := tables.WeakerBinder(s.Tie.Size); ok {
				p.say(w.TakesWeak, "weak", p.stamp(f.WLL), "direct", strconv.Itoa(s.WeakDirect), "over", strconv.Itoa(s.WeakOver))
			}
		}
	case s.Tie.Size == 0 && s.Tie.Marked() == 0:
		kinds, what := usualChains, w.WhatSize
		if s.Tie.Material == load.Webbing {
			kinds, what = usualStraps, w.WhatWidth
		}
		for _, t := range kinds {
			p.say(p.w.Need.Usual, "kinds", strings.TrimSpace(p.brief(t, 2)), "takes", p.takes(s.Need, t, 0, load.Direct))
		}
		p.say(what, "weight", p.near(weight.Told))
	default:
		p.rated(&s.Tie, 0)
	}
	if section := tables.Cargo(s.Kind).Section; section != "" {
		if section == "boulder" && s.Tie.Material == load.Webbing {
			p.say(w.NoStraps)
		}
		p.say(w.BesidesOwn)
		return
	}
	switch heavy := p.lim.Heavy; {
	case weight.High < heavy:
		p.say(w.BesidesLight)
	case weight.Low >= heavy:
		p.say(w.BesidesHeavy)
	default:
		p.say(w.Besides)
	}
}

// have says whether the pieces asked about would do, direct and over.
func (p *page) have(s talk.HowMany) {
	w := &p.w.Rating
	phrase := w.HaveSome
	switch {
	case s.Have < s.Over:
		phrase = w.HaveFew
	case s.Have >= s.Direct && s.Have >= s.WeakDirect:
		phrase = w.HaveAll
	case s.Have >= s.Direct:
		phrase = w.HaveIf
	}
	p.say(phrase, "n", strconv.Itoa(s.Have), "half", p.down(s.WLL/2*load.Mass(s.Have)), "whole", p.down(s.WLL*load.Mass(s.Have)), "wll", p.stampUp(s.WLL))
}
