package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"io"
)

// ask answers one message, or with "--json -" one a line of in, and returns the
// exit code of the data contract.
func (p *program) ask(args []string, in io.Reader) int {
	const how = `go run ./bot ask "14000 lb roller, 4x 3/8 g70 direct"`
	flags := flag.NewFlagSet("ask", flag.ContinueOnError)
	flags.SetOutput(io.Discard)
	asData := flags.Bool("json", false, "")
	switch err := flags.Parse(args); {
	case err == flag.ErrHelp:
		p.ui.print(usage)
		return exitFine
	case err != nil:
		return p.ui.mistake(err.Error(), "a message that starts with a dash goes after two dashes: go run ./bot ask -- "+fmt.Sprintf("%q", args[len(args)-1]))
	}
	switch {
	case flags.NArg() == 0:
		return p.ui.mistake("ask needs a message", "put it in quotes: "+how)
	case flags.NArg() > 1:
		return p.ui.mistake(
			fmt.Sprintf("ask takes one message and got %d: %q", flags.NArg(), flags.Args()),
			"put all of it in one pair of quotes, options before it: "+how)
	case flags.Arg(0) == "-" && !*asData:
		return p.ui.mistake("ask - reads lines and answers with data only", "go run ./bot ask --json - for data, go run ./bot with the lines piped in for replies")
	case flags.Arg(0) == "-":
		return p.askLines(in)
	}
	body, err := p.answer("", flags.Arg(0), true)
	if err != nil {
		return p.ui.mistake(err.Error(), "send it again")
	}
	if *asData {
		p.ui.data(body.Data)
	} else {
		p.ui.print(body.Text)
	}
	return exitCode(body.Data)
}

// askLines answers every line of in with one line of data.
func (p *program) askLines(in io.Reader) int {
	err := lines(in, func(line string) error {
		chat, text := message(line)
		body, err := p.answer(chat, text, true)
		if err != nil {
			return err
		}
		return p.ui.data(body.Data)
	})
	if err != nil {
		return p.ui.mistake(err.Error(), "what was answered so far stands")
	}
	return exitFine
}

// message is what a line of input sends, and to which chat: a JSON object with a
// text may name its chat; any other line is itself the text of the shared one.
func message(line string) (chat, text string) {
	var fields map[string]json.RawMessage
	if json.Unmarshal([]byte(line), &fields) != nil || json.Unmarshal(fields["text"], &text) != nil {
		return "", line
	}
	if json.Unmarshal(fields["chat"], &chat) != nil {
		chat = string(fields["chat"]) // a chat named by its number
	}
	return chat, text
}

// exitCode is the code for an answer's verdict.
func exitCode(data []byte) int {
	var answer struct{ Verdict string }
	if err := json.Unmarshal(data, &answer); err != nil {
		panic(fmt.Sprintf("the answer is not the contract's: %v", err))
	}
	switch answer.Verdict {
	case "short", "fix":
		return exitShort
	case "unsettled":
		return exitUnsettled
	case "unread":
		return exitUnread
	}
	return exitFine
}
