package parser

import (
	"regexp"
	"strings"
	"unicode/utf8"

	"halfweight/rules/load"
)

// MaxLength is how long a message may be, in code points.
const MaxLength = 4096

// firstOfLong is how much of a message that is too long is quoted back.
const firstOfLong = 60

// Read reads one message. It cannot fail: what it cannot read is in Unread,
// word for word, with its place.
func Read(text string) Message {
	if n := utf8.RuneCountInString(text); n > MaxLength {
		return Message{Text: text, Grave: true, Unread: []Span{{Text: cut(text, 0, firstOfLong), At: 0}}}
	}
	r := newReader(text)
	r.read()
	return r.message()
}

// reader lowers phrases to acts. It walks the significant tokens once; each of
// its methods takes what it understands and owns the tokens it took.
type reader struct {
	text string
	toks []tok
	sig  []int // significant tokens: neither filler nor decoration
	acts []Act

	// the walk
	pos  int // token being read
	skip int // tokens before it are taken already

	// articles
	arts     []*article
	cur      *article     // the one being read; nil before anything is told of one
	weight   *load.Weight // told before its article
	weightAt int          // its token
	guessed  bool         // the weight is told as a guess, somewhere in the message
	lastPart int          // part of cur that is the noun told last, so "it" means that; -1 when another is
	definite bool         // an article is told as one known already
	add      bool         // what is told joins the load in hand

	// tie-downs
	cl          *clause      // being read
	lead        []load.Place // places told before their tie-downs
	leadAt      int          // token of the last of them
	leadEach    int          // places that "each" told ahead of their tie-downs names; 0 none
	leads       bool         // places stand before their tie-downs in this message
	lastPlaceAt int          // token of the place told last; -1 none
	nextOn      string       // part that a tie-down told next holds,
	nextOnBy    int          // if it is told by this token
	them        bool         // told of tie-downs known already: "they are 3/8 g70"
	aside       bool         // tie-downs were told that are not on: lying in the truck
	tiesFrom    int          // first token behind a described tie-down; 0 not looked for yet

	// ratings of what a tie-down is fitted with
	lastFitting kind                  // fitting told last: kTens, kHook, kRing
	rings       []func(*load.TieDown) // ring ratings: of every tie-down of the article
	fits        []fitted              // told ahead of the tie-downs

	// conditions
	changes   []Change      // of tie-downs told in this message or before
	attach    []attached    // those that wait for the clause they stand in
	partTies  []partTie     // what was told of the tie-down on a part
	uncrossed bool          // told that nothing runs across the joint
	negatedAt int           // last token of a damage denied; -1 none
	harmAt    int           // last token that tells of one loose, hurt or off; -1 none
	mendAt    int           // last token that tells of one tightened or replaced; -1 none
	bareOf    load.Material // told that none of these are on; "" none of any sort
	deny      denied        // of parts and the joint
	loaded    loaded        // what describes found last
}

// newReader is a reader of a message: cut into tokens, its double meanings
// settled.
func newReader(text string) *reader {
	r := readerOf(text, tokenise(text, english()))
	retag(r.toks)
	r.toks = marks(text, r.toks)
	r.sig = make([]int, 0, len(r.toks))
	for i := range r.toks {
		switch t := &r.toks[i]; t.kind {
		case kFiller, kDecor:
			t.owner = OwnFiller
		default:
			r.sig = append(r.sig, i)
		}
	}
	r.foldHurts()
	return r
}

// readerOf is a reader of some tokens of text, none of them significant yet.
func readerOf(text string, toks []tok) *reader {
	return &reader{text: text, toks: toks, lastPart: -1, lastPlaceAt: -1, negatedAt: -1, harmAt: -1, mendAt: -1}
}

// t is the i-th significant token.
func (r *reader) t(i int) *tok { return &r.toks[r.sig[i]] }

// kindAt is the kind of the i-th significant token, kNone beyond the ends.
func (r *reader) kindAt(i int) kind {
	if i < 0 || i >= len(r.sig) {
		return kNone
	}
	return r.t(i).kind
}

// sent is the i-th significant token as sent, in lower case.
func (r *reader) sent(i int) string {
	offs := offsets(r.text)
	return lower(r.text[offs.at(r.t(i).at):offs.at(r.t(i).end)])
}

// lower is s with its plain letters in lower case.
func lower(s string) string {
	b := []byte(s)
	for i, c := range b {
		if c >= 'A' && c <= 'Z' {
			b[i] = c + 'a' - 'A'
		}
	}
	return string(b)
}

func (r *reader) own(i int, o Owner) {
	if t := r.t(i); t.owner == "" || t.owner == OwnPhrase {
		t.owner = o
	}
}

func (r *reader) ownAll(a, b int, o Owner) {
	for i := a; i < b; i++ {
		r.own(i, o)
	}
}

