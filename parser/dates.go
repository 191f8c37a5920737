package parser

import "halfweight/rules/load"

// months are the names under which a phone's keyboard writes 3/8 as a day:
// "Mar 8" where the month comes first, "3 Aug" where the day does.
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
func (b *builder) date(i int) int {
	var n, d int64
	switch {
	case b.is(i, shapeWord) && b.isNumber(i+1):
		n, d = months[b.p[i].word], wholeOf(b.p[i+1])
	case b.isNumber(i) && b.is(i+1, shapeWord):
		n, d = wholeOf(b.p[i]), months[b.p[i+1].word]
	default:
		return i
	}
	if !dateSizes[[2]int64{n, d}] {
		return i
	}
	end := b.skipInch(i + 2)
	if !b.lastKind(0).in(kCount, kTimes) && !b.tieWordAhead(end) {
		return i
	}
	return b.inchParts(n, d, i, end)
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
