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

const card = "14000 lb roller articulated, 4x 3/8 g70 direct, 1x 3/8 g70 over"

var noon = time.Date(2026, 6, 1, 12, 0, 0, 0, time.UTC)

func in(id, chat, text string) wire.In {
	return wire.In{ID: id, Chat: chat, Text: text, At: noon, Data: true}
}

// send hands texts to a chat one after the other and gives the last reply.
func send(t *testing.T, e *Engine, chat string, texts ...string) wire.Body {
	t.Helper()
	var last wire.Body
	for i, text := range texts {
		r, err := e.Handle(t.Context(), in(fmt.Sprintf("%s-%d", text, i), chat, text))
		if err != nil {
			t.Fatalf("Handle %q: %v", text, err)
		}
		if len(r.Bodies) != 1 {
			t.Fatalf("Handle %q: %d bodies, want 1", text, len(r.Bodies))
		}
		last = r.Bodies[0]
	}
	return last
}

func TestHandle_sameEventTwiceChangesNothing(t *testing.T) {
	e := New(&sessions.Memory{})
	send(t, e, "a", "14000 lb roller, lock bar in")
	add := in("7", "a", "add 1x 3/8 g70 over")
	once, err := e.Handle(t.Context(), add)
	if err != nil {
		t.Fatal(err)
	}
	after := send(t, e, "a", "what do I need")
	again, err := e.Handle(t.Context(), add)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(once, again); d != "" {
		t.Errorf("the second delivery was answered differently:\n%s", d)
	}
	if d := cmp.Diff(after, send(t, e, "a", "", "what do I need")); d != "" {
		t.Errorf("the second delivery changed the load:\n%s", d)
	}
}

func TestHandle_chatsKnowNothingOfEachOther(t *testing.T) {
	e := New(&sessions.Memory{})
	alone := send(t, e, "a", card)
	send(t, e, "b", "48000 lb dozer, 4x 1/2 g70 direct")
	if d := cmp.Diff(send(t, e, "a", card), alone); d != "" {
		t.Errorf("another chat changed the answer:\n%s", d)
	}
	if d := cmp.Diff(send(t, e, "c", card), alone); d != "" {
		t.Errorf("a new chat is answered differently:\n%s", d)
	}
}

func TestHandle_panicIsAnsweredAndLeavesTheChatAsItWas(t *testing.T) {
	store := &sessions.Memory{}
	e := New(store)
	send(t, e, "a", card)
	before, _ := store.Look(t.Context(), "a", "")

	log := slog.Default()
	slog.SetDefault(slog.New(slog.DiscardHandler))
	defer slog.SetDefault(log)
	e.step = func(talk.State, talk.Event, time.Time) (talk.State, talk.Reply) { panic("a fault in a step") }
	poison := in("9", "a", "poison")
	r, err := e.Handle(t.Context(), poison)
	if err != nil {
		t.Fatal(err)
	}
	if data := string(r.Bodies[0].Data); !strings.Contains(data, `"verdict":"unread"`) || !strings.Contains(data, "poison") {
		t.Errorf("the message is not given back as unread: %s", data)
	}
	if r.Bodies[0].Text == "" {
		t.Error("no apology")
	}
	after, _ := store.Look(t.Context(), "a", "9")
	if string(after.State) != string(before.State) {
		t.Errorf("the state changed from %s to %s", before.State, after.State)
	}
	if !after.Seen {
		t.Error("the message is not marked as handled")
	}

	e.step = talk.Step
	if again, _ := e.Handle(t.Context(), poison); !cmp.Equal(again, r) {
		t.Errorf("delivered again it is answered %v, want %v", again, r)
	}
	if got, want := send(t, e, "a", "what do I need"), send(t, New(store), "a", "", "what do I need"); !cmp.Equal(got, want) {
		t.Errorf("the chat goes on with %v, want %v", got, want)
	}
}

func TestHandle_dataIsMadeWhereItIsWanted(t *testing.T) {
	e := New(&sessions.Memory{})
	with, without := in("1", "a", card), in("1", "b", card)
	without.Data = false
	a, err := e.Handle(t.Context(), with)
	if err != nil {
		t.Fatal(err)
	}
	b, err := e.Handle(t.Context(), without)
	if err != nil {
		t.Fatal(err)
	}
	if a.Bodies[0].Data == nil || b.Bodies[0].Data != nil || a.Bodies[0].Text != b.Bodies[0].Text {
		t.Errorf("with data %+v, without %+v", a.Bodies[0], b.Bodies[0])
	}
}

