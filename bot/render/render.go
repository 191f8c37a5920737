// Package render says a reply: as text for cold hands and a small screen, and
// as the data contract's JSON object. It decides no outcome and rounds only in
// print. Every word it says stands in words.go or in topics/*.md.
package render

import (
	"bytes"

	"halfweight/bot/talk"
	"halfweight/bot/wire"
)

// Body is a reply ready to send.
func Body(r talk.Reply) wire.Body {
	text := Text(r)
	return wire.Body{Text: text, Data: data(r, text)}
}

// Text is the reply in words, in short lines.
func Text(r talk.Reply) string {
	p := blank(r)
	if r.Report != nil && len(r.Report.Articles) > 0 {
		p.load(r)
	} else {
		p.answer(r)
	}
	return string(bytes.TrimSpace(p.text))
}

// blank is an empty page in the chat's unit and language.
func blank(r talk.Reply) *page {
	return &page{measure: measureIn(r.Units), w: &english}
}
