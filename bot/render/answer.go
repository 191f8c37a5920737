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

// answer replies to a message that leaves the load as it is: a question, gear,
// a word from the road, or nothing that could be read.
func (p *page) answer(r talk.Reply) {
	for i, s := range r.Says {
		p.tell(s, r)
		p.turn()
		if i == 0 {
			p.notRead(r.Unread, r.Grave)
		}
	}
	if len(r.Says) == 0 {
		p.say(p.w.Cannot["nothing read"])
		p.turn()
		p.notRead(r.Unread, r.Grave)
	}
	p.look(r)
	p.ask(r.Ask)
	p.turn()
	if slices.ContainsFunc(r.Says, judges) {
		p.say(p.w.Caution)
	}
}

// judges says whether an answer could be taken for a go-ahead.
func judges(s talk.Say) bool {
	switch s := s.(type) {
	case talk.HowMany, talk.WhatIf, talk.Need:
		return true
	case talk.Rating:
		return !plainRating(s.Count)
	}
	return false
}

// early says whether a thing to say belongs at the head of a load's reply: what
// was done and what could not be.
func early(s talk.Say) bool {
	switch s.(type) {
	case talk.Done, talk.Cannot:
		return true
	}
	return false
}

// says tells what there is to say beside a load's verdict.
func (p *page) says(r talk.Reply, first bool) {
	for _, s := range r.Says {
		if early(s) == first {
			p.turn()
			p.tell(s, r)
			p.turn()
		}
	}
}

func (p *page) tell(s talk.Say, r talk.Reply) {
	switch s := s.(type) {
	case talk.Done:
		p.done(s, r)
	case talk.Cannot:
		p.say(p.w.Cannot[s.Why], "name", plain(s.Words, 40), "words", `"`+plain(s.Words, 40)+`"`, "n", comma(int64(s.Length)))
	case talk.Plain:
		p.topic(s.Topic)
	case talk.Rating:
		p.rating(s.Count)
	case talk.Compare:
		p.compare(s)
	case talk.HowMany:
		p.howMany(s)
	case talk.Wear:
		p.wear(s)
	case talk.WhatIf:
		p.whatIf(s.Report)
	case talk.Need:
		p.need(s.Report)
	case talk.Why:
		p.whyCount(s)
	case talk.When:
		p.when(s)
	case talk.Help:
		p.lines(p.w.Help)
	}
}

// lines says each on a line of its own.
func (p *page) lines(list []string) {
	for _, s := range list {
		p.line(s)
	}
}

// done acknowledges what a message did. On the road it is one line: the driver
// may be moving.
func (p *page) done(d talk.Done, r talk.Reply) {
	var gear []string
	for _, g := range d.Gear {
		gear = append(gear, filled(p.w.Name.Plain, "n", strconv.Itoa(g.Count), "noun", p.w.noun(g.Tie.Material, g.Count), "kind", p.after(g.Tie))+p.with(&g.Tie))
	}
	list := strings.Join(gear, "; ")
	if list == "" {
		list = p.w.NoGear
	}
	what := d.What
	switch {
	case what == "rolling" && r.LoadVerdict != "" && r.LoadVerdict != string(rules.VerdictCovered):
		what = "rolling " + r.LoadVerdict
	case (what == "rolling" || what == "at") && d.Due:
		what = "due"
	}
	p.say(p.w.Done[what], "words", plain(d.Words, 60), "gear", list, "mass", p.down(d.Mass), "next", miles(d.Next), "left", miles(d.Next-d.Miles))
}

// with is what is told of a tie-down's binder in the gear list.
func (p *page) with(t *load.TieDown) string {
	if t.Tensioner.Rating == 0 {
		return ""
	}
	return filled(p.w.WithBinder, "rating", p.down(t.Tensioner.Rating))
}

// plainRating says whether a rating was asked of one kind alone, with no route
// told: "3/8 g70?".
func plainRating(c *rules.Count) bool {
	return len(c.Lines) == 1 && c.Lines[0].Count == 1 && c.Lines[0].Tie.Route == "" || len(c.Lines) == 0
}

