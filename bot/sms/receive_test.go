package sms

import (
	"context"
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"net/http/httptest"
	"net/netip"
	"net/url"
	"strings"
	"sync"
	"testing"
	"time"

	"halfweight/bot/wire"
)

const secret = "a secret of the test's own"

// desk is a transport at work, with what it handed on.
type desk struct {
	*Transport
	mu  sync.Mutex
	got []wire.In
	err error
}

func open(t *testing.T, opts Options) *desk {
	t.Helper()
	opts.Secret = secret
	if opts.Fields == (Fields{}) {
		opts.Fields = DefaultFields
	}
	tr, err := New(opts)
	if err != nil {
		t.Fatal(err)
	}
	d := &desk{Transport: tr}
	ctx, cancel := context.WithCancel(context.Background())
	done := make(chan struct{})
	go func() {
		defer close(done)
		d.Run(ctx, func(_ context.Context, in wire.In) ([]wire.Body, error) {
			d.mu.Lock()
			defer d.mu.Unlock()
			d.got = append(d.got, in)
			return []wire.Body{{Text: "re: " + in.Text}}, d.err
		})
	}()
	t.Cleanup(func() { cancel(); <-done })
	for d.Health() != nil {
		time.Sleep(time.Millisecond)
	}
	return d
}

// call makes a call and gives its code and answer.
func (d *desk) call(req *http.Request) (int, string) {
	w := httptest.NewRecorder()
	d.ServeHTTP(w, req)
	return w.Code, w.Body.String()
}

func get(fields ...string) *http.Request {
	v := url.Values{"secret": {secret}}
	for i := 0; i+1 < len(fields); i += 2 {
		v.Set(fields[i], fields[i+1])
	}
	return httptest.NewRequest("GET", "/sms?"+v.Encode(), nil)
}

func TestServeHTTP_takesAQueryAFormAndAnObject(t *testing.T) {
	d := open(t, Options{})
	form := httptest.NewRequest("POST", "/sms", strings.NewReader(url.Values{"secret": {secret}, "from": {"+15550100"}, "text": {"why"}, "id": {"2"}}.Encode()))
	form.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	object, _ := json.Marshal(map[string]any{"from": "0015550100", "text": "why", "id": 3, "more": []int{1}})
	post := httptest.NewRequest("POST", "/sms", strings.NewReader(string(object)))
	post.Header.Set("Content-Type", "application/json; charset=utf-8")
	post.Header.Set("Authorization", "Bearer "+secret)
	for _, req := range []*http.Request{get("from", "+1 (555) 01-00", "text", "why", "id", "1"), form, post} {
		if code, answer := d.call(req); code != 200 || answer != "re: why" {
			t.Errorf("%d %q", code, answer)
		}
	}
	for _, in := range d.got {
		if in.Chat != d.got[0].Chat || strings.Contains(in.Chat, "555") {
			t.Errorf("chat %q, want the same hash for the same number", in.Chat)
		}
	}
	if len(d.got) != 3 || d.got[0].ID == d.got[1].ID {
		t.Errorf("%+v", d.got)
	}
}

func TestServeHTTP_refusesWhoMayNotCall(t *testing.T) {
	d := open(t, Options{Allow: []netip.Prefix{netip.MustParsePrefix("192.0.2.0/24")}})
	for name, c := range map[string]struct {
		req  *http.Request
		from string
		want int
	}{
		"no secret":         {httptest.NewRequest("GET", "/sms?from=1&text=why", nil), "192.0.2.7:1", http.StatusUnauthorized},
		"another secret":    {httptest.NewRequest("GET", "/sms?from=1&text=why&secret=x", nil), "192.0.2.7:1", http.StatusUnauthorized},
		"another address":   {get("from", "1", "text", "why"), "198.51.100.7:1", http.StatusForbidden},
		"no sender":         {get("text", "why"), "192.0.2.7:1", http.StatusBadRequest},
		"another method":    {httptest.NewRequest("PUT", "/sms", nil), "192.0.2.7:1", http.StatusMethodNotAllowed},
		"no object":         {jsonCall("not one"), "192.0.2.7:1", http.StatusBadRequest},
		"too much":          {jsonCall(strings.Repeat(" ", maxCall+1)), "192.0.2.7:1", http.StatusRequestEntityTooLarge},
		"a torn percentage": {httptest.NewRequest("GET", "/sms?from=1&text=%zz", nil), "192.0.2.7:1", http.StatusBadRequest},
	} {
		c.req.RemoteAddr = c.from
		if code, _ := d.call(c.req); code != c.want {
			t.Errorf("%s: %d, want %d", name, code, c.want)
		}
	}
	if len(d.got) > 0 {
		t.Errorf("handed on: %+v", d.got)
	}
}

