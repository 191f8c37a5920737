package parser

import (
	"encoding/csv"
	"slices"
	"strings"
	"sync"

	"halfweight/rules/load"
)

// Hold is what a question of how many g the tie-downs hold tells beside the load.
// Zero fields were not told.
type Hold struct {
	Contact  string      `json:",omitzero"` // what it stands on with: "rubber", "steel", "wood", "mat"
	Tracks   bool        `json:",omitzero"` // told to stand on tracks: nothing of it rolls
	Deck     string      `json:",omitzero"` // "wood", "steel"
	Surface  string      `json:",omitzero"` // "dry", "wet", "slick"
	Friction load.Micro  `json:",omitzero"` // told as a figure
	Angles   []Angle     `json:",omitzero"`
	Height   load.Length `json:",omitzero"` // of the centre of gravity
	Width    load.Length `json:",omitzero"` // of the base
	Length   load.Length `json:",omitzero"` // of the base
	Doubt    bool        `json:",omitzero"` // words of it were not read: they may be about the deck
	Odd      []string    `json:",omitzero"` // angles that are none, as sent
}

// Angle is the angles told of tie-downs of a material, in degrees; "" is all.
type Angle struct {
	Material load.Material `json:",omitzero"`
	Up       load.Micro    `json:",omitzero"` // to the deck
	Out      load.Micro    `json:",omitzero"` // in plan, off the long axis
	OutTold  bool          `json:",omitzero"` // Out was told: it may be 0
}

// holdRow is the first column of the rows of words.csv that only a hold question
// reads: they mean other things, or nothing, anywhere else.
const holdRow = "hold"

// holdPhrase is one spelling of such a row.
type holdPhrase struct {
	words []string
	word  string
}

// holdVocabulary is the phrases by their first word, longest first, and the index of
// one-error spellings.
type holdVocabulary struct {
	first map[string][]holdPhrase
	known map[string]bool
	near  nearIndex
}

var holdWords = sync.OnceValue(func() *holdVocabulary {
	r := csv.NewReader(strings.NewReader(wordsCSV))
	r.Comment, r.FieldsPerRecord, r.LazyQuotes = '#', -1, true
	rows, err := r.ReadAll()
	if err != nil {
		panic("parser: words.csv: " + err.Error())
	}
	v := &holdVocabulary{first: map[string][]holdPhrase{}, known: map[string]bool{}}
	rank, means := map[string]int{}, map[string]string{}
	for _, row := range rows {
		if row[0] != holdRow {
			continue
		}
		for _, spelt := range strings.Split(row[2], "|") {
			words := strings.Fields(spelt)
			v.first[words[0]] = append(v.first[words[0]], holdPhrase{words, row[1]})
			if len(words) == 1 {
				means[words[0]] = row[1]
			}
			for _, w := range words {
				rank[w], v.known[w] = rankTrade, true
			}
		}
	}
	for w := range english().known {
		if !v.known[w] {
			rank[w] = rankPlain // a word of the trade, or a plain one, is no slip
		}
	}
	for _, list := range v.first {
		slices.SortStableFunc(list, func(a, b holdPhrase) int { return len(b.words) - len(a.words) })
	}
	v.near = newNearIndex(rank, means)
	return v
})

// holdPiece is a word or figure of a hold question.
type holdPiece struct {
	text string // plain and in lower case
	tok  int
	cut  bool // a separator
}

// holdAt is the longest phrase at piece i; n is 0 where there is none.
func holdAt(p []holdPiece, i int) (word string, n int) {
	for _, c := range holdWords().first[p[i].text] {
		if len(c.words) <= len(p)-i && !slices.ContainsFunc(p[i:i+len(c.words)], func(x holdPiece) bool { return x.cut }) &&
			slices.EqualFunc(c.words, p[i:i+len(c.words)], func(w string, x holdPiece) bool { return w == x.text }) {
			return c.word, len(c.words)
		}
	}
	return "", 0
}

