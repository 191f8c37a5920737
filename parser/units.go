package parser

import "halfweight/rules/load"

// This file reads what a figure is of, by what stands behind it: a mass, a size,
// a length, a count.

// figure makes a token of the number n, told in pieces i..j (j not in), and of
// what follows it: a fraction, a sign, an x, a unit. Each step returns the piece
// after the token, i where it finds none.
func (b *builder) figure(n load.Micro, odd bool, i, j int) int {
	if k := b.mixedFigure(n, odd, i, j); k > i {
		return k
	}
	if k := b.signedFigure(n, odd, i, j); k > i {
		return k
	}
	if k := b.timesFigure(n, odd, i, j); k > i {
		return k
	}
	if k := b.unitFigure(n, odd, i, j); k > i {
		return k
	}
	if k := b.wordFigure(n, odd, i, j); k > i {
		return k
	}
	return b.bare(n, odd, i, j)
}

// mixedFigure reads whole inches and a fraction ("1-3/4", "1 3/4 strap"), a
// mixed weight ("7 1/2 tons"), and a count run into a size: "4-3/8".
func (b *builder) mixedFigure(n load.Micro, odd bool, i, j int) int {
	if odd {
		return i
	}
	k := j
	dash := b.is(k, shapeBreak) && b.p[k].sign == '-' && b.p[k].glued && b.is(k+1, shapeRatio) && b.p[k+1].glued
	if dash {
		k++
	}
	if !b.is(k, shapeRatio) {
		return i
	}
	switch u, _ := b.unit(k + 1); {
	case b.isWord(k+1, "thousand"):
		// "14-1/2 thousand"
		return b.figure((n+load.One*b.p[k].num/b.p[k].den)*1000, odd, i, k+2)
	case u == "ton" || u == "tonne" || u == "short ton" || u == "k" || u == "lb" || u == "kg" || b.isWord(k+1, "t"):
		return b.figure(n+load.One*b.p[k].num/b.p[k].den, odd, i, k+1)
	}
	if size, word, ok := b.mixed(n, &b.p[k]); ok && b.wideAhead(b.skipInch(k+1)) {
		return b.put(tok{kind: kSize, size: size, word: word}, i, b.skipInch(k+1))
	}
	if dash && b.countable(piece{num: n}) {
		return b.put(tok{kind: kCount, num: n}, i, k)
	}
	return i
}

// signedFigure reads a figure with a sign of feet, inches or pounds behind it.
func (b *builder) signedFigure(n load.Micro, odd bool, i, j int) int {
	switch {
	case b.isSign(j, '\'') && b.isNumber(j+1) && b.p[j+1].glued && b.p[j+1].end-b.p[j+1].at == 3:
		return b.bad(i, j+2) // 1'200
	case b.isSign(j, '\''):
		return b.feet(n, odd, i, j+1)
	case b.isSign(j, '"'):
		return b.inches(n, i, j+1)
	case b.isSign(j, '#'):
		return b.mass(n, "lb", odd, i, j+1)
	}
	return i
}

// timesFigure reads a figure with an x behind it: a count, or the width of a
// strap told by width and length.
func (b *builder) timesFigure(n load.Micro, odd bool, i, j int) int {
	x := b.isWord(j, "x")
	if x && b.isNumber(j+1) && b.feetAt(j+2) && n <= 4*load.One && n >= load.One {
		return b.inches(n, i, j) // 4x30' straps
	}
	led := x && !b.p[j].glued && b.isNumber(j+1) && b.p[j+1].glued // in "3/8 70 x4" the x leads
	star := b.is(j, shapeDecor) && b.p[j].sign == '*' && b.p[j].glued && j+1 < len(b.p) && b.p[j+1].glued
	if (!x || led) && !star {
		return i
	}
	if odd || !b.countable(piece{num: n}) {
		return b.bad(i, j+1)
	}
	return b.put(tok{kind: kCount, num: n}, i, j+1)
}

// unitFigure reads a figure with a unit of the dictionary behind it.
func (b *builder) unitFigure(n load.Micro, odd bool, i, j int) int {
	u, un := b.unit(j)
	j += un
	switch u {
	case "k":
		return b.thousands(n, odd, i, j)
	case "lb", "kg":
		return b.mass(n, u, odd, i, j)
	case "tonne", "short ton", "ton":
		return b.tons(n, i, j-un, un)
	case "in":
		return b.inches(n, i, j)
	case "ft":
		return b.feet(n, odd, i, j)
	case "mm":
		l, ok := load.Times(n, load.Millimetre)
		if !ok || l <= 0 || odd && n > 100*load.One {
			return b.bad(i, j)
		}
		return b.put(tok{kind: kSize, size: l, word: microString(n) + " mm"}, i, j)
	case "m", "cm":
		unit := load.Metre
		if u == "cm" {
			unit = 10 * load.Millimetre
		}
		l, ok := load.Times(n, unit)
		if !ok || l <= 0 {
			return b.bad(i, j)
		}
		return b.put(tok{kind: kLength, size: l, word: "m"}, i, j)
	}
	return i
}

