package talk

import (
	"strings"
	"time"

	"halfweight/parser"
	"halfweight/rules"
	"halfweight/rules/load"
)

// MostPast is how many past loads of a chat are kept, by their numbers.
const MostPast = 200

// Past is one load that was put away, as it stood then. It is kept in the log and
// not in the state.
type Past struct {
	V       int       `json:"v"`
	At      time.Time `json:"at"`
	How     string    `json:"how"`     // "delivered", "new load", "replaced" by a load told after it
	Verdict string    `json:"verdict"` // as it was called last
	Load    load.Load `json:"load"`
}

// PastRecord is a past load to be written to the log under its number, or with
// none to be taken out of it.
type PastRecord struct {
	N    uint64
	Past *Past
}

// History answers what was told of the load in hand and which loads were before
// it, both newest first.
type History struct {
	Now     time.Time
	Load    *load.Load // in hand; nil for none
	Verdict string     // of that
	Told    []Told     // of that
	Earlier bool       // more was told of it than can be undone
	Past    []Past
}

// Told is one message that told of the load in hand.
type Told struct {
	Words string
	At    time.Time
}

// putAway writes the load that this message put away, as it stood before it.
func (t *turn) putAway(turn *Turn) {
	was := t.s.load()
	if len(was.Articles) == 0 || len(t.edits) == 0 || !t.edits[0].Clear {
		return
	}
	past := Past{V: version, At: t.now, How: "replaced", Load: was}
	past.Verdict = string(rules.Evaluate(was, t.set).Verdict)
	if t.openBefore && past.Verdict != string(rules.VerdictShort) {
		past.Verdict = string(rules.VerdictUnsettled)
	}
	for _, act := range t.msg.Acts {
		switch act := act.(type) {
		case parser.House:
			if act.Word == "new load" {
				past.How = "new load"
			}
		case parser.Road:
			if act.Word == "delivered" {
				past.How = "delivered"
			}
		}
	}
	t.s.Logged++
	turn.Past = t.s.Logged
	t.r.Log = append(t.r.Log, PastRecord{t.s.Logged, &past})
	if t.s.Logged > MostPast {
		t.r.Log = append(t.r.Log, PastRecord{N: t.s.Logged - MostPast})
	}
}

// bringBack takes a past load out of the log again: the turn that put it away was
// undone.
func (r *Reply) bringBack(turn Turn) {
	if turn.Past > 0 {
		r.Log = append(r.Log, PastRecord{N: turn.Past})
	}
}

// history answers what was told. The past loads are asked for first.
func (t *turn) history() {
	t.answered = true
	t.r.Recall = true
	h := History{Now: t.now, Earlier: len(t.s.Base.Articles) > 0}
	for i := len(t.s.Turns) - 1; i >= 0; i-- {
		turn := &t.s.Turns[i]
		if cleared := turn.clears(); !cleared || len(turn.Edits) > 1 {
			h.Told = append(h.Told, Told{turn.Words, turn.At})
		}
		if turn.clears() {
			h.Earlier = false // what came before is of another load
			break
		}
	}
	if len(t.load.Articles) > 0 {
		h.Load = &t.load
		h.Verdict = t.capped(rules.Evaluate(t.load, t.set).Verdict)
	} else {
		h.Told, h.Earlier = nil, false
	}
	for i := len(t.past) - 1; i >= 0; i-- {
		h.Past = append(h.Past, t.past[i])
	}
	t.say(h)
}

// words are a message as it is quoted later: on one line and not all of a long
// one.
func words(text string) string {
	return firstOf(strings.Join(strings.Fields(text), " "), quoted)
}

func (History) say() {}
