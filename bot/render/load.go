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
	case r.Grave:
		p.doubt = p.quoted(r.Unread)
	case r.Doubt:
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
	if q != nil && (q.Article == 0 || q.Article == c.Article.ID) {
		add(p.subject(q))
	}
	for i := range c.Findings {
		if f := &c.Findings[i]; f.Outcome == rules.Untold {
			add(p.subject(&talk.Question{Key: f.Ask, Subject: f.Subject, Part: f.Part}))
		}
	}
	if n := len(why) - most + 1; n > 1 {
		why = append(why[:most-1], filled(p.w.Head.More, "n", strconv.Itoa(n)))
	}
	return p.w.list(why)
}

// act is the one thing to do: mend what is short or set aside, answer the
// question of what is not settled. It says whether it asked.
func (p *page) act(c *rules.Count, r talk.Reply) (asked bool) {
	p.turn()
	if c.Verdict == rules.VerdictUnsettled {
		p.ask(r.Ask)
		asked = true
		p.turn()
	}
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
	p.turn()
	return asked
}

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

// count says what is needed and what there is, numbers always with what they
// are of.
func (p *page) count(c *rules.Count) {
	p.turn()
	n := &p.w.Count
	need := p.up(c.NeedHigh)
	if low := p.up(c.NeedLow); low != need {
		need = filled(p.w.Head.Range, "from", low, "to", need)
	}
	has, list := p.down(c.Credit), p.tally(c)
	if len(c.Article.Ties) == 0 {
		if c.Article.Weight.Known() {
			p.say(n.NeedsOnly, "need", need)
		}
		if c.Article.Bare {
			p.say(n.Bare)
		} else {
			p.say(n.NoTies)
		}
	}
	switch {
	case len(c.Article.Ties) == 0:
	case c.Credit == 0 && !c.Article.Weight.Known():
		p.say(n.NoCredit, "has", has, "list", list)
	case !c.Article.Weight.Known():
		p.say(n.NoWeight, "has", has, "list", list, "good", p.down(c.GoodUpTo), "unit", p.word)
	case c.Verdict == rules.VerdictShort || c.Verdict == rules.VerdictUnsettled:
		p.say(n.Weight, "need", need, "has", has, "list", list)
	default:
		p.say(n.Needs, "need", need, "has", has, "list", list)
	}
	p.binders(c)
	p.weakest(c)
	for i := range c.Findings {
		f := &c.Findings[i]
		switch {
		case counted(f):
			p.say(p.finding(c, f))
		case f.Rule == "aggregate" && f.Outcome == rules.Untold && c.Most > c.Credit && c.Credit < c.NeedHigh:
			p.upTo(c)
		}
	}
	p.sinks(c)
}

// upTo says what the sum may come to once the rest is told.
func (p *page) upTo(c *rules.Count) {
	if c.Most == rules.Unbounded {
		p.say(p.w.Count.AnyMore)
		return
	}
	p.say(p.w.Count.UpTo, "most", p.down(c.Most))
}

// counted says whether a finding stands in the count, beside the weight.
func counted(f *rules.Finding) bool {
	switch f.Rule {
	case "corners", "ends", "number":
		return f.Outcome != rules.Untold || f.Want > 0
	case "accessory", "articulation":
		return f.Outcome == rules.Met
	}
	return false
}

// tally lists what counts: ": 4 chains 3/8 g70 direct at half 13,200, 1 over
// whole 6,600". Where each holds is said with the corners.
func (p *page) tally(c *rules.Count) string {
	var out strings.Builder
	n := &p.w.Count
	said, sep := "", ": "
	for _, l := range grouped(c.Lines) {
		kind := p.after(l.Tie)
		way := n.Ways[l.Tie.Route]
		if l.Tie.Place.On != "" {
			way = filled(n.WaysOn[l.Tie.Route], "part", p.w.part(l.Tie.Place.On, c.Article.Parts))
		}
		phrase := n.Item
		switch {
		case !l.Usable:
			phrase = n.Blank
		case said == kind:
			phrase = n.Again
		}
		out.WriteString(sep)
		out.WriteString(filled(phrase, "n", strconv.Itoa(l.Count), "noun", p.w.noun(l.Tie.Material, l.Count), "kind", kind, "way", way, "credit", p.down(l.Credit)))
		said, sep = kind, ", "
	}
	return out.String()
}

