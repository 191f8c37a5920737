package main

import (
	"errors"
	"io"
	"slices"
	"strings"
	"testing"
	"testing/iotest"
)

func TestScreen_foreignTextCannotDriveTheTerminal(t *testing.T) {
	var out, err strings.Builder
	s := screen{out: &out, err: &err}
	s.print("unread: \x1b[2J\r\x00\x7f\u009b2J\n⅜ 🚜")
	s.mistake("there is no \x1b[2J", "try\x07 again")
	if got, want := out.String(), "unread: \uFFFD[2J\uFFFD\uFFFD\uFFFD\uFFFD2J\n⅜ 🚜\n"; got != want {
		t.Errorf("it prints %q, want %q", got, want)
	}
	if got, want := err.String(), "there is no \uFFFD[2J\ntry\uFFFD again\n"; got != want {
		t.Errorf("it says %q, want %q", got, want)
	}
}

func TestLines_ofAnyLengthAndEnd(t *testing.T) {
	long := strings.Repeat("x", 1<<20)
	for text, want := range map[string][]string{
		"":               nil,
		"a":              {"a"},
		"a\n":            {"a"},
		"a\nb":           {"a", "b"},
		"\n\na\r\n\r\n":  {"", "", "a", ""},
		"a\rb\n":         {"a\rb"},
		long + "\nb\n":   {long, "b"},
		"a\x00b\n\xff\n": {"a\x00b", "\xff"},
	} {
		var got []string
		err := lines(iotest.HalfReader(strings.NewReader(text)), func(line string) error { got = append(got, line); return nil })
		if err != nil || !slices.Equal(got, want) {
			t.Errorf("lines of %.40q: %.40q, %v, want %.40q", text, got, err, want)
		}
	}
}

func TestLines_endWithWhatStoppedThem(t *testing.T) {
	broken := errors.New("broken pipe")
	if err := lines(iotest.ErrReader(broken), func(string) error { return nil }); err != broken {
		t.Errorf("reading: got %v, want %v", err, broken)
	}
	n := 0
	err := lines(strings.NewReader("a\nb\n"), func(string) error { n++; return io.ErrShortWrite })
	if err != io.ErrShortWrite || n != 1 {
		t.Errorf("handling: got %v after %d lines", err, n)
	}
}
