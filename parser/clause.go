package parser

import "halfweight/rules/load"

// clause is one clause of tie-downs while it is read: pieces told together.
type clause struct {
	count   int
	told    bool // the count was told
	plural  bool // told in the plural
	named   bool // material, size or grade was told
	tie     load.TieDown
	places  []load.Place
	routes  int    // different routes told; more than one leaves it untold
	late    bool   // its kind was told behind its place: of the clauses before it too
	one     bool   // told by "a": a count that a number told later takes over
	rest    bool   // "the rest" of the clause before it
	unclear bool   // something told of it has no place in the count
	ofThem  bool   // "one of them": out of the clause before it
	on      string // part that the words before it say it holds: "bucket chained with ..."
	binders int    // binders counted for it; -1 not told
	through bool   // told through or across, no side told
}

func (c *clause) place() *load.Place {
	if len(c.places) == 0 {
		return nil
	}
	return &c.places[len(c.places)-1]
}

// open is the clause being read, made if there is none.
func (r *reader) open() *clause {
	if r.cl == nil {
		r.cl = &clause{binders: -1}
		if r.onNext != "" && r.pos <= r.onNextBy {
			r.cl.on = r.onNext
		}
		r.onNext = ""
		r.cl.places = append(r.cl.places, r.lead...)
		r.lead = nil
	}
	return r.cl
}

// close ends the clause being read and hands it to the article.
func (r *reader) close() {
	c := r.cl
	r.cl = nil
	if c == nil {
		return
	}
	a := r.article()
	a.clauses = append(a.clauses, c)
	r.lastPlaceAt = -1
}

// fresh starts a new clause.
func (r *reader) fresh() *clause {
	r.close()
	return r.open()
}

// counted takes a count. Told before the tie-down it leads; "x4" and "(4)"
// trail.
func (r *reader) counted(i int, trails bool) {
	n := int(r.t(i).num / load.One)
	c := r.cl
	if trails && c != nil && c.told {
		return // two counts of one thing: the second stands nowhere
	}
	if !trails && !r.t(i).trail && !r.tieAhead(i+1) && !(c != nil && c.named && !c.told) {
		return // "tightened it 2x"
	}
	if c != nil && !c.told && c.named && (trails || r.t(i).trail && !r.coreAhead(i+1)) {
		c.count, c.told = n, true
	} else {
		if c != nil && (c.told || c.named) {
			c = r.fresh()
		} else {
			c = r.open()
		}
		c.count, c.told = n, true
	}
	r.own(i, OwnFact)
}

// tieAhead says whether what follows at i can be told of tie-downs.
func (r *reader) tieAhead(i int) bool {
	for k := i; k < len(r.sig) && k < i+5; k++ {
		switch r.t(k).kind {
		case kSize, kGrade, kMat, kRoute, kEnd, kSide, kCorner, kSpread, kSpreadOne, kThem, kEach, kGradeWord, kPart, kJoint, kTens, kBadFig, kOther, kPlain, kNoMark, kDamage, kMass, kBig:
			return true
		case kSep, kLine, kDet, kOf, kExtra, kOn, kTaken, kNum, kWith:
			continue
		}
		return false
	}
	return false
}

// coreAhead says whether what comes at i describes a tie-down, so that a count
// before it leads.
func (r *reader) coreAhead(i int) bool {
	for k := i; k < len(r.sig) && k < i+3; k++ {
		switch r.t(k).kind {
		case kSize, kGrade, kMat:
			return true
		case kDet, kOf, kExtra:
			continue
		}
		return false
	}
	return false
}

