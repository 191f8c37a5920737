package telegram

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"strings"
	"sync"
	"time"

	"github.com/go-telegram/bot"
	"github.com/go-telegram/bot/models"
)

// poller is the client the library calls Telegram with.
type poller struct {
	client *http.Client
	take   func(context.Context, []*models.Update) // returns when they are stored
	heard  func()                                  // Telegram answered
	held   sync.WaitGroup                          // batches that are not stored
}

// Do makes a call. One for updates goes out only when all updates of the one
// before are stored, since it confirms them; what it brings is handed on from
// here, and the library gets the number of the last update alone, to go on from.
func (p *poller) Do(req *http.Request) (*http.Response, error) {
	req, err := whole(req)
	if err != nil {
		return nil, err
	}
	if !strings.HasSuffix(req.URL.Path, "/getUpdates") {
		return p.client.Do(req)
	}
	p.held.Wait()
	ctx, cancel := context.WithTimeout(req.Context(), pollTime+pollSlack)
	defer cancel()
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	resp, err := p.client.Do(req.WithContext(ctx))
	if err != nil {
		return nil, err
	}
	body, err := io.ReadAll(resp.Body)
	if err := errors.Join(err, resp.Body.Close()); err != nil {
		return nil, err
	}
	var answer struct {
		OK         bool
		Result     []json.RawMessage
		Parameters struct {
			RetryAfter int `json:"retry_after"`
		}
	}
	if json.Unmarshal(body, &answer) == nil {
		if answer.OK {
			p.heard()
		}
		switch {
		case answer.OK && len(answer.Result) > 0:
			body = p.handOn(req.Context(), answer.Result)
		case answer.Parameters.RetryAfter > 0: // the library would ask again at once
			sleep(ctx, time.Duration(answer.Parameters.RetryAfter)*time.Second)
		}
	}
	resp.Body = io.NopCloser(bytes.NewReader(body))
	resp.ContentLength = int64(len(body))
	return resp, nil
}

// whole is a call with its body in hand. The library writes its forms while they
// are sent, and each piece of a field would travel by itself.
func whole(req *http.Request) (*http.Request, error) {
	if req.Body == nil {
		return req, nil
	}
	body, err := io.ReadAll(req.Body)
	if err := errors.Join(err, req.Body.Close()); err != nil {
		return nil, err
	}
	req = req.WithContext(req.Context()) // a copy: a client must not change the one it was given
	req.Body, req.ContentLength = io.NopCloser(bytes.NewReader(body)), int64(len(body))
	req.GetBody = func() (io.ReadCloser, error) { return io.NopCloser(bytes.NewReader(body)), nil }
	return req, nil
}

// handOn begins to store a batch. Its result is the batch as the library sees it.
func (p *poller) handOn(ctx context.Context, raw []json.RawMessage) []byte {
	var batch []*models.Update
	for _, r := range raw {
		if u, ok := decode(r); ok {
			batch = append(batch, u)
		}
	}
	if len(batch) == 0 { // nothing to go on from: the same comes again
		sleep(ctx, time.Second)
		return []byte(`{"ok":true,"result":[]}`)
	}
	p.held.Go(func() {
		ctx, cancel := lasting(ctx, drainTime)
		defer cancel()
		p.take(ctx, batch)
	})
	return fmt.Appendf(nil, `{"ok":true,"result":[{"update_id":%d}]}`, batch[len(batch)-1].ID)
}

// lasting is a context that ends a while after ctx.
func lasting(ctx context.Context, while time.Duration) (context.Context, context.CancelFunc) {
	longer, cancel := context.WithCancel(context.WithoutCancel(ctx))
	stop := context.AfterFunc(ctx, func() {
		sleep(longer, while)
		cancel()
	})
	return longer, func() { stop(); cancel() }
}

// ignore is the library's handler: poller has handed the update on.
func ignore(context.Context, *bot.Bot, *models.Update) {}

// takeAll stores a batch: the events of one chat one after the other, chats side
// by side. An event that is not stored is tried again until the context ends;
// then the batch was not confirmed, and Telegram brings it again.
func (t *Transport) takeAll(ctx context.Context, batch []*models.Update) {
	t.running.RLock()
	defer t.running.RUnlock()
	s := t.session
	if s == nil {
		return
	}
	var chats []string
	lines := map[string][]event{}
	inTurn := false
	for _, u := range batch {
		e := t.read(s, u)
		inTurn = inTurn || e.in.MovedFrom != ""
		if lines[e.in.Chat] == nil {
			chats = append(chats, e.in.Chat)
		}
		lines[e.in.Chat] = append(lines[e.in.Chat], e)
	}
	var all sync.WaitGroup
	for _, chat := range chats {
		line := func() {
			for _, e := range lines[chat] {
				t.insist(ctx, s, e)
			}
		}
		if inTurn { // what was told under the old name goes before
			line()
		} else {
			all.Add(1)
			s.hands.do(func() { defer all.Done(); line() })
		}
	}
	all.Wait()
}

// insist stores an event, however often it must be tried.
func (t *Transport) insist(ctx context.Context, s *session, e event) {
	const most = 5 * time.Second
	for wait := 50 * time.Millisecond; ctx.Err() == nil; wait = min(2*wait, most) {
		err := t.store(ctx, s, e)
		if err == nil {
			return
		}
		t.opts.Count("not_stored")
		slog.Error("an event was not stored and is tried again", "event", e.in.ID, "err", t.redact(err))
		sleep(ctx, wait)
	}
}
