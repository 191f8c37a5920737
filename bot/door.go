package main

import (
	"context"
	"crypto/subtle"
	"log/slog"
	"strings"
	"sync"
	"time"

	"halfweight/bot/render"
	"halfweight/bot/talk"
	"halfweight/bot/wire"
	"halfweight/sessions"
)

// door is a transport that lets in only whom it may, and of each only so much. A
// stranger gets no answer at all. A chat that gave the invite word is let in for
// as long as the store knows it.
type door struct {
	wire.Transport
	chats  map[string]bool // let in by name
	invite string          // lets in the chat it is sent from; with neither, all are let in
	rate   rate
	look   func(ctx context.Context, chat, event string) (sessions.Snapshot, error)
	count  func(name string)

	mu    sync.Mutex
	moved map[string]bool // let in by a name they had before
	notes sync.WaitGroup
}

// noteTime is how long it may take to tell a chat that it is too fast.
const noteTime = 10 * time.Second

// Run is the transport's, with what comes in held against who may come in.
func (d *door) Run(ctx context.Context, deliver func(context.Context, wire.In) ([]wire.Body, error)) error {
	defer d.notes.Wait()
	return d.Transport.Run(ctx, func(ctx context.Context, in wire.In) ([]wire.Body, error) {
		in, ok, err := d.admit(ctx, in)
		if !ok || err != nil {
			return nil, err
		}
		return deliver(ctx, in)
	})
}

// admit says whether an event goes on, and as what.
func (d *door) admit(ctx context.Context, in wire.In) (wire.In, bool, error) {
	who := in.Chat
	if in.MovedFrom != "" {
		who = in.MovedFrom
	}
	letIn, err := d.letIn(ctx, who)
	if err != nil {
		return in, false, err
	}
	if in.MovedFrom != "" {
		if letIn {
			d.follow(in)
		}
		return in, letIn, nil
	}
	more, first := d.rate.take(in.Chat, time.Now())
	switch {
	case letIn && in.Keyword == "stop": // whoever wants to be left alone is, at any rate
		d.count("messages")
		return in, true, nil
	case letIn && more:
		d.count("messages")
		return in, true, nil
	case letIn:
		d.count("too_fast")
		if first && d.Caps().Fits == nil { // a text message costs, and may not be wanted
			d.notes.Go(func() { d.slowDown(ctx, in) })
		}
	case more && d.isInvite(in.Text):
		slog.Info("a chat gave the invite word", "chat", in.Chat)
		d.count("invited")
		in.Text, in.Edits = "help", "" // the word itself is kept nowhere
		return in, true, nil
	default:
		d.count("strangers")
	}
	return in, false, nil
}

func (d *door) letIn(ctx context.Context, chat string) (bool, error) {
	if d.chats == nil && d.invite == "" || d.chats[chat] {
		return true, nil
	}
	d.mu.Lock()
	moved := d.moved[chat]
	d.mu.Unlock()
	if moved || d.invite == "" {
		return moved, nil
	}
	known, err := d.look(ctx, chat, "")
	return known.State != nil, err
}

// follow lets a listed chat in under its new name too, for this run.
func (d *door) follow(in wire.In) {
	if d.chats == nil || in.Chat == in.MovedFrom {
		return
	}
	slog.Warn("a chat has a new number: put it into -chats", "was", in.MovedFrom, "is", in.Chat)
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.moved == nil {
		d.moved = map[string]bool{}
	}
	d.moved[in.Chat] = true
}

func (d *door) isInvite(text string) bool {
	text = strings.ToLower(strings.TrimSpace(text))
	return d.invite != "" && subtle.ConstantTimeCompare([]byte(text), []byte(strings.ToLower(d.invite))) == 1
}

// slowDown tells a chat, once, that what it sends now is not counted.
func (d *door) slowDown(ctx context.Context, in wire.In) {
	ctx, cancel := context.WithTimeout(context.WithoutCancel(ctx), noteTime)
	defer cancel()
	text := render.Text(talk.Reply{Text: in.Text, Verdict: "unread", Says: []talk.Say{talk.Cannot{Why: "too fast"}}})
	if _, err := d.Send(ctx, in.Chat, wire.Body{Text: text, Event: in.ID}); err != nil {
		slog.Warn("a chat that is too fast could not be told", "chat", in.Chat, "err", err)
	}
}

// rate is how many messages are taken of each chat: perMinute at once, and so
// many a minute. A chat that was refused one is taken again after a minute.
type rate struct {
	perMinute int // 0: any number

	mu    sync.Mutex
	chats map[string]*allowance
}

type allowance struct {
	left    float64
	at      time.Time
	refused time.Time // zero: not refused lately
}

// crowded is how many chats are remembered before those at rest are forgotten.
const crowded = 10_000

// take takes a message; first is true for the first one of many that is not taken.
func (r *rate) take(chat string, now time.Time) (ok, first bool) {
	if r.perMinute == 0 {
		return true, false
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	a := r.chats[chat]
	if a == nil {
		if len(r.chats) >= crowded {
			r.forget(now)
		}
		if r.chats == nil {
			r.chats = map[string]*allowance{}
		}
		a = &allowance{left: float64(r.perMinute), at: now}
		r.chats[chat] = a
	}
	a.left = min(a.left+now.Sub(a.at).Minutes()*float64(r.perMinute), float64(r.perMinute))
	a.at = now
	switch {
	case !a.refused.IsZero() && now.Sub(a.refused) < time.Minute:
		return false, false
	case a.left < 1:
		a.refused = now
		return false, true
	}
	a.left, a.refused = a.left-1, time.Time{}
	return true, false
}

// forget forgets the chats that were quiet for a minute, whose allowance is whole
// again.
func (r *rate) forget(now time.Time) {
	for chat, a := range r.chats {
		if now.Sub(a.at) > time.Minute {
			delete(r.chats, chat)
		}
	}
}
