package sms

import (
	"crypto/sha256"
	"crypto/subtle"
	"encoding/hex"
	"encoding/json"
	"errors"
	"io"
	"log/slog"
	"mime"
	"net"
	"net/http"
	"net/netip"
	"net/url"
	"strconv"
	"strings"

	"halfweight/bot/wire"
)

// maxCall is the longest body of a call that is read.
const maxCall = 1 << 20

// ServeHTTP takes one message from a gateway: as the query of a GET, or as a form
// or a JSON object by POST. It answers 200 with the reply as plain text once the
// message is stored, with nothing where there is nothing to say; 503 when it must
// be brought again; 401 and 403 to those who may not call.
func (t *Transport) ServeHTTP(w http.ResponseWriter, req *http.Request) {
	if !t.allowed(req.RemoteAddr) {
		t.opts.Count("forged")
		w.WriteHeader(http.StatusForbidden)
		return
	}
	if req.Method != http.MethodGet && req.Method != http.MethodPost {
		w.WriteHeader(http.StatusMethodNotAllowed)
		return
	}
	told, err := values(w, req)
	var long *http.MaxBytesError
	switch {
	case errors.As(err, &long):
		w.WriteHeader(http.StatusRequestEntityTooLarge)
		return
	case err != nil:
		t.opts.Count("odd")
		http.Error(w, "the call could not be read: "+err.Error(), http.StatusBadRequest)
		return
	}
	if !t.shown(req, told) {
		t.opts.Count("forged")
		w.WriteHeader(http.StatusUnauthorized)
		return
	}
	in, ok := t.read(told)
	if !ok {
		t.opts.Count("odd")
		http.Error(w, "the call names no sender under "+strconv.Quote(t.opts.Fields.From), http.StatusBadRequest)
		return
	}
	t.answer(w, req, in)
}

// answer hands a message on and writes the reply.
func (t *Transport) answer(w http.ResponseWriter, req *http.Request, in wire.In) {
	t.mu.RLock()
	defer t.mu.RUnlock()
	if t.deliver == nil {
		w.WriteHeader(http.StatusServiceUnavailable)
		return
	}
	sum := sha256.Sum256([]byte(in.Chat))
	line := &t.lines[int(sum[0])%len(t.lines)]
	line.Lock()
	defer line.Unlock()
	bodies, err := t.deliver(req.Context(), in)
	if err != nil {
		t.opts.Count("not_stored")
		slog.Error("a text message was not stored and is left to be brought again", "event", in.ID, "err", err)
		w.WriteHeader(http.StatusServiceUnavailable)
		return
	}
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	var text []string
	if t.opts.Push == nil { // else the reply goes out by a call of our own
		for _, b := range bodies {
			text = append(text, Plain(b.Text))
		}
	}
	_, err = io.WriteString(w, strings.Join(text, "\n"))
	if err == nil && req.Context().Err() == nil {
		t.recent.taken(in.Chat, in.ID, t.now())
	}
}

// allowed says whether calls may come from an address.
func (t *Transport) allowed(remote string) bool {
	if len(t.opts.Allow) == 0 {
		return true
	}
	host, _, err := net.SplitHostPort(remote)
	if err != nil {
		return false
	}
	addr, err := netip.ParseAddr(host)
	if err != nil {
		return false
	}
	for _, p := range t.opts.Allow {
		if p.Contains(addr.Unmap()) {
			return true
		}
	}
	return false
}

// shown says whether the call shows the secret: in its field, or as the password
// or the token of its Authorization header.
func (t *Transport) shown(req *http.Request, told url.Values) bool {
	is := func(s string) bool {
		return subtle.ConstantTimeCompare([]byte(s), []byte(t.opts.Secret)) == 1
	}
	if _, password, ok := req.BasicAuth(); ok && is(password) {
		return true
	}
	if scheme, token, ok := strings.Cut(req.Header.Get("Authorization"), " "); ok && strings.EqualFold(scheme, "Bearer") && is(strings.TrimSpace(token)) {
		return true
	}
	return t.opts.Fields.Secret != "" && is(told.Get(t.opts.Fields.Secret))
}

// values are what a call tells, whichever way it does.
func values(w http.ResponseWriter, req *http.Request) (url.Values, error) {
	told, err := url.ParseQuery(req.URL.RawQuery)
	if err != nil || req.Method == http.MethodGet {
		return told, err
	}
	body, err := io.ReadAll(http.MaxBytesReader(w, req.Body, maxCall))
	if err != nil {
		return nil, err
	}
	kind, _, _ := mime.ParseMediaType(req.Header.Get("Content-Type"))
	if kind == "application/json" {
		return told, addJSON(told, body)
	}
	form, err := url.ParseQuery(string(body))
	for key, list := range form {
		told[key] = append(told[key], list...)
	}
	return told, err
}

// addJSON adds the texts and figures of a JSON object.
func addJSON(told url.Values, body []byte) error {
	var object map[string]any
	d := json.NewDecoder(strings.NewReader(string(body)))
	d.UseNumber()
	if err := d.Decode(&object); err != nil {
		return errors.New("it is no JSON object")
	}
	for key, v := range object {
		switch v := v.(type) {
		case string:
			told.Add(key, v)
		case json.Number:
			told.Add(key, v.String())
		}
	}
	return nil
}

// read makes an event of what a call tells; false where no sender is named.
func (t *Transport) read(told url.Values) (wire.In, bool) {
	f := &t.opts.Fields
	from := strings.TrimSpace(told.Get(f.From))
	if plainNumber(from) == "" {
		return wire.In{}, false
	}
	in := wire.In{Chat: t.ChatOf(from), Text: told.Get(f.Text), At: t.now()}
	in.Part, in.Parts, in.Split = partOf(told.Get(f.UDH))
	if in.ID = told.Get(f.ID); in.ID == "" || f.ID == "" {
		in.ID = t.recent.idOf(in, told.Get(f.Time))
	} else {
		in.ID = "id/" + hash(in.ID) // as long as it may be
	}
	if in.Parts == 0 {
		in.Keyword = keyword(in.Text)
	}
	if t.opts.Push != nil {
		in.ReplyTo = t.sealed(from)
	}
	return in, true
}

func hash(s string) string {
	sum := sha256.Sum256([]byte(s))
	return hex.EncodeToString(sum[:16])
}

// partOf reads which part of a split message a user data header tells of, and the
// mark its parts share (3GPP TS 23.040, 9.2.3.24.1 and 9.2.3.24.8). It comes as
// its bytes, as Kannel gives it, or in hexadecimal. All are zero where it tells
// nothing of that.
func partOf(udh string) (part, parts int, split string) {
	b := []byte(udh)
	if len(b) == 0 || int(b[0]) != len(b)-1 {
		var err error
		if b, err = hex.DecodeString(strings.NewReplacer("%", "", " ", "", ":", "").Replace(udh)); err != nil {
			return 0, 0, ""
		}
	}
	if len(b) < 1 || int(b[0]) > len(b)-1 {
		return 0, 0, ""
	}
	for b = b[1 : 1+int(b[0])]; len(b) >= 2; {
		id, n := b[0], int(b[1])
		if len(b) < 2+n {
			return 0, 0, ""
		}
		e := b[2 : 2+n]
		switch {
		case id == 0x00 && n == 3:
			return int(e[2]), int(e[1]), hex.EncodeToString(e[:1])
		case id == 0x08 && n == 4:
			return int(e[3]), int(e[2]), hex.EncodeToString(e[:2])
		}
		b = b[2+n:]
	}
	return 0, 0, ""
}
