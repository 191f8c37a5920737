package sessions

import (
	"bytes"
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
	row := next(t, d, "a")
	must(t, d.file.Update(func(tx *bbolt.Tx) error {
		for _, torn := range []struct {
			bucket, key []byte
			leave       int // bytes of its record
		}{{bucketTold, eventKey("a", "1"), 2}, {bucketBody, numberKey(row.Seq + 1), 1}, {bucketOut, outKey("a", row.Seq, 0), 2}} {
			b := tx.Bucket(torn.bucket)
			if err := b.Put(torn.key, bytes.Clone(b.Get(torn.key)[:torn.leave])); err != nil {
				return err
			}
		}
		return nil
	}))
	for _, event := range []string{"1", "2"} {
		if got := look(t, d, "a", event); !got.Seen || got.Bodies != nil || string(got.State) != "state" {
			t.Errorf("event %s: %+v", event, got)
		}
	}
	if r := next(t, d, "a"); r.Seq != row.Seq || r.Body != nil {
		t.Errorf("the torn row: %+v", r)
	}
	must(t, d.Later(t.Context(), next(t, d, "a"), noon))
	must(t, d.Sent(t.Context(), next(t, d, "a"), "id"))
	commit(t, d, Change{Chat: "a", Event: "1 edited", For: "1", State: []byte("new"), Bodies: bodies("last"), Send: true})
	must(t, d.Move(t.Context(), Move{From: "b", To: "a"}))
	commit(t, d, Change{Chat: "c", Event: "1", State: []byte("of c")})
	must(t, d.Move(t.Context(), Move{From: "c", To: "a"})) // numbers all of them anew
	for _, want := range []string{"", "x", "last"} {       // the second can only be given up
		r := next(t, d, "a")
		if string(r.Body) != want {
			t.Errorf("the outbox holds %q, want %q", r.Body, want)
		}
		must(t, d.Sent(t.Context(), r, "id"))
	}
	must(t, d.Sweep(t.Context(), time.UnixMilli(2)))
	for _, event := range []string{"1", "2"} {
		if got := look(t, d, "a", event); got.Seen || string(got.State) != "new" {
			t.Errorf("swept: %+v", got)
		}
	}
}

// A row that waits reads its body from the event, which may go or be another's
// before it is sent.
func TestOutbox_bodyOutlivesItsEvent(t *testing.T) {
	onBoth(t, func(t *testing.T, s store) {
		commit(t, s, Change{Chat: "group", Event: "1", At: noon, Bodies: bodies("old 1", "old 2"), Send: true})
		commit(t, s, Change{Chat: "super", Event: "1", At: noon, Bodies: bodies("new 1"), Send: true})
		must(t, s.Move(t.Context(), Move{From: "group", To: "super"}))
		must(t, s.Sent(t.Context(), next(t, s, "super"), "id"))
		must(t, s.Sweep(t.Context(), noon.Add(time.Second)))
		must(t, s.Later(t.Context(), next(t, s, "super"), noon))
		for _, want := range []string{"old 2", "new 1"} {
			r := next(t, s, "super")
			if string(r.Body) != want || r.Event != "1" {
				t.Errorf("the outbox holds %+v, want %q", r, want)
			}
			must(t, s.Sent(t.Context(), r, "id"))
		}
		empty(t, s, "super")
	})
}

// Of a message that was not seen an edit may be: what answers it is known by the
// message all the same, and is swept like any other.
func TestOutbox_editOfAMessageNotSeenIsReplacedToo(t *testing.T) {
	onBoth(t, func(t *testing.T, s store) {
		edit := Change{Chat: "a", Event: "1 edited", For: "1", At: noon, Bodies: bodies("first"), Send: true}
		commit(t, s, edit)
		must(t, s.Sent(t.Context(), next(t, s, "a"), "id"))
		if got := look(t, s, "a", "1"); got.Seen {
			t.Error("the message itself counts as seen")
		}
		commit(t, s, Change{Chat: "a", Event: "1", At: noon.Add(time.Minute), Bodies: bodies("late"), Send: true})
		if r := next(t, s, "a"); string(r.Body) != "late" || r.Replaces != "id" {
			t.Errorf("the outbox holds %+v", r)
		}
		must(t, s.Drop(t.Context(), "a"))
		edit.Event = "1 edited again"
		commit(t, s, edit)
		if r := next(t, s, "a"); r.Replaces != "id" {
			t.Errorf("edited again it replaces %q", r.Replaces)
		}
		must(t, s.Sweep(t.Context(), noon.Add(time.Hour)))
		if r := next(t, s, "a"); string(r.Body) != "first" || r.Replaces != "" {
			t.Errorf("swept, the outbox holds %+v", r)
		}
	})
}
