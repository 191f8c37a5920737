package parser

import (
	"halfweight/rules/load"
)

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
			if len(t.tags) == 1 {
				c.Ref.Like.Tag = t.tags[0]
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
			c.Edit.Set.Grade = readGrade(t.word)
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
	var tags []string
	for k := i; k < len(r.sig) && be < 0; k++ {
		switch t := r.t(k); t.kind {
		case kDet, kOf:
		case kOn:
			who = who || r.kindAt(k-1) == kNum && r.has(0, len(r.sig), kCorrect) // "one at the back right is actually 3/8"
		case kThem, kAll:
			who = true
		case kIt:
			if t.raw != "the" && t.raw != "that" {
				return false
			}
			who = true // "the one at the back right"
		case kLast:
			c.Ref.Which, who = Last, true
		case kNum:
			c.Ref.Count = int(t.num / load.One)
			if c.Ref.Which == All {
				c.Ref.Which = Some
			}
		case kEnd:
			c.Ref.Like.Place = merge(c.Ref.Like.Place, load.Place{End: t.word})
			who = who || t.raw == "rears" || t.raw == "fronts"
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
			if tags = t.tags; len(tags) > 0 && !r.kindAt(k+1).in(kBe) {
				return false
			}
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
			c.Edit.Set.Grade, fact = readGrade(t.word), true
		case kRoute:
			if t.word == "?" {
				return false
			}
			c.Edit.Set.Route, fact = load.Route(t.word), true
		case kDet, kSep, kStop, kAll, kMat, kThem, kOn, kCorrect:
		default:
			return false
		}
	}
	if !fact {
		return false
	}
	r.ownAll(i, len(r.sig), OwnFact)
	for _, c := range eachTag(c, tags) {
		r.acts = append(r.acts, c)
	}
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
	c := Change{Ref: Ref{Which: All, Lacks: not == ""}, Edit: Edit{Set: load.TieDown{Grade: readGrade(value)}}}
	if not != "" {
		c.Ref.Like.Grade = readGrade(not)
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
