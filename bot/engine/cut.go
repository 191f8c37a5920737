package engine

import (
	"strings"
	"unicode/utf8"

	"halfweight/bot/wire"
)

// cut makes several bodies of one whose text is longer than length, in UTF-16
// code units; 0 is no limit. The buttons stay under the last.
func cut(bodies []wire.Body, length int) []wire.Body {
	var all []wire.Body
	for _, b := range bodies {
		for length > 0 {
			n := fits(b.Text, length)
			if n == len(b.Text) {
				break
			}
			all = append(all, wire.Body{Text: strings.TrimSpace(b.Text[:n])})
			b.Text = strings.TrimSpace(b.Text[n:])
		}
		all = append(all, b)
	}
	return all
}

// fits is how many bytes of a text to take for one body: whole lines, or else
// whole words, or else what there is room for.
func fits(text string, length int) int {
	units, line, word := 0, 0, 0
	for i, r := range text {
		if units++; r > 0xFFFF {
			units++ // a surrogate pair
		}
		if units > length {
			switch {
			case line > 0:
				return line
			case word > 0:
				return word
			case i > 0:
				return i
			}
			return utf8.RuneLen(r)
		}
		switch r {
		case '\n':
			line = i + 1
		case ' ':
			word = i + 1
		}
	}
	return len(text)
}