func (r *reader) sized(i int) {
	t := r.t(i)
	if r.cl == nil || r.cl.tie.Size != 0 {
		// a size that opens a clause has something of a tie-down behind it:
		// "1/4 tank", "84 in drum" have not
		if k := r.sig[i] + 1; k < len(r.toks) && (r.toks[k].kind == kOther || r.toks[k].kind == kPlain || r.toks[k].kind == kKind || r.toks[k].kind == kPart) {
			return
		}
	}
	if k := r.kindAt(i - 1); k == kDoubt || k == kBe && r.kindAt(i-2) == kDoubt {
		return // "might be 5/16"
	}
	if k := r.kindAt(i + 1); (r.cl == nil || r.cl.tie.Size != 0) && (k == kNone || k == kSep || k == kStop || k == kOn) && r.kindAt(i-1) != kNum && r.kindAt(i-1) != kCount && r.has(0, i, kTaken) {
		return // "one has a cut, about 1/4": a measure, and of what is not clear
	}
	if c := r.cl; c != nil && c.tie.Size != 0 && c.tie.Size != t.size && r.orBefore(i) {
		c.tie.Size, c.tie.SizeWord = 0, "" // "3/8 or 1/2": not told
		r.own(i, OwnFact)
		return
	}
	c := r.open()
	if c.tie.Size != 0 && c.tie.Size != t.size {
		c = r.fresh()
	} else if c.tie.Size == t.size && (len(c.places) > 0 || c.routes > 0 || c.tie.Grade.Reading != load.NotRead) && r.brokeSince(i) {
		c = r.fresh()
	} else if len(c.places) > 0 && c.named && r.brokeSince(i) && !r.leads && c.tie.Size == 0 && c.tie.Grade.Reading != load.NotRead {
		c = r.fresh()
	}
	c.late = c.late || !c.named && c.told && (len(c.places) > 0 || c.routes > 0)
	c.tie.Size, c.tie.SizeWord, c.named = t.size, t.word, true
	r.own(i, OwnFact)
}

// brokeSince says whether a separator stands right before i, places aside.
func (r *reader) brokeSince(i int) bool {
	for i--; i >= 0; i-- {
		switch r.t(i).kind {
		case kSep, kLine, kStop, kAnd:
			return true
		case kEnd, kSide, kCorner, kSpread, kDet, kOn, kBe, kNum, kCount:
			continue
		}
		return false
	}
	return false
}

// opens says whether token i is the first after a separator, small words aside.
func (r *reader) opens(i int) bool {
	for i--; i >= 0; i-- {
		switch r.t(i).kind {
		case kSep, kLine, kStop, kAnd:
			return true
		case kDet, kOn, kBe:
			continue
		}
		return false
	}
	return false
}

func (r *reader) graded(i int) {
	c := r.open()
	v := r.t(i).word
	if c.tie.Material == load.Webbing || c.tie.Size != 0 && r.opens(i) && r.kindAt(i+1) == kSize {
		c = r.fresh() // "..., g70 5/16 direct": the grade leads its clause
	}
	g := &c.tie.Grade
	if g.Reading == load.Read && g.Value != v {
		if r.orBefore(i) {
			*g = load.Grade{} // "80 or 100": not read
			r.own(i, OwnFact)
			return
		}
		c = r.fresh()
		g = &c.tie.Grade
	}
	if r.hedged(i) {
		r.own(i, OwnFact)
		c.named = true
		return // "I think it's 70": not read
	}
	c.named = true
	r.own(i, OwnFact)
	if r.kindAt(i+1) == kOr {
		// "80 or 100": not read
		if n := r.kindAt(i + 2); n == kGrade || n == kNum && gradeValue(r.t(i+2).num) != "" && r.t(i+2).num >= 30*load.One {
			r.ownAll(i+1, i+3, OwnFact)
			r.skip = i + 3
			*g = load.Grade{}
			return
		}
	}
	*g = load.Grade{Value: v, Reading: load.Read}
}

func (r *reader) orBefore(i int) bool { return i > 0 && r.t(i-1).kind == kOr }

