package parser

import (
	"strconv"
	"strings"

	"halfweight/rules/load"
)

// Limits of a figure that is taken as read: beyond them it is absurd, and
// unread.
const (
	maxPounds = 1_000_000
	maxCount  = 200
	bareLeast = 1000 // a bare number this large may be a weight
)

var numberWords = map[string]int64{
	"zero": 0, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10,
	"eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16, "seventeen": 17,
	"eighteen": 18, "nineteen": 19, "twenty": 20, "thirty": 30, "forty": 40, "fourty": 40, "fifty": 50, "sixty": 60,
	"seventy": 70, "eighty": 80, "ninety": 90, "single": 1, "hundred": 100, "thousand": 1000, "thousands": 1000, "thou": 1000,
}

var fractionWords = map[string]int64{
	"half": 2, "halves": 2, "quarter": 4, "quarters": 4, "eighth": 8, "eighths": 8, "eights": 8, "eigths": 8, "sixteenth": 16, "sixteenths": 16,
}

// spokenNumber reads a number told in words from pieces[i:], or in figures
// followed by "thousand" or "hundred". next is i when there is none.
func (b *builder) spokenNumber(i int) (n load.Micro, next int) {
	if b.isNumber(i) && !b.p[i].odd && (b.isWord(i+1, "thousand") || b.isWord(i+1, "thou") || b.isWord(i+1, "hundred")) {
		return b.figureThousand(i)
	}
	start := i
	var s spokenSum
	for b.is(i, shapeWord) {
		w := b.p[i].word
		if s.last == saidNothing && w == "a" && (b.isWord(i+1, "hundred") || b.isWord(i+1, "thousand")) {
			s.cur, s.last = 1, saidUnit
			i++
			continue
		}
		if w == "and" && i > start {
			j := b.andAhead(&s, i)
			if j == i {
				break
			}
			i = j
			continue
		}
		v, ok := numberWords[w]
		if !ok || v < 10 && b.anotherNumber(&s, i) || !s.add(v) {
			break
		}
		i++
	}
	if s.last == saidNothing {
		return 0, start
	}
	return b.spokenPoint(s.sum(), i)
}

// figureThousand reads "14 thousand", "14 thousand five hundred", "6 hundred".
func (b *builder) figureThousand(i int) (n load.Micro, next int) {
	n = b.p[i].num
	if n > 1000*load.One {
		return 0, i
	}
	if b.isWord(i+1, "hundred") {
		return n * 100, i + 2
	}
	n, i = n*1000, i+2
	if b.isNumber(i) && b.isWord(i+1, "hundred") && b.p[i].num < 10*load.One {
		return n + b.p[i].num*100, i + 2
	}
	if h := b.spokenHundreds(i); h > 0 {
		return n + load.Micro(h)*load.One, i + 2
	}
	return n, i
}

// spokenSum is a number told in words while it is read.
type spokenSum struct {
	total int64      // the thousands
	cur   int64      // what is told beside them
	half  load.Micro // "and a half"
	last  said
}

// said is what sort of number word came last.
type said uint8

const (
	saidNothing said = iota
	saidUnit         // a unit or a teen
	saidTens
	saidHundred
	saidThousand
)

func (s *spokenSum) sum() load.Micro { return load.Micro(s.total+s.cur)*load.One + s.half }

// add takes the next number word; false when it begins another number.
func (s *spokenSum) add(v int64) bool {
	if s.half != 0 && v < 100 {
		return false
	}
	if s.last == saidNothing && v >= 100 {
		s.cur = 1
	}
	switch {
	case v == 1000:
		if s.total > 0 {
			s.half = 0
			return false
		}
		s.total, s.cur, s.last = s.cur*1000, 0, saidThousand
		s.total, s.half = s.total+int64(s.half*1000/load.One), 0
	case v == 100:
		if s.cur >= 100 || s.cur == 0 {
			return false
		}
		s.cur, s.last = s.cur*100, saidHundred
		s.cur, s.half = s.cur+int64(s.half*100/load.One), 0
	case v < 10:
		if s.last == saidUnit || s.last == saidTens && s.cur%10 != 0 {
			return false
		}
		s.cur, s.last = s.cur+v, saidUnit
	default: // teens and tens
		if s.last == saidUnit || s.last == saidTens || s.last == saidThousand {
			return false
		}
		s.cur, s.last = s.cur+v, saidUnit
		if v >= 20 {
			s.last = saidTens
		}
	}
	return true
}

// andAhead reads on past the "and" at i: "twelve and a half thousand", "four
// hundred and fifty". It returns i where the number ends there.
func (b *builder) andAhead(s *spokenSum, i int) int {
	if s.half == 0 {
		if b.isWord(i+1, "half") {
			s.half = load.One / 2
			return i + 2
		}
		if b.isWord(i+1, "a") && b.isWord(i+2, "half") {
			s.half = load.One / 2
			return i + 3
		}
	}
	if s.last == saidHundred && b.is(i+1, shapeWord) && !b.fractionAhead(i+1) {
		if v := numberWords[b.p[i+1].word]; v > 0 && v < 100 {
			return i + 1
		}
	}
	return i
}

