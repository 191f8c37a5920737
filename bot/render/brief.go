package render

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"halfweight/bot/talk"
	"halfweight/rules"
)

// Brief is a reply in one piece that fits, on one line, and what there was no
// room for: the whole reply from the first sentence on that is left out, ""
// where nothing is. The verdict, the
// shortfall, the first thing to do, the question and the caution are never left
// out; then the other things to do, the count and what to look at go as far as
// there is room. A longer text given out by "more" comes page by page.
func Brief(r talk.Reply, fits func(string) bool) (text, rest string) {
	if File(r) != nil {
		return blank(r.Units).w.Record.NoRoom, "" // in pieces it could not be sent back
	}
	if more, ok := onlyMore(r); ok {
		return pageOf(more, fits)
	}
	whole := oneLine(Text(r))
	if fits(whole) {
		return whole, ""
	}
	if says := withoutHold(r.Says); r.Report == nil && len(says) < len(r.Says) {
		return fit(write(r).holdSentences(r), fits), whole
	}
	if r.Report == nil && !slices.ContainsFunc(r.Says, judges) {
		return pageOf(whole, fits)
	}
	text = write(r).fitted(r, fits)
	return text, notYet(whole, text)
}

// notYet is a whole reply from the first sentence on that its brief left out or
// said another way.
func notYet(whole, brief string) string {
	at := 0
	for _, s := range split(whole) {
		if at+len(s) >= len(whole) || !strings.HasPrefix(brief[min(at, len(brief)):], s) {
			break
		}
		at += len(s) + 1
	}
	return whole[at:]
}

func onlyMore(r talk.Reply) (string, bool) {
	for _, s := range r.Says {
		if m, ok := s.(talk.More); ok {
			return m.Text, true
		}
	}
	return "", false
}

// pageOf is as much of a text as fits with the word that asks for the rest.
func pageOf(text string, fits func(string) bool) (page, rest string) {
	if fits(text) {
		return text, ""
	}
	end, stop := 0, 0 // of a word, of a sentence
	for at, r := range text {
		if r != ' ' || at == 0 {
			continue
		}
		if !fits(text[:at] + " " + english.MoreWord) {
			break
		}
		if end = at; strings.IndexByte(".!?", text[at-1]) >= 0 {
			stop = at
		}
	}
	if stop > end/2 {
		end = stop
	}
	if end == 0 {
		end = len(text)
		for end > 0 && !fits(text[:end]+" "+english.MoreWord) {
			_, size := utf8.DecodeLastRuneInString(text[:end])
			end -= size
		}
	}
	return strings.TrimSpace(text[:end]) + " " + english.MoreWord, strings.TrimSpace(text[end:])
}

// sentence is one sentence of a brief reply; those of a higher rank go first when
// there is no room.
type sentence struct {
	text  string
	rank  int
	short string // what stands for it where it has no room; "" for nothing
}

// The ranks.
const (
	must   = iota
	should // other things to do
	count
	look
	extra
)

// fitted keeps of the sentences of a reply those that fit.
func (p *page) fitted(r talk.Reply, fits func(string) bool) string {
	list := p.sentences(r)
	list = append(list, sentence{text: p.law.Brief, rank: must}, sentence{text: p.w.MoreCount, rank: must})
	if r.Report == nil || len(r.Report.Articles) == 0 {
		list[len(list)-1].text = p.w.MoreWord
	}
	return fit(list, fits)
}

// fit drops sentences, the lowest rank first, until the rest fit. Of what to look
// at, only the last things go.
func fit(list []sentence, fits func(string) bool) string {
	for !fits(joined(list)) {
		worst := -1
		for i := range list {
			if list[i].rank > must && (worst < 0 || list[i].rank >= list[worst].rank) {
				worst = i
			}
		}
		if worst < 0 {
			return cutHead(list, fits)
		}
		if s := &list[worst]; s.rank == look {
			if end := strings.LastIndex(s.text, "; "); end > 0 {
				s.text = s.text[:end] + "."
				continue
			}
			if s.short != "" {
				s.text, s.short, s.rank = s.short, "", should
				continue
			}
		}
		list = slices.Delete(list, worst, worst+1)
	}
	return joined(list)
}