// thousands reads what follows "14k", which ends at j.
func (b *builder) thousands(n load.Micro, odd bool, i, j int) int {
	if n < 1000*load.One {
		odd = false // 9.999k: no thousands are grouped in front of a k
	}
	if odd || n > 2000*load.One {
		return b.bad(i, j)
	}
	n *= 1000
	if b.isSign(j, '#') {
		return b.mass(n, "lb", odd, i, j+1)
	}
	if u, un := b.unit(j); u == "lb" || u == "kg" {
		return b.mass(n, u, odd, i, j+un)
	}
	return b.bare(n, odd, i, j)
}

// wordFigure reads a figure with a word behind it that tells what it is, and is
// no unit by itself: "9t", "2 m long", "140 miles", "70 grade".
func (b *builder) wordFigure(n load.Micro, odd bool, i, j int) int {
	if !b.is(j, shapeWord) {
		return i
	}
	w, glued := b.p[j].word, b.p[j].glued
	switch {
	case w == "t":
		return b.tFigure(n, odd, i, j)
	case w == "m" && (glued || b.longAhead(j+1)):
		if l, ok := load.Times(n, load.Metre); ok && l > 0 {
			return b.put(tok{kind: kLength, size: l, word: "m"}, i, j+1)
		}
	case w == "in" && (glued || b.roundAhead(j+1) || b.isWord(j+1, "x") && b.isNumber(j+2) && b.feetAt(j+3) || !b.placeAhead(j+1) && b.wideAhead(j+1)):
		return b.inches(n, i, j+1)
	case w == "km" || w == "kms" || w == "kilometres" || w == "kilometers":
		return b.put(tok{kind: kMiles, num: load.Micro(int64(n) * milesPerKm / int64(load.One))}, i, j+1)
	case w == "mi" || w == "mile" || w == "miles":
		return b.put(tok{kind: kMiles, num: n}, i, j+1)
	case w == "st" || w == "nd" || w == "rd" || w == "th":
		if glued {
			return b.put(tok{kind: kFiller}, i, j+1) // "2nd" tells no number of anything
		}
	case glued && b.p[j].at == b.p[j-1].end:
		// "1y", "4g70": a figure run into a word it does not go with
		if e, k, _ := b.phrase(j); k == 0 || e.kind.in(kPlain, kFiller) || len(w) <= 2 && !e.kind.in(kGradeWord, kCorner) && w != "x" {
			return b.bad(i, j+1)
		}
	}
	if w == "grade" && !b.figureAhead(j+1) && gradeValue(n) != "" && !odd {
		return b.put(tok{kind: kGrade, word: gradeValue(n)}, i, j+1)
	}
	return i
}

// tFigure reads "9t" and "9T": t is a tonne, T a ton of either sort.
func (b *builder) tFigure(n load.Micro, odd bool, i, j int) int {
	if odd && n > 1000*load.One {
		return b.bad(i, j+1)
	}
	w, ok := weightOf(n, load.Tonne, true)
	if b.p[j].upper {
		w, ok = tonWeight(n)
	}
	if !ok {
		return b.bad(i, j+1)
	}
	return b.put(tok{kind: kMass, weight: w}, i, j+1)
}

// feetAt says whether a mark or word of feet stands at i; pastFeet is the piece
// after it.
func (b *builder) feetAt(i int) bool {
	u, _ := b.unit(i)
	return b.isSign(i, '\'') || u == "ft"
}

func (b *builder) pastFeet(i int) int {
	if b.isSign(i, '\'') {
		return i + 1
	}
	_, n := b.unit(i)
	return i + n
}

// longAhead says whether the word at i speaks of a length.
func (b *builder) longAhead(i int) bool {
	if !b.is(i, shapeWord) {
		return false
	}
	e, n, _ := b.phrase(i)
	return n > 0 && e.kind == kLong
}

func (b *builder) figureAhead(i int) bool {
	if i >= len(b.p) {
		return false
	}
	if b.p[i].shape == shapeNumber {
		return true
	}
	_, j := b.spokenNumber(i)
	return j > i
}

func (b *builder) bare(n load.Micro, odd bool, i, j int) int {
	if odd || n <= 0 {
		return b.bad(i, j)
	}
	if l, ok := decimalSize(n); ok {
		return b.put(tok{kind: kSize, size: l, word: fractionOf(l)}, i, b.skipInch(j))
	}
	if n >= bareLeast*load.One {
		w, ok := weightOf(n, load.Pound, false)
		if !ok {
			return b.bad(i, j)
		}
		w.Bare = true
		return b.put(tok{kind: kBig, num: n, weight: w, figure: true}, i, j)
	}
	return b.put(tok{kind: kNum, num: n, figure: true}, i, j)
}

// mixed is a whole number of inches and a fraction that straps come in.
func (b *builder) mixed(n load.Micro, f *piece) (load.Length, string, bool) {
	if n != load.One || f.den != 4*load.One {
		return 0, "", false
	}
	size := load.Inch + load.Length(int64(load.Inch)*int64(f.num/load.One)/int64(f.den/load.One))
	return size, "1-" + ratioString(f), true
}

