package engine

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"github.com/google/go-cmp/cmp"

	"halfweight/bot/talk"
	"halfweight/bot/wire"
	"halfweight/sessions"
)

// fake is a transport that hands in what it is given and notes what it sends.
type fake struct {
	caps   wire.Caps
	refuse func(chat string, b wire.Body) error // of a send; nil takes all

	mu   sync.Mutex
	in   chan wire.In
	sent []note
	busy map[string]bool
}

// note is one body that went out, and when since the start.
type note struct {
	Chat, Text, Replaces string
	After                time.Duration
}

func newFake() *fake { return &fake{in: make(chan wire.In), busy: map[string]bool{}} }

func (f *fake) Name() string    { return "tg" }
func (f *fake) Caps() wire.Caps { return f.caps }

func (f *fake) Run(ctx context.Context, deliver func(context.Context, wire.In) ([]wire.Body, error)) error {
	for {
		select {
		case in := <-f.in:
			if _, err := deliver(ctx, in); err != nil {
				return err
			}
		case <-ctx.Done():
			return ctx.Err()
		}
	}
}

func (f *fake) Send(ctx context.Context, chat string, b wire.Body) (string, error) {
	f.mu.Lock()
	if f.busy[chat] {
		panic("two sends to one chat at once")
	}
	f.busy[chat] = true
	f.mu.Unlock()
	time.Sleep(time.Millisecond) // of the network
	f.mu.Lock()
	defer f.mu.Unlock()
	f.busy[chat] = false
	if f.refuse != nil {
		if err := f.refuse(chat, b); err != nil {
			return "", err
		}
	}
	f.sent = append(f.sent, note{chat, b.Text, b.Replaces, time.Since(noon2000)})
	if b.Replaces != "" {
		return b.Replaces, nil
	}
	return fmt.Sprint("id ", len(f.sent)), nil
}

// noon2000 is when the time of a synctest bubble begins.
var noon2000 = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

func (f *fake) texts(chat string) (texts []string) {
	f.mu.Lock()
	defer f.mu.Unlock()
	for _, n := range f.sent {
		if n.Chat == chat {
			texts = append(texts, n.Text)
		}
	}
	return texts
}

// echo is an engine that answers each message with its own text.
func echo(store Store, f *fake) *Engine {
	e := New(store, f)
	e.step = func(s talk.State, ev talk.Event, _ time.Time) (talk.State, talk.Reply) {
		return s, talk.Reply{Text: ev.Text, Verdict: "answer", Says: []talk.Say{talk.Plain{Topic: ev.Text}}}
	}
	return e
}

// queue puts a change with one body a text straight into the outbox.
func queue(t *testing.T, store Store, chat string, texts ...string) {
	t.Helper()
	for _, text := range texts {
		packed, err := pack([]wire.Body{{Text: text}})
		if err != nil {
			t.Fatal(err)
		}
		if err := store.Commit(t.Context(), sessions.Change{Chat: chat, Event: text, Bodies: packed, Send: true}); err != nil {
			t.Fatal(err)
		}
	}
}

// running runs an engine for so long, quietly, and stops it.
func running(t *testing.T, e *Engine, long time.Duration) {
	t.Helper()
	log := slog.Default()
	slog.SetDefault(slog.New(slog.DiscardHandler))
	defer slog.SetDefault(log)
	ctx, cancel := context.WithTimeout(t.Context(), long)
	defer cancel()
	if err := e.Run(ctx); err != nil {
		t.Errorf("Run: %v", err)
	}
}

func left(t *testing.T, store Store) []string {
	t.Helper()
	chats, err := store.Waiting(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	slices.Sort(chats)
	return chats
}

func TestRun_whatWaitedIsSentInOrder(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		store, f := &sessions.Memory{}, newFake()
		queue(t, store, "tg:1", "a", "b", "c")
		queue(t, store, "tg:2", "d")
		queue(t, store, "con:1", "no transport has it")
		running(t, New(store, f), time.Minute)
		if got := f.texts("tg:1"); !slices.Equal(got, []string{"a", "b", "c"}) {
			t.Errorf("sent %q", got)
		}
		if got := f.texts("tg:2"); !slices.Equal(got, []string{"d"}) {
			t.Errorf("sent %q", got)
		}
		if got := left(t, store); !slices.Equal(got, []string{"con:1"}) {
			t.Errorf("still waiting: %q", got)
		}
	})
}

