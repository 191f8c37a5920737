package parser

import (
	"strconv"

	"halfweight/rules/load"
)

// commands reads what stands at the head of a message and is no load: house
// words, gear, road words, bare answers. It returns the first token left for
// the rest of the reader.
func (r *reader) commands() int {
	n := len(r.sig)
	i := r.start(0)
	if i >= n {
		return n
	}
	if r.bareFigure(i) || r.bareWord(i) || r.barePlace(i) {
		return n
	}
	t := r.t(i)
	if t.kind == kCmd {
		switch t.word {
		case "undo", "history", "export", "forget me", "more", "help", "new load", "units kg", "units lb", "units ?":
			return r.house(i)
		case "gear":
			return r.gear(i)
		case "trailer":
			return r.trailer(i)
		case "make":
			return r.make(i)
		}
	}
	if t.kind == kKind && r.machineIs(i) || r.attribute(i) {
		return n
	}
	if r.roadOnly(i) {
		return n
	}
	return i
}

// start is the first token from i that is no separator.
func (r *reader) start(i int) int {
	for i < len(r.sig) && (r.kindAt(i) == kSep || r.kindAt(i) == kLine || r.kindAt(i) == kStop || r.kindAt(i) == kAsk) {
		i++
	}
	return i
}

// rest says whether nothing but separators and small words follow at i.
func (r *reader) rest(i int) bool {
	for ; i < len(r.sig); i++ {
		switch r.kindAt(i) {
		case kSep, kLine, kStop, kDet, kIt, kAsk, kThem, kLast:
		default:
			return false
		}
	}
	return true
}

func (r *reader) house(i int) int {
	t := r.t(i)
	h := House{Word: t.word}
	switch t.word {
	case "units kg":
		h = House{Word: "units", Arg: "kg"}
	case "units lb":
		h = House{Word: "units", Arg: "lb"}
	case "units ?":
		h = House{Word: "units"}
	}
	if t.word != "new load" && t.word != "units ?" && !r.rest(i+1) {
		if t.word == "help" {
			r.own(i, OwnPhrase)
			return i + 1
		}
		return i
	}
	r.own(i, OwnFact)
	r.acts = append(r.acts, h)
	if t.word == "new load" {
		return i + 1
	}
	for k := i + 1; k < len(r.sig); k++ {
		r.own(k, OwnPhrase)
	}
	return len(r.sig)
}

// within reads tokens from i on with a reader of its own.
func (r *reader) within(i int) *reader {
	if i >= len(r.sig) {
		return &reader{text: r.text, lastPlaceAt: -1, lastPart: -1, negatedAt: -1}
	}
	lo := r.sig[i]
	sub := &reader{text: r.text, toks: r.toks[lo:], lastPlaceAt: -1, lastPart: -1, negatedAt: -1}
	for _, k := range r.sig[i:] {
		sub.sig = append(sub.sig, k-lo)
	}
	sub.describe(0, len(sub.sig))
	sub.finish()
	return sub
}

// ties are the tie-downs a sub-reader read, one a line.
func (r *reader) ties() (lines []Line, ties []load.TieDown, art *Article) {
	for _, act := range r.acts {
		d, ok := act.(Describe)
		if !ok {
			continue
		}
		for k := range d.Articles {
			a := &d.Articles[k]
			if art == nil {
				art = a
			}
			for i := range a.Lines {
				lines = append(lines, a.Lines[i])
				ties = append(ties, firstOf(a.Ties, i))
			}
		}
	}
	return lines, ties, art
}

func (r *reader) gear(i int) int {
	r.own(i, OwnFact)
	k := r.start(i + 1)
	if k >= len(r.sig) || r.rest(k) {
		r.acts = append(r.acts, Gear{Do: "show"})
		return len(r.sig)
	}
	do := "set"
	switch t := r.t(k); {
	case t.kind == kNeg && t.raw != "no", t.kind == kGone && t.word == "taken off", t.kind == kGone && t.word == "lost":
		do = "less"
	case t.kind == kCmd && t.word == "add", t.kind == kAnd, t.kind == kExtra, t.kind == kWith && t.raw == "plus":
		do = "add"
	case t.kind == kBe || t.kind == kWith:
		r.own(k, OwnPhrase)
		k++
	}
	if do != "set" {
		r.own(k, OwnFact)
		k++
	}
	lines, ties, _ := r.within(k).ties()
	if len(lines) == 0 {
		r.t(i).owner = ""
		return i
	}
	r.acts = append(r.acts, Gear{Do: do, Lines: lines, Ties: ties})
	return len(r.sig)
}

