package parser

import "halfweight/rules/load"

// builder turns pieces into tokens: figures with their units, and the longest
// phrases of the dictionary.
type builder struct {
	p    []piece
	d    *dictionary
	toks []tok
	sp   []spelling // spelling of each piece, looked up once
	done []bool
}

// tokenise cuts text into tokens. Every piece ends in exactly one token.
func tokenise(text string, d *dictionary) []tok {
	b := builder{p: scan(text), d: d}
	b.sp = make([]spelling, len(b.p))
	b.done = make([]bool, len(b.p))
	b.toks = make([]tok, 0, len(b.p))
	for i := 0; i < len(b.p); {
		i = b.next(i)
	}
	return b.toks
}

func (b *builder) isNumber(i int) bool { return i < len(b.p) && b.p[i].shape == shapeNumber }

func (b *builder) isWord(i int, w string) bool {
	return i < len(b.p) && b.p[i].shape == shapeWord && b.p[i].word == w
}

func (b *builder) isSign(i int, r rune) bool {
	return i >= 0 && i < len(b.p) && b.p[i].shape == shapeSign && b.p[i].sign == r
}

func (b *builder) spell(i int) spelling {
	if !b.done[i] {
		b.done[i] = true
		if b.p[i].shape == shapeWord {
			b.sp[i] = b.d.spell(b.p[i].word)
		}
	}
	return b.sp[i]
}

// unit is the unit word at i: its canonical value and length in pieces.
func (b *builder) unit(i int) (string, int) {
	if i >= len(b.p) || b.p[i].shape != shapeWord {
		return "", 0
	}
	e, n, _ := b.phrase(i)
	if n > 0 && e.kind == kUnit {
		return e.word, n
	}
	return "", 0
}

// phrase is the longest dictionary phrase that starts at piece i.
func (b *builder) phrase(i int) (entry, int, bool) {
	var buf [8]spelling
	n := 0
	for j := i; j < len(b.p) && n < len(buf); j++ {
		x := b.p[j]
		if x.shape == shapeNumber && x.num < 100*load.One && x.num%load.One == 0 && !x.point && !x.odd {
			buf[n] = spelling{word: microString(x.num)} // "4 corners", "3 point hitch"
		} else if x.shape == shapeSign && x.sign == '&' {
			buf[n] = spelling{word: "&"}
		} else if x.shape == shapeWord {
			s := b.spell(j)
			if s.word == "" {
				break
			}
			buf[n] = s
		} else {
			break
		}
		n++
	}
	return b.d.longest(buf[:n])
}

// put appends a token that covers pieces i..j (j not in).
func (b *builder) put(t tok, i, j int) int {
	t.at, t.end, t.glued = b.p[i].at, b.p[j-1].end, b.p[i].glued
	b.toks = append(b.toks, t)
	return j
}

// next makes one token from piece i and returns the piece after it.
func (b *builder) next(i int) int {
	x := &b.p[i]
	switch x.shape {
	case shapeBreak:
		return b.put(tok{kind: kSep, word: string(orZero(x.sign))}, i, i+1)
	case shapeLine:
		return b.put(tok{kind: kLine}, i, i+1)
	case shapeStop:
		return b.put(tok{kind: kStop}, i, i+1)
	case shapeQuery:
		return b.put(tok{kind: kAsk}, i, i+1)
	case shapeDecor:
		if (x.sign == '$' || x.sign == '£' || x.sign == '€') && b.isNumber(i+1) && b.p[i+1].glued {
			return b.put(tok{kind: kBadFig, figure: true}, i, i+2)
		}
		return b.put(tok{kind: kDecor}, i, i+1)
	case shapeAlien:
		return b.put(tok{kind: kOther, figure: true}, i, i+1)
	case shapeRatio:
		return b.ratio(i)
	case shapeNumber:
		return b.number(i)
	case shapeSign:
		return b.sign(i)
	}
	return b.word(i)
}

