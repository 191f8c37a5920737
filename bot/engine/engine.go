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
	"slices"
	"strings"
	"time"

	"halfweight/bot/render"
	"halfweight/bot/talk"
	"halfweight/bot/wire"
	"halfweight/parser"
	"halfweight/sessions"
)

// Store keeps the state of every chat and its outbox. It is called for many
// chats at once, for one chat by one event and one sender at a time. What it
// stores, it stores whole or, with an error, not at all.
type Store interface {
	// Look gives the chat's state and, for an event committed before, its answer.
	Look(ctx context.Context, chat, event string) (sessions.Snapshot, error)
	// Commit stores a change. The bytes in it belong to the store from then on.
	Commit(ctx context.Context, c sessions.Change) error

	// Waiting names the chats that have rows in the outbox.
	Waiting(ctx context.Context) ([]string, error)
	// Next gives the oldest row of a chat; ok is false when it has none.
	Next(ctx context.Context, chat string) (row sessions.Row, ok bool, err error)
	// Sent removes a row that was sent and keeps the id it was sent under.
	Sent(ctx context.Context, row sessions.Row, id string) error
	// Later puts a row off, and counts the try.
	Later(ctx context.Context, row sessions.Row, notBefore time.Time) error
	// Drop removes all rows of a chat.
	Drop(ctx context.Context, chat string) error

	// Move gives all that is known of one chat to another name.
	Move(ctx context.Context, from, to string) error
	// Sweep forgets the events seen before a time.
	Sweep(ctx context.Context, before time.Time) error
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
	lanes [64]lane

	sender *sender
}

// New is an engine over a store. What it answers to chats of the transports goes
// to the outbox and from there, while Run runs, out; to any other chat it is only
// given back by Handle.
func New(store Store, transports ...wire.Transport) *Engine {
	e := &Engine{store: store, step: talk.Step, seed: maphash.MakeSeed()}
	for i := range e.lanes {
		e.lanes[i].busy = make(chan struct{}, 1)
	}
	e.sender = newSender(store, e.move, transports)
	return e
}

// Handle answers one event. Events of one chat are handled in the order they
// came, chats side by side. An event handled before gets the answer it got then
// and changes nothing. With an error nothing was stored: the event may be
// delivered again.
func (e *Engine) Handle(ctx context.Context, in wire.In) (Result, error) {
	if in.MovedFrom != "" {
		return Result{}, e.move(ctx, in.MovedFrom, in.Chat)
	}
	leave, err := e.enter(ctx, in.Chat)
	if err != nil {
		return Result{}, err
	}
	defer leave()
	in.Text = strings.ToValidUTF8(in.Text, "\uFFFD")

	before, err := e.store.Look(ctx, in.Chat, in.ID)
	if err != nil {
		return Result{}, fmt.Errorf("look up event %q of chat %q: %w", in.ID, in.Chat, err)
	}
	if before.Seen {
		bodies, err := unpack(before.Bodies)
		return Result{Bodies: bodies}, err
	}
	lane := &e.lanes[e.lane(in.Chat)]
	was, err := lane.state(in.Chat, before.State)
	if err != nil {
		return Result{}, fmt.Errorf("read the state of chat %q: %w", in.Chat, err)
	}
	first := false
	if in.Edits != "" {
		edited, err := e.store.Look(ctx, in.Chat, in.Edits)
		if err != nil {
			return Result{}, fmt.Errorf("look up event %q of chat %q: %w", in.Edits, in.Chat, err)
		}
		first = !edited.Seen
	}
	now, reply, bodies := e.answer(was, in, first)
	out := e.sender.outlet(in.Chat)
	send := false
	if out != nil {
		caps := out.Caps()
		bodies, now.Rest = dress(bodies, reply, in, caps)
		send = !caps.Inline
	}
	change := sessions.Change{Chat: in.Chat, Event: in.ID, At: time.Now(), Send: send, Forget: forgotten(reply)}
	if reply.Replaces {
		change.For = in.Edits
	}
	if change.State, err = json.Marshal(now); err != nil {
		return Result{}, fmt.Errorf("write the state of chat %q: %w", in.Chat, err)
	}
	if change.Bodies, err = pack(bodies); err != nil {
		return Result{}, fmt.Errorf("write the answer to event %q of chat %q: %w", in.ID, in.Chat, err)
	}
	if in.Keyword == "stop" { // what waits is not wanted any more
		if err := e.store.Drop(ctx, in.Chat); err != nil {
			return Result{}, fmt.Errorf("drop what waits for chat %q: %w", in.Chat, err)
		}
	}
	if err := e.store.Commit(ctx, change); err != nil {
		return Result{}, fmt.Errorf("store event %q of chat %q: %w", in.ID, in.Chat, err)
	}
	lane.keep(in.Chat, change.State, now)
	if send {
		e.sender.wake(in.Chat)
	}
	return Result{Bodies: bodies}, nil
}

// move gives all that is known of one chat to another name, between the events
// of either.
func (e *Engine) move(ctx context.Context, from, to string) error {
	leave, err := e.enter(ctx, from, to)
	if err != nil {
		return err
	}
	defer leave()
	if err := e.store.Move(ctx, from, to); err != nil {
		return fmt.Errorf("move chat %q to %q: %w", from, to, err)
	}
	e.sender.wake(to)
	return nil
}

// answer decides and words the reply. Where that panics, the event counts as
// handled with a short apology and the state stays as it was, so that no message
// blocks its chat for ever.
func (e *Engine) answer(was talk.State, in wire.In, first bool) (now talk.State, reply talk.Reply, bodies []wire.Body) {
	defer func() {
		if p := recover(); p != nil {
			slog.Error("panic while answering", "event", in.ID, "panic", p, "stack", string(debug.Stack()))
			now, reply = was, apology(in.Text)
			bodies = say(reply, in)
		}
	}()
	now, reply = e.step(was, talk.Event{
		ID: in.ID, Keyword: in.Keyword, Part: talk.Part{Split: in.Split, N: in.Part, Of: in.Parts}, Text: in.Text, Edits: in.Edits, First: first, Pressed: in.Pressed, Other: in.Other,
	}, in.At)
	return now, reply, say(reply, in)
}

// forgotten says whether the chat was forgotten at its word: then its old answers
// go too.
func forgotten(r talk.Reply) bool {
	return slices.ContainsFunc(r.Says, func(s talk.Say) bool {
		done, ok := s.(talk.Done)
		return ok && done.What == "forgotten"
	})
}

func say(reply talk.Reply, to wire.In) []wire.Body {
	if reply.Silent {
		return nil
	}
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
