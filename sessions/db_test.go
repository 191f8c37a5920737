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
	d := new(DB) // nobody takes it
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if err := d.Commit(ctx, Change{Chat: "a", Event: "1"}); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}

// What Commit refuses is not waited for either.
func TestCommit_refusedIsNotExpected(t *testing.T) {
	d := open(t, filepath.Join(t.TempDir(), "store"))
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	for _, c := range []struct {
		ctx   context.Context
		event string
	}{{ctx, "1"}, {t.Context(), strings.Repeat("a", MaxName+1)}, {t.Context(), "1"}} {
		d.Expect(1)
		d.Commit(c.ctx, Change{Chat: "a", Event: c.event})
		if n := d.jobs.expected; n != 0 {
			t.Errorf("%d are expected", n)
		}
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

// What is ready is written at once, what is on its way is waited for, and several
// marks wait for a change; none of it for long.
func TestGather_waitsForTheOthersAndNotLong(t *testing.T) {
	for _, c := range []struct {
		name              string
		changes, marks    int // that are there
		expected          int
		later, laterMarks int // that come after a millisecond, of those expected
		given             int // up after a millisecond
		group             int
		took              time.Duration
	}{
		{name: "alone", changes: 1, group: 1},
		{name: "what is ready is taken", changes: 9, marks: 3, group: 12},
		{name: "all expected come", changes: 3, expected: 4, later: 4, group: 7, took: time.Millisecond},
		{name: "some expected do not come", changes: 3, expected: 4, later: 3, group: 6, took: groupWait},
		{name: "some expected are given up", changes: 3, expected: 4, later: 3, given: 1, group: 6, took: time.Millisecond},
		{name: "a mark alone", marks: 1, later: 1, group: 1},
		{name: "marks wait for a change", marks: 2, later: 1, group: 3, took: time.Millisecond},
		{name: "marks do not wait for marks", marks: 2, laterMarks: 5, group: 7, took: markWait},
		{name: "a mark waits for what is expected", marks: 1, expected: 1, group: 1, took: groupWait},
		{name: "never too many", changes: groupMost + 40, expected: 5, group: groupMost},
	} {
		t.Run(c.name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				w := &jobs{changed: make(chan struct{}, 1)}
				add := func(n int, mark bool) {
					for range n {
						w.add(job{mark: mark, expected: !mark})
					}
				}
				add(c.changes, false)
				add(c.marks, true)
				w.expect(c.expected)
				time.AfterFunc(time.Millisecond, func() {
					add(c.later, false)
					add(c.laterMarks, true)
					w.expect(-c.given)
				})
				start := time.Now()
				<-w.changed
				w.gather()
				if group, _ := w.take(); len(group) != c.group || time.Since(start) != c.took {
					t.Errorf("%d in %v, want %d in %v", len(group), time.Since(start), c.group, c.took)
				}
				if left := c.changes + c.marks - c.group; left > 0 && len(w.changed) == 0 {
					t.Errorf("nobody is told of the %d that are left", left)
				}
			})
		})
	}
}
