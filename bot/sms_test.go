package main

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"
	"unicode/utf8"

	"halfweight/bot/engine"
	"halfweight/bot/sms"
	"halfweight/bot/wire"
	"halfweight/sessions"
)

const smsSecret = "a secret of the test's own"

// texting is the bot taking text messages with no gateway between.
type texting struct {
	t      testing.TB
	config config
	log    *locked
	stop   func()
	ids    int

	listen, calls string // addresses
}

func textingTo(t testing.TB, with func(*config)) *texting {
	t.Helper()
	dir, err := os.MkdirTemp("", "hw")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	x := &texting{t: t, log: new(locked), config: config{
		data: filepath.Join(dir, "bot.db"), listen: "127.0.0.1:0",
		sms: smsConfig{listen: "127.0.0.1:0", path: "/sms", options: sms.Options{Secret: smsSecret, Fields: sms.DefaultFields}},
	}}
	if with != nil {
		with(&x.config)
	}
	was := slog.Default()
	slog.SetDefault(slog.New(slog.NewTextHandler(hiding{x.log, secrets("", x.config.sms.secrets()...)}, nil)))
	t.Cleanup(func() { slog.SetDefault(was) })
	x.start()
	t.Cleanup(func() { x.stop() })
	return x
}

// textingAt is where the log says that it listens.
var textingAt = regexp.MustCompile(`\bserving .* listen=(\S+) sms-listen=(\S+)`)

func (x *texting) start() {
	before := len(textingAt.FindAllString(x.log.String(), -1))
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- x.config.run(ctx) }()
	x.stop = func() {
		cancel()
		if err := <-ended; err != nil {
			x.t.Errorf("the bot ended with: %v", err)
		}
		x.stop = func() {}
	}
	for range 3000 {
		all := textingAt.FindAllStringSubmatch(x.log.String(), -1)
		if len(all) == before {
			time.Sleep(10 * time.Millisecond)
			continue
		}
		x.listen, x.calls = all[before][1], "http://"+all[before][2]+x.config.sms.path
		if res, err := http.Get("http://" + x.listen + "/health"); err == nil {
			res.Body.Close()
			if res.StatusCode == http.StatusOK {
				return
			}
		}
		time.Sleep(10 * time.Millisecond)
	}
	x.t.Fatal("the bot does not come up")
}

// text sends one message as a gateway brings it, and gives the reply.
func (x *texting) text(from, text string, more ...string) string {
	x.t.Helper()
	x.ids++
	v := url.Values{"secret": {smsSecret}, "from": {from}, "text": {text}, "id": {fmt.Sprint(x.ids)}}
	for i := 0; i+1 < len(more); i += 2 {
		v.Set(more[i], more[i+1])
	}
	res, err := http.Get(x.calls + "?" + v.Encode())
	if err != nil {
		x.t.Fatal(err)
	}
	defer res.Body.Close()
	body, err := io.ReadAll(res.Body)
	if err != nil || res.StatusCode != http.StatusOK {
		x.t.Fatalf("%q: %s, %v", text, res.Status, err)
	}
	return string(body)
}

// heard waits until the bot has taken so many messages, and says how many it took.
func (x *texting) heard(n int) int {
	x.t.Helper()
	var counters struct{ Messages int }
	for range 1000 {
		res, err := http.Get("http://" + x.listen + "/counters")
		if err != nil {
			x.t.Fatal(err)
		}
		err = json.NewDecoder(res.Body).Decode(&counters)
		res.Body.Close()
		if err != nil {
			x.t.Fatal(err)
		}
		if counters.Messages >= n {
			return counters.Messages
		}
		time.Sleep(20 * time.Millisecond)
	}
	x.t.Fatalf("the bot took %d messages, want %d", counters.Messages, n)
	return 0
}

func (x *texting) want(reply string, parts ...string) {
	x.t.Helper()
	for _, p := range parts {
		if !strings.Contains(reply, p) {
			x.t.Errorf("no %q in %q", p, reply)
		}
	}
	if !sms.Fits(reply) {
		x.t.Errorf("more than two segments: %q", reply)
	}
}

