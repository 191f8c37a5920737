package parser

import (
	"cmp"
	_ "embed"
	"encoding/csv"
	"regexp"
	"slices"
	"strings"
	"sync"

	"halfweight/rules/load"
)

//go:embed topics.csv
var topicsCSV string

// gearTopicsCSV are topics of gear and its fitness, which come before a hurt told
// in passing: "can i weld a cracked link" asks about welding.
//
//go:embed gear_topics.csv
var gearTopicsCSV string

// topicRow is a topic and what asks for it: a phrase, or words that must all stand
// in the question, in any order ("gooseneck & headboard/headerboard").
type topicRow struct {
	key, words string
	all        [][]string // the words, each in the ways it is put; nil for a phrase
}

// in says whether the row stands in words, and how much of them it takes.
func (t *topicRow) in(words string) (length int) {
	if t.all == nil {
		if strings.Contains(words, t.words) {
			return len(t.words)
		}
		return 0
	}
	for _, ways := range t.all {
		i := slices.IndexFunc(ways, func(w string) bool { return strings.Contains(words, w) })
		if i < 0 {
			return 0
		}
		length += len(ways[i]) - 1
	}
	return length
}

var topicRows = sync.OnceValue(func() []topicRow {
	return append(readTopics("topics.csv", topicsCSV), readTopics("gear_topics.csv", gearTopicsCSV)...)
})

// gearTopics are the keys of gearTopicsCSV.
var gearTopics = sync.OnceValue(func() map[string]bool {
	keys := map[string]bool{}
	for _, row := range readTopics("gear_topics.csv", gearTopicsCSV) {
		keys[row.key] = true
	}
	return keys
})

func readTopics(name, table string) (out []topicRow) {
	rows, err := csv.NewReader(strings.NewReader(table)).ReadAll()
	if err != nil {
		panic("parser: " + name + ": " + err.Error())
	}
	for _, row := range rows[1:] {
		for _, w := range strings.Split(row[1], "|") {
			t := topicRow{key: row[0], words: " " + w + " "}
			if strings.Contains(w, "&") {
				for _, part := range strings.Split(w, "&") {
					var ways []string
					for way := range strings.SplitSeq(strings.TrimSpace(part), "/") {
						ways = append(ways, " "+way+" ")
					}
					t.all = append(t.all, ways)
				}
				t.words = " " + strings.NewReplacer("&", " ", "/", " ").Replace(w) + " "
			}
			out = append(out, t)
		}
	}
	return out
}

// topicOf is the topic whose longest phrase stands in words; "" when none does.
func topicOf(words string) string { return topicIn(words).key }

// topicIn is that topic with its phrase.
func topicIn(words string) (best topicRow) {
	most := 0
	for _, t := range topicRows() {
		if t.key == "thanks" && words != t.words {
			continue // "is that ok" is a question
		}
		if n := t.in(words); n > most {
			best, most = t, n
		}
	}
	return best
}

// asks says whether tokens from..to are a question rather than a load.
func (r *reader) asks(from, to int, marked bool) bool {
	head := r.past(from, kSep, kLine, kAnd, kOr, kTaken)
	if head >= to {
		return false
	}
	if r.asksHold(from, to) && !r.ofGearTopic(from, to) {
		return true
	}
	if r.asksInWords(from, to) {
		return true
	}
	switch k := r.kindAt(head); {
	case k == kQuery && r.t(head).word != "enough" && r.t(head).word != "better":
		return true
	case k == kDoubt && (marked || r.hasQuery(head+1, to) && !r.query(head+1, to, "better") && (r.query(head+1, to, "if") || !r.has(head, to, kGone, kLoose, kDamage))):
		return true // "will 6x 3/8 g70 do for 52000"
	case k == kBe && r.has(from, to, kDamage) && !r.has(from, to, kCount, kTimes, kKind):
		return true // "is a 1/4 inch cut too much for a 2in strap"
	case k.in(kDoubt, kBe) && r.gearAsked(from, to):
		return true // "should i put a twist in the strap", "is a tag required"
	case k == kBe && (marked || r.has(head, to, kQuery)):
		return true
	}
	if r.sizes(from, to) >= 2 && r.query(from, to, "better") && !r.has(from, to, kCount, kKind) {
		return true // "3/8 g43 or 5/16 g70 which is better"
	}
	if r.sizes(from, to) >= 2 && !r.has(from, to, kCount, kKind) && (r.kindAt(head) == kBe || r.versus(from, to)) {
		return true // "is 3/8 g80 the same as 1/2 g70", "3/8 g80 vs 1/2 g70"
	}
	loaded := r.has(from, to, kKind, kCount) || r.has(from, to, kMass, kBig, kTimes)
	if !marked && (r.hasQuery(from, to) || r.strong(from, to)) && (!loaded || r.strong(from, to)) {
		words, _ := r.surfaceWords(from, to)
		topic := topicOf(words)
		return topic != "" && (topic != "thanks" || to-from <= 2) && (r.strong(from, to) || !r.has(from, to, kDamage, kLoose, kGone))
	}
	if !marked {
		// no figure either way: what it means is asked
		return !loaded && r.has(from, to, kNoMark) && r.has(from, to, kTens, kHook, kRing) && !r.has(from, to, kMat, kLink, kSize, kGrade)
	}
	// a load sent with a question mark is a load
	tied := r.has(from, to, kCount, kTimes, kNum)
	return !(r.has(from, to, kKind) && tied && (r.has(from, to, kSize, kMat, kGrade)))
}

