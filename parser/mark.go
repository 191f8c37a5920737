package parser

import (
	"strconv"
	"strings"

	"halfweight/rules/load"
)

// This file reads the marks that a crew paints on its gear: "chain 7", "red strap
// 2", "strap B", "binder 3". A mark names one piece and is never a count: "7
// chains" and "chains 7" count, "chain 7" does not, though a few write so: then
// one is counted where there are more, and that is said.

// highest is the highest number that a mark has.
const highest = 999

// markWords are the words that marked pieces go by, by what the word is.
var markWords = map[string]string{
	"chain": "chain", "webbing": "strap", "ratchet strap": "strap", "winch strap": "strap", "wire rope": "cable", "cordage": "rope",
	"binder": "binder", "lever binder": "binder", "ratchet binder": "binder",
}

// colours are the paints a mark may name. Alone they say nothing of a load, so the
// dictionary has most of them among the words that mean nothing.
var colours = map[string]bool{
	"red": true, "blue": true, "yellow": true, "green": true, "orange": true, "black": true, "white": true, "grey": true, "gray": true,
	"pink": true, "brown": true,
}

// marks joins each run of marked pieces to one token: "chain 7 and chain 9" is
// both. What is between the first word and the last goes into it.
func marks(text string, toks []tok) []tok {
	if !marked(toks) {
		return toks
	}
	shout := text == strings.ToUpper(text)
	offs := offsets(text)
	sent := func(t *tok) string { return text[offs.at(t.at):offs.at(t.end)] }
	letter := func(t *tok) string {
		s := sent(t)
		small := t.kind == kOther && !shout && len(s) == 1 && s[0] >= 'b' && s[0] <= 'z'
		if small || len(s) == 1 && s[0] >= 'A' && s[0] <= 'Z' && !shout {
			return strings.ToUpper(s)
		}
		return ""
	}
	out := make([]tok, 0, len(toks))
	for i := 0; i < len(toks); {
		m, n, ok := markAt(toks, out, i, sent, letter)
		if !ok {
			out = append(out, toks[i])
			i++
			continue
		}
		if k := len(out); joins(out, &m) {
			j := k - 1
			for out[j].tags == nil {
				j--
			}
			out[j].tags, out[j].end = append(out[j].tags, m.tags...), m.end
			out = out[:j+1]
		} else {
			out = append(out, m)
		}
		i = n
	}
	return out
}

// marked says whether there is anything to look at.
func marked(toks []tok) bool {
	for i := range toks {
		if i+1 < len(toks) && toks[i].kind.in(kMat, kTens) {
			return true
		}
	}
	return false
}

// markAt is the marked piece at token i as one token, and the token behind it.
func markAt(toks, before []tok, i int, sent, letter func(*tok) string) (m tok, behind int, ok bool) {
	colour, k := "", i
	if toks[k].kind.in(kPlain, kOther) && colours[toks[k].raw] {
		colour, k = toks[k].raw+" ", k+1
	}
	if k+1 >= len(toks) || !toks[k].kind.in(kMat, kTens) || markWords[toks[k].word] == "" || counts(before) {
		return m, 0, false
	}
	m = toks[k]
	n := k + 1
	if t := &toks[n]; (t.raw == "no" || t.raw == "number" || t.raw == "nr" || sent(t) == "#") && n+1 < len(toks) {
		n++
	}
	name := ""
	switch t := &toks[n]; {
	case t.kind == kNum && t.num%load.One == 0 && t.num > 0 && t.num <= highest*load.One && (n > k+1 || gradeValue(t.num) == "" || t.num < 30*load.One):
		name = strconv.Itoa(int(t.num / load.One))
	case t.kind.in(kDet, kOther, kPlain, kUnit, kFiller, kGradeWord, kWith, kAnd, kIt):
		name = letter(t)
	}
	if name == "" || n+1 < len(toks) && !another(toks[n+1:]) && (toks[n+1].kind.in(kMat, kTens, kKind, kUnit, kTimes, kCount, kNum) || toks[n+1].kind.in(kLink, kHook) && toks[n+1].plural) {
		return m, 0, false // "chain 2 straps": the number counts what is behind it
	}
	if n+1 < len(toks) && toks[k].word == "wire rope" && (toks[n+1].kind == kDamage || strings.HasPrefix(sent(&toks[n+1]), "broken")) {
		return m, 0, false // "cable 8 broken wires"
	}
	if n+2 < len(toks) && toks[n+1].kind == kSep && toks[n+1].word == "/" && toks[n+2].kind == kNum {
		return m, 0, false // "chain 3 / 8"
	}
	word := colour + markWords[toks[k].word] + " "
	m.tags = []string{word + name}
	m.at, m.end, m.figure = toks[i].at, toks[n].end, false
	for n++; ; n += 2 {
		next, ok := moreMarks(toks, n, sent)
		if !ok {
			break
		}
		m.tags = append(m.tags, word+next)
		m.end = toks[n+1].end
	}
	if plural := toks[k].plural; plural && len(m.tags) < 2 {
		return m, 0, false // "chains 4": four
	}
	m.plural = false
	return m, n, true
}

