package render

import (
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"halfweight/bot/talk"
	"halfweight/parser"
	"halfweight/rules"
	"halfweight/rules/load"
	"halfweight/rules/tables"
)

// load replies to a message that is a load or changes it, in the order that
// helps with cold hands: does it stand and by how much, the one thing to do,
// the count, what was taken for granted, one question, the caution.
func (p *page) load(r talk.Reply) {
	order := worstFirst(p.unsettle(r))
	p.edges = r.Ask != nil && r.Ask.Key == rules.AskDamage
	worst := order[0]
	stands := worst.Verdict == rules.VerdictCovered
	p.lose = stands
	p.heads(order, r)
	p.byHouse(r, stands)
	p.turn()
	p.notRead(r)
	p.says(r, true)
	asked := false
	if len(order) == 1 || !stands {
		asked = p.act(worst, r)
		p.count(worst, r.Ask)
		order = order[1:]
	}
	lose := p.loseAlike(order)
	for _, c := range order {
		p.turn()
		p.then(c)
	}
	p.say(lose)
	p.look(r)
	p.says(r, false)
	if !asked {
		p.turn()
		p.ask(r)
	}
	p.turn()
	switch worst.Verdict {
	case rules.VerdictCovered:
		p.say(p.w.LookAgain)
	case rules.VerdictShort:
		p.say(p.w.TextMe)
	}
	p.say(p.law.Caution)
}

// byHouse says what the crew's own rules have to do with how the load stands.
func (p *page) byHouse(r talk.Reply, stands bool) {
	if stands && len(r.House) > 0 {
		p.say(p.w.House.Met)
	}
	p.say(p.w.House.Only[string(r.ByLaw)])
}

