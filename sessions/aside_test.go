package sessions

import (
	"path/filepath"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"go.etcd.io/bbolt"
)

func TestOutbox_editSupersedesWhatIsNotSentAndCoversWhatIsLeftOver(t *testing.T) {
	onBoth(t, func(t *testing.T, s store) {
		commit(t, s, Change{Chat: "a", Event: "1", Bodies: bodies("first", "second", "third", "fourth"), Send: true})
		commit(t, s, Change{Chat: "a", Event: "2", Bodies: bodies("of another"), Send: true})
		must(t, s.Sent(t.Context(), next(t, s, "a"), "id 0"))
		must(t, s.Sent(t.Context(), next(t, s, "a"), "id 1"))
		onItsWay := next(t, s, "a")
		commit(t, s, Change{Chat: "a", Event: "1 edited", For: "1", Bodies: bodies("better"), Rest: []byte("see above"), Send: true})
		must(t, s.Sent(t.Context(), onItsWay, "id 2"))
		for _, want := range []Row{
			{N: 0, Event: "2", Body: []byte("of another")},
			{N: 0, Event: "1", Body: []byte("better"), Replaces: "id 0"},
			{N: 1, Event: "1", Body: []byte("see above"), Replaces: "id 1"},
			{N: 2, Event: "1", Body: []byte("see above"), Replaces: "id 2"},
			{N: 3, Event: "1", Body: []byte("see above")}, // never sent
		} {
			r := next(t, s, "a")
			want.Chat, want.Seq = "a", r.Seq
			if d := cmp.Diff(want, r); d != "" {
				t.Error(d)
			}
			must(t, s.Sent(t.Context(), r, r.Replaces))
		}
		commit(t, s, Change{Chat: "a", Event: "1 again", For: "1", Bodies: bodies("a", "b"), Send: true})
		next(t, s, "a")
		must(t, s.Sent(t.Context(), next(t, s, "a"), "id 0"))
		if r := next(t, s, "a"); r.Replaces != "id 1" {
			t.Errorf("longer again: %+v", r)
		}
		must(t, s.Sent(t.Context(), next(t, s, "a"), "id 1"))
		empty(t, s, "a")
	})
}

func TestMove_whatComesUnderTheOldNameLaterIsOfTheNewChat(t *testing.T) {
	onBoth(t, func(t *testing.T, s store) {
		commit(t, s, Change{Chat: "group", Event: "1", State: []byte("one"), Bodies: bodies("first")})
		must(t, s.Move(t.Context(), Move{From: "group", To: "super"}))
		commit(t, s, Change{Chat: "group", Event: "1", State: []byte("one more time")})
		commit(t, s, Change{Chat: "group", Event: "2", State: []byte("two")})
		if got := look(t, s, "super", "2"); string(got.State) != "two" || !got.Seen {
			t.Errorf("the new name has %+v", got)
		}
		must(t, s.Move(t.Context(), Move{From: "not heard of", To: "super"}))
		if got := look(t, s, "not heard of", "2"); got.MovedTo != "super" || !got.Seen {
			t.Errorf("a chat that told nothing before it moved: %+v", got)
		}
		must(t, s.Move(t.Context(), Move{From: "super", To: "group"})) // and back
		if got := look(t, s, "group", "2"); string(got.State) != "two" || got.MovedTo != "" {
			t.Errorf("moved back it has %+v", got)
		}
		if got := look(t, s, "super", "1"); string(got.State) != "two" || got.MovedTo != "group" {
			t.Errorf("the name it had meanwhile has %+v", got)
		}
	})
}

func TestAside_isKeptUntilTheChatIsForgotten(t *testing.T) {
	onBoth(t, func(t *testing.T, s store) {
		commit(t, s, Change{Chat: "a", Event: "1", State: []byte("new"), Aside: []byte("\xffold")})
		commit(t, s, Change{Chat: "b", Event: "1", State: []byte("of b")})
		must(t, s.Sweep(t.Context(), time.Now()))
		must(t, s.Move(t.Context(), Move{From: "a", To: "b", State: []byte("of both"), Aside: []byte("of b")}))
		got, err := s.Aside(t.Context())
		must(t, err)
		if len(got) == 2 && got[0].Why != "1" {
			got[0], got[1] = got[1], got[0]
		}
		if d := cmp.Diff([]Aside{{"b", "1", []byte("\xffold")}, {"b", "a", []byte("of b")}}, got); d != "" {
			t.Error(d)
		}
		if got := look(t, s, "b", "1"); string(got.State) != "of both" {
			t.Errorf("the state is %q", got.State)
		}
		commit(t, s, Change{Chat: "b", Event: "2", State: []byte("nothing"), Forget: true})
		if got, _ := s.Aside(t.Context()); len(got) > 0 {
			t.Errorf("forgotten it is still there: %+v", got)
		}
	})
}

// What is torn in the file concerns one chat, and it goes on.
func TestDB_tornRecordsStopNobody(t *testing.T) {
	d := open(t, filepath.Join(t.TempDir(), "store"))
	for _, event := range []string{"1", "2", "3"} {
		commit(t, d, Change{Chat: "a", Event: event, At: time.UnixMilli(1), State: []byte("state"), Bodies: bodies("x"), Send: true})
	}
	must(t, d.file.Update(func(tx *bbolt.Tx) error {
		for b, key := range map[string][]byte{
			"chat": name("a"), "seen": seenKey("a", "1"), "answer": answerKey("a", 2), "out": outKey("a", 1, 0),
		} {
			if tx.Bucket([]byte(b)).Get(key) == nil {
				t.Fatalf("nothing in %s", b)
			}
			if err := tx.Bucket([]byte(b)).Put(key, []byte{250, 1}); err != nil {
				return err
			}
		}
		return nil
	}))
	if got := look(t, d, "a", "1"); !got.Seen || got.Bodies != nil || string(got.State) != "\xfa\x01" {
		t.Errorf("the first event: %+v", got)
	}
	if got := look(t, d, "a", "2"); !got.Seen || got.Bodies != nil {
		t.Errorf("the second: %+v", got)
	}
	if r := next(t, d, "a"); r.Seq != 1 || r.Body != nil {
		t.Errorf("the torn row: %+v", r)
	}
	must(t, d.Sent(t.Context(), next(t, d, "a"), ""))
	commit(t, d, Change{Chat: "a", Event: "4", State: []byte("new"), Aside: []byte("\xfa\x01"), Bodies: bodies("last"), Send: true})
	must(t, d.Move(t.Context(), Move{From: "b", To: "a"}))
	commit(t, d, Change{Chat: "c", Event: "1", State: []byte("of c")})
	must(t, d.Move(t.Context(), Move{From: "c", To: "a"})) // numbers all of them anew
	for _, want := range []string{"x", "x", "last"} {
		r := next(t, d, "a")
		if string(r.Body) != want {
			t.Errorf("the outbox holds %q, want %q", r.Body, want)
		}
		must(t, d.Sent(t.Context(), r, ""))
	}
	must(t, d.Sweep(t.Context(), time.UnixMilli(2)))
	if got := look(t, d, "a", "1"); got.Seen || string(got.State) != "new" {
		t.Errorf("swept: %+v", got)
	}
}
