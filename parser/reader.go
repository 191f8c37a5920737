package parser

import (
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

	arts     []*article
	cur      *article
	weight   *load.Weight // told before its article
	cl       *clause      // tie-downs being read
	lead     []load.Place // places told before their tie-downs
	leads    bool         // places stand before their tie-downs in this message
	changes  []Change     // of tie-downs told in this message or before
	attach   []attached   // conditions that wait for the clause they stand in
	partTies []partTie    // what was told of the tie-down on a part
	leadAt   int          // token of the lead place
	aside    bool         // tie-downs were told that are not on: lying in the truck
	add      bool
	winch    bool // told of a loading winch
	definite bool
	them     bool                  // told of tie-downs known already: "they are 3/8 g70"
	rings    []func(*load.TieDown) // ring ratings: of every tie-down of the article
	fits     []fitted              // ratings told ahead of the tie-downs

	lastPlaceAt int    // token of the place told last; -1 none
	onPart      bool   // the noun told last is a part, so "it" means that
	lastPart    int    // index of the part told last in the current article; -1 none
	lastFitting kind   // fitting told last: kTens, kHook, kRing
	pos         int    // token being read
	onNext      string // part that a tie-down told next holds
	onNextBy    int
	weightAt    int  // token of the weight that waits for its noun
	skipTo      int  // end of what a condition took behind it
	uncrossed   bool // told that nothing runs across the joint
	negatedAt   int  // last token of a damage denied; -1 none
	skip        int  // tokens before it are taken already
}

