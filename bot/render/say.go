package render

import (
	"slices"
	"strconv"
	"strings"
	"unicode"

	"halfweight/bot/talk"
	"halfweight/parser"
	"halfweight/rules"
	"halfweight/rules/load"
)

// finding is one requirement as a sentence.
func (p *page) finding(c *rules.Count, f *rules.Finding) string {
	words := p.findingWords(f)
	if f.Rule == "aggregate" && !c.Article.Weight.Known() {
		words = p.w.Findings["aggregate/weight not told"] // there is no need to name
	}
	return capital(p.filledFor(c, f, words.Say))
}

// short is what a short requirement is short of, for the first line.
func (p *page) short(c *rules.Count, f *rules.Finding) string {
	return p.filledFor(c, f, p.findingWords(f).Head)
}

func (p *page) findingWords(f *rules.Finding) findingWords {
	return p.w.Findings[f.Rule+"/"+f.Reason]
}

// filledFor fills the words of a finding from its article.
func (p *page) filledFor(c *rules.Count, f *rules.Finding, phrase string) string {
	var room [128]byte
	return string(expand(room[:0], phrase, func(name string) string {
		switch name {
		case "part":
			return p.findingPart(c, f.Part, f.Subject)
		case "have":
			if f.Outcome == rules.Met && f.Rule == "corners" {
				return strconv.Itoa(min(f.Have, f.Want)) // "4 of 4", however many more there are
			}
			return strconv.Itoa(f.Have)
		case "want":
			return strconv.Itoa(f.Want)
		case "need":
			return p.up(c.NeedHigh)
		case "low":
			return p.up(c.NeedLow)
		case "has":
			return p.down(c.Credit)
		case "weaker":
			return p.down(c.Weaker)
		case "good":
			return p.down(c.GoodUpTo)
		case "weight":
			return p.near(c.Article.Weight.Told)
		}
		return p.figure(name)
	}))
}

