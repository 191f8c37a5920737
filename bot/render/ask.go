package render

import (
	"strings"

	"halfweight/bot/talk"
	"halfweight/rules"
)

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
	part := plain(q.Subject, 40)
	if part == "" {
		part = word(p.w.Name.Parts, q.Part)
	}
	return filled(phrase, "part", part)
}