// asksInWords says whether tokens from..to tell of no load, and begin or end as a
// question does: "how tight is tight", "two binders say 5/16-3/8, which counts".
func (r *reader) asksInWords(from, to int) bool {
	const most = 40 // words of a question
	if to-from > most {
		return false
	}
	if words, _ := r.surfaceWords(from, to); aside.MatchString(words) && !r.has(from, to, kTimes, kSize, kGrade, kRoute, kCorner, kGone, kLoose) {
		return topicOf(words) != ""
	}
	if r.has(from, to, kKind) && r.has(from, to, kCount, kTimes, kNum) || r.has(from, to, kTimes) {
		return false
	}
	words, _ := r.surfaceWords(from, to)
	for _, tail := range []string{" light or heavy ", " heavy or light ", " which counts ", " which one counts ", " does that count ", " does it count ", " do they count ", " do those count ", " is that ok ", " is that legal ",
		" is it legal ", " is that allowed ", " ok or not ", " legal or not ", " is he right ", " is that right ", " who decides ", " what then ", " what now ", " now what ", " what do i use "} {
		if strings.HasSuffix(words, tail) {
			return topicOf(words) != "" || len(words) == len(tail)
		}
	}
	for _, head := range []string{" who ", " how ", " why ", " where ", " when ", " what ", " whats ", " which ", " does ", " do ", " can ", " is ", " are ", " should ", " must ", " is it "} {
		if strings.HasPrefix(words, head) {
			return topicOf(words) != "" && !r.has(from, to, kCount)
		}
	}
	return false
}

// aside is a question in the middle of what is told, or what somebody says is
// needed: neither tells what is on a load.
var aside = regexp.MustCompile(` can (i|we|he|it|you) (haul|carry|pull|put|load) | (says?|said|thinks|claims|swears) (he|she|it|they|we|i|you) ((only|just) needs?|dont need|doesnt need) | (says?|said|thinks|claims|swears) .*(plenty|enough) | too short (what|how|now) `)

// gearAsked says whether "should I", "will I", "is a" asks about gear.
func (r *reader) gearAsked(from, to int) bool {
	words, _ := r.surfaceWords(from, to)
	for _, head := range []string{" should i ", " will i ", " is a ", " is it ", " are "} {
		if strings.HasPrefix(words, head) {
			return r.ofGearTopic(from, to)
		}
	}
	return false
}

// ofGearTopic says whether a topic of gear is asked for in tokens from..to.
func (r *reader) ofGearTopic(from, to int) bool {
	words, _ := r.surfaceWords(from, to)
	return gearTopics()[topicOf(words)]
}

// supposed says whether the question is about a load changed for its sake, and not
// about how to tell ("how do i tell if a chain is bad").
func supposed(words string) bool {
	return strings.Contains(words, " what if ") || strings.Contains(words, " suppose ") || strings.HasPrefix(words, " if ")
}

// strong says whether the words ask a question however they are put: "can i
// limp it", "is this even for me".
func (r *reader) strong(from, to int) bool {
	if r.has(from, to, kCount, kTimes) {
		return false
	}
	words, _ := r.surfaceWords(from, to)
	if strings.Contains(words, " hooks say ") && r.has(from, to, kNoMark) {
		return true // "no stamps but the hooks say 70"
	}
	for _, w := range []string{" even for me ", " limp ", " off every ", " inspector says ", " officer says ", " cop says ", " trooper says ", " dot says ", " not for hire ", " on the hook if "} {
		if strings.Contains(words, w) {
			return true
		}
	}
	return false
}

// sizes counts the sizes told in from..to.
func (r *reader) sizes(from, to int) (n int) {
	for i := from; i < to; i++ {
		if r.t(i).kind == kSize {
			n++
		}
	}
	return n
}