// The example of the card: what stands, what it needs and has, the one question
// and the caution in two segments.
func TestText_theCardsExampleFitsTwoSegments(t *testing.T) {
	x := textingTo(t, nil)
	x.want(x.text("+15550100", "14000 lb roller articulated, 4x 3/8 g70 direct, 1x 3/8 g70 over"),
		"CAN'T CALL IT YET", "Needs 7,000, has 19,800", "LOCKED / NOT LOCKED", "not a go-ahead", "MORE")
	x.want(x.text("+15550100", "LOCKED"), "ADDS UP: 12,800 lb to spare", "Needs 7,000, has 19,800", "Corners 4 of 4", "Go look", "50 miles", "not a go-ahead")
	x.want(x.text("+15550100", "more"), "4 chains 3/8 g70 direct at half 13,200")
	x.want(x.text("+15550100", "MORE"), "not a go-ahead")
	x.want(x.text("+15550100", "more"), "That was all of it.")
}

// Where the weight is covered with some binders and not with others, both sums go
// into the two segments.
func TestText_aSumThatRestsOnTheBindersSaysBoth(t *testing.T) {
	x := textingTo(t, nil)
	x.want(x.text("+15550100", "38000 excavator 4x 1/2 g70 direct"), "has 22,600 with 11,300 binders", "9,200 ones make 18,400, short 600", "YES / NO", "not a go-ahead")
	x.want(x.text("+15550101", "4x 3/8 g70 direct"), "good up to 26,400 lb with 6,600 binders, 21,600 with 5,400")
}

func TestText_broughtAgainIsAnsweredTheSameAndCountsOnce(t *testing.T) {
	x := textingTo(t, nil)
	x.text("+15550100", "14000 lb roller, lock bar in, 4x 3/8 g70 direct")
	first := x.text("+15550100", "add 1x 3/8 g70 over", "id", "twice")
	if again := x.text("+15550100", "add 1x 3/8 g70 over", "id", "twice"); again != first {
		t.Errorf("%q, then %q", first, again)
	}
	x.text("+15550100", "why")
	x.want(x.text("+15550100", "more"), "1 chain 3/8 g70: 6,600")
}

// STOP is obeyed until START, through a restart; another number hears nothing of it.
func TestText_aStoppedNumberGetsNothingUntilStart(t *testing.T) {
	x := textingTo(t, nil)
	x.text("+15550100", "14000 lb roller, lock bar in, 4x 3/8 g70 direct")
	x.want(x.text("+15550100", "Stop"), "Stopped")
	for _, text := range []string{"why", "STOP", "help", "HELP", "14000 lb roller"} {
		if got := x.text("+15550100", text); got != "" {
			t.Errorf("stopped, %q is answered with %q", text, got)
		}
	}
	x.want(x.text("+15550101", "help"), "STOP to stop")
	x.text("+15550100", "Stop", "id", "stop")
	for _, id := range []string{"1", "before"} { // what was sent before the stop, brought again
		if got := x.text("+15550100", "14000 lb roller, lock bar in, 4x 3/8 g70 direct", "id", id); got != "" {
			t.Errorf("stopped, a message brought again is answered with %q", got)
		}
	}
	x.stop()
	x.start()
	if got := x.text("+15550100", "why"); got != "" {
		t.Errorf("after a restart it says %q", got)
	}
	x.want(x.text("+15550100", "start"), "On again")
	x.want(x.text("+15550100", "why"), "Roller, 14,000 lb")
}

// Parts of one message come in any order; nothing is answered before the last.
func TestText_partsOutOfOrderMakeOneMessage(t *testing.T) {
	x := textingTo(t, nil)
	if got := x.text("+15550100", "g70 direct, 1x 3/8 g70 over", "udh", "050003A70202"); got != "" {
		t.Errorf("half a message is answered with %q", got)
	}
	x.stop()
	x.start() // the part is kept
	x.want(x.text("+15550100", "14000 lb roller, lock bar in, 4x 3/8 ", "udh", "050003A70201"), "ADDS UP: 12,800 lb to spare")
}

