package parser

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"unicode"
)

// mapped checks the map of a message: its tokens lie in order, each holds its
// piece of the text and has one owner, nothing but white space and what prints
// nothing lies between them, what is unread is quoted where it stands, and an
// unread figure is grave.
func mapped(text string, m Message) error {
	if m.Text != text {
		return fmt.Errorf("the message holds the text %q", m.Text)
	}
	runes := []rune(text)
	span := func(s Span) error {
		n := len([]rune(s.Text))
		if s.At < 0 || n == 0 || s.At+n > len(runes) || string(runes[s.At:s.At+n]) != s.Text {
			return fmt.Errorf("%q does not stand at %d", s.Text, s.At)
		}
		return nil
	}
	if len(runes) > MaxLength {
		if len(m.Unread) != 1 || m.Unread[0] != (Span{Text: string(runes[:60])}) || m.Acts != nil || !m.Grave {
			return errors.New("a message too long is read")
		}
		return nil
	}
	owned := make([]Owner, len(runes)) // of each code point
	for end, i := 0, 0; i < len(m.Tokens); i++ {
		t := m.Tokens[i]
		if err := span(t.Span); err != nil {
			return fmt.Errorf("token %d: %w", i, err)
		}
		if t.At < end {
			return fmt.Errorf("token %d, %q, overlaps the one before it", i, t.Text)
		}
		end = t.At + len([]rune(t.Text))
		switch t.Owner {
		case OwnFact, OwnPhrase, OwnFiller, OwnUnread:
		default:
			return fmt.Errorf("token %d, %q, has the owner %q", i, t.Text, t.Owner)
		}
		if _, ok := kindNames[t.Kind]; !ok {
			return fmt.Errorf("token %d, %q, is of the kind %q", i, t.Text, t.Kind)
		}
		for at := t.At; at < end; at++ {
			owned[at] = t.Owner
		}
		if t.Owner == OwnUnread && unicode.IsDigit(runes[t.At]) && t.Kind != "other" && !m.Grave {
			return fmt.Errorf("the figure %q is unread and not grave", t.Text)
		}
	}
	for at, r := range runes {
		if owned[at] == "" && !unicode.IsSpace(r) && !unicode.In(r, unicode.Mn, unicode.Cc, unicode.Cf, unicode.Variation_Selector) && r != '¡' && r != '¿' && !hyphen(runes, at) {
			return fmt.Errorf("%q at %d is in no token", r, at)
		}
	}
	quoted := make([]bool, len(runes))
	for end, i := -1, 0; i < len(m.Unread); i++ {
		s := m.Unread[i]
		if err := span(s); err != nil {
			return fmt.Errorf("unread %d: %w", i, err)
		}
		if s.At <= end {
			return fmt.Errorf("unread %d, %q, overlaps the one before it", i, s.Text)
		}
		end = s.At + len([]rune(s.Text))
		if owned[s.At] != OwnUnread || owned[end-1] != OwnUnread {
			return fmt.Errorf("unread %d, %q, begins or ends with something read", i, s.Text)
		}
		for at := s.At; at < end; at++ {
			quoted[at] = true
			if owned[at] == OwnFact {
				return fmt.Errorf("unread %d, %q, holds a fact", i, s.Text)
			}
		}
	}
	for at, o := range owned {
		if o == OwnUnread && !quoted[at] {
			return fmt.Errorf("%q at %d is unread and not said to be", runes[at], at)
		}
	}
	return nil
}

// hyphen says whether a dash stands inside a word or figure, which it parts.
func hyphen(text []rune, at int) bool {
	part := func(i int) bool {
		return i >= 0 && i < len(text) && (unicode.IsLetter(text[i]) || unicode.IsNumber(text[i]) || unicode.In(text[i], unicode.Mn, unicode.Cc, unicode.Cf))
	}
	return (unicode.Is(unicode.Pd, text[at]) || text[at] == '−') && part(at-1) && part(at+1)
}

func TestRead_everyTokenHasOneOwner(t *testing.T) {
	for _, text := range append(messages(t), "roller\x00 14000 lb", "\x1b[31mroller\x1b[0m 14000 lb", "\x7f\x01\x02") {
		for _, text := range []string{text, strings.ToUpper(text), "👩‍🔧 é " + text + " 🚜", strings.ReplaceAll(text, " ", ", "), strings.ReplaceAll(text, " ", "\u00a0\t ")} {
			if err := mapped(text, Read(text)); err != nil {
				t.Errorf("%q: %v", text, err)
			}
		}
	}
}

func TestRead_placesAreCountedInCodePoints(t *testing.T) {
	// what stands before the word, and the code points in it
	for before, at := range map[string]int{
		"":           0,
		"a roller ":  9,
		"🚜 ":         2, // one code point, four bytes
		"👩‍🔧 ":       4, // two emoji and the joiner between them
		"👍🏽 ":        3, // an emoji and its skin
		"🇺🇸 ":        3, // two letters make one flag
		"é ":         2,
		"e\u0301 ":   3, // e and a combining accent
		"½ ":         2,
		"\u200b ":    2,
		"\u00a0":     1,
		"\r\n":       2,
		"\ufeff":     1,
		"14000 lb… ": 10,
	} {
		m := Read(before + "florp")
		if n := len(m.Unread); n == 0 || !strings.HasSuffix(m.Unread[n-1].Text, "florp") {
			t.Errorf("%q: unread %s", before, unread(m))
			continue
		}
		last := m.Unread[len(m.Unread)-1]
		if got := last.At + len([]rune(last.Text)) - len("florp"); got != at {
			t.Errorf("%q: the word is said to stand at %d, want %d", before, got, at)
		}
	}
}

func TestRead_tooLongIsRefusedWhole(t *testing.T) {
	longest := strings.Repeat("é", MaxLength)
	if m := Read(longest); len(m.Tokens) == 0 {
		t.Error("a message of the greatest length is not read")
	}
	if err := mapped(longest+"é", Read(longest+"é")); err != nil {
		t.Error(err)
	}
}
