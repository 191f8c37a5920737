package render

import (
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"halfweight/bot/talk"
	"halfweight/parser"
)

// long is the most characters of a user's words that are quoted.
const long = 40

// notRead quotes what was not read, word for word, save what is quoted anyway.
func (p *page) notRead(r talk.Reply) {
	spans := slices.DeleteFunc(slices.Clone(r.Unread), func(s parser.Span) bool {
		return slices.ContainsFunc(r.Says, func(say talk.Say) bool {
			c, ok := say.(talk.Cannot)
			return ok && p.quotes(c, s)
		})
	})
	if len(spans) == 0 {
		return
	}
	phrase := p.w.Read.NotRead
	if r.Grave {
		phrase = p.w.Read.Grave
	}
	p.line(phrase, "quote", p.quoted(spans))
}

// quotes says whether what is said of why something was not done quotes a piece
// of text that was not read; of a message that was too long its length is said, and
// of one without a word nothing.
func (p *page) quotes(c talk.Cannot, s parser.Span) bool {
	phrase := p.w.Cannot[c.Why]
	return c.Why == "too long" || c.Why == "empty" || strings.HasPrefix(c.Why, "record ") || strings.Contains(phrase, "{quote}") ||
		strings.Contains(phrase, "{words}") && strings.Contains(plain(c.Words, long), plain(s.Text, long))
}

// quoted is the first few pieces of text in quotes, each once, and how many more
// there are.
func (p *page) quoted(spans []parser.Span) string {
	const most = 3
	var list []string
	seen := make(map[string]bool, len(spans))
	for _, s := range spans {
		if !seen[s.Text] && len(seen) < most {
			quote := `"` + plain(s.Text, long) + `"`
			if s.Like != "" {
				quote += filled(p.w.Read.Like, "like", s.Like)
			}
			list = append(list, quote)
		}
		seen[s.Text] = true
	}
	if n := len(seen) - most; n > 0 {
		list = append(list, filled(p.w.Read.Rest, "n", strconv.Itoa(n)))
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