// holdPieces cuts tokens from..to, small words among them, into words.
func (r *reader) holdPieces(from, to int) (p []holdPiece) {
	if from >= to {
		return nil
	}
	lo, hi := r.sig[from], len(r.toks)
	if to < len(r.sig) {
		hi = r.sig[to]
	}
	for lo > 0 && r.toks[lo-1].kind == kFiller {
		lo--
	}
	for k := lo; k < hi; k++ {
		t := &r.toks[k]
		if t.kind.in(kSep, kLine, kStop, kAsk) {
			p = append(p, holdPiece{tok: k, cut: true})
			continue
		}
		text := r.textOf(k)
		if strings.TrimSpace(text) == "°" {
			p = append(p, holdPiece{text: "°", tok: k})
			continue
		}
		for _, w := range strings.Fields(plainWords(text)) {
			w = strings.Trim(w, ".")
			if v := holdWords(); !v.known[w] && !english().known[w] {
				if near, ok := v.near.find(w); ok {
					w = near
				}
			}
			p = append(p, holdPiece{text: w, tok: k})
		}
	}
	return p
}

// headOfHold is how many tokens show whether a sentence is a hold question: asked of
// every separator of a message, it must not look at all of it each time.
const headOfHold = 40

// asksHold says whether tokens from..to ask how many g the tie-downs hold: they
// begin with a word for it, or one that can mean nothing else stands among them.
// "Hold on" and "hold up" ask someone to wait.
func (r *reader) asksHold(from, to int) bool {
	if !r.has(from, to, kQuery) {
		return false
	}
	to = min(to, from+headOfHold)
	p := r.holdPieces(from, to)
	begun := false
	plain := !r.has(from, to, kLoose, kGone, kDamage, kTighten, kReplace, kTaken, kMat, kKind, kMass, kBig, kCount, kTimes, kSize)
	for i := range p {
		word, n := holdAt(p, i)
		if n > 0 && r.toks[p[i+n-1].tok].kind == kGrade {
			word = "" // "how many g 70"
		}
		switch {
		case word == "anywhere" && plain:
			return true
		case begun:
		case word == "soft":
			return r.holdsOnly(p[i+n:])
		case word == "head":
			if p[i].text == "hold" && !(r.holdGoesOn(p[i+n:]) && !r.has(from, to, kLoose, kGone, kDamage, kTighten, kReplace, kTaken)) {
				begun = true
				continue
			}
			return true
		case word != "small" && !p[i].cut && r.toks[p[i].tok].kind != kFiller:
			begun = true
		}
	}
	return false
}

// holdGoesOn says whether what follows "hold" is of a hold question: nothing,
// something that such a question tells, or one thing on another ("plastic on
// glass").
func (r *reader) holdGoesOn(p []holdPiece) bool {
	told, only, on := false, true, false
	for i := 0; i < len(p); {
		word, n := holdAt(p, i)
		switch {
		case p[i].cut:
		case r.toks[p[i].tok].kind.in(kNum, kLength, kBadFig):
			told, only = true, false
		case word == "small":
			on = on || p[i].text == "on" && i > 0 && i+1 < len(p) && !p[i+1].cut
			only = only && p[i].text != "on" && p[i].text != "off"
		default:
			told = told || word != "" && word != "up" && word != "chain" && word != "webbing"
			only = false
		}
		i += max(1, n)
	}
	return told || only || on && len(p) <= mostOnOther
}

// mostOnOther is how many words "one thing on another" takes at the most.
const mostOnOther = 6

// holdsOn says whether the sentence behind token stop tells more of a hold question
// before it, and nothing else.
func (r *reader) holdsOn(stop int) bool {
	end := stop + 1
	for end < len(r.sig) && !r.kindAt(end).in(kStop, kLine, kAsk) {
		end++
	}
	return r.holdsOnly(r.holdPieces(stop+1, end))
}

// holdsOnly says whether pieces tell something of a hold question, and nothing else.
func (r *reader) holdsOnly(p []holdPiece) (told bool) {
	for i := 0; i < len(p); {
		word, n := holdAt(p, i)
		figure := r.toks[p[i].tok].kind.in(kNum, kLength, kBadFig)
		if word == "head" || word == "" && !figure && !p[i].cut || figure && i+1 < len(p) && ofTies(p, i+1) {
			return false
		}
		told = told || figure || word != "" && word != "small" && word != "place" && word != "chain" && word != "webbing"
		i += max(1, n)
	}
	return told
}

// ofTies says whether the word at piece i is tie-downs: "4 chains" is no angle.
func ofTies(p []holdPiece, i int) bool {
	word, _ := holdAt(p, i)
	return word == "chain" || word == "webbing"
}

