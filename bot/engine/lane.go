package engine

import (
	"bytes"
	"context"
	"encoding/json"
	"hash/maphash"
	"slices"

	"halfweight/bot/talk"
)

// lane keeps the events of its chats one after the other.
type lane struct {
	busy  chan struct{} // holds one event; the waiting ones follow in the order they came
	known [8]known      // of the chats heard last
	next  int           // of known to give up
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
	for i := range l.known {
		if k := &l.known[i]; k.chat == chat && bytes.Equal(k.bytes, stored) {
			return k.state, nil
		}
	}
	err = json.Unmarshal(stored, &s)
	return s, err
}

// keep remembers what was stored for a chat.
func (l *lane) keep(chat string, stored []byte, s talk.State) {
	at := slices.IndexFunc(l.known[:], func(k known) bool { return k.chat == chat })
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
	var in []int
	for _, chat := range chats {
		in = append(in, e.lane(chat))
	}
	slices.Sort(in) // all in one order, so that none waits for another in a ring
	in = slices.Compact(in)
	for i, n := range in {
		select {
		case e.lanes[n].busy <- struct{}{}:
		case <-ctx.Done():
			e.leave(in[:i])
			return nil, ctx.Err()
		}
	}
	return func() { e.leave(in) }, nil
}

func (e *Engine) leave(lanes []int) {
	for _, n := range lanes {
		<-e.lanes[n].busy
	}
}
