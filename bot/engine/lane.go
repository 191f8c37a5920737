package engine

import (
	"bytes"
	"context"
	"encoding/json"
	"hash/maphash"
	"slices"
	"sync"

	"halfweight/bot/talk"
)

// gates keep the events of one chat one after the other.
type gates struct {
	mu sync.Mutex
	of map[string]*gate // chats with events
}

type gate struct {
	busy  chan struct{} // holds one event; the waiting ones follow in the order they came
	users int           // events that hold it or wait for it
}

// lane keeps the states of its chats in hand.
type lane struct {
	mu    sync.Mutex
	known [2]known // of the chats heard last
	next  int      // of known to give up
}

// known is a state as it is stored and as it is read, to read it once only.
type known struct {
	chat  string
	bytes []byte
	state talk.State
}

// state reads the state of a chat; no bytes are the zero state.
func (l *lane) state(chat string, stored []byte) (s talk.State, err error) {
	if stored == nil {
		return s, nil
	}
	if at := l.find(chat); at.chat == chat && bytes.Equal(at.bytes, stored) {
		return at.state, nil
	}
	err = json.Unmarshal(stored, &s)
	return s, err
}

func (l *lane) find(chat string) (k known) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if at := l.place(chat); at >= 0 {
		k = l.known[at]
	}
	return k
}

// place is where a chat's state is in known, -1 for nowhere.
func (l *lane) place(chat string) int {
	return slices.IndexFunc(l.known[:], func(k known) bool { return k.chat == chat })
}

// keep remembers what was stored for a chat.
func (l *lane) keep(chat string, stored []byte, s talk.State) {
	l.mu.Lock()
	defer l.mu.Unlock()
	at := l.place(chat)
	if at < 0 {
		at = l.next
		l.next = (l.next + 1) % len(l.known)
	}
	l.known[at] = known{chat, stored, s}
}

// forget leaves nothing of a chat.
func (l *lane) forget(chat string) {
	for i := range l.known {
		if l.known[i].chat == chat {
			l.known[i] = known{}
		}
	}
}

// lane is the number of a chat's lane.
func (e *Engine) lane(chat string) int {
	return int(maphash.String(e.seed, chat) % uint64(len(e.lanes)))
}

// enter waits until no event of the chats is being handled and holds others off
// until leave is called.
func (e *Engine) enter(ctx context.Context, chats ...string) (leave func(), err error) {
	in := slices.Compact(slices.Sorted(slices.Values(chats))) // all in one order, so that none waits for another in a ring
	for i, chat := range in {
		g := e.gates.use(chat)
		select {
		case g.busy <- struct{}{}:
		case <-ctx.Done():
			e.gates.done(chat, g)
			e.leave(in[:i])
			return nil, ctx.Err()
		}
	}
	return func() { e.leave(in) }, nil
}

func (e *Engine) leave(chats []string) {
	for _, chat := range chats {
		g := e.gates.get(chat)
		<-g.busy
		e.gates.done(chat, g)
	}
}

func (w *gates) get(chat string) *gate {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.of[chat]
}

func (w *gates) use(chat string) *gate {
	w.mu.Lock()
	defer w.mu.Unlock()
	g := w.of[chat]
	if g == nil {
		g = &gate{busy: make(chan struct{}, 1)}
		if w.of == nil {
			w.of = map[string]*gate{}
		}
		w.of[chat] = g
	}
	g.users++
	return g
}

func (w *gates) done(chat string, g *gate) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if g.users--; g.users == 0 {
		delete(w.of, chat)
	}
}
