// Package wire is the vocabulary of transports: what comes in from a chat and
// what goes out. It knows no load and no rule.
package wire

import (
	"encoding/json"
	"time"
)

// In is one incoming event.
type In struct {
	ID   string // the transport's own message id; delivered twice, it changes nothing twice
	Chat string // "tg:<id>", "sms:<hash>", "con:<name>"
	Text string
	At   time.Time
	Data bool // the reply is wanted as data too
}

// Body is a reply ready to send.
type Body struct {
	Text string          `json:"text"`
	Data json.RawMessage `json:"data,omitempty"` // the same reply as the data contract's JSON object, where it was wanted
}
