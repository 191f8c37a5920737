package parser

import (
	"halfweight/rules/load"
)

// opens says whether token i is the first after a separator, small words aside.
func (r *reader) opens(i int) bool {
	return r.kindAt(r.back(i-1, kDet, kOn, kBe)).in(kSep, kLine, kStop, kAnd)
}

// placed takes a place: an end, a side, a corner, a spread. Told where the open
// clause has one already, it starts the next clause or adds to a list.
func (r *reader) placed(i int, p load.Place) {
	r.own(i, OwnFact)
	p = r.sideOf(i, p)
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

// sideOf gives a side told behind "and" the end of the corner it is joined to: "front
// left and right".
func (r *reader) sideOf(i int, p load.Place) load.Place {
	k := r.back(i-1, kDet)
	if p.End != "" || p.Side == "" || r.kindAt(k) != kAnd || k-1 != r.lastPlaceAt {
		return p
	}
	places := r.lead
	if r.cl != nil {
		places = r.cl.places
	}
	if n := len(places); n > 0 && places[n-1].End != "" && places[n-1].Side != "" && places[n-1].Side != p.Side {
		p.End = places[n-1].End
	}
	return p
}

// coreFollows says whether a count, size, grade or material comes next; past a
// separator too, where past says so.
func (r *reader) coreFollows(i int, past bool) bool {
	for k := i; k < len(r.sig) && k < i+4; k++ {
		switch r.t(k).kind {
		case kSize, kGrade, kMat, kCount, kNum, kTimes:
			return true
		case kDet, kBe, kSide, kEnd, kWith:
			if r.t(k).raw == "plus" {
				return false // "four corners plus two in the middle"
			}
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
func (r *reader) adjacent(a, b int) bool { return r.past(a+1, kDet, kOn, kOf) >= b }

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
