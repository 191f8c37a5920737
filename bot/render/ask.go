package render

import (
	"strings"

	"halfweight/bot/talk"
	"halfweight/rules"
	"halfweight/rules/load"
)

// ask asks the one question.
func (p *page) ask(r talk.Reply) {
	if r.Ask == nil {
		return
	}
	p.say(p.question(r))
	p.say(p.options(r.Ask))
	p.say(p.questionWords(r.Ask).Hint)
}

// question is the open question without the answers it takes. What was told of a
// kind too vague is not asked again.
func (p *page) question(r talk.Reply) string {
	q := r.Ask
	phrase := p.questionWords(q).Ask
	if a := asked(r); a != nil && q.Key == rules.AskTied && partDown(a, q.Part) {
		phrase = p.w.Questions[q.Key+"/down"].Ask
	}
	if a := asked(r); a != nil && q.Key == rules.AskKind {
		switch bends := a.Articulated != load.Untold || a.Joint != (load.Joint{}); {
		case a.Still:
			phrase = p.w.Bends
		case bends:
			phrase = p.w.Moves
		}
	}
	checks := ""
	if a := asked(r); a != nil && q.Key == rules.AskEye {
		checks = p.checks(a, q.Part)
	}
	s := capital(filled(p.filledAsk(q, phrase), "checks", checks))
	if q.Name != "" {
		s = filled(p.w.AskOne, "name", capital(plain(q.Name, long)), "question", s)
	}
	return s
}

// asked is the article that the question is about; nil where it is none.
func asked(r talk.Reply) *load.Article {
	if r.Report != nil {
		for i := range r.Report.Articles {
			if a := r.Report.Articles[i].Article; a.ID == r.Ask.Article {
				return a
			}
		}
	}
	return nil
}

// Buttons are the answers that the one question takes, each in the words that
// may be typed too.
func Buttons(r talk.Reply) []string {
	if r.Ask == nil {
		return nil
	}
	return blank(r.Units).choices(r.Ask)
}

func (p *page) choices(q *talk.Question) []string {
	list := make([]string, len(q.Options))
	for i, o := range q.Options {
		if list[i] = p.w.Options[o]; list[i] == "" {
			list[i] = strings.ToUpper(o)
		}
	}
	return list
}

// options are the answers a question takes: "YES / NO / DON'T KNOW."
func (p *page) options(q *talk.Question) string {
	if len(q.Options) == 0 {
		return ""
	}
	return strings.Join(p.choices(q), " / ") + "."
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
	part := plain(q.Subject, long)
	if part == "" {
		part = word(p.w.Name.Parts, q.Part)
	}
	return filled(phrase, "part", part, "checks", "{checks}")
}