func TestRun_whatComesInIsAnsweredThroughTheOutbox(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		store, f := &sessions.Memory{}, newFake()
		e := New(store, f)
		go func() {
			f.in <- wire.In{ID: "1", Chat: "tg:1", Text: card}
			f.in <- wire.In{ID: "1", Chat: "tg:1", Text: card} // delivered again
			f.in <- wire.In{ID: "2", Chat: "tg:1", Text: "what do I need"}
		}()
		running(t, e, time.Minute)
		straight := New(&sessions.Memory{})
		want := []string{send(t, straight, "a", card).Text, send(t, straight, "a", "", "what do I need").Text}
		if d := cmp.Diff(want, f.texts("tg:1")); d != "" {
			t.Error(d)
		}
		if got := left(t, store); got != nil {
			t.Errorf("still waiting: %q", got)
		}
	})
}

func TestHandle_chatWithoutTransportLeavesNothingToSend(t *testing.T) {
	store := &sessions.Memory{}
	send(t, New(store, newFake()), "con:a", card)
	if got := left(t, store); got != nil {
		t.Errorf("waiting: %q", got)
	}
}

func TestSender_waitsAsLongAsItIsAsked(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		store, f := &sessions.Memory{}, newFake()
		times := 0
		f.refuse = func(chat string, b wire.Body) error {
			if chat == "tg:1" && times < 2 {
				times++
				return fmt.Errorf("send: %w", wire.ErrRetry{After: 30 * time.Second})
			}
			return nil
		}
		queue(t, store, "tg:1", "a", "b")
		queue(t, store, "tg:2", "c")
		running(t, New(store, f), time.Hour)
		want := []note{{"tg:2", "c", "", time.Millisecond}, {"tg:1", "a", "", time.Minute + 3*time.Millisecond}, {"tg:1", "b", "", time.Minute + 4*time.Millisecond}}
		if d := cmp.Diff(want, f.sent); d != "" {
			t.Error(d)
		}
	})
}

// The wait and the tries are in the store: a start in between shortens nothing.
func TestSender_waitOutlastsARestart(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		store, f := &sessions.Memory{}, newFake()
		f.refuse = func(string, wire.Body) error { return wire.ErrRetry{After: time.Hour} }
		queue(t, store, "tg:1", "a")
		running(t, New(store, f), time.Minute)
		row, _, _ := store.Next(t.Context(), "tg:1")
		if row.Tries != 1 || row.NotBefore.Sub(noon2000) != time.Hour+time.Millisecond {
			t.Errorf("the row: %+v", row)
		}
		f.refuse = nil
		running(t, New(store, f), 58*time.Minute)
		if got := f.texts("tg:1"); got != nil {
			t.Errorf("sent too early: %q", got)
		}
		running(t, New(store, f), 10*time.Minute)
		if len(f.sent) != 1 || f.sent[0].After != time.Hour+2*time.Millisecond {
			t.Errorf("sent %+v", f.sent)
		}
	})
}

func TestSender_backsOffFromFailures(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		store, f := &sessions.Memory{}, newFake()
		var at []time.Duration
		f.refuse = func(string, wire.Body) error {
			at = append(at, time.Since(noon2000).Round(time.Second))
			if len(at) < 12 {
				return errors.New("connection reset")
			}
			return nil
		}
		queue(t, store, "tg:1", "a")
		running(t, New(store, f), time.Hour)
		s := time.Second
		if want := []time.Duration{0, 1 * s, 3 * s, 7 * s, 15 * s, 31 * s, 63 * s, 127 * s, 255 * s, 511 * s, 811 * s, 1111 * s}; !slices.Equal(at, want) {
			t.Errorf("tried at %v, want %v", at, want)
		}
		if got := f.texts("tg:1"); !slices.Equal(got, []string{"a"}) {
			t.Errorf("sent %q", got)
		}
	})
}

