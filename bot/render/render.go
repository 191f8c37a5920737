// Package render says a reply: as text for cold hands and a small screen, and
// as the data contract's JSON object. It decides no outcome and rounds only in
// print. Every word it says stands in words.go or in topics/*.md.
package render

import (
	"bytes"

	"halfweight/bot/talk"
	"halfweight/bot/wire"
	"halfweight/rules"
)

// Body is a reply ready to send.
func Body(r talk.Reply) wire.Body {
	p := write(r)
	return wire.Body{Text: p.reply(), Data: p.data(r)}
}

// Text is the reply in words, in short lines.
func Text(r talk.Reply) string { return write(r).reply() }

// write lays a reply on a page, in the chat's unit and language.
func write(r talk.Reply) *page {
	p := blank(r.Units)
	p.under(rules.Named(r.Rules).With(r.House...))
	p.took = p.taken(r)
	if r.Report != nil && len(r.Report.Articles) > 0 {
		p.load(r)
	} else {
		p.answer(r)
	}
	return p
}

// blank is an empty page in a unit, under the federal rules.
func blank(unit string) *page {
	p := &page{measure: measureIn(unit), w: &english, text: make([]byte, 0, 1024)}
	p.under(rules.Federal)
	return p
}

// under speaks by the rules of a set.
func (p *page) under(set rules.Set) {
	p.lim, p.law = set.Limits(), p.w.Laws[set.Name]
}

// reply is the text of the page.
func (p *page) reply() string { return string(bytes.TrimSpace(p.text)) }
