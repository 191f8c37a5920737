package engine

import (
	"context"
	"encoding/json"
	"fmt"
	"log/slog"

	"halfweight/bot/talk"
	"halfweight/sessions"
)

// move gives all that is known of one chat to another name, between the events
// of either and while no reply to either is on its way: one that was sent is
// marked first, under its own name, and not sent again under the new one.
func (e *Engine) move(ctx context.Context, from, to string) error {
	leave, err := e.enter(ctx, from, to)
	if err != nil {
		return err
	}
	defer leave()
	release, err := e.sender.hold(ctx, from, to)
	if err != nil {
		return err
	}
	defer release()
	m, err := e.joined(ctx, from, to)
	if err == nil {
		err = e.store.Move(ctx, m)
	}
	if err != nil {
		return fmt.Errorf("move chat %q to %q: %w", from, to, err)
	}
	if m.Aside != nil {
		slog.Error("two chats became one and both had told something: that of the old name is put aside", "was", from, "is", to)
	}
	e.sender.wake(to)
	return nil
}

// joined decides which state a chat goes on with that had two names: the new
// one's, which was told last, unless nothing was told under it.
func (e *Engine) joined(ctx context.Context, from, to string) (sessions.Move, error) {
	m := sessions.Move{From: from, To: to}
	was, err := e.store.Look(ctx, from, "")
	if err != nil || was.MovedTo != "" || was.State == nil {
		return m, err
	}
	is, err := e.store.Look(ctx, to, "")
	switch {
	case err != nil || is.MovedTo != "" || is.State == nil || blank(was.State):
	case blank(is.State):
		m.State = was.State
	default:
		m.Aside = was.State
	}
	return m, err
}

// blank says whether a stored state holds nothing that was told.
func blank(stored []byte) bool {
	var s talk.State
	return json.Unmarshal(stored, &s) == nil && !s.Later() && s.Blank()
}
