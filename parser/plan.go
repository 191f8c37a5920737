package parser

import (
	"slices"
	"strings"

	"halfweight/rules/load"
)

// plans says whether the message, from its first token that is no command, asks
// what to put on: "plan with one spare", "need chains for 30k dozer, we have 6x 3/8
// g70", "smallest chain for four corners on 30000", "how do I tie down a 30k dozer".
// One that tells how tie-downs run, or what is wrong with them, tells of a load.
func (r *reader) plans(from int) bool {
	to := len(r.sig)
	head := r.past(from, kSep, kLine, kDet, kBe)
	if head >= to || r.has(from, to, kRoute, kDamage, kTighten, kReplace) {
		return false
	}
	if r.has(from, to, kLoose, kGone) && r.ifLost(from, to) < 0 {
		return false
	}
	switch t := r.t(head); {
	case t.kind == kPlan && t.word == "smallest":
		return r.kindAt(r.past(head+1, kDet, kSize, kGrade)) == kMat
	case t.kind == kPlan && t.word == "plan":
		return !r.has(from, to, kEnd, kSide) && !r.kindAt(head+1).in(kOther, kPlain, kBe) // "plan changed, it weighs 15200"
	case r.planWord(from, to, "plan"):
		return r.weighed(from, to) && !r.has(from, to, kEnd, kSide, kCorner, kSpread)
	case t.kind == kQuery && t.raw == "how" && t.word != "how many":
		next := r.past(head+1, kQuery, kDoubt, kDet)
		return r.kindAt(next) == kMat && r.weighed(next, to)
	case t.kind == kQuery && t.word == "what":
		if r.planWord(head, to, "smallest") {
			return true
		}
		words, _ := r.surfaceWords(from, to)
		return r.needs(from, to, words) && r.gearTold(head, to)
	case t.kind == kDoubt && strings.HasPrefix(t.raw, "need"):
		what := r.past(head+1, kDet, kExtra, kQuery, kOf, kSize, kGrade, kGradeWord)
		return r.kindAt(what) == kMat && r.has(what, to, kKind, kMass, kBig) && r.has(what, to, kFor, kOn, kTo)
	}
	return false
}

// planWord says whether a word of that meaning stands in from..to.
func (r *reader) planWord(from, to int, word string) bool {
	for i := from; i < to; i++ {
		if t := r.t(i); t.kind == kPlan && t.word == word {
			return true
		}
	}
	return false
}

// weighed says whether an article and a weight are told.
func (r *reader) weighed(from, to int) bool {
	return r.has(from, to, kKind) && r.has(from, to, kMass, kBig)
}

// gearTold says whether tie-downs are told with their number.
func (r *reader) gearTold(from, to int) bool {
	return r.has(from, to, kCount, kTimes) && r.has(from, to, kSize)
}

// needs says whether a question asks what is needed, and how it is to be planned:
// not how many of one kind, and nothing told that may be wrong with them.
func (r *reader) needs(from, to int, words string) bool {
	if !strings.Contains(words, " need ") && !strings.Contains(words, " needed ") {
		return false
	}
	head := r.past(from, kSep, kLine, kAnd)
	if r.kindAt(head) != kQuery || r.t(head).word != "what" || r.has(from, to, kDamage, kRoute, kEnd, kSide, kCorner) {
		return false
	}
	return topicOf(words) == "" && (!r.has(from, to, kLoose, kGone) || r.ifLost(from, to) >= 0)
}

// plan reads tokens from..to as a question for a plan.
func (r *reader) plan(from, to int, topic string) {
	_, quoted := r.surfaceWords(from, to)
	q := Ask{Topic: topic, Words: quoted, Plan: &Plan{}}
	r.planSpare(q.Plan, from, to)
	r.planWithout(q.Plan, from, to)
	r.planSmallest(q.Plan, from, to)
	r.planHeads(q.Plan, from, to)
	for _, act := range r.told(from, to) {
		d, ok := act.(Describe)
		if !ok {
			r.aside = true // something told that is in no plan
			continue
		}
		for _, art := range d.Articles {
			for i := range art.Lines {
				q.Lines, q.Ties = append(q.Lines, art.Lines[i]), append(q.Ties, firstOf(art.Ties, i))
			}
			art.Ties, art.Lines = nil, nil
			if art.Kind != "" || art.Machine != "" || art.Weight.Known() || len(art.Parts) > 0 {
				q.Plan.Articles = append(q.Plan.Articles, art)
			}
		}
	}
	r.acts = append(r.acts, q)
}

// told reads what is told in tokens from..to, with a reader of its own over the
// same tokens. What it does not own stays unread.
func (r *reader) told(from, to int) []Act {
	if from >= to {
		return nil
	}
	lo, hi := r.sig[from], len(r.toks)
	if to < len(r.sig) {
		hi = r.sig[to]
	}
	sub := readerOf(r.text, r.toks[lo:hi])
	for i := range sub.toks {
		if t := &sub.toks[i]; !t.kind.in(kFiller, kDecor) && t.kind != kTaken {
			sub.sig = append(sub.sig, i)
		}
	}
	sub.describe(0, len(sub.sig))
	sub.finish()
	r.aside = r.aside || sub.aside
	return sub.acts
}

// takeWord takes a token as part of how the plan is asked for.
func (r *reader) takeWord(i int) {
	t := r.t(i)
	t.kind, t.owner = kTaken, OwnPhrase
}

func (r *reader) takeWords(from, to int) {
	for i := from; i < to; i++ {
		r.takeWord(i)
	}
}

