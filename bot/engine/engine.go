// Package engine is the one path from a message to its reply: the terminal,
// ask, every transport and the tests call Handle and nothing else.
package engine

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash/maphash"
	"log/slog"
	"strings"
	"time"

	"halfweight/bot/talk"
	"halfweight/bot/wire"
	"halfweight/sessions"
)

// Store keeps the state of every chat and its outbox. It is called for many
// chats at once, for one chat by one event and one sender at a time. What it
// stores, it stores whole or, with an error, not at all.
type Store interface {
	// Look gives the chat's state and, for an event committed before, its answer.
	Look(ctx context.Context, chat, event string) (sessions.Snapshot, error)
	// Expect says that so many more changes are on their way to Commit, or, below
	// zero, that they are not after all: those that meet may be stored together.
	Expect(n int)
	// Commit stores a change. The bytes in it belong to the store from then on.
	Commit(ctx context.Context, c sessions.Change) error
	// Log gives the records of a chat, oldest first.
	Log(ctx context.Context, chat string) ([]sessions.Entry, error)

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
	Move(ctx context.Context, m sessions.Move) error
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
	gates gates
	lanes [256]lane

	sender *sender
}

// New is an engine over a store. What it answers to chats of the transports goes
// to the outbox and from there, while Run runs, out; to any other chat it is only
// given back by Handle.
func New(store Store, transports ...wire.Transport) *Engine {
	e := &Engine{store: store, step: talk.Step, seed: maphash.MakeSeed()}
	e.sender = newSender(store, e.move, transports)
	return e
}

// Handle answers one event. Events of one chat are handled in the order they
// came, chats side by side. An event handled before gets the answer it got then
// and changes nothing. With an error nothing was stored: the event may be
// delivered again. Only what may pass is an error, the store's or the context's:
// what would fail however often it is tried is answered with an apology.
func (e *Engine) Handle(ctx context.Context, in wire.In) (Result, error) {
	if in.MovedFrom != "" {
		return Result{}, e.move(ctx, in.MovedFrom, in.Chat)
	}
	if len(in.Chat) > sessions.MaxName {
		slog.Error("an event is dropped: the name of its chat is too long to keep", "chat", in.Chat[:40]+"...")
		return Result{}, nil
	}
	in.ID, in.Edits = storable(in.ID), storable(in.Edits)
	in.Text = strings.ToValidUTF8(in.Text, "\uFFFD")
	for asked := in.Chat; ; {
		r, movedTo, err := e.handle(ctx, in, asked)
		if movedTo == "" || err != nil {
			return r, err
		}
		in.Chat = movedTo
	}
}

// storable is the name of an event, or its hash where it is too long to keep.
func storable(event string) string {
	if len(event) <= sessions.MaxName {
		return event
	}
	sum := sha256.Sum256([]byte(event))
	return hex.EncodeToString(sum[:])
}

// handle is Handle for the name a chat goes by; where it goes by another now,
// nothing is done. asked is the name it was asked under.
func (e *Engine) handle(ctx context.Context, in wire.In, asked string) (r Result, movedTo string, err error) {
	leave, err := e.enter(ctx, in.Chat)
	if err != nil {
		return Result{}, "", err
	}
	defer leave()
	e.store.Expect(1)
	committed := false
	defer func() {
		if !committed {
			e.store.Expect(-1)
		}
	}()
	before, err := e.store.Look(ctx, in.Chat, in.ID)
	switch {
	case err != nil:
		return Result{}, "", fmt.Errorf("look up event %q of chat %q: %w", in.ID, in.Chat, err)
	case before.Seen: // under a name of it that may be known no more but by this mark
		return Result{Bodies: again(before, in)}, "", nil
	case before.MovedTo != "":
		return Result{}, before.MovedTo, nil
	}
	first := false
	if in.Edits != "" {
		edited, err := e.store.Look(ctx, asked, in.Edits)
		if err != nil {
			return Result{}, "", fmt.Errorf("look up event %q of chat %q: %w", in.Edits, in.Chat, err)
		}
		first = !edited.Seen
	}
	lane, out := &e.lanes[e.lane(in.Chat)], e.sender.outlet(in.Chat)
	done, err := e.answer(ctx, lane, before.State, in, asked, first, out)
	if err != nil {
		return Result{}, "", err
	}
	if in.Keyword == "stop" { // what waits is not wanted any more
		if err := e.store.Drop(ctx, in.Chat); err != nil {
			return Result{}, "", fmt.Errorf("drop what waits for chat %q: %w", in.Chat, err)
		}
	}
	committed = true
	if err := e.store.Commit(ctx, done.change); err != nil {
		return Result{}, "", fmt.Errorf("store event %q of chat %q: %w", in.ID, in.Chat, err)
	}
	switch {
	case done.change.Forget:
		lane.forget(in.Chat)
	case done.change.State != nil:
		lane.keep(in.Chat, done.change.State, done.state)
	}
	if done.change.Send {
		e.sender.wake(in.Chat)
	}
	return Result{Bodies: done.bodies}, "", nil
}
