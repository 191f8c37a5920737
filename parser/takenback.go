package parser

import (
	"slices"

	"halfweight/rules/load"
)

// takenBack says whether a word of the message takes back, or leaves in doubt, what
// else was read of it: the answer cannot stand on that.
func (r *reader) takenBack() bool {
	return r.strayClause() || r.scratched() || r.looseAgain() || r.addedLater() || r.bothOfMore() || r.weighsASide() || r.markOfAll() || r.weighsMore() || r.chainTwice()
}

// strayClause says whether what was read as a further tie-down tells neither how it
// runs nor where, nor how many: "binders are for 1/4 chain", "the fourth is a
// strap", "one unmarked". It may be said of those told before.
func (r *reader) strayClause() bool {
	for i := 1; i < len(r.sig); i++ {
		if r.kindAt(i-1).in(kRing, kLink) && r.kindAt(i) == kSize && !r.kindAt(i+1).in(kMat, kGrade, kTimes, kGradeWord) {
			return true // "d rings 5/8": their size, and no further chain's
		}
		if r.kindAt(i) == kSize && r.kindAt(i-1) == kFor && r.kindAt(r.back(i-2, kBe)) == kTens {
			return true // "binders are for 1/4 chain"
		}
		if r.kindAt(i) == kMat && r.kindAt(i-1) == kDet && r.kindAt(i-2) == kBe && r.kindAt(i-3).in(kEnd, kCorner) && r.kindAt(i+1) != kSize {
			return true // "front left is a strap": in the place of the chain told
		}
		if r.kindAt(i) == kMat && r.sent(i) == "unmarked" && r.kindAt(i-1) == kNum && r.kindAt(i+1) != kMat {
			return true // "one unmarked": of those told
		}
	}
	for _, a := range r.arts {
		for k := 1; k < len(a.clauses); k++ {
			c, before := a.clauses[k], a.clauses[k-1]
			where := c.tie.Route != "" || len(c.places) > 0 || c.on != ""
			described := c.tie.Size != 0 && (c.told || c.tie.Grade.Value != "")
			if before.told && !where && !described && len(c.tags) == 0 && (!c.told || c.tie.Material == "") {
				return true
			}
			if before.told && before.count > 2 && len(before.places) == 0 && !c.told && c.tie.Size != 0 && c.tie.Route == "" && c.on == "" && len(c.places) == 1 && c.places[0].On == "" {
				return true // "4x 3/8 g70 direct, rears are 1/4": of those told
			}
			if c.told && !c.named && c.tie.Size == 0 && c.tie.Route == load.Direct && before.tie.Route == load.Direct && c.count <= before.count && before.named && len(c.places) == 0 {
				return true // "4x 3/8 g70 direct, 2 crossed"
			}
		}
	}
	return false
}

// scratched says whether the message ends by turning down what it told: "scratch
// that".
func (r *reader) scratched() bool {
	n := len(r.sig)
	for n > 0 && r.kindAt(n-1).in(kStop, kLine, kSep) {
		n--
	}
	if n == 0 || r.kindAt(n-1) != kCorrect {
		return false
	}
	return slices.Contains([]string{"scratch that", "strike that", "no wait", "wait", "wait no", "typo"}, r.sent(n-1))
}

// looseAgain says whether a looseness told behind the mending is laid ahead of it:
// "tightened it but it came loose again".
func (r *reader) looseAgain() bool {
	if r.mendAt < 0 || r.harmAt < r.mendAt {
		return false
	}
	for i := range r.changes {
		for k := i + 1; k < len(r.changes); k++ {
			a, b := &r.changes[i], &r.changes[k]
			harm := a.Edit.Loose || a.Edit.Gone != "" || len(a.Edit.Damage) > 0
			if harm && (b.Edit.Tightened || b.Edit.Replaced) && a.Ref.Which == b.Ref.Which && a.Ref.Like.Place == b.Ref.Like.Place {
				return true
			}
		}
	}
	return false
}

// addedLater says whether what is added is not on yet: "adding one tonight".
func (r *reader) addedLater() bool {
	return r.add && slices.ContainsFunc(r.toks, func(t tok) bool { return t.raw == "tonight" || t.raw == "afternoon" || t.raw == "evening" })
}

// bothOfMore says whether "both" is told of tie-downs that are more than two:
// "4x 3/8 g70 direct, both have binders".
func (r *reader) bothOfMore() bool {
	if len(r.arts) != 1 || len(r.arts[0].Parts) > 1 {
		return false
	}
	n := 0
	for _, c := range r.arts[0].clauses {
		n += max(c.count, 1)
	}
	for i := 1; n > 2 && i+1 < len(r.toks); i++ {
		if t := &r.toks[i]; t.raw == "both" && r.toks[i-1].kind == kSep && r.toks[i+1].kind.in(kBe, kWith, kTens, kTight, kFiller, kMat, kRoute, kState, kSound) {
			return true
		}
	}
	return false
}

// weighsASide says whether the weight told is of a side or an end of the machine:
// "14000 lb a side".
func (r *reader) weighsASide() bool {
	for i := 0; i+1 < len(r.sig); i++ {
		if r.kindAt(i) != kMass || !slices.Contains([]string{"a side", "per side", "each side", "a end", "per end", "each end"}, r.sent(i+1)) {
			continue
		}
		if slices.ContainsFunc(r.arts, func(a *article) bool { return a.Weight.Told == r.t(i).weight.Told }) {
			return true
		}
	}
	return false
}

// markOfAll says whether a mark is told of several tie-downs in all: "four chains,
// wll 13200 total".
func (r *reader) markOfAll() bool {
	total := func(i int) bool {
		return i >= 0 && i < len(r.toks) && slices.Contains([]string{"total", "in total", "altogether", "overall", "combined"}, r.toks[i].raw)
	}
	for _, a := range r.arts {
		for _, c := range a.clauses {
			if c.tie.Mark == 0 || c.count < 2 {
				continue
			}
			for i := range r.toks {
				if t := &r.toks[i]; t.kind.in(kMass, kBig) && t.weight.Told == load.Mass(c.tie.Mark) && (total(i+1) || total(i+2) || total(i-1) || total(i-2)) {
					return true
				}
			}
		}
	}
	return false
}

// weighsMore says whether something unweighed comes on top of the weight told:
// "25000 lb plus a hammer".
func (r *reader) weighsMore() bool {
	for i := 1; i+1 < len(r.toks); i++ {
		t := &r.toks[i]
		if t.raw != "plus" && t.raw != "+" || !r.toks[i+1].kind.in(kDet, kPart, kOther, kPlain) || i+2 < len(r.toks) && r.toks[i+2].kind.in(kMat, kKind) {
			continue
		}
		if r.toks[i-1].kind == kMass || r.toks[i-1].kind == kSep && i > 1 && r.toks[i-2].kind == kMass {
			return true
		}
	}
	return false
}

// chainTwice says whether a part is told held by the tie-downs of an end: "bucket
// chained with the front chains". They hold the one or the other.
func (r *reader) chainTwice() bool {
	for i := range r.sig {
		if r.kindAt(i) != kState || r.t(i).word != "tied" || r.kindAt(i+1) != kWith || r.kindAt(i+2) != kDet {
			continue
		}
		if k := r.past(i+3, kEnd, kSide, kCorner, kAnd); k > i+3 && r.kindAt(k) == kMat {
			return true
		}
	}
	return false
}
