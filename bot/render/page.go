package render

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"halfweight/rules/load"
	"halfweight/rules/tables"
)

// width is how many characters a line may hold before the next sentence starts
// a new one: as many as the models of a reply hold.
const width = 108

// page lays sentences on short lines.
type page struct {
	measure
	w     *words
	lim   *tables.Limits // of the rules in force
	law   lawWords       // how those are spoken of
	text  []byte
	start int    // where the line in hand starts in text
	took  []said // what was taken for granted
	lose  bool   // of each article it is said whose loss would undo it
	doubt string // what leaves every article unsettled, whatever its count

	limited load.Length // width of strap whose limits were said last
	edges   bool        // that cuts on both edges add is said with the question
}

// say adds a sentence to the line in hand, or starts a new line where it no
// longer fits. It begins with a capital.
func (p *page) say(phrase string, args ...string) {
	if phrase == "" {
		return
	}
	gap := len(p.text)
	if gap > p.start {
		p.text = append(p.text, ' ')
	}
	from := len(p.text)
	p.text = p.fill(p.text, phrase, args)
	p.capital(from)
	if from > gap && utf8.RuneCount(p.text[p.start:]) > width {
		p.text[gap] = '\n'
		p.start = from
	}
	p.wrap()
}

// wrap breaks the line in hand while it is too long, at the best of the blanks
// in it: after a full stop, colon, semicolon or slash in its latter half, else after a
// comma there, else at the last.
func (p *page) wrap() {
	for utf8.RuneCount(p.text[p.start:]) > width {
		line := p.text[p.start:]
		best, rank, n := -1, 0, 0
		for i := 0; i < len(line) && n < width; n++ {
			_, size := utf8.DecodeRune(line[i:])
			if line[i] == ' ' && i > 0 {
				r := 0
				switch {
				case n <= width/2:
				case strings.IndexByte(".;:/", line[i-1]) >= 0:
					r = 2
				case line[i-1] == ',':
					r = 1
				}
				if r >= rank {
					best, rank = i, r
				}
			}
			i += size
		}
		if best < 0 {
			return // one long word
		}
		line[best] = '\n'
		p.start += best + 1
	}
}

// turn ends the line in hand.
func (p *page) turn() {
	if len(p.text) > p.start {
		p.text = append(p.text, '\n')
		p.start = len(p.text)
	}
}

// line says one sentence on a line of its own.
func (p *page) line(phrase string, args ...string) {
	p.turn()
	p.say(phrase, args...)
	p.turn()
}

func (p *page) capital(from int) {
	r, size := utf8.DecodeRune(p.text[from:])
	if up := unicode.ToUpper(r); up != r && utf8.RuneLen(up) == size {
		utf8.EncodeRune(p.text[from:], up)
	}
}

// fill appends phrase to dst with each {name} replaced by the value that
// follows that name in args, else by a figure of the rules. A name without a
// value leaves nothing.
func (p *page) fill(dst []byte, phrase string, args []string) []byte {
	return expand(dst, phrase, func(name string) string {
		if v, ok := valueOf(args, name); ok {
			return v
		}
		return p.figure(name)
	})
}

// filled is fill into a string of its own.
func (p *page) filled(phrase string, args ...string) string {
	var room [128]byte
	return string(p.fill(room[:0], phrase, args))
}

// half is the share of the weight that the law asks (49 CFR 393.106(d)).
const half = 50

// figure is a figure of the rules that words name.
func (p *page) figure(name string) string {
	l := p.lim
	switch name {
	case "line":
		return p.near(l.Heavy) + " " + p.word
	case "least":
		return p.near(l.Under5000) + " " + p.word
	case "least hold":
		return p.up(l.LeastHold) + " " + p.word
	case "each end":
		return strconv.Itoa(l.EachEnd)
	case "first":
		return strconv.Itoa(l.FirstCheck)
	case "each":
		return strconv.Itoa(l.NextCheck)
	case "mile":
		return p.law.Mile
	case "miles":
		return p.law.Miles
	case "law":
		return p.law.Name
	case "share":
		if l.Need == half {
			return p.w.Half
		}
		return strconv.Itoa(int(l.Need)) + p.w.Percent
	case "aggregate", "checks":
		return l.Citation(name)
	case "hours":
		return strconv.Itoa(l.NextCheckHours)
	case "unit":
		return p.word
	}
	return ""
}

// filled replaces each {name} of phrase by the value that follows it in args.
func filled(phrase string, args ...string) string {
	var room [128]byte
	return string(expand(room[:0], phrase, func(name string) string {
		v, _ := valueOf(args, name)
		return v
	}))
}

func valueOf(args []string, name string) (string, bool) {
	for i := 0; i+1 < len(args); i += 2 {
		if args[i] == name {
			return args[i+1], true
		}
	}
	return "", false
}

// expand appends phrase to dst with each {name} replaced by its value.
func expand(dst []byte, phrase string, value func(string) string) []byte {
	for {
		before, rest, found := strings.Cut(phrase, "{")
		dst = append(dst, before...)
		if !found {
			return dst
		}
		name, after, _ := strings.Cut(rest, "}")
		dst = append(dst, value(name)...)
		phrase = after
	}
}