func TestSender_chatGoneIsDropped(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		store, f := &sessions.Memory{}, newFake()
		tries := 0
		f.refuse = func(chat string, _ wire.Body) error {
			if chat == "tg:1" {
				tries++
				return fmt.Errorf("send: %w", wire.ErrGone)
			}
			return nil
		}
		queue(t, store, "tg:1", "a", "b", "c")
		queue(t, store, "tg:2", "d")
		running(t, New(store, f), time.Hour)
		if tries != 1 || left(t, store) != nil || len(f.texts("tg:2")) != 1 {
			t.Errorf("%d tries, waiting %q, sent %v", tries, left(t, store), f.sent)
		}
	})
}

func TestSender_refusedBodyIsGivenUpAndTheNextIsSent(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		store, f := &sessions.Memory{}, newFake()
		f.refuse = func(_ string, b wire.Body) error {
			if b.Text == "odd" {
				return fmt.Errorf("send: %w", wire.ErrRefused)
			}
			return nil
		}
		queue(t, store, "tg:1", "odd", "good")
		store.Commit(t.Context(), sessions.Change{Chat: "tg:1", Event: "torn", Bodies: [][]byte{[]byte("{")}, Send: true})
		queue(t, store, "tg:1", "after it")
		running(t, New(store, f), time.Hour)
		if got := f.texts("tg:1"); !slices.Equal(got, []string{"good", "after it"}) || left(t, store) != nil {
			t.Errorf("sent %q, waiting %q", got, left(t, store))
		}
	})
}

func TestSender_chatThatMovedGetsItsRowsAndItsStateUnderTheNewName(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		store, f := &sessions.Memory{}, newFake()
		f.refuse = func(chat string, _ wire.Body) error {
			if chat == "tg:1" {
				return fmt.Errorf("send: %w", wire.ErrMoved{To: "tg:-100"})
			}
			return nil
		}
		e := New(store, f)
		send(t, e, "tg:1", card)
		queue(t, store, "tg:1", "b")
		running(t, e, time.Hour)
		if got := f.texts("tg:-100"); len(got) != 2 || got[1] != "b" || left(t, store) != nil {
			t.Errorf("sent %q, waiting %q", got, left(t, store))
		}
		if s, _ := store.Look(t.Context(), "tg:-100", ""); s.State == nil {
			t.Error("the state did not go along")
		}
	})
}

func TestHandle_movedChatKeepsWhatItTold(t *testing.T) {
	e := New(&sessions.Memory{})
	send(t, e, "tg:1", card)
	want := send(t, New(&sessions.Memory{}), "tg:1", card, "why")
	for range 2 {
		r, err := e.Handle(t.Context(), wire.In{ID: "m", Chat: "tg:-100", MovedFrom: "tg:1"})
		if err != nil || r.Bodies != nil {
			t.Fatalf("%v, %v", r, err)
		}
	}
	if d := cmp.Diff(want, send(t, e, "tg:-100", "", "why")); d != "" {
		t.Error(d)
	}
}

// Two moves that cross each other must not wait for each other.
func TestHandle_movesToAndFroEnd(t *testing.T) {
	e := New(&sessions.Memory{})
	other := otherLane(e, "a")
	var all sync.WaitGroup
	for i := range 200 {
		from, to := "a", other
		if i%2 == 0 {
			from, to = to, from
		}
		all.Go(func() { e.Handle(t.Context(), wire.In{Chat: to, MovedFrom: from}) })
	}
	all.Wait()
}

func TestSender_keepsTheLimitOfAChat(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		store, f := &sessions.Memory{}, newFake()
		f.caps.Chat = wire.Limit{Every: time.Second, Burst: 3}
		queue(t, store, "tg:1", "a", "b", "c", "d", "e", "f")
		queue(t, store, "tg:2", "g")
		running(t, New(store, f), time.Hour)
		var at []time.Duration
		for _, n := range f.sent {
			if n.Chat == "tg:1" {
				at = append(at, n.After.Round(100*time.Millisecond))
			}
		}
		s := time.Second
		if want := []time.Duration{0, 0, 0, 1 * s, 2 * s, 3 * s}; !slices.Equal(at, want) {
			t.Errorf("sent at %v, want %v", at, want)
		}
		if !slices.Contains(f.sent, note{"tg:2", "g", "", time.Millisecond}) {
			t.Errorf("the other chat waited: %v", f.sent)
		}
	})
}

