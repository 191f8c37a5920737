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

// load replies to a message that is a load or changes it, in the order that
// helps with cold hands: does it stand and by how much, the one thing to do,
// the count, what was taken for granted, one question, the caution.
func (p *page) load(r talk.Reply) {
	order := worstFirst(p.unsettle(r))
	worst := order[0]
	p.head(worst, r)
	p.turn()
	p.notRead(r.Unread, r.Grave)
	p.says(r, true)
	asked := p.act(worst, r)
	p.count(worst)
	for _, c := range order[1:] {
		p.then(c, "")
	}
	p.look(r)
	p.says(r, false)
	if !asked {
		p.turn()
		p.ask(r.Ask)
	}
	p.turn()
	switch worst.Verdict {
	case rules.VerdictCovered:
		p.say(p.w.LookAgain)
	case rules.VerdictShort:
		p.say(p.w.TextMe)
	}
	p.say(p.w.Caution)
}

// unsettle is the articles as they can be told: what was not read and may change
// the answer, and what could not be laid on the load, leave none standing.
func (p *page) unsettle(r talk.Reply) []rules.Count {
	switch {
	case r.Grave && len(r.Unread) > 0:
		p.doubt = p.quoted(r.Unread)
	case r.Grave || r.Doubt:
		p.doubt = p.w.Head.Doubt
	default:
		return r.Report.Articles
	}
	list := slices.Clone(r.Report.Articles)
	for i := range list {
		if list[i].Verdict == rules.VerdictCovered || list[i].Verdict == rules.VerdictFix {
			list[i].Verdict, list[i].Sinks = rules.VerdictUnsettled, nil
		}
	}
	return list
}

// worstFirst orders articles by how they stand, those that stand alike as told.
func worstFirst(articles []rules.Count) []*rules.Count {
	order := make([]*rules.Count, 0, len(articles))
	for _, v := range []rules.Verdict{rules.VerdictShort, rules.VerdictUnsettled, rules.VerdictFix, rules.VerdictCovered} {
		for i := range articles {
			if articles[i].Verdict == v {
				order = append(order, &articles[i])
			}
		}
	}
	return order
}

// head says whether the worst article stands as it is, and by how much.
func (p *page) head(c *rules.Count, r talk.Reply) {
	h, what := &p.w.Head, p.what(c)
	switch c.Verdict {
	case rules.VerdictShort:
		p.say(h.Short, "why", p.shortBy(c), "what", what)
		if len(c.SetAside) > 0 {
			p.say(h.Park)
		}
	case rules.VerdictUnsettled:
		p.say(h.Unsettled, "why", p.open(c, r.Ask), "what", what)
	case rules.VerdictFix:
		phrase := h.Fix
		if !slices.ContainsFunc(c.SetAside, func(a rules.Aside) bool { return a.Fix && !a.Counts }) {
			phrase = h.FixCounts
		}
		p.say(phrase, "just", p.just(c), "spare", p.spare(c), "what", what)
	default:
		p.say(h.Covered, "just", p.just(c), "spare", p.spare(c), "what", what)
	}
}

// then tells of an article in few words, after what leads it in.
func (p *page) then(c *rules.Count, lead string) {
	p.turn()
	p.say(lead+p.w.Head.Then[string(c.Verdict)], "what", p.what(c), "why", p.shortOrOpen(c), "just", p.just(c), "spare", p.spare(c))
	for i := range c.SetAside {
		p.aside(c, &c.SetAside[i])
	}
	p.mends(c)
	p.count(c)
}

func (p *page) shortOrOpen(c *rules.Count) string {
	if c.Verdict == rules.VerdictShort {
		return p.shortBy(c)
	}
	return p.open(c, nil)
}

// what names the article with its weight: "roller, 14,000 lb".
func (p *page) what(c *rules.Count) string {
	h, a, name := &p.w.Head, c.Article, p.name(c)
	if !a.Weight.Known() {
		return capital(filled(h.NoWeight, "name", name))
	}
	weight := p.near(a.Weight.Told)
	if a.Weight.Low < a.Weight.High {
		weight = filled(h.Range, "from", p.near(a.Weight.Low), "to", p.near(a.Weight.High))
	}
	return capital(filled(h.Article, "name", name, "weight", weight, "unit", p.word))
}

// name is the user's own word for the article.
func (p *page) name(c *rules.Count) string {
	if c.Article.Name == "" {
		return p.w.Head.Nameless
	}
	return plain(c.Article.Name, 40)
}

// spare is what is left over, against the most the article may weigh.
func (p *page) spare(c *rules.Count) string {
	if n := p.down(c.Credit - c.NeedHigh); n != "0" && c.Credit > c.NeedHigh {
		return filled(p.w.Head.Spare, "spare", n, "unit", p.word)
	}
	return p.w.Head.NoSpare
}

// just says so where little is to spare.
func (p *page) just(c *rules.Count) string {
	if c.Credit-c.NeedHigh < tables.Of(tables.Federal().OnlyJust, c.NeedHigh) {
		return p.w.Head.OnlyJust
	}
	return ""
}

// shortBy is what an article is short of: " by 200 lb", ": bucket not tied".
func (p *page) shortBy(c *rules.Count) string {
	var why []string
	by := ""
	for i := range c.Findings {
		f := &c.Findings[i]
		switch {
		case f.Outcome != rules.Short:
		case f.Rule == "aggregate" && c.NeedLow > 0 && len(c.Lines)+len(c.SetAside) > 0:
			by = filled(p.w.Head.By, "short", p.up(c.NeedLow-c.Credit), "unit", p.word)
		default:
			if s := p.short(c, f); s != "" {
				why = addNew(why, s)
			}
		}
	}
	switch {
	case len(why) == 0:
		return by
	case by == "":
		return ": " + strings.Join(why, "; ")
	}
	return by + "; " + strings.Join(why, "; ")
}

// open is what is still to be settled, what is asked about first: "bucket,
// joint and 1 more".
func (p *page) open(c *rules.Count, q *talk.Question) string {
	const most = 3
	var why []string
	add := func(s string) {
		if s != "" && !slices.Contains(why, s) {
			why = append(why, s)
		}
	}
	add(p.doubt)
	asked := ""
	if q != nil && (q.Article == 0 || q.Article == c.Article.ID) {
		add(p.subject(q))
		asked = q.Key
	}
	for i := range c.Findings {
		if f := &c.Findings[i]; f.Outcome == rules.Untold && (f.Ask != asked || f.Part != "") {
			add(p.subject(&talk.Question{Key: f.Ask, Subject: f.Subject, Part: f.Part}))
		}
	}
	if n := len(why) - most + 1; n > 1 {
		why = append(why[:most-1], filled(p.w.Head.More, "n", strconv.Itoa(n)))
	}
	return p.w.list(why)
}

// act is the one thing to do: mend what is set aside or short, answer the
// question of what is not settled. It says whether it asked.
func (p *page) act(c *rules.Count, r talk.Reply) (asked bool) {
	p.turn()
	letGo := false
	for i := range c.SetAside {
		a := &c.SetAside[i]
		p.aside(c, a)
		letGo = letGo || a.Tie.State.Tight == load.No || a.Tie.State.Gone != ""
	}
	p.mends(c)
	if letGo {
		p.say(p.w.Aside.LetGo)
	}
	if c.Verdict == rules.VerdictUnsettled {
		p.turn()
		p.ask(r.Ask)
		asked = true
	}
	p.turn()
	return asked
}
