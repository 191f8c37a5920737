package sms

import (
	"strconv"
	"strings"
	"sync"
	"time"

	"halfweight/bot/wire"
)

// window is how long a message without an id of its own is known by its words: a
// gateway that brings it again does so within it.
const window = 5 * time.Minute

// soon is how long after its answer was taken a message is known though others of
// its number came after it. Nobody sends one thing, reads the answer, takes it back
// and then sends it again in so short a time ("locked", "no lock", "locked").
const soon = 10 * time.Second

// crowded is how many chats, and how many messages of one, are remembered.
const (
	crowded = 10_000
	most    = 200
)

// recent makes ids for messages that bring none, by their words. The same words of
// the same chat are the same message brought again
//
//   - while its answer was not taken: it was not stored, or the gateway had gone;
//   - else, within the window, while nothing came after it;
//   - else for a short time, whatever came after it.
//
// Otherwise they are a new message: "it is loose", "tight again", "it is loose" are
// three. A word that asks to read on is a new one as soon as its answer was taken.
type recent struct {
	mu    sync.Mutex
	chats map[string]*heard
}

// heard is what a chat sent within the window, the newest last.
type heard struct {
	list    []*message
	stretch int64          // of time, a window long
	times   map[string]int // how often words were sent anew in it
}

type message struct {
	words, id string
	anew      bool      // asks to read on
	at        time.Time // it came last
	taken     time.Time // its answer was; zero: not yet
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
	h := r.of(in.Chat, in.At)
	for i, m := range h.list {
		if m.words == words && m.again(in.At, i == len(h.list)-1) {
			m.at = in.At
			return m.id
		}
	}
	if stretch := in.At.Unix() / int64(window/time.Second); h.times == nil || h.stretch != stretch {
		h.stretch, h.times = stretch, map[string]int{}
	}
	m := &message{words: words, at: in.At, anew: readsOn(in.Text)}
	m.id = "text/" + hash(strconv.FormatInt(h.stretch, 10)+"\x00"+strconv.Itoa(h.times[words])+"\x00"+words)
	h.times[words]++
	h.list = append(h.list, m)
	return m.id
}

// again says whether the same words, now, are this message brought again; last is
// whether nothing came after it.
func (m *message) again(now time.Time, last bool) bool {
	switch {
	case m.taken.IsZero():
		return true
	case m.anew:
		return false
	}
	return last || now.Sub(m.taken) < soon
}

// of is what a chat sent within the window; what is older is forgotten.
func (r *recent) of(chat string, now time.Time) *heard {
	h := r.chats[chat]
	if h == nil {
		if len(r.chats) >= crowded {
			r.forget(now)
		}
		if r.chats == nil {
			r.chats = map[string]*heard{}
		}
		h = new(heard)
		r.chats[chat] = h
	}
	old := max(0, len(h.list)-most)
	for old < len(h.list) && now.Sub(h.list[old].at) >= window {
		old++
	}
	h.list = h.list[old:]
	return h
}

// forget forgets the chats that were quiet for the window, or else all.
func (r *recent) forget(now time.Time) {
	for chat, h := range r.chats {
		if n := len(h.list); n == 0 || now.Sub(h.list[n-1].at) >= window {
			delete(r.chats, chat)
		}
	}
	if len(r.chats) >= crowded {
		clear(r.chats)
	}
}

// taken notes that the answer to a message was.
func (r *recent) taken(chat, id string, now time.Time) {
	r.mu.Lock()
	defer r.mu.Unlock()
	h := r.chats[chat]
	if h == nil {
		return
	}
	for _, m := range h.list {
		if m.id == id && m.taken.IsZero() {
			m.taken = now
		}
	}
}

// readsOn says whether a message asks for the rest of the reply before it.
func readsOn(text string) bool {
	return strings.EqualFold(strings.Trim(text, " \t\r\n.!\"'"), "more")
}
