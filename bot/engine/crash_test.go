package engine

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"log/slog"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"halfweight/bot/wire"
	"halfweight/sessions"
)

// The test binary runs itself as the program that is killed.
func TestMain(m *testing.M) {
	if dir := os.Getenv("CRASH_IN"); dir != "" {
		if err := victim(dir); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

const (
	crashChats    = 16
	crashMessages = 40 // of each chat
)

// crashText is message n of a chat. Each leaves a state like no other.
func crashText(n int) string {
	switch {
	case n == 0:
		return "14000 lb roller, lock bar in"
	case n%3 == 1:
		return "add 1x 3/8 g70 over"
	}
	return fmt.Sprintf("it weighs %d lb", 14000+n)
}

func crashIn(chat string, n int) wire.In {
	return wire.In{ID: fmt.Sprint(n), Chat: chat, Text: crashText(n), At: noon.Add(time.Duration(n) * time.Minute)}
}

// did is a line of the files "acknowledged" and "sent" a victim leaves behind.
type did struct {
	Chat string
	N    string // the event
	Text string // sent
}

// The moments a victim may be told to die at.
var crashPoints = []string{"received", "committed", "acknowledged", "before send", "sent", "before removal", "removed"}

// deathbed counts how often its point was passed and dies there.
type deathbed struct {
	point string
	left  atomic.Int64
}

func (d *deathbed) pass(point string) {
	if point == d.point && d.left.Add(-1) == 0 {
		syscall.Kill(os.Getpid(), syscall.SIGKILL)
		select {}
	}
}

// mortal is a store in a file that passes the points of storing.
type mortal struct {
	*sessions.DB
	bed *deathbed
}

func (m *mortal) Commit(ctx context.Context, c sessions.Change) error {
	m.bed.pass("received")
	err := m.DB.Commit(ctx, c)
	m.bed.pass("committed")
	return err
}

func (m *mortal) Sent(ctx context.Context, r sessions.Row, id string) error {
	m.bed.pass("before removal")
	err := m.DB.Sent(ctx, r, id)
	m.bed.pass("removed")
	return err
}

// stream is a transport that delivers what was not acknowledged yet, many chats
// at once, and writes down what it acknowledges and sends.
type stream struct {
	store              *sessions.DB
	bed                *deathbed
	acknowledged, sent *os.File
	next               map[string]int // message of each chat
}

func (*stream) Name() string    { return "tg" }
func (*stream) Caps() wire.Caps { return wire.Caps{} }

func (s *stream) Run(ctx context.Context, deliver func(context.Context, wire.In) ([]wire.Body, error)) error {
	var all sync.WaitGroup
	for i := range crashChats {
		all.Go(func() {
			chat := fmt.Sprint("tg:", i)
			for n := s.next[chat]; n < crashMessages; n++ {
				if _, err := deliver(ctx, crashIn(chat, n)); err != nil {
					panic(err)
				}
				write(s.acknowledged, did{Chat: chat, N: fmt.Sprint(n)})
				s.bed.pass("acknowledged")
			}
		})
	}
	all.Wait()
	for {
		if waiting, err := s.store.Waiting(ctx); err != nil || len(waiting) == 0 {
			return err
		}
		time.Sleep(time.Millisecond)
	}
}

func (s *stream) Send(_ context.Context, chat string, b wire.Body) (string, error) {
	s.bed.pass("before send")
	write(s.sent, did{chat, b.Event, b.Text})
	s.bed.pass("sent")
	return "id", nil
}

// write adds a line to a file. A kill may leave the beginning of one: what it
// says was not done.
func write(f *os.File, d did) {
	line, err := json.Marshal(d)
	if err == nil {
		_, err = f.Write(append(line, '\n'))
	}
	if err != nil {
		panic(err)
	}
}

// read gives the whole lines of a file.
func read(file string) (list []did, err error) {
	data, err := os.ReadFile(file)
	if err != nil && !os.IsNotExist(err) {
		return nil, err
	}
	for line := range bytes.Lines(data) {
		if !bytes.HasSuffix(line, []byte("\n")) {
			break
		}
		var d did
		if err := json.Unmarshal(line, &d); err != nil {
			return nil, fmt.Errorf("read %q: %w", line, err)
		}
		list = append(list, d)
	}
	return list, nil
}

// open opens a file to add lines to, without the beginning of one at its end.
func open(file string) (*os.File, error) {
	data, err := os.ReadFile(file)
	if err != nil && !os.IsNotExist(err) {
		return nil, err
	}
	f, err := os.OpenFile(file, os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o600)
	if err != nil {
		return nil, err
	}
	return f, f.Truncate(int64(bytes.LastIndexByte(data, '\n') + 1))
}

// perChat is what was done, by chat.
func perChat(list []did) map[string][]did {
	chats := map[string][]did{}
	for _, d := range list {
		chats[d.Chat] = append(chats[d.Chat], d)
	}
	return chats
}

// victim is the program that is killed: it goes on where the one before ended.
func victim(dir string) error {
	slog.SetDefault(slog.New(slog.DiscardHandler))
	bed := &deathbed{point: os.Getenv("CRASH_AT")}
	var after int64
	fmt.Sscan(os.Getenv("CRASH_AFTER"), &after)
	bed.left.Store(after)

	store, err := sessions.Open(filepath.Join(dir, "store"))
	if err != nil {
		return err
	}
	done, err := read(filepath.Join(dir, "acknowledged"))
	if err != nil {
		return err
	}
	s := &stream{store: store, bed: bed, next: map[string]int{}}
	for chat, list := range perChat(done) {
		s.next[chat] = len(list)
	}
	for name, f := range map[string]**os.File{"acknowledged": &s.acknowledged, "sent": &s.sent} {
		if *f, err = open(filepath.Join(dir, name)); err != nil {
			return err
		}
	}
	fmt.Println("ready")
	if err := New(&mortal{store, bed}, s).Run(context.Background()); err != nil {
		return err
	}
	return store.Close()
}

// run starts a victim and waits for its end; with a time it is killed that long
// after it got ready. It says whether it was killed.
func run(t *testing.T, dir, point string, after int, in time.Duration) (killed bool) {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), "CRASH_IN="+dir, "CRASH_AT="+point, fmt.Sprint("CRASH_AFTER=", after))
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	if _, err := bufio.NewReader(out).ReadString('\n'); err != nil {
		t.Fatalf("the program did not get ready: %v", err)
	}
	if in > 0 {
		time.Sleep(in)
		cmd.Process.Kill()
	}
	err = cmd.Wait()
	if status, ok := cmd.ProcessState.Sys().(syscall.WaitStatus); ok && status.Signaled() && status.Signal() == syscall.SIGKILL {
		return true
	}
	if err != nil {
		t.Fatalf("the program ended by itself: %v", err)
	}
	return false
}

