package sms

import (
	"strconv"
	"sync"
	"time"

	"halfweight/bot/wire"
)

// window is how long a message without an id of its own is known by its words: a
// gateway that brings it again does so within it.
const window = 5 * time.Minute

// crowded is how many chats are remembered before they are forgotten.
const crowded = 10_000

// recent makes ids for messages that bring none. The same words as the last ones
// of the same chat, within the window, are the same message brought again; with
// others between, they are a new one: "it is loose", "tight again", "it is loose"
// are three.
type recent struct {
	mu    sync.Mutex
	chats map[string]*heard
}

// heard is what a chat sent last.
type heard struct {
	words, id string
	at        time.Time
	stretch   int64          // of time, a window long
	times     map[string]int // how often words were sent anew in it
}

// idOf is the id of a message by its words and by its time as the gateway tells it
// or, where that is "", by the stretch of time in which it came first: that
// outlives a restart.
func (r *recent) idOf(in wire.In, sent string) string {
	words := hash(in.Split + "\x00" + strconv.Itoa(in.Part) + "\x00" + in.Text)
	if sent != "" {
		return "text/" + hash(sent+"\x00"+words)
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	h := r.chats[in.Chat]
	if h != nil && h.words == words && in.At.Sub(h.at) < window {
		return h.id
	}
	stretch := in.At.Unix() / int64(window/time.Second)
	if h == nil || h.stretch != stretch {
		if r.chats == nil || len(r.chats) >= crowded {
			r.chats = map[string]*heard{}
		}
		h = &heard{stretch: stretch, times: map[string]int{}}
		r.chats[in.Chat] = h
	}
	h.words, h.at = words, in.At
	h.id = "text/" + hash(strconv.FormatInt(stretch, 10)+"\x00"+strconv.Itoa(h.times[words])+"\x00"+words)
	h.times[words]++
	return h.id
}