// rating answers what a kind is rated, or what a set of tie-downs is good for.
func (p *page) rating(c *rules.Count) {
	for i := range c.SetAside {
		p.aside(c, &c.SetAside[i])
	}
	if !plainRating(c) {
		p.say(p.w.Count.NoWeight, "has", p.down(c.Credit), "list", p.tally(c), "good", p.down(c.GoodUpTo), "unit", p.word)
		if _, weak := p.binderFigures(c.Lines); len(weak) > 0 && c.Weaker < c.Credit {
			p.say(p.w.Rating.Weaker, "has", p.down(c.Weaker), "weak", p.w.list(weak))
		}
		p.weakest(c)
		p.say(p.w.Rating.Besides)
		return
	}
	for i := range c.Lines {
		l := &c.Lines[i]
		if !p.rated(&l.Tie, l.WLL) {
			continue
		}
		p.say(p.w.Rating.Ways, "half", p.down(l.WLL/2), "whole", p.down(l.WLL))
		p.weakest(c)
		p.say(p.w.Rating.Stamps, "stamps", p.w.either(p.stamps(nil, &l.Tie)))
	}
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
	if t.Mark > 0 {
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
	a, b := rules.Credit(&s.A, tables.Federal()).WLL, rules.Credit(&s.B, tables.Federal()).WLL
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

// howMany answers how many of a kind a weight takes.
func (p *page) howMany(s talk.HowMany) {
	w := &p.w.Rating
	p.say(w.Needs, "weight", p.near(s.Weight.Told), "need", p.up(s.Need), "unit", p.word)
	if s.WLL == 0 {
		p.rated(&s.Tie, 0)
		return
	}
	args := []string{"what", p.brief(s.Tie, 1), "wll", p.down(s.WLL), "half", p.down(s.WLL / 2), "direct", strconv.Itoa(s.Direct), "over", strconv.Itoa(s.Over), "n", strconv.Itoa(s.Have)}
	p.say(w.Takes, args...)
	if s.WeakDirect > s.Direct || s.WeakOver > s.Over {
		if f, ok := tables.WeakerBinder(s.Tie.Size); ok {
			p.say(w.TakesWeak, "weak", p.down(f.WLL), "direct", strconv.Itoa(s.WeakDirect), "over", strconv.Itoa(s.WeakOver))
		}
	}
	if s.Have > 0 {
		p.have(s)
	}
	p.say(w.Besides)
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
	p.say(phrase, "n", strconv.Itoa(s.Have), "half", p.down(s.WLL/2*load.Mass(s.Have)), "whole", p.down(s.WLL*load.Mass(s.Have)), "wll", p.up(s.WLL))
}

// whatIf shows the load as it would be.
func (p *page) whatIf(r *rules.Report) {
	if r == nil {
		return
	}
	for _, c := range worstFirst(r.Articles) {
		p.then(c, p.w.WhatIf)
	}
	p.line(p.w.OnlyAsked)
}

// need lists what the load in hand still lacks.
func (p *page) need(r *rules.Report) {
	if r == nil {
		return
	}
	for _, c := range worstFirst(r.Articles) {
		p.then(c, "")
		for i := range c.Findings {
			if f := &c.Findings[i]; f.Outcome != rules.Met && f.Rule != "aggregate" && !counted(f) {
				p.say(p.finding(c, f))
			}
		}
		p.turn()
	}
}

// when answers when to look at the load again.
func (p *page) when(s talk.When) {
	phrase := p.w.When.Next
	switch {
	case !s.Rolling:
		phrase = p.w.When.Before
	case s.Due:
		phrase = p.w.When.Now
	}
	p.say(phrase, "next", miles(s.Next), "left", miles(s.Next-s.Miles))
}

// wear answers a question of wear or damage from the tables.
func (p *page) wear(s talk.Wear) {
	w, t := &p.w.Wear, &s.Tie
	var cuts, left load.Length
	for _, d := range t.State.Damage {
		for _, size := range d.Size {
			cuts += size
		}
		if d.Left > 0 {
			left = d.Left
		}
	}
	switch {
	case t.Material == load.Webbing && cuts > 0:
		p.cutStrap(t, cuts)
	case t.Material == load.Chain && left > 0:
		p.wornLink(t, left)
	case s.Aside != nil && s.Aside.Settle != "":
		p.say(w.Measure, "what", p.brief(*t, 1), "why", word(p.w.Aside.Why, s.Aside.Why))
		p.limits(t)
	case s.Aside != nil:
		p.say(w.Out, "what", p.brief(*t, 1), "why", p.why(s.Aside))
	default:
		p.limits(t)
	}
}

// cutStrap takes a strap's cuts together against both limits, the stricter
// first.
func (p *page) cutStrap(t *load.TieDown, cuts load.Length) {
	w := &p.w.Wear
	published, trade, _, ok := tables.CutLimits(t.Size)
	switch {
	case !ok:
		p.say(w.NoRow, "what", p.w.full(*t))
		return
	case cuts > published:
		p.say(w.CutOut, "cut", inches(cuts), "limit", inches(published))
	case trade > 0 && cuts > trade:
		p.say(w.CutTrade, "cut", inches(cuts), "limit", inches(trade))
	case trade > 0 && cuts == trade:
		p.say(w.CutJust, "cut", inches(cuts))
	default:
		p.say(w.CutIn, "cut", inches(cuts))
	}
	p.limits(t)
	p.say(p.w.Aside.LookAlong)
	p.say(w.SecondHand)
}

// wornLink takes a worn link against the stock it was made of.
func (p *page) wornLink(t *load.TieDown, left load.Length) {
	w := &p.w.Wear
	stock, nominal, src, ok := tables.WornBelow(t.Size, t.Grade.Value)
	if !ok {
		p.say(w.NoRow, "what", p.w.full(*t))
		return
	}
	phrase := w.LinkIn
	if left < stock {
		phrase = w.LinkOut
	}
	p.say(phrase, "left", decimal(left), "limit", decimal(stock), "what", p.brief(*t, 1))
	p.say(w.LinkHow, "nominal", decimal(nominal))
	p.say(w.Stock, "mark", p.mark(src))
}

// limits names what a strap of that width may be cut, the stricter first.
func (p *page) limits(t *load.TieDown) {
	if t.Material != load.Webbing || len(t.State.Damage) == 0 {
		return
	}
	published, trade, _, ok := tables.CutLimits(t.Size)
	if !ok {
		return
	}
	phrase := p.w.Wear.Limits
	if trade == 0 {
		phrase = p.w.Wear.Limit
	}
	p.say(phrase, "width", p.w.size(*t), "published", inches(published), "trade", inches(trade))
	p.say(p.w.Wear.Edges)
}
