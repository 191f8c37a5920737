// Package engine is the one path from a message to its reply: the terminal,
// ask, every transport and the tests call Handle and nothing else.
package engine

import (
	"context"
	"encoding/json"
	"fmt"
	"hash/maphash"
	"log/slog"
	"runtime/debug"
	"strings"
	"time"

	"halfweight/bot/render"
	"halfweight/bot/talk"
	"halfweight/bot/wire"
	"halfweight/parser"
	"halfweight/sessions"
)

// Store keeps the state of every chat. It is called for many chats at once, for
// one chat by one event at a time.
type Store interface {
	// Look gives the chat's state and, for an event committed before, its answer.
	Look(ctx context.Context, chat, event string) (sessions.Snapshot, error)
	// Commit stores the whole change or, with an error, nothing of it. The bytes
	// in the change belong to the store from then on.
	Commit(ctx context.Context, c sessions.Change) error
}

// Result is the answer to one event, as it was stored.
type Result struct {
	Bodies []wire.Body
}

// Engine handles the events of all chats. Make one with New.
type Engine struct {
	store Store
	step  func(talk.State, talk.Event, time.Time) (talk.State, talk.Reply)
	seed  maphash.Seed
	lanes [64]chan struct{} // holds one event of its chats; the waiting ones follow in the order they came
}

// New is an engine over a store.
func New(store Store) *Engine {
	e := &Engine{store: store, step: talk.Step, seed: maphash.MakeSeed()}
	for i := range e.lanes {
		e.lanes[i] = make(chan struct{}, 1)
	}
	return e
}

// Handle answers one event. Events of one chat are handled in the order they
// came, chats side by side. An event handled before gets the answer it got then
// and changes nothing. With an error nothing was stored: the event may be
// delivered again.
func (e *Engine) Handle(ctx context.Context, in wire.In) (Result, error) {
	lane := e.lane(in.Chat)
	select {
	case lane <- struct{}{}:
		defer func() { <-lane }()
	case <-ctx.Done():
		return Result{}, ctx.Err()
	}
	in.Text = strings.ToValidUTF8(in.Text, "\uFFFD")

	before, err := e.store.Look(ctx, in.Chat, in.ID)
	if err != nil {
		return Result{}, fmt.Errorf("look up event %q of chat %q: %w", in.ID, in.Chat, err)
	}
	if before.Seen {
		bodies, err := unpack(before.Bodies)
		return Result{Bodies: bodies}, err
	}
	var was talk.State
	if before.State != nil {
		if err := json.Unmarshal(before.State, &was); err != nil {
			return Result{}, fmt.Errorf("read the state of chat %q: %w", in.Chat, err)
		}
	}
	now, bodies := e.answer(was, in)
	change := sessions.Change{Chat: in.Chat, Event: in.ID, At: in.At}
	if change.State, err = json.Marshal(now); err != nil {
		return Result{}, fmt.Errorf("write the state of chat %q: %w", in.Chat, err)
	}
	if change.Bodies, err = pack(bodies); err != nil {
		return Result{}, fmt.Errorf("write the answer to event %q of chat %q: %w", in.ID, in.Chat, err)
	}
	if err := e.store.Commit(ctx, change); err != nil {
		return Result{}, fmt.Errorf("store event %q of chat %q: %w", in.ID, in.Chat, err)
	}
	return Result{Bodies: bodies}, nil
}

func (e *Engine) lane(chat string) chan struct{} {
	return e.lanes[maphash.String(e.seed, chat)%uint64(len(e.lanes))]
}

// answer decides and words the reply. Where that panics, the event counts as
// handled with a short apology and the state stays as it was, so that no message
// blocks its chat for ever.
func (e *Engine) answer(was talk.State, in wire.In) (now talk.State, bodies []wire.Body) {
	defer func() {
		if p := recover(); p != nil {
			slog.Error("panic while answering", "event", in.ID, "panic", p, "stack", string(debug.Stack()))
			now, bodies = was, say(apology(in.Text), in)
		}
	}()
	now, reply := e.step(was, talk.Event{ID: in.ID, Text: in.Text}, in.At)
	return now, say(reply, in)
}

func say(reply talk.Reply, to wire.In) []wire.Body {
	if to.Data {
		return []wire.Body{render.Body(reply)}
	}
	return []wire.Body{{Text: render.Text(reply)}}
}

// apology is the reply to a message that could not be handled: all of it is
// given back as unread.
func apology(text string) talk.Reply {
	return talk.Reply{
		Text:    text,
		Verdict: "unread",
		Unread:  []parser.Span{{Text: text}},
		Says:    []talk.Say{talk.Cannot{Why: "fault"}},
	}
}

func pack(bodies []wire.Body) ([][]byte, error) {
	packed := make([][]byte, len(bodies))
	for i, b := range bodies {
		var err error
		if packed[i], err = json.Marshal(b); err != nil {
			return nil, err
		}
	}
	return packed, nil
}

func unpack(packed [][]byte) ([]wire.Body, error) {
	bodies := make([]wire.Body, len(packed))
	for i, p := range packed {
		if err := json.Unmarshal(p, &bodies[i]); err != nil {
			return nil, fmt.Errorf("read a stored answer: %w", err)
		}
	}
	return bodies, nil
}