// another says whether a word and a number follow, as of one more mark: "chain 7
// chain 8".
func another(toks []tok) bool {
	return len(toks) > 1 && toks[0].kind.in(kMat, kTens) && !toks[0].plural && toks[1].kind == kNum
}

// moreMarks is one more number of a list of marks: ", 8", "and 9". One that is
// written as a word or followed by what it may count is none.
func moreMarks(toks []tok, i int, sent func(*tok) string) (name string, ok bool) {
	if i+1 >= len(toks) || !(toks[i].kind == kAnd || toks[i].kind == kSep && toks[i].word != "/") {
		return "", false
	}
	t := &toks[i+1]
	name = sent(t)
	if t.kind != kNum || t.num > highest*load.One || strings.Trim(name, "0123456789") != "" || i+2 < len(toks) && counted(toks[i+2].kind) {
		return "", false
	}
	return name, true
}

// counted says whether a number before a token of a kind counts it.
func counted(k kind) bool {
	return k.in(kMat, kTens, kKind, kUnit, kTimes, kCount, kNum, kLink, kHook, kRing, kSize, kGrade, kGradeWord, kThem, kExtra, kRest, kMass, kBig, kMiles)
}

// counts says whether what stands right before counts tie-downs, so that a number
// behind the word is no mark.
func counts(before []tok) bool {
	for j := len(before) - 1; j >= 0; j-- {
		switch before[j].kind {
		case kFiller, kDecor, kSize, kGrade, kGradeWord:
			continue
		case kNum, kCount, kTimes, kBadFig, kMat:
			return before[j].tags == nil
		}
		return false
	}
	return false
}

// joins says whether only "and" or a comma stands between m and marked pieces of
// the same sort right before it.
func joins(out []tok, m *tok) bool {
	between := 0
	for j := len(out) - 1; j >= 0; j-- {
		switch t := &out[j]; {
		case t.tags != nil:
			return between > 0 && t.kind == m.kind && t.word == m.word
		case t.kind.in(kAnd, kSep):
			between++
		case t.kind == kFiller:
		default:
			return false
		}
	}
	return false
}

// eachTag is a change of each of some marked pieces; of what it is where none is
// told.
func eachTag(c Change, tags []string) []Change {
	if len(tags) == 0 {
		return []Change{c}
	}
	var list []Change
	for _, tag := range tags {
		one := c
		one.Ref.Which, one.Ref.Count, one.Ref.Lacks = It, 0, false
		one.Ref.Like.Tag = tag
		list = append(list, one)
	}
	return list
}

// gearMark reads "gear chain 7 is 3/8 g70", "gear less chain 7" from token k on,
// the marked piece; do is "set" or "less".
func (r *reader) gearMark(k int, do string) bool {
	g := Gear{Do: "piece", Tags: r.t(k).tags}
	if do == "less" {
		g.Do = "less"
		if !r.rest(k + 1) {
			return false
		}
		r.own(k, OwnFact)
		r.acts = append(r.acts, g)
		return true
	}
	fitting := r.t(k).kind == kTens
	rest := r.past(k+1, kBe, kDet, kWith, kSep)
	if fitting {
		return r.gearBinder(k, rest)
	}
	if width := r.t(k).word; rest < len(r.sig) && materials[width].material == load.Webbing && r.kindAt(rest) == kNum && r.inches(rest) {
		g.Ties = []load.TieDown{{Material: load.Webbing, SizeWord: r.sent(rest)}}
		g.Ties[0].Size, _ = load.Times(r.t(rest).num, load.Inch)
		rest = len(r.sig)
	}
	if rest < len(r.sig) {
		lines, ties, art := r.within(rest).ties()
		if len(ties) != 1 || lines[0].Told && lines[0].Count != 1 || art.Kind != "" || art.Weight.Known() {
			return false
		}
		tie := ties[0]
		tie.Line, tie.Plural = 0, false
		g.Ties = []load.TieDown{tie}
		if tie.Material == "" {
			g.Ties[0].Material = materials[r.t(k).word].material
		}
	}
	r.ownAll(k, rest, OwnFact)
	r.acts = append(r.acts, g)
	return true
}