// hedged says whether the fact at i is told with a doubt.
func (r *reader) hedged(i int) bool {
	for k := i - 1; k >= 0 && k >= i-4; k-- {
		switch r.t(k).kind {
		case kHedge, kUnsure:
			r.own(k, OwnPhrase)
			return true
		case kIt, kThem, kBe, kDet, kGradeWord:
			continue
		}
		break
	}
	if k := r.kindAt(i + 1); k == kUnsure || k == kDoubt || k == kHedge && (r.t(i+1).word == "?" || r.t(i+1).raw == "i") {
		r.own(i+1, OwnPhrase)
		return true
	}
	return false
}

// material takes the word for what a tie-down is made of.
func (r *reader) material(i int) {
	t := r.t(i)
	m, ok := materials[t.word]
	if t.word == "winch line" {
		r.own(i, OwnPhrase) // pulls the machine on; it counts for nothing
		r.winch = true
		if r.cl != nil && !r.cl.named {
			r.cl = nil
		}
		return
	}
	c := r.open()
	if g := m.grade.Reading; g != load.NotRead && c.named && (c.tie.Material == load.Webbing || c.tie.Size != 0 && r.opens(i) && r.kindAt(i+1) == kSize) {
		c = r.fresh() // "..., high test 5/16 direct": the grade leads its clause
	}
	same := c.tie.Material == "" || !ok || m.material == c.tie.Material
	if ok && c.named && !t.plural && c.tie.Material == "" && (c.told || r.brokeSince(i)) && c.routes > 0 && (len(c.places) > 0 || r.kindAt(i+1) == kRoute || r.kindAt(i+1) == kOn) {
		c = r.fresh() // "4x 3/8 g70 direct on the corners, chain over the bucket"
	}
	if !same || ok && c.tie.Material == m.material && len(c.places) > 0 && r.brokeSince(i) && c.named {
		c = r.fresh()
	}
	if ok {
		c.tie.Material = m.material
		if m.make != "" {
			c.tie.Make = m.make
		}
		if m.grade.Reading != load.NotRead {
			if c.tie.Grade.Reading == load.NotRead || m.grade.Reading == load.NoMarks {
				c.tie.Grade = m.grade
			}
		}
		if m.tensioner != "" {
			c.tie.Tensioner.Has, c.tie.Tensioner.Kind = load.Yes, m.tensioner
		}
		c.named = true
	}
	if t.word == "alloy" && r.alloyMarked(i) {
		c.tie.Grade = load.Grade{Reading: load.Alloy}
	}
	if t.plural {
		c.plural = true
	}
	r.own(i, OwnFact)
}

// alloyMarked says whether the links are told to be marked as alloy, not only
// called so.
func (r *reader) alloyMarked(i int) bool {
	if i > 0 && r.t(i-1).kind == kRated {
		r.own(i-1, OwnFact)
		return true
	}
	raw := r.t(i).raw
	return raw == "marked" || raw == "stamped"
}

type materialWord struct {
	material  load.Material
	make      string
	grade     load.Grade
	tensioner string
}

// materials are the canonical material words of words.csv and what they tell.
var materials = map[string]materialWord{
	"chain":                {material: load.Chain},
	"transport chain":      {material: load.Chain, grade: load.Grade{Value: "70", Reading: load.Read}},
	"proof coil":           {material: load.Chain, grade: load.Grade{Value: "30", Reading: load.Read}},
	"high test":            {material: load.Chain, grade: load.Grade{Value: "43", Reading: load.Read}},
	"alloy":                {material: load.Chain},
	"unmarked":             {material: load.Chain, grade: load.Grade{Reading: load.NoMarks}},
	"webbing":              {material: load.Webbing},
	"ratchet strap":        {material: load.Webbing, tensioner: "ratchet"},
	"winch strap":          {material: load.Webbing, tensioner: "strap winch"},
	"wire rope":            {material: load.WireRope},
	"cordage":              {material: load.Cordage},
	"manila":               {material: load.Cordage, make: "manila"},
	"polypropylene":        {material: load.Cordage, make: "polypropylene"},
	"polyester":            {material: load.Cordage, make: "polyester"},
	"nylon":                {material: load.Cordage, make: "nylon"},
	"double-braided nylon": {material: load.Cordage, make: "double-braided nylon"},
	"steel strapping":      {material: load.SteelStrap},
}

