package engine

import (
	"halfweight/bot/render"
	"halfweight/bot/talk"
	"halfweight/bot/wire"
)

// dress makes of a reply what its transport carries: buttons, several bodies for
// a long text, or a short text and the rest of it, to be had by "more".
func dress(bodies []wire.Body, reply talk.Reply, in wire.In, caps wire.Caps) (dressed []wire.Body, rest string) {
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
		bodies[i].To = in.ReplyTo
	}
	return bodies, rest
}
