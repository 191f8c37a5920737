// Package sessions keeps what each chat has told, and makes every event count
// once. It knows bytes and no load.
package sessions

import (
	"context"
	"sync"
	"time"
)

// Snapshot is what is known of a chat when an event of it arrives.
type Snapshot struct {
	State  []byte   // as last committed; nil for a chat not heard of
	Seen   bool     // the event was committed before
	Bodies [][]byte // what it was answered with then
}

// Change is all that one event changes, committed whole or not at all.
type Change struct {
	Chat   string
	Event  string    // marked as seen
	At     time.Time // when the event came
	State  []byte    // the chat's state from now on; nil leaves it as it is
	Bodies [][]byte  // the answer
}

// Memory is a store that lasts as long as the program. It forgets no event, so it
// grows by every answer. The zero value is ready.
type Memory struct {
	mu    sync.Mutex
	chats map[string]*chat
}

type chat struct {
	state []byte
	seen  map[string][][]byte // event id to the answer given
}

// Look gives what is known of a chat and of one event of it. The bytes must not
// be written to.
func (m *Memory) Look(_ context.Context, name, event string) (Snapshot, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	c := m.chats[name]
	if c == nil {
		return Snapshot{}, nil
	}
	bodies, seen := c.seen[event]
	return Snapshot{State: c.state, Seen: seen, Bodies: bodies}, nil
}

// Commit stores a change. An event already seen keeps its first answer, and the
// whole change is dropped.
func (m *Memory) Commit(_ context.Context, ch Change) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	c := m.chats[ch.Chat]
	if c == nil {
		if m.chats == nil {
			m.chats = map[string]*chat{}
		}
		c = &chat{seen: map[string][][]byte{}}
		m.chats[ch.Chat] = c
	}
	if _, seen := c.seen[ch.Event]; seen {
		return nil
	}
	c.seen[ch.Event] = ch.Bodies
	if ch.State != nil {
		c.state = ch.State
	}
	return nil
}
