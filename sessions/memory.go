package sessions

import (
	"context"
	"maps"
	"slices"
	"sync"
	"time"
)

// Memory is a store that lasts as long as the program. The zero value is ready.
type Memory struct {
	mu    sync.Mutex
	chats map[string]*chat
	spent map[[16]byte]answer // events of chats that were forgotten
}

type chat struct {
	seq   uint64 // 0: not heard of, or forgotten
	state []byte
	seen  map[string]answer
	rows  []Row
	sent  map[sentTo]string
	log   map[uint64][]byte
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

func newChat() *chat {
	return &chat{seen: map[string]answer{}, sent: map[sentTo]string{}, log: map[uint64][]byte{}}
}

// Look gives what is known of a chat and of one event of it. The bytes must not
// be written to.
func (m *Memory) Look(_ context.Context, name, event string) (Snapshot, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	a, seen := m.spent[spentKey(name, event)]
	c := m.chats[name]
	if c == nil {
		return Snapshot{Seen: seen, Bodies: a.bodies}, nil
	}
	if known, ok := c.seen[event]; ok {
		a, seen = known, true
	}
	return Snapshot{State: c.state, Seen: seen, Bodies: a.bodies}, nil
}

// Log gives the records of a chat, oldest first.
func (m *Memory) Log(_ context.Context, name string) (entries []Entry, err error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if c := m.chats[name]; c != nil {
		for _, n := range slices.Sorted(maps.Keys(c.log)) {
			entries = append(entries, Entry{N: n, Bytes: c.log[n]})
		}
	}
	return entries, nil
}

// Commit stores a change. An event already seen keeps its first answer, and the
// whole change is dropped.
func (m *Memory) Commit(_ context.Context, ch Change) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	if _, spent := m.spent[spentKey(ch.Chat, ch.Event)]; spent {
		return nil
	}
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
	if c.seq == 0 {
		c.seq = c.lastRow()
	}
	c.seq++
	if ch.Forget {
		m.forget(&ch, c)
		return nil
	}
	c.seen[ch.Event] = answer{ch.At, ch.Bodies}
	if len(ch.State) > 0 {
		c.state = ch.State
	}
	for _, e := range ch.Log {
		if c.log[e.N] = e.Bytes; e.Bytes == nil {
			delete(c.log, e.N)
		}
	}
	c.queue(&ch)
	return nil
}

// queue puts the bodies into the outbox, where they are to be sent.
func (c *chat) queue(ch *Change) {
	if ch.Send {
		for n, body := range ch.Bodies {
			c.rows = append(c.rows, Row{Chat: ch.Chat, Seq: c.seq, N: n, Event: ch.answers(), Body: body})
		}
	}
}

// lastRow is the seq of the last row of the outbox, 0 where there is none.
func (c *chat) lastRow() uint64 {
	if n := len(c.rows); n > 0 {
		return c.rows[n-1].Seq
	}
	return 0
}

// forget leaves the marks of a chat's events and the answer to this one.
func (m *Memory) forget(ch *Change, c *chat) {
	if m.spent == nil {
		m.spent = map[[16]byte]answer{}
	}
	for event, a := range c.seen {
		m.spent[spentKey(ch.Chat, event)] = answer{at: a.at}
	}
	m.spent[spentKey(ch.Chat, ch.Event)] = answer{ch.At, ch.Bodies}
	ch.For = ""
	left := newChat()
	left.seq = c.seq
	left.queue(ch)
	left.seq = 0
	m.chats[ch.Chat] = left
}

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
	if id != "" && c.seq > 0 {
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
	if was == nil || from == to || was.seq == 0 && len(was.rows) == 0 {
		return nil
	}
	known := was.seq > 0 || is != nil && is.seq > 0
	if is == nil {
		is = newChat()
		m.chats[to] = is
	}
	was.seq, is.seq = max(was.seq, was.lastRow()), max(is.seq, is.lastRow())
	for i := range is.rows {
		is.rows[i].Seq += was.seq
	}
	for i := range was.rows {
		was.rows[i].Chat = to
	}
	if is.seq += was.seq; !known {
		is.seq = 0
	}
	is.rows = append(was.rows, is.rows...)
	for event, a := range was.seen {
		is.seen[event] = a
	}
	for at, id := range was.sent {
		is.sent[at] = id
	}
	if is.state == nil {
		is.state = was.state
		maps.Copy(is.log, was.log)
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
	maps.DeleteFunc(m.spent, func(_ [16]byte, a answer) bool { return a.at.Before(before) })
	return nil
}
