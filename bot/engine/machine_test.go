package engine

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"log/slog"
	"path/filepath"
	"slices"
	"sync"
	"testing"
	"time"

	"golang.org/x/time/rate"
	"pgregory.net/rapid"

	"halfweight/bot/talk"
	"halfweight/bot/wire"
	"halfweight/sessions"
)

// perishable is a store of a program that may die at a point of storing: from
// then on nothing it does has an effect.
type perishable struct {
	Store
	mu    sync.Mutex
	point string
	left  int
	dead  bool
	end   func() // of all it waits for
}

var errDead = errors.New("the program is dead")

// pass says whether the program is still alive behind a point.
func (p *perishable) pass(point string) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.point == point {
		if p.left--; p.left <= 0 {
			p.dead = true
			p.end()
		}
	}
	return !p.dead
}

func (p *perishable) around(name string, do func() error) error {
	if !p.pass("before " + name) {
		return errDead
	}
	err := do()
	if !p.pass("after " + name) {
		return errDead
	}
	return err
}

func (p *perishable) Commit(ctx context.Context, c sessions.Change) error {
	return p.around("commit", func() error { return p.Store.Commit(ctx, c) })
}

func (p *perishable) Sent(ctx context.Context, r sessions.Row, id string) error {
	return p.around("mark", func() error { return p.Store.Sent(ctx, r, id) })
}

func (p *perishable) Later(ctx context.Context, r sessions.Row, at time.Time) error {
	return p.around("putting off", func() error { return p.Store.Later(ctx, r, at) })
}

func (p *perishable) Move(ctx context.Context, m sessions.Move) error {
	return p.around("move", func() error { return p.Store.Move(ctx, m) })
}

var machinePoints = []string{"before commit", "after commit", "before mark", "after mark", "before putting off", "before move", "after move", "before send", "after send"}

// machine is chats that talk to a program which dies now and then, and what it
// should come to: the plain fold of their distinct events.
type machine struct {
	store Store
	open  func() Store // again, as after a crash

	died     int
	wait     int // sends that are told to wait
	events   []wire.In
	model    map[string]talk.State // by chat of the model: 0, 1, 2
	expected map[string][]string   // answers, by chat of the model
	got      map[string][]string   // replies sent, by chat of the model
	moved    map[string]bool
	text     func(int) string
}

// old and is are the names of a chat of the model, before it moves and after.
func old(chat string) string { return "tg:-" + chat }
func is(chat string) string  { return "tg:-100" + chat }

func (m *machine) name(chat string) string {
	if m.moved[chat] {
		return is(chat)
	}
	return old(chat)
}

// live runs one program: it takes events one after the other, sends some of what
// waits behind each, and in the end what it may. It gives the events that were
// not acknowledged.
func (m *machine) live(events []wire.In, between, sends int, point string, after int) (left []wire.In) {
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	p := &perishable{Store: m.store, point: point, left: after, end: cancel}
	e := New(p, &mourning{machine: m, p: p})
	for ; len(events) > 0; events = events[1:] {
		if _, err := e.Handle(ctx, events[0]); err != nil {
			break // it is dead
		}
		m.send(ctx, e, between)
	}
	m.send(ctx, e, sends)
	if p.dead {
		m.died++
		m.store = m.open()
	}
	return events
}

// send tries some rows, of the chats in turn.
func (m *machine) send(ctx context.Context, e *Engine, rows int) {
	none := rate.NewLimiter(rate.Inf, 1)
	for {
		chats, err := m.store.Waiting(context.Background())
		if err != nil || len(chats) == 0 {
			return
		}
		for _, chat := range chats {
			if rows--; rows < 0 || ctx.Err() != nil {
				return
			}
			e.sender.sendOne(ctx, chat, none)
			e.sender.moves.Wait()
		}
	}
}

// mourning is the transport of one program of a machine.
type mourning struct {
	*machine
	p *perishable
}

func (f *mourning) Name() string    { return "tg" }
func (f *mourning) Caps() wire.Caps { return wire.Caps{} }

func (f *mourning) Run(context.Context, func(context.Context, wire.In) ([]wire.Body, error)) error {
	return nil
}

func (f *mourning) Send(_ context.Context, chat string, b wire.Body) (string, error) {
	if !f.p.pass("before send") {
		return "", errDead
	}
	if f.wait > 0 {
		f.wait--
		return "", wire.ErrRetry{}
	}
	for _, c := range []string{"0", "1", "2"} {
		switch {
		case chat == old(c) && f.moved[c]:
			return "", wire.ErrMoved{To: is(c)}
		case chat == old(c), chat == is(c):
			f.got[c] = append(f.got[c], b.Text)
		}
	}
	if !f.p.pass("after send") {
		return "", errDead
	}
	return "id", nil
}

// tell adds the next event of a chat to the model.
func (m *machine) tell(chat string) wire.In {
	n := len(m.expected[chat])
	in := wire.In{ID: fmt.Sprint("m", n), Chat: m.name(chat), Text: m.text(n), At: noon}
	s, reply := talk.Step(m.model[chat], talk.Event{ID: in.ID, Text: in.Text}, in.At)
	m.model[chat] = s
	m.expected[chat] = append(m.expected[chat], say(reply, in)[0].Text)
	m.events = append(m.events, in)
	return in
}

