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
	moved map[string]string   // to the name they go by now
	last  uint64              // number that was given
}

type chat struct {
	state  []byte
	events map[string]*event
	rows   []Row
	log    map[uint64][]byte
	aside  map[string][]byte
}

type answer struct {
	at     time.Time
	bodies [][]byte
}

// event is one that was seen, or that an edit was seen of.
type event struct {
	answer
	seen bool
	ids  map[int]string // that the bodies of its answer were sent under, by number
}

func newChat() *chat {
	return &chat{events: map[string]*event{}, log: map[uint64][]byte{}, aside: map[string][]byte{}}
}

// event gives the one of a name, made at a time where there is none.
func (c *chat) event(name string, at time.Time) *event {
	e := c.events[name]
	if e == nil {
		e = &event{answer: answer{at: at}, ids: map[int]string{}}
		c.events[name] = e
	}
	return e
}

// heard says whether there is anything of a chat.
func (c *chat) heard() bool {
	return c != nil && (c.state != nil || len(c.events)+len(c.rows)+len(c.log)+len(c.aside) > 0)
}

// number is higher than all that were given before.
func (m *Memory) number() uint64 {
	m.last++
	return m.last
}

// names are those a chat has had from this one on; the last is its present one.
func (m *Memory) names(name string) []string {
	list := []string{name}
	for to, ok := m.moved[name]; ok; to, ok = m.moved[to] {
		list = append(list, to)
	}
	return list
}

// before are all names that a chat had before this one.
func (m *Memory) before(name string) (list []string) {
	for from := range m.moved {
		if names := m.names(from); names[len(names)-1] == name {
			list = append(list, from)
		}
	}
	return list
}

// Look gives what is known of a chat and of one event of it. The bytes must not
// be written to.
func (m *Memory) Look(_ context.Context, name, event string) (Snapshot, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	names := m.names(name)
	s := Snapshot{}
	if now := names[len(names)-1]; now != name {
		name, s.MovedTo = now, now
	}
	if c := m.chats[name]; c != nil {
		s.State = c.state
		if e := c.events[event]; e != nil && e.seen {
			s.Seen, s.Bodies = true, e.bodies
		}
	}
	for _, known := range names {
		if a, spent := m.spent[spentKey(known, event)]; spent && !s.Seen {
			s.Seen, s.Bodies = true, a.bodies
		}
	}
	return s, nil
}

// Log gives the records of a chat in the order of their numbers.
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

// Commit stores a change, under the name the chat goes by now. An event already
// seen keeps its first answer, and the whole change is dropped.
func (m *Memory) Commit(_ context.Context, ch Change) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	names := m.names(ch.Chat)
	for _, known := range names {
		if _, spent := m.spent[spentKey(known, ch.Event)]; spent {
			return nil
		}
	}
	ch.Chat = names[len(names)-1]
	c := m.chats[ch.Chat]
	if c == nil {
		if m.chats == nil {
			m.chats = map[string]*chat{}
		}
		c = newChat()
		m.chats[ch.Chat] = c
	}
	if e := c.events[ch.Event]; e != nil && e.seen {
		return nil
	}
	seq := m.number()
	if ch.Forget {
		m.forget(&ch, c, seq)
		return nil
	}
	if ch.Aside != nil {
		c.aside[ch.Event] = ch.Aside
	}
	e := c.event(ch.Event, ch.At)
	e.answer, e.seen = answer{ch.At, ch.Bodies}, true
	if len(ch.State) > 0 {
		c.state = ch.State
	}
	c.write(ch.Log)
	m.queue(&ch, c, seq)
	return nil
}

// write writes records of the log and takes those without bytes out of it.
func (c *chat) write(log []Entry) {
	for _, e := range log {
		if c.log[e.N] = e.Bytes; e.Bytes == nil {
			delete(c.log, e.N)
		}
	}
}

