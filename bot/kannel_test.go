package main

import (
	"bytes"
	"fmt"
	"io"
	"math/rand/v2"
	"net"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"halfweight/bot/sms"
)

// gateway is Kannel, as Debian packages it, with its own fake of an operator's
// message centre in front: the way a text message takes but for the air.
type gateway struct {
	t                        testing.TB
	dir                      string
	config                   string
	centre, admin, box, send string // ports
	smsbox                   *exec.Cmd
}

// patience is how often, 20 ms apart, something is looked for before the test gives
// up: long, for a machine that has other things to do.
const patience = 2000

const fakeCentre = "/usr/lib/kannel/test/fakesmsc"

// kannel is the gateway at work; it calls the bot at an address. core are more lines
// of the core group.
func kannel(t testing.TB, calls string, core ...string) *gateway {
	t.Helper()
	g := kannelAt(t)
	g.up(calls, core...)
	return g
}

// kannelAt is the gateway before it starts: its ports are known.
func kannelAt(t testing.TB) *gateway {
	t.Helper()
	for _, program := range []string{"bearerbox", "smsbox", fakeCentre} {
		if _, err := exec.LookPath(program); err != nil {
			t.Skipf("%s is not here: apt-get install kannel kannel-extras", program)
		}
	}
	g := &gateway{t: t, dir: t.TempDir()}
	ports := freePorts(t, 4)
	g.centre, g.admin, g.box, g.send = ports[0], ports[1], ports[2], ports[3]
	return g
}