func orZero(r rune) rune {
	if r == 0 {
		return ','
	}
	return r
}

func (b *builder) sign(i int) int {
	x := &b.p[i]
	switch x.sign {
	case '(':
		// "(4)": a count; not when it hangs on a word, as in alert(1)
		if b.isNumber(i+1) && b.isSign(i+2, ')') && b.countable(b.p[i+1]) && !(x.glued && i > 0 && b.p[i-1].shape == shapeWord) {
			return b.put(tok{kind: kCount, num: b.p[i+1].num, trail: true}, i, i+3)
		}
		return b.put(tok{kind: kDecor}, i, i+1)
	case '+', '&':
		return b.put(tok{kind: kAnd}, i, i+1)
	case '~':
		return b.put(tok{kind: kHedge, word: "about"}, i, i+1)
	case '@':
		return b.put(tok{kind: kOn}, i, i+1)
	case '=':
		return b.put(tok{kind: kSep, word: ","}, i, i+1)
	case '-':
		if b.isNumber(i+1) || i+1 < len(b.p) && b.p[i+1].shape == shapeRatio {
			j := b.next(i + 1)
			t := &b.toks[len(b.toks)-1]
			*t = tok{kind: kBadFig, at: b.p[i].at, end: t.end, figure: true}
			return j
		}
	case '#':
		return b.put(tok{kind: kDecor}, i, i+1)
	case '%':
		return b.put(tok{kind: kOther}, i, i+1)
	}
	return b.put(tok{kind: kDecor}, i, i+1)
}

func (b *builder) countable(x piece) bool {
	return !x.odd && x.num > 0 && x.num <= maxCount*load.One && x.num%load.One == 0
}

// ratio reads a fraction: a size, with its unit if it has one.
func (b *builder) ratio(i int) int {
	x := &b.p[i]
	j := i + 1
	// "5/16-3/8": a binder's label
	if j+1 < len(b.p) && b.p[j].shape == shapeBreak && b.p[j].sign == '-' && b.p[j].glued && b.p[j+1].shape == shapeRatio && b.p[j+1].glued {
		return b.put(tok{kind: kLabel, word: ratioString(x) + "-" + ratioString(&b.p[j+1])}, i, j+2)
	}
	if j < len(b.p) && b.p[j].shape == shapeWord && b.p[j].glued && (b.p[j].word == "ths" || b.p[j].word == "th") {
		j++ // 3/8ths
	}
	if u, n := b.unit(j); u == "ton" || u == "short ton" || u == "tonne" {
		return b.tons(x.num*load.One/x.den, i, j, n)
	}
	size := load.Length(int64(load.Inch) * int64(x.num/load.One) / int64(x.den/load.One))
	return b.put(tok{kind: kSize, size: size, word: ratioString(x)}, i, b.skipInch(j))
}

func ratioString(x *piece) string { return microString(x.num) + "/" + microString(x.den) }

// skipInch passes over a mark or word of inches at j.
func (b *builder) skipInch(j int) int {
	if b.isSign(j, '"') {
		return j + 1
	}
	if j < len(b.p) && b.p[j].shape == shapeWord && isInch(b.p[j].word) {
		if b.p[j].word != "in" || b.p[j].glued || !b.placeAhead(j+1) {
			return j + 1
		}
	}
	return j
}

// placeAhead says whether a place follows at j, so that "in" before it is no
// inch: "2 in front", "3/8 in the rear".
func (b *builder) placeAhead(j int) bool {
	for k := j; k < len(b.p) && k < j+2; k++ {
		if b.p[k].shape != shapeWord {
			return false
		}
		e, n, _ := b.phrase(k)
		if n == 0 {
			return false
		}
		switch e.kind {
		case kEnd, kSide, kCorner, kSpread, kSpreadOne, kNose, kIt, kPart, kJoint:
			return true
		case kDet:
			continue
		}
		return false
	}
	return false
}

