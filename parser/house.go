package parser

import (
	"slices"
	"strings"

	"halfweight/rules/load"
)

// rulesWord reads "rules canada", "rules": whose rules are in force. More said
// with it is no such order.
func (r *reader) rulesWord(i int) int {
	if !r.rest(i + 1) {
		return i
	}
	arg := strings.TrimPrefix(r.t(i).word, "rules ")
	if arg == "?" {
		arg = ""
	}
	r.own(i, OwnFact)
	r.ownAll(i+1, len(r.sig), OwnPhrase)
	r.acts = append(r.acts, House{Word: "rules", Arg: arg})
	return len(r.sig)
}

// houseRule reads a rule of the crew's own: "house rule 60 percent", "house rule
// no straps on machines". Where a word of it is not understood the whole is not
// read: half a rule could ask less than was meant.
func (r *reader) houseRule(i int) int {
	act := HouseRule{}
	switch {
	case r.t(i).word == "house off":
		act = HouseRule{Do: "drop", Count: r.onlyNumber(i + 1)}
		if act.Count < 0 {
			act = HouseRule{}
		}
	case r.rest(i + 1):
		act.Do = "show"
	default:
		act = r.houseTold(i + 1)
	}
	r.own(i, OwnFact)
	own := OwnFact
	if act.Do == "" {
		own = OwnUnread
	}
	r.ownAll(i+1, len(r.sig), own)
	r.acts = append(r.acts, act)
	return len(r.sig)
}

// ruleHeads open a message that tells a rule of the crew's own.
var ruleHeads = []string{"house", "boss wants", "boss says", "the boss wants", "the boss says", "on our site", "on this site", "on our jobs"}

// ruleHead is the first token after such a head; 0 for none.
func (r *reader) ruleHead() int {
	for _, head := range ruleHeads {
		words := strings.Fields(head)
		if len(r.toks) <= len(words) || !slices.EqualFunc(r.toks[:len(words)], words, func(t tok, w string) bool { return t.raw == w }) {
			continue
		}
		for k := range r.sig {
			if r.sig[k] >= len(words) {
				return k
			}
		}
	}
	return 0
}

// general takes a rule told without the word for one: every word of it is one of
// a rule's, and its head, "always", "never" or machines in general show that it is
// not of the load in hand. Read as of the load, "no straps on machines" would take
// off its straps.
func (r *reader) general(i int) bool {
	if i != r.start(0) {
		return false
	}
	from := r.ruleHead()
	always := from > 0
	for k := range r.toks {
		switch t := &r.toks[k]; {
		case t.kind.in(kQuery, kAsk):
			return false
		case t.raw == "always", t.raw == "never", t.kind == kKind && t.word == "machine" && t.plural:
			always = true
		}
	}
	act := HouseRule{}
	if always {
		act = r.houseTold(max(i, from))
	}
	if act.Do == "" {
		return false
	}
	r.ownAll(i, len(r.sig), OwnFact)
	r.acts = append(r.acts, act)
	return true
}

// onlyNumber is the one number told from i on; 0 for none, -1 where more is said.
func (r *reader) onlyNumber(i int) int {
	n := 0
	for ; i < len(r.sig); i++ {
		switch t := r.t(i); {
		case t.kind.in(kSep, kStop, kLine, kDet):
		case t.kind == kNum && n == 0:
			n = int(t.num / load.One)
		default:
			return -1
		}
	}
	return n
}

// houseWords is what a house rule names, gathered word by word.
type houseWords struct {
	numbers                                []int
	percent, straps, machine, barred, ties bool
	ends, guards                           bool
	mass                                   load.Mass
	grade                                  int
}

