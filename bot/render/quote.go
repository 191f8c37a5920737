package render

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"halfweight/parser"
)

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
	if len(s) <= most && utf8.ValidString(s) && strings.IndexFunc(s, hidden) < 0 {
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
