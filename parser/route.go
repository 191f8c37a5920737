package parser

import (
	"halfweight/rules/load"
)

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
	edge := func(k kind) bool { return k.in(kSep, kLine, kStop, kNone) }
	return edge(r.kindAt(i-1)) && edge(r.kindAt(i+1))
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