// planSpare reads "with one spare", "if one comes off".
func (r *reader) planSpare(p *Plan, from, to int) {
	for i := from; i < to; i++ {
		if r.kindAt(i) != kExtra || r.t(i).raw != "spare" && r.t(i).raw != "extra" {
			continue
		}
		start := i
		for start > from && (r.kindAt(start-1) == kDet || r.kindAt(start-1) == kNum && r.t(start-1).num == load.One || r.kindAt(start-1) == kWith) {
			start--
		}
		end := i + 1
		if r.kindAt(end) == kMat && !r.t(end).plural {
			end++
		}
		p.Spare = true
		r.takeWords(start, end)
	}
	if i := r.ifLost(from, to); i >= 0 {
		end := i + 1
		for end < to && !r.kindAt(end).in(kSep, kLine, kAsk, kStop, kMass, kKind) {
			end++
		}
		p.Spare = true
		r.takeWords(i, end)
	}
}

// ifLost finds "if one comes off", "if any one is lost"; -1 where it is not.
func (r *reader) ifLost(from, to int) int {
	for i := from; i < to; i++ {
		if r.kindAt(i) != kQuery || r.t(i).word != "if" {
			continue
		}
		k := r.past(i+1, kDet, kAll, kEach, kIt, kOf, kThem)
		if r.kindAt(k) == kNum && r.t(k).num == load.One {
			k++
		}
		if k = r.past(k, kOf, kThem, kMat, kBe); k < to && r.kindAt(k).in(kGone, kLoose) {
			return i
		}
	}
	return -1
}

// planWithout reads the kinds that are not to be used: "keeping the straps dry",
// "no straps", "without the 1/2 chains".
func (r *reader) planWithout(p *Plan, from, to int) {
	for i := from; i < to; i++ {
		t := r.t(i)
		if m := r.noneOf(i); m != "" {
			p.Exclude = append(p.Exclude, load.TieDown{Material: m})
			r.takeWord(i)
			continue
		}
		if !(t.kind == kPlan && t.word == "keep" || t.kind == kNeg && slices.Contains([]string{"no", "not", "without", "dont", "wout"}, t.raw)) {
			continue
		}
		start := r.past(i+1, kDet, kAll, kWith)
		end := r.past(start, kSize, kGrade, kGradeWord, kMat, kAnd, kOr)
		if !r.has(start, end, kSize, kMat) {
			continue
		}
		for _, x := range tiesOf(r.told(start, end)) {
			p.Exclude = append(p.Exclude, load.TieDown{Material: x.Material, Size: x.Size, SizeWord: x.SizeWord, Grade: x.Grade})
		}
		if r.kindAt(end) == kPlan && r.t(end).word == "dry" {
			end++
		}
		r.takeWords(i, end)
	}
}

// noneOf is the material of "no straps", which elsewhere tells that nothing is
// on.
func (r *reader) noneOf(i int) load.Material {
	if r.kindAt(i) != kBare {
		return ""
	}
	switch words := r.sent(i); {
	case strings.HasSuffix(words, " straps"), strings.HasSuffix(words, " strap"):
		return load.Webbing
	case strings.HasSuffix(words, " chains"), strings.HasSuffix(words, " chain"):
		return load.Chain
	}
	return ""
}

// tiesOf are the tie-downs told in acts, one a line.
func tiesOf(acts []Act) []load.TieDown {
	_, ties, _ := (&reader{acts: acts}).ties()
	return ties
}

// planSmallest reads "smallest chain for four corners".
func (r *reader) planSmallest(p *Plan, from, to int) {
	for i := from; i < to; i++ {
		if r.kindAt(i) != kPlan || r.t(i).word != "smallest" {
			continue
		}
		p.Smallest = true
		r.takeWord(i)
	}
	if !p.Smallest {
		return
	}
	for i := from; i < to; i++ {
		switch k := r.kindAt(i); {
		case k == kCorner || k == kSpread || k == kSpreadOne:
			if n := i - 1; n >= from && r.kindAt(n).in(kNum, kCount) {
				p.Count = int(r.t(n).num / load.One)
				r.takeWord(n)
			}
			r.takeWord(i)
		case k.in(kNum, kCount) && r.kindAt(i+1) == kMat && !r.has(i, i+1, kSize):
			p.Count = int(r.t(i).num / load.One)
			r.takeWord(i)
		}
	}
}

// planHeads takes the words that ask, and tie-downs named without anything that
// tells their kind or number: "need chains for ...".
func (r *reader) planHeads(p *Plan, from, to int) {
	told := false // something is: what stands before that asks
	for i := from; i < to; i++ {
		switch t := r.t(i); {
		case t.kind.in(kQuery, kPlan, kAsk, kFor), t.kind == kDoubt && (!told || strings.HasPrefix(t.raw, "need")), t.kind == kNeg && t.raw == "only":
			r.takeWord(i)
		case t.kind.in(kOther, kPlain, kExtra) && !told && (t.raw == "else" || t.raw == "more"):
			r.takeWord(i)
		case t.kind == kMat && !r.kindAt(i+1).in(kTimes, kSize, kGrade) && (t.plural && !r.kindAt(i-1).in(kSize, kGrade, kNum, kCount, kTimes, kMass, kMat, kLabel) ||
			!t.plural && r.kindAt(i-1).in(kTaken, kNone, kDet)):
			p.Material = materials[t.word].material
			r.takeWord(i)
		case t.kind.in(kKind, kMass, kBig, kCount, kSize):
			told = true
		}
	}
}