// unsettle is the articles as they can be told: what was not read and may change
// the answer, and what could not be laid on the load, leave none standing.
func (p *page) unsettle(r talk.Reply) []rules.Count {
	switch {
	case r.Grave && len(r.Unread) > 0:
		if p.doubt = p.w.Head.NotRead; len(r.Unread) == 1 && utf8.RuneCountInString(r.Unread[0].Text) <= long/2 {
			p.doubt = p.quoted([]parser.Span{{Text: r.Unread[0].Text}})
		}
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

// heads says how the load stands: of one article whether it does and by how
// much; of several the worst, then in a word how the others stand.
func (p *page) heads(order []*rules.Count, r talk.Reply) {
	h, worst := &p.w.Head, order[0]
	if len(order) == 1 {
		p.head(worst, r)
		return
	}
	if worst.Verdict != rules.VerdictCovered {
		p.head(worst, r)
		p.also(order, order[1:])
		return
	}
	least, just := worst, ""
	for _, c := range order {
		if c.Credit-c.NeedHigh < least.Credit-least.NeedHigh {
			least = c
		}
		if p.just(c) != "" {
			just = p.just(c)
		}
	}
	all := h.Both
	if len(order) > 2 {
		all = h.All
	}
	on := filled(h.OnLeast, "name", p.called(least, order))
	if !slices.ContainsFunc(order, func(c *rules.Count) bool { return c.NoSum || p.spare(c) != p.spare(least) }) {
		on = h.OnEach
	}
	p.say(all, "n", strconv.Itoa(len(order)), "just", just, "spare", p.spare(least), "on", on)
}

// loseAlike is what is said of the loss of one tie-down where it is the same of
// all articles: it is then said once.
func (p *page) loseAlike(order []*rules.Count) string {
	if len(order) < 2 || !p.lose {
		return ""
	}
	lose := p.sinks(order[0])
	if slices.ContainsFunc(order, func(c *rules.Count) bool { return p.sinks(c) != lose }) {
		return ""
	}
	p.lose = lose == ""
	return lose
}

// also says in a word how some of the articles stand, those that stand alike
// together.
func (p *page) also(all, some []*rules.Count) {
	for i := 0; i < len(some); {
		v := some[i].Verdict
		var names []string
		for ; i < len(some) && some[i].Verdict == v; i++ {
			names = addNew(names, p.called(some[i], all))
		}
		p.say(p.w.Head.Also[string(v)], "names", p.w.list(names))
	}
}

// called is an article's name, with its weight where another has the same name.
func (p *page) called(c *rules.Count, all []*rules.Count) string {
	for _, o := range all {
		if o != c && o.Article.Name == c.Article.Name && c.Article.Weight.Known() {
			return filled(p.w.Head.Called, "name", p.name(c), "weight", p.near(c.Article.Weight.Told), "unit", p.word)
		}
	}
	return p.name(c)
}

// head says whether the worst article stands as it is, and by how much.
func (p *page) head(c *rules.Count, r talk.Reply) {
	h, what := &p.w.Head, p.what(c)
	switch c.Verdict {
	case rules.VerdictShort:
		p.say(h.Short, "why", p.shortBy(c), "what", what)
		if letGo(c) || slices.ContainsFunc(c.SetAside, func(a rules.Aside) bool { return a.Fix }) {
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

// then tells of an article in few words.
func (p *page) then(c *rules.Count) {
	p.say(p.stands(c))
	p.asides(c)
	p.hurts(c)
	p.mends(c)
	p.settles(c)
	p.count(c, nil)
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
	name := plain(c.Article.Name, long)
	if n := c.Article.Cargo.Pieces; n > 1 {
		phrase, of := p.w.Head.Pieces, ""
		if head, rest, ok := strings.Cut(name, p.w.Head.Of); ok {
			name, of = head, p.w.Head.Of+rest // "8 units of plywood"
		}
		if strings.HasSuffix(name, "s") {
			phrase = p.w.Head.Plural
		}
		return filled(phrase, "n", strconv.Itoa(n), "name", name) + of
	}
	return name
}

// spare is what is left over, against the most the article may weigh.
func (p *page) spare(c *rules.Count) string {
	if c.NoSum {
		return p.w.Head.NoSum
	}
	if n := p.down(c.Credit - c.NeedHigh); n != "0" && c.Credit > c.NeedHigh {
		return filled(p.w.Head.Spare, "spare", n, "unit", p.word)
	}
	return p.w.Head.NoSpare
}

// just says so where little is to spare.
func (p *page) just(c *rules.Count) string {
	if !c.NoSum && c.Credit-c.NeedHigh < tables.Of(p.lim.OnlyJust, c.NeedHigh) {
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

// open is what is still to be settled, what is asked about first: "the bucket and
// the joint", "the bucket and 2 more".
func (p *page) open(c *rules.Count, q *talk.Question) string {
	const most = 2
	var why []string
	add := func(s string) {
		if s != "" {
			why = addNew(why, s)
		}
	}
	asked := ""
	if q != nil && (q.Article == 0 || q.Article == c.Article.ID) {
		add(p.subject(q))
		asked = q.Key
	}
	for i := range c.Findings {
		f := &c.Findings[i]
		if f.Outcome != rules.Untold || f.Ask == asked && f.Part == "" {
			continue
		}
		about := talk.Question{Key: f.Ask, Subject: f.Subject, Part: f.Part}
		if f.Ask == rules.AskChain {
			about.Part, about.Subject = undescribed(c.Article)
		}
		add(p.subject(&about))
	}
	add(p.doubt)
	if n := len(why) - most + 1; n > 1 {
		why = append(why[:most-1], filled(p.w.Head.More, "n", strconv.Itoa(n)))
	}
	return p.w.list(why)
}

// undescribed is the part told tied by a tie-down that no one described.
func undescribed(a *load.Article) (key, word string) {
	for i := range a.Parts {
		part := &a.Parts[i]
		if part.Tied == load.Yes && !slices.ContainsFunc(a.Ties, func(t load.TieDown) bool { return t.Place.On == part.Name }) {
			return part.Name, part.Word
		}
	}
	return "", ""
}

// act is the one thing to do: mend what is set aside or short, measure what is
// hurt, answer the question of what is not settled. It says whether it asked.
func (p *page) act(c *rules.Count, r talk.Reply) (asked bool) {
	p.turn()
	p.asides(c)
	p.hurts(c)
	p.mends(c)
	if letGo(c) {
		p.say(p.w.Aside.LetGo)
	}
	if c.Verdict == rules.VerdictUnsettled || r.Ask != nil && r.Ask.Key == rules.AskDamage {
		p.turn()
		p.ask(r)
		p.settles(c)
		asked = true
	}
	p.turn()
	return asked
}

// letGo says whether a tie-down let go by itself: loose, off or broken. One that
// was taken off did not.
func letGo(c *rules.Count) bool {
	return slices.ContainsFunc(c.SetAside, func(a rules.Aside) bool {
		s := &a.Tie.State
		broken := slices.ContainsFunc(s.Damage, func(d load.Damage) bool { return d.Kind == "broken" })
		return s.Tight == load.No || s.Gone != "" && s.Gone != "taken off" || broken
	})
}