// queue puts the bodies into the outbox, where they are to be sent.
func (m *Memory) queue(ch *Change, c *chat, seq uint64) {
	if !ch.Send {
		return
	}
	put := func(n int, body []byte) {
		c.rows = append(c.rows, Row{Chat: ch.Chat, Seq: seq, N: n, Event: ch.answers(), Body: body})
	}
	over := m.supersede(ch, c)
	for n, body := range ch.Bodies {
		put(n, body)
	}
	for _, n := range over {
		if ch.Rest != nil {
			put(n, ch.Rest)
		}
	}
}

// forget leaves the marks of a chat's events and moves, under all names it had,
// and the answer to this event.
func (m *Memory) forget(ch *Change, c *chat, seq uint64) {
	if m.spent == nil {
		m.spent = map[[16]byte]answer{}
	}
	before := m.before(ch.Chat)
	for _, name := range append(before, ch.Chat) {
		for event, e := range c.events {
			if e.seen {
				m.spent[spentKey(name, event)] = answer{at: e.at}
			}
		}
		m.spent[spentKey(name, ch.Event)] = answer{ch.At, ch.kept()}
	}
	for _, name := range before {
		m.spent[moveKey(Move{From: name, To: m.moved[name]})] = answer{at: ch.At}
	}
	for _, name := range before {
		delete(m.moved, name)
	}
	ch.For = ""
	left := newChat()
	m.queue(ch, left, seq)
	m.chats[ch.Chat] = left
}

// supersede takes the rows of the earlier answer to For out of the outbox, and
// gives the numbers of its bodies, sent or not, that Bodies leave over.
func (m *Memory) supersede(ch *Change, c *chat) (over []int) {
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
	if c.events[ch.For] == nil {
		m.number()
	}
	for n := range c.event(ch.For, ch.At).ids {
		left(n)
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
	if e := c.events[row.Event]; e != nil {
		row.Replaces = e.ids[row.N]
	}
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
// none, as long as the event is known. A row that went meanwhile has its id kept
// too: what is sent in its place is to replace it.
func (m *Memory) Sent(_ context.Context, r Row, id string) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	c, at := m.row(r)
	if at >= 0 {
		c.rows = slices.Delete(c.rows, at, at+1)
	}
	if id != "" && c != nil && c.events[r.Event] != nil { // else swept, or forgotten
		c.events[r.Event].ids[r.N] = id
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
	if _, spent := m.spent[moveKey(mv)]; spent && !was.heard() {
		return nil // told again: that chat was forgotten
	}
	if m.moved == nil {
		m.moved = map[string]string{}
	}
	delete(m.moved, mv.To)
	m.moved[mv.From] = mv.To
	if !was.heard() {
		return nil // nothing is known under it yet; what still comes is for the new name
	}
	if is == nil {
		is = newChat()
		m.chats[mv.To] = is
	}
	before, now := uint64(0), uint64(0)
	for i, r := range is.rows {
		if r.Seq != before {
			before, now = r.Seq, m.number()
		}
		is.rows[i].Seq = now
	}
	for i := range was.rows {
		was.rows[i].Chat = mv.To
	}
	is.rows = append(was.rows, is.rows...)
	for name, e := range was.events {
		e.ids = map[int]string{}
		if known := is.events[name]; known != nil {
			if !e.seen {
				continue
			}
			e.ids = known.ids
		}
		is.events[name] = e
	}
	maps.Copy(is.aside, was.aside)
	if mv.Aside != nil {
		is.aside[mv.From] = mv.Aside
	}
	if is.state == nil {
		is.state = was.state
		maps.Copy(is.log, was.log)
	}
	if len(mv.State) > 0 {
		is.state = mv.State
	}
	is.write(mv.Log)
	delete(m.chats, mv.From)
	return nil
}

// Sweep forgets that events before a time were seen, what they were answered and
// where that was sent. The state of their chats stays, and so does the outbox.
func (m *Memory) Sweep(_ context.Context, before time.Time) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	for _, c := range m.chats {
		maps.DeleteFunc(c.events, func(_ string, e *event) bool { return e.at.Before(before) })
	}
	maps.DeleteFunc(m.spent, func(_ [16]byte, a answer) bool { return a.at.Before(before) })
	return nil
}