// number reads a bare figure with what follows it: a unit, an x, a fraction.
func (b *builder) number(i int) int {
	x := &b.p[i]
	// "1." or "1)" that numbers a line or a part of it
	if !x.point && x.num < 100*load.One && i+1 < len(b.p) && b.p[i+1].glued {
		first := i == 0 || b.p[i-1].shape == shapeLine
		if b.isSign(i+1, ')') && (first || !b.isSign(i-1, '(')) || first && b.p[i+1].shape == shapeStop {
			return b.put(tok{kind: kLine}, i, i+2)
		}
	}
	if n, j := b.spokenNumber(i); j > i {
		return b.figure(n, false, i, j)
	}
	// "alert(1)": what hangs on a word is no figure of a load
	if i > 1 && b.isSign(i-1, '(') && b.p[i-1].glued && b.p[i-2].shape == shapeWord && b.p[i-2].end == b.p[i-1].at {
		return b.put(tok{kind: kOther, figure: true}, i, i+1)
	}
	// a figure hung on a word is part of that word: a model, "D6"
	if x.glued && i > 0 && b.p[i-1].shape == shapeWord && b.p[i-1].end == x.at && len(b.toks) > 0 {
		if t := &b.toks[len(b.toks)-1]; t.kind.in(kOther, kPlain) {
			t.end = x.end
			t.word = "model"
			return i + 1
		}
	}
	return b.figure(x.num, x.odd, i, i+1)
}