func (p *page) findingPart(c *rules.Count, key, subject string) string {
	if subject != "" {
		return subject
	}
	return p.w.part(key, c.Article.Parts)
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

// sameKind says whether two tie-downs are of the same material, size and grade.
func sameKind(a, b *load.TieDown) bool {
	return a.Material == b.Material && a.Size == b.Size && a.Grade == b.Grade && a.Make == b.Make && a.Mark == b.Mark
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
	p.limits(&a.Tie)
	if a.Tie.Material == load.Webbing && len(a.Tie.State.Damage) > 0 {
		p.say(w.LookAlong)
	}
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

// oneOf names one of a line's tie-downs: "a corner chain", "the front left chain".
func (p *page) oneOf(c *rules.Count, l *rules.Line) string {
	n, noun := &p.w.Name, p.w.noun(l.Tie.Material, 1)
	at := placeOf(c, l)
	switch {
	case at.On != "":
		return filled(n.TheOn, "noun", noun, "part", p.w.part(at.On, c.Article.Parts))
	case at.Spread == "corners" || at.End != "" && at.Side != "" && len(l.IDs) > 1:
		return filled(n.AnyCorner, "noun", noun)
	case at.End != "" || at.Side != "":
		if len(l.IDs) > 1 {
			return filled(n.AnyAt, "noun", noun, "place", p.w.place(at, nil))
		}
		return filled(n.TheAt, "noun", noun, "place", p.w.place(at, nil))
	case at.Spread == "ends":
		return filled(n.AnyEnd, "noun", noun)
	}
	return filled(n.Any, "kind", p.brief(l.Tie, 1))
}

// placeOf is where a line holds; told nowhere, where it is taken to hold.
func placeOf(c *rules.Count, l *rules.Line) load.Place {
	if l.Tie.Place != (load.Place{}) {
		return l.Tie.Place
	}
	for i := range c.Assumed {
		a := &c.Assumed[i]
		spread := map[string]string{rules.CodeOnePerCorner: "corners", rules.CodeOnePerEnd: "ends"}[a.Code]
		if spread == "" {
			continue
		}
		for _, id := range a.IDs {
			if len(l.IDs) > 0 && id == l.IDs[0] {
				return load.Place{Spread: spread}
			}
		}
	}
	return load.Place{}
}

// said is something taken for granted, or a remark, in words.
type said struct{ code, look, say string }

// taken lists what was taken for granted, each code of the report once.
func (p *page) taken(r talk.Reply) []said {
	list := make([]said, 0, 8)
	for i := range r.Assumed {
		a := &r.Assumed[i]
		tie := load.TieDown{}
		if a.Tie != nil {
			tie = *a.Tie
		}
		w := p.w.Assumptions[a.Code]
		args := []string{"weight", p.near(a.Mass), "unit", p.word, "kind", p.brief(tie, 2), "n", strconv.Itoa(a.Count)}
		list = append(list, said{a.Code, filled(w.Look, args...), filled(w.Say, args...)})
	}
	if r.Report == nil {
		return list
	}
	for i := range r.Report.Articles {
		for j := range r.Report.Articles[i].Assumed {
			code := r.Report.Articles[i].Assumed[j].Code
			if slices.ContainsFunc(list, func(s said) bool { return s.code == code }) {
				continue // said with the one before
			}
			w := p.w.Assumptions[code]
			list = append(list, said{code, p.assumed(r.Report, code, w.Look), capital(p.assumed(r.Report, code, w.Say))})
		}
	}
	return list
}

// assumed fills the words of an assumption from all that is assumed by that code.
func (p *page) assumed(r *rules.Report, code, phrase string) string {
	if !strings.Contains(phrase, "{") {
		return phrase
	}
	var room [128]byte
	return string(expand(room[:0], phrase, func(name string) string {
		var list []string
		weight, noun := load.Weight{}, ""
		for i := range r.Articles {
			c := &r.Articles[i]
			for j := range c.Assumed {
				a := &c.Assumed[j]
				if a.Code != code {
					continue
				}
				weight = c.Article.Weight
				switch {
				case name == "name":
					list = addNew(list, p.name(c))
				case name == "part" && a.Part != "":
					list = addNew(list, p.w.part(a.Part, c.Article.Parts))
				}
				for _, t := range tiesOf(c, a.IDs) {
					switch name {
					case "noun":
						noun = p.w.noun(t.Material, 1)
					case "nouns":
						noun = p.w.noun(t.Material, 2)
					case "part":
						if t.Place.On != "" {
							list = addNew(list, p.w.part(t.Place.On, c.Article.Parts))
						}
					case "stamps":
						list = p.stamps(list, t)
					case "tensioner":
						if word := p.w.Name.Tensioner[t.Material]; word != "" {
							list = addNew(list, word)
						}
					}
				}
			}
		}
		switch name {
		case "noun", "nouns":
			return noun
		case "ton":
			return p.near(weight.Low)
		case "tonne":
			return p.near(weight.High)
		case "unit":
			return p.word
		case "tensioner":
			return p.w.either(list)
		}
		return p.w.list(list)
	}))
}

// tiesOf is one tie-down of each line that holds some of the ids, what is set
// aside too.
func tiesOf(c *rules.Count, ids []int) []*load.TieDown {
	list := make([]*load.TieDown, 0, 8)
	for i := range c.Lines {
		if about(&c.Lines[i], ids) {
			list = append(list, &c.Lines[i].Tie)
		}
	}
	for i := range c.SetAside {
		if about(&c.SetAside[i].Line, ids) {
			list = append(list, &c.SetAside[i].Tie)
		}
	}
	return list
}

// about says whether a line holds any of the tie-downs.
func about(l *rules.Line, ids []int) bool {
	return slices.ContainsFunc(l.IDs, func(id int) bool { return slices.Contains(ids, id) })
}

// stamps adds the parts of a tie-down whose stamp is still to be read.
func (p *page) stamps(list []string, t *load.TieDown) []string {
	if t.Tensioner.Rating == 0 && p.w.Name.Tensioner[t.Material] != "" {
		list = addNew(list, p.w.Name.Tensioner[t.Material])
	}
	if t.Hook == 0 {
		list = addNew(list, p.w.Name.Hook)
	}
	if t.Anchor == 0 {
		list = addNew(list, p.w.Name.Ring)
	}
	return list
}

// lookOrder is the order in which things are to be looked at: first what the
// count may be wrong by, then the walk round, then the stamps.
var lookOrder = []string{
	"pounds", rules.CodeShortTon, rules.CodeCountOne, rules.CodeGrade30, rules.CodeLesserAlloy, rules.CodeHalfCredit,
	rules.CodeFromGear, "fewer-in-gear",
	rules.CodeOnePerCorner, rules.CodeOnePerEnd, rules.CodeOnTheMachine, rules.CodeTensionerThere, rules.CodeSound,
	rules.CodeDown, rules.CodeLockIsBar, rules.CodeOtherStowed, rules.CodeAccessoryCounted,
	rules.CodePartsNotWeaker, rules.CodeTableRow,
}

// look lists what was taken for granted as things to go and look at, then the
// remarks.
func (p *page) look(r talk.Reply) {
	p.turn()
	taken := slices.Clone(p.took)
	slices.SortStableFunc(taken, func(a, b said) int {
		return slices.Index(lookOrder, a.code) - slices.Index(lookOrder, b.code)
	})
	var things []string
	for _, s := range taken {
		if s.look != "" {
			things = append(things, s.look)
		}
	}
	if len(things) > 0 {
		p.say(p.w.Look, "list", strings.Join(things, "; "))
	}
	for _, s := range p.remarked(r) {
		if s.code == rules.RemarkWeighIt && r.Ask != nil && (r.Ask.Key == rules.AskPlate || r.Ask.Key == rules.AskWeight) {
			continue // asked
		}
		p.say(s.say)
	}
	p.turn()
}

// remarked lists the remarks, each once.
func (p *page) remarked(r talk.Reply) []said {
	var list []said
	if r.Report == nil {
		return nil
	}
	for i := range r.Report.Articles {
		c := &r.Report.Articles[i]
	next:
		for _, m := range c.Remarks {
			s := said{code: m.Code, say: p.filled(p.w.Remarks[m.Code], "part", p.w.part(m.Part, c.Article.Parts))}
			for _, have := range list {
				if have == s {
					continue next
				}
			}
			list = append(list, s)
		}
	}
	return list
}

// ask asks the one question.
func (p *page) ask(q *talk.Question) {
	if q == nil {
		return
	}
	p.say(p.question(q))
	p.say(p.options(q))
	p.say(p.questionWords(q).Hint)
}

// question is the open question without the answers it takes.
func (p *page) question(q *talk.Question) string {
	s := capital(p.filledAsk(q, p.questionWords(q).Ask))
	if q.Name != "" {
		s = filled(p.w.AskOne, "name", capital(plain(q.Name, 40)), "question", s)
	}
	return s
}

// options are the answers a question takes: "YES / NO / DON'T KNOW."
func (p *page) options(q *talk.Question) string {
	if len(q.Options) == 0 {
		return ""
	}
	list := make([]string, len(q.Options))
	for i, o := range q.Options {
		if list[i] = p.w.Options[o]; list[i] == "" {
			list[i] = strings.ToUpper(o)
		}
	}
	return strings.Join(list, " / ") + "."
}

// questionWords are those of the key, of damage by the measure that would settle
// it.
func (p *page) questionWords(q *talk.Question) questionWords {
	if q.Key == rules.AskDamage {
		if w, ok := p.w.Questions[q.Key+"/"+q.Subject]; ok {
			return w
		}
	}
	return p.w.Questions[q.Key]
}

// subject is what a question is about, for the first line: "bucket", "joint".
func (p *page) subject(q *talk.Question) string {
	return p.filledAsk(q, p.questionWords(q).Head)
}

func (p *page) filledAsk(q *talk.Question, phrase string) string {
	part := q.Subject
	if part == "" {
		part = word(p.w.Name.Parts, q.Part)
	}
	return filled(phrase, "part", part)
}

// notRead quotes what was not read, word for word.
func (p *page) notRead(spans []parser.Span, grave bool) {
	if len(spans) == 0 {
		return
	}
	phrase := p.w.Read.NotRead
	if grave {
		phrase = p.w.Read.Grave
	}
	p.line(phrase, "quote", p.quoted(spans))
}

// quoted is the first few pieces of text in quotes, and how many more there are.
func (p *page) quoted(spans []parser.Span) string {
	const most, long = 3, 40
	var list []string
	for i, s := range spans {
		if i == most {
			list = append(list, filled(p.w.Read.Rest, "n", strconv.Itoa(len(spans)-most)))
			break
		}
		list = append(list, `"`+plain(s.Text, long)+`"`)
	}
	return p.w.list(list)
}

// plain is a user's text as it can be shown: no control or format characters,
// cut after so many characters.
func plain(s string, most int) string {
	if len(s) <= most && strings.IndexFunc(s, hidden) < 0 {
		return s
	}
	var out strings.Builder
	n := 0
	for _, r := range s {
		if n == most {
			out.WriteString("...")
			break
		}
		if hidden(r) {
			r = ' '
		}
		out.WriteRune(r)
		n++
	}
	return out.String()
}

// hidden says whether a character would not be seen, or would steer a screen.
func hidden(r rune) bool {
	return unicode.IsControl(r) || unicode.In(r, unicode.Cf, unicode.Zl, unicode.Zp)
}

// capital begins s with a capital.
func capital(s string) string {
	for i, r := range s {
		return s[:i] + string(unicode.ToUpper(r)) + s[i+len(string(r)):]
	}
	return s
}