// grouped puts lines together that differ only by where they hold the article
// itself.
func grouped(lines []rules.Line) []rules.Line {
	list := make([]rules.Line, 0, len(lines))
next:
	for _, l := range lines {
		for i := range list {
			if alike(&list[i], &l) {
				list[i].Count += l.Count
				list[i].Credit += l.Credit
				continue next
			}
		}
		list = append(list, l)
	}
	return list
}

// alike says whether two lines read alike in the count.
func alike(a, b *rules.Line) bool {
	return a.WLL == b.WLL && a.LimitedBy == b.LimitedBy && a.Usable == b.Usable &&
		a.Tie.Route == b.Tie.Route && a.Tie.Place.On == b.Tie.Place.On && sameKind(&a.Tie, &b.Tie)
}

// binders says what becomes of the sum if the binders not told are the
// commonest weaker ones.
func (p *page) binders(c *rules.Count) {
	if c.Weaker >= c.Credit || !c.Article.Weight.Known() {
		return
	}
	strong, weak := p.binderFigures(c.Lines)
	args := []string{"wll", p.w.list(strong), "weak", p.w.list(weak), "has", p.down(c.Weaker), "short", p.up(c.NeedHigh - c.Weaker)}
	switch {
	case c.Weaker >= c.NeedHigh:
		if c.Verdict == rules.VerdictCovered || c.Verdict == rules.VerdictFix {
			p.say(p.w.Count.BinderToo, args...)
		}
	case c.Credit >= c.NeedHigh:
		p.say(p.w.Count.BinderIf, args...)
	default:
		p.say(p.w.Count.BinderShort, args...)
	}
}

// binderFigures are the ratings that the binders not told are taken to have, and
// those of the commonest weaker ones.
func (p *page) binderFigures(lines []rules.Line) (strong, weak []string) {
	for i := range lines {
		l := &lines[i]
		if l.Tie.Material != load.Chain || l.Tie.Tensioner.Rating > 0 || l.Tie.Tensioner.Label != "" {
			continue
		}
		if f, ok := tables.WeakerBinder(l.Tie.Size); ok && f.WLL < l.WLL {
			strong = addNew(strong, p.up(l.WLL))
			weak = addNew(weak, p.down(f.WLL))
		}
	}
	return strong, weak
}

// weakest names the part that limits a tie-down, where it is not its material.
func (p *page) weakest(c *rules.Count) {
	var said []string
	for i := range c.Lines {
		l := &c.Lines[i]
		if l.LimitedBy == "" || l.LimitedBy == string(l.Tie.Material) || l.LimitedBy == "rope" {
			continue
		}
		s := filled(p.w.Count.Weakest, "part", word(p.w.Name.Limits, l.LimitedBy), "wll", p.down(l.WLL))
		if !slices.Contains(said, s) {
			said = append(said, s)
			p.say(s)
		}
	}
}

// sinks names the tie-downs whose single loss would undo a covered article.
func (p *page) sinks(c *rules.Count) {
	if len(c.Sinks) == 0 {
		return
	}
	n := &p.w.Count
	pieces, sink := 0, 0
	for i := range c.Lines {
		pieces += c.Lines[i].Count
	}
	var which []string
	for i := range c.Sinks {
		sink += len(c.Sinks[i].IDs)
		which = addNew(which, p.oneOf(c, &c.Sinks[i]))
	}
	if sink == pieces {
		p.say(n.LoseAny)
		return
	}
	p.say(n.Lose, "which", p.w.either(which))
}

func addNew(list []string, s string) []string {
	if slices.Contains(list, s) {
		return list
	}
	return append(list, s)
}

// word is the language's word for a key, the key itself where none is written.
func word(words map[string]string, key string) string {
	if w, ok := words[key]; ok {
		return w
	}
	return key
}
