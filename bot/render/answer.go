package render

import (
	"slices"

	"halfweight/bot/talk"
	"halfweight/rules"
	"halfweight/rules/load"
)

// answer replies to a message that leaves the load as it is: a question, gear,
// a word from the road, or nothing that could be read.
func (p *page) answer(r talk.Reply) {
	for i, s := range r.Says {
		if !saidBefore(r.Says[:i], s) {
			p.tell(s, r)
			p.turn()
		}
		if i == 0 {
			p.notRead(r)
		}
	}
	if len(r.Says) == 0 {
		p.tell(talk.Cannot{Why: "nothing read"}, r)
		p.turn()
	}
	p.look(r)
	p.ask(r)
	p.turn()
	if slices.ContainsFunc(r.Says, judges) {
		p.say(p.law.Caution)
	}
}

// judges says whether an answer could be taken for a go-ahead.
func judges(s talk.Say) bool {
	switch s := s.(type) {
	case talk.HowMany, talk.WhatIf, talk.Need, talk.Planned, talk.Smallest:
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
	case talk.Done, talk.Cannot, talk.PieceNote, talk.Again:
		return true
	}
	return false
}

// says tells what there is to say beside a load's verdict.
func (p *page) says(r talk.Reply, first bool) {
	for i, s := range r.Says {
		if early(s) == first && !saidBefore(r.Says[:i], s) {
			p.turn()
			p.tell(s, r)
			p.turn()
		}
	}
}

// saidBefore says whether the same was said before of something not done.
func saidBefore(before []talk.Say, s talk.Say) bool {
	c, ok := s.(talk.Cannot)
	return ok && slices.ContainsFunc(before, func(o talk.Say) bool { return o == talk.Say(c) })
}

func (p *page) tell(s talk.Say, r talk.Reply) {
	switch s := s.(type) {
	case talk.Done:
		p.done(s, r)
	case talk.Cannot:
		p.say(p.w.Cannot[s.Why], "name", plain(s.Words, long), "words", `"`+plain(s.Words, long)+`"`, "quote", p.quoted(r.Unread), "n", comma(int64(s.Length)), "of", p.ofName(s.Words))
	case talk.WhichGear:
		p.whichGear(s)
	case talk.Plain:
		p.topic(s.Topic, s.Near, r)
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
	case talk.Planned:
		p.planned(s)
	case talk.Smallest:
		p.smallest(s)
	case talk.Why:
		p.whyCount(s)
	case talk.When:
		p.when(s)
	case talk.PieceNote:
		p.piece(s, r)
	case talk.Again:
		p.again(s)
	case talk.History:
		p.history(s)
	case talk.Offer:
		p.offer(s)
	case talk.Hold:
		p.hold(s)
	case talk.InForce:
		p.inForce(r.House)
	case talk.More:
		p.text = append(p.text, s.Text...)
	case talk.Help:
		if s.Short {
			p.say(p.w.HelpShort)
			return
		}
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
	if d.What == "gear" || d.What == "gear less" {
		p.gear(d)
		return
	}
	what := d.What
	switch {
	case what == "undo" && r.Report == nil && r.LoadVerdict == "":
		what = "undo all"
	case what == "rolling" && r.LoadVerdict != "" && r.LoadVerdict != string(rules.VerdictCovered):
		what = "rolling " + r.LoadVerdict
	case (what == "rolling" || what == "at") && d.Due:
		what = "due"
	case what == "checked" && !d.Rolling:
		what = "checked parked"
	}
	p.say(p.w.Done[what], "words", plain(d.Words, 60), "mass", p.down(d.Mass), "next", p.road(d.Next), "left", p.road(d.Next-d.Miles))
	switch what {
	case "rules":
		p.inForce(r.House)
	case "house":
		p.houseRules(r.House)
	}
	if what == "rules" || what == "house" {
		p.line(p.w.Stands[r.LoadVerdict])
	}
}

// with is what is told of a tie-down's binder in the gear list.
func (p *page) with(t *load.TieDown) string {
	if t.Tensioner.Rating == 0 {
		return ""
	}
	return filled(p.w.WithBinder, "rating", p.down(t.Tensioner.Rating))
}

// whatIf shows the load as it would be: of several articles first in a word how
// each would stand.
func (p *page) whatIf(r *rules.Report) {
	if r == nil {
		return
	}
	order := worstFirst(r.Articles)
	p.lose = r.Verdict == rules.VerdictCovered
	p.say(p.w.WhatIf)
	if len(order) == 1 {
		p.then(order[0])
	} else {
		p.also(order, order)
		for _, c := range order {
			p.turn()
			p.then(c)
		}
	}
	p.line(p.w.OnlyAsked)
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
	p.say(phrase, "next", p.road(s.Next), "left", p.road(s.Next-s.Miles))
}
