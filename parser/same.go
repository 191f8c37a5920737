package parser

import "halfweight/rules/load"

// Same tells of tie-downs like those told before, at another place: "same on the
// other side", "same at the back", "same rear left".
type Same struct {
	Place load.Place // where; the zero Place where Other is told
	Other string     // "side": over against those told last
	Count int        // so many of them; 0 not told
}

func (Same) act() {}

// Opposite is a place over against p: the other side of it, or the other end. ok
// is false where p names neither.
func Opposite(p load.Place, what string) (at load.Place, ok bool) {
	flip := map[string]string{"left": "right", "right": "left", "front": "rear", "rear": "front"}
	switch what {
	case "side":
		p.Side, ok = flip[p.Side], flip[p.Side] != ""
	case "end":
		p.End, ok = flip[p.End], flip[p.End] != ""
	}
	return p, ok
}

// sameAt reads the place behind "same" at i. It returns the token behind it; i
// where none is told.
func (r *reader) sameAt(i int) (s Same, end int) {
	for k := i + 1; k < len(r.sig); k++ {
		t := r.t(k)
		p := load.Place{}
		switch t.kind {
		case kDet, kOn, kFor, kOf, kThem:
			continue
		case kAll:
			if t.raw != "both" {
				return s, end
			}
			s.Count = 2
			continue
		case kEnd:
			p.End = t.word
		case kSide:
			p.Side = t.word
		case kCorner:
			p = cornerPlace(t.word)
		case kRoute:
			if s != (Same{}) || t.raw == "to" || !r.says(k, "other side", "opposite side", "far side") {
				return s, end
			}
			return Same{Other: "side"}, k + 1
		default:
			return s, end
		}
		if p.End == "middle" || !mergeable(s.Place, p) {
			return s, end
		}
		s.Place, end = merge(s.Place, p), k+1
	}
	return s, end
}

// sameWhole reads a message of nothing but "same on the other side".
func (r *reader) sameWhole(i int) bool {
	for r.kindAt(i).in(kAnd, kSep, kDet, kWith) {
		i++
	}
	if r.kindAt(i) != kSame {
		return false
	}
	s, end := r.sameAt(i)
	if end == 0 || !r.rest(end) {
		return false
	}
	r.ownAll(0, len(r.sig), OwnFact)
	r.acts = append(r.acts, s)
	return true
}

// same reads "same on the other side" behind tie-downs told in the message: as
// many as were told there, at the other place.
func (r *reader) same(i int) {
	s, end := r.sameAt(i)
	if end == 0 || !r.tiesTold() {
		return
	}
	r.close()
	a := r.article()
	like := r.likeThose(a.clauses, s)
	if len(like) == 0 {
		return
	}
	a.clauses = append(a.clauses, like...)
	r.ownAll(i, end, OwnFact)
	r.skip = end
}

// likeThose is the clauses that s tells of, by those told before it: at an end, as
// many as at the other one; else as many as told last.
func (r *reader) likeThose(cs []*clause, s Same) (like []*clause) {
	var from []*clause
	if facing, ok := Opposite(s.Place, "end"); ok && s.Place.Side == "" && s.Other == "" {
		for _, c := range cs {
			if len(c.places) == 1 && c.places[0].End == facing.End && c.places[0].On == "" {
				from = append(from, c)
			}
		}
	}
	if len(from) == 0 {
		from = cs[len(cs)-1:]
	}
	for _, c := range from {
		n := *c
		n.tags, n.late, n.ofThem, n.rest, n.on = nil, false, false, false, ""
		n.tie.State = load.State{}
		switch {
		case len(c.tags) > 0 || len(c.places) > 1 || c.onPart():
			return nil
		case s.Other != "":
			if len(c.places) == 0 {
				return nil
			}
			at, ok := Opposite(c.places[0], s.Other)
			if !ok {
				return nil
			}
			n.places = []load.Place{at}
		case len(from) > 1 || len(c.places) == 1 && s.Place.Side == "":
			at := c.places[0]
			at.End = s.Place.End
			n.places = []load.Place{at}
		default:
			n.places = []load.Place{s.Place}
		}
		if s.Place.Side != "" {
			n.places = []load.Place{s.Place}
		}
		n.count, n.told = c.pieces(), true
		if s.Place.Side != "" && s.Place.End != "" {
			n.count = 1 // a corner
		}
		like = append(like, &n)
	}
	if s.Count > 0 {
		if len(like) > 1 || len(like) == 1 && like[0].count != s.Count {
			like = like[:1]
			like[0].count, like[0].places = s.Count, []load.Place{{End: s.Place.End}}
		}
	}
	return like
}

// sames settles which words for "same" lead a place ("same on the other side"). Where
// the last of them has none behind it they trail ("front left 3/8, front right
// same"), and say nothing.
func (c *company) sames() {
	last, leads := true, false
	for i := len(c.toks) - 1; i >= 0; i-- {
		t := &c.toks[i]
		if t.kind != kSame {
			continue
		}
		if last {
			last, leads = false, c.placeBehind(i)
		}
		if !leads || !c.placeBehind(i) {
			t.kind = kFiller
		}
	}
}

// placeBehind says whether a place is told right behind token i.
func (c *company) placeBehind(i int) bool {
	for i++; i < len(c.toks); i++ {
		switch t := &c.toks[i]; t.kind {
		case kFiller, kDecor, kOn, kDet, kFor, kOf, kThem, kAll:
		case kEnd, kSide, kCorner:
			return true
		case kRoute:
			return t.word == "over" && t.raw != "to" && t.raw != "over"
		default:
			return false
		}
	}
	return false
}
