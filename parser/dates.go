package parser

import "halfweight/rules/load"

// months are the names under which a phone's keyboard, or a sheet it was copied
// from, writes 3/8 as a day: "Mar 8" or "8-Mar" where the month comes first, "3 Aug"
// where the day does.
var months = map[string]int64{
	"jan": 1, "january": 1, "feb": 2, "february": 2, "mar": 3, "march": 3, "apr": 4, "april": 4, "may": 5, "jun": 6, "june": 6,
	"jul": 7, "july": 7, "aug": 8, "august": 8,
}

// dateSizes are the chain sizes that such a day can stand for, in numerator and
// denominator (49 CFR 393.108's table).
var dateSizes = map[[2]int64]bool{
	{1, 2}: true, {1, 4}: true, {3, 4}: true, {3, 8}: true, {5, 8}: true, {5, 16}: true, {7, 16}: true,
}

// date reads a day that stands for a chain's size, where a count stands before it
// or what only a tie-down has stands behind it; it returns i where there is none.
// Which of month and day comes first differs from phone to phone, and of the two
// fractions only one is less than an inch.
func (b *builder) date(i int) int {
	m, d, end := b.day(i)
	size := [2]int64{min(m, d), max(m, d)}
	if end == i || !dateSizes[size] {
		return i
	}
	end = b.skipInch(end)
	if !b.lastKind(0).in(kCount, kTimes) && !b.tieWordAhead(end) {
		return i
	}
	return b.inchParts(size[0], size[1], i, end)
}

// day reads "Mar 8", "Mar. 8th", "3 Aug", "8-Mar" and "3/8/2026" at i; end is i
// where none stands there.
func (b *builder) day(i int) (m, d int64, end int) {
	switch {
	case b.is(i, shapeWord):
		j := b.pastDot(i + 1)
		if m = months[b.p[i].word]; m > 0 && b.isNumber(j) {
			return m, wholeOf(b.p[j]), b.pastOrdinal(j + 1)
		}
	case !b.isNumber(i):
	case b.p[i].dated:
		return int64(b.p[i].num / load.One), int64(b.p[i].den / load.One), i + 1
	default:
		j := b.pastOrdinal(i + 1)
		if b.is(j, shapeWord) && months[b.p[j].word] > 0 {
			return wholeOf(b.p[i]), months[b.p[j].word], b.pastDot(j + 1)
		}
	}
	return 0, 0, i
}

// pastDot passes over the dot of a month cut short: "Mar."
func (b *builder) pastDot(j int) int {
	if b.is(j, shapeStop) && b.p[j].glued && j+1 < len(b.p) && !b.is(j+1, shapeLine) {
		return j + 1
	}
	return j
}

// pastOrdinal passes over the letters behind a day: "8th".
func (b *builder) pastOrdinal(j int) int {
	if b.is(j, shapeWord) && b.p[j].glued {
		switch b.p[j].word {
		case "st", "nd", "rd", "th":
			return j + 1
		}
	}
	return j
}

// wholeOf is a whole number; 0 for one that is not.
func wholeOf(x piece) int64 {
	if x.num%load.One != 0 || x.odd || x.point {
		return 0
	}
	return int64(x.num / load.One)
}

// tieWordAhead says whether a grade, a material or a route stands at j.
func (b *builder) tieWordAhead(j int) bool {
	if !b.is(j, shapeWord) {
		return false
	}
	if w := b.p[j].word; w == "g" && b.isNumber(j+1) {
		return true
	}
	e, n, _ := b.phrase(j)
	return n > 0 && e.kind.in(kGradeWord, kMat, kNoMark)
}