// figure makes a token of the number n, told in pieces i..j (j not in), and of
// the unit that follows.
func (b *builder) figure(n load.Micro, odd bool, i, j int) int {
	bad := func(k int) int { return b.put(tok{kind: kBadFig, figure: true}, i, k) }
	// "1-3/4", "1 3/4 strap": whole inches and a fraction; "4-3/8" is four of 3/8
	if j < len(b.p) && !odd {
		k := j
		dash := k+1 < len(b.p) && b.p[k].shape == shapeBreak && b.p[k].sign == '-' && b.p[k].glued && b.p[k+1].shape == shapeRatio && b.p[k+1].glued
		if dash {
			k++
		}
		if k < len(b.p) && b.p[k].shape == shapeRatio {
			// "7 1/2 tons", "14-1/2 thousand": a mixed number
			if u, _ := b.unit(k + 1); u == "ton" || u == "tonne" || u == "short ton" || u == "k" || u == "lb" || u == "kg" || b.isWord(k+1, "thousand") || b.isWord(k+1, "t") {
				n += load.One * b.p[k].num / b.p[k].den
				if b.isWord(k+1, "thousand") {
					return b.figure(n*1000, odd, i, k+2)
				}
				return b.figure(n, odd, i, k+1)
			}
			if size, word, ok := b.mixed(n, &b.p[k]); ok && b.wideAhead(b.skipInch(k+1)) {
				return b.put(tok{kind: kSize, size: size, word: word}, i, b.skipInch(k+1))
			}
			if dash && b.countable(piece{num: n}) {
				return b.put(tok{kind: kCount, num: n}, i, k)
			}
		}
	}
	// feet and inches: 10'1", 10 ft 1 in
	if b.isSign(j, '\'') && b.isNumber(j+1) && b.p[j+1].glued && b.p[j+1].end-b.p[j+1].at == 3 {
		return b.put(tok{kind: kBadFig, figure: true}, i, j+2) // 1'200
	}
	if b.isSign(j, '\'') {
		return b.feet(n, odd, i, j+1)
	}
	if b.isSign(j, '"') {
		return b.inches(n, i, j+1)
	}
	if b.isSign(j, '#') {
		return b.mass(n, "lb", odd, i, j+1)
	}
	if b.isWord(j, "x") && b.isNumber(j+1) && b.feetAt(j+2) && n <= 4*load.One && n >= load.One {
		return b.inches(n, i, j) // 4x30' straps: width by length
	}
	if b.isWord(j, "x") && !(!b.p[j].glued && b.isNumber(j+1) && b.p[j+1].glued) || j < len(b.p) && b.p[j].shape == shapeDecor && b.p[j].sign == '*' && b.p[j].glued && j+1 < len(b.p) && b.p[j+1].glued {
		if odd || !b.countable(piece{num: n}) {
			return bad(j + 1)
		}
		return b.put(tok{kind: kCount, num: n}, i, j+1)
	}
	u, un := b.unit(j)
	switch u {
	case "k":
		if n < 1000*load.One {
			odd = false // 9.999k: no thousands are grouped in front of a k
		}
		if odd || n > 2000*load.One {
			return bad(j + un)
		}
		n *= 1000
		j += un
		if b.isSign(j, '#') {
			return b.mass(n, "lb", odd, i, j+1)
		}
		if u, un := b.unit(j); u == "lb" || u == "kg" {
			return b.mass(n, u, odd, i, j+un)
		}
		return b.bare(n, odd, i, j)
	case "lb", "kg":
		return b.mass(n, u, odd, i, j+un)
	case "tonne", "short ton", "ton":
		return b.tons(n, i, j, un)
	case "in":
		return b.inches(n, i, j+un)
	case "mm":
		l, ok := load.Times(n, load.Millimetre)
		if !ok || l <= 0 || odd && n > 100*load.One {
			return bad(j + un)
		}
		return b.put(tok{kind: kSize, size: l, word: microString(n) + " mm"}, i, j+un)
	case "ft":
		return b.feet(n, odd, i, j+un)
	case "m", "cm":
		unit := load.Metre
		if u == "cm" {
			unit = 10 * load.Millimetre
		}
		l, ok := load.Times(n, unit)
		if !ok || l <= 0 {
			return bad(j + un)
		}
		return b.put(tok{kind: kLength, size: l}, i, j+un)
	}
	if j < len(b.p) && b.p[j].shape == shapeWord {
		w, glued := b.p[j].word, b.p[j].glued
		switch {
		case w == "t":
			// t is a tonne, T a ton of either sort
			if odd && n > 1000*load.One {
				return bad(j + 1)
			}
			var wt load.Weight
			var ok bool
			if b.p[j].upper {
				wt, ok = tonWeight(n)
			} else {
				wt, ok = weightOf(n, load.Tonne, true)
			}
			if !ok {
				return bad(j + 1)
			}
			return b.put(tok{kind: kMass, weight: wt}, i, j+1)
		case w == "m" && (glued || b.longAhead(j+1)):
			if l, ok := load.Times(n, load.Metre); ok && l > 0 {
				return b.put(tok{kind: kLength, size: l}, i, j+1)
			}
		case w == "in" && (glued || b.isWord(j+1, "x") && b.isNumber(j+2) && b.feetAt(j+3) || !b.placeAhead(j+1) && b.wideAhead(j+1)):
			return b.inches(n, i, j+1)
		case w == "mi" || w == "mile" || w == "miles":
			return b.put(tok{kind: kMiles, num: n}, i, j+1)
		case w == "st" || w == "nd" || w == "rd" || w == "th":
			if glued {
				return b.put(tok{kind: kFiller}, i, j+1) // "2nd" tells no number of anything
			}
		case glued && b.p[j].at == b.p[j-1].end:
			// "1y", "4g70": a figure run into a word it does not go with
			if e, k, _ := b.phrase(j); k == 0 || e.kind.in(kPlain, kFiller) || len(w) <= 2 && !e.kind.in(kGradeWord, kCorner) && w != "x" {
				return bad(j + 1)
			}
		}
		if w == "grade" && !b.figureAhead(j+1) && gradeValue(n) != "" && !odd {
			return b.put(tok{kind: kGrade, word: gradeValue(n)}, i, j+1)
		}
	}
	return b.bare(n, odd, i, j)
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
	if i >= len(b.p) || b.p[i].shape != shapeWord {
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
		return b.put(tok{kind: kBadFig, figure: true}, i, j)
	}
	if l, ok := decimalSize(n); ok {
		return b.put(tok{kind: kSize, size: l, word: fractionOf(l)}, i, b.skipInch(j))
	}
	if n >= bareLeast*load.One {
		w, ok := weightOf(n, load.Pound, false)
		if !ok {
			return b.put(tok{kind: kBadFig, figure: true}, i, j)
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
		return b.put(tok{kind: kBadFig, figure: true}, i, j)
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
		return b.put(tok{kind: kBadFig, figure: true}, i, j)
	}
	if b.isNumber(j) && !b.p[j].odd && b.p[j].num < 12*load.One {
		in, ok := load.Times(b.p[j].num, load.Inch)
		k := j + 1
		if ok && (b.isSign(k, '"') || k < len(b.p) && b.p[k].shape == shapeWord && isInch(b.p[k].word)) {
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
		return b.put(tok{kind: kBadFig, figure: true}, i, j)
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
		return b.put(tok{kind: kBadFig, figure: true}, i, j+un)
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

// word reads a word: number words, x4, g70, and the phrases of the dictionary.
func (b *builder) word(i int) int {
	w := b.p[i].word
	if w == "x" && b.isNumber(i+1) && b.feetAt(i+2) {
		return b.feet(b.p[i+1].num, b.p[i+1].odd, i, b.pastFeet(i+2)) // 2 in x 27 ft
	}
	if w == "x" && b.isNumber(i+1) && b.countable(b.p[i+1]) {
		return b.put(tok{kind: kTimes, num: b.p[i+1].num}, i, i+2)
	}
	if w == "x" {
		if n, j := b.spokenNumber(i + 1); j > i+1 && b.countable(piece{num: n}) {
			return b.put(tok{kind: kTimes, num: n}, i, j)
		}
		return b.put(tok{kind: kOther, raw: w, figure: b.isNumber(i + 1)}, i, i+1)
	}
	if (w == "minus" || w == "negative") && i+1 < len(b.p) && (b.isNumber(i+1) || b.p[i+1].shape == shapeRatio || b.spoken(i+1)) && !b.gearHead() {
		j := b.next(i + 1)
		t := &b.toks[len(b.toks)-1]
		*t = tok{kind: kBadFig, at: b.p[i].at, end: t.end, figure: true}
		return j
	}
	if w == "one" && len(b.toks) > 0 && b.toks[len(b.toks)-1].kind.in(kNum, kCount) {
		// "four one half inch": a count and a size
		if n, d, j := b.spokenFraction(i + 1); j > i+1 && n == 1 {
			size := load.Length(int64(load.Inch) / d)
			return b.put(tok{kind: kSize, size: size, word: "1/" + microString(load.Micro(d)*load.One)}, i, b.skipInch(j))
		}
	}
	if n, d, j := b.spokenFraction(i); j > i {
		if (n == 3 && d == 4) && len(b.toks) >= 2 && b.toks[len(b.toks)-1].kind == kAnd && b.toks[len(b.toks)-2].kind == kNum && b.toks[len(b.toks)-2].num == load.One && b.wideAhead(b.skipInch(j)) {
			// "one and three quarter inch strap"
			t := &b.toks[len(b.toks)-2]
			b.toks = b.toks[:len(b.toks)-1]
			end := b.skipInch(j)
			*t = tok{kind: kSize, size: load.Inch * 7 / 4, word: "1-3/4", at: t.at, end: b.p[end-1].end}
			return end
		}
		size := load.Length(int64(load.Inch) * n / d)
		return b.put(tok{kind: kSize, size: size, word: microString(load.Micro(n)*load.One) + "/" + microString(load.Micro(d)*load.One)}, i, b.skipInch(j))
	}
	if w == "million" || w == "billion" {
		end := i + 1
		if b.spoken(end) {
			_, end = b.spokenNumber(end)
		}
		if k := len(b.toks) - 1; k >= 0 && b.toks[k].kind == kNum {
			at := b.toks[k].at
			b.toks = b.toks[:k]
			b.put(tok{kind: kBadFig, figure: true}, i, end)
			b.toks[len(b.toks)-1].at = at
			return end
		}
		return b.put(tok{kind: kBadFig, figure: true}, i, end)
	}
	e, n, plural := b.phrase(i)
	if n == 2 && e.kind == kAll && b.isNumber(i+1) && b.isWord(i+2, "x") {
		e, n = entry{kind: kAll, word: "all"}, 1 // "all 4x 3/8": a count
	}
	if m, j := b.spokenNumber(i); j > i && (n == 0 || !e.kind.in(kAll, kSpread, kEach, kPart, kRest, kCmd) || j-i >= n) {
		return b.figure(m, false, i, j)
	}
	if n == 0 {
		return b.put(tok{kind: kOther, raw: w}, i, i+1)
	}
	switch e.kind {
	case kGradeWord:
		return b.grade(i, i+n)
	case kNumber:
		v := map[string]load.Micro{"0.5": load.One / 2, "0.25": load.One / 4, "2": 2 * load.One, "12": 12 * load.One}[e.word]
		if e.word == "0.5" && b.isWord(i+1, "a") {
			n++
			if b.isWord(i+2, "dozen") {
				return b.bare(6*load.One, false, i, i+3)
			}
		}
		if v < load.One {
			if u, un := b.unit(i + n); u == "ton" || u == "tonne" || u == "short ton" {
				return b.tons(v, i, i+n, un)
			}
			return b.put(tok{kind: kOther, raw: w, figure: true}, i, i+n)
		}
		if k := len(b.toks) - 1; k >= 0 && b.toks[k].kind == kNum && w == "pairs" {
			b.toks[k].num *= 2 // "2 pairs of"
			b.toks[k].end = b.p[i+n-1].end
			return i + n
		}
		return b.bare(v, false, i, i+n)
	}
	if last := b.p[i+n-1].word; e.kind.in(kMat, kTens) {
		plural = plural || len(last) > 2 && last[len(last)-1] == 's'
	}
	return b.put(tok{kind: e.kind, word: e.word, plural: plural, raw: w}, i, i+n)
}

// spoken says whether a number told in words stands at i.
func (b *builder) spoken(i int) bool {
	_, j := b.spokenNumber(i)
	return j > i
}

// gearHead says whether the message speaks of the gear: "gear minus 2 chains"
// takes some away.
func (b *builder) gearHead() bool {
	return len(b.toks) > 0 && b.toks[0].kind == kCmd && b.toks[0].word == "gear"
}

// grade reads the figure after "grade" or "g": 70, 7, seventy.
func (b *builder) grade(i, j int) int {
	k := j
	for k < len(b.p) && k < j+2 && (b.p[k].shape == shapeStop && b.p[k].glued || b.p[k].shape == shapeBreak && b.p[k].sign == ':') {
		k++ // "gr.70", "grade: 70"
	}
	if b.isNumber(k) && !b.p[k].odd {
		n := b.p[k].num
		if n < load.One {
			n *= 100 // "gr.70"
		}
		if v := gradeValue(n); v != "" {
			return b.put(tok{kind: kGrade, word: v}, i, k+1)
		}
		return b.put(tok{kind: kBadFig, figure: true}, i, k+1)
	}
	if n, e := b.spokenNumber(k); e > k {
		if v := gradeValue(n); v != "" {
			return b.put(tok{kind: kGrade, word: v}, i, e)
		}
		return b.put(tok{kind: kBadFig, figure: true}, i, e)
	}
	return b.put(tok{kind: kGradeWord, raw: b.p[i].word}, i, j)
}
