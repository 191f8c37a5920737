package talk

import (
	"time"

	"halfweight/parser"
)

// onRoad keeps the trip: when it began and when the load was looked at last
// (49 CFR 392.9(b)).
func (t *turn) onRoad(r *parser.Road) {
	trip := &t.s.Trip
	switch r.Word {
	case "rolling":
		if !trip.Rolling {
			*trip = Trip{Rolling: true, Since: t.now}
		}
		trip.Stopped = false
	case "stopped":
		trip.Stopped = trip.Rolling
	case "checked":
		if trip.Rolling {
			// Looked at before any mile was told, it may be right at the start:
			// the look inside the first miles is still to come.
			trip.Looked, trip.Stopped = trip.Looked || trip.Miles > 0, false
			trip.From, trip.Since = trip.Miles, t.now
		}
	case "at":
		if !trip.Rolling {
			*trip = Trip{Rolling: true, Since: t.now}
		}
		trip.Miles = max(trip.Miles, r.Miles)
	case "delivered":
		*trip = Trip{}
	}
	t.say(Done{What: r.Word, When: t.when()})
}

// when is when the load is to be looked at again: within the first miles after
// the start, then after so many miles or hours, or a change of duty.
func (t *turn) when() When {
	trip := &t.s.Trip
	if !trip.Rolling {
		return When{}
	}
	lim := t.set.Limits()
	w := When{Rolling: true, Miles: trip.Miles, By: trip.Since.Add(time.Duration(lim.NextCheckHours) * time.Hour)}
	if w.Next = trip.From + lim.Miles(lim.NextCheck); !trip.Looked {
		w.Next = lim.Miles(lim.FirstCheck)
	}
	w.Due = trip.Stopped || w.Miles >= w.Next || !t.now.Before(w.By)
	return w
}
