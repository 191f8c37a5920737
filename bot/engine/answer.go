package engine

import (
	"context"
	"encoding/json"
	"fmt"
	"log/slog"
	"runtime/debug"
	"slices"
	"time"

	"halfweight/bot/render"
	"halfweight/bot/talk"
	"halfweight/bot/wire"
	"halfweight/parser"
	"halfweight/sessions"
)

// answered is what one event comes to, before it is stored.
type answered struct {
	state  talk.State
	bodies []wire.Body
	change sessions.Change
}

// answer decides and words the reply. It fails with the store only: where that
// panics, or what came of it cannot be stored, the event counts as handled with a
// short apology and the state stays as it was, so that no message blocks its chat
// for ever. A state that nothing can be done with is put aside, and the chat begins
// anew.
func (e *Engine) answer(ctx context.Context, lane *lane, stored []byte, in wire.In, asked string, first bool, out *outlet) (a answered, err error) {
	var was talk.State
	readable := attempt(in, "read the state", func() (err error) {
		was, err = lane.state(in.Chat, stored)
		return err
	}) && !was.Later()
	var failed error // of the store
	if readable && attempt(in, "answer", func() (err error) {
		var now talk.State
		var reply talk.Reply
		if now, reply, failed = e.decide(ctx, was, in, first); failed != nil {
			return failed
		}
		a, err = worded(now, reply, in, asked, out)
		return err
	}) {
		return a, nil
	}
	if failed != nil {
		return answered{}, failed
	}
	why, anew := "fault", talk.State{}
	if !readable || e.usable(talk.State{}, in) && !e.usable(was, in) {
		why = "state lost"
		if anew.Logged, err = e.lastLogged(ctx, in.Chat); err != nil {
			return answered{}, err
		}
	}
	if !attempt(in, "apologise", func() (err error) { a, err = worded(anew, apology(in.Text, why), in, asked, out); return err }) {
		in.Data = false // neither the text nor what it was read as
		a, _ = worded(anew, apology("", why), in, asked, out)
	}
	if why == "fault" {
		a.change.State = nil // it stays
		return a, nil
	}
	slog.Error("what a chat told cannot be used and is put aside: the chat begins anew",
		"chat", in.Chat, "event", in.ID, "bytes", len(stored))
	a.change.Aside = stored
	return a, nil
}

// decide takes the step, and once more with the past loads where it rests on them.
func (e *Engine) decide(ctx context.Context, was talk.State, in wire.In, first bool) (now talk.State, reply talk.Reply, err error) {
	event := talk.Event{
		ID: in.ID, Keyword: in.Keyword, Part: talk.Part{Split: in.Split, N: in.Part, Of: in.Parts}, Text: in.Text, Edits: in.Edits, First: first, Pressed: in.Pressed, Other: in.Other,
	}
	now, reply = e.step(was, event, in.At)
	if reply.Recall {
		if event.Past, err = e.past(ctx, in.Chat); err != nil {
			return was, reply, err
		}
		now, reply = e.step(was, event, in.At)
	}
	return now, reply, nil
}

// usable says whether anything at all can be done with a state.
func (e *Engine) usable(s talk.State, in wire.In) bool {
	return attempt(in, "use the state", func() error {
		e.step(s, talk.Event{ID: in.ID, Text: "help"}, in.At)
		return nil
	})
}

// attempt does what may fail or panic by the event's own fault, and notes it.
func attempt(in wire.In, what string, do func() error) (ok bool) {
	defer func() {
		if p := recover(); p != nil {
			slog.Error("panic at an event", "trying to", what, "chat", in.Chat, "event", in.ID, "panic", p, "stack", string(debug.Stack()))
			ok = false
		}
	}()
	if err := do(); err != nil {
		slog.Error("an event cannot be handled", "trying to", what, "chat", in.Chat, "event", in.ID, "error", err)
		return false
	}
	return true
}

// worded is a reply in words, and the change that stores it.
func worded(now talk.State, reply talk.Reply, in wire.In, asked string, out *outlet) (a answered, err error) {
	a = answered{state: now, bodies: say(reply, in)}
	a.change = sessions.Change{Chat: in.Chat, Event: in.ID, At: time.Now(), Forget: forgotten(reply)}
	if a.change.Log, err = records(reply.Log); err != nil {
		return a, fmt.Errorf("write the log: %w", err)
	}
	if out != nil {
		a.bodies, a.state.Rest = dress(a.bodies, reply, in, asked, out.Caps())
		a.change.Send = !out.Caps().Inline
	}
	if a.change.Forget {
		a.nameless(in.Chat)
	}
	if reply.Replaces {
		a.change.For = in.Edits
		rest := talk.Reply{Says: []talk.Say{talk.Cannot{Why: "see above"}}}
		if a.change.Rest, err = json.Marshal(wire.Body{Text: render.Text(rest), InPlace: true}); err != nil {
			return a, err
		}
	}
	if a.change.State, err = a.state.Encode(); err != nil {
		return a, err
	}
	a.change.Bodies, err = pack(a.bodies)
	return a, err
}

// nameless takes out of the answer to a chat that is forgotten what tells whose it
// was, but for what it takes to send it.
func (a *answered) nameless(chat string) {
	for i := range a.bodies {
		b := &a.bodies[i]
		if !a.change.Send {
			b.To, b.Press = "", ""
		}
		if !a.change.Send || b.Chat == chat {
			b.Chat = ""
		}
	}
}

// forgotten says whether the chat was forgotten at its word: then all of it goes.
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
func apology(text, why string) talk.Reply {
	return talk.Reply{
		Text:    text,
		Verdict: "unread",
		Unread:  []parser.Span{{Text: text}},
		Says:    []talk.Say{talk.Cannot{Why: why}},
	}
}

func pack(bodies []wire.Body) ([][]byte, error) {
	packed := make([][]byte, len(bodies))
	for i, b := range bodies {
		var err error
		if packed[i], err = json.Marshal(b); err != nil {
			return nil, fmt.Errorf("write the answer: %w", err)
		}
	}
	return packed, nil
}

// again is the answer kept of an event that was handled before: none where the chat
// was told to stop since.
func again(before sessions.Snapshot, in wire.In) []wire.Body {
	var now struct{ Quiet bool }
	if in.Keyword != "stop" && json.Unmarshal(before.State, &now) == nil && now.Quiet {
		return nil
	}
	return unpack(before.Bodies)
}

// unpack reads a stored answer; one that cannot be read any more is none.
func unpack(packed [][]byte) []wire.Body {
	bodies := make([]wire.Body, len(packed))
	for i, p := range packed {
		if err := json.Unmarshal(p, &bodies[i]); err != nil {
			slog.Error("a stored answer cannot be read", "error", err)
			return nil
		}
	}
	return bodies
}
