package engine

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"halfweight/bot/render"
	"halfweight/bot/talk"
	"halfweight/sessions"
)

// figure is a figure, and not the number in a model's name ("D6").
var figure = regexp.MustCompile(`(^|[\s,.;:/(])\pN`)

// FuzzHandle sends the lines of any text to one chat.
func FuzzHandle(f *testing.F) {
	f.Add("")
	f.Add(card + "\nlocked\nfront left is loose\nundo")
	f.Add("gear 6x 3/8 g70 with 9200 binders\nmachine 12 is a 14000 lb roller, articulated\nmachine 12, 4x 3/8 direct\nwhy")
	f.Add("38000 excavator 4x 1/2 g70 direct\ndown and chained\nmake the last two over\nnew load\nhistory")
	f.Add("car 3600, 4x 2in direct, one rear has 1/4 nick each side\nreplaced\nunits kg\nwhat do I need\nforget me")
	f.Add("&7#0")
	f.Add("roller -14000 lb \x00\x1b[2J \xff 4x ⅜ g70 🚜\n{\"verdict\":\"covered\"}")
	f.Fuzz(func(t *testing.T, text string) { hold(t, strings.SplitN(text, "\n", 8)) })
}

// Talks of the words the program knows, put together as nobody would.
func TestHandle_wordsInAnyOrder(t *testing.T) {
	words := strings.Split("14000 lb|15,200|7 tons|6350 kg|roller|excavator|backhoe|dozer|car|crate|machine 12|articulated|4x|one|two|2 more|3/8|1/2|5/16|2 in|g70|g80|no marks|chain|chains|strap|winch line|binder|9200 binders|direct|over|same side|front left|rear|at the corners|each corner|on the bucket|bucket|blade|boom|down|up|chained|lock bar in|steering locked|no lock|loose|tight again|1/4 cut|cracked hook|replaced|came off|lost|not|no|and|,|.|?|over it|add|take off|make the last two|it weighs|they are|they read|what if|why|how many|for|what do I need|does a boom lock count|gear|less|trailer d-rings 6600|units kg|undo|new load|rolling|stopped|checked|at 140 miles|delivered|help|history|export|forget me|yes|chain 7|strap B|red strap 2|locked|don't know|12 ft long|blocked|florp|-5|0|🚜", "|")
	rapid.Check(t, func(t *rapid.T) {
		line := rapid.Map(rapid.SliceOfN(rapid.SampledFrom(words), 1, 12), func(w []string) string { return strings.Join(w, " ") })
		hold(t, rapid.SliceOfN(line, 1, 8).Draw(t, "lines"))
	})
}

// hold sends lines to one chat. Whatever they are, each is answered with one
// line of data that holds it; what is stored between them loses nothing; and no
// figure was left unread in an answer that covers a load.
func hold(t rapid.TB, lines []string) {
	e := New(&sessions.Memory{})
	var folded talk.State
	log := map[uint64]talk.Past{}
	for i, line := range lines {
		event := in(fmt.Sprint(i), "a", line)
		r, err := e.Handle(context.Background(), event)
		if err != nil || len(r.Bodies) != 1 {
			t.Fatalf("Handle %q: %d bodies, %v", line, len(r.Bodies), err)
		}
		body := r.Bodies[0]

		var reply talk.Reply
		line = strings.ToValidUTF8(line, "\uFFFD")
		before, told := folded, talk.Event{ID: event.ID, Text: line}
		if folded, reply = talk.Step(before, told, event.At); reply.Recall {
			for _, n := range slices.Sorted(maps.Keys(log)) {
				told.Past = append(told.Past, log[n])
			}
			folded, reply = talk.Step(before, told, event.At)
		}
		for _, p := range reply.Log {
			if delete(log, p.N); p.Past != nil {
				log[p.N] = *p.Past
			}
		}
		if forgotten(reply) {
			folded = talk.State{}
			clear(log)
		}
		if d := cmp.Diff(render.Body(reply), body); d != "" {
			t.Errorf("%q is answered differently after its chat was stored:\n%s", line, d)
		}

		var answer struct {
			Text, Verdict, Reply string
			Unread               []struct {
				Text string
				At   int
			}
		}
		if err := json.Unmarshal(body.Data, &answer); err != nil || bytes.ContainsRune(body.Data, '\n') {
			t.Fatalf("the data of %q is not one JSON object on one line: %v\n%s", line, err, body.Data)
		}
		if answer.Text != line || answer.Reply != body.Text || body.Text == "" {
			t.Errorf("the data of %q holds the text %q and the reply %q, the reply is %q", line, answer.Text, answer.Reply, body.Text)
		}
		if !slices.Contains([]string{"covered", "fix", "short", "unsettled", "answer", "done", "unread"}, answer.Verdict) {
			t.Errorf("the verdict of %q is %q", line, answer.Verdict)
		}
		for _, u := range answer.Unread {
			if answer.Verdict == "covered" && figure.MatchString(u.Text) {
				t.Errorf("%q is covered with %q unread", line, u.Text)
			}
			if runes := []rune(line); u.At < 0 || u.At > len(runes) || !strings.HasPrefix(string(runes[u.At:]), u.Text) {
				t.Errorf("%q does not stand in %q at %d", u.Text, line, u.At)
			}
		}
	}
}
