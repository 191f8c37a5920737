package sessions

import (
	"bytes"
	"cmp"
	"context"
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	gocmp "github.com/google/go-cmp/cmp"
	"go.etcd.io/bbolt"
	"pgregory.net/rapid"
)

// store is what both stores do.
type store interface {
	Look(ctx context.Context, chat, event string) (Snapshot, error)
	Commit(ctx context.Context, c Change) error
	Log(ctx context.Context, chat string) ([]Entry, error)
	Waiting(ctx context.Context) ([]string, error)
	Next(ctx context.Context, chat string) (Row, bool, error)
	Sent(ctx context.Context, r Row, id string) error
	Later(ctx context.Context, r Row, notBefore time.Time) error
	Drop(ctx context.Context, chat string) error
	Move(ctx context.Context, m Move) error
	Aside(ctx context.Context) ([]Aside, error)
	Sweep(ctx context.Context, before time.Time) error
}

var noon = time.Date(2026, 6, 1, 12, 0, 0, 0, time.UTC)

// open is a store in a file of its own, checked and closed after the test.
func open(t testing.TB, path string) *DB {
	t.Helper()
	d, err := Open(path)
	must(t, err)
	d.file.NoSync = true // no test pulls the plug of the machine
	t.Cleanup(func() { must(t, d.Check()); must(t, d.Close()) })
	return d
}

// onBoth runs a test on a store in memory and on one in a file.
func onBoth(t *testing.T, do func(t *testing.T, s store)) {
	t.Run("memory", func(t *testing.T) { do(t, &Memory{}) })
	t.Run("file", func(t *testing.T) { do(t, open(t, filepath.Join(t.TempDir(), "store"))) })
}

func look(t testing.TB, s store, chat, event string) Snapshot {
	t.Helper()
	got, err := s.Look(context.Background(), chat, event)
	must(t, err)
	return got
}

func commit(t testing.TB, s store, c Change) {
	t.Helper()
	must(t, s.Commit(context.Background(), c))
}