// hold reads tokens from..to as such a question. Every word of it is owned that
// means something in it; what is left is unread and may be about the deck.
func (r *reader) hold(from, to int) {
	_, quoted := r.surfaceWords(from, to)
	h := holdReader{r: r, p: r.holdPieces(from, to)}
	h.read()
	r.acts = append(r.acts, Ask{Topic: "hold", Words: quoted, Hold: h.told})
}

// holdReader reads the pieces of a hold question.
type holdReader struct {
	r    *reader
	p    []holdPiece
	told Hold

	loose    bool          // asked in free words: those that are not known say nothing
	before   bool          // "on" has been passed: what follows is the deck
	material load.Material // the tie-downs that angles are told of
	label    string        // a label that waits for its length or figure
	length   load.Length   // a length that waits for its label
	lengthAt int           // its token
	last     string        // the label of the length just taken
	angled   bool          // the word before was an angle to the deck: the next may be the one in plan
	placed   bool          // a place was told: angles by place are not kept
}

func (h *holdReader) read() {
	h.loose = slices.ContainsFunc(h.pieceWords(), func(w string) bool { return w == "anywhere" })
	defer h.drop()
	for i := 0; i < len(h.p); {
		x := h.p[i]
		if x.cut {
			h.label, h.last, h.length = "", "", 0
			h.own(x.tok, OwnPhrase)
			i++
			continue
		}
		t := &h.r.toks[x.tok]
		if t.kind.in(kNum, kLength, kSize, kBadFig, kBig, kCount, kMass, kGrade, kTimes, kMiles, kLabel) {
			h.figure(i, t)
			for i < len(h.p) && h.p[i].tok == x.tok {
				i++
			}
			continue
		}
		word, n := holdAt(h.p, i)
		h.word(i, word, max(1, n))
		i += max(1, n)
	}
}

// pieceWords is what the phrases of the question mean, in order.
func (h *holdReader) pieceWords() (list []string) {
	for i := range h.p {
		if !h.p[i].cut {
			word, _ := holdAt(h.p, i)
			list = append(list, word)
		}
	}
	return list
}

// own gives a token its owner, once.
func (h *holdReader) own(tok int, o Owner) {
	if t := &h.r.toks[tok]; t.owner == "" || t.owner == OwnFiller {
		t.owner = o
	}
}

// drop takes back the angles where they were told by place: which tie-downs they are
// of is not kept. They are listed as none that can be used.
func (h *holdReader) drop() {
	if !h.placed {
		return
	}
	var odd []string
	for _, a := range h.told.Angles {
		for _, m := range []load.Micro{a.Up, a.Out} {
			if m > 0 {
				odd = append(odd, microString(m))
			}
		}
	}
	h.told.Angles, h.told.Odd = nil, append(odd, h.told.Odd...)
}

// word takes a phrase of n pieces.
func (h *holdReader) word(i int, word string, n int) {
	what, value, _ := strings.Cut(word, " ")
	if h.p[i].text != "and" && what != "degrees" {
		h.angled = false
	}
	owner := OwnFact
	switch what {
	case "":
		if h.r.toks[h.p[i].tok].owner == OwnFact {
			return // the unit of a length
		}
		if h.r.toks[h.p[i].tok].owner != OwnFiller && !h.loose {
			h.told.Doubt = true
			return
		}
		owner = OwnPhrase
	case "head", "soft", "anywhere", "degrees", "g":
		owner = OwnPhrase
	case "small":
		owner = OwnPhrase
		h.before = h.before || h.p[i].text == "on"
	case "contact":
		h.told.Contact, h.told.Tracks = strings.TrimSuffix(value, " tracks"), strings.HasSuffix(value, " tracks")
	case "tracks":
		h.told.Tracks = true
	case "deck":
		h.told.Deck = value
	case "either": // "steel on wet steel"
		if h.before {
			h.told.Deck = value
		} else if h.told.Contact == "" {
			h.told.Contact = value
		}
	case "state":
		if worse := []string{"dry", "wet", "slick"}; slices.Index(worse, value) > slices.Index(worse, h.told.Surface) {
			h.told.Surface = value
		}
	case "place":
		h.placed = true
	case "chain", "webbing":
		h.material = load.Material(what)
	case "up", "out":
		h.label = ""
	case "height", "width", "length", "friction":
		h.name(what)
	}
	for _, x := range h.p[i : i+n] {
		h.own(x.tok, owner)
	}
}