func jsonCall(body string) *http.Request {
	req := httptest.NewRequest("POST", "/sms", strings.NewReader(body))
	req.Header.Set("Content-Type", "application/json")
	req.Header.Set("Authorization", "Bearer "+secret)
	return req
}

func TestServeHTTP_whatIsNotStoredIsLeftToBeBroughtAgain(t *testing.T) {
	d := open(t, Options{})
	d.err = errors.New("the disk is full")
	if code, answer := d.call(get("from", "1", "text", "why", "id", "1")); code != http.StatusServiceUnavailable || answer != "" {
		t.Errorf("%d %q", code, answer)
	}
}

// Without ids, the same words at once are the same message; after another of the
// number only for a short time, or as long as the answer was not taken.
func TestServeHTTP_withoutAnIdTheWordsTellWhatIsBroughtAgain(t *testing.T) {
	const loose, tight = "front left is loose", "front left tight again"
	type step struct {
		after time.Duration
		text  string
		lost  bool // the gateway does not get the answer
		same  int  // the step whose message it is; its own: a new one
	}
	for name, steps := range map[string][]step{
		"at once":                        {{0, loose, false, 0}, {0, loose, false, 0}},
		"within the window":              {{0, loose, false, 0}, {window - time.Second, loose, false, 0}},
		"after the window":               {{0, loose, false, 0}, {window, loose, false, 1}},
		"after another, soon":            {{0, loose, false, 0}, {time.Second, tight, false, 1}, {soon - 2*time.Second, loose, false, 0}, {0, tight, false, 1}},
		"after another, later":           {{0, loose, false, 0}, {soon / 2, tight, false, 1}, {soon / 2, loose, false, 2}},
		"after another, its answer lost": {{0, loose, true, 0}, {soon, tight, false, 1}, {soon, loose, false, 0}},
		"lost twice":                     {{0, tight, true, 0}, {window - time.Second, tight, true, 0}, {window - time.Second, tight, false, 0}},
		"reading on":                     {{0, "more", false, 0}, {time.Second, "MORE", false, 1}, {time.Second, "more", false, 2}, {time.Second, "more", true, 3}, {time.Second, "more", false, 3}},
	} {
		d := open(t, Options{Fields: Fields{Secret: "secret", From: "from", Text: "text"}})
		at := time.Unix(1_700_000_000, 0)
		d.now = func() time.Time { return at }
		for i, s := range steps {
			at = at.Add(s.after)
			req := get("from", "1", "text", s.text)
			if ctx, cancel := context.WithCancel(req.Context()); s.lost {
				cancel()
				req = req.WithContext(ctx)
			} else {
				defer cancel()
			}
			d.call(req)
			d.call(get("from", "2", "text", s.text)) // another number's are its own
			for j := range i + 1 {
				if same := d.got[2*i].ID == d.got[2*j].ID; same != (j == i || j == s.same || s.same == steps[j].same) {
					t.Errorf("%s: %d and %d are the same message: %v", name, i, j, same)
				}
			}
		}
	}
}

// What could not be stored is known when it comes again, whatever came between.
func TestServeHTTP_withoutAnIdWhatWasNotStoredIsTheSameMessage(t *testing.T) {
	d := open(t, Options{Fields: Fields{Secret: "secret", From: "from", Text: "text"}})
	at := time.Unix(1_700_000_000, 0)
	d.now = func() time.Time { return at }
	d.err = errors.New("the disk is full")
	d.call(get("from", "1", "text", "take off the strap"))
	d.err = nil
	d.call(get("from", "1", "text", "why"))
	at = at.Add(2 * soon)
	d.call(get("from", "1", "text", "take off the strap"))
	if d.got[0].ID != d.got[2].ID {
		t.Error("taken for another message")
	}
}

