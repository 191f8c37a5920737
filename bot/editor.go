package main

import (
	"io"
	"strings"
	"unicode/utf8"

	"golang.org/x/term"
)

// editor reads messages from a terminal in raw mode: the arrow keys move on the
// line and through what was sent before, and a paste of many lines is one
// message. It stands on x/term, the one of the line editors looked at that
// understands bracketed paste. That knows no message of many lines, so a line
// end inside one is shown and edited as lineEnd.
type editor struct {
	*term.Terminal
	out  io.Writer
	size func() (width, height int, err error) // of the terminal
}

const lineEnd = "⏎"

func newEditor(in io.Reader, out io.Writer, size func() (int, int, error)) *editor {
	keys := struct {
		io.Reader
		io.Writer
	}{&pasteReader{in: in}, out}
	ed := &editor{term.NewTerminal(keys, "> "), out, size}
	ed.SetBracketedPasteMode(true)
	return ed
}

// Write prints text, its lines broken at spaces to fit the terminal: a figure
// cut in two could be read as another one.
func (e *editor) Write(text []byte) (int, error) {
	out := string(text)
	if width, _, err := e.size(); err == nil {
		out = wrap(out, width)
	}
	if _, err := io.WriteString(e.Terminal, out); err != nil {
		return 0, err
	}
	return len(text), nil
}

// wrap turns spaces of text into line ends, so that no line is longer than width
// but one without a space.
func wrap(text string, width int) string {
	out := []byte(text)
	column, space := 0, -1 // characters of the line so far; its last space
	for i, r := range text {
		switch r {
		case '\n':
			column, space = 0, -1
			continue
		case ' ':
			space = i
		}
		if column++; column > width && space >= 0 {
			out[space] = '\n'
			column, space = utf8.RuneCountInString(text[space+1:i+utf8.RuneLen(r)]), -1
		}
	}
	return string(out)
}

// close leaves the line, and lets the terminal handle pastes as it did before.
func (e *editor) close() {
	e.SetBracketedPasteMode(false)
	io.WriteString(e.out, "\r\n")
}

// messages yields what is sent until Ctrl-D on an empty line, or Ctrl-C.
func (e *editor) messages(yield func(string) error) error {
	for {
		if width, height, err := e.size(); err == nil {
			e.SetSize(width, height)
		}
		line, err := e.ReadLine()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return err
		}
		if err := yield(strings.ReplaceAll(line, lineEnd, "\n")); err != nil {
			return err
		}
	}
}

// In bracketed paste mode the terminal sends these before and after a paste.
const pasteStart, pasteEnd = "\x1b[200~", "\x1b[201~"

// pasteReader passes on the keys of a terminal. Inside a paste it turns line
// ends to lineEnd and other control characters to spaces: no paste sends itself
// or moves the cursor.
type pasteReader struct {
	in      io.Reader
	pasting bool
	matched int    // bytes of the next start or end seen so far
	cr      bool   // the last byte was a carriage return, inside a paste
	out     []byte // passed, not read yet
}

func (p *pasteReader) Read(b []byte) (int, error) {
	for len(p.out) == 0 {
		var keys [256]byte
		n, err := p.in.Read(keys[:])
		for _, c := range keys[:n] {
			p.pass(c)
		}
		if n == 0 {
			return 0, err
		}
	}
	n := copy(b, p.out)
	p.out = p.out[n:]
	return n, nil
}

func (p *pasteReader) pass(c byte) {
	next := pasteStart
	if p.pasting {
		next = pasteEnd
	}
	if c != next[p.matched] {
		p.matched = 0
	}
	if c == next[p.matched] {
		p.matched++
	}
	cr := p.cr
	p.cr = p.pasting && c == '\r'
	switch {
	case p.pasting && c == '\n' && cr:
	case p.pasting && (c == '\r' || c == '\n'):
		p.out = append(p.out, lineEnd...)
	case p.pasting && c < ' ' && p.matched == 0:
		p.out = append(p.out, ' ')
	default:
		p.out = append(p.out, c)
	}
	if p.matched == len(next) {
		p.pasting, p.matched = !p.pasting, 0
	}
}