func (r *reader) routed(i int) {
	t := r.t(i)
	if t.word == "direct" && (r.cl == nil || r.cl.routes == 0) && r.aloneAt(i) && r.cur != nil {
		// ", direct": told of all the clauses before it
		for _, c := range r.cur.clauses {
			if c.routes == 0 && !c.through {
				c.tie.Route, c.routes = load.Direct, 1
				r.own(i, OwnFact)
			}
		}
		if r.cl == nil && r.t(i).owner == OwnFact {
			return
		}
	}
	c := r.open()
	route := load.Route(t.word)
	switch {
	case t.word == "?":
		if c.routes == 0 && c.tie.Route == "" {
			c.through = true
		}
	case c.tie.Route == "" && c.routes == 0 || c.tie.Route == route:
		c.tie.Route = route
		c.routes = 1
	case c.tie.Route == load.Over && route == load.SameSide:
		c.tie.Route = load.SameSide // over the machine and back to the same side
	case r.brokeSince(i) || i > 0 && (r.t(i-1).kind == kNum || r.t(i-1).kind == kCount):
		c = r.fresh()
		c.tie.Route = route
		c.routes = 1
	default:
		c.tie.Route = "" // two routes told of one tie-down: neither stands
		c.routes = 2
	}
	r.own(i, OwnFact)
}

// aloneAt says whether token i stands between separators.
func (r *reader) aloneAt(i int) bool {
	edge := func(k kind) bool { return k == kSep || k == kLine || k == kStop || k == kNone }
	return edge(r.kindAt(i-1)) && edge(r.kindAt(i+1))
}

// placed takes a place: an end, a side, a corner, a spread. Told where the open
// clause has one already, it starts the next clause or adds to a list.
func (r *reader) placed(i int, p load.Place) {
	r.own(i, OwnFact)
	if r.cl == nil || !r.cl.told && !r.cl.named && r.cl.routes == 0 {
		// a place before any tie-down leads
		if r.cl == nil {
			r.leads = true
			r.leadAt = i
			if n := len(r.lead); n > 0 && r.lastPlaceAt >= 0 && r.adjacent(r.lastPlaceAt, i) && mergeable(r.lead[n-1], p) {
				r.lead[n-1] = merge(r.lead[n-1], p)
			} else {
				r.lead = append(r.lead, p)
			}
			r.lastPlaceAt = i
			return
		}
	}
	c := r.cl
	if last := c.place(); last != nil && r.lastPlaceAt >= 0 && r.adjacent(r.lastPlaceAt, i) && mergeable(*last, p) {
		*last = merge(*last, p)
		r.lastPlaceAt = i
		return
	}
	if r.kindAt(i+1) == kTimes && c.told {
		r.close() // "front x2 rear x2"
		r.lead, r.leadAt, r.lastPlaceAt = []load.Place{p}, i, i
		return
	}
	// a place that opens a clause: told first of all, or after a separator with
	// the tie-down right behind it
	if (c.named || c.told) && (r.leads && len(c.places) > 0 || r.opens(i)) && r.coreFollows(i+1, r.leads) {
		r.close()
		r.lead = []load.Place{p}
		r.leadAt = i
		r.lastPlaceAt = i
		return
	}
	c.places = append(c.places, p)
	r.lastPlaceAt = i
}

// coreFollows says whether a count, size, grade or material comes next; past a
// separator too, where past says so.
func (r *reader) coreFollows(i int, past bool) bool {
	for k := i; k < len(r.sig) && k < i+4; k++ {
		switch r.t(k).kind {
		case kSize, kGrade, kMat, kCount, kNum, kTimes:
			return true
		case kDet, kBe, kSide, kEnd, kWith:
			continue
		case kSep, kLine:
			if past || k == i && r.t(k).word == ":" {
				continue
			}
		}
		return false
	}
	return false
}

