package engine

import (
	"bytes"
	"encoding/json"
	"fmt"
	"log/slog"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"halfweight/bot/talk"
	"halfweight/bot/wire"
	"halfweight/rules"
	"halfweight/sessions"
)

// logged gives what is logged until the test ends.
func logged(t *testing.T) *bytes.Buffer {
	t.Helper()
	text, was := new(bytes.Buffer), slog.Default()
	slog.SetDefault(slog.New(slog.NewTextHandler(text, nil)))
	t.Cleanup(func() { slog.SetDefault(was) })
	return text
}

// A chat whose state is of no use begins anew and is told so; the bytes are kept,
// and no other chat notices.
func TestHandle_stateOfNoUseIsPutAsideAndTheChatGoesOn(t *testing.T) {
	for name, stored := range map[string]string{
		"no JSON":           "not a state",
		"cut off":           `{"v":1,"turns":[{"event":"1","ed`,
		"another type":      `{"v":1,"turns":"many"}`,
		"a list":            `[]`,
		"a later program's": `{"v":2,"load":"somewhere else"}`,
		"makes it panic":    `{"v":1,"turns":[{"event":"1","edits":[{"article":{"id":1,"ties":[{"id":2}]}},{"ids":[2],"do":"restored"}]}]}`,
	} {
		t.Run(name, func(t *testing.T) {
			text := logged(t)
			store := &sessions.Memory{}
			e := New(store)
			send(t, e, "b", card)
			store.Commit(t.Context(), sessions.Change{Chat: "a", Event: "0", State: []byte(stored)})

			told := send(t, e, "a", card)
			for _, words := range []string{"can't read any more", "kept aside", "forget me"} {
				if !strings.Contains(told.Text, words) {
					t.Errorf("it does not say %q: %s", words, told.Text)
				}
			}
			if strings.Contains(string(told.Data), `"covered"`) {
				t.Errorf("something is covered: %s", told.Data)
			}
			aside, err := store.Aside(t.Context())
			if err != nil || len(aside) != 1 || aside[0].Chat != "a" || aside[0].Why != card+"-0" || string(aside[0].State) != stored {
				t.Errorf("put aside is %+v, %v", aside, err)
			}
			if n := strings.Count(text.String(), "put aside"); n != 1 {
				t.Errorf("it is logged %d times:\n%s", n, text)
			}
			again := send(t, e, "a", card) // delivered again
			if d := cmp.Diff(told, again); d != "" {
				t.Error(d)
			}
			if d := cmp.Diff(send(t, e, "b", "", "why"), send(t, e, "a", "", "", card, "why")); d != "" {
				t.Errorf("it does not go on as another chat does: %s", d)
			}
			if aside, _ := store.Aside(t.Context()); len(aside) != 1 {
				t.Errorf("later %d are put aside", len(aside))
			}
			send(t, e, "a", "", "", "", "", "forget me", "yes")
			if aside, _ := store.Aside(t.Context()); len(aside) != 0 {
				t.Errorf("forgotten, it is still put aside: %+v", aside)
			}
		})
	}
}

// Whatever fails by the event's own fault is handled once, and the state stays.
func TestHandle_whatWouldAlwaysFailIsAnsweredWithAnApology(t *testing.T) {
	logged(t)
	step := func(do func(*talk.State, *talk.Reply)) func(talk.State, talk.Event, time.Time) (talk.State, talk.Reply) {
		return func(s talk.State, ev talk.Event, now time.Time) (talk.State, talk.Reply) {
			s, r := talk.Step(s, ev, now)
			if ev.Text == "poison" {
				do(&s, &r)
			}
			return s, r
		}
	}
	for name, do := range map[string]func(*talk.State, *talk.Reply){
		"a state that cannot be written": func(s *talk.State, _ *talk.Reply) { s.Trip.Miles = math.NaN() },
		"a reply that cannot be worded":  func(_ *talk.State, r *talk.Reply) { r.Report = &rules.Report{Articles: make([]rules.Count, 1)} },
	} {
		t.Run(name, func(t *testing.T) {
			store, f := &sessions.Memory{}, newFake()
			f.caps.Buttons = true
			e := New(store, f)
			e.step = step(do)
			send(t, e, "tg:1", card)
			before, _ := store.Look(t.Context(), "tg:1", "")
			r, err := e.Handle(t.Context(), in("9", "tg:1", "poison"))
			if err != nil || len(r.Bodies) != 1 || !strings.Contains(r.Bodies[0].Text, "Something broke") {
				t.Fatalf("%+v, %v", r, err)
			}
			if after, _ := store.Look(t.Context(), "tg:1", "9"); !after.Seen || string(after.State) != string(before.State) {
				t.Errorf("the store has %+v", after)
			}
			if aside, _ := store.Aside(t.Context()); aside != nil {
				t.Errorf("the state was put aside: %+v", aside)
			}
		})
	}
}

