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

// is says whether a piece of that shape stands at i.
func (b *builder) is(i int, s shape) bool { return i < len(b.p) && b.p[i].shape == s }

func (b *builder) isNumber(i int) bool { return b.is(i, shapeNumber) }

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
	if !b.is(i, shapeWord) {
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

// bad makes a figure that cannot be taken as it stands of pieces i..j.
func (b *builder) bad(i, j int) int { return b.put(tok{kind: kBadFig, figure: true}, i, j) }

// last is the token made last, back tokens before it.
func (b *builder) last(back int) *tok { return &b.toks[len(b.toks)-1-back] }

// lastKind is the kind of that token, kNone when there is none.
func (b *builder) lastKind(back int) kind {
	if back >= len(b.toks) {
		return kNone
	}
	return b.last(back).kind
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
			return b.bad(i, i+2)
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
		if b.isNumber(i+1) || b.is(i+1, shapeRatio) {
			return b.negative(i)
		}
	case '#':
		return b.put(tok{kind: kDecor}, i, i+1)
	case '%':
		return b.put(tok{kind: kPercent}, i, i+1)
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
	end := b.skipInch(j)
	next := b.put(tok{kind: kSize, size: size, word: ratioString(x), plural: end > j && b.isWord(end-1, "s")}, i, end)
	return b.hungGrade(next)
}

// hungGrade reads a grade hung on a size with a dash: "3/8-70".
func (b *builder) hungGrade(i int) int {
	if i+1 >= len(b.p) || b.p[i].sign != '-' || b.p[i].shape != shapeBreak && b.p[i].shape != shapeSign || !b.p[i].glued || !b.isNumber(i+1) || !b.p[i+1].glued {
		return i
	}
	x, end := &b.p[i+1], i+2
	v := gradeValue(x.num)
	if v == "" || x.num < 30*load.One || x.odd || x.point {
		return i
	}
	if _, n := b.unit(end); n > 0 {
		return i
	}
	plural := b.isWord(end, "s") && b.p[end].glued
	if plural {
		end++
	} else if end < len(b.p) && b.p[end].glued && (b.p[end].shape == shapeWord || b.p[end].shape == shapeNumber || b.p[end].shape == shapeRatio || b.p[end].sign == '-') {
		return i // "3/8-70x": more hangs on it
	}
	return b.put(tok{kind: kGrade, word: v, plural: plural}, i, end)
}

func ratioString(x *piece) string { return microString(x.num) + "/" + microString(x.den) }

// skipInch passes over a mark or word of inches at j.
func (b *builder) skipInch(j int) int {
	if b.isSign(j, '"') || b.isWord(j, "s") && b.p[j].glued {
		return j + 1 // "four 3/8s"
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

// mostNumbered is how far the lines of a message are numbered.
const mostNumbered = 20

// number reads a bare figure with what follows it: a unit, an x, a fraction.
func (b *builder) number(i int) int {
	x := &b.p[i]
	// "1." or "1)" that numbers a line or a part of it
	if !x.point && x.num <= mostNumbered*load.One && i+1 < len(b.p) && b.p[i+1].glued {
		first := i == 0 || b.p[i-1].shape == shapeLine
		if b.isSign(i+1, ')') && (first || !b.isSign(i-1, '(')) || first && b.p[i+1].shape == shapeStop {
			return b.put(tok{kind: kLine}, i, i+2)
		}
	}
	if k := b.date(i); k > i {
		return k
	}
	if b.isWord(i+1, "s") && b.p[i+1].glued && !x.odd && !x.point {
		// "3/8 70s", "5400s": in the plural
		if v := gradeValue(x.num); v != "" && x.num >= 30*load.One && x.num <= 120*load.One && b.lastKind(0) == kSize {
			return b.put(tok{kind: kGrade, word: v, plural: true}, i, i+2)
		}
		if x.num >= bareLeast*load.One {
			return b.bare(x.num, false, i, i+2)
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

// word reads a word: number words, x4, g70, and the phrases of the dictionary.
func (b *builder) word(i int) int {
	w := b.p[i].word
	if w == "x" {
		return b.times(i)
	}
	if (w == "minus" || w == "negative") && (b.isNumber(i+1) || b.is(i+1, shapeRatio) || b.spoken(i+1)) && !b.gearHead() {
		return b.negative(i)
	}
	if k := b.date(i); k > i {
		return k
	}
	if k := b.fractionWord(i); k > i {
		return k
	}
	if w == "million" || w == "billion" {
		return b.million(i)
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
		return b.amount(e.word, i, i+n)
	case kMat, kTens:
		last := b.p[i+n-1].word
		plural = plural || len(last) > 2 && last[len(last)-1] == 's'
	}
	return b.put(tok{kind: e.kind, word: e.word, plural: plural, raw: w}, i, i+n)
}

// times reads what follows the word x: "x4", "x four", and the length in "2 in
// x 27 ft".
func (b *builder) times(i int) int {
	if b.isNumber(i+1) && b.feetAt(i+2) {
		return b.feet(b.p[i+1].num, b.p[i+1].odd, i, b.pastFeet(i+2))
	}
	if b.isNumber(i+1) && b.countable(b.p[i+1]) {
		return b.put(tok{kind: kTimes, num: b.p[i+1].num}, i, i+2)
	}
	if n, j := b.spokenNumber(i + 1); j > i+1 && b.countable(piece{num: n}) {
		return b.put(tok{kind: kTimes, num: n}, i, j)
	}
	return b.put(tok{kind: kOther, raw: "x", figure: b.isNumber(i + 1)}, i, i+1)
}

// negative makes one figure that cannot be taken of a minus at i and the figure
// behind it.
func (b *builder) negative(i int) int {
	j := b.next(i + 1)
	t := b.last(0)
	*t = tok{kind: kBadFig, at: b.p[i].at, end: t.end, figure: true}
	return j
}

// fractionWord reads a fraction told in words: a size, with the inch told
// before it if there is one.
func (b *builder) fractionWord(i int) int {
	if b.p[i].word == "one" && b.lastKind(0).in(kNum, kCount) {
		// "four one half inch": a count and a size
		if n, d, j := b.spokenFraction(i + 1); j > i+1 && n == 1 {
			return b.inchParts(1, d, i, b.skipInch(j))
		}
	}
	n, d, j := b.spokenFraction(i)
	if j == i {
		return i
	}
	end := b.skipInch(j)
	if n == 3 && d == 4 && b.lastKind(0) == kAnd && b.lastKind(1) == kNum && b.last(1).num == load.One && b.wideAhead(end) {
		// "one and three quarter inch strap"
		t := b.last(1)
		*t = tok{kind: kSize, size: load.Inch * 7 / 4, word: "1-3/4", at: t.at, end: b.p[end-1].end}
		b.toks = b.toks[:len(b.toks)-1]
		return end
	}
	return b.inchParts(n, d, i, end)
}

// inchParts makes the size of n d-ths of an inch.
func (b *builder) inchParts(n, d int64, i, j int) int {
	word := microString(load.Micro(n)*load.One) + "/" + microString(load.Micro(d)*load.One)
	return b.put(tok{kind: kSize, size: load.Length(int64(load.Inch) * n / d), word: word}, i, j)
}

// million makes one figure that cannot be taken of "two million five hundred".
func (b *builder) million(i int) int {
	end := i + 1
	if b.spoken(end) {
		_, end = b.spokenNumber(end)
	}
	if b.lastKind(0) != kNum {
		return b.bad(i, end)
	}
	t := b.last(0)
	*t = tok{kind: kBadFig, at: t.at, end: b.p[end-1].end, glued: b.p[i].glued, figure: true}
	return end
}

// amounts are the words for an amount that are no number words.
var amounts = map[string]load.Micro{"0.5": load.One / 2, "0.25": load.One / 4, "2": 2 * load.One, "12": 12 * load.One}

// amount reads "half", "pair", "dozen" and the like, in pieces i..j.
func (b *builder) amount(word string, i, j int) int {
	if word == "0.5" && b.isWord(i+1, "a") {
		j++
		if b.isWord(i+2, "dozen") {
			return b.bare(6*load.One, false, i, i+3)
		}
	}
	n := amounts[word]
	if n < load.One {
		if u, un := b.unit(j); u == "ton" || u == "tonne" || u == "short ton" {
			return b.tons(n, i, j, un)
		}
		return b.put(tok{kind: kOther, raw: b.p[i].word, figure: true}, i, j)
	}
	if b.p[i].word == "pairs" && b.lastKind(0) == kNum {
		t := b.last(0)
		t.num *= 2 // "2 pairs of"
		t.end = b.p[j-1].end
		return j
	}
	return b.bare(n, false, i, j)
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
		return b.bad(i, k+1)
	}
	if n, e := b.spokenNumber(k); e > k {
		if v := gradeValue(n); v != "" {
			return b.put(tok{kind: kGrade, word: v}, i, e)
		}
		return b.bad(i, e)
	}
	return b.put(tok{kind: kGradeWord, raw: b.p[i].word}, i, j)
}
