package parser

import (
	"halfweight/rules/load"
)

func (r *reader) sized(i int) {
	t := r.t(i)
	if r.cl == nil || r.cl.tie.Size != 0 {
		// a size that opens a clause has something of a tie-down behind it:
		// "1/4 tank", "84 in drum" have not
		if k := r.sig[i] + 1; k < len(r.toks) && r.toks[k].kind.in(kOther, kPlain, kKind, kPart) {
			return
		}
	}
	if k := r.kindAt(i - 1); k == kDoubt || k == kBe && r.kindAt(i-2) == kDoubt {
		return // "might be 5/16"
	}
	if k := r.kindAt(i + 1); (r.cl == nil || r.cl.tie.Size != 0) && k.in(kNone, kSep, kStop, kOn) && !r.kindAt(i-1).in(kNum, kCount) && r.has(0, i, kTaken) {
		return // "one has a cut, about 1/4": a measure, and of what is not clear
	}
	if c := r.cl; c != nil && c.tie.Size != 0 && c.tie.Size != t.size && r.orBefore(i) {
		c.tie.Size, c.tie.SizeWord = 0, "" // "3/8 or 1/2": not told
		r.own(i, OwnFact)
		return
	}
	c := r.open()
	if len(c.tags) > 0 && (c.routes > 0 || len(c.places) > 0) && r.brokeSince(i) {
		c = r.fresh() // "chain 7 front left direct, 3/8 g70 over"
	}
	if c.tie.Size != 0 && c.tie.Size != t.size {
		c = r.fresh()
	} else if c.tie.Size == t.size && c.told && r.timesAhead(i+1) {
		c = r.fresh()
	} else if c.tie.Size == t.size && (len(c.places) > 0 || c.routes > 0 || c.tie.Grade.Reading != load.NotRead) && r.brokeSince(i) {
		c = r.fresh()
	} else if len(c.places) > 0 && c.named && r.brokeSince(i) && !r.leads && c.tie.Size == 0 && c.tie.Grade.Reading != load.NotRead {
		c = r.fresh()
	}
	c.late = c.late || (!c.named || c.tie.Material != "" && c.tie.Grade == load.Grade{} && c.tie.Size == 0) && c.told && (len(c.places) > 0 || c.routes > 0)
	c.tie.Size, c.tie.SizeWord, c.named = t.size, t.word, true
	c.plural = c.plural || t.plural
	r.own(i, OwnFact)
}

// timesAhead says whether a trailing count comes before the next separator.
func (r *reader) timesAhead(i int) bool {
	return r.kindAt(r.past(i, kGrade, kMat, kRoute, kEnd, kSide, kCorner, kSpread, kOn, kDet)) == kTimes
}

func (r *reader) graded(i int) {
	if c := r.lastOrOpen(); c != nil && c.tie.Grade.Reading == load.Read && r.hedged(i) {
		c.tie.Grade = load.Grade{} // "..., think it's 70": the doubt takes it back
		r.own(i, OwnFact)
		return
	}
	if k := r.back(i-1, kBe, kGradeWord, kAll); r.kindAt(k).in(kThem, kIt) && r.regraded(r.t(i).word) {
		r.own(i, OwnFact)
		return
	}
	if r.kindAt(r.back(i-1, kBe, kGradeWord, kAll)) == kThem && !r.tiesTold() && r.has(i+1, len(r.sig), kGrade) {
		r.aside = true // "they look like grade 43", and another told behind it
	}
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
		r.aside = r.aside || !c.told && c.tie.Size == 0 && c.tie.Material == "" // "pretty sure its grade 43": of which ones
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
	*g = readGrade(v)
	c.plural = c.plural || r.t(i).plural
}

func (r *reader) orBefore(i int) bool { return i > 0 && r.t(i-1).kind == kOr }

// hedged says whether the fact at i is told with a doubt.
func (r *reader) hedged(i int) bool {
	if k := r.backIn(i-1, 4, kIt, kThem, kBe, kDet, kGradeWord); r.kindAt(k).in(kHedge, kUnsure) {
		r.own(k, OwnPhrase)
		return true
	}
	if k := r.kindAt(i + 1); k.in(kUnsure, kDoubt) || k == kHedge && (r.t(i+1).word == "?" || r.t(i+1).raw == "i") {
		r.own(i+1, OwnPhrase)
		return true
	}
	return false
}

// regraded takes a grade told of "them" that is not the one they were told with:
// neither is read. It says whether it was such.
func (r *reader) regraded(value string) bool {
	found := false
	each := func(c *clause) {
		if g := &c.tie.Grade; g.Reading == load.Read && g.Value != value {
			*g, found = load.Grade{}, true
		}
	}
	if r.cl != nil {
		each(r.cl)
	}
	if r.cur != nil {
		for _, c := range r.cur.clauses {
			each(c)
		}
	}
	return found
}

// material takes the word for what a tie-down is made of.
func (r *reader) material(i int) {
	t := r.t(i)
	m, ok := materials[t.word]
	if t.word == "winch line" {
		r.winchLine(i)
		return
	}
	if len(t.tags) > 0 {
		r.markedPieces(i)
		return
	}
	c := r.open()
	if g := m.grade.Reading; g != load.NotRead && c.named && (c.tie.Material == load.Webbing || c.tie.Size != 0 && r.opens(i) && r.kindAt(i+1) == kSize) {
		c = r.fresh() // "..., high test 5/16 direct": the grade leads its clause
	}
	same := c.tie.Material == "" || !ok || m.material == c.tie.Material
	if ok && c.named && !t.plural && c.tie.Material == "" && (c.told || r.brokeSince(i)) && c.routes > 0 && (len(c.places) > 0 || r.kindAt(i+1).in(kRoute, kOn)) {
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

// winchLine takes a line that pulls the machine on: it counts for nothing. Where
// one of the tie-downs is told to be it ("the front one is the winch line"),
// which one is not known.
func (r *reader) winchLine(i int) {
	r.own(i, OwnPhrase)
	c := r.cl
	if c == nil {
		return
	}
	is := r.kindAt(r.back(i-1, kDet)).in(kBe, kOn, kTo)
	if made := c.named && c.tie.Size == 0 && c.tie.Grade == (load.Grade{}); !c.named || made && is {
		r.aside = r.aside || !c.one
		r.cl = nil
	}
}

// markedPieces takes pieces named by the crew's marks: a clause of their own.
func (r *reader) markedPieces(i int) {
	t := r.t(i)
	c := r.open()
	kind := c.named && !c.told && c.tie.Material == "" && r.kindAt(i-1).in(kSize, kGrade, kGradeWord) // "3/8 g70 chain 7"
	if !kind && (c.named || c.told) || c.routes > 0 {
		c = r.fresh()
	}
	m := materials[t.word]
	c.tie.Material, c.named, c.tags = m.material, true, t.tags
	c.count, c.told = len(t.tags), true
	if m.tensioner != "" {
		c.tie.Tensioner.Has, c.tie.Tensioner.Kind = load.Yes, m.tensioner
	}
	r.own(i, OwnFact)
}

// readGrade is a grade told as read on the links.
func readGrade(value string) load.Grade { return load.Grade{Value: value, Reading: load.Read} }

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
	"transport chain":      {material: load.Chain, grade: readGrade("70")},
	"proof coil":           {material: load.Chain, grade: readGrade("30")},
	"high test":            {material: load.Chain, grade: readGrade("43")},
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