// up starts it. The groups smsbox, sms-service and sendsms-user are the README's.
func (g *gateway) up(calls string, core ...string) {
	t := g.t
	t.Helper()
	if err := os.Mkdir(filepath.Join(g.dir, "spool"), 0o700); err != nil {
		t.Fatal(err)
	}
	g.config = filepath.Join(g.dir, "kannel.conf")
	text := fmt.Sprintf(`group = core
admin-port = %s
admin-interface = 127.0.0.1
admin-password = test
admin-allow-ip = 127.0.0.1
smsbox-port = %s
smsbox-interface = 127.0.0.1
box-allow-ip = 127.0.0.1
store-type = spool
store-location = %s
dlr-storage = internal
%s

group = smsc
smsc = fake
smsc-id = fake
port = %s
connect-allow-ip = 127.0.0.1

%s`, g.admin, g.box, filepath.Join(g.dir, "spool"), strings.Join(core, "\n"), g.centre, workedExample(t, g.send, calls))
	if err := os.WriteFile(g.config, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	g.run("bearerbox")
	g.until(g.box)
	g.until(g.centre)
	g.smsboxUp()
}

// workedExample is the README's, with the addresses and the secret of this run, and
// patient with a machine that has other things to do.
func workedExample(t testing.TB, send, calls string) string {
	t.Helper()
	readme, err := os.ReadFile("../README.md")
	if err != nil {
		t.Fatal(err)
	}
	_, text, _ := strings.Cut(string(readme), "    group = smsbox\n")
	text, _, _ = strings.Cut(text, "\n\nTo push")
	_, push, _ := strings.Cut(string(readme), "    group = sendsms-user\n")
	push, _, _ = strings.Cut(push, "\n\n")
	text = strings.ReplaceAll("group = smsbox\n"+text+"\n\n    group = sendsms-user\n"+push, "\n    ", "\n")
	for _, put := range [][2]string{
		{"sendsms-port = 13013", "sendsms-port = " + send}, {"http://127.0.0.1:8789/sms?secret=...", calls + "?secret=" + url.QueryEscape(smsSecret)},
		{"username = ...", "username = halfweight"}, {"password = ...", "password = pushpass"},
		{"http-queue-delay = 2", "http-queue-delay = 1"}, {"http-timeout = 5", "http-timeout = 30"},
	} {
		if !strings.Contains(text, put[0]) {
			t.Fatalf("the README's example has no %q", put[0])
		}
		text = strings.Replace(text, put[0], put[1], 1)
	}
	return text + "\n"
}

// freePorts are ports for the gateway, which takes none by itself. They lie below
// those that the system gives out (from 32768 up on Linux), so that nobody is
// given one before the gateway listens.
func freePorts(t testing.TB, n int) []string {
	t.Helper()
	var ports []string
	for tries := 0; len(ports) < n; tries++ {
		l, err := net.Listen("tcp", fmt.Sprint("127.0.0.1:", 20_000+rand.IntN(12_000)))
		switch {
		case err == nil:
			defer l.Close()
			_, port, _ := net.SplitHostPort(l.Addr().String())
			ports = append(ports, port)
		case tries > 1000:
			t.Fatal(err)
		}
	}
	return ports
}

// run starts a part of the gateway, which ends with the test.
func (g *gateway) run(program string) *exec.Cmd {
	g.t.Helper()
	out := new(locked)
	cmd := exec.Command(program, "-v", "2", g.config)
	cmd.Dir, cmd.Stdout, cmd.Stderr = g.dir, out, out
	if err := cmd.Start(); err != nil {
		g.t.Fatal(err)
	}
	ended := make(chan struct{})
	go func() { cmd.Wait(); close(ended) }()
	g.t.Cleanup(func() {
		cmd.Process.Kill()
		<-ended
		if g.t.Failed() {
			g.t.Logf("%s:\n%s", program, out)
		}
	})
	return cmd
}

func (g *gateway) smsboxUp() {
	g.smsbox = g.run("smsbox")
	g.until(g.send)
}

func (g *gateway) smsboxDown() {
	g.smsbox.Process.Signal(syscall.SIGKILL)
	for range patience {
		if c, err := net.Dial("tcp", "127.0.0.1:"+g.send); err != nil {
			return
		} else {
			c.Close()
		}
		time.Sleep(20 * time.Millisecond)
	}
	g.t.Fatal("the gateway's sending does not go down")
}

// until waits for a port to be listened at.
func (g *gateway) until(port string) {
	g.t.Helper()
	for range patience {
		if c, err := net.Dial("tcp", "127.0.0.1:"+port); err == nil {
			c.Close()
			return
		}
		time.Sleep(20 * time.Millisecond)
	}
	g.t.Fatalf("nobody listens at port %s", port)
}

// took waits until the gateway's status says that it took a message.
func (g *gateway) took(messages string) {
	g.t.Helper()
	var status []byte
	for range patience {
		if res, err := http.Get("http://127.0.0.1:" + g.admin + "/status.txt?password=test"); err == nil {
			status, _ = io.ReadAll(res.Body)
			res.Body.Close()
			if bytes.Contains(status, []byte("SMS: "+messages)) {
				return
			}
		}
		time.Sleep(20 * time.Millisecond)
	}
	g.t.Fatalf("the gateway does not say %q:\n%s", messages, status)
}

// phone is one stretch of a phone being in reach: what it sent, and what it got.
type phone struct {
	g   *gateway
	cmd *exec.Cmd
	out locked
}

// say sends messages from a phone, each as fakesmsc wants it after the numbers:
// "text why". It stays in reach until hang.
func (g *gateway) say(from string, message string) *phone {
	g.t.Helper()
	p := &phone{g: g}
	n := "1"
	if message == "" {
		n, message = "0", "text nothing"
	}
	p.cmd = exec.Command(fakeCentre, "-H", "127.0.0.1", "-r", g.centre, "-m", n, "-i", "0.01", from+" 1234 "+message)
	p.cmd.Stdout, p.cmd.Stderr = &p.out, &p.out
	if err := p.cmd.Start(); err != nil {
		g.t.Fatal(err)
	}
	g.t.Cleanup(func() { p.hang() })
	return p
}

var hang sync.Mutex

func (p *phone) hang() {
	hang.Lock()
	defer hang.Unlock()
	if p.cmd != nil {
		p.cmd.Process.Kill()
		p.cmd.Wait()
		p.cmd = nil
	}
}

var arrived = regexp.MustCompile(`Got message \d+: <1234 (\d+) (text|data|udh) (.*)>`)

// got is what arrived so far, in the order of the parts, as one text.
func (p *phone) got() (text string, parts int) {
	for _, m := range arrived.FindAllStringSubmatch(p.out.String(), -1) {
		body := m[3]
		if m[2] == "udh" {
			_, body, _ = strings.Cut(body, " data ")
		}
		if m[2] != "text" {
			body, _ = url.QueryUnescape(body)
		}
		text += body
		parts++
	}
	return text, parts
}

// want waits for text that ends as told and holds some more, and hangs up.
func (p *phone) want(end string, more ...string) string {
	p.g.t.Helper()
	defer p.hang()
	for range patience {
		text, _ := p.got()
		if strings.HasSuffix(text, end) && !slices.ContainsFunc(more, func(s string) bool { return !strings.Contains(text, s) }) {
			return text
		}
		time.Sleep(20 * time.Millisecond)
	}
	text, _ := p.got()
	p.g.t.Fatalf("got %q, want it to end with %q and hold %q\n%s", text, end, more, &p.out)
	return ""
}

// silent hangs up what must not be answered, once an answer would have come.
func (p *phone) silent(what string) {
	p.g.t.Helper()
	time.Sleep(300 * time.Millisecond)
	p.hang()
	if text, _ := p.got(); text != "" {
		p.g.t.Errorf("%s is answered with %q", what, text)
	}
}

// A driver's talk by a real gateway: a load, the answer in a word, the rest of a
// long reply, and STOP and START.
func TestKannel_aConversation(t *testing.T) {
	x := textingTo(t, nil)
	g := kannel(t, x.calls)
	g.say("15550100", "text 14000 lb roller articulated, 4x 3/8 g70 direct, 1x 3/8 g70 over").want("MORE for the count.", "CAN'T CALL IT YET", "LOCKED / NOT LOCKED", "not a go-ahead")
	g.say("15550100", "text locked").want("MORE for the count.", "ADDS UP: 12,800 lb to spare")
	g.say("15550100", "text more").want("MORE", "4 chains 3/8 g70 direct at half 13,200")
	g.say("15550100", "text more").want("not a go-ahead.")
	g.say("15550101", "text why").want("4x 3/8 g70 direct", "No load in hand")
	// Bytes above 127 reach the bot as letters: "⅜" in UCS-2.
	g.say("15550100", "ucs2 %21%5c%00%20%00g%007%000%00%3f").want("read the stamp.", "6,600 lb by the federal table") // "⅜ g70?"
	g.say("15550100", "text STOP").want("START to go on.", "Stopped")
	before := x.heard(0)
	p := g.say("15550100", "text why")
	x.heard(before + 1)
	p.silent("a message of a stopped number")
	g.say("15550100", "text Start").want("4x 3/8 g70 direct", "On again")
}

// Two parts of one message, the second first, which the gateway hands on as they come.
func TestKannel_partsOutOfOrder(t *testing.T) {
	x := textingTo(t, nil)
	g := kannel(t, x.calls, "sms-combine-concatenated-mo = false")
	p := g.say("15550100", "udh %05%00%03%A7%02%02 g70+direct")
	x.heard(1)
	p.silent("half a message")
	g.say("15550100", "udh %05%00%03%A7%02%01 14000+lb+roller,+lock+bar+in,+4x+3/8+").want("MORE for the count.", "ADDS UP: 6,200 lb to spare")
}

// The same where the gateway puts them together, as it does unless told otherwise.
func TestKannel_partsOutOfOrderThatTheGatewayPutsTogether(t *testing.T) {
	x := textingTo(t, nil)
	g := kannel(t, x.calls)
	p := g.say("15550100", "udh %05%00%03%A7%02%02 g70+direct")
	g.took("received 1 ")
	p.silent("half a message")
	g.say("15550100", "udh %05%00%03%A7%02%01 14000+lb+roller,+lock+bar+in,+4x+3/8+").want("MORE for the count.", "ADDS UP: 6,200 lb to spare")
}

// The answer is lost on the way, so the gateway brings the message again: it gets
// the same answer, and counts once.
func TestKannel_aMessageBroughtAgainCountsOnce(t *testing.T) {
	x := textingTo(t, nil)
	var calls atomic.Int32
	var answers [3]atomic.Pointer[string]
	lossy := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, req *http.Request) {
		n := calls.Add(1)
		res, err := http.Get(x.calls + "?" + req.URL.RawQuery)
		if err != nil {
			panic(http.ErrAbortHandler)
		}
		defer res.Body.Close()
		body, _ := io.ReadAll(res.Body)
		if text := string(body); n <= 3 {
			answers[n-1].Store(&text)
		}
		if n == 2 { // of the change: the connection breaks before the answer
			panic(http.ErrAbortHandler)
		}
		w.Header().Set("Content-Type", res.Header.Get("Content-Type"))
		w.Write(body)
	}))
	defer lossy.Close()
	g := kannel(t, lossy.URL+"/sms")
	g.say("15550100", "text 14000 lb roller, lock bar in, 4x 3/8 g70 direct").want("MORE for the count.", "ADDS UP: 6,200")
	reply := g.say("15550100", "text add 1x 3/8 g70 over").want("MORE for the count.", "ADDS UP: 12,800")
	if n := calls.Load(); n != 3 {
		t.Errorf("%d calls, want the change brought twice", n)
	}
	if a, b := answers[1].Load(), answers[2].Load(); a == nil || b == nil || *a != *b || !strings.Contains(*a, reply) && *a != reply {
		t.Errorf("the answers differ: %v, %v", a, b)
	}
	g.say("15550100", "text what do I need").want("not a go-ahead.", "Has 19,800")
}

