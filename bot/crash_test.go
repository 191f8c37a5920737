package main

import (
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"halfweight/bot/engine"
	api "halfweight/bot/telegram/apitest"
	"halfweight/bot/wire"
	"halfweight/sessions"
)

// mortal is serve without Telegram's limits that dies, where it is told to, at a
// point of storing: DIE_AT, passed DIE_AFTER times.
func mortal() {
	c, err := readConfig(os.Args[1:], os.Getenv)
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(exitFailed)
	}
	left, _ := strconv.ParseInt(os.Getenv("DIE_AFTER"), 10, 64)
	bed := &deathbed{point: os.Getenv("DIE_AT")}
	bed.left.Store(left)
	c.noLimit = true
	c.before = func(s engine.Store) engine.Store { return &mortalStore{s, bed} }
	if err := c.run(context.Background()); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(exitFailed)
	}
}

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

type mortalStore struct {
	engine.Store
	bed *deathbed
}

func (m *mortalStore) Commit(ctx context.Context, c sessions.Change) error {
	m.bed.pass("before commit")
	err := m.Store.Commit(ctx, c)
	m.bed.pass("committed")
	return err
}

func (m *mortalStore) Sent(ctx context.Context, r sessions.Row, id string) error {
	m.bed.pass("before removal")
	err := m.Store.Sent(ctx, r, id)
	m.bed.pass("removed")
	return err
}

// The points a program may be killed at: those of storing, in it, and those of
// the network, seen from the other side.
var (
	pointsOfStoring = []string{"before commit", "committed", "before removal", "removed"}
	pointsOfNetwork = []string{"handed out", "acknowledging", "acknowledged", "before send", "sent"}
)

// pointOf is the point of the network that a call passes, "" for none.
func pointOf(c api.Call, done bool, result any, acknowledged bool) string {
	switch {
	case c.Method == "sendMessage" && !done:
		return "before send"
	case c.Method == "sendMessage":
		return "sent"
	case c.Method == "getUpdates" && !done && acknowledged:
		return "acknowledging"
	case c.Method == "getUpdates" && done && result != nil && len(result.([]json.RawMessage)) > 0:
		return "handed out"
	}
	return ""
}

const crashChats = 16

// crash is one file, written to by a program that is killed again and again, and
// the chats that go on talking to it.
type crash struct {
	*api.Server
	t    *testing.T
	data string
	args []string

	mu      sync.Mutex
	updates [crashChats][]int64 // of the messages of each chat
	child   *os.Process
	dieAt   string // a point of the network
	dieIn   int
	offset  string // last asked for

	kills, lost, faults int
	truth               truth
}

func newCrash(t *testing.T, args ...string) *crash {
	t.Helper()
	dir, err := os.MkdirTemp("", "hw") // short: a socket's name has room for 100 characters
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	c := &crash{Server: api.New(), t: t, data: filepath.Join(dir, "bot.db")}
	t.Cleanup(c.Close)
	c.args = append([]string{"-api", c.URL, "-data", c.data, "-listen", "127.0.0.1:0", "-webhook-listen", "127.0.0.1:0", "-per-minute", "0"}, args...)
	c.Watch(c.see)
	c.truth.store = &sessions.Memory{}
	c.truth.engine = engine.New(c.truth.store)
	return c
}

// see kills the program at its point of the network. A message on its way then
// is lost with it.
func (c *crash) see(call api.Call, done bool, result any) (drop bool) {
	c.mu.Lock()
	defer c.mu.Unlock()
	acknowledged := false
	if call.Method == "getUpdates" && !done {
		acknowledged = call.Params["offset"] != c.offset && c.offset != ""
		c.offset = call.Params["offset"]
	}
	point := pointOf(call, done, result, acknowledged)
	counts := c.dieAt == "acknowledged" && point == "acknowledging" // the request has its effect all the same
	if c.dieAt == "" || c.dieAt != point && !counts {
		return false
	}
	if c.dieIn--; c.dieIn > 0 {
		return false
	}
	c.dieAt = ""
	c.child.Kill()
	return !done && !counts
}

// talk has a chat say its next message.
func (c *crash) talk(chat int) {
	c.mu.Lock()
	n := len(c.updates[chat])
	c.mu.Unlock()
	id := c.Update("message", c.Message(api.Private(int64(chat+1)), crashText(n), nil))
	c.mu.Lock()
	c.updates[chat] = append(c.updates[chat], id)
	c.mu.Unlock()
}