// truth is what one chat's messages, each handled once, make: the state after
// the first n of them, and what each is answered.
func truth(t *testing.T) (states, answers []string) {
	t.Helper()
	store := &sessions.Memory{}
	e := New(store)
	states = append(states, "")
	for n := range crashMessages {
		r, err := e.Handle(t.Context(), crashIn("tg:0", n))
		if err != nil {
			t.Fatal(err)
		}
		s, _ := store.Look(t.Context(), "tg:0", "")
		if slices.Contains(states, string(s.State)) {
			t.Fatalf("message %d changes nothing: it would not be missed", n)
		}
		states, answers = append(states, string(s.State)), append(answers, r.Bodies[0].Text)
	}
	return states, answers
}

// inspect opens what a killed program left: the file hangs together, and each
// chat's state is that of the acknowledged messages and at most one more.
func inspect(t *testing.T, dir string, states []string) {
	t.Helper()
	store, err := sessions.Open(filepath.Join(dir, "store"))
	if err != nil {
		t.Fatal(err)
	}
	defer store.Close()
	if err := store.Check(); err != nil {
		t.Fatal(err)
	}
	done, err := read(filepath.Join(dir, "acknowledged"))
	if err != nil {
		t.Fatal(err)
	}
	chats := perChat(done)
	for i := range crashChats {
		chat := fmt.Sprint("tg:", i)
		s, err := store.Look(t.Context(), chat, "")
		if err != nil {
			t.Fatal(err)
		}
		n := len(chats[chat])
		if at := slices.Index(states, string(s.State)); at != n && at != n+1 {
			t.Errorf("chat %s: %d messages acknowledged, its state is that after %d: %.300s", chat, n, at, s.State)
		}
	}
}

// conclude lets the program run to its end and looks at the whole: every message
// in the state once, every message answered, in order, and no answer repeated
// more often than the program was killed. It gives how many were.
func conclude(t *testing.T, dir string, kills int, states, answers []string) (repeated int) {
	t.Helper()
	if run(t, dir, "", 0, 0) {
		t.Fatal("it was killed by somebody else")
	}
	inspect(t, dir, states)
	sent, err := read(filepath.Join(dir, "sent"))
	if err != nil {
		t.Fatal(err)
	}
	chats := perChat(sent)
	for i := range crashChats {
		list := chats[fmt.Sprint("tg:", i)]
		again := 0
		at := -1
		for _, d := range list {
			if d.N == fmt.Sprint(at) {
				again++
			} else {
				at++
			}
			if at >= crashMessages || d.N != fmt.Sprint(at) || d.Text != answers[at] {
				t.Fatalf("chat tg:%d: the answer to %s was sent where that to %d belongs: %q", i, d.N, at, d.Text)
			}
		}
		if at != crashMessages-1 || again > kills {
			t.Errorf("chat tg:%d: answered up to message %d of %d, %d answers repeated in %d kills", i, at, crashMessages-1, again, kills)
		}
		repeated += again
	}
	return repeated
}

func TestCrash_atEveryNamedPoint(t *testing.T) {
	states, answers := truth(t)
	passes := []int{1, 2, 7, 30, 90, 200}
	if testing.Short() {
		passes = []int{20}
	}
	for _, point := range crashPoints {
		t.Run(point, func(t *testing.T) {
			dir, kills := t.TempDir(), 0
			for _, n := range passes {
				if run(t, dir, point, n, 0) {
					kills++
				}
				inspect(t, dir, states)
			}
			repeated := conclude(t, dir, kills, states, answers)
			if kills != len(passes) {
				t.Errorf("killed %d times of %d", kills, len(passes))
			}
			if total := crashChats * kills; repeated > total {
				t.Errorf("%d answers repeated", repeated)
			}
			t.Logf("%d kills, %d messages, %d answers sent again", kills, crashChats*crashMessages, repeated)
		})
	}
}

func TestCrash_atRandomMoments(t *testing.T) {
	states, answers := truth(t)
	want := 200
	if testing.Short() {
		want = 10
	}
	kills, repeated, rounds := 0, 0, 0
	for ; kills < want && !t.Failed(); rounds++ {
		dir, here := t.TempDir(), 0
		for kills+here < want && run(t, dir, "", 0, time.Duration(rand.IntN(40_000))*time.Microsecond+1) {
			here++
			inspect(t, dir, states)
		}
		repeated += conclude(t, dir, here, states, answers)
		kills += here
	}
	t.Logf("%d kills, %d messages, %d answers sent again", kills, rounds*crashChats*crashMessages, repeated)
}
