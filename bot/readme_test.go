package main

import (
	"flag"
	"os"
	"strconv"
	"strings"
	"testing"

	"halfweight/bot/engine"
	"halfweight/sessions"
)

var update = flag.Bool("update", false, "write the replies into README.md")

// Every exchange of README.md, "$ go run ./bot ask ..." and the reply below it,
// is held against what the program says.
func TestReadme_exchangesAreWhatTheProgramSays(t *testing.T) {
	const file, fence, command = "../README.md", "```\n", "$ go run ./bot ask "
	readme, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	blocks := strings.Split(string(readme), fence)
	found := 0
	for i, block := range blocks {
		exchange, isOne := strings.CutPrefix(block, command)
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
		blocks[i] = command + quoted + "\n" + said.String()
		if got := said.String(); got != want && !*update {
			t.Errorf("README.md on %q:\n%s\nthe program:\n%s", message, want, got)
		}
	}
	if found == 0 {
		t.Error("README.md holds no exchange")
	}
	if *update {
		if err := os.WriteFile(file, []byte(strings.Join(blocks, fence)), 0o666); err != nil {
			t.Fatal(err)
		}
	}
}
