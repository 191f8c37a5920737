package engine

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"halfweight/bot/wire"
	"halfweight/sessions"
)

// A reply that is out but not yet marked when its group becomes a supergroup is
// not sent again there.
func TestHandle_moveWaitsForAReplyOnItsWay(t *testing.T) {
	for _, name := range []string{"of the old chat", "of the new one"} {
		synctest.Test(t, func(t *testing.T) {
			store, f := &sessions.Memory{}, newFake() // which takes a millisecond to send
			e := echo(store, f)
			go func() {
				f.in <- wire.In{ID: "1", Chat: "tg:-5", Text: "g70"}
				time.Sleep(time.Second)
				chat := "tg:-5"
				if name == "of the new one" {
					chat = "tg:-100"
				}
				f.in <- wire.In{ID: "2", Chat: chat, Text: "boom-lock"}
				time.Sleep(time.Millisecond / 2)
				f.in <- wire.In{ID: "3", Chat: "tg:-100", MovedFrom: "tg:-5"}
				f.in <- wire.In{ID: "4", Chat: "tg:-100", Text: "knots"}
			}()
			running(t, e, time.Minute)
			if got := slices.Concat(f.texts("tg:-5"), f.texts("tg:-100")); len(got) != 3 || len(f.texts("tg:-100")) == 0 {
				t.Errorf("%s: 3 messages got %d replies: %.30q", name, len(got), got)
			}
			if got := left(t, store); got != nil || len(e.sender.lines) > 0 || len(e.sender.held) > 0 {
				t.Errorf("%s: waiting %q, lines %v, held %v", name, got, e.sender.lines, e.sender.held)
			}
		})
	}
}

// Where the reply is on its way for long, the move ends with its context and
// leaves all as it was.
func TestHandle_moveWaitsNoLongerThanItsContext(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		store := &sessions.Memory{}
		f := &hanging{newFake()}
		e := New(store, f)
		queue(t, store, "tg:-5", "a")
		go func() {
			time.Sleep(time.Second)
			ctx, cancel := context.WithTimeout(t.Context(), time.Second)
			defer cancel()
			if _, err := e.Handle(ctx, wire.In{ID: "3", Chat: "tg:-100", MovedFrom: "tg:-5"}); err == nil {
				t.Error("it moved")
			}
		}()
		running(t, e, time.Minute)
		if got := left(t, store); !slices.Equal(got, []string{"tg:-5"}) || len(e.sender.held) > 0 {
			t.Errorf("waiting %q, held %v", got, e.sender.held)
		}
	})
}

func TestHandle_shorterAnswerToAnEditCoversTheRestOfTheLonger(t *testing.T) {
	for _, late := range []bool{false, true} {
		synctest.Test(t, func(t *testing.T) {
			store, f := &sessions.Memory{}, newFake()
			f.caps.Length = 120
			if late { // the edit comes while the first of the old answer waits
				f.refuse = func(string, wire.Body) error {
					if time.Since(noon2000) < 10*time.Second {
						return wire.ErrRetry{After: 10 * time.Second}
					}
					return nil
				}
			}
			e := New(store, f)
			long, short := card, "florp"
			go func() {
				f.in <- wire.In{ID: "1", Chat: "tg:1", Text: long}
				time.Sleep(time.Second)
				f.in <- wire.In{ID: "1/edited", Chat: "tg:1", Text: short, Edits: "1"}
				time.Sleep(20 * time.Second)
				f.in <- wire.In{ID: "1/again", Chat: "tg:1", Text: long, Edits: "1"}
			}()
			running(t, e, time.Minute)
			shown, ids := map[string]string{}, []string{} // what stands in the chat, by id
			for i, n := range f.sent {
				id := n.Replaces
				if id == "" {
					id = fmt.Sprint("id ", i+1)
					ids = append(ids, id)
				}
				shown[id] = n.Text
			}
			want := cut([]wire.Body{send(t, New(&sessions.Memory{}), "x", long)}, f.caps.Length)
			if len(want) < 3 {
				t.Fatalf("the long answer has %d parts", len(want))
			}
			for i, b := range want[:min(len(want), len(ids))] {
				if got := shown[ids[i]]; strings.TrimSpace(got) != b.Text {
					t.Errorf("late %v: part %d is %q, want %q", late, i, got, b.Text)
				}
			}
			if len(shown) != len(want) {
				t.Errorf("late %v: %d messages stand in the chat, want %d: %q", late, len(shown), len(want), shown)
			}
			see := 0
			for _, n := range f.sent {
				if n.Text == "(see above)" {
					see++
				}
			}
			if after := len(cut([]wire.Body{send(t, New(&sessions.Memory{}), "y", short)}, f.caps.Length)); !late && see != len(want)-after || late && see != 0 {
				t.Errorf("late %v: %d messages were covered, the short answer has %d parts of %d", late, see, after, len(want))
			}
		})
	}
}
