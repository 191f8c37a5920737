package talk

import (
	"time"

	"halfweight/parser"
	"halfweight/rules"
	"halfweight/rules/load"
)

// kept is how many turns can be undone.
const kept = 20

// version is the form of State. Fields are only added; one that is removed
// raises it.
const version = 1

// State is all that a chat has told. It is JSON between events; the zero value
// is a chat that has told nothing. Step never changes one it was given.
type State struct {
	V      int       `json:"v"`
	Base   load.Load `json:"base,omitzero"`   // the load before the turns that are kept
	Turns  []Turn    `json:"turns,omitempty"` // the last ones, oldest first; the load is their fold over Base
	NextID int       `json:"next_id,omitzero"`

	Units    string    `json:"units,omitempty"` // "kg", or "" for pounds
	Gear     []GearRow `json:"gear,omitempty"`
	Ring     load.Mass `json:"ring,omitzero"` // least rating of the trailer's rings: limits every later tie-down
	Machines []Machine `json:"machines,omitempty"`
	Pieces   []Piece   `json:"pieces,omitempty"` // of the gear: the marked ones, and those that are out
	Trip     Trip      `json:"trip,omitzero"`
	Logged   uint64    `json:"logged,omitzero"` // number of the last load written to the log

	Confirm *Confirm `json:"confirm,omitempty"` // waits for a word

	Rules string        `json:"rules,omitempty"` // name of the set in force; "" for the federal one
	House []rules.House `json:"house,omitempty"` // the crew's own, that tighten it

	Asked  *Question `json:"asked,omitempty"` // the one open question
	Which  *Which    `json:"which,omitempty"` // what an answer to "which one" is about
	Tries  []Try     `json:"tries,omitempty"` // how often each question was asked of this load
	Last   string    `json:"last,omitzero"`   // the event of the last message read
	Quiet  bool      `json:"quiet,omitzero"`  // told to stop: nothing is said until told to start
	Rest   string    `json:"rest,omitempty"`  // what the last reply had no room for, as it was worded
	Parts  []Parts   `json:"parts,omitempty"` // messages of which a part is still to come
	Open   bool      `json:"open,omitzero"`   // a message of the load had words unread that could change the answer
	OpenOf bool      `json:"openOf,omitzero"` // and it changed the load, or spoke of a part, a lock or a fitting: more tie-downs do not settle it

	Held   *parser.Hold `json:"held,omitempty"`  // the question of hold answered last, while nothing else was asked or told
	Ranked bool         `json:"ranked,omitzero"` // it was explained how mechanics ranks direct and over against the count
}

// Later says whether a later program wrote a state: what its fields mean is not
// known.
func (s *State) Later() bool { return s.V > version }

// Blank says whether a state holds nothing that was told: no load now or before,
// no gear, no trip, no rules.
func (s *State) Blank() bool {
	return len(s.Turns) == 0 && len(s.Base.Articles) == 0 && len(s.Gear) == 0 && len(s.Machines) == 0 &&
		s.Ring == 0 && s.Trip == (Trip{}) && len(s.Pieces) == 0 && s.Logged == 0 && s.Rules == "" && len(s.House) == 0
}

// Turn is what one event changed, resolved: its words are for history alone, so
// that a reader that learns more never changes a load told before.
type Turn struct {
	Event string `json:"event"`
	Edits []Edit `json:"edits"`         // none where it only raised a doubt
	Open  bool   `json:"open,omitzero"` // State.Open after it

	text   []byte     // the turn as JSON, once it was written
	At     time.Time  `json:"at,omitzero"`      // for history, as is
	Words  string     `json:"words,omitzero"`   // the message as sent: never read again
	Past   uint64     `json:"past,omitzero"`    // number in the log of the load it put away
	Pieces []PieceWas `json:"pieces,omitempty"` // those of the gear that it changed, as they were
}

// clears says whether the turn put the load before it away.
func (t *Turn) clears() bool { return len(t.Edits) > 0 && t.Edits[0].Clear }

// Machine is a machine this chat has named.
type Machine struct {
	Name    string       `json:"name"`
	Article load.Article `json:"article"`
}

// Trip is the trip under way; the zero value is none.
type Trip struct {
	Rolling bool      `json:"rolling,omitzero"`
	Stopped bool      `json:"stopped,omitzero"` // since the last check
	Looked  bool      `json:"looked,omitzero"`  // once at least since the start
	Miles   float64   `json:"miles,omitzero"`   // told last, from the start
	From    float64   `json:"from,omitzero"`    // at the last check, or the start
	Since   time.Time `json:"since,omitzero"`   // time of the last check, or the start
}

// Which keeps a change whose tie-down is in doubt until it is told which one, or
// the one taken meanwhile is mended. No load is covered on it.
type Which struct {
	ID    int          `json:"id,omitzero"`  // the one taken meanwhile, 0 none
	Tag   string       `json:"tag,omitzero"` // the marked piece that one of them may be, and need not
	Was   load.TieDown `json:"was,omitzero"`
	Edits []Edit       `json:"edits"`         // of one tie-down: its ID is put in
	Next  *Which       `json:"next,omitzero"` // asked after it
	Of    []int        `json:"of"`            // those that may have been meant
}

// Try is how often one question was asked.
type Try struct {
	Key     string `json:"key"`
	Article int    `json:"article,omitzero"`
	Part    string `json:"part,omitzero"`
	N       int    `json:"n"`
}

// load is the fold of the turns over the base: a copy of its own.
func (s *State) load() load.Load {
	from := 0
	for i := len(s.Turns) - 1; i > 0; i-- {
		if s.Turns[i].clears() {
			from = i // what came before is put away
			break
		}
	}
	var l load.Load
	if from == 0 {
		l = clone(s.Base)
	}
	for _, t := range s.Turns[from:] {
		for i := range t.Edits {
			t.Edits[i].apply(&l)
		}
	}
	return l
}

// keep adds a turn and folds the oldest into the base when they are too many.
func (s *State) keep(t Turn) {
	if len(s.Turns) >= kept {
		old := s.Turns[:len(s.Turns)+1-kept]
		base := State{Base: s.Base, Turns: old}
		s.Base, s.Turns = base.load(), s.Turns[len(old):]
	}
	turns := make([]Turn, 0, len(s.Turns)+1)
	s.Turns = append(append(turns, s.Turns...), t)
}

// clone is a copy of l that shares nothing an edit changes.
func clone(l load.Load) load.Load {
	c := load.Load{Articles: append([]load.Article(nil), l.Articles...)}
	for i := range c.Articles {
		a := &c.Articles[i]
		a.Parts = append([]load.Part(nil), a.Parts...)
		a.Ties = append([]load.TieDown(nil), a.Ties...)
	}
	return c
}