func TestSender_keepsTheLimitOfAllChats(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		store, f := &sessions.Memory{}, newFake()
		f.caps.All = wire.Limit{Every: time.Second / 30, Burst: 30}
		for i := range 300 {
			queue(t, store, fmt.Sprint("tg:", i), "a")
		}
		running(t, New(store, f), time.Hour)
		if len(f.sent) != 300 {
			t.Fatalf("sent %d", len(f.sent))
		}
		for i, n := range f.sent { // in any stretch no more than the burst and what came to be
			for j := i; j < len(f.sent); j++ {
				if most := 31 + int(30*(f.sent[j].After-n.After+2*time.Millisecond).Seconds()); j-i+1 > most {
					t.Fatalf("%d sent from %v to %v, at most %d may be", j-i+1, n.After, f.sent[j].After, most)
				}
			}
		}
		if last := f.sent[299].After; last > 10*time.Second {
			t.Errorf("the last went out after %v", last)
		}
	})
}

// A chat that talks for a long time leaves nothing behind in memory.
func TestSender_forgetsAChatAtRest(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		store, f := &sessions.Memory{}, newFake()
		f.caps.Chat = wire.Limit{Every: time.Second, Burst: 2}
		for i := range 50 {
			queue(t, store, fmt.Sprint("tg:", i), "a", "b", "c")
		}
		e := New(store, f)
		running(t, e, time.Minute)
		if n := len(e.sender.lines); n > 0 {
			t.Errorf("%d chats are kept", n)
		}
	})
}

// full is a store whose disk is full when told so.
type full struct {
	sessions.Memory
	left int // of failures
}

func (f *full) Sent(ctx context.Context, r sessions.Row, id string) error {
	if f.left > 0 {
		f.left--
		return errors.New("disk full")
	}
	return f.Memory.Sent(ctx, r, id)
}

func TestSender_fullDiskRepeatsNoReply(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		store, f := &full{left: 100}, newFake()
		queue(t, store, "tg:1", "a", "b")
		running(t, New(store, f), time.Hour)
		if got := f.texts("tg:1"); !slices.Equal(got, []string{"a", "b"}) || left(t, store) != nil {
			t.Errorf("sent %q, waiting %q", got, left(t, store))
		}
	})
}

func TestRun_endsWithWhatItHolds(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		store, f := &sessions.Memory{}, newFake()
		e := echo(store, f)
		go func() {
			for i := range 40 {
				f.in <- wire.In{ID: fmt.Sprint(i), Chat: fmt.Sprint("tg:", i%4), Text: "g70", At: time.Now()}
			}
		}()
		running(t, e, time.Millisecond/2) // while the first sends are on the way
		handled, sent := 0, len(f.sent)
		for i := range 40 {
			if s, _ := store.Look(t.Context(), fmt.Sprint("tg:", i%4), fmt.Sprint(i)); s.Seen {
				handled++
			}
		}
		if sent != handled || left(t, store) != nil || handled == 0 {
			t.Errorf("%d handled, %d sent, waiting %q", handled, sent, left(t, store))
		}
		close(f.in)
	})
}

func TestRun_endsInTimeThoughASendHangs(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		store := &sessions.Memory{}
		f := &hanging{newFake()}
		queue(t, store, "tg:1", "a")
		start := time.Now()
		running(t, New(store, f), time.Minute)
		if took := time.Since(start); took != time.Minute+lastWord {
			t.Errorf("after %v", took)
		}
		if row, ok, _ := store.Next(t.Context(), "tg:1"); !ok || row.Tries != 0 {
			t.Errorf("the row: %+v", row)
		}
	})
}

// hanging is a transport whose sends end with their context only.
type hanging struct{ *fake }

func (h *hanging) Send(ctx context.Context, _ string, _ wire.Body) (string, error) {
	<-ctx.Done()
	return "", ctx.Err()
}

func TestRun_endsWhenATransportGivesUp(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		f := &failingTransport{newFake()}
		err := New(&sessions.Memory{}, f, newFake()).Run(t.Context())
		if err == nil || !strings.Contains(err.Error(), "no such token") {
			t.Errorf("got %v", err)
		}
	})
}

type failingTransport struct{ *fake }

