// Package wire is the vocabulary of transports: what comes in from a chat, what
// goes out, and what a transport must do. It knows no load and no rule.
package wire

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"time"
)

// In is one incoming event.
type In struct {
	ID   string // the transport's own message id; delivered twice, it changes nothing twice
	Chat string // "tg:<id>", "sms:<hash>", "con:<name>"
	Text string
	At   time.Time
	Data bool // the reply is wanted as data too

	// Edits is the ID of the event whose message was edited into this text; ""
	// for a message of its own. The reply replaces the one sent then.
	Edits string
	// Pressed is the ID of the event whose reply carried the button pressed, and
	// Text what stood on it; "" where nothing was pressed.
	Pressed string
	// Press is the transport's own id of a press that waits to be answered: the
	// reply carries it.
	Press string
	// Other is what came beside the text or in place of it, and is not read:
	// "picture", "sticker", "recording", "video", "file", "map", "contact", "list";
	// "" for text alone.
	Other string
	// Keyword is "stop", "start" or "help" where the whole message was one of the
	// carriers' common words for that; "" else.
	Keyword string
	// Part of Parts, from 1, with the mark Split that all of them bear, where the
	// text is one part of a message that was split on the way; Parts is 0 else.
	Part, Parts int
	Split       string
	// ReplyTo is the address that a reply sent by Send goes to, where the chat's
	// name does not tell it; "" where none is kept.
	ReplyTo string
	// MovedFrom is the name the chat had until now; all that is known under it goes
	// to Chat. There is no text then, and no reply.
	MovedFrom string
}

// Body is a reply ready to send.
type Body struct {
	Text    string          `json:"text"`
	Data    json.RawMessage `json:"data,omitempty"`    // the same reply as the data contract's JSON object, where it was wanted
	Buttons []string        `json:"buttons,omitempty"` // answers to the one question asked: a press sends the words

	// To is In.ReplyTo of the event answered.
	To string `json:"to,omitempty"`
	// Press is In.Press of the event answered: Send ends the waiting.
	Press string `json:"press,omitempty"`
	// Chat is the name under which the chat was heard; it may have another now,
	// where the numbers of its messages are others'.
	Chat string `json:"chat,omitempty"`
	// InPlace is a body that is of use only in the place of another.
	InPlace bool `json:"in_place,omitempty"`

	// Replaces is the transport's own id of the message sent before that this one
	// takes the place of, put in just before sending; "" for a new message.
	Replaces string `json:"-"`
	// Event is the ID of the event answered, put in just before sending: a press
	// on a button of this body names it.
	Event string `json:"-"`
}

// Transport carries messages of many chats to and fro.
type Transport interface {
	// Name is what the names of its chats begin with, before the colon: "tg".
	Name() string
	Caps() Caps
	// Run hands on what comes in until the context ends. deliver returns when the
	// event is stored for good: only then may it be acknowledged. With an error
	// nothing was stored, and it must be delivered again. Events of one chat are
	// delivered one after the other. The bodies are sent by Send and are of use
	// only where the answer to the delivery itself carries the reply.
	Run(ctx context.Context, deliver func(context.Context, In) ([]Body, error)) error
	// Send sends one body to a chat (its whole name, "tg:17") and gives the
	// transport's own id of the message. It tries once and waits for no limit. An
	// error that is, or wraps, none of ErrRetry, ErrMoved, ErrGone, ErrRefused is
	// taken for a failure of the network, and the body is sent again later. It is
	// called for many chats at once, for one chat one after the other.
	Send(ctx context.Context, chat string, b Body) (id string, err error)
}

// Caps is what a transport can carry.
type Caps struct {
	Length  int  // most UTF-16 code units of one body's text; longer replies come as several bodies. 0: no limit
	Buttons bool // bodies may have buttons
	// Fits says whether a text is one reply's worth; a longer reply is said in
	// short, and what it leaves out comes when asked for. nil: any text fits.
	Fits func(text string) bool
	// Inline says that the answer to the delivery carries the reply: nothing goes
	// to the outbox.
	Inline bool
	All    Limit // how fast bodies may be sent, all chats together
	Chat   Limit // and to one chat
}

// Limit is at most Burst at once and then one every Every; the zero value is no
// limit.
type Limit struct {
	Every time.Duration
	Burst int
}

// ErrRetry is a send that was refused for now.
type ErrRetry struct {
	After time.Duration // not before that much later
}

func (e ErrRetry) Error() string { return fmt.Sprintf("not now: again in %v", e.After) }

// ErrGone is a send to a chat that takes no more messages: blocked, left, deleted.
var ErrGone = errors.New("the chat takes no messages any more")

// ErrRefused is a send that would be refused however often it is tried: this one
// body is given up.
var ErrRefused = errors.New("the message is not taken")

// ErrMoved is a send to a chat that has another name now.
type ErrMoved struct {
	To string // its whole name, "tg:-100200300"
}

func (e ErrMoved) Error() string { return fmt.Sprintf("the chat is %q now", e.To) }
