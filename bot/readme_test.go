package main

import (
	"os"
	"strconv"
	"strings"
	"testing"

	"halfweight/bot/engine"
	"halfweight/sessions"
)

// Every exchange of README.md, "$ go run ./bot ask ..." and the reply below it,
// is held against what the program says.
func TestReadme_exchangesAreWhatTheProgramSays(t *testing.T) {
	readme, err := os.ReadFile("../README.md")
	if err != nil {
		t.Fatal(err)
	}
	const command = "$ go run ./bot ask "
	found := 0
	for i, block := range strings.Split(string(readme), "```") {
		exchange, isOne := strings.CutPrefix(strings.TrimSpace(block), command)
		if i%2 == 0 || !isOne {
			continue
		}
		found++
		quoted, want, _ := strings.Cut(exchange, "\n")
		message, err := strconv.Unquote(quoted)
		if err != nil {
			t.Fatalf("read %s: %v", quoted, err)
		}
		var said strings.Builder
		p := program{engine: engine.New(&sessions.Memory{}), ui: screen{out: &said, err: &said}}
		p.ask([]string{message}, strings.NewReader(""))
		if got := strings.TrimSpace(said.String()); got != want {
			t.Errorf("README.md on %q:\n%s\nthe program:\n%s", message, want, got)
		}
	}
	if found == 0 {
		t.Error("README.md holds no exchange")
	}
}
