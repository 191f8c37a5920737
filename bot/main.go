// Command bot counts what the tie-downs on a trailer's load add up to, from
// messages in plain words. Without arguments it chats on the terminal;
// "bot --help" shows the rest.
package main

import (
	"context"
	"fmt"
	"os"
	"strconv"
	"time"

	"halfweight/bot/engine"
	"halfweight/bot/wire"
	"halfweight/sessions"
)

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

// run is the whole program; its result is the exit code.
func run(args []string, in, out, errOut *os.File) int {
	ui := screen{out: out, err: errOut}
	p := program{engine: engine.New(&sessions.Memory{}), ui: ui}
	if len(args) == 0 {
		return p.console(in, out)
	}
	switch args[0] {
	case "ask":
		return p.ask(args[1:], in)
	case "serve":
		return serve(ui, args[1:], os.Getenv)
	case "backup":
		return backup(ui, args[1:], os.Getenv)
	case "help", "-h", "-help", "--help":
		ui.print(usage)
		return exitFine
	}
	return ui.mistake(
		fmt.Sprintf("there is no command %q", args[0]),
		fmt.Sprintf("to ask it: go run ./bot ask %q; to see what there is: go run ./bot --help", args[0]))
}

// program is one run: an engine whose chats live as long as it does.
type program struct {
	engine *engine.Engine
	ui     screen
	events int
}

// answer hands one message to the engine as the next event of its chat; data
// says whether the reply is wanted as data too.
func (p *program) answer(chat, text string, data bool) (wire.Body, error) {
	p.events++
	in := wire.In{ID: strconv.Itoa(p.events), Chat: "con:" + chat, Text: text, At: time.Now(), Data: data}
	result, err := p.engine.Handle(context.Background(), in)
	if err != nil {
		return wire.Body{}, err
	}
	return result.Bodies[0], nil
}