// read reads the whole message into acts.
func (r *reader) read() {
	if len(r.sig) <= 1 && !r.has(0, 1, kTighten, kTight) && topicOf(plainWords(r.text)) == "thanks" {
		r.acts = append(r.acts, Ask{Topic: "thanks", Words: r.text})
		for i := range r.toks {
			r.toks[i].owner = OwnPhrase
		}
		return
	}
	from := r.commands()
	if r.plans(from) {
		r.plan(from, len(r.sig), "plan")
		return
	}
	for _, s := range r.sentences(from) {
		if s.question {
			continue
		}
		r.describe(s.from, s.to)
	}
	r.finish()
	for _, s := range r.sentences(from) {
		if s.question {
			r.question(s.from, s.to)
		}
	}
	r.bare()
	r.turnedDown()
	r.bareTopic()
}

// bareTopic takes a message of a word or two that tells nothing and names a
// topic, "rub rail", as asking about it.
func (r *reader) bareTopic() {
	const most = 3
	if len(r.acts) > 0 || len(r.sig) > most || r.has(0, len(r.sig), kNum, kBig, kMass, kSize, kGrade, kNeg) {
		return
	}
	if tellsHurt.MatchString(plainWords(r.text)) {
		return // "binder stuck": told, not asked; what is not read is said so
	}
	q := Ask{Topic: topicOf(plainWords(r.text)), Words: r.text}
	if q.Topic == "" && len(r.sig) == 1 && len(strings.Fields(r.text)) == 1 && !r.has(0, 1, kDoubt, kHedge, kUnsure) {
		q.Topic, q.Near = "unknown", near(plainWords(r.text)) // "spare"
	}
	if q.Topic != "" && (q.Topic != "unknown" || len(q.Near) > 0) {
		r.acts = append(r.acts, q)
		r.ownAll(0, len(r.sig), OwnPhrase)
	}
}

// tellsHurt is what is wrong with a thing, in words that are read in questions only.
var tellsHurt = regexp.MustCompile(` (stuck|seized|frozen|shut|wont|slips|slipping|wrong) `)

// span is a sentence: significant tokens from..to.
type span struct {
	from, to int
	question bool
}

// sentences cuts the message at full stops, question marks and, where a
// question stands on a line of its own, at line ends.
func (r *reader) sentences(from int) []span {
	var out []span
	start, held := from, -1
	seen, asked := -1, false // of the sentence that begins at seen: it asks in words
	flush := func(end int, asked bool) {
		if end <= start {
			return
		}
		out = append(out, span{start, end, r.asks(start, end, asked)})
	}
	for i := from; i < len(r.sig); i++ {
		if r.t(i).kind.in(kStop, kLine) && r.kindAt(start) == kQuery {
			if held < start && r.asksHold(start, i) {
				held = start
			}
			if held == start && r.holdsOn(i) {
				continue // "hold rubber on wet steel. chains at 45"
			}
		}
		switch r.t(i).kind {
		case kStop:
			flush(i, false)
			start = i + 1
		case kAsk:
			flush(i, true)
			start = i + 1
		case kLine:
			if r.kindAt(start) == kQuery || r.kindAt(i+1) == kQuery {
				flush(i, false)
				start = i + 1
			}
		case kSep:
			if r.asksAhead(start, i) {
				flush(i, false)
				start = i + 1
				continue
			}
			if seen != start {
				seen, asked = start, r.asksInWords(start, r.sentenceEnd(i))
			}
			if asked {
				continue // "he chained over the tires, does that count"
			}
			// "roller 14000 4x 3/8 g70 direct, is that enough"
			if i+1 < len(r.sig) && (r.t(i+1).kind == kQuery || r.t(i+1).kind == kBe && r.querySoon(i+2)) && r.t(i).word != "/" && !r.asks(start, i, false) {
				flush(i, false)
				start = i + 1
			}
		}
	}
	flush(len(r.sig), false)
	return out
}

// sentenceEnd is where the sentence that token i stands in ends.
func (r *reader) sentenceEnd(i int) int {
	for i < len(r.sig) && !r.t(i).kind.in(kStop, kAsk, kLine) {
		i++
	}
	return i
}

// asksAhead says whether from..i is a question that a load follows: "is this ok:
// roller 14000, 4x 3/8 g70 direct".
func (r *reader) asksAhead(from, i int) bool {
	const most = 8 // words of it
	return i-from <= most && !r.has(from, i, kSize, kGrade, kMat, kKind, kBig, kMass, kCount, kNum, kPart, kLock, kJoint) && r.asks(from, i, false) &&
		r.has(i+1, len(r.sig), kKind) && r.has(i+1, len(r.sig), kCount, kNum, kTimes)
}

// querySoon says whether a question word comes before the next separator.
func (r *reader) querySoon(i int) bool {
	for ; i < len(r.sig); i++ {
		switch r.t(i).kind {
		case kQuery, kAsk:
			return true
		case kSep, kLine, kStop:
			return false
		}
	}
	return false
}