// versus says whether two things are set against each other: "vs".
func (r *reader) versus(from, to int) bool {
	for i := from; i < to; i++ {
		if t := r.t(i); t.kind == kOr && (t.raw == "vs" || t.raw == "versus") {
			return true
		}
	}
	return false
}

// hasQuery says whether a word that asks stands in from..to. "Hold" and "work"
// tell as often as they ask.
func (r *reader) hasQuery(from, to int) bool {
	for i := from; i < to; i++ {
		if t := r.t(i); t.kind == kQuery && t.raw != "hold" && t.raw != "work" {
			return true
		}
	}
	return false
}

// query says whether the asking word stands in tokens from..to.
func (r *reader) query(from, to int, word string) bool {
	for i := from; i < to && i < len(r.sig); i++ {
		if t := r.t(i); t.kind == kQuery && t.word == word {
			return true
		}
	}
	return false
}

// surfaceWords is the question in plain lower-case words, a space around each.
func (r *reader) surfaceWords(from, to int) (words, quoted string) {
	if from >= to {
		return " ", ""
	}
	offs := offsets(r.text)
	a, b := r.toks[r.sig[from]].at, r.toks[r.sig[to-1]].end
	// fillers ahead of the first token are part of it too
	for k := r.sig[from] - 1; k >= 0 && r.toks[k].kind == kFiller; k-- {
		a = r.toks[k].at
	}
	for k := r.sig[to-1] + 1; k < len(r.toks) && r.toks[k].kind == kFiller; k++ {
		b = r.toks[k].end
	}
	quoted = r.text[offs.at(a):offs.at(b)]
	return plainWords(quoted), quoted
}

// plainWords is text in lower-case words with a space around each.
func plainWords(text string) string {
	var sb strings.Builder
	sb.WriteByte(' ')
	space := true
	for _, c := range strings.ToLower(text) {
		switch {
		case c == '\'' || c == '’':
		case letter(c) || digit(c) || c == '/' || c == '.':
			sb.WriteRune(c)
			space = false
		default:
			if !space {
				sb.WriteByte(' ')
				space = true
			}
		}
	}
	if !space {
		sb.WriteByte(' ')
	}
	return sb.String()
}

// question reads tokens from..to as a question.
func (r *reader) question(from, to int) {
	if r.asksHold(from, to) && !r.ofGearTopic(from, to) {
		r.hold(from, to)
		return
	}
	words, quoted := r.surfaceWords(from, to)
	if w := r.asking(from, to, words); !w.hold && r.needs(from, to, words) {
		r.plan(from, to, "need")
		return
	}
	q := Ask{Words: quoted}
	w := r.asking(from, to, words)
	q.take(r.askedOf(from, to, w))
	q.Topic = q.topic(words, w)
	if q.Topic == "what if" {
		q.Else = topicOf(words)
	}
	if q.Topic == "wear" {
		q.moveDamage()
	}
	r.settleQuestion(&q, from, to)
}

// needsToHold says whether it is asked if a part must be held, and not what to put
// on: "do I need to chain the bucket under 10000".
func (r *reader) needsToHold(from, to int, words string) bool {
	return r.has(from, to, kPart) && !r.has(from, to, kCount, kTimes, kSize, kGrade) && gotta.MatchString(words) && topicOf(words) != ""
}

// gotta is how it is asked whether something must be done at all.
var gotta = regexp.MustCompile(`^ (do|does|must|should|have) (i|we|you|he|they|it)? ?(need to|have to|gotta|got to|need)? ?(be )?(chain|strap|tie|chained|strapped|tied|lock|pin|put a chain) `)

// asking is what the words of a question ask for.
type asking struct {
	howMany, better, whatIf, why, when, need bool
	hold                                     bool // if a part must be held at all
	damage                                   bool // a damage is told in it
	measured                                 bool // and its measure
	unmarked                                 bool // a fitting with no mark is told of, and no chain
	against                                  bool // two things are set against each other
}

func (r *reader) asking(from, to int, words string) asking {
	return asking{
		howMany:  r.query(from, to, "how many"),
		better:   r.query(from, to, "better"),
		whatIf:   r.query(from, to, "if") && (supposed(words) || !strings.Contains(words, " who ") && !strings.Contains(words, " know if ") && !strings.Contains(words, " tell if ")),
		why:      r.query(from, to, "why"),
		when:     r.query(from, to, "when"),
		need:     strings.Contains(words, " need ") || strings.Contains(words, " needed "),
		hold:     r.needsToHold(from, to, words),
		damage:   r.has(from, to, kDamage),
		measured: r.measuredHurt(from, to),
		unmarked: r.has(from, to, kNoMark) && r.has(from, to, kTens, kHook, kRing) && !r.has(from, to, kMat, kLink, kSize, kGrade),
		against:  r.has(from, to, kThan) || r.versus(from, to) || r.kindAt(from) == kBe,
	}
}