func newReader(text string) *reader {
	r := &reader{text: text, toks: tokenise(text, english()), lastPlaceAt: -1, lastPart: -1, negatedAt: -1}
	retag(r.toks)
	r.sig = make([]int, 0, len(r.toks))
	for i := range r.toks {
		switch t := &r.toks[i]; t.kind {
		case kFiller, kDecor:
			t.owner = OwnFiller
		default:
			r.sig = append(r.sig, i)
		}
	}
	return r
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

// retag settles words that mean one thing in one company and another in
// another, before the grammar sees them.
func retag(toks []tok) {
	next := func(i int) kind {
		for i++; i < len(toks); i++ {
			if toks[i].kind != kFiller && toks[i].kind != kDecor {
				return toks[i].kind
			}
		}
		return kNone
	}
	prev := func(i int) (int, kind) {
		for i--; i >= 0; i-- {
			if toks[i].kind != kFiller && toks[i].kind != kDecor {
				return i, toks[i].kind
			}
		}
		return -1, kNone
	}
	backhoe, tractor, logger := false, false, false
	for i := range toks {
		if toks[i].kind == kKind {
			switch toks[i].word {
			case "backhoe":
				backhoe = true
			case "tractor":
				tractor = true
			case "forwarder", "harvester", "skidder":
				logger = true
			}
		}
	}
	counted, noun := false, false
	for i := range toks {
		switch toks[i].kind {
		case kKind:
			noun = true
		case kCount, kNum, kTimes:
			counted = true
		case kQuery:
			noun = false
		}
	}
	loaded := counted && noun
	for i := range toks {
		t := &toks[i]
		switch {
		case t.kind == kKind && t.word == "hoe" && backhoe:
			t.kind = kPart // the back end of the backhoe
		case t.kind == kKind && (t.word == "loader" && tractor || t.word == "crane" && logger):
			t.kind = kPart
		case t.kind == kEnd && i+1 < len(toks) && toks[i+1].kind == kPart:
			// "front bucket chained": which of the machine's parts, not a place
			j, k := prev(i)
			if k == kDet {
				_, k = prev(j)
			}
			switch k {
			case kSep, kLine, kStop, kNone, kAnd, kWith, kState, kKind, kMass:
				if backhoe && t.word == "rear" && toks[i+1].word == "bucket" {
					toks[i+1].word = "hoe"
				}
				t.kind = kFiller
			}
		case (t.kind == kPlain || t.kind == kFiller || t.kind == kOther) && (t.raw == "take" || t.raw == "took" || t.raw == "pull" || t.raw == "pulled"):
			if n := next(i); n == kLock || n == kDet && lockAhead(toks, i) {
				t.kind, t.word = kNeg, "no" // "pulled the lock bar"
				break
			}
			// "take the strap off"
			for k := i + 1; k < len(toks) && k < i+6; k++ {
				if toks[k].kind == kSep || toks[k].kind == kLine || toks[k].kind == kStop || toks[k].kind == kPart {
					break
				}
				if toks[k].raw == "off" && (toks[k].kind == kFiller || toks[k].kind == kState) {
					t.kind, t.word, toks[k].kind = kGone, "taken off", kFiller
					break
				}
			}
		case t.kind == kFiller && t.raw == "out":
			if j, k := prev(i); k == kLock || k == kBe && j > 0 && toks[j-1].kind == kLock {
				t.kind, t.word = kState, "not locked"
			}
		case t.kind == kEnd && t.word == "middle":
			// "center pinned", "pinned in the middle": the joint
			for k := i + 1; k < len(toks) && k < i+3; k++ {
				if toks[k].kind == kState && (toks[k].word == "locked" || toks[k].word == "not locked") {
					t.kind, t.word = kJoint, "joint"
				}
				if toks[k].kind != kBe {
					break
				}
			}
			for k := i - 1; k >= 0 && k > i-4; k-- {
				if toks[k].kind == kState && toks[k].word == "locked" {
					t.kind, t.word = kJoint, "joint"
				}
				if toks[k].kind != kDet && toks[k].kind != kOn {
					break
				}
			}
		case t.kind == kAsk && loaded:
			if _, k := prev(i); k == kState || k == kLock || next(i) != kNone && (k == kGrade || k == kSize || k == kMass || k == kBig) {
				t.kind, t.word = kHedge, "?" // asked in passing: not sure of it
			}
		case t.kind == kOn && (t.raw == "in" || t.raw == "on"):
			// "lock bar in", "steering lock is in"
			j, k := prev(i)
			for k == kBe || k == kNeg || k == kAll {
				j, k = prev(j)
			}
			switch next(i) {
			case kDet, kIt, kThem, kRing, kOther, kPlain:
			default:
				if k == kLock {
					t.kind, t.word = kState, "locked"
				}
			}
		case t.kind == kGone && (t.word == "taken off" || t.word == "came off"):
			if _, k := prev(i); (k == kPart || k == kBe && partBefore(toks, i)) && t.word == "taken off" {
				t.kind, t.word = kState, "off"
			}
		case t.kind == kRoad && t.word == "at" && next(i) != kNone && t.raw != "":
			t.kind = kUnit
		}
	}
}

// lockAhead says whether a lock of the joint is the noun after token i.
func lockAhead(toks []tok, i int) bool {
	for i++; i < len(toks); i++ {
		switch toks[i].kind {
		case kDet, kFiller, kDecor:
			continue
		}
		return toks[i].kind == kLock
	}
	return false
}

// partBefore says whether the noun before i, a verb aside, is a part.
func partBefore(toks []tok, i int) bool {
	for i--; i >= 0; i-- {
		switch toks[i].kind {
		case kBe, kFiller, kDecor, kDet:
			continue
		case kPart:
			return true
		}
		return false
	}
	return false
}

// read reads the whole message into acts.
func (r *reader) read() {
	from := r.commands()
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
	r.bare(from)
}

// message is what came of it: acts, owners, and what is left unread.
func (r *reader) message() Message {
	m := Message{Text: r.text, Acts: r.acts, Grave: r.aside, Tokens: make([]Token, len(r.toks))}
	offs := offsets(r.text)
	span := func(a, b int) string { return r.text[offs.at(a):offs.at(b)] }
	last := -1 // last unread token
	for i := range r.toks {
		t := &r.toks[i]
		if t.owner == "" {
			t.owner = OwnUnread
			switch t.kind {
			case kSep, kLine, kStop, kAsk:
				t.owner = OwnPhrase
			case kAnd, kOr, kOf, kOn, kTo, kFrom, kThan, kFor, kDet, kBe, kWith, kIt, kThem, kEach, kUnit:
				if len(r.acts) > 0 {
					t.owner = OwnFiller
				}
			}
		}
		m.Tokens[i] = Token{Span: Span{Text: span(t.at, t.end), At: t.at}, Kind: kindName[t.kind], Owner: t.owner}
		if t.owner != OwnUnread {
			if t.owner != OwnFiller || t.kind != kDecor {
				last = -1
			}
			continue
		}
		if t.grave() || r.ofGear(i) {
			m.Grave = true
		}
		if last >= 0 && t.at-r.toks[last].end <= 1 {
			u := &m.Unread[len(m.Unread)-1]
			u.Text = span(u.At, t.end)
		} else {
			m.Unread = append(m.Unread, Span{Text: span(t.at, t.end), At: t.at})
		}
		last = i
	}
	return m
}

// ofGear says whether the unread word at i is said of a tie-down or a part of
// one: "one chain is too short". It may be a defect, in words we do not know.
func (r *reader) ofGear(i int) bool {
	copula := false
	for k := i - 1; k >= 0 && k >= i-5; k-- {
		t := &r.toks[k]
		switch t.kind {
		case kBe, kWith, kFiller, kDet, kHedge, kQuery:
			copula = copula || t.kind == kBe || t.kind == kWith
			continue
		case kHook, kRing, kLink, kTens, kCorner:
			return true
		case kThem, kAll:
			return true
		case kMat, kEnd:
			return copula || t.kind == kMat && !t.plural && k > 0 && (r.toks[k-1].kind == kNum || r.toks[k-1].kind == kDet)
		case kNum, kIt:
			return copula
		}
		return false
	}
	return false
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

// offsetTable finds the byte of a code point.
type offsetTable struct {
	ascii bool
	off   []int
	text  string
}

func offsets(text string) offsetTable {
	ascii := true
	for i := 0; i < len(text); i++ {
		if text[i] >= utf8.RuneSelf {
			ascii = false
			break
		}
	}
	if ascii {
		return offsetTable{ascii: true, text: text}
	}
	t := offsetTable{text: text}
	for i := range text {
		t.off = append(t.off, i)
	}
	t.off = append(t.off, len(text))
	return t
}

func (t offsetTable) at(n int) int {
	if t.ascii {
		return min(n, len(t.text))
	}
	return t.off[min(n, len(t.off)-1)]
}

func cut(text string, from, n int) string {
	t := offsets(text)
	return text[t.at(from):t.at(from+n)]
}

// sentence bounds: significant tokens from..to.
type span struct {
	from, to int
	question bool
}

// sentences cuts the message at full stops, question marks and, where a
// question stands on a line of its own, at line ends.
func (r *reader) sentences(from int) []span {
	var out []span
	start := from
	flush := func(end int, asked bool) {
		if end <= start {
			return
		}
		out = append(out, span{start, end, r.asks(start, end, asked)})
	}
	for i := from; i < len(r.sig); i++ {
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
