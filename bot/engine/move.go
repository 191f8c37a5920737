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
// one's, which was told last, unless nothing was told under it. The past loads of
// both go on.
func (e *Engine) joined(ctx context.Context, from, to string) (sessions.Move, error) {
	m := sessions.Move{From: from, To: to}
	was, err := e.store.Look(ctx, from, "")
	if err != nil || was.MovedTo != "" || was.State == nil {
		return m, err
	}
	is, err := e.store.Look(ctx, to, "")
	if err != nil || is.MovedTo != "" || is.State == nil {
		return m, err
	}
	old, err := e.store.Log(ctx, from)
	if err != nil {
		return m, err
	}
	switch {
	case blank(is.State):
		if !blank(was.State) {
			m.State, m.Log = was.State, old
		}
		return m, nil
	case !blank(was.State):
		m.Aside = was.State
	}
	kept, err := e.store.Log(ctx, to)
	if err != nil {
		return m, err
	}
	return m, besides(&m, is.State, old, kept)
}

// besides numbers the past loads of the old name behind those of the new one, the
// last ones, as many as one chat may have.
func besides(m *sessions.Move, stored []byte, old, kept []sessions.Entry) (err error) {
	var s talk.State
	if len(old) == 0 {
		return nil
	}
	usable := json.Unmarshal(stored, &s) == nil && !s.Later()
	last, first := s.Logged, s.Logged+1
	if len(kept) > 0 {
		last, first = max(last, kept[len(kept)-1].N), kept[0].N
	}
	if room := int(first + talk.MostPast - 1 - min(last, first+talk.MostPast-1)); len(old) > room {
		old = old[len(old)-room:]
	}
	for _, entry := range old {
		last++
		m.Log = append(m.Log, sessions.Entry{N: last, Bytes: entry.Bytes})
	}
	if usable { // else it is put aside at the next event, and what comes is numbered on
		s.Logged = last
		m.State, err = json.Marshal(s)
	}
	return err
}

// blank says whether a stored state holds nothing that was told.
func blank(stored []byte) bool {
	var s talk.State
	return json.Unmarshal(stored, &s) == nil && !s.Later() && s.Blank()
}