// cutHead is the last resort: of the longest sentence only as much as fits.
func cutHead(list []sentence, fits func(string) bool) string {
	longest := 0
	for i := range list {
		if len(list[i].text) > len(list[longest].text) {
			longest = i
		}
	}
	for s := list[longest].text; s != "" && !fits(joined(list)); {
		_, size := utf8.DecodeLastRuneInString(s)
		s = s[:len(s)-size]
		list[longest].text = strings.TrimSpace(s) + "..."
	}
	return joined(list)
}

func joined(list []sentence) string {
	var b strings.Builder
	for _, s := range list {
		if s.text == "" {
			continue
		}
		if b.Len() > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(s.text)
	}
	return b.String()
}

// sentences are those of a reply, in its order, each with its rank.
func (p *page) sentences(r talk.Reply) []sentence {
	var list []sentence
	add := func(rank, rest int, do func(*page)) {
		for i, s := range split(p.apart(do)) {
			if i > 0 {
				rank = rest
			}
			list = append(list, sentence{text: s, rank: rank})
		}
	}
	if r.Report == nil || len(r.Report.Articles) == 0 {
		add(must, count, func(p *page) { p.answer(r) })
		caution := p.law.Caution
		return slices.DeleteFunc(list, func(s sentence) bool { return s.text == caution })
	}
	order := worstFirst(p.unsettle(r))
	worst := order[0]
	p.edges = r.Ask != nil && r.Ask.Key == rules.AskDamage
	add(must, must, func(p *page) { p.heads(order, r) })
	add(should, should, func(p *page) { p.byHouse(r, worst.Verdict == rules.VerdictCovered) })
	unread := should
	if r.Grave || r.Doubt {
		unread = must
	}
	add(unread, should, func(p *page) { p.notRead(r) })
	says, notes := apartNotes(r)
	add(must, should, func(p *page) { p.says(says, true) })
	add(should, should, func(p *page) { p.says(notes, true) })
	asked := false
	from := len(list)
	add(must, should, func(p *page) { asked = p.act(worst, r) })
	p.keepFirstDo(list[from:])
	if asked && r.Ask != nil {
		keepQuestion(list, p.question(r))
	}
	for i, c := range order {
		first, rest := sumRanks(c, i == 0)
		add(first, rest, func(p *page) {
			if i > 0 {
				p.then(c)
			} else {
				p.briefCount(c)
			}
		})
	}
	if !asked {
		add(must, should, func(p *page) { p.ask(r) })
	}
	n := len(list)
	add(look, look, func(p *page) { p.look(r) })
	if len(list) > n && worst.Verdict == rules.VerdictCovered {
		list[n].short = p.w.LookBrief
	}
	if worst.Verdict == rules.VerdictCovered {
		add(count, count, func(p *page) { p.say(p.w.LookAgain) })
	}
	if says := withoutHold(r.Says); len(says) < len(r.Says) {
		list = append(list, sentence{text: p.w.Hold.Brief.InMore, rank: should})
		r.Says = says
	}
	add(extra, extra, func(p *page) { p.says(r, false) })
	return list
}

// apartNotes parts what was noted of the gear from what else there is to say: beside
// a load's verdict the latter matters more.
func apartNotes(r talk.Reply) (says, notes talk.Reply) {
	says, notes = r, r
	says.Says, notes.Says = nil, nil
	for _, s := range r.Says {
		if _, ok := s.(talk.PieceNote); ok {
			notes.Says = append(notes.Says, s)
		} else {
			says.Says = append(says.Says, s)
		}
	}
	return says, notes
}