// houseTold reads what the rule asks; the zero HouseRule where it is not
// understood.
func (r *reader) houseTold(from int) HouseRule {
	var h houseWords
	for k := from; k < len(r.sig); k++ {
		switch t := r.t(k); {
		case t.raw == "enough" || t.raw == "fine" || t.raw == "ok": // "two corners are enough": that lets off
			return HouseRule{}
		case t.kind == kBare: // "no straps"
			words, _ := r.surfaceWords(k, k+1)
			h.barred, h.straps = true, h.straps || strings.Contains(words, "strap")
		case t.raw == "nothing" && r.underGrade(k) > 0: // "nothing under grade 70"
			k = r.underGrade(k) - 1
		case t.kind == kSize && t.size < load.Inch && r.kindAt(k+1) == kOf: // "3/4 of the weight"
			h.percent, h.numbers = true, append(h.numbers, int((t.size*100+load.Inch-1)/load.Inch))
		case !h.take(t):
			return HouseRule{}
		}
	}
	return h.rule()
}

// underGrade is where the grade of "under grade 70" stands after k; 0 for none.
func (r *reader) underGrade(k int) int {
	if g := r.past(k+1, kOn, kThan, kNeg); r.kindAt(g) == kGrade && (r.prevRaw(g) == "under" || r.prevRaw(g) == "below") {
		return g
	}
	return 0
}

// take gathers one token; false where it is none of a house rule's.
func (h *houseWords) take(t *tok) bool {
	switch t.kind {
	case kNum, kCount, kTimes:
		h.numbers = append(h.numbers, int(t.num/load.One))
		if t.kind == kNum && t.num%load.One != 0 {
			return false
		}
	case kPercent:
		h.percent = true
	case kBig, kMass:
		if h.mass > 0 {
			return false
		}
		h.mass = t.weight.Told
	case kGrade:
		h.grade = gradeNumber(t.word)
		return h.grade > 0
	case kNeg:
		h.barred = true
		return t.raw != "only"
	case kMat:
		if h.straps = h.straps || t.word == string(load.Webbing); !h.straps {
			h.ties = true
		}
	case kKind:
		h.machine = true
	case kSpread, kEnd:
		h.ends = true
	case kGuard:
		h.guards = true
	case kDet, kOn, kOf, kEach, kAll, kSep, kStop, kTo, kBe, kWith, kRated, kDoubt, kAnd, kOr, kIt, kTens, kWeigh, kFiller, kPlain, kQuery, kExtra, kRoute, kGradeWord:
	default:
		return false
	}
	return true
}

// rule is the one rule that what was gathered asks for.
func (h *houseWords) rule() HouseRule {
	one := 0
	if len(h.numbers) == 1 {
		one = h.numbers[0]
	}
	switch {
	case h.barred && h.straps && !h.guards && len(h.numbers) == 0:
		return HouseRule{Do: "add", Kind: "webbing"}
	case h.barred:
	case h.guards && len(h.numbers) == 0:
		return HouseRule{Do: "add", Kind: "guards"}
	case h.grade > 0 && len(h.numbers) == 0 && h.mass == 0:
		return HouseRule{Do: "add", Kind: "grade", Count: h.grade}
	case h.percent && one > 0:
		return HouseRule{Do: "add", Kind: "need", Percent: one}
	case h.mass > 0 && len(h.numbers) == 0:
		return HouseRule{Do: "add", Kind: "rating", Mass: h.mass}
	case h.ends && len(h.numbers) == 0:
		return HouseRule{Do: "add", Kind: "ends", Count: bothEnds}
	case h.ends && one > 0:
		return HouseRule{Do: "add", Kind: "ends", Count: one}
	case len(h.numbers) == 2 && h.numbers[0] == h.numbers[1]:
		return HouseRule{Do: "add", Kind: "ends", Count: h.numbers[0]}
	case h.ties && one > 0:
		return HouseRule{Do: "add", Kind: "ties", Count: one}
	}
	return HouseRule{}
}

// bothEnds is what "two and two" asks at each end.
const bothEnds = 2

// gradeNumber is a grade as a number; 0 where it is none.
func gradeNumber(word string) int {
	n := 0
	for _, c := range word {
		if c < '0' || c > '9' {
			return 0
		}
		n = n*10 + int(c-'0')
	}
	return n
}
