package sessions

import (
	"bytes"
	"path/filepath"
	"testing"
	"time"

	gocmp "github.com/google/go-cmp/cmp"
	"go.etcd.io/bbolt"
)

func TestCommit_forgettingKeepsTheAnswerThatNothingSends(t *testing.T) {
	onBoth(t, func(t *testing.T, s store) {
		commit(t, s, Change{Chat: "old", Event: "1", State: []byte("secret")})
		must(t, s.Move(t.Context(), Move{From: "old", To: "a"}))
		commit(t, s, Change{Chat: "a", Event: "2", Bodies: bodies("forgotten"), Forget: true})
		for _, chat := range []string{"a", "old"} {
			if d := gocmp.Diff(Snapshot{Seen: true, Bodies: bodies("forgotten")}, look(t, s, chat, "2")); d != "" {
				t.Error(d)
			}
		}
	})
}

// A chat that moved is forgotten under all names it had. What is delivered again
// under any of them, the move too, brings nothing back; what is new is a new chat's.
func TestCommit_forgettingAChatThatMovedForgetsItsNames(t *testing.T) {
	onBoth(t, func(t *testing.T, s store) {
		moves := []Move{{From: "first", To: "second"}, {From: "second", To: "third"}}
		secret := Change{Chat: "first", Event: "1", State: []byte("secret"), Log: []Entry{{1, []byte("secret")}}, Aside: []byte("secret")}
		commit(t, s, secret)
		for _, m := range moves {
			must(t, s.Move(t.Context(), m))
		}
		if log, _ := s.Log(t.Context(), "third"); len(log) != 1 {
			t.Errorf("moved, the log holds %v", log)
		}
		commit(t, s, Change{Chat: "third", Event: "2", State: []byte("secret")})
		must(t, s.Move(t.Context(), Move{From: "other", To: "another"}))
		commit(t, s, Change{Chat: "third", Event: "3", Forget: true})
		for range 2 {
			for _, chat := range []string{"first", "second", "third"} {
				for _, event := range []string{"1", "2", "3"} {
					if d := gocmp.Diff(Snapshot{Seen: true}, look(t, s, chat, event)); d != "" {
						t.Errorf("event %s under %s: %s", event, chat, d)
					}
					c := secret
					c.Chat, c.Event = chat, event
					commit(t, s, c)
				}
			}
			for _, m := range moves {
				must(t, s.Move(t.Context(), m))
			}
		}
		if aside, _ := s.Aside(t.Context()); len(aside) > 0 {
			t.Errorf("still aside: %v", aside)
		}
		if got := look(t, s, "other", ""); got.MovedTo != "another" {
			t.Errorf("another chat's move went too: %+v", got)
		}
		commit(t, s, Change{Chat: "first", Event: "4", State: []byte("new"), Bodies: bodies("welcome"), Send: true})
		must(t, s.Move(t.Context(), Move{From: "first", To: "third"}))
		if got := look(t, s, "first", "4"); got.MovedTo != "third" || string(got.State) != "new" {
			t.Errorf("what is new under an old name is not taken along: %+v", got)
		}
		if r := next(t, s, "third"); string(r.Body) != "welcome" {
			t.Errorf("the outbox holds %+v", r)
		}
	})
}

// What was forgotten under a name stays so when the name moves later.
func TestMove_afterForgettingBringsNothingBack(t *testing.T) {
	onBoth(t, func(t *testing.T, s store) {
		commit(t, s, Change{Chat: "group", Event: "1", State: []byte("secret")})
		commit(t, s, Change{Chat: "group", Event: "2", Bodies: bodies("forgotten"), Send: true, Forget: true})
		must(t, s.Move(t.Context(), Move{From: "group", To: "super"}))
		if d := gocmp.Diff(Snapshot{Seen: true, MovedTo: "super"}, look(t, s, "group", "1")); d != "" {
			t.Error(d)
		}
		commit(t, s, Change{Chat: "group", Event: "1", State: []byte("secret")})
		if got := look(t, s, "super", ""); got.State != nil {
			t.Errorf("delivered again it comes back: %q", got.State)
		}
		if r := next(t, s, "super"); string(r.Body) != "forgotten" {
			t.Errorf("the outbox holds %+v", r)
		}
	})
}

func TestMove_logGoesAlongOnlyWhereTheStateDoes(t *testing.T) {
	onBoth(t, func(t *testing.T, s store) {
		commit(t, s, Change{Chat: "group", Event: "1", State: []byte("old"), Log: []Entry{{1, []byte("old 1")}, {2, []byte("old 2")}}})
		commit(t, s, Change{Chat: "super", Event: "1", State: []byte("new"), Log: []Entry{{1, []byte("new 1")}}})
		must(t, s.Move(t.Context(), Move{From: "group", To: "super", Log: []Entry{{2, []byte("taken over")}}}))
		log, err := s.Log(t.Context(), "super")
		must(t, err)
		if d := gocmp.Diff([]Entry{{1, []byte("new 1")}, {2, []byte("taken over")}}, log); d != "" {
			t.Error(d)
		}
		if log, _ := s.Log(t.Context(), "group"); len(log) > 0 {
			t.Errorf("the old name still has %v", log)
		}
	})
}

// No name that a forgotten chat had is left in the file, looked for in its bytes.
func TestCommit_forgottenChatThatMovedIsNowhereInTheFile(t *testing.T) {
	d := open(t, filepath.Join(t.TempDir(), "store"))
	commit(t, d, Change{Chat: "tg:-4711", Event: "1", State: []byte("roller"), Aside: []byte("roller"), Log: []Entry{{1, []byte("roller")}}})
	move := Move{From: "tg:-4711", To: "tg:-100815"}
	must(t, d.Move(t.Context(), move))
	commit(t, d, Change{Chat: "tg:-100815", Event: "2", State: []byte("roller"), Bodies: bodies("roller"), Send: true})
	commit(t, d, Change{Chat: "tg:-100815", Event: "3", Bodies: bodies("tg:-4711, forgotten"), Send: true, Forget: true})
	must(t, d.Sent(t.Context(), next(t, d, "tg:-100815"), "id"))
	must(t, d.Move(t.Context(), move))
	commit(t, d, Change{Chat: "tg:-4711", Event: "1", State: []byte("roller")})
	left := 0
	must(t, d.file.View(func(tx *bbolt.Tx) error {
		return tx.ForEach(func(bucket []byte, b *bbolt.Bucket) error {
			return b.ForEach(func(k, v []byte) error {
				left++
				for _, told := range []string{"roller", "4711", "100815"} {
					if bytes.Contains(k, []byte(told)) || bytes.Contains(v, []byte(told)) {
						t.Errorf("bucket %s still holds %q: %q", bucket, k, v)
					}
				}
				return nil
			})
		})
	}))
	if left != 8 { // the version; three events under two names; the move
		t.Errorf("%d records are left", left)
	}
	must(t, d.Sweep(t.Context(), noon.Add(1000*time.Hour)))
}