// A restart forgets what came last; the stretch of time still tells.
func TestServeHTTP_withoutAnIdARestartKnowsWhatIsBroughtAgain(t *testing.T) {
	at := time.Unix(1_700_000_000, 0)
	var ids []string
	for range 2 {
		d := open(t, Options{Fields: Fields{Secret: "secret", From: "from", Text: "text"}})
		d.now = func() time.Time { return at }
		d.call(get("from", "1", "text", "lock bar in"))
		ids = append(ids, d.got[0].ID)
	}
	if ids[0] != ids[1] {
		t.Errorf("two ids: %v", ids)
	}
}

func TestServeHTTP_theCarriersWordsAreKnownInAnyCase(t *testing.T) {
	d := open(t, Options{})
	for text, want := range map[string]string{
		"STOP": "stop", " stop. ": "stop", "Unsubscribe": "stop", "START": "start", "help": "help", "INFO": "help",
		"stop?": "stop", "(Stop)": "stop", "STOP STOP STOP": "stop", "Stop!!! 🛑": "stop", "please stop": "stop", "stop, please.": "stop", "Opt-out": "stop",
		"REVOKE": "stop", "end": "stop", "Cancel.": "stop", "quit": "stop", "Please opt me out": "stop", "Don't text me": "stop", "ARRÊT": "stop",
		"Start!!": "start", "unstop.": "start", "help?": "help",
		"stop 50": "", "front end": "", "please": "", "?": "", "stopped": "", "stop at mile 50": "", "start over": "", "help me": "", "the end is loose": "",
	} {
		d.call(get("from", "1", "text", text))
		if got := d.got[len(d.got)-1].Keyword; got != want {
			t.Errorf("%q is %q, want %q", text, got, want)
		}
	}
}

// 3GPP TS 23.040, 9.2.3.24.1 (8-bit reference) and 9.2.3.24.8 (16-bit).
func TestPartOf_readsTheHeaderOfASplitMessage(t *testing.T) {
	for udh, want := range map[string]struct {
		part, parts int
		split       string
	}{
		"050003A70201":             {1, 2, "a7"},
		"%05%00%03%A7%02%02":       {2, 2, "a7"},
		"\x05\x00\x03\xa7\x02\x02": {2, 2, "a7"}, // as Kannel gives it
		"\x05\x00\x03\xa7\x02":     {0, 0, ""},
		"0608040A0B0302":           {2, 3, "0a0b"},
		"0A0504158A00000003A70201": {0, 0, ""}, // its own length does not fit
		"0B05040B8423F00003A70302": {2, 3, "a7"},
		"":                         {0, 0, ""},
		"zz":                       {0, 0, ""},
		"05":                       {0, 0, ""},
	} {
		part, parts, split := partOf(udh)
		if part != want.part || parts != want.parts || split != want.split {
			t.Errorf("%s: part %d of %d, %q; want %+v", udh, part, parts, split, want)
		}
	}
}