// inches says whether the bare number at i, "in" behind it or nothing, is all that
// is left: "strap 2 is 4 in".
func (r *reader) inches(i int) bool {
	return r.rest(i+1) || r.kindAt(i+1) == kOn && r.t(i+1).raw == "in" && r.rest(i+2)
}

// gearBinder reads what a marked binder is rated: "gear binder 3 is 9200".
func (r *reader) gearBinder(k, rest int) bool {
	rest = r.past(rest, kRated, kBe, kHedge, kIt)
	if !r.kindAt(rest).in(kBig, kMass) || !r.rest(rest+1) {
		return false
	}
	g := Gear{Do: "piece", Tags: r.t(k).tags, Ties: []load.TieDown{{Tensioner: load.Tensioner{Has: load.Yes, Kind: r.t(k).word, Rating: r.t(rest).weight.Told}}}}
	r.ownAll(k, rest+1, OwnFact)
	r.acts = append(r.acts, g)
	return true
}

// markSwap reads "replaced chain 7 with chain 11", "chain 7 replaced with chain 11"
// as the whole message: the second is where the first was, and the first is not
// mended by it.
func (r *reader) markSwap(i int) bool {
	var tags []string
	replaces, with := false, false
	for k := i; k < len(r.sig); k++ {
		t := r.t(k)
		switch {
		case t.kind == kReplace:
			replaces = true
		case t.kind == kMat && len(t.tags) == 1:
			tags = append(tags, t.tags[0])
		case t.kind.in(kWith, kFor, kOn) && len(tags) == 1:
			with = true
		case t.kind.in(kDet, kBe, kIt, kStop):
		default:
			return false
		}
	}
	if !replaces || !with || len(tags) != 2 {
		return false
	}
	r.ownAll(i, len(r.sig), OwnFact)
	r.acts = append(r.acts, Change{Ref: Ref{Like: load.TieDown{Tag: tags[0]}}, Edit: Edit{Replaced: true, Set: load.TieDown{Tag: tags[1]}}})
	return true
}

// markBack reads "put chain 7 back on", "chain 7 is back" as the whole message.
func (r *reader) markBack(i int) bool {
	if b := r.past(i, kDet); r.kindAt(b) == kMat && len(r.t(b).tags) > 0 && r.kindAt(b+1) == kBe && r.kindAt(b+2) == kEnd && r.t(b+2).raw == "back" && r.rest(b+3) {
		r.ownAll(i, len(r.sig), OwnFact)
		for _, c := range eachTag(Change{Edit: Edit{Back: true}}, r.t(b).tags) {
			r.acts = append(r.acts, c)
		}
		return true
	}
	k := r.past(i+1, kDet)
	if !(r.kindAt(i) == kCmd && r.t(i).word == "add") || r.kindAt(k) != kMat || len(r.t(k).tags) == 0 {
		return false
	}
	back := r.kindAt(k+1) == kTighten && r.sent(k+1) == "back on" && r.rest(k+2) // on again; whether tight is not told
	if !back && (r.kindAt(k+1) != kEnd || r.t(k+1).raw != "back" || r.kindAt(k+2) != kOn && r.kindAt(k+2) != kNone || !r.rest(k+3)) {
		return false
	}
	r.ownAll(i, len(r.sig), OwnFact)
	for _, c := range eachTag(Change{Edit: Edit{Back: true}}, r.t(k).tags) {
		r.acts = append(r.acts, c)
	}
	return true
}

// markReads reads "chain 7 reads 6600", "binder 3 is 9200" as the whole message.
func (r *reader) markReads(i int) bool {
	if r.kindAt(i) == kDet {
		i++
	}
	if !r.kindAt(i).in(kMat, kTens) || len(r.t(i).tags) == 0 {
		return false
	}
	fitting := r.t(i).kind == kTens
	k := r.past(i+1, kRated, kBe, kDet, kIt)
	if k == i+1 || !r.kindAt(k).in(kBig, kMass) || !r.rest(k+1) || r.has(i, k, kHedge, kNeg, kDoubt) {
		return false
	}
	for m := i + 1; m < k; m++ {
		if r.t(m).word == "breaking" {
			return false
		}
	}
	c := Change{}
	if fitting {
		c.Edit.Set.Tensioner = load.Tensioner{Has: load.Yes, Kind: r.t(i).word, Rating: r.t(k).weight.Told}
	} else {
		c.Ref.Like.Material = materials[r.t(i).word].material
		c.Edit.Set.Mark = r.t(k).weight.Told
	}
	r.ownAll(i, len(r.sig), OwnFact)
	for _, c := range eachTag(c, r.t(i).tags) {
		r.acts = append(r.acts, c)
	}
	return true
}