// crashText is message n of a chat. Each leaves a state, and is given an answer,
// like no other.
func crashText(n int) string {
	switch {
	case n%12 == 0:
		return fmt.Sprintf("new load %d lb roller, lock bar in, 4x 3/8 g70 direct", 10000+n)
	case n%3 == 1:
		return "add 1x 3/8 g70 over"
	}
	return fmt.Sprintf("it weighs %d lb", 10000+n)
}

// start starts the program; ended gives how it ended.
func (c *crash) start(point string, after int) (log *locked, ended chan error) {
	c.t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Args = append([]string{"mortal"}, c.args...)
	log = new(locked)
	cmd.Stderr = log
	cmd.Env = append(os.Environ(), tokenEnv+"="+api.Token, "DIE_AT="+point, fmt.Sprint("DIE_AFTER=", after))
	c.mu.Lock()
	c.offset, c.dieAt, c.dieIn = "", "", after
	for _, p := range pointsOfNetwork {
		if p == point {
			c.dieAt = point
		}
	}
	err := cmd.Start()
	c.child = cmd.Process
	c.mu.Unlock()
	if err != nil {
		c.t.Fatal(err)
	}
	ended = make(chan error, 1)
	go func() { ended <- cmd.Wait() }()
	return log, ended
}

// kill runs the program under load until it is killed: at a point or, with a
// time, that long after its start.
func (c *crash) kill(point string, after int, in time.Duration) {
	c.t.Helper()
	log, ended := c.start(point, after)
	var timer <-chan time.Time
	if in > 0 {
		timer = time.After(in)
	}
	late, tick := time.After(20*time.Second), time.NewTicker(time.Millisecond)
	defer tick.Stop()
	for hooked := false; ; {
		select {
		case <-tick.C:
			if c.Waiting() < 10*crashChats { // so that it is never out of work, nor far behind
				c.talk(rand.IntN(crashChats))
				c.talk(rand.IntN(crashChats))
			}
			if at := servingAt.FindStringSubmatch(log.String()); !hooked && at != nil {
				c.HookAt(at[2])
				hooked = true
			}
		case <-timer:
			c.child.Kill()
			timer = nil
		case <-late:
			c.child.Kill()
			<-ended
			c.t.Fatalf("it was not killed at %q, pass %d:\n%s", point, after, log)
		case err := <-ended:
			if err == nil || err.Error() != "signal: killed" {
				c.t.Fatalf("the program ended by itself: %v\n%s", err, log)
			}
			c.kills++
			c.inspect()
			return
		}
	}
}

// trouble has some of the next calls fail.
func (c *crash) trouble() {
	again := []api.Failure{
		{Code: 429, Says: "Too Many Requests: retry after 1", RetryAfter: 1},
		{Code: 500, Says: "Internal Server Error"}, {Code: 502, Says: "Bad Gateway"}, {Drop: true}, {DropAfter: true},
	}
	f := again[rand.IntN(len(again))]
	c.Fail("sendMessage", f)
	if f.DropAfter {
		c.faults++ // the message is there and the program does not know
	}
	if rand.IntN(4) == 0 {
		c.Fail("getUpdates", again[1+rand.IntN(len(again)-1)])
	}
}

// truth is what a chat's messages, each handled once, make.
type truth struct {
	store   *sessions.Memory
	engine  *engine.Engine
	states  []string // after the first n messages
	answers []string // to message n
	at      map[string]int
}

func (tr *truth) upTo(t *testing.T, n int) {
	t.Helper()
	if tr.at == nil {
		tr.states, tr.at = []string{""}, map[string]int{"": 0}
	}
	for i := len(tr.answers); i < n; i++ {
		r, err := tr.engine.Handle(t.Context(), wire.In{ID: fmt.Sprint(i), Chat: "x", Text: crashText(i), At: time.Now()})
		if err != nil {
			t.Fatal(err)
		}
		s, _ := tr.store.Look(t.Context(), "x", "")
		state := withoutEvents(s.State)
		if _, ok := tr.at[state]; ok || i > 0 && r.Bodies[0].Text == tr.answers[i-1] {
			t.Fatalf("message %d would not be missed", i)
		}
		tr.states, tr.answers = append(tr.states, state), append(tr.answers, r.Bodies[0].Text)
		tr.at[state] = i + 1
	}
}

var events = regexp.MustCompile(`"(event|last)":"[^"]*"`)

// withoutEvents is a state without the transport's ids.
func withoutEvents(state []byte) string { return string(events.ReplaceAll(state, []byte(`"$1":""`))) }