// Replies pushed by calls of the bot's own; while the gateway is down they wait,
// and go out in order when it is back.
func TestKannel_pushedRepliesOutlastAGatewayThatIsDown(t *testing.T) {
	g := kannelAt(t)
	call := &sms.Call{
		Method: http.MethodGet,
		URL:    "http://127.0.0.1:" + g.send + "/cgi-bin/sendsms?username=halfweight&password=pushpass&from=1234&to={to}&text={text}",
	}
	x := textingTo(t, func(c *config) { c.sms.options.Push = call })
	g.up(x.calls)
	g.say("15550100", "text 14000 lb roller, lock bar in, 4x 3/8 g70 direct").want("MORE for the count.", "ADDS UP: 6,200")
	g.smsboxDown()
	for _, text := range []string{"add 1x 3/8 g70 over", "front left is loose"} { // by another way, while the gateway cannot be called
		if got := x.text("15550100", text); got != "" {
			t.Errorf("pushing, the call is answered with %q", got)
		}
	}
	file, err := os.ReadFile(x.config.data)
	if err != nil {
		t.Fatal(err)
	}
	if bytes.Contains(file, []byte("5550100")) {
		t.Error("the number waits in the clear")
	}
	time.Sleep(300 * time.Millisecond)
	g.smsboxUp()
	text := g.say("15550100", "").want("MORE for the count.", "ADDS UP: 12,800", "loose")
	if strings.Index(text, "ADDS UP") > strings.Index(text, "loose") {
		t.Errorf("out of order: %q", text)
	}
}
