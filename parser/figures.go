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
	start := i
	var total, cur int64
	half := load.Micro(0)
	state := 0 // 0 nothing yet, 1 after a unit or teen, 2 after tens, 3 after hundred, 4 after thousand
	if b.isNumber(i) && !b.p[i].odd && (b.isWord(i+1, "thousand") || b.isWord(i+1, "thou") || b.isWord(i+1, "hundred")) {
		n := b.p[i].num
		unit := load.Micro(1000)
		if b.isWord(i+1, "hundred") {
			unit = 100
		}
		if n > 1000*load.One {
			return 0, start
		}
		m := n * unit
		i += 2
		if unit == 1000 && b.isNumber(i) && b.isWord(i+1, "hundred") && b.p[i].num < 10*load.One {
			m += b.p[i].num * 100
			i += 2
		} else if unit == 1000 && b.spokenHundreds(i) > 0 {
			m += load.Micro(b.spokenHundreds(i)) * load.One
			i += 2
		}
		return m, i
	}
	for i < len(b.p) && b.p[i].shape == shapeWord {
		w := b.p[i].word
		if state == 0 && i+1 < len(b.p) && (w == "a") && (b.isWord(i+1, "hundred") || b.isWord(i+1, "thousand")) {
			cur, state = 1, 1
			i++
			continue
		}
		if w == "and" && i > start {
			// "twelve and a half thousand", "four hundred and fifty"
			if (b.isWord(i+1, "a") && b.isWord(i+2, "half") || b.isWord(i+1, "half")) && half == 0 {
				j := i + 2
				if b.isWord(i+1, "a") {
					j++
				}
				half = load.One / 2
				i = j
				continue
			}
			if state == 3 && i+1 < len(b.p) && b.p[i+1].shape == shapeWord && numberWords[b.p[i+1].word] > 0 && numberWords[b.p[i+1].word] < 100 && !b.fractionAhead(i+1) {
				i++
				continue
			}
			break
		}
		v, ok := numberWords[w]
		if !ok || half != 0 && v < 100 {
			break
		}
		switch {
		case v == 1000:
			if state == 0 {
				cur = 1
			}
			if total > 0 {
				return load.Micro(total+cur) * load.One, i
			}
			total, cur, state = cur*1000, 0, 4
			if half != 0 {
				total += 500
				half = 0
			}
		case v == 100:
			if state == 0 {
				cur = 1
			}
			if cur >= 100 || cur == 0 {
				goto done
			}
			cur, state = cur*100, 3
			if half != 0 {
				cur += 50
				half = 0
			}
		case v < 10:
			if state == 1 || state == 2 && cur%10 != 0 {
				goto done
			}
			if b.fractionAhead(i) && state != 0 {
				goto done // "four three eighths"
			}
			if b.fractionAhead(i) {
				return 0, start // "three eighths" is a size
			}
			if u, _ := b.unit(i + 1); state == 4 && !b.isWord(i+1, "hundred") && u != "lb" && u != "kg" {
				goto done // "twenty thousand four chains"
			}
			cur, state = cur+v, 1
		default: // teens and tens
			if state == 1 || state == 2 || state == 4 {
				goto done
			}
			cur += v
			state = 1
			if v >= 20 {
				state = 2
			}
		}
		i++
	}
done:
	if state == 0 {
		return 0, start
	}
	m := load.Micro(total+cur)*load.One + half
	// "six point three five"
	if b.isWord(i, "point") && i+1 < len(b.p) && b.p[i+1].shape == shapeWord {
		scale := load.One / 10
		j := i + 1
		for ; j < len(b.p) && b.p[j].shape == shapeWord && scale > 0; j++ {
			v, ok := numberWords[b.p[j].word]
			if !ok || v > 9 {
				break
			}
			m += load.Micro(v) * scale
			scale /= 10
		}
		if j > i+1 {
			i = j
		}
	}
	return m, i
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
	if i >= len(b.p) || b.p[i].shape != shapeWord {
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
