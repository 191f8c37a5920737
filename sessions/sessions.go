package sessions

import "time"

// Snapshot is what is known of a chat when an event of it arrives.
type Snapshot struct {
	State  []byte   // as last committed; nil for a chat not heard of
	Seen   bool     // the event was committed before
	Bodies [][]byte // what it was answered with then; none where that cannot be read any more
	// MovedTo is the name the chat goes by now; "" where it is this one. All else
	// here is known of it under that name.
	MovedTo string
}

// Change is all that one event changes, committed whole or not at all.
type Change struct {
	Chat   string
	Event  string    // marked as seen
	At     time.Time // when it was handled, by the clock of Sweep
	State  []byte    // the chat's state from now on; nil leaves it as it is
	Bodies [][]byte  // the answer
	Send   bool      // the bodies go to the outbox
	// For is the event whose answer is replaced in the chat by what is sent; ""
	// is Event, whose answer stands by itself.
	For string
	// Rest is sent in the place of each message of the answer to For that Bodies
	// leave over; nil leaves those as they are.
	Rest  []byte
	Aside []byte  // a state that cannot be used, kept for who looks after the store
	Log   []Entry // records of the chat that are written or, without bytes, taken out
	// Forget puts all of the chat out of the store, State, Aside and Log with it, and
	// the names it had before. What is left is that its events were seen, under marks
	// that name neither the chat nor them, so that one delivered again brings nothing
	// back; and the answer to this one, which should tell nothing of the chat: in the
	// outbox until it is sent, or in the mark where nothing is to send.
	Forget bool
}

// Entry is one record of a chat's log. Who keeps the chat gives the numbers.
type Entry struct {
	N     uint64
	Bytes []byte
}

// Move gives all that is known of one chat to another name. The log of From goes
// along where To has no state, and is else put out.
type Move struct {
	From, To string
	State    []byte  // the chat's from now on; nil is the one To has, or else the one From has
	Aside    []byte  // a state that goes out of use by it, as in Change
	Log      []Entry // records of the chat that are written by it, as in Change
}

// Aside is a state that was put aside.
type Aside struct {
	Chat  string
	Why   string // the event, or the name of the chat before, that it was put aside at
	State []byte
}

// answers is the event whose answer the bodies are.
func (c *Change) answers() string {
	if c.For != "" {
		return c.For
	}
	return c.Event
}

// Row is one body waiting in the outbox.
type Row struct {
	Chat      string
	Seq       uint64 // of the change that put it there; a later one's is higher
	N         int    // of the bodies of its answer, from 0
	Event     string // whose answer it is
	Tries     int    // how often it was put off
	NotBefore time.Time
	Body      []byte
	Replaces  string // the id body N of the event's answer was last sent under; "" when it was not
}
