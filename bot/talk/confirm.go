package talk

import (
	"halfweight/parser"
)

// Confirm is what waits for one word before it is done. Any other message lets it
// go.
type Confirm struct {
	Do     string  `json:"do"`              // "forget", "restore"
	Event  string  `json:"event"`           // whose reply asked for the word
	Record *Record `json:"record,omitzero"` // with "restore": what is to be read back
}

// confirm asks for the word. It is no question of the load's, so that one stays
// open.
func (t *turn) confirm(c Confirm) {
	t.answered = true
	t.s.Confirm = &c
	t.r.Ask = &Question{Key: c.Do, Options: []string{"yes", "no"}, Event: c.Event}
}

// confirmed takes the word that was asked for; false where the message is none.
func (t *turn) confirmed(c *Confirm) bool {
	if len(t.msg.Acts) != 1 || len(t.msg.Unread) > 0 {
		return false
	}
	word := ""
	switch act := t.msg.Acts[0].(type) {
	case parser.Answer:
		word = act.Word
	case parser.House:
		if act.Word == "forget me" && c.Do == "forget" {
			word = "yes" // asked twice is a yes
		}
	}
	switch {
	case word == "no":
		t.did = true
		t.say(Done{What: c.Do + " not"})
	case word != "yes":
		return false
	case c.Do == "forget":
		t.forget()
	case c.Do == "restore" && c.Record != nil:
		t.restore(c.Record)
	}
	return true
}

// forget leaves nothing of the chat. Whoever keeps it puts the rest away.
func (t *turn) forget() {
	t.did = true
	t.s = State{V: version}
	t.inForce()
	t.load, t.edits = t.s.load(), nil
	t.r.Units = t.s.units()
	t.say(Done{What: "forgotten"})
}
