package talk_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"halfweight/bot/engine"
	"halfweight/bot/render"
	"halfweight/bot/talk"
	"halfweight/bot/wire"
	"halfweight/sessions"
)

var update = flag.Bool("update", false, "write the replies into testdata/chats")

// script is a golden conversation: "> " what the user texts, "< " what the bot
// answers, "+2h" moves the clock, "#" is a note. Several lines of one kind in a
// row are one message.
type script []entry

type entry struct {
	note, text, reply string
	wait              time.Duration
}

func readScript(t *testing.T, file string) script {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var s script
	last := ""
	for n, line := range strings.Split(strings.TrimSuffix(string(data), "\n"), "\n") {
		kind, rest := "", ""
		if line != "" {
			kind, rest = line[:1], strings.TrimPrefix(line[1:], " ")
		}
		switch {
		case kind == ">" && last == ">":
			s[len(s)-1].text += "\n" + rest
		case kind == ">":
			s = append(s, entry{text: rest})
		case kind == "<" && last == "<":
			s[len(s)-1].reply += "\n" + rest
		case kind == "<" && last == ">":
			s[len(s)-1].reply = rest
		case kind == "+":
			wait, err := time.ParseDuration(rest)
			if err != nil {
				t.Fatalf("%s:%d: %v", file, n+1, err)
			}
			s = append(s, entry{wait: wait})
		case kind == "#":
			s = append(s, entry{note: line})
		case kind != "":
			t.Fatalf("%s:%d: %q is no line of a conversation", file, n+1, line)
		}
		if last = kind; kind == "" {
			last = ""
		}
	}
	return s
}

func (s script) write(file string) error {
	var out bytes.Buffer
	for i, e := range s {
		switch {
		case e.note != "":
			fmt.Fprintln(&out, e.note)
		case e.wait > 0:
			wait := strings.TrimSuffix(e.wait.String(), "0s")
			if e.wait%time.Hour == 0 {
				wait = strings.TrimSuffix(wait, "0m")
			}
			fmt.Fprintf(&out, "\n+%s\n", wait)
		default:
			if i > 0 {
				fmt.Fprintln(&out)
			}
			for _, line := range strings.Split(e.text, "\n") {
				fmt.Fprintln(&out, strings.TrimSpace("> "+line))
			}
			for _, line := range strings.Split(e.reply, "\n") {
				fmt.Fprintln(&out, strings.TrimSpace("< "+line))
			}
		}
	}
	return os.WriteFile(file, out.Bytes(), 0o644)
}

// play answers every message of a script through answer.
func (s script) play(answer func(n int, text string, now time.Time) string) script {
	now := time.Date(2026, 5, 4, 6, 0, 0, 0, time.UTC)
	said := make(script, len(s))
	for i, e := range s {
		now = now.Add(e.wait)
		if e.note == "" && e.wait == 0 {
			e.reply = strings.TrimSpace(answer(i, e.text, now))
		}
		said[i] = e
	}
	return said
}

// straight is talk and render alone, the state kept as JSON between messages.
func straight(t *testing.T) func(int, string, time.Time) string {
	var kept []byte
	log := map[uint64]talk.Past{}
	return func(n int, text string, now time.Time) string {
		var s talk.State
		if kept != nil {
			if err := json.Unmarshal(kept, &s); err != nil {
				t.Fatal(err)
			}
		}
		e := talk.Event{ID: fmt.Sprint(n), Text: text}
		before := s
		s, r := talk.Step(before, e, now)
		if r.Recall {
			for _, n := range slices.Sorted(maps.Keys(log)) {
				e.Past = append(e.Past, log[n])
			}
			s, r = talk.Step(before, e, now)
		}
		for _, p := range r.Log {
			if p.Past == nil {
				delete(log, p.N)
			} else {
				log[p.N] = *p.Past
			}
		}
		var err error
		if kept, err = json.Marshal(s); err != nil {
			t.Fatal(err)
		}
		return render.Text(r)
	}
}

// twice is the whole engine, every message delivered a second time.
func twice(t *testing.T) func(int, string, time.Time) string {
	e := engine.New(&sessions.Memory{})
	return func(n int, text string, now time.Time) string {
		in := wire.In{ID: fmt.Sprint(n), Chat: "con:test", Text: text, At: now}
		var first string
		for range 2 {
			r, err := e.Handle(context.Background(), in)
			if err != nil {
				t.Fatal(err)
			}
			var texts []string
			for _, b := range r.Bodies {
				texts = append(texts, b.Text)
			}
			all := strings.Join(texts, "\n")
			if first != "" && all != first {
				t.Errorf("delivered again, %q was answered %q, first %q", text, all, first)
			}
			first = all
		}
		return first
	}
}

// restarted is the whole engine on a file, opened anew for every message.
func restarted(t *testing.T) func(int, string, time.Time) string {
	path := filepath.Join(t.TempDir(), "store")
	return func(n int, text string, now time.Time) string {
		store, err := sessions.Open(path)
		if err != nil {
			t.Fatal(err)
		}
		defer func() {
			if err := errors.Join(store.Check(), store.Close()); err != nil {
				t.Error(err)
			}
		}()
		r, err := engine.New(store).Handle(context.Background(), wire.In{ID: fmt.Sprint(n), Chat: "con:test", Text: text, At: now})
		if err != nil {
			t.Fatal(err)
		}
		var texts []string
		for _, b := range r.Bodies {
			texts = append(texts, b.Text)
		}
		return strings.Join(texts, "\n")
	}
}

func TestChats_asRecorded(t *testing.T) {
	files, err := filepath.Glob("../../testdata/chats/*.chat")
	if err != nil || len(files) == 0 {
		t.Fatalf("no conversations: %v", err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".chat"), func(t *testing.T) {
			want := readScript(t, file)
			got := want.play(straight(t))
			if *update {
				if err := got.write(file); err != nil {
					t.Fatal(err)
				}
				want = got
			}
			opt := cmp.AllowUnexported(entry{})
			if diff := cmp.Diff(want, got, opt); diff != "" {
				t.Errorf("straight (-recorded +now):\n%s", diff)
			}
			if diff := cmp.Diff(got, want.play(twice(t)), opt); diff != "" {
				t.Errorf("every message delivered twice (-straight +twice):\n%s", diff)
			}
			if diff := cmp.Diff(got, want.play(restarted(t)), opt); diff != "" {
				t.Errorf("the program restarted after every message (-straight +restarted):\n%s", diff)
			}
		})
	}
}
