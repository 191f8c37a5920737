package engine

import (
	"halfweight/bot/render"
	"halfweight/bot/talk"
	"halfweight/bot/wire"
)

// dress makes of a reply what its transport carries: buttons, several bodies for
// a long text, or a short text and the rest of it, to be had by "more". asked is
// the name under which the chat was heard.
func dress(bodies []wire.Body, reply talk.Reply, in wire.In, asked string, caps wire.Caps) (dressed []wire.Body, rest string) {
	if len(bodies) == 0 {
		return nil, ""
	}
	if caps.Buttons {
		bodies[len(bodies)-1].Buttons = render.Buttons(reply)
	}
	if caps.Fits != nil {
		for i := range bodies {
			bodies[i].Text, rest = render.Brief(reply, caps.Fits)
		}
	}
	bodies = cut(bodies, caps.Length)
	for i := range bodies {
		bodies[i].To, bodies[i].Chat = in.ReplyTo, asked
	}
	bodies[0].Press = in.Press
	return bodies, rest
}