// adjacent says whether only words that bind stand between tokens a and b.
func (r *reader) adjacent(a, b int) bool {
	for k := a + 1; k < b; k++ {
		switch r.t(k).kind {
		case kDet, kOn, kOf:
			continue
		}
		return false
	}
	return true
}

// mergeable says whether b adds to a what it lacks: "front" and "left" do, two
// corners do not.
func mergeable(a, b load.Place) bool {
	return !(a.End != "" && b.End != "" || a.Side != "" && b.Side != "" || a.Spread != "" && b.Spread != "")
}

// merge lays the fields of b into a: "front" and "left" are the front left.
func merge(a, b load.Place) load.Place {
	if b.End != "" && (a.End == "" || a.End == "middle") {
		a.End = b.End
	}
	if b.Side != "" && a.Side == "" {
		a.Side = b.Side
	}
	if b.Spread != "" && a.End == "" && a.Side == "" {
		a.Spread = b.Spread
	}
	if b.On != "" {
		a.On = b.On
	}
	return a
}

// fromTo reads a run told from anchor to anchor: "from the front left d-ring
// through the machine to the rear left d-ring". It returns the token after it,
// or i when it is no such run.
func (r *reader) fromTo(i int) int {
	var from, to load.Place
	at := &from
	toMachine, machine := false, false
	seenTo := -1
	k := i + 1
	for ; k < len(r.sig) && k < i+18; k++ {
		t := r.t(k)
		switch t.kind {
		case kTo:
			if seenTo >= 0 {
				break
			}
			seenTo = k
			at = &to
			continue
		case kEnd:
			*at = merge(*at, load.Place{End: t.word})
			continue
		case kSide:
			*at = merge(*at, load.Place{Side: t.word})
			continue
		case kCorner:
			*at = merge(*at, cornerPlace(t.word))
			continue
		case kDet, kRing, kOn, kOf, kHook, kOther, kPlain:
			continue
		case kKind, kPart:
			if seenTo >= 0 {
				machine = true
			}
			continue
		case kRoute:
			if t.word == "direct" {
				toMachine = true
				seenTo = k
			}
			if (t.word == "over" || t.word == "same side") && seenTo < 0 && toWord(t.raw) {
				// "to the other side" is one phrase
				r.open().tie.Route = load.Route(t.word)
				r.cl.routes = 1
				for j := i; j <= k; j++ {
					r.own(j, OwnFact)
				}
				return k + 1
			}
			continue
		}
		break
	}
	if seenTo < 0 {
		return i
	}
	c := r.open()
	switch {
	case toMachine || machine && to.End == "" && to.Side == "":
		c.tie.Route, c.routes = load.Direct, 1
		if from != (load.Place{}) && len(c.places) == 0 {
			c.places = append(c.places, from)
		}
	case from.End != "" && to.End != "" && from.End != to.End:
		c.tie.Route, c.routes = load.Lengthwise, 1
	case from.Side != "" && to.Side != "" && from.Side != to.Side && from.End == to.End:
		c.tie.Route, c.routes = load.Over, 1
		if from.End != "" {
			c.places = append(c.places, load.Place{End: from.End})
		}
	case from.Side != "" && from.Side == to.Side && from.End == to.End:
		c.tie.Route, c.routes = load.SameSide, 1
		if from.End != "" {
			c.places = append(c.places, load.Place{End: from.End})
		}
	default:
		return i
	}
	for j := i; j < k; j++ {
		r.own(j, OwnFact)
	}
	return k
}

func toWord(raw string) bool {
	return raw == "to" || raw == "other" || raw == "opposite" || raw == "far"
}

func cornerPlace(w string) load.Place {
	switch w {
	case "fl":
		return load.Place{End: "front", Side: "left"}
	case "fr":
		return load.Place{End: "front", Side: "right"}
	case "rl":
		return load.Place{End: "rear", Side: "left"}
	}
	return load.Place{End: "rear", Side: "right"}
}