// check compares the store with the model.
func (m *machine) check(t *rapid.T, all bool) {
	for _, chat := range []string{"0", "1", "2"} {
		s, err := m.store.Look(context.Background(), m.name(chat), "")
		if err != nil {
			t.Fatal(err)
		}
		want, err := json.Marshal(m.model[chat])
		if err != nil {
			t.Fatal(err)
		}
		if len(m.expected[chat]) > 0 && string(s.State) != string(want) {
			t.Fatalf("chat %s of the model has the state\n%s\nin the store it is\n%s", chat, want, s.State)
		}
		at, again := -1, 0
		for _, text := range m.got[chat] {
			switch {
			case at >= 0 && text == m.expected[chat][at]:
				again++
			case at+1 < len(m.expected[chat]) && text == m.expected[chat][at+1]:
				at++
			default:
				t.Fatalf("chat %s: behind the answer to event %d came %q", chat, at, text)
			}
		}
		if again > m.died || all && at != len(m.expected[chat])-1 {
			t.Fatalf("chat %s: %d of %d events answered, %d repeated in %d deaths", chat, at+1, len(m.expected[chat]), again, m.died)
		}
	}
}

// Whatever comes in whatever order, in both stores: an event counts once, is
// answered in order, and is answered again at most once for each death.
func TestMachine_storeIsThePlainFoldOfDistinctEvents(t *testing.T) {
	log := slog.Default()
	slog.SetDefault(slog.New(slog.DiscardHandler))
	defer slog.SetDefault(log)
	for _, kind := range []string{"memory", "file"} {
		t.Run(kind, func(t *testing.T) {
			dir, files, broken := t.TempDir(), 0, false
			total = tally{}
			rapid.Check(t, func(rt *rapid.T) {
				if files++; kind == "file" && files > mostFiles && !broken {
					return
				}
				whole := false
				defer func() { broken = broken || !whole }()
				machineOn(rt, kind, filepath.Join(dir, fmt.Sprint(files)))
				whole = true
			})
			t.Logf("%+v", total)
			if total.deaths == 0 || total.moves == 0 || total.repeated == 0 {
				t.Errorf("too little happened: %+v", total)
			}
		})
	}
}

// mostFiles is how many runs write to a disk, which takes long.
const mostFiles = 20

// tally is what happened in all.
type tally struct{ deaths, moves, events, repeated int }

var total tally

func machineOn(t *rapid.T, kind, path string) {
	m := &machine{
		model: map[string]talk.State{}, expected: map[string][]string{}, got: map[string][]string{}, moved: map[string]bool{},
		text: crashText,
	}
	switch kind {
	case "memory":
		memory := &sessions.Memory{}
		m.open = func() Store { return memory }
	case "file":
		var file *sessions.DB
		m.open = func() Store {
			if file != nil {
				file.Close()
			}
			var err error
			if file, err = sessions.Open(path); err != nil {
				t.Fatal(err)
			}
			return file
		}
		defer func() { file.Close() }()
	}
	m.store = m.open()

	chats := rapid.SampledFrom([]string{"0", "1", "2"})
	some := func(t *rapid.T) (list []wire.In) {
		for range rapid.IntRange(1, 4).Draw(t, "messages") {
			list = append(list, m.tell(chats.Draw(t, "chat")))
		}
		return list
	}
	const all = 1000
	surely := func(events []wire.In) {
		if left := m.live(events, 0, all, "", 0); len(left) > 0 {
			t.Fatalf("%d events were not taken", len(left))
		}
	}
	few := func(t *rapid.T) int { return rapid.IntRange(0, 4).Draw(t, "sends") }
	t.Repeat(map[string]func(*rapid.T){
		"deliver": func(t *rapid.T) {
			if left := m.live(some(t), few(t), few(t), "", 0); len(left) > 0 {
				t.Fatalf("%d events were not taken", len(left))
			}
		},
		"duplicate": func(t *rapid.T) {
			if len(m.events) == 0 {
				t.Skip("nothing was told lately")
			}
			// Also under the name the chat had then.
			m.live(rapid.SliceOfN(rapid.SampledFrom(m.events), 1, 3).Draw(t, "again"), few(t), few(t), "", 0)
		},
		"crash": func(t *rapid.T) {
			point := rapid.SampledFrom(machinePoints).Draw(t, "point")
			left := m.live(some(t), few(t), few(t), point, rapid.IntRange(1, 3).Draw(t, "pass"))
			m.live(left, few(t), few(t), "", 0)
		},
		"advance the clock": func(t *rapid.T) {
			days := rapid.SampledFrom([]int{1, 6, 8}).Draw(t, "days")
			if err := m.store.Sweep(context.Background(), time.Now().AddDate(0, 0, days).Add(-kept)); err != nil {
				t.Fatal(err)
			}
			if days > 7 {
				m.events = nil // Telegram brings nothing again that is so old
			}
		},
		"told to wait": func(t *rapid.T) { m.wait = rapid.IntRange(1, 5).Draw(t, "times") },
		"move": func(t *rapid.T) {
			chat := chats.Draw(t, "chat")
			events := some(t) // under the old name, and not all sent
			m.moved[chat] = true
			at := rapid.IntRange(0, len(events)).Draw(t, "at") // what waits to be sent may learn of it before
			events = slices.Insert(events, at, wire.In{ID: "moved", Chat: is(chat), MovedFrom: old(chat)})
			point, after := "", 0
			if rapid.Bool().Draw(t, "crash") {
				point, after = rapid.SampledFrom(machinePoints).Draw(t, "point"), rapid.IntRange(1, 3).Draw(t, "pass")
			}
			m.live(m.live(events, few(t), few(t), point, after), few(t), few(t), "", 0)
		},
		"": func(t *rapid.T) { m.check(t, false) },
	})
	surely(nil)
	m.check(t, true)
	total.deaths += m.died
	total.events += len(m.events)
	total.moves += len(m.moved)
	for chat, list := range m.got {
		total.repeated += len(list) - len(m.expected[chat])
	}
}