func must(t tester, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// next is the oldest row of a chat that must have one.
func next(t testing.TB, s store, chat string) Row {
	t.Helper()
	r, ok, err := s.Next(context.Background(), chat)
	must(t, err)
	if !ok {
		t.Fatalf("chat %q has no row", chat)
	}
	return r
}

func empty(t testing.TB, s store, chat string) {
	t.Helper()
	if r, ok, err := s.Next(context.Background(), chat); ok || err != nil {
		t.Errorf("chat %q has the row %+v, %v", chat, r, err)
	}
}

func bodies(texts ...string) (list [][]byte) {
	for _, text := range texts {
		list = append(list, []byte(text))
	}
	return list
}

func TestLook_chatNotHeardOfIsEmpty(t *testing.T) {
	onBoth(t, func(t *testing.T, s store) {
		if got := look(t, s, "a", "1"); !gocmp.Equal(got, Snapshot{}) {
			t.Errorf("got %v", got)
		}
	})
}

func TestCommit_sameEventTwiceChangesNothing(t *testing.T) {
	onBoth(t, func(t *testing.T, s store) {
		commit(t, s, Change{Chat: "a", Event: "1", State: []byte("one"), Bodies: bodies("first", "", "more"), Send: true})
		commit(t, s, Change{Chat: "a", Event: "1", State: []byte("two"), Bodies: bodies("second"), Send: true})
		want := Snapshot{State: []byte("one"), Seen: true, Bodies: bodies("first", "", "more")}
		want.Bodies[1] = []byte{}
		if d := gocmp.Diff(want, look(t, s, "a", "1")); d != "" {
			t.Error(d)
		}
		for _, want := range []string{"first", "", "more"} {
			r := next(t, s, "a")
			if string(r.Body) != want {
				t.Errorf("the outbox holds %q, want %q", r.Body, want)
			}
			must(t, s.Sent(t.Context(), r, ""))
		}
		empty(t, s, "a")
	})
}

func TestCommit_noStateLeavesTheState(t *testing.T) {
	onBoth(t, func(t *testing.T, s store) {
		commit(t, s, Change{Chat: "a", Event: "1", State: []byte("one")})
		commit(t, s, Change{Chat: "a", Event: "2"})
		if got := look(t, s, "a", "2"); string(got.State) != "one" || !got.Seen {
			t.Errorf("got %v", got)
		}
	})
}

func TestCommit_sameEventIDInTwoChatsIsTwoEvents(t *testing.T) {
	onBoth(t, func(t *testing.T, s store) {
		commit(t, s, Change{Chat: "a", Event: "1", State: []byte("of a")})
		if got := look(t, s, "b", "1"); got.Seen || got.State != nil {
			t.Errorf("chat b knows %v", got)
		}
		commit(t, s, Change{Chat: "b", Event: "1", State: []byte("of b")})
		if a, b := look(t, s, "a", "1"), look(t, s, "b", "1"); string(a.State) != "of a" || string(b.State) != "of b" {
			t.Errorf("a %s, b %s", a.State, b.State)
		}
	})
}

// A chat whose name begins another's, or holds odd bytes, is a chat of its own.
func TestCommit_anyNameIsAName(t *testing.T) {
	names := []string{"", "a", "ab", "a\x00b", "a\x00", "\x00", "\x00\x01a", "ä", "\xff", strings.Repeat("a", 300)}
	onBoth(t, func(t *testing.T, s store) {
		for _, chat := range names {
			for _, event := range names {
				commit(t, s, Change{Chat: chat, Event: event, State: []byte("of " + chat), Bodies: bodies(chat + "/" + event), Send: true})
			}
		}
		waiting, err := s.Waiting(t.Context())
		must(t, err)
		slices.Sort(waiting)
		if want := slices.Sorted(slices.Values(names)); !slices.Equal(waiting, want) {
			t.Errorf("waiting are %q, want %q", waiting, want)
		}
		must(t, s.Drop(t.Context(), "a"))
		empty(t, s, "a")
		for _, chat := range names {
			for _, event := range names {
				got := look(t, s, chat, event)
				if string(got.State) != "of "+chat || string(got.Bodies[0]) != chat+"/"+event {
					t.Errorf("chat %q event %q: %+v", chat, event, got)
				}
				if chat == "a" {
					continue
				}
				r := next(t, s, chat)
				if string(r.Body) != chat+"/"+event || r.Event != event {
					t.Errorf("chat %q: the outbox holds %+v", chat, r)
				}
				must(t, s.Sent(t.Context(), r, "id"))
			}
		}
	})
}

func TestCommit_manyChatsAtOnce(t *testing.T) {
	onBoth(t, func(t *testing.T, s store) {
		var all sync.WaitGroup
		for i := range 20 {
			all.Go(func() {
				chat := fmt.Sprint(i)
				for j := range 50 {
					if err := s.Commit(t.Context(), Change{Chat: chat, Event: fmt.Sprint(j), State: fmt.Append(nil, chat, " ", j)}); err != nil {
						t.Error(err)
					}
				}
			})
		}
		all.Wait()
		for i := range 20 {
			if got, want := string(look(t, s, fmt.Sprint(i), "49").State), fmt.Sprint(i, " ", 49); got != want {
				t.Errorf("chat %d ends at %q, want %q", i, got, want)
			}
		}
	})
}

func TestOutbox_rowsComeInOrderAndWait(t *testing.T) {
	onBoth(t, func(t *testing.T, s store) {
		for i := range 300 { // more than one byte of a number
			commit(t, s, Change{Chat: "a", Event: fmt.Sprint(i), Bodies: bodies(fmt.Sprint(i)), Send: true})
		}
		commit(t, s, Change{Chat: "b", Event: "1", Bodies: bodies("not to send")})
		empty(t, s, "b")

		r := next(t, s, "a")
		must(t, s.Later(t.Context(), r, noon))
		must(t, s.Later(t.Context(), next(t, s, "a"), noon.Add(time.Hour)))
		want := Row{Chat: "a", Seq: r.Seq, Event: "0", Body: []byte("0"), Tries: 2, NotBefore: noon.Add(time.Hour)}
		if d := gocmp.Diff(want, next(t, s, "a")); d != "" {
			t.Error(d)
		}
		for i := range 300 {
			r := next(t, s, "a")
			if string(r.Body) != fmt.Sprint(i) {
				t.Fatalf("row %d holds %q", i, r.Body)
			}
			must(t, s.Sent(t.Context(), r, ""))
		}
		if waiting, err := s.Waiting(t.Context()); len(waiting) > 0 || err != nil {
			t.Errorf("waiting are %q, %v", waiting, err)
		}
	})
}

func TestOutbox_answerToAnEditReplacesTheOneSent(t *testing.T) {
	onBoth(t, func(t *testing.T, s store) {
		commit(t, s, Change{Chat: "a", Event: "1", Bodies: bodies("first", "its rest"), Send: true})
		must(t, s.Sent(t.Context(), next(t, s, "a"), "id 1"))
		must(t, s.Sent(t.Context(), next(t, s, "a"), "id 2"))
		commit(t, s, Change{Chat: "a", Event: "1 edited", For: "1", Bodies: bodies("better", "better rest", "more"), Send: true})
		for _, want := range []string{"id 1", "id 2", ""} {
			r := next(t, s, "a")
			if r.Replaces != want || r.Event != "1" {
				t.Errorf("%q replaces %q of event %q, want %q", r.Body, r.Replaces, r.Event, want)
			}
			must(t, s.Sent(t.Context(), r, "another "+want))
		}
		commit(t, s, Change{Chat: "a", Event: "1 again", For: "1", Bodies: bodies("best"), Send: true})
		if r := next(t, s, "a"); r.Replaces != "another id 1" {
			t.Errorf("edited again it replaces %q", r.Replaces)
		}
	})
}

func TestOutbox_rowRemovedMeanwhileStaysAway(t *testing.T) {
	onBoth(t, func(t *testing.T, s store) {
		commit(t, s, Change{Chat: "a", Event: "1", Bodies: bodies("x"), Send: true})
		r := next(t, s, "a")
		must(t, s.Drop(t.Context(), "a"))
		must(t, s.Later(t.Context(), r, noon))
		must(t, s.Sent(t.Context(), r, "id"))
		empty(t, s, "a")
		must(t, s.Drop(t.Context(), "never heard of"))
	})
}

func TestMove_allGoesToTheNewName(t *testing.T) {
	onBoth(t, func(t *testing.T, s store) {
		commit(t, s, Change{Chat: "group", Event: "1", State: []byte("gear"), Bodies: bodies("one"), Send: true})
		must(t, s.Sent(t.Context(), next(t, s, "group"), "id 1"))
		commit(t, s, Change{Chat: "group", Event: "2", State: []byte("gear and load"), Bodies: bodies("two"), Send: true})
		commit(t, s, Change{Chat: "groups", Event: "1", State: []byte("of others")})
		must(t, s.Move(t.Context(), Move{From: "group", To: "super"}))

		want := Snapshot{State: []byte("gear and load"), Seen: true, Bodies: bodies("one"), MovedTo: "super"}
		if d := gocmp.Diff(want, look(t, s, "group", "1")); d != "" {
			t.Errorf("what comes under the old name is not known: %s", d)
		}
		empty(t, s, "group")
		want.MovedTo = ""
		if d := gocmp.Diff(want, look(t, s, "super", "1")); d != "" {
			t.Error(d)
		}
		if r := next(t, s, "super"); r.Chat != "super" || string(r.Body) != "two" {
			t.Errorf("the outbox holds %+v", r)
		} else {
			must(t, s.Sent(t.Context(), r, ""))
		}
		commit(t, s, Change{Chat: "super", Event: "1 edited", For: "1", Bodies: bodies("better"), Send: true})
		if r := next(t, s, "super"); r.Replaces != "" {
			t.Errorf("an edit replaces message %q of the new chat, which was one of the old", r.Replaces)
		}
		if got := look(t, s, "groups", "1"); string(got.State) != "of others" {
			t.Errorf("another chat has %+v", got)
		}
		must(t, s.Move(t.Context(), Move{From: "group", To: "super"}))
		must(t, s.Move(t.Context(), Move{From: "super", To: "super"}))
		if got := look(t, s, "super", "2"); string(got.State) != "gear and load" || !got.Seen {
			t.Errorf("moved again: %+v", got)
		}
	})
}

func TestMove_nameInUseKeepsItsStateAndSendsTheOldFirst(t *testing.T) {
	onBoth(t, func(t *testing.T, s store) {
		for i := range 3 {
			commit(t, s, Change{Chat: "group", Event: fmt.Sprint("old ", i), State: []byte("old"), Bodies: bodies(fmt.Sprint("old ", i)), Send: true})
		}
		for i := range 2 {
			commit(t, s, Change{Chat: "super", Event: fmt.Sprint("new ", i), State: []byte("new"), Bodies: bodies(fmt.Sprint("new ", i)), Send: true})
		}
		must(t, s.Move(t.Context(), Move{From: "group", To: "super"}))
		commit(t, s, Change{Chat: "super", Event: "new 2", Bodies: bodies("new 2"), Send: true})
		for _, want := range []string{"old 0", "old 1", "old 2", "new 0", "new 1", "new 2"} {
			r := next(t, s, "super")
			if string(r.Body) != want || r.Event != want {
				t.Errorf("the outbox holds %+v, want %q", r, want)
			}
			must(t, s.Sent(t.Context(), r, ""))
			got := look(t, s, "super", want)
			if d := gocmp.Diff(Snapshot{State: []byte("new"), Seen: true, Bodies: bodies(want)}, got); d != "" {
				t.Error(d)
			}
		}
	})
}

func TestSweep_oldEventsAreForgottenAndTheStateStays(t *testing.T) {
	onBoth(t, func(t *testing.T, s store) {
		for i := range 2*sweepBatch + 7 {
			for chat, age := range map[string]time.Duration{"old": time.Second, "young": 0, "both": time.Duration(i%2) * time.Second} {
				commit(t, s, Change{Chat: chat, Event: fmt.Sprint(i), At: noon.Add(-age), State: []byte("kept"), Bodies: bodies("answer")})
			}
			if i == 20 && testing.Short() {
				break
			}
		}
		commit(t, s, Change{Chat: "old", Event: "1 edited", For: "1", At: noon.Add(-time.Second), Bodies: bodies("late"), Send: true})
		must(t, s.Sent(t.Context(), next(t, s, "old"), "id"))
		commit(t, s, Change{Chat: "old", Event: "unsent", At: noon.Add(-time.Second), Bodies: bodies("unsent"), Send: true})
		must(t, s.Sweep(t.Context(), noon))
		for _, c := range []struct {
			chat, event string
			seen        bool
		}{{"old", "0", false}, {"old", "20", false}, {"young", "0", true}, {"young", "20", true}, {"both", "0", true}, {"both", "1", false}} {
			got := look(t, s, c.chat, c.event)
			if got.Seen != c.seen || (got.Bodies != nil) != c.seen || string(got.State) != "kept" {
				t.Errorf("chat %s event %s: %+v", c.chat, c.event, got)
			}
		}
		if r := next(t, s, "old"); string(r.Body) != "unsent" {
			t.Errorf("the outbox holds %+v", r)
		}
		must(t, s.Drop(t.Context(), "old"))
		commit(t, s, Change{Chat: "old", Event: "1 edited again", For: "1", At: noon, Bodies: bodies("x"), Send: true})
		if r := next(t, s, "old"); r.Replaces != "" {
			t.Errorf("a swept event is still known to be answered as %q", r.Replaces)
		}
		commit(t, s, Change{Chat: "old", Event: "20", At: noon, State: []byte("told again")})
		if got := look(t, s, "old", "20"); string(got.State) != "told again" {
			t.Errorf("an event swept and delivered again: %+v", got)
		}
	})
}

func TestCommit_forgettingLeavesTheMarksOnly(t *testing.T) {
	onBoth(t, func(t *testing.T, s store) {
		commit(t, s, Change{Chat: "a", Event: "1", State: []byte("secret"), Bodies: bodies("secret"), Send: true, Log: []Entry{{1, []byte("secret")}}})
		must(t, s.Sent(t.Context(), next(t, s, "a"), "id"))
		commit(t, s, Change{Chat: "a", Event: "1b", State: []byte("secret"), Bodies: bodies("not sent yet"), Send: true})
		commit(t, s, Change{Chat: "b", Event: "1", State: []byte("b's"), Bodies: bodies("b's"), Log: []Entry{{1, []byte("b's")}}})
		commit(t, s, Change{Chat: "a", Event: "2", State: []byte("nothing"), Bodies: bodies("forgotten"), Send: true, Forget: true})
		if d := gocmp.Diff(Snapshot{Seen: true}, look(t, s, "a", "1")); d != "" {
			t.Error(d)
		}
		if got := look(t, s, "a", "2"); !got.Seen || got.Bodies != nil {
			t.Errorf("the answer to it is kept beside the outbox: %q", got.Bodies)
		}
		r := next(t, s, "a")
		if string(r.Body) != "forgotten" {
			t.Errorf("the outbox holds %+v", r)
		}
		for _, event := range []string{"1", "1b", "2"} {
			commit(t, s, Change{Chat: "a", Event: event, State: []byte("secret"), Bodies: bodies("secret"), Log: []Entry{{1, []byte("secret")}}})
			if got := look(t, s, "a", event); got.State != nil || !got.Seen {
				t.Errorf("delivered again it comes back: %q", got.State)
			}
		}
		if log, err := s.Log(t.Context(), "a"); len(log) > 0 || err != nil {
			t.Errorf("the log holds %v, %v", log, err)
		}
		if got := look(t, s, "b", "1"); string(got.State) != "b's" || got.Bodies == nil {
			t.Errorf("chat b has %+v", got)
		}
		commit(t, s, Change{Chat: "a", Event: "3", State: []byte("new"), Bodies: bodies("welcome"), Send: true})
		must(t, s.Sent(t.Context(), r, "id 2"))
		if r := next(t, s, "a"); string(r.Body) != "welcome" {
			t.Errorf("the outbox holds %+v", r)
		}
	})
}

// The name of the chat and what it told are looked for in the bytes of every
// bucket, not through the store.
func TestCommit_forgottenChatIsNowhereInTheFile(t *testing.T) {
	for name, send := range map[string]bool{"answered through the outbox": true, "answered at once": false} {
		t.Run(name, func(t *testing.T) {
			d := open(t, filepath.Join(t.TempDir(), "store"))
			commit(t, d, Change{Chat: "tg:4711", Event: "roller-event", State: []byte("roller"), Bodies: bodies("roller"), Send: send, Log: []Entry{{1, []byte("roller")}}})
			if send {
				must(t, d.Sent(t.Context(), next(t, d, "tg:4711"), "roller-id"))
			}
			commit(t, d, Change{Chat: "tg:4711", Event: "roller-2", State: []byte("roller"), Bodies: bodies("roller"), Send: send})
			commit(t, d, Change{Chat: "tg:47110", Event: "1", State: []byte("another's"), Bodies: bodies("another's"), Send: send})
			commit(t, d, Change{Chat: "tg:4711", Event: "roller-3", Bodies: bodies("forgotten"), Send: send, Forget: true})
			if send {
				must(t, d.Sent(t.Context(), next(t, d, "tg:4711"), "roller-id"))
			}
			must(t, d.file.View(func(tx *bbolt.Tx) error {
				n := 0
				err := tx.ForEach(func(bucket []byte, b *bbolt.Bucket) error {
					return b.ForEach(func(k, v []byte) error {
						n++
						for _, told := range []string{"roller", string(name4711)} {
							if bytes.Contains(k, []byte(told)) || bytes.Contains(v, []byte(told)) {
								t.Errorf("bucket %s still holds %q: %q", bucket, k, v)
							}
						}
						return nil
					})
				})
				if n < 5 {
					t.Errorf("looked at %d records only", n)
				}
				return err
			}))
			commit(t, d, Change{Chat: "tg:4711", Event: "roller-event", State: []byte("roller")})
			if got := look(t, d, "tg:4711", "roller-event"); got.State != nil {
				t.Errorf("delivered again it comes back: %q", got.State)
			}
			must(t, d.Sweep(t.Context(), noon.Add(1000*time.Hour)))
			must(t, d.file.View(func(tx *bbolt.Tx) error {
				if k, _ := tx.Bucket(bucketSpent).Cursor().First(); k != nil {
					t.Errorf("swept, %x is left", k)
				}
				return nil
			}))
		})
	}
}

var name4711 = name("tg:4711")

func TestLog_recordsAreWrittenAndTakenOut(t *testing.T) {
	onBoth(t, func(t *testing.T, s store) {
		commit(t, s, Change{Chat: "a", Event: "1", Log: []Entry{{300, []byte("late")}, {2, []byte("early")}}})
		commit(t, s, Change{Chat: "ab", Event: "1", Log: []Entry{{1, []byte("another's")}}})
		commit(t, s, Change{Chat: "a", Event: "1", Log: []Entry{{9, []byte("delivered again")}}})
		commit(t, s, Change{Chat: "a", Event: "2", Log: []Entry{{2, nil}, {256, []byte("middle")}, {7, nil}}})
		log, err := s.Log(t.Context(), "a")
		must(t, err)
		if d := gocmp.Diff([]Entry{{256, []byte("middle")}, {300, []byte("late")}}, log); d != "" {
			t.Error(d)
		}
		must(t, s.Move(t.Context(), Move{From: "a", To: "super"}))
		if moved, _ := s.Log(t.Context(), "super"); !gocmp.Equal(moved, log) {
			t.Errorf("moved, the log holds %v", moved)
		}
		if left, _ := s.Log(t.Context(), "a"); len(left) > 0 {
			t.Errorf("the old name still has %v", left)
		}
	})
}

// Whatever is done to them in whatever order, the file and the memory hold the
// same, also after the file was closed and opened.
func TestStores_areOneInBehaviour(t *testing.T) {
	path := filepath.Join(t.TempDir(), "store")
	rapid.Check(t, func(t *rapid.T) {
		memory := &Memory{}
		file, err := Open(path)
		must(t, err)
		file.file.NoSync = true
		defer func() { file.Close() }()
		must(t, file.file.Update(func(tx *bbolt.Tx) error {
			for _, b := range buckets[1:] {
				if err := deletePrefix(tx.Bucket(b), nil); err != nil {
					return err
				}
			}
			return tx.Bucket(bucketBody).SetSequence(0)
		}))
		both := func(do func(s store) error) {
			must(t, do(memory))
			must(t, do(file))
		}
		chats, events := rapid.SampledFrom([]string{"a", "ab", "c"}), rapid.SampledFrom([]string{"1", "12", "3", "4", "5", "6"})
		n := 0
		t.Repeat(map[string]func(*rapid.T){
			"commit": func(t *rapid.T) {
				n++
				c := Change{Chat: chats.Draw(t, "chat"), Event: events.Draw(t, "event"), At: noon.Add(time.Duration(n) * time.Minute),
					Send: rapid.Bool().Draw(t, "send"), Forget: rapid.IntRange(0, 9).Draw(t, "forget") == 0}
				if rapid.IntRange(0, 9).Draw(t, "aside") == 0 {
					c.Aside = fmt.Append(nil, "aside ", n)
				}
				if rapid.Bool().Draw(t, "rest") {
					c.Rest = fmt.Append(nil, "rest ", n)
				}
				if rapid.Bool().Draw(t, "edit") {
					c.For = events.Draw(t, "for")
				}
				if rapid.Bool().Draw(t, "log") {
					c.Log = []Entry{{uint64(n % 5), fmt.Append(nil, "past ", n)}, {uint64(n % 3), nil}}
				}
				if rapid.Bool().Draw(t, "state") {
					c.State = fmt.Append(nil, "state ", n)
				}
				for i := range rapid.IntRange(0, 3).Draw(t, "bodies") {
					c.Bodies = append(c.Bodies, fmt.Append(nil, "body ", n, i))
				}
				both(func(s store) error { return s.Commit(context.Background(), c) })
			},
			"sent": func(t *rapid.T) {
				r, ok, _ := memory.Next(context.Background(), chats.Draw(t, "chat"))
				if !ok {
					t.Skip("nothing to send")
				}
				n++
				both(func(s store) error { return s.Sent(context.Background(), r, fmt.Sprint("id ", n)) })
			},
			"sent while an edit is answered": func(t *rapid.T) {
				r, ok, _ := memory.Next(context.Background(), chats.Draw(t, "chat"))
				if !ok {
					t.Skip("nothing to send")
				}
				n++
				c := Change{Chat: r.Chat, Event: fmt.Sprint("edit ", n), At: noon, For: r.Event, Send: true, Bodies: bodies("x"), Rest: []byte("rest")}
				both(func(s store) error { return s.Commit(context.Background(), c) })
				both(func(s store) error { return s.Sent(context.Background(), r, fmt.Sprint("id ", n)) })
			},
			"later": func(t *rapid.T) {
				r, ok, _ := memory.Next(context.Background(), chats.Draw(t, "chat"))
				if !ok {
					t.Skip("nothing to send")
				}
				both(func(s store) error { return s.Later(context.Background(), r, noon) })
			},
			"drop": func(t *rapid.T) {
				chat := chats.Draw(t, "chat")
				both(func(s store) error { return s.Drop(context.Background(), chat) })
			},
			"move": func(t *rapid.T) {
				from, to := chats.Draw(t, "from"), chats.Draw(t, "to")
				m := Move{From: from, To: to}
				if rapid.Bool().Draw(t, "state") {
					m.State, m.Aside = fmt.Append(nil, "moved ", n), fmt.Append(nil, "aside ", n)
				}
				if rapid.Bool().Draw(t, "log") {
					m.Log = []Entry{{uint64(n % 5), fmt.Append(nil, "moved ", n)}}
				}
				both(func(s store) error { return s.Move(context.Background(), m) })
			},
			"sweep": func(t *rapid.T) {
				before := noon.Add(time.Duration(rapid.IntRange(0, n).Draw(t, "age")) * time.Minute)
				both(func(s store) error { return s.Sweep(context.Background(), before) })
			},
			"open again": func(t *rapid.T) {
				must(t, file.Close())
				file, err = Open(path)
				must(t, err)
				file.file.NoSync = true
			},
			"": func(t *rapid.T) {
				must(t, file.Check())
				if d := gocmp.Diff(whole(t, memory), whole(t, file)); d != "" {
					t.Errorf("-memory +file\n%s", d)
				}
			},
		})
	})
}

// whole is all that can be seen of a store.
func whole(t tester, s store) map[string]any {
	all := map[string]any{}
	for _, chat := range []string{"a", "ab", "c"} {
		for _, event := range []string{"1", "12", "3", "4", "5", "6"} {
			got, err := s.Look(context.Background(), chat, event)
			must(t, err)
			if len(got.Bodies) == 0 {
				got.Bodies = nil
			}
			all[chat+"/"+event] = got
		}
		log, err := s.Log(context.Background(), chat)
		must(t, err)
		all[chat+" log"] = log
		row, ok, err := s.Next(context.Background(), chat)
		must(t, err)
		if ok {
			all[chat+" next"] = row
		}
	}
	waiting, err := s.Waiting(context.Background())
	must(t, err)
	set := map[string]bool{}
	for _, chat := range waiting {
		set[chat] = true
	}
	all["waiting"] = slices.Sorted(maps.Keys(set))
	aside, err := s.Aside(context.Background())
	must(t, err)
	slices.SortFunc(aside, func(a, b Aside) int {
		return cmp.Or(strings.Compare(a.Chat, b.Chat), strings.Compare(a.Why, b.Why))
	})
	all["aside"] = append([]Aside{}, aside...)
	return all
}

// tester is what a test and a property share.
type tester interface {
	Helper()
	Error(args ...any)
	Fatal(args ...any)
}
