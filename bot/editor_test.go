package main

import (
	"bytes"
	"io"
	"slices"
	"strings"
	"testing"
	"testing/iotest"
)

func TestEditor_whatTheKeysSend(t *testing.T) {
	const (
		up, down, left   = "\x1b[A", "\x1b[B", "\x1b[D"
		enter, ctrlD     = "\r", "\x04"
		backspace, ctrlA = "\x7f", "\x01"
	)
	paste := func(s string) string { return pasteStart + s + pasteEnd }
	for _, c := range []struct {
		name, keys string
		want       []string
	}{
		{"lines", "one" + enter + "two" + enter, []string{"one", "two"}},
		{"an empty line is a message", enter, []string{""}},
		{"Ctrl-D on an empty line leaves", "one" + enter + ctrlD + "two" + enter, []string{"one"}},
		{"a line not sent is not a message", "one" + enter + "tw", []string{"one"}},
		{"arrows and backspace edit", "4x 3/8 g7" + left + backspace + "G" + enter, []string{"4x 3/8 G7"}},
		{"Ctrl-A goes to the start", "000 lb" + ctrlA + "14" + enter, []string{"14000 lb"}},
		{"up brings back what was sent", "one" + enter + "two" + enter + up + up + enter, []string{"one", "two", "one"}},
		{"down goes forward again", "one" + enter + "two" + enter + up + up + down + enter, []string{"one", "two", "two"}},
		{"a paste of lines is one message", paste("14000 lb roller\r4x 3/8 g70 direct") + enter, []string{"14000 lb roller\n4x 3/8 g70 direct"}},
		{"whatever its line ends are", paste("a\nb\r\nc\rd") + enter, []string{"a\nb\nc\nd"}},
		{"with empty lines in it", paste("a\r\n\r\nb\n\nc") + enter, []string{"a\n\nb\n\nc"}},
		{"a paste goes on a line begun", "roller " + paste("a\rb") + " c" + enter, []string{"roller a\nb c"}},
		{"two pastes", paste("a\r") + paste("b") + enter + "c" + enter, []string{"a\nb", "c"}},
		{"a message of many lines comes back whole", paste("a\rb") + enter + up + enter, []string{"a\nb", "a\nb"}},
		{"control characters in a paste are spaces", paste("a\tb\x01c\x03\x04d") + enter, []string{"a b c  d"}},
		{"other scripts", "⅜ цепь 🚜" + enter, []string{"⅜ цепь 🚜"}},
	} {
		for _, read := range []struct {
			how string
			of  func(io.Reader) io.Reader
		}{
			{"at once", func(r io.Reader) io.Reader { return r }},
			{"a byte at a time", iotest.OneByteReader},
		} {
			var got []string
			size := func() (int, int, error) { return 80, 24, nil }
			ed := newEditor(read.of(strings.NewReader(c.keys)), io.Discard, size)
			err := ed.messages(func(m string) error { got = append(got, m); return nil })
			if err != nil || !slices.Equal(got, c.want) {
				t.Errorf("%s, %s: got %q, %v, want %q", c.name, read.how, got, err, c.want)
			}
		}
	}
}

func TestEditor_asksForBracketedPasteAndGivesItBack(t *testing.T) {
	var out bytes.Buffer
	ed := newEditor(strings.NewReader(""), &out, func() (int, int, error) { return 80, 24, nil })
	if got := out.String(); got != "\x1b[?2004h" {
		t.Errorf("at the start it writes %q", got)
	}
	out.Reset()
	ed.close()
	if got := out.String(); got != "\x1b[?2004l\r\n" {
		t.Errorf("at the end it writes %q", got)
	}
}

func TestEditor_longPasteStaysWhole(t *testing.T) {
	line := strings.Repeat("x", 99) + "\r"
	keys := pasteStart + strings.Repeat(line, 1000) + pasteEnd + "\r"
	var got []string
	ed := newEditor(strings.NewReader(keys), io.Discard, func() (int, int, error) { return 80, 24, nil })
	if err := ed.messages(func(m string) error { got = append(got, m); return nil }); err != nil {
		t.Fatal(err)
	}
	if want := strings.Repeat(strings.Repeat("x", 99)+"\n", 1000); len(got) != 1 || got[0] != want {
		t.Errorf("%d messages, the first of %d bytes, want one of %d", len(got), len(slices.Concat(got, []string{""})[0]), len(want))
	}
}

func TestWrap_breaksNoFigure(t *testing.T) {
	for _, c := range []struct {
		text  string
		width int
		want  string
	}{
		{"", 10, ""},
		{"Has 19,800: 4 direct", 20, "Has 19,800: 4 direct"},
		{"Has 19,800: 4 direct", 19, "Has 19,800: 4\ndirect"},
		{"Has 19,800: 4 direct", 9, "Has\n19,800: 4\ndirect"},
		{"Has 19,800", 4, "Has\n19,800"},
		{"19,800,000 lb", 4, "19,800,000\nlb"},
		{"one two\nthree\n\n", 5, "one\ntwo\nthree\n\n"},
		{"⅜ ⅜ ⅜ ⅜", 3, "⅜ ⅜\n⅜ ⅜"},
		{"a b ", 3, "a b\n"},
	} {
		if got := wrap(c.text, c.width); got != c.want {
			t.Errorf("%q to %d: got %q, want %q", c.text, c.width, got, c.want)
		}
	}
}