// askedOf reads what a question tells, with a reader of its own over the same
// tokens, so that nothing leaks into the load.
func (r *reader) askedOf(from, to int, w asking) []Act {
	lo, hi := r.sig[from], len(r.toks)
	if to < len(r.sig) {
		hi = r.sig[to]
	}
	sub := readerOf(r.text, r.toks[lo:hi])
	for i := range sub.toks {
		t := &sub.toks[i]
		if t.of > 0 {
			continue // its measure is folded into the word for the hurt
		}
		switch t.kind {
		case kFiller, kDecor:
		case kOr, kThan:
			if !w.whatIf && !w.damage {
				t.kind = kLine // compared things are clauses of their own
			}
			sub.sig = append(sub.sig, i)
		case kQuery, kDoubt: // "what do I need": asked, not told with a doubt
			t.owner = OwnPhrase
			t.kind = kTaken
		default:
			if t.raw == "as" || t.word == "same side" && t.raw == "same" {
				t.kind = kLine // "the same as"
			}
			sub.sig = append(sub.sig, i)
		}
	}
	sub.describe(0, len(sub.sig))
	sub.finish()
	return sub.acts
}

// take lays what a question tells into it: the first article and its weight,
// all tie-downs, the first change.
func (q *Ask) take(acts []Act) {
	for _, act := range acts {
		switch a := act.(type) {
		case Describe:
			for _, art := range a.Articles {
				for i := range art.Lines {
					q.Lines = append(q.Lines, art.Lines[i])
					q.Ties = append(q.Ties, firstOf(art.Ties, i))
				}
				if q.Article.Kind == "" {
					q.Article = art.Article
					q.Article.Ties = nil
				}
				if !q.Weight.Known() {
					q.Weight = art.Weight
				}
			}
		case Change:
			if q.Change == nil {
				q.Change = &a
			}
		}
	}
	if len(q.Ties) == 0 && q.Change != nil && len(q.Change.Edit.Damage) > 0 {
		// "4in strap with a half inch cut": the kind asked about, not one on a load
		t := q.Change.Ref.Like
		t.State.Damage = q.Change.Edit.Damage
		if t.Material == "" && t.State.Damage[0].Part == string(load.Chain) {
			t.Material = load.Chain
		}
		q.Lines, q.Ties, q.Change = []Line{{Count: 1, Named: true}}, []load.TieDown{t}, nil
	}
}

// topic is the topic of the question, by what it asks for and what it tells.
func (q *Ask) topic(words string, w asking) string {
	known := topicOf(words)
	core := len(q.Ties) > 0 && (q.Ties[0].Size != 0 || q.Ties[0].Grade.Reading != load.NotRead || q.Ties[0].Material != "")
	sized := core && (q.Ties[0].Size != 0 || q.Ties[0].Grade.Reading != load.NotRead || q.Ties[0].Mark > 0)
	weighs, named := q.Weight.Known(), q.Article.Kind != ""
	hurt := len(q.Ties) > 0 && len(q.Ties[0].State.Damage) > 0 || w.damage && core
	switch {
	case known == "tie down" || known == "" && named && downHow.MatchString(words):
		if named {
			return "need" // "how do i tie down a skid steer"
		}
		return known
	case known == "" && sinks.MatchString(words):
		return "why"
	case (known == "grades" || known == "grade 30") && weighs && core:
		return "how many" // what it takes of that grade can be counted
	case known == "grades" && sized && len(q.Ties) >= 2:
		return "compare" // what each is rated can be told
	case (known == "on wheels" || known == "weakest part") && weighs && named:
		return "need" // what it takes can be counted
	case known != "" && !w.measured && gearTopics()[known] && !(w.whatIf && supposed(words)):
		return known
	case w.hold && known != "":
		return known
	case w.whatIf && q.Change == nil && known != "":
		return known // "what happens if I'm short"
	case w.whatIf:
		return "what if"
	case w.unmarked:
		return "no stamp"
	case hurt && !weighs && !named && !w.better && known != "grade marks":
		return "wear"
	case w.howMany && core && !weighs && !named && (strings.Contains(words, " hold ") || strings.Contains(words, " good for ")):
		return "good for"
	case w.howMany && (core || weighs || named) && (sized || weighs || known == "" || known == "straps on machines"):
		return "how many"
	case w.better && len(q.Ties) >= 2, len(q.Ties) == 2 && w.against:
		return "compare"
	case w.when && (known == "" || known == "when to check"):
		return "when"
	case w.why && known == "":
		return "why"
	case sized && !weighs && strings.HasPrefix(words, " how heavy "):
		return "good for" // "how heavy can i go with 4 3/8 chains"
	case known != "" && !weighs && !w.howMany:
		return known
	case len(q.Article.Parts) > 0 && weighs && q.Weight.Told < 10_000*load.Pound && !w.need && !w.howMany:
		return "under 10000"
	case w.need && !w.howMany:
		return "need"
	case known != "":
		return known
	case core && (weighs || named && !sized):
		return "how many"
	case core && q.Lines[0].Told, sized && q.Ties[0].Route != "":
		return "good for"
	case sized:
		return "what is"
	case w.howMany, named && weighs:
		return "need"
	}
	return cmp.Or(scattered(words), "unknown")
}