func TestText_whoMayUseItIsListedByNumber(t *testing.T) {
	x := textingTo(t, func(c *config) { c.sms.numbers = []string{"+1 555 0100"} })
	x.want(x.text("+15550100", "why"), "No load in hand")
	if got := x.text("+15550199", "why"); got != "" {
		t.Errorf("a stranger is told %q", got)
	}
}

// The file and the log hold no number.
func TestText_noNumberIsKept(t *testing.T) {
	x := textingTo(t, nil)
	x.text("+15550100", "14000 lb roller, lock bar in, 4x 3/8 g70 direct")
	x.stop()
	file, err := os.ReadFile(x.config.data)
	if err != nil {
		t.Fatal(err)
	}
	if strings.Contains(string(file), "5550100") {
		t.Error("the number is in the file")
	}
	if log := x.log.String(); strings.Contains(log, "5550100") || strings.Contains(log, smsSecret) {
		t.Errorf("the number or the secret is in the log:\n%s", log)
	}
}

func TestServe_withNeitherTokenNorTextMessagesSaysWhatItNeeds(t *testing.T) {
	_, err := readConfig(nil, func(string) string { return "" })
	if err == nil || !strings.Contains(err.Error(), "-sms-listen") {
		t.Errorf("%v", err)
	}
}

func TestReadSMS_saysWhatIsWrong(t *testing.T) {
	env := func(name string) string { return map[string]string{smsSecretEnv: smsSecret}[name] }
	for args, want := range map[string]string{
		"-sms-listen x":                                                   "-sms-listen is a host and a port",
		"-sms-listen :1 -sms-path sms":                                    "-sms-path begins with /",
		"-sms-listen :1 -sms-allow x":                                     "-sms-allow",
		"-sms-listen :1 -sms-fields from":                                 "-sms-fields are pairs",
		"-sms-listen :1 -sms-fields colour=x":                             "-sms-fields are pairs",
		"-sms-listen :1 -sms-fields text=":                                "must name the fields",
		"-sms-listen :1 -sms-call ftp://x?password=hunter2":               "-sms-call is an address",
		"-sms-listen :1 -sms-call http://x/{to}":                          "must hold {to} and {text}",
		"-sms-listen :1 -sms-call http://x/{to}{text} -sms-call-method X": "-sms-call-method",
		"-sms-listen :1 -sms-call http://x/{to}{text} -sms-call-header X": "-sms-call-header",
		"-sms-listen :1 -sms-call http://x/{to}{text} -sms-call-every X":  "-sms-call-every",
	} {
		if _, err := readConfig(strings.Fields(args), env); err == nil || !strings.Contains(err.Error(), want) || strings.Contains(err.Error(), "hunter2") {
			t.Errorf("%s: %v, want %q", args, err, want)
		}
	}
	if _, err := readConfig([]string{"-sms-listen", ":1"}, func(name string) string { return map[string]string{smsSecretEnv: "short"}[name] }); err == nil || !strings.Contains(err.Error(), "has 5 characters") {
		t.Errorf("%v", err)
	}
	c, err := readConfig(strings.Fields("-sms-listen :1 -sms-fields from=msisdn,time= -sms-allow 127.0.0.1,10.0.0.0/8"), env)
	if err != nil || c.sms.options.Fields.From != "msisdn" || c.sms.options.Fields.Time != "" || len(c.sms.options.Allow) != 2 {
		t.Errorf("%+v, %v", c.sms, err)
	}
	if _, err := readConfig([]string{"-sms-listen", ":1"}, func(string) string { return "" }); err == nil || !strings.Contains(err.Error(), smsSecretEnv) {
		t.Errorf("%v", err)
	}
}

// inline is a transport of text messages that nothing comes in by.
type inline struct{ wire.Transport }

func (inline) Name() string    { return "sms" }
func (inline) Caps() wire.Caps { return wire.Caps{Fits: sms.Fits, Inline: true} }

