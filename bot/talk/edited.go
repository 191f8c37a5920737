package talk

import (
	"slices"

	"halfweight/parser"
)

// takeBack undoes what a message did that is edited now, so that it can be read
// again; why is "" then. That is honest only while nothing was counted on it: it
// was the last turn of the load, or the last message. What a message told of gear,
// the road or the house is no turn, so an edit into such words is not taken.
func (s *State) takeBack(e *Event, msg *parser.Message) (undone Turn, why string) {
	told := slices.ContainsFunc(s.Turns, func(t Turn) bool { return t.Event == e.Edits })
	for _, act := range msg.Acts {
		switch act := act.(type) {
		case parser.Gear, parser.House, parser.Road:
			return undone, "edited command"
		case parser.Change:
			if act.Ref.Like.Tag != "" && !told {
				return undone, "edited command" // of the list alone
			}
		}
	}
	switch at := slices.IndexFunc(s.Turns, func(t Turn) bool { return t.Event == e.Edits }); {
	case at >= 0 && at == len(s.Turns)-1:
		undone = s.dropTurn()
		s.reopen()
		return undone, ""
	case at < 0 && (e.First || s.Last == e.Edits):
		return undone, ""
	}
	return undone, "edited late"
}

// dropTurn drops the last turn, and what it noted of pieces of the gear.
func (s *State) dropTurn() Turn {
	n := len(s.Turns) - 1
	last := s.Turns[n]
	s.Turns = s.Turns[:n]
	for _, p := range last.Pieces {
		s.putPiece(p.ID, p.Was)
	}
	return last
}

// reopen is the question of whether the load is open, as it was after the turn
// that is the last now.
func (s *State) reopen() {
	s.Open = false
	if n := len(s.Turns); n > 0 {
		s.Open = s.Turns[n-1].Open
	}
	s.Asked, s.Which = nil, nil
}
