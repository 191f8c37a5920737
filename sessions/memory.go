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
	moved map[string]string // to the name they go by now
}

type chat struct {
	seq   uint64
	state []byte
	seen  map[string]answer
	rows  []Row
	sent  map[sentTo]string
	aside map[string][]byte
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
	return &chat{seen: map[string]answer{}, sent: map[sentTo]string{}, aside: map[string][]byte{}}
}

// present is the name that a chat goes by now.
func (m *Memory) present(name string) string {
	for to, ok := m.moved[name]; ok; to, ok = m.moved[name] {
		name = to
	}
	return name
}

// Look gives what is known of a chat and of one event of it. The bytes must not
// be written to.
func (m *Memory) Look(_ context.Context, name, event string) (Snapshot, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	s := Snapshot{}
	if now := m.present(name); now != name {
		name, s.MovedTo = now, now
	}
	if c := m.chats[name]; c != nil {
		a, seen := c.seen[event]
		s.State, s.Seen, s.Bodies = c.state, seen, a.bodies
	}
	return s, nil
}

// Commit stores a change, under the name the chat goes by now. An event already
// seen keeps its first answer, and the whole change is dropped.
func (m *Memory) Commit(_ context.Context, ch Change) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	ch.Chat = m.present(ch.Chat)
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
		clear(c.aside)
	}
	if ch.Aside != nil {
		c.aside[ch.Event] = ch.Aside
	}
	c.seq++
	c.seen[ch.Event] = answer{ch.At, ch.Bodies}
	if len(ch.State) > 0 {
		c.state = ch.State
	}
	if !ch.Send {
		return nil
	}
	put := func(n int, body []byte) {
		c.rows = append(c.rows, Row{Chat: ch.Chat, Seq: c.seq, N: n, Event: ch.answers(), Body: body})
	}
	over := c.supersede(&ch)
	for n, body := range ch.Bodies {
		put(n, body)
	}
	for _, n := range over {
		if ch.Rest != nil {
			put(n, ch.Rest)
		}
	}
	return nil
}

// supersede takes the rows of the earlier answer to For out of the outbox, and
// gives the numbers of its bodies, sent or not, that Bodies leave over.
func (c *chat) supersede(ch *Change) (over []int) {
	if ch.For == "" {
		return nil
	}
	left := func(n int) {
		if n >= len(ch.Bodies) && !slices.Contains(over, n) {
			over = append(over, n)
		}
	}
	c.rows = slices.DeleteFunc(c.rows, func(r Row) bool {
		if r.Event == ch.For {
			left(r.N)
		}
		return r.Event == ch.For
	})
	for at := range c.sent {
		if at.event == ch.For {
			left(at.n)
		}
	}
	slices.Sort(over)
	return over
}

// Aside gives all states that were put aside.
func (m *Memory) Aside(context.Context) (list []Aside, err error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	for name, c := range m.chats {
		for why, state := range c.aside {
			list = append(list, Aside{name, why, state})
		}
	}
	return list, nil
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
// none. A row that went meanwhile has its id kept too: what is sent in its place
// is to replace it.
func (m *Memory) Sent(_ context.Context, r Row, id string) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	c, at := m.row(r)
	if at >= 0 {
		c.rows = slices.Delete(c.rows, at, at+1)
	}
	if id != "" && c != nil {
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

// Move gives all that is known of one chat to another name, and what comes under
// the old name later goes to the new one. What was answered under the old name
// counts as older. Where that was sent is not taken along: the transport's ids
// are the old chat's own. No row of either may be on its way. A chat that moved
// before is left alone.
func (m *Memory) Move(_ context.Context, mv Move) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	was, is := m.chats[mv.From], m.chats[mv.To]
	if _, before := m.moved[mv.From]; before || mv.From == mv.To {
		return nil
	}
	if m.moved == nil {
		m.moved = map[string]string{}
	}
	delete(m.moved, mv.To)
	m.moved[mv.From] = mv.To
	if was == nil {
		return nil
	}
	if is == nil {
		is = newChat()
		m.chats[mv.To] = is
	}
	for i := range is.rows {
		is.rows[i].Seq += was.seq
	}
	for i := range was.rows {
		was.rows[i].Chat = mv.To
	}
	is.seq += was.seq
	is.rows = append(was.rows, is.rows...)
	maps.Copy(is.seen, was.seen)
	maps.Copy(is.aside, was.aside)
	if mv.Aside != nil {
		is.aside[mv.From] = mv.Aside
	}
	switch {
	case len(mv.State) > 0:
		is.state = mv.State
	case is.state == nil:
		is.state = was.state
	}
	delete(m.chats, mv.From)
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
