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

// whyCount explains a count step by step, each step with the section it rests on
// and each figure with how it is known.
func (p *page) whyCount(s talk.Why) {
	if s.Report == nil {
		return
	}
	for _, c := range worstFirst(s.Report.Articles) {
		p.turn()
		p.whyArticle(c, s.About)
	}
}

func (p *page) whyArticle(c *rules.Count, about string) {
	w := &p.w.Steps
	steps := &steps{page: p, about: strings.ReplaceAll(about, ",", "")}
	sum := "weight half need credit sum"
	if p.lacksWeight(c) {
		sum += " " + rules.Short.String()
	}
	steps.add(string(c.Verdict), p.stands(c))
	duty, _ := p.lim.Duty("aggregate")
	if p.logs(c) {
		duty, _ = p.lim.Duty("logs")
	}
	half := []string{"need", p.needs(c), "share", capital(p.share(c)), "cite", duty.Cite, "mark", p.known(duty.Source)}
	switch {
	case c.NoSum:
	case c.Article.Weight.Known():
		steps.add(sum, w.Half, half...)
	default:
		steps.add(sum, w.NoWeight, half...)
	}
	lines := grouped(c.Lines)
	for i := range lines {
		l := &lines[i]
		if !l.Usable {
			steps.add(sum, w.Blank, "n", strconv.Itoa(l.Count), "noun", p.w.noun(l.Tie.Material, l.Count), "kind", p.after(l.Tie))
			continue
		}
		phrase, whole := w.Halved, w.Whole
		if l.Count == 1 {
			phrase, whole = w.OneHalf, w.OneWhole
		}
		if l.Tie.Route == load.Over {
			phrase = whole
		}
		each := l.Credit / load.Mass(l.Count)
		steps.add(sum+" "+string(l.Tie.Route), phrase,
			"n", strconv.Itoa(l.Count), "noun", p.w.noun(l.Tie.Material, l.Count), "kind", p.after(l.Tie),
			"wll", p.down(l.WLL), "from", p.from(l), "way", p.w.Steps.Ways[l.Tie.Route],
			"each", p.down(each), "credit", p.down(l.Credit))
	}
	for i := range c.SetAside {
		a := &c.SetAside[i]
		phrase := w.Aside
		if a.Counts {
			phrase = w.AsideCounts
		}
		steps.add("loose damaged aside", phrase, "which", p.which(c, &a.Line), "why", p.why(a), "cite", a.Cite)
	}
	if len(c.Lines) > 0 && !c.NoSum {
		steps.add(sum, w.Sum, "has", p.down(c.Credit), "need", p.needs(c), "stands", p.sumStands(c))
	}
	for i := range c.Findings {
		f := &c.Findings[i]
		if f.Rule == "weight" || f.Rule == "aggregate" {
			continue
		}
		steps.add(f.Rule+" "+w.Topics[f.Rule]+" "+f.Subject+" "+f.Outcome.String(), w.Finding, "say", strings.TrimSuffix(p.whyFinding(c, f), "."), "cite", f.Cite, "mark", p.dutyMark(c, f))
	}
	p.listChecks(steps, c)
	steps.say()
}

// whyFinding is a finding as a step: the checks by eye are listed after it.
func (p *page) whyFinding(c *rules.Count, f *rules.Finding) string {
	if f.Rule == "eye" && f.Outcome == rules.Untold {
		return p.w.Steps.Eye
	}
	return p.finding(c, f)
}

// dutyMark says how the duty behind a finding is known.
func (p *page) dutyMark(c *rules.Count, f *rules.Finding) string {
	key := f.Rule
	switch {
	case key == "eye":
		key = f.Part
	case key == "accessory" && c.Heavy == load.No:
		key = "accessory light"
	case key == "number" && f.Cite == p.lim.Citation("special"):
		key = "special"
	}
	d, _ := p.lim.Duty(key)
	return p.known(d.Source)
}