// trailer reads "trailer d-rings 6600".
func (r *reader) trailer(i int) int {
	for k := i + 1; k < len(r.sig); k++ {
		switch r.kindAt(k) {
		case kMass, kBig:
			if r.has(i, len(r.sig), kRing) && !r.has(i, len(r.sig), kKind) && !r.has(i, len(r.sig), kSize) {
				r.ownAll(i, len(r.sig), OwnFact)
				r.acts = append(r.acts, Gear{Do: "anchor", Anchor: r.t(k).weight.Told})
				return len(r.sig)
			}
			return i + 1
		case kRing, kHook, kBe, kRated, kWith, kDet, kOn, kHedge:
		case kNum: // "trailer 2: roller ..."
			r.ownAll(i, k+1, OwnPhrase)
			return k + 1
		default:
			return i
		}
	}
	return i
}

// machineIs reads "machine 12 is a 14000 lb roller, articulated, steering lock".
func (r *reader) machineIs(i int) bool {
	if !r.nameable(r.t(i).word) || r.kindAt(i+1) != kNum || r.kindAt(i+2) != kBe && !(r.kindAt(i+2) == kSep && r.t(i+2).word == "=") || r.t(i+1).num%load.One != 0 {
		return false
	}
	sub := r.within(i + 3)
	_, ties, art := sub.ties()
	if art == nil || len(ties) > 0 {
		return false
	}
	r.ownAll(i, i+3, OwnFact)
	r.acts = append(r.acts, Gear{Do: "machine", Machine: strconv.Itoa(int(r.t(i+1).num / load.One)), Article: art.Article})
	return true
}

// make reads "make the last two direct", "make it 5", "make them over".
func (r *reader) make(i int) int {
	c := Change{}
	k := i + 1
	fact := false
loop:
	for ; k < len(r.sig); k++ {
		t := r.t(k)
		switch t.kind {
		case kDet, kIt, kOf, kTo, kBe, kOn:
		case kLast:
			c.Ref.Which = Last
			if c.Ref.Count == 0 {
				c.Ref.Count = 1
			}
		case kAll, kThem:
			if c.Ref.Which == It {
				c.Ref.Which = All
			}
		case kRest:
			c.Ref.Which = Rest
		case kNum, kCount:
			n := int(t.num / load.One)
			switch {
			case c.Ref.Which == Last || r.nameAhead(k+1):
				c.Ref.Count = n
				if c.Ref.Which == It {
					c.Ref.Which = Some
				}
			default:
				c.Edit.Count = n
				fact = true
			}
		case kMat:
			if m, ok := materials[t.word]; ok {
				c.Ref.Like.Material = m.material
			}
			if t.plural && c.Ref.Which == It {
				c.Ref.Which = All
			}
		case kRoute:
			if t.word == "?" {
				break loop
			}
			c.Edit.Set.Route = load.Route(t.word)
			fact = true
		case kGrade:
			c.Edit.Set.Grade = load.Grade{Value: t.word, Reading: load.Read}
			fact = true
		case kEnd:
			if fact {
				c.Edit.Set.Place = merge(c.Edit.Set.Place, load.Place{End: t.word})
			} else {
				c.Ref.Like.Place = merge(c.Ref.Like.Place, load.Place{End: t.word})
			}
		case kCorner:
			if fact {
				c.Edit.Set.Place = cornerPlace(t.word)
			} else {
				c.Ref.Like.Place = cornerPlace(t.word)
			}
		case kSize:
			if c.Ref.Which != It || c.Ref.Like.Size != 0 || r.kindAt(k+1) == kNone {
				c.Edit.Set.Size, c.Edit.Set.SizeWord = t.size, t.word
				fact = true
			} else {
				c.Ref.Like.Size, c.Ref.Like.SizeWord = t.size, t.word
			}
		default:
			break loop
		}
	}
	if !fact {
		return i + 1
	}
	r.ownAll(i, k, OwnFact)
	r.acts = append(r.acts, c)
	return k
}

