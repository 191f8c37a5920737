package sessions

import (
	"fmt"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func look(t *testing.T, m *Memory, chat, event string) Snapshot {
	t.Helper()
	s, err := m.Look(t.Context(), chat, event)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func commit(t *testing.T, m *Memory, c Change) {
	t.Helper()
	if err := m.Commit(t.Context(), c); err != nil {
		t.Fatal(err)
	}
}

func TestLook_chatNotHeardOfIsEmpty(t *testing.T) {
	if got := look(t, &Memory{}, "a", "1"); !cmp.Equal(got, Snapshot{}) {
		t.Errorf("got %v", got)
	}
}

func TestCommit_sameEventTwiceChangesNothing(t *testing.T) {
	var m Memory
	commit(t, &m, Change{Chat: "a", Event: "1", State: []byte("one"), Bodies: [][]byte{[]byte("first")}})
	commit(t, &m, Change{Chat: "a", Event: "1", State: []byte("two"), Bodies: [][]byte{[]byte("second")}})
	want := Snapshot{State: []byte("one"), Seen: true, Bodies: [][]byte{[]byte("first")}}
	if d := cmp.Diff(want, look(t, &m, "a", "1")); d != "" {
		t.Error(d)
	}
}

func TestCommit_noStateLeavesTheState(t *testing.T) {
	var m Memory
	commit(t, &m, Change{Chat: "a", Event: "1", State: []byte("one")})
	commit(t, &m, Change{Chat: "a", Event: "2"})
	if got := look(t, &m, "a", "2"); string(got.State) != "one" || !got.Seen {
		t.Errorf("got %v", got)
	}
}

func TestCommit_sameEventIDInTwoChatsIsTwoEvents(t *testing.T) {
	var m Memory
	commit(t, &m, Change{Chat: "a", Event: "1", State: []byte("of a")})
	if got := look(t, &m, "b", "1"); got.Seen || got.State != nil {
		t.Errorf("chat b knows %v", got)
	}
	commit(t, &m, Change{Chat: "b", Event: "1", State: []byte("of b")})
	if a, b := look(t, &m, "a", "1"), look(t, &m, "b", "1"); string(a.State) != "of a" || string(b.State) != "of b" {
		t.Errorf("a %s, b %s", a.State, b.State)
	}
}

func TestMemory_manyChatsAtOnce(t *testing.T) {
	var m Memory
	var all sync.WaitGroup
	for i := range 20 {
		all.Go(func() {
			chat := fmt.Sprint(i)
			for j := range 50 {
				m.Commit(t.Context(), Change{Chat: chat, Event: fmt.Sprint(j), State: fmt.Append(nil, chat, " ", j)})
			}
		})
	}
	all.Wait()
	for i := range 20 {
		if got, want := string(look(t, &m, fmt.Sprint(i), "49").State), fmt.Sprint(i, " ", 49); got != want {
			t.Errorf("chat %d ends at %q, want %q", i, got, want)
		}
	}
}