// inspect opens what a killed program left: the file hangs together, and the
// state of each chat is that of its first messages, all the acknowledged ones
// among them, each once.
func (c *crash) inspect() {
	c.t.Helper()
	store, err := sessions.Open(c.data)
	if err != nil {
		c.t.Fatal(err)
	}
	defer store.Close()
	if err := store.Check(); err != nil {
		c.t.Fatal(err)
	}
	acknowledged := c.Acknowledged()
	for chat := range crashChats {
		n := 0
		for _, id := range c.updates[chat] {
			if id <= acknowledged {
				n++
			}
		}
		c.truth.upTo(c.t, len(c.updates[chat]))
		s, err := store.Look(c.t.Context(), fmt.Sprint("tg:", chat+1), "")
		if err != nil {
			c.t.Fatal(err)
		}
		if at, ok := c.truth.at[withoutEvents(s.State)]; !ok || at < n {
			c.lost++
			c.t.Errorf("chat %d: %d of %d messages acknowledged, its state is that after %d (%v): %.300s", chat, n, len(c.updates[chat]), at, ok, s.State)
		}
	}
}

// conclude lets the program run until all is answered, and looks at the whole:
// every message in the state once, every message answered, in order, and no
// answer repeated more often than the program was killed or cut off. It gives how
// many messages there were and how many answers were repeated.
func (c *crash) conclude() (messages, repeated int) {
	c.t.Helper()
	log, ended := c.start("", 0)
	last := func(chat int) string { return c.truth.answers[len(c.updates[chat])-1] }
	done := c.within(60*time.Second, func() bool {
		if at := servingAt.FindStringSubmatch(log.String()); at != nil {
			c.HookAt(at[2])
		}
		for chat := range crashChats {
			if in := c.In(int64(chat + 1)); len(in) == 0 || in[len(in)-1].Text != last(chat) {
				return false
			}
		}
		return true
	})
	c.child.Kill()
	<-ended
	c.inspect()
	if !done {
		c.t.Errorf("not all was answered:\n%.3000s", log)
	}
	for chat := range crashChats {
		at, again := -1, 0
		for _, m := range c.In(int64(chat + 1)) {
			switch {
			case at >= 0 && m.Text == c.truth.answers[at]:
				again++
			case at+1 < len(c.updates[chat]) && m.Text == c.truth.answers[at+1]:
				at++
			default:
				c.t.Fatalf("chat %d: behind the answer to message %d came\n%s", chat, at, m.Text)
			}
		}
		if at != len(c.updates[chat])-1 || again > c.kills+c.faults {
			c.t.Errorf("chat %d: %d of %d messages answered, %d answers repeated in %d kills and %d dropped connections", chat, at+1, len(c.updates[chat]), again, c.kills, c.faults)
		}
		messages, repeated = messages+len(c.updates[chat]), repeated+again
	}
	return messages, repeated
}

// within waits until ok holds, and says whether it does in time.
func (c *crash) within(most time.Duration, ok func() bool) bool {
	for end := time.Now().Add(most); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if ok() {
			return true
		}
	}
	return ok()
}

func (c *crash) report() {
	c.t.Helper()
	messages, repeated := c.conclude()
	c.t.Logf("%d kills, %d messages, %d states lost or wrong, %d answers sent again, %d connections dropped after a send", c.kills, messages, c.lost, repeated, c.faults)
}

// kills is how many random kills there are: few, or as many as CRASH_KILLS says.
func kills(t *testing.T, few int) int {
	t.Helper()
	if told := os.Getenv("CRASH_KILLS"); told != "" {
		n, err := strconv.Atoi(told)
		if err != nil {
			t.Fatal(err)
		}
		return n
	}
	if testing.Short() {
		return 3
	}
	return few
}

func TestCrash_servingAtEveryNamedPoint(t *testing.T) {
	passes := []int{1, 5, 40}
	if testing.Short() {
		passes = []int{2}
	}
	for _, point := range append(append([]string(nil), pointsOfStoring...), pointsOfNetwork...) {
		t.Run(point, func(t *testing.T) {
			c := newCrash(t)
			for _, n := range passes {
				if point == "handed out" || strings.HasPrefix(point, "acknowledg") {
					n = min(n, 3) // batches, not messages
				}
				c.kill(point, n, 0)
			}
			c.report()
		})
	}
}

func TestCrash_servingAtRandomMoments(t *testing.T) {
	c := newCrash(t)
	for c.kills < kills(t, 30) && !t.Failed() {
		c.trouble()
		c.kill("", 0, time.Duration(10+rand.IntN(190))*time.Millisecond)
	}
	c.report()
}

func TestCrash_servingAWebhookAtRandomMoments(t *testing.T) {
	c := newCrash(t, "-webhook", "http://bot.test/hook")
	for c.kills < kills(t, 15) && !t.Failed() {
		c.trouble()
		c.kill("", 0, time.Duration(10+rand.IntN(190))*time.Millisecond)
	}
	c.report()
}