// Every golden conversation, as text messages: each reply in two segments, a load's
// with its caution and, where it adds up, with what there is to look at.
func TestText_everyConversationFitsTwoSegments(t *testing.T) {
	names, err := filepath.Glob("../testdata/chats/*.chat")
	if err != nil || len(names) == 0 {
		t.Fatal(names, err)
	}
	for _, name := range names {
		file, err := os.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		defer file.Close()
		e := engine.New(new(sessions.Memory), inline{})
		for lines, n := bufio.NewScanner(file), 0; lines.Scan(); n++ {
			text, ok := strings.CutPrefix(lines.Text(), "> ")
			if !ok {
				continue
			}
			r, err := e.Handle(context.Background(), wire.In{ID: fmt.Sprint(n), Chat: "sms:x", Text: text, At: time.Unix(1_700_000_000, 0), Data: true})
			if err != nil {
				t.Fatal(err)
			}
			for _, b := range r.Bodies {
				if n, _ := sms.Segments(sms.Plain(b.Text)); n > 2 {
					t.Errorf("%s: %q takes %d segments, %d characters: %q", filepath.Base(name), text, n, utf8.RuneCountInString(b.Text), b.Text)
				}
				var data struct {
					Verdict  string
					Articles []any
					Assumed  []any
				}
				if err := json.Unmarshal(b.Data, &data); err != nil {
					t.Fatal(err)
				}
				if len(data.Articles) > 0 && data.Verdict != "done" && !strings.Contains(b.Text, "not a go-ahead.") {
					t.Errorf("%s: %q has no caution: %q", filepath.Base(name), text, b.Text)
				}
				if data.Verdict == "covered" && len(data.Assumed) > 0 && !strings.Contains(b.Text, "Go look: ") {
					t.Errorf("%s: %q says nothing of what is taken for granted: %q", filepath.Base(name), text, b.Text)
				}
			}
		}
	}
}

// Messages through the endpoint, each stored before it is answered, beside a bare
// handler that stores what comes and sends it back: of so many chats at once.
func BenchmarkText_throughTheEndpoint(b *testing.B) {
	for _, chats := range []int{1, 100} {
		b.Run(fmt.Sprintf("ours/%d", chats), func(b *testing.B) {
			x := textingTo(b, nil)
			texts(b, chats, x.calls)
		})
		b.Run(fmt.Sprintf("bare/%d", chats), func(b *testing.B) {
			store, err := sessions.Open(filepath.Join(b.TempDir(), "bare.db"))
			if err != nil {
				b.Fatal(err)
			}
			defer store.Close()
			bare := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, req *http.Request) {
				text := req.FormValue("text")
				err := store.Commit(req.Context(), sessions.Change{
					Chat: req.FormValue("from"), Event: req.FormValue("id"), At: time.Now(), State: []byte(text), Bodies: [][]byte{[]byte(text)},
				})
				if err != nil {
					b.Error(err)
				}
				io.WriteString(w, text)
			}))
			defer bare.Close()
			texts(b, chats, bare.URL)
		})
	}
}

// texts sends b.N messages, so many chats at once, each its next when the one
// before is answered.
func texts(b *testing.B, chats int, address string) {
	client := &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: chats}}
	var ids atomic.Int64
	var all sync.WaitGroup
	b.ReportAllocs()
	b.ResetTimer()
	for chat := range chats {
		all.Go(func() {
			for {
				id := ids.Add(1)
				if id > int64(b.N) {
					return
				}
				v := url.Values{"secret": {smsSecret}, "from": {fmt.Sprint(15550100 + chat)}, "text": {"14000 lb roller, lock bar in, 4x 3/8 g70 direct"}, "id": {fmt.Sprint(id)}}
				res, err := client.Get(address + "?" + v.Encode())
				if err != nil {
					b.Error(err)
					return
				}
				io.Copy(io.Discard, res.Body)
				res.Body.Close()
			}
		})
	}
	all.Wait()
	b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "messages/s")
}