func (failingTransport) Run(context.Context, func(context.Context, wire.In) ([]wire.Body, error)) error {
	return errors.New("no such token")
}

// How old an event is counts from when it was handled: what a transport says of
// its time may be anything.
func TestRun_oldEventsAreSwept(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		store := &sessions.Memory{}
		e := New(store, newFake())
		day := 24 * time.Hour
		for i, wait := range []time.Duration{day, 6*day + time.Minute, 0} {
			if _, err := e.Handle(t.Context(), wire.In{ID: fmt.Sprint(i), Chat: "con:a", Text: "help"}); err != nil {
				t.Fatal(err)
			}
			time.Sleep(wait)
		}
		seen := func() (list []bool) {
			for i := range 3 {
				s, _ := store.Look(t.Context(), "con:a", fmt.Sprint(i))
				list = append(list, s.Seen)
			}
			return list
		}
		running(t, e, time.Hour)
		if got := seen(); !slices.Equal(got, []bool{false, true, true}) {
			t.Errorf("after an hour: seen %v", got)
		}
		running(t, New(store, newFake()), 25*time.Hour)
		if got := seen(); !slices.Equal(got, []bool{false, false, true}) {
			t.Errorf("after a day: seen %v", got)
		}
	})
}

func TestHandle_editedMessageIsAnsweredInPlace(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		store, f := &sessions.Memory{}, newFake()
		e := New(store, f)
		go func() {
			f.in <- wire.In{ID: "1", Chat: "tg:1", Text: "help"}
			time.Sleep(time.Second)
			f.in <- wire.In{ID: "1/edited", Chat: "tg:1", Text: card, Edits: "1"}
		}()
		running(t, e, time.Minute)
		if len(f.sent) != 2 || f.sent[0].Replaces != "" || f.sent[1].Replaces != "id 1" {
			t.Errorf("sent %+v", f.sent)
		}
	})
}

func TestHandle_forgetMeTakesTheOldAnswersToo(t *testing.T) {
	store := &sessions.Memory{}
	e := New(store)
	if _, err := e.Handle(t.Context(), in("1", "a", card)); err != nil {
		t.Fatal(err)
	}
	for i, text := range []string{"forget me", "yes"} {
		if _, err := e.Handle(t.Context(), in(fmt.Sprint("forget ", i), "a", text)); err != nil {
			t.Fatal(err)
		}
	}
	if s, _ := store.Look(t.Context(), "a", "1"); !s.Seen || s.Bodies != nil {
		t.Errorf("the store keeps %q", s.Bodies)
	}
}

func TestCut_noBodyIsTooLongAndNoWordIsLost(t *testing.T) {
	for _, text := range []string{"", "short", "one line\nand another\nand a third that is longer", "nothingbutonewordthatislong", "🚜🚜🚜🚜🚜🚜🚜🚜🚜🚜🚜🚜", "a 🚜 b\n🚜 c d e f g h i j\nk l"} {
		for _, length := range []int{1, 2, 5, 12, 20, 100, 0} {
			var words []string
			bodies := cut([]wire.Body{{Text: text, Buttons: []string{"YES"}}}, length)
			for i, b := range bodies {
				units := 0
				for _, r := range b.Text {
					units += 1 + min(1, int(r>>16))
				}
				if length > 1 && units > length {
					t.Errorf("%q cut at %d holds %q of %d", text, length, b.Text, units)
				}
				if (b.Buttons != nil) != (i == len(bodies)-1) {
					t.Errorf("%q cut at %d: part %d has the buttons %q", text, length, i, b.Buttons)
				}
				words = append(words, b.Text)
			}
			whole := strings.Join(strings.Fields(text), "")
			if got := strings.Join(strings.Fields(strings.Join(words, "")), ""); got != whole {
				t.Errorf("%q cut at %d: %q", text, length, words)
			}
			if length == 0 && len(bodies) != 1 {
				t.Errorf("%q cut without a limit: %q", text, words)
			}
		}
	}
	lines := cut([]wire.Body{{Text: "Corners 4 of 4.\nLook again."}}, 20)
	if len(lines) != 2 || lines[0].Text != "Corners 4 of 4." || lines[1].Text != "Look again." {
		t.Errorf("lines are cut into %+v", lines)
	}
}
