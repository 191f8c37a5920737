package talk

import (
	"halfweight/parser"
	"halfweight/rules/load"
)

// sameThere adds tie-downs like those told before at another place: "same on the
// other side" of those told last, "same at the back" of those at the front.
func (t *turn) sameThere(s *parser.Same) {
	hand := t.inHand()
	if hand == nil {
		t.lost = true
		t.cannot("no load")
		return
	}
	more := t.likeThere(hand, s)
	if len(more) == 0 {
		t.cannot(noSuch)
		t.touched, t.r.Doubt = true, true
		return
	}
	t.settled = true
	t.edit(Edit{Article: &load.Article{ID: hand.ID, Ties: t.newTies(more)}})
}

// likeThere is the tie-downs that s tells of; none where it is not clear which.
func (t *turn) likeThere(hand *load.Article, s *parser.Same) (more []load.TieDown) {
	var from []*load.TieDown
	facing, ends := parser.Opposite(s.Place, "end")
	ends = ends && s.Place.Side == "" && s.Other == ""
	last := t.among(t.pool(&parser.Ref{}, &parser.Edit{}), t.spoken)
	for i := range hand.Ties {
		if x := &hand.Ties[i]; ends && x.State.Gone == "" && x.Place.On == "" && x.Place.End == facing.End {
			from = append(from, x)
		}
	}
	if len(from) == 0 {
		from = last
	}
	for _, x := range from {
		at := s.Place
		switch {
		case x.Place.On != "":
			return nil
		case s.Other != "":
			var ok bool
			if at, ok = parser.Opposite(x.Place, s.Other); !ok {
				return nil
			}
		case ends:
			at.Side = x.Place.Side
		}
		n := *x
		n.ID, n.Line, n.Tag, n.Plural, n.State, n.Place = 0, 0, "", false, load.State{}, at
		more = append(more, n)
	}
	switch {
	case s.Place.End != "" && s.Place.Side != "" && len(more) > 1:
		more = more[:1] // a corner
	case s.Count > 0 && s.Count != len(more) && len(more) > 0:
		n := more[0]
		n.Place = s.Place
		for more = more[:0]; len(more) < s.Count; {
			more = append(more, n)
		}
	}
	return more
}