// downHow asks how a thing is held.
var downHow = regexp.MustCompile(` how (do|should|would|to|can) .*(tie|chain|strap|hold|secure|haul) `)

// needs asks for a number, "do i need 4 corners", rather than tells one.
var needs = regexp.MustCompile(` (do|does|did|only|just) .*needs? | needs `)

// sinks asks which of the tie-downs, or what else, is why the load does not do.
var sinks = regexp.MustCompile(` (what|whats|which|which one|which ones) (is )?(sinks?|sinking|kills?|killing|fails?|failing|sank|hurts|hurting) (it|me|us|the load) | (what|which one) (fails?|failed) $| (what|whats) (makes|making) (it|this|me|us) (short|not) `)

// measuredHurt says whether a hurt is told with its measure in tokens from..to.
func (r *reader) measuredHurt(from, to int) bool {
	for i := from; i < to && i < len(r.sig); i++ {
		if r.t(i).hurt != nil {
			return true
		}
	}
	return false
}

// settleQuestion owns the question's words and adds the act.
func (r *reader) settleQuestion(q *Ask, from, to int) {
	if q.Topic == "need" && q.Article.Kind != "" && !sizedAny(q.Ties) && (needs.MatchString(plainWords(q.Words)) || !slices.ContainsFunc(q.Lines, func(l Line) bool { return l.Told })) {
		q.Lines, q.Ties = nil, nil // "how do i tie down a skid steer": none is told
	}
	if q.Topic == "unknown" {
		if !r.known(from, to) {
			return // nothing in it is a word of ours: not read
		}
		q.Near = near(plainWords(q.Words))
	} else if topicOf(plainWords(q.Words)) == "" && r.has(from, to, kOther, kPlain) && !sizedAny(q.Ties) && q.Article.Kind == "" && !q.Weight.Known() {
		q.Near = near(plainWords(q.Words)) // for where no load is in hand to answer of
	}
	end := to
	if end < len(r.sig) && r.kindAt(end) == kAsk {
		end++
	}
	asked := ""
	if gearTopics()[q.Topic] {
		asked = topicIn(plainWords(q.Words)).words
	}
	for k := r.sig[from]; k < len(r.toks) && (end >= len(r.sig) || k < r.sig[end]); k++ {
		t := &r.toks[k]
		if t.owner == "" || t.owner == OwnUnread && asked != "" && strings.Contains(asked, " "+t.raw+" ") {
			t.owner = OwnPhrase
		}
	}
	r.acts = append(r.acts, *q)
}

// sizedAny says whether one of the tie-downs has a size or a rating of its own.
func sizedAny(ties []load.TieDown) bool {
	return slices.ContainsFunc(ties, func(t load.TieDown) bool { return t.Size != 0 || t.Mark > 0 })
}

// known says whether anything in tokens from..to is a word of the trade.
func (r *reader) known(from, to int) bool {
	for i := from; i < to; i++ {
		switch r.t(i).kind {
		case kOther, kPlain, kPlan, kSep, kLine, kBadFig, kDet, kAnd, kOn, kOf, kTaken:
		default:
			return true
		}
	}
	return false
}

func firstOf(ties []load.TieDown, line int) load.TieDown {
	for _, t := range ties {
		if t.Line == line {
			return t
		}
	}
	return load.TieDown{}
}

// moveDamage moves the damage told in the question onto the tie-down asked
// about.
func (q *Ask) moveDamage() {
	if q.Change != nil && len(q.Change.Edit.Damage) > 0 && len(q.Ties) > 0 {
		q.Ties[0].State.Damage = append(q.Ties[0].State.Damage, q.Change.Edit.Damage...)
		q.Change = nil
	}
}