// anotherNumber says whether the unit at i begins a number of its own: "four
// three eighths", "twenty thousand four chains".
func (b *builder) anotherNumber(s *spokenSum, i int) bool {
	if b.fractionAhead(i) {
		return true
	}
	if s.last != saidThousand || b.isWord(i+1, "hundred") {
		return false
	}
	u, _ := b.unit(i + 1)
	return u != "lb" && u != "kg"
}

// spokenPoint reads the decimals of n told from pieces[i:]: "point three five".
func (b *builder) spokenPoint(n load.Micro, i int) (load.Micro, int) {
	if !b.isWord(i, "point") {
		return n, i
	}
	j := i + 1
	for scale := load.One / 10; b.is(j, shapeWord) && scale > 0; scale /= 10 {
		v, ok := numberWords[b.p[j].word]
		if !ok || v > 9 {
			break
		}
		n += load.Micro(v) * scale
		j++
	}
	if j == i+1 {
		return n, i
	}
	return n, j
}

// spokenHundreds is "five hundred" at i, 0 when it is not that.
func (b *builder) spokenHundreds(i int) int64 {
	if i+1 < len(b.p) && b.p[i].shape == shapeWord && b.isWord(i+1, "hundred") {
		if v := numberWords[b.p[i].word]; v > 0 && v < 10 {
			return v * 100
		}
	}
	return 0
}

// fractionAhead says whether the number word at i counts the parts of a
// fraction: "three eighths".
func (b *builder) fractionAhead(i int) bool {
	if i+1 >= len(b.p) || b.p[i+1].shape != shapeWord {
		return false
	}
	d, ok := fractionWords[b.p[i+1].word]
	n := numberWords[b.p[i].word]
	if !ok || n >= d {
		return false
	}
	if d == 2 || d == 4 && n == 1 {
		// "one half inch", "one quarter inch": a count and a size
		return false
	}
	return true
}

// spokenFraction reads "three eighths", "half" (before a unit of length or a
// grade), "quarter inch" from pieces[i:].
func (b *builder) spokenFraction(i int) (n, d int64, next int) {
	if !b.is(i, shapeWord) {
		return 0, 0, i
	}
	w := b.p[i].word
	if v, ok := numberWords[w]; ok && v > 0 && v < 16 && b.fractionAhead(i) {
		return v, fractionWords[b.p[i+1].word], i + 2
	}
	if w == "half" || w == "quarter" {
		d := fractionWords[w]
		j := i + 1
		if b.isWord(j, "in") && !b.p[j].glued && !b.wideAhead(j+1) && !b.gradeAhead(j+1) {
			return 0, 0, i // "half in": not all the way
		}
		if j < len(b.p) && (b.p[j].shape == shapeSign && b.p[j].sign == '"' || b.p[j].shape == shapeWord && (isInch(b.p[j].word) || b.p[j].word == "grade" || b.p[j].word == "g" || b.p[j].word == "gr" || b.p[j].word == "chain" || b.p[j].word == "chains")) {
			return 1, d, j
		}
	}
	return 0, 0, i
}

// gradeAhead says whether a grade follows at i.
func (b *builder) gradeAhead(i int) bool {
	return b.isWord(i, "g") || b.isWord(i, "grade") || b.isWord(i, "gr")
}

func isInch(w string) bool {
	return w == "inch" || w == "inches" || w == "in" || w == "inchs" || w == "ins"
}

// microString writes a number as people do: 14000, 9.8.
func microString(n load.Micro) string {
	s := strconv.FormatInt(int64(n/load.One), 10)
	if f := n % load.One; f != 0 {
		s += "." + strings.TrimRight(leftPad(strconv.FormatInt(int64(f), 10)), "0")
	}
	return s
}

func leftPad(s string) string { return strings.Repeat("0", 6-len(s)) + s }

// weightOf is a weight of n units of u; ok is false when it is absurd.
func weightOf(n load.Micro, u load.Mass, metric bool) (load.Weight, bool) {
	m, ok := load.Times(n, u)
	if !ok || m <= 0 || m > maxPounds*load.Pound {
		return load.Weight{}, false
	}
	return load.Exact(m, metric), true
}

// tonWeight is a weight told in "tons": a short ton or 1,000 kg each.
func tonWeight(n load.Micro) (load.Weight, bool) {
	low, ok := load.Times(n, load.ShortTon)
	high, ok2 := load.Times(n, load.Tonne)
	if !ok || !ok2 || low <= 0 || high > maxPounds*load.Pound {
		return load.Weight{}, false
	}
	return load.Weight{Told: low, Low: low, High: high, Ton: true}, true
}

// loosely widens a weight by 5 % either way: "about", "ish", "I think".
func loosely(w load.Weight) load.Weight {
	w.Low -= w.Low / 20
	w.High += w.High / 20
	return w
}
