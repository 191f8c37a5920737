package sessions

import (
	"context"
	"slices"
	"sync"
	"time"
)

// Memory is a store that lasts as long as the program. The zero value is ready.
type Memory struct {
	mu    sync.Mutex
	chats map[string]*chat
}

type chat struct {
	seq   uint64
	state []byte
	seen  map[string]answer
	rows  []Row
	sent  map[sentTo]string
}

type answer struct {
	at     time.Time
	bodies [][]byte
}

// sentTo is one body of the answer to an event.
type sentTo struct {
	event string
	n     int
}

func newChat() *chat { return &chat{seen: map[string]answer{}, sent: map[sentTo]string{}} }

// Look gives what is known of a chat and of one event of it. The bytes must not
// be written to.
func (m *Memory) Look(_ context.Context, name, event string) (Snapshot, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	c := m.chats[name]
	if c == nil {
		return Snapshot{}, nil
	}
	a, seen := c.seen[event]
	return Snapshot{State: c.state, Seen: seen, Bodies: a.bodies}, nil
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
		c = newChat()
		m.chats[ch.Chat] = c
	}
	if _, seen := c.seen[ch.Event]; seen {
		return nil
	}
	if ch.Forget {
		for event, a := range c.seen {
			c.seen[event] = answer{at: a.at}
		}
		clear(c.sent)
	}
	c.seq++
	c.seen[ch.Event] = answer{ch.At, ch.Bodies}
	if len(ch.State) > 0 {
		c.state = ch.State
	}
	if ch.Send {
		for n, body := range ch.Bodies {
			c.rows = append(c.rows, Row{Chat: ch.Chat, Seq: c.seq, N: n, Event: ch.answers(), Body: body})
		}
	}
	return nil
}

// Expect does nothing: no change waits for another.
func (*Memory) Expect(int) {}

// Waiting names the chats that have rows in the outbox.
func (m *Memory) Waiting(context.Context) (chats []string, err error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	for name, c := range m.chats {
		if len(c.rows) > 0 {
			chats = append(chats, name)
		}
	}
	return chats, nil
}

// Next gives the oldest row of a chat; ok is false when it has none.
func (m *Memory) Next(_ context.Context, name string) (row Row, ok bool, err error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	c := m.chats[name]
	if c == nil || len(c.rows) == 0 {
		return Row{}, false, nil
	}
	row = c.rows[0]
	row.Replaces = c.sent[sentTo{row.Event, row.N}]
	return row, true, nil
}

// row finds a row that is still there.
func (m *Memory) row(r Row) (c *chat, at int) {
	if c = m.chats[r.Chat]; c == nil {
		return nil, -1
	}
	return c, slices.IndexFunc(c.rows, func(o Row) bool { return o.Seq == r.Seq && o.N == r.N })
}

// Sent removes a row that was sent and keeps the id it was sent under, "" for
// none.
func (m *Memory) Sent(_ context.Context, r Row, id string) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	c, at := m.row(r)
	if at < 0 {
		return nil // moved or dropped meanwhile
	}
	c.rows = slices.Delete(c.rows, at, at+1)
	if id != "" {
		c.sent[sentTo{r.Event, r.N}] = id
	}
	return nil
}

// Later puts a row off, and counts the try.
func (m *Memory) Later(_ context.Context, r Row, notBefore time.Time) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	if c, at := m.row(r); at >= 0 {
		c.rows[at].Tries = r.Tries + 1
		c.rows[at].NotBefore = notBefore
	}
	return nil
}

// Drop removes all rows of a chat.
func (m *Memory) Drop(_ context.Context, name string) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	if c := m.chats[name]; c != nil {
		c.rows = nil
	}
	return nil
}

// Move gives all that is known of one chat to another name. A name that already
// has a state keeps it; what was answered under the old name counts as older.
func (m *Memory) Move(_ context.Context, from, to string) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	was, is := m.chats[from], m.chats[to]
	if was == nil || from == to {
		return nil
	}
	if is == nil {
		is = newChat()
		m.chats[to] = is
	}
	for i := range is.rows {
		is.rows[i].Seq += was.seq
	}
	for i := range was.rows {
		was.rows[i].Chat = to
	}
	is.seq += was.seq
	is.rows = append(was.rows, is.rows...)
	for event, a := range was.seen {
		is.seen[event] = a
	}
	for at, id := range was.sent {
		is.sent[at] = id
	}
	if is.state == nil {
		is.state = was.state
	}
	delete(m.chats, from)
	return nil
}

// Sweep forgets that events before a time were seen, what they were answered and
// where that was sent. The state of their chats stays, and so does the outbox.
func (m *Memory) Sweep(_ context.Context, before time.Time) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	for _, c := range m.chats {
		for event, a := range c.seen {
			if a.at.Before(before) {
				delete(c.seen, event)
				for at := range c.sent {
					if at.event == event {
						delete(c.sent, at)
					}
				}
			}
		}
	}
	return nil
}