// The gateway is called with the number and the text; the number stands nowhere
// in the clear on the way there.
func TestSend_callsTheGateway(t *testing.T) {
	var got *http.Request
	var body string
	answer := http.StatusOK
	gateway := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, req *http.Request) {
		got = req
		b, _ := io.ReadAll(req.Body)
		body = string(b)
		if answer == http.StatusTooManyRequests {
			w.Header().Set("Retry-After", "7")
		}
		w.WriteHeader(answer)
	}))
	defer gateway.Close()
	d := open(t, Options{Push: &Call{
		URL: gateway.URL + "/send?mark={id}", Method: "POST", Body: `{"to":"{to}","text":"{text}"}`,
		Headers: [][2]string{{"Content-Type", "application/json"}, {"X-Key", "k"}}, User: "u", Password: "p",
	}})
	if _, answer := d.call(get("from", "+15550100", "text", "why", "id", "1")); answer != "" {
		t.Errorf("the call was answered with %q beside", answer)
	}
	in := d.got[0]
	if strings.Contains(in.ReplyTo, "5550100") {
		t.Errorf("the number is kept as %q", in.ReplyTo)
	}
	b := wire.Body{Text: "ADDS UP \"×\"", To: in.ReplyTo, Event: "1"}
	if _, err := d.Send(context.Background(), in.Chat, b); err != nil {
		t.Fatal(err)
	}
	if user, password, _ := got.BasicAuth(); user != "u" || password != "p" || got.Header.Get("X-Key") != "k" || got.URL.Query().Get("mark") == "" {
		t.Errorf("called with %v", got.Header)
	}
	if want := `{"to":"+15550100","text":"ADDS UP \"x\""}`; body != want {
		t.Errorf("body %s, want %s", body, want)
	}
	var retry wire.ErrRetry
	for code, want := range map[int]func(error) bool{
		http.StatusTooManyRequests:     func(err error) bool { return errors.As(err, &retry) && retry.After == 7*time.Second },
		http.StatusBadRequest:          func(err error) bool { return errors.Is(err, wire.ErrRefused) },
		http.StatusInternalServerError: func(err error) bool { return err != nil && !errors.Is(err, wire.ErrRefused) },
	} {
		answer = code
		if _, err := d.Send(context.Background(), in.Chat, b); !want(err) || strings.Contains(err.Error(), "5550100") {
			t.Errorf("%d: %v", code, err)
		}
	}
	gateway.Close()
	if _, err := d.Send(context.Background(), in.Chat, b); err == nil || strings.Contains(err.Error(), "5550100") {
		t.Errorf("with no gateway: %v", err)
	}
	if _, err := d.Send(context.Background(), in.Chat, wire.Body{Text: "x", To: "nonsense"}); !errors.Is(err, wire.ErrRefused) {
		t.Errorf("with a number of another secret: %v", err)
	}
}

func TestNew_takesNoShortSecret(t *testing.T) {
	if _, err := New(Options{Secret: "short"}); err == nil {
		t.Error("taken")
	}
}

// FuzzServeHTTP: whatever is called, an answer comes; without the secret nothing is handed on.
func FuzzServeHTTP(f *testing.F) {
	f.Add("GET", "secret=a+secret+of+the+test%27s+own&from=1&text=why&id=1&udh=050003A70201", "", "")
	f.Add("POST", "", `{"from":"1","text":"why","secret":"a secret of the test's own"}`, "application/json")
	f.Add("POST", "", "from=1&text=%F0%9F%9A%9C", "application/x-www-form-urlencoded")
	f.Add("POST", "from=1", "{", "application/json;;")
	f.Fuzz(func(t *testing.T, method, query, body, kind string) {
		if method != "GET" && method != "POST" {
			method = "POST"
		}
		tr, err := New(Options{Secret: secret, Fields: DefaultFields})
		if err != nil {
			t.Fatal(err)
		}
		handed := false
		tr.deliver = func(_ context.Context, in wire.In) ([]wire.Body, error) {
			handed = true
			if in.ID == "" || !strings.HasPrefix(in.Chat, "sms:") {
				t.Fatalf("handed on without an id or a chat: %+v", in)
			}
			return []wire.Body{{Text: in.Text}}, nil
		}
		req := &http.Request{Method: method, URL: &url.URL{Path: "/sms", RawQuery: query}, Header: http.Header{"Content-Type": {kind}}, Body: io.NopCloser(strings.NewReader(body))}
		w := httptest.NewRecorder()
		tr.ServeHTTP(w, req)
		if w.Code == 0 {
			t.Fatal("no answer")
		}
		if _, ok := Segments(w.Body.String()); w.Code == 200 && !ok {
			t.Fatalf("the answer %q is not in the alphabet", w.Body)
		}
		if handed && !strings.Contains(query+body, "secret") {
			t.Fatal("handed on without the secret")
		}
	})
}
