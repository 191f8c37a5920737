package sessions

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"go.etcd.io/bbolt"
)

// The test binary runs itself as the second program, and as the one that is
// watched writing.
func TestMain(m *testing.M) {
	if path := os.Getenv("OPEN_STORE"); path != "" {
		_, err := Open(path)
		fmt.Print(err, "\n", errors.Is(err, ErrInUse))
		os.Exit(0)
	}
	if dir := os.Getenv("REPLAY_IN"); dir != "" {
		if err := watched(dir); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	if path := os.Getenv("COUNT_IN"); path != "" {
		n, err := storedIn(path)
		fmt.Print(n, err)
		os.Exit(0)
	}
	os.Exit(m.Run())
}

func TestOpen_secondProgramIsTold(t *testing.T) {
	path := filepath.Join(t.TempDir(), "store")
	d := open(t, path)
	commit(t, d, Change{Chat: "a", Event: "1", State: []byte("one")})
	second := exec.Command(os.Args[0])
	second.Env = append(os.Environ(), "OPEN_STORE="+path)
	start := time.Now()
	said, err := second.CombinedOutput()
	must(t, err)
	if !strings.Contains(string(said), "another program has this file open") || !strings.Contains(string(said), path) || !strings.HasSuffix(string(said), "true") {
		t.Errorf("it is told %q", said)
	}
	if took := time.Since(start); took > 10*time.Second {
		t.Errorf("after %v", took)
	}
	commit(t, d, Change{Chat: "a", Event: "2", State: []byte("two")})
	if got := look(t, d, "a", "1"); string(got.State) != "two" {
		t.Errorf("the first goes on with %q", got.State)
	}
}

func TestOpen_whatWasCommittedIsThereAgain(t *testing.T) {
	path := filepath.Join(t.TempDir(), "store")
	d, err := Open(path)
	must(t, err)
	commit(t, d, Change{Chat: "a", Event: "1", State: []byte("one"), Bodies: bodies("first"), Send: true})
	must(t, d.Close())
	d = open(t, path)
	if got := look(t, d, "a", "1"); string(got.State) != "one" || string(got.Bodies[0]) != "first" {
		t.Errorf("got %+v", got)
	}
	if r := next(t, d, "a"); string(r.Body) != "first" {
		t.Errorf("the outbox holds %+v", r)
	}
}

func TestWriteTo_copyIsTheStoreOfOneMoment(t *testing.T) {
	dir := t.TempDir()
	d := open(t, filepath.Join(dir, "store"))
	for i := range 50 {
		commit(t, d, Change{Chat: fmt.Sprint(i), Event: "1", State: []byte("before"), Bodies: bodies("x"), Send: true})
	}
	f, err := os.Create(filepath.Join(dir, "copy"))
	must(t, err)
	var all sync.WaitGroup
	copying := make(chan struct{})
	all.Go(func() {
		<-copying
		if err := d.Commit(context.Background(), Change{Chat: "0", Event: "2", State: []byte("meanwhile")}); err != nil {
			t.Error(err)
		}
	})
	var once sync.Once
	_, err = d.WriteTo(writer(func(p []byte) (int, error) {
		once.Do(func() { close(copying) })
		return f.Write(p)
	}))
	must(t, errors.Join(err, f.Close()))
	all.Wait()
	c := open(t, f.Name())
	must(t, c.Check())
	for i := range 50 {
		if got := look(t, c, fmt.Sprint(i), "1"); string(got.State) != "before" || string(next(t, c, fmt.Sprint(i)).Body) != "x" {
			t.Errorf("chat %d of the copy: %+v", i, got)
		}
	}
}

type writer func([]byte) (int, error)

func (w writer) Write(p []byte) (int, error) { return w(p) }

func TestClose_laterCommitsAreRefused(t *testing.T) {
	d, err := Open(filepath.Join(t.TempDir(), "store"))
	must(t, err)
	must(t, d.Close())
	if err := d.Commit(t.Context(), Change{Chat: "a", Event: "1"}); !errors.Is(err, errClosed) {
		t.Errorf("got %v", err)
	}
}

func TestCommit_endsWithItsContextWhileNotHandedIn(t *testing.T) {
	d := &DB{jobs: make(chan job), closing: make(chan struct{})} // nobody takes it
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if err := d.Commit(ctx, Change{Chat: "a", Event: "1"}); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}

func TestCommit_nameTooLongIsRefusedAndLeavesNothing(t *testing.T) {
	d := open(t, filepath.Join(t.TempDir(), "store"))
	long := strings.Repeat("a", MaxName+1)
	for _, c := range []Change{{Chat: long, Event: "1"}, {Chat: "a", Event: long}, {Chat: "a", Event: "1", For: long}} {
		c.State = []byte("state")
		if err := d.Commit(t.Context(), c); err == nil {
			t.Error("it was taken")
		}
	}
	if got := look(t, d, "a", "1"); got.Seen || got.State != nil {
		t.Errorf("the store holds %+v", got)
	}
}

// One change that fails takes none of its group with it.
func TestWrite_oneThatFailsIsAlone(t *testing.T) {
	d := open(t, filepath.Join(t.TempDir(), "store"))
	broken := errors.New("broken")
	var group []job
	for i := range 5 {
		c := Change{Chat: fmt.Sprint(i), Event: "1", State: []byte("in")}
		j := job{do: c.put, done: make(chan error, 1)}
		if i == 1 || i == 3 {
			j.do = func(tx *bbolt.Tx) error { c.put(tx); return broken }
		}
		group = append(group, j)
	}
	jobs := append([]job(nil), group...)
	d.write(group)
	for i, j := range jobs {
		err, fails := <-j.done, i == 1 || i == 3
		if errors.Is(err, broken) != fails || look(t, d, fmt.Sprint(i), "1").Seen == fails {
			t.Errorf("change %d: %v, seen %v", i, err, look(t, d, fmt.Sprint(i), "1").Seen)
		}
	}
}

func TestGather_waitsForTheOthersAndNotLong(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := &DB{jobs: make(chan job)}
		var all sync.WaitGroup
		late := func(n int, after time.Duration) {
			for range n {
				all.Go(func() {
					time.Sleep(after)
					select {
					case d.jobs <- job{}:
					case <-time.After(time.Second): // not taken
					}
				})
			}
		}
		for _, c := range []struct {
			name            string
			ready, soon     int
			expected, group int
			took            time.Duration
		}{
			{"alone", 0, 0, 1, 1, 0},
			{"ready ones are taken", 9, 0, 1, 10, 0},
			{"as many as before come", 3, 4, 8, 8, groupWait / 2},
			{"fewer than before come", 3, 0, 8, 4, groupWait},
			{"never too many", groupMost + 40, 0, groupMost + 40, groupMost, 0},
		} {
			late(c.ready, 0)
			late(c.soon, groupWait/2)
			synctest.Wait()
			start := time.Now()
			group := d.gather(job{}, c.expected)
			if took := time.Since(start); len(group) != c.group || took != c.took {
				t.Errorf("%s: %d in %v, want %d in %v", c.name, len(group), took, c.group, c.took)
			}
			all.Wait()
		}
	})
}
