package parser

import "halfweight/rules/load"

// tagOf reads "front left tag says 1500", "the tag on the rear ones says 3300":
// the mark of tie-downs told before, in this message or ahead of it, with the
// rating word at i.
func (r *reader) tagOf(i, from, to int) bool {
	if r.t(i).word == "breaking" {
		return false
	}
	at := r.past(i+1, kBe, kRated, kDet)
	s, start := r.copulaSubject(i, from)
	if r.kindAt(i+1) == kOn && !s.told {
		// "tag on the front left says 1500"
		start = i
		for at = i + 1; at < to && !r.kindAt(at).in(kRated, kBe, kBig, kMass) && s.take(r, at); at++ {
		}
		at = r.past(at, kBe, kRated, kDet)
	}
	if at >= to || !r.kindAt(at).in(kBig, kMass) || !s.told || s.counted || len(s.size) > 0 || s.ref.Like.Grade != (load.Grade{}) {
		return false
	}
	if s.ref.Like.Place == (load.Place{}) && !s.number && s.ref.Which != Rest && s.ref.Which != Last {
		return false // "straps marked 5400": of the clause it stands in
	}
	if !r.tiesBefore(start) && r.has(from, to, kKind, kCount, kTimes) {
		return false
	}
	if s.ref.Which == It && s.plural {
		s.ref.Which = All
	}
	m := r.t(at).weight.Told
	r.take(start, at+1)
	r.changes = append(r.changes, Change{Ref: s.ref, Edit: Edit{Set: load.TieDown{Mark: m}}})
	return true
}
