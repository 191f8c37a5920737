package main

// This file holds what the program itself prints. Its rules:
//
//   - Replies and data go to standard output, and nothing else does: no banner,
//     no prompt, no progress. What talks to a person at a terminal goes to the
//     terminal only.
//   - One message of data is one line; a reply is followed by an empty line.
//   - A mistake in using the program goes to standard error in two lines: what
//     was wrong, and what to do about it. Lower case, no full stop, the user's
//     own words in quotes, no blame. Exit code 4.
//   - Nothing that came from outside reaches the screen raw: control characters
//     are shown as a mark.
//   - No colour, no columns.

import (
	"bufio"
	"fmt"
	"io"
	"strings"
	"unicode"
)

// Exit codes of ask, as the data contract names them.
const (
	exitFine      = 0 // covered, answered or done
	exitShort     = 1 // short or fix
	exitUnsettled = 2
	exitUnread    = 3
	exitMisused   = 4
)

const usage = `Counts what the tie-downs on a trailer's load add up to, against the federal
minimum, from messages in plain words.

Chat on the terminal (or pipe messages in, one a line):

    go run ./bot

Ask one thing:

    go run ./bot ask "14000 lb roller, lock bar in, 4x 3/8 g70 direct, 1x 3/8 g70 over"
    go run ./bot ask "3/8 g70?"
    go run ./bot ask -- "- a message that starts with a dash"

Get the answer as data, one JSON object a line:

    go run ./bot ask --json "14000 lb roller, 4x 3/8 g70 direct"

Many messages, one a line; an object names its chat, so that a talk can go on:

    go run ./bot ask --json - <<'END'
    {"chat":"truck 9","text":"14000 lb roller, lock bar in"}
    {"chat":"truck 9","text":"add 4x 3/8 g70 direct"}
    is 3/8 g80 better than 1/2 g70
    END

Exit code of ask, from the built program: 0 covered, answered or done; 1 short,
or something to mend; 2 not settled yet; 3 nothing read; 4 asked the wrong way.
With - it is 0 unless 4.

Serve chats on Telegram, and copy what they told while it runs:

    HALFWEIGHT_TOKEN=... go run ./bot serve
    go run ./bot serve --help
    go run ./bot backup copy.db

The message "help" tells what can be texted.`

const greeting = `Text a load, or "help". Ctrl-D leaves.`

// screen is where the program prints.
type screen struct{ out, err io.Writer }

// print writes text for people, a line feed after it.
func (s screen) print(text string) {
	fmt.Fprintln(s.out, shown(text))
}

// data writes one JSON object as a line.
func (s screen) data(object []byte) error {
	_, err := fmt.Fprintf(s.out, "%s\n", object)
	return err
}

// mistake says in one line what was wrong and in one what to do.
func (s screen) mistake(wrong, do string) int {
	fmt.Fprintf(s.err, "%s\n%s\n", shown(wrong), shown(do))
	return exitMisused
}

// shown is text with its control characters, but the line feed, made visible:
// a message quoted back must not drive the terminal.
func shown(text string) string {
	return strings.Map(func(r rune) rune {
		if r != '\n' && unicode.IsControl(r) {
			return unicode.ReplacementChar
		}
		return r
	}, text)
}

// lines yields the lines of r, of any length, without their ends. The error is
// the one that reading ended with, nil at the end of r.
func lines(r io.Reader, yield func(string) error) error {
	br := bufio.NewReader(r)
	for {
		line, err := br.ReadString('\n')
		if line != "" {
			if err := yield(strings.TrimSuffix(strings.TrimSuffix(line, "\n"), "\r")); err != nil {
				return err
			}
		}
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return err
		}
	}
}