// attribute reads "the rear ones are 5/16", "the front chains are over": facts
// of tie-downs known already, not more of them.
func (r *reader) attribute(i int) bool {
	c := Change{Ref: Ref{Which: All}}
	if r.kindAt(i) == kDet {
		i++
	}
	if r.kindAt(i) == kGradeWord {
		return r.gradeIs(i)
	}
	be, who := -1, false
	for k := i; k < len(r.sig) && be < 0; k++ {
		switch t := r.t(k); t.kind {
		case kDet, kOf:
		case kThem, kAll:
			who = true
		case kLast:
			c.Ref.Which, who = Last, true
		case kNum:
			c.Ref.Count = int(t.num / load.One)
			if c.Ref.Which == All {
				c.Ref.Which = Some
			}
		case kEnd:
			c.Ref.Like.Place = merge(c.Ref.Like.Place, load.Place{End: t.word})
		case kSide:
			c.Ref.Like.Place = merge(c.Ref.Like.Place, load.Place{Side: t.word})
		case kCorner:
			c.Ref.Like.Place, who = cornerPlace(t.word), true
		case kMat:
			m, ok := materials[t.word]
			if !ok {
				return false
			}
			c.Ref.Like.Material, who = m.material, true
		case kSize:
			c.Ref.Like.Size, c.Ref.Like.SizeWord = t.size, t.word
		case kBe:
			be = k
		default:
			return false
		}
	}
	if be < 0 || !who || be == i {
		return false
	}
	if l := c.Ref.Like; l.Place == (load.Place{}) && l.Material == "" && l.Size == 0 && c.Ref.Which == All {
		return false // "they are 3/8 g70"
	}
	fact := false
	for k := be + 1; k < len(r.sig); k++ {
		switch t := r.t(k); t.kind {
		case kSize:
			c.Edit.Set.Size, c.Edit.Set.SizeWord, fact = t.size, t.word, true
		case kGrade:
			c.Edit.Set.Grade, fact = load.Grade{Value: t.word, Reading: load.Read}, true
		case kRoute:
			if t.word == "?" {
				return false
			}
			c.Edit.Set.Route, fact = load.Route(t.word), true
		case kDet, kSep, kStop, kAll, kMat, kThem, kOn:
		default:
			return false
		}
	}
	if !fact {
		return false
	}
	r.ownAll(i, len(r.sig), OwnFact)
	r.acts = append(r.acts, c)
	return true
}

// gradeIs reads "grade is 80 not 70": told of those that lack it, or of those
// told otherwise.
func (r *reader) gradeIs(i int) bool {
	value, not := "", ""
	neg := false
	for k := i + 1; k < len(r.sig); k++ {
		t := r.t(k)
		v := ""
		switch t.kind {
		case kBe, kIt, kSep, kStop:
			continue
		case kNeg:
			neg = true
			continue
		case kNum:
			v = gradeValue(t.num)
		case kGrade:
			v = t.word
		}
		if v == "" {
			return false
		}
		if neg {
			not = v
		} else {
			value = v
		}
	}
	if value == "" {
		return false
	}
	c := Change{Ref: Ref{Which: All, Lacks: not == ""}, Edit: Edit{Set: load.TieDown{Grade: load.Grade{Value: value, Reading: load.Read}}}}
	if not != "" {
		c.Ref.Like.Grade = load.Grade{Value: not, Reading: load.Read}
	}
	r.ownAll(i, len(r.sig), OwnFact)
	r.acts = append(r.acts, c)
	return true
}

// nameAhead says whether a tie-down word or a route follows, so that a number
// before it counts the ones meant.
func (r *reader) nameAhead(k int) bool {
	switch r.kindAt(k) {
	case kMat, kRoute, kEnd, kSize, kGrade:
		return true
	}
	return false
}

// roadOnly reads a message of nothing but words from the road.
func (r *reader) roadOnly(i int) bool {
	var acts []Act
	for k := i; k < len(r.sig); k++ {
		t := r.t(k)
		switch t.kind {
		case kRoad:
			acts = append(acts, Road{Word: t.word})
		case kMiles:
			miles := float64(t.num) / float64(load.One)
			if n := len(acts); n > 0 {
				if x, ok := acts[n-1].(Road); ok && x.Word != "at" && x.Miles == 0 {
					acts = append(acts[:n-1], Road{Word: "at", Miles: miles}, x)
					continue
				}
			}
			acts = append(acts, Road{Word: "at", Miles: miles})
		case kSound:
			if t.raw != "checked" && t.raw != "all" && len(acts) == 0 {
				return false
			}
		case kTight, kAll, kIt, kThem, kSep, kLine, kStop, kOn, kDet, kAnd, kBe, kWith, kLast:
		default:
			return false
		}
	}
	if len(acts) == 0 {
		return false
	}
	r.ownAll(i, len(r.sig), OwnFact)
	r.acts = append(r.acts, acts...)
	return true
}