// keepFirstDo makes the first thing to do one that is not left out: the facts of
// what is set aside stand before it.
func (p *page) keepFirstDo(list []sentence) {
	_, out, _ := strings.Cut(p.w.Aside.Out, "{why}")
	_, counts, _ := strings.Cut(p.w.Aside.Counts, "{why}")
	for i := range list {
		if !strings.HasSuffix(list[i].text, out) && !strings.HasSuffix(list[i].text, counts) {
			list[i].rank = must
			return
		}
	}
}

// restsOnBinders says whether the sum covers the weight only with binders better than
// the commonest weaker ones, and none were told.
func restsOnBinders(c *rules.Count) bool {
	return !c.NoSum && c.Article.Weight.Known() && c.Credit >= c.NeedHigh && c.Weaker < c.NeedHigh
}

// sumRanks are those of an article's sum, its first sentence and the rest. worst is
// whether it is the one that the reply is about.
func sumRanks(c *rules.Count, worst bool) (first, rest int) {
	switch {
	case worst && restsOnBinders(c) && c.Verdict != rules.VerdictShort && len(c.SetAside) > 0:
		return should, count // the first line names the binders
	case worst && restsOnBinders(c) && c.Verdict != rules.VerdictShort:
		return must, count
	case !worst && c.Verdict == rules.VerdictCovered:
		return count, extra // that it adds up is said
	}
	return count, count
}

// briefCount is the sum and the places, without what makes them up.
func (p *page) briefCount(c *rules.Count) {
	switch {
	case len(c.Article.Ties) == 0:
	case restsOnBinders(c):
		strong, weak := p.binderFigures(c.Lines)
		p.say(p.w.Count.BriefIf, "need", p.needs(c), "has", p.down(c.Credit), "wll", p.w.list(strong), "weak", p.w.list(weak),
			"low", p.down(c.Weaker), "short", p.up(c.NeedHigh-c.Weaker))
	case c.Article.Weight.Known():
		p.say(p.w.Count.Brief, "need", p.needs(c), "has", p.down(c.Credit))
	case c.Credit > 0:
		p.say(p.w.Count.GoodUpTo, "has", p.down(c.Credit), "good", p.down(c.GoodUpTo), "unit", p.word, "if", p.goodIf(c))
	}
	for i := range c.Findings {
		if f := &c.Findings[i]; counted(f) {
			p.say(p.finding(c, f))
		}
	}
}

// keepQuestion makes the sentences of the question ones that are not left out.
func keepQuestion(list []sentence, question string) {
	for i := range list {
		if strings.Contains(question, list[i].text) {
			list[i].rank = must
			if i+1 < len(list) && strings.Contains(list[i+1].text, " / ") {
				list[i+1].rank = must // the answers it takes
			}
		}
	}
}

// apart is what do writes, on a page of its own that is like p.
func (p *page) apart(do func(*page)) string {
	q := *p
	q.text, q.start = nil, 0
	do(&q)
	return oneLine(q.reply())
}

// oneLine is a text without line ends: a line that does not end with a sign ends
// with a stop, so that what it says does not run into the next.
func oneLine(text string) string {
	var b strings.Builder
	for line := range strings.Lines(text) {
		words := strings.Fields(line)
		if len(words) == 0 {
			continue
		}
		if n := b.Len(); n > 0 {
			if strings.IndexByte(".,;:!?/-", b.String()[n-1]) < 0 {
				b.WriteByte('.')
			}
			b.WriteByte(' ')
		}
		b.WriteString(strings.Join(words, " "))
	}
	return b.String()
}

// split parts a line into its sentences.
func split(line string) []string {
	var list []string
	from := 0
	for i := 0; i+2 < len(line); i++ {
		if strings.IndexByte(".!?", line[i]) < 0 || line[i+1] != ' ' {
			continue
		}
		if next, _ := utf8.DecodeRuneInString(line[i+2:]); unicode.IsUpper(next) || unicode.IsDigit(next) {
			list = append(list, line[from:i+1])
			from = i + 2
		}
	}
	if from < len(line) {
		list = append(list, line[from:])
	}
	return list
}