func TestHandle_storedAnswerThatCannotBeReadIsNone(t *testing.T) {
	logged(t)
	store := &sessions.Memory{}
	store.Commit(t.Context(), sessions.Change{Chat: "a", Event: "1", State: []byte("{}"), Bodies: [][]byte{[]byte("{")}})
	if r, err := New(store).Handle(t.Context(), in("1", "a", card)); err != nil || r.Bodies != nil {
		t.Errorf("%+v, %v", r, err)
	}
}

func TestHandle_namesTooLongToKeepHoldNobodyUp(t *testing.T) {
	logged(t)
	store, err := sessions.Open(t.TempDir() + "/store")
	if err != nil {
		t.Fatal(err)
	}
	defer store.Close()
	e := New(store)
	long := strings.Repeat("9", sessions.MaxName+1)
	for range 2 {
		if _, err := e.Handle(t.Context(), in(long, "a", "add 1x 3/8 g70 over")); err != nil {
			t.Error(err)
		}
	}
	if s, _ := store.Look(t.Context(), "a", ""); strings.Count(string(s.State), `"Ties"`) > 1 {
		t.Errorf("it counted twice: %s", s.State)
	}
	edit := in("2", "a", card)
	edit.Edits = long
	if _, err := e.Handle(t.Context(), edit); err != nil {
		t.Error(err)
	}
	if r, err := e.Handle(t.Context(), in("1", long, card)); err != nil || r.Bodies != nil {
		t.Errorf("a chat with a long name: %v, %v", r, err)
	}
}

func TestJoined_theStateThatWasToldIsKept(t *testing.T) {
	logged(t)
	other := "48000 lb dozer, 4x 1/2 g70 direct"
	for _, c := range []struct {
		name, was, is string
		want          string // text that the chat's load is the same as after
		aside         bool
	}{
		{"nothing new", card, "", card, false},
		{"help asked", card, "help", card, false},
		{"a new load told", card, other, other, true},
		{"nothing told before", "help", other, other, false},
		{"nothing told at all", "help", "help", "help", false},
	} {
		store := &sessions.Memory{}
		e := New(store)
		send(t, e, "tg:-5", c.was)
		if c.is != "" {
			send(t, e, "tg:-100", c.is)
		}
		for range 2 {
			if _, err := e.Handle(t.Context(), wire.In{ID: "m", Chat: "tg:-100", MovedFrom: "tg:-5"}); err != nil {
				t.Fatal(err)
			}
		}
		want := send(t, New(&sessions.Memory{}), "x", c.want, "why")
		if d := cmp.Diff(want, send(t, e, "tg:-100", "", "why")); d != "" {
			t.Errorf("%s: %s", c.name, d)
		}
		if aside, _ := store.Aside(t.Context()); (len(aside) == 1) != c.aside {
			t.Errorf("%s: put aside %+v", c.name, aside)
		}
	}
}

// What comes late under the old name is of the new chat, and counts once.
func TestHandle_lateEventOfAMovedChatCountsInTheNewOne(t *testing.T) {
	store := &sessions.Memory{}
	e := New(store)
	send(t, e, "tg:-5", card, "add 1x 3/8 g70 over")
	if _, err := e.Handle(t.Context(), wire.In{Chat: "tg:-100", MovedFrom: "tg:-5"}); err != nil {
		t.Fatal(err)
	}
	send(t, e, "tg:-5", card, "add 1x 3/8 g70 over", "add 2x 3/8 g70 over")
	want := send(t, New(&sessions.Memory{}), "x", card, "add 1x 3/8 g70 over", "add 2x 3/8 g70 over", "why")
	if d := cmp.Diff(want, send(t, e, "tg:-100", "", "", "", "why")); d != "" {
		t.Error(d)
	}
}

func body(t *testing.T, r sessions.Row) (b wire.Body) {
	t.Helper()
	if err := json.Unmarshal(r.Body, &b); err != nil {
		t.Fatal(err)
	}
	return b
}

// A row says under which name its chat was heard.
func TestHandle_replyKnowsWhereItWasAsked(t *testing.T) {
	store := &sessions.Memory{}
	e := New(store, newFake())
	for _, id := range []string{"1", "2"} {
		if _, err := e.Handle(t.Context(), wire.In{ID: id, Chat: "tg:-5", Text: card, Press: "q" + id}); err != nil {
			t.Fatal(err)
		}
		if _, err := e.Handle(t.Context(), wire.In{Chat: "tg:-100", MovedFrom: "tg:-5"}); err != nil {
			t.Fatal(err)
		}
	}
	for n := range 2 {
		r, ok, _ := store.Next(t.Context(), "tg:-100")
		if b := body(t, r); !ok || b.Chat != "tg:-5" || b.Press != fmt.Sprint("q", n+1) {
			t.Errorf("row %d: %+v", n, b)
		}
		store.Sent(t.Context(), r, "")
	}
}