// bareFigure reads a message that is one figure and nothing to give it a
// meaning: an answer, or a correction of the figure told last.
func (r *reader) bareFigure(i int) bool {
	at, sorry, reads := -1, false, false
	for k := i; k < len(r.sig); k++ {
		switch t := r.t(k); t.kind {
		case kNum, kBig, kMass, kCount:
			if at >= 0 {
				if r.kindAt(k-1) == kNeg && k == len(r.sig)-1 {
					continue // "3 not 4": the first stands
				}
				return false
			}
			at = k
		case kCorrect, kNeg:
			sorry = true
		case kRated:
			if t.word == "breaking" {
				return false
			}
			reads = true
		case kThem, kIt, kBe, kSep, kHedge, kStop, kDet, kLine, kAll:
		default:
			return false
		}
	}
	if at < 0 || r.t(at).kind == kMass && !reads && !sorry {
		return false
	}
	t := r.t(at)
	offs := offsets(r.text)
	a := Answer{Figure: r.text[offs.at(t.at):offs.at(t.end)], Mass: t.weight.Told, Sorry: sorry}
	if t.num%load.One == 0 {
		a.Number = int(t.num / load.One)
	}
	if a.Mass == 0 {
		a.Mass, _ = load.Times(t.num, load.Pound)
	}
	if reads {
		a.Word = "reads"
	}
	r.ownAll(i, len(r.sig), OwnFact)
	r.acts = append(r.acts, a)
	return true
}

// barePlace reads a message of nothing but a place: "front left", "on each
// corner". It tells of the tie-downs known already.
func (r *reader) barePlace(i int) bool {
	at := load.Place{}
	for k := i; k < len(r.sig); k++ {
		place := load.Place{}
		switch t := r.t(k); t.kind {
		case kEnd:
			place.End = t.word
		case kSide:
			place.Side = t.word
		case kCorner:
			place = cornerPlace(t.word)
		case kSpread:
			place.Spread = t.word
		case kSpreadOne:
			place.Spread = "corners"
		case kDet, kOn, kEach, kIt, kThem, kBe, kSep, kStop, kLine, kAll:
			continue
		default:
			return false
		}
		if !mergeable(at, place) {
			return false // "front, rear": which is where is not told
		}
		at = merge(at, place)
	}
	if at == (load.Place{}) {
		return false
	}
	r.ownAll(i, len(r.sig), OwnFact)
	r.acts = append(r.acts, Change{Ref: Ref{Which: All, Lacks: true}, Edit: Edit{Set: load.TieDown{Place: at}}})
	return true
}

// bareWord reads a message that is one word an open question may be answered
// with.
func (r *reader) bareWord(i int) bool {
	word, neg := "", false
	for k := i; k < len(r.sig); k++ {
		t := r.t(k)
		w := ""
		switch t.kind {
		case kYes:
			w = "yes"
		case kNeg:
			neg = true
			continue
		case kUnsure:
			w = "unknown"
		case kState:
			switch t.word {
			case "locked", "tied", "not tied", "down", "up", "off":
				w = t.word
			case "not locked", "no lock":
				w = "not locked"
			default:
				return false
			}
		case kTight:
			w = "tight"
		case kOn:
			if t.raw == "in" && k > i && k == len(r.sig)-1 {
				w = "locked" // "it's in"
			} else {
				continue
			}
		case kRoute:
			if r.has(k, len(r.sig), kJoint) && t.word != "same side" {
				w = "over the joint"
			} else {
				return false
			}
		case kJoint:
			if word != "over the joint" {
				return false
			}
			continue
		case kIt, kThem, kBe, kSep, kStop, kDet, kLine, kAnd, kAll:
			continue
		default:
			return false
		}
		if word != "" && word != w {
			if word == "yes" || word == "unknown" && w == "unknown" {
				word = w
				continue
			}
			return false
		}
		word = w
	}
	if neg {
		switch word {
		case "":
			word = "no"
		case "locked":
			word = "not locked"
		case "tied":
			word = "not tied"
		case "down":
			word = "up"
		case "tight":
			word = "loose"
		default:
			return false
		}
	}
	if word == "" {
		return false
	}
	r.ownAll(i, len(r.sig), OwnFact)
	r.acts = append(r.acts, Answer{Word: word})
	return true
}

// bare turns a message that told only a route, a place or a grade into what it
// tells of the tie-downs known already.
func (r *reader) bare(int) {
	if len(r.acts) != 1 {
		return
	}
	d, ok := r.acts[0].(Describe)
	if !ok || d.Add || len(d.Articles) != 1 {
		return
	}
	a := &d.Articles[0]
	if a.Kind != "" || a.Machine != "" || len(a.Lines) != 1 || len(r.arts) != 1 || !r.arts[0].empty() {
		return
	}
	l, t := a.Lines[0], a.Ties[0]
	if l.Named && (t.Size != 0 || t.Material != load.Chain || l.Told) || l.Told && t.Place.Spread == "" {
		return
	}
	t.Line, t.Plural = 0, false
	if l.Named && t.Grade.Reading == load.NotRead {
		return
	}
	if !l.Named && t.Route == "" && t.Place == (load.Place{}) {
		return
	}
	t.Material = ""
	r.acts[0] = Change{Ref: Ref{Which: All, Lacks: true}, Edit: Edit{Set: t}}
}