// wideAhead says whether what follows at j is spoken of by its width: a strap
// or band; then whole inches before it are a size.
func (b *builder) wideAhead(j int) bool {
	for k := j; k < len(b.p) && k < j+3; k++ {
		if b.p[k].shape != shapeWord {
			return false
		}
		e, n, _ := b.phrase(k)
		if n == 0 {
			return false
		}
		switch e.kind {
		case kMat:
			return true
		case kWide, kRoute:
			return true
		case kTens:
			return e.word == "ratchet" || e.word == "strap winch"
		case kFiller, kLong:
			continue
		}
		return e.word == "new" || e.word == "yellow"
	}
	return false
}

func (b *builder) inches(n load.Micro, i, j int) int {
	l, ok := load.Times(n, load.Inch)
	if !ok || l <= 0 {
		return b.bad(i, j)
	}
	word := microString(n)
	if f, ok := decimalSize(n); ok {
		word = fractionOf(f)
		l = f
	} else if n == 1_750_000 {
		word = "1-3/4"
	}
	return b.put(tok{kind: kSize, size: l, word: word}, i, j)
}

func (b *builder) feet(n load.Micro, odd bool, i, j int) int {
	l, ok := load.Times(n, load.Foot)
	if !ok || l <= 0 || odd {
		return b.bad(i, j)
	}
	if b.isNumber(j) && !b.p[j].odd && b.p[j].num < 12*load.One {
		in, ok := load.Times(b.p[j].num, load.Inch)
		k := j + 1
		if ok && (b.isSign(k, '"') || b.is(k, shapeWord) && isInch(b.p[k].word)) {
			l += in
			j = k + 1
		}
	}
	return b.put(tok{kind: kLength, size: l}, i, j)
}

func (b *builder) mass(n load.Micro, unit string, odd bool, i, j int) int {
	u := load.Pound
	if unit == "kg" {
		u = load.Kilogram
	}
	w, ok := weightOf(n, u, unit == "kg")
	if !ok || odd {
		return b.bad(i, j)
	}
	return b.put(tok{kind: kMass, weight: w, num: n}, i, j)
}

// tons reads n of the tons at j: exact for tonnes and short tons, either for
// bare "tons". "3/4 ton pickup" is a class of truck and no weight.
func (b *builder) tons(n load.Micro, i, j, un int) int {
	u, _ := b.unit(j)
	if n <= 2*load.One && u != "tonne" {
		if e, k, _ := b.phrase(j + un); k > 0 && e.kind == kKind && (e.word == "pickup" || e.word == "truck" || e.word == "van") {
			return b.put(tok{kind: kFiller, word: "class"}, i, j+un)
		}
	}
	var w load.Weight
	var ok bool
	switch u {
	case "tonne":
		w, ok = weightOf(n, load.Tonne, true)
	case "short ton":
		w, ok = weightOf(n, load.ShortTon, false)
	default:
		w, ok = tonWeight(n)
	}
	if !ok {
		return b.bad(i, j+un)
	}
	return b.put(tok{kind: kMass, weight: w, num: n}, i, j+un)
}

// gradeValue is the grade that a mark stands for: 7, 70 and 700 are grade 70.
func gradeValue(n load.Micro) string {
	switch n {
	case 3 * load.One, 30 * load.One, 300 * load.One:
		return "30"
	case 4 * load.One, 43 * load.One, 430 * load.One:
		return "43"
	case 7 * load.One, 70 * load.One, 700 * load.One:
		return "70"
	case 8 * load.One, 80 * load.One, 800 * load.One:
		return "80"
	case 10 * load.One, 100 * load.One, 1000 * load.One:
		return "100"
	case 9 * load.One, 90 * load.One, 900 * load.One:
		return "90"
	case 12 * load.One, 120 * load.One, 1200 * load.One:
		return "120"
	}
	return ""
}

// decimalSize is a chain size written as a decimal of an inch.
func decimalSize(n load.Micro) (load.Length, bool) {
	switch n {
	case 250_000, 312_500, 375_000, 437_500, 500_000, 625_000, 750_000:
		return load.Length(int64(n) * int64(load.Inch) / int64(load.One)), true
	case 312_000, 313_000:
		return load.Inch * 5 / 16, true
	case 438_000, 437_000:
		return load.Inch * 7 / 16, true
	}
	return 0, false
}

func fractionOf(l load.Length) string {
	switch l {
	case load.Inch / 4:
		return "1/4"
	case load.Inch * 5 / 16:
		return "5/16"
	case load.Inch * 3 / 8:
		return "3/8"
	case load.Inch * 7 / 16:
		return "7/16"
	case load.Inch / 2:
		return "1/2"
	case load.Inch * 5 / 8:
		return "5/8"
	case load.Inch * 3 / 4:
		return "3/4"
	}
	return ""
}

// milesPerKm is a kilometre in millionths of a mile (1 mile is 1.609344 km).
const milesPerKm = 621_371