// known is how a duty is known, after its section; nothing of a crew's own.
func (p *page) known(s tables.Source) string {
	if s.Mark == "" {
		return ""
	}
	return p.w.Steps.Then + p.mark(s)
}

// stands is what the count comes to, for the first step.
func (p *page) stands(c *rules.Count) string {
	return filled(p.w.Head.Then[string(c.Verdict)], "what", p.what(c), "why", p.shortOrOpen(c), "just", p.just(c), "spare", p.spare(c))
}

// lacksWeight says whether the sum is short of the need.
func (p *page) lacksWeight(c *rules.Count) bool {
	return slices.ContainsFunc(c.Findings, func(f rules.Finding) bool { return f.Rule == "aggregate" && f.Outcome == rules.Short })
}

// sumStands says how the sum compares with the need.
func (p *page) sumStands(c *rules.Count) string {
	w := &p.w.Steps
	switch {
	case !c.Article.Weight.Known():
		return filled(w.GoodUpTo, "good", p.down(c.GoodUpTo), "unit", p.word)
	case c.Credit >= c.NeedHigh:
		return p.spare(c)
	}
	return filled(w.ShortOf, "short", p.up(c.NeedHigh-c.Credit), "unit", p.word)
}

// from says where a line's rating is from and how that is known.
func (p *page) from(l *rules.Line) string {
	w := &p.w.Steps
	t := &l.Tie
	limit := l.LimitedBy
	switch {
	case limit != "" && limit != string(t.Material) && limit != "rope":
		if t.Tensioner.Rating == 0 && (limit == "binder" || limit == "ratchet") {
			return w.ByLabel
		}
		return filled(w.ByPart, "part", word(p.w.Name.Limits, limit))
	case t.Marked() > 0:
		return w.ByMark
	}
	f, ok := figure(t)
	if !ok {
		return ""
	}
	if own, ok := p.lim.Duty("ratings"); ok { // the federal table stands in for that of another code
		return filled(w.ByOther, "cite", f.Cite, "mark", p.mark(f.Source), "own", own.Cite, "sure", p.mark(own.Source))
	}
	return filled(w.ByTable, "cite", f.Cite, "mark", p.mark(f.Source))
}

// mark says how a figure is known: read in so many places, or in part, computed,
// told by the trade, or from memory.
func (p *page) mark(s tables.Source) string {
	w := &p.w.Steps
	switch n, seen := places(s.Mark); {
	case s.Mark == "partly seen":
		return w.Partly
	case !s.WasRead() && strings.Contains(s.Mark, "derived"):
		return w.Derived
	case !s.WasRead() && strings.Contains(s.Mark, "memory"):
		return w.Memory
	case !s.WasRead():
		return w.Practice
	case strings.Contains(s.Mark, "+ memory"):
		return w.SeenPart
	case seen && n > 1:
		return filled(w.SeenMany, "n", strconv.Itoa(n))
	}
	return w.SeenOnce
}

// places is how many places a figure was read in: "seen-2" is 2.
func places(mark string) (n int, ok bool) {
	_, rest, ok := strings.Cut(mark, "seen-")
	if !ok || rest == "" {
		return 0, false
	}
	n = int(rest[0] - '0')
	return n, n >= 0 && n <= 9
}

// steps are the steps of an explanation. Asked about one thing ("3300", "four",
// "short"), only those that speak of it are said, all of them where none does.
type steps struct {
	page  *page
	about string
	all   []string
	hits  []string
}

func (s *steps) add(topics, phrase string, args ...string) {
	said := capital(s.page.filled(phrase, args...))
	s.all = append(s.all, said)
	if s.about == "" {
		return
	}
	for _, word := range strings.Fields(topics + " " + strings.ReplaceAll(said, ",", "")) {
		if strings.EqualFold(strings.Trim(word, ".:;()"), s.about) {
			s.hits = append(s.hits, said)
			return
		}
	}
}

func (s *steps) say() {
	list := s.all
	if len(s.hits) > 0 {
		list = s.hits
	}
	for _, step := range list {
		s.page.line(step)
	}
}