func TestHandle_brokenBytesAreMarkedOnce(t *testing.T) {
	e := New(&sessions.Memory{})
	var got string
	e.step = func(s talk.State, ev talk.Event, _ time.Time) (talk.State, talk.Reply) {
		got = ev.Text
		return s, apology(ev.Text, "fault")
	}
	send(t, e, "a", "roller \xff\xfe 14000")
	if want := "roller \uFFFD 14000"; got != want {
		t.Errorf("the step reads %q, want %q", got, want)
	}
}

func TestHandle_oneChatInOrderOthersBesideIt(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		e := New(&sessions.Memory{})
		var mu sync.Mutex
		var order []string
		busy := make(chan struct{})
		e.step = func(s talk.State, ev talk.Event, _ time.Time) (talk.State, talk.Reply) {
			if ev.Text == "slow" {
				<-busy
			}
			mu.Lock()
			defer mu.Unlock()
			order = append(order, ev.Text)
			return s, apology(ev.Text, "fault")
		}
		var all sync.WaitGroup
		start := func(chat, text string) {
			all.Go(func() { e.Handle(t.Context(), in(text, chat, text)) })
			synctest.Wait() // it holds its lane, waits for it, or is through
		}
		start("a", "slow")
		start("a", "second")
		start("a", "third")
		start(otherLane(e, "a"), "beside")
		close(busy)
		all.Wait()
		if want := []string{"beside", "slow", "second", "third"}; !slices.Equal(order, want) {
			t.Errorf("handled in the order %q, want %q", order, want)
		}
	})
}

func TestHandle_waitingEndsWithItsContext(t *testing.T) {
	store := &sessions.Memory{}
	e := New(store)
	lane := e.lanes[e.lane("a")].busy
	lane <- struct{}{}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := e.Handle(ctx, in("1", "a", card)); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v, want %v", err, context.Canceled)
	}
	if s, _ := store.Look(t.Context(), "a", "1"); s.Seen {
		t.Error("it was stored all the same")
	}
	<-lane
	send(t, e, "a", card) // the lane is free
}

func TestHandle_nothingIsAnsweredThatWasNotStored(t *testing.T) {
	full := errors.New("disk full")
	store := &failing{commit: full}
	e := New(store)
	event := in("1", "a", card)
	if r, err := e.Handle(t.Context(), event); !errors.Is(err, full) || r.Bodies != nil {
		t.Errorf("got %v, %v, want no bodies and %v", r, err, full)
	}
	store.commit = nil
	r, err := e.Handle(t.Context(), event)
	if err != nil {
		t.Fatal(err)
	}
	if want := send(t, New(&sessions.Memory{}), "a", card); !cmp.Equal(r.Bodies, []wire.Body{want}) {
		t.Errorf("delivered again it is answered %v, want %v", r.Bodies, want)
	}
	store.look = errors.New("no such file")
	if _, err := e.Handle(t.Context(), in("2", "a", card)); !errors.Is(err, store.look) {
		t.Errorf("got %v, want %v", err, store.look)
	}
}

// The states kept in hand are no second truth: the store's is.
func TestHandle_storedStateGoesBeforeTheOneInHand(t *testing.T) {
	store := &sessions.Memory{}
	e := New(store)
	send(t, e, "a", card)
	send(t, e, "b", "48000 lb dozer, 4x 1/2 g70 direct")
	of, _ := store.Look(t.Context(), "b", "")
	store.Commit(t.Context(), sessions.Change{Chat: "a", Event: "from elsewhere", State: of.State})
	if d := cmp.Diff(send(t, e, "b", "", "why"), send(t, e, "a", "", "why")); d != "" {
		t.Error(d)
	}
	lane := &e.lanes[e.lane("a")]
	for i := range 3 * len(lane.known) { // more chats than are kept
		lane.keep(fmt.Sprint(i), []byte("{}"), talk.State{})
	}
	if d := cmp.Diff(send(t, e, "b", "", "", "what do I need"), send(t, e, "a", "", "", "what do I need")); d != "" {
		t.Error(d)
	}
}

// failing is a store whose calls fail when told to.
type failing struct {
	sessions.Memory
	look, commit error
}

func (f *failing) Look(ctx context.Context, chat, event string) (sessions.Snapshot, error) {
	if f.look != nil {
		return sessions.Snapshot{}, f.look
	}
	return f.Memory.Look(ctx, chat, event)
}

func (f *failing) Commit(ctx context.Context, c sessions.Change) error {
	if f.commit != nil {
		return f.commit
	}
	return f.Memory.Commit(ctx, c)
}

// otherLane is the name of a chat that does not share the lane of chat.
func otherLane(e *Engine, chat string) string {
	for i := 0; ; i++ {
		if name := fmt.Sprint("other ", i); e.lane(name) != e.lane(chat) {
			return name
		}
	}
}