// name takes a label: of the length that stands before it, else of what follows.
func (h *holdReader) name(label string) {
	if h.length > 0 && label != "friction" {
		h.lay(label, h.length, h.lengthAt)
		h.length = 0
		return
	}
	if label == h.last { // "track 8 ft wide"
		h.last = ""
		return
	}
	h.label = label
}

// figure takes a figure: a length with its label, a friction, an angle.
func (h *holdReader) figure(i int, t *tok) {
	tok := h.p[i].tok
	next := ""
	for k := i + 1; k < len(h.p); k++ {
		if h.p[k].tok == tok {
			continue
		}
		if h.p[k].cut {
			break
		}
		if word, _ := holdAt(h.p, k); word != "degrees" {
			next = word
			break
		}
	}
	length := t.size
	if unit := h.unit(i + 1); unit > 0 && t.kind == kNum {
		length, _ = load.Times(t.num, unit)
	}
	switch {
	case t.kind == kNum && h.label == "friction":
		h.label = ""
		h.friction(t, tok)
	case length > 0 && t.kind.in(kLength, kSize, kNum):
		if h.label == "" {
			h.length, h.lengthAt = length, tok
			return
		}
		h.lay(h.label, length, tok)
		h.label = ""
	case t.kind == kNum && next == "friction":
		h.friction(t, tok)
	case t.kind == kNum && next == "g":
		h.own(tok, OwnPhrase) // "does it hold 0.8 g": the answer tells
	case h.label != "":
		h.label = "" // a length without a unit: which it is would be a guess
	case t.kind.in(kNum, kBig, kCount, kBadFig) && next != "chain" && next != "webbing":
		h.angle(t, tok, next)
	default:
		h.told.Doubt = true
	}
}

// unit is the unit of length that stands apart from its figure at piece i; 0 none.
// A figure without one is not taken as a length.
func (h *holdReader) unit(i int) load.Length {
	if i >= len(h.p) || h.p[i].cut {
		return 0
	}
	switch h.p[i].text {
	case "in", "inch", "inches":
		return load.Inch
	case "m", "metre", "metres", "meter", "meters":
		h.own(h.p[i].tok, OwnFact)
		return load.Metre
	}
	return 0
}

// most lengths of a load that are believed.
const (
	leastLength = load.Foot / 2
	mostHeight  = 20 * load.Foot
	mostWidth   = 20 * load.Foot
	mostBase    = 100 * load.Foot
)

// lay takes a length that has a label, unless it is none of a load.
func (h *holdReader) lay(label string, l load.Length, tok int) {
	most := map[string]load.Length{"height": mostHeight, "width": mostWidth, "length": mostBase}[label]
	if l < leastLength || l > most {
		return
	}
	h.own(tok, OwnFact)
	h.last = label
	switch label {
	case "height":
		h.told.Height = l
	case "width":
		h.told.Width = l
	case "length":
		h.told.Length = l
	}
}

// friction takes a friction told as a figure.
func (h *holdReader) friction(t *tok, tok int) {
	if t.num >= load.One {
		return
	}
	h.own(tok, OwnFact)
	h.told.Friction = t.num
}

// right is a right angle.
const right = 90 * load.One

// angle takes an angle: in plan where "out" follows it, else to the deck. What can
// be none is listed, and owned: it is answered.
func (h *holdReader) angle(t *tok, tok int, next string) {
	out := next == "out"
	h.own(tok, OwnFact)
	sent := h.r.textOf(tok)
	if bad := t.kind == kBadFig && sent != "0"; bad || t.num > right || !out && (t.num == 0 || t.num == right) || t.num > 0 && t.num < load.One {
		h.told.Odd = append(h.told.Odd, sent)
		return
	}
	at := slices.IndexFunc(h.told.Angles, func(a Angle) bool { return a.Material == h.material })
	if at < 0 {
		at = len(h.told.Angles)
		h.told.Angles = append(h.told.Angles, Angle{Material: h.material})
	}
	a := &h.told.Angles[at]
	switch {
	case out:
		a.Out, a.OutTold = t.num, true
	case a.Up == 0:
		a.Up, h.angled = t.num, true
	case !a.OutTold && h.angled: // "45/30", "45 and 30"
		a.Out, a.OutTold, h.angled = t.num, true, false
	default:
		h.told.Odd = append(h.told.Odd, sent)
	}
}

// textOf is a token as sent.
func (r *reader) textOf(tok int) string {
	t := &r.toks[tok]
	offs := offsets(r.text)
	return r.text[offs.at(t.at):offs.at(t.end)]
}
