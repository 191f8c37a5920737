package engine

import (
	"bytes"
	"path/filepath"
	"strings"
	"testing"

	"halfweight/bot/talk"
	"halfweight/sessions"
)

// What a chat told, then forgot, does not come back however often the transport
// delivers it; the chat begins anew with what it tells after that.
func TestHandle_forgottenMessagesDeliveredAgainBringNothingBack(t *testing.T) {
	for name, store := range map[string]Store{"memory": &sessions.Memory{}, "file": opened(t)} {
		t.Run(name, func(t *testing.T) {
			e := New(store)
			told := []string{"gear 6x 3/8 g70", "chain 7 is bent", "machine 12 is a 14000 lb roller", card, "delivered", card, "forget me", "yes"}
			last := send(t, e, "a", told...)
			if !strings.Contains(last.Text, "Forgotten") {
				t.Fatal(last.Text)
			}
			for i := range told {
				r, err := e.Handle(t.Context(), in(told[i]+"-"+string(rune('0'+i)), "a", told[i]))
				if err != nil {
					t.Fatal(err)
				}
				if i < len(told)-1 && len(r.Bodies) > 0 {
					t.Errorf("%q delivered again is answered %q", told[i], r.Bodies[0].Text)
				}
				if i == len(told)-1 && (len(r.Bodies) != 1 || r.Bodies[0].Text != last.Text) {
					t.Errorf("the word delivered again is answered %v", r.Bodies)
				}
			}
			if s, _ := store.Look(t.Context(), "a", ""); s.State != nil {
				t.Errorf("the state is %s", s.State)
			}
			if log, _ := store.Log(t.Context(), "a"); len(log) > 0 {
				t.Errorf("the log holds %v", log)
			}
			for i, text := range []string{"gear", "history", "undo"} {
				r, err := e.Handle(t.Context(), in("new-"+string(rune('0'+i)), "a", text))
				if err != nil || strings.Contains(r.Bodies[0].Text, "chain") || strings.Contains(r.Bodies[0].Text, "roller") {
					t.Errorf("%q is answered %v, %v", text, r.Bodies, err)
				}
			}
		})
	}
}

// The record a chat exports, read back into another, exports the same.
func TestHandle_recordReadBackIsTheSame(t *testing.T) {
	e := New(&sessions.Memory{})
	out := send(t, e, "a", "gear 6x 3/8 g70 with 9200 binders", "gear add 4x 2in straps", "gear red strap 2 is 4in strap", "chain 7 is bent",
		"red strap 2 is cut", "trailer d-rings 6600", "machine 12 is a 14000 lb roller, articulated, steering lock", "units kg",
		card, "front left is cracked", "delivered", "40000 excavator, 4x 1/2 g70 direct", "new load", "export").Text
	back := send(t, e, "b", "gear 2x 1/2 g70", "14000 lb tractor, 4x 3/8 g70 direct", "new load", out, "yes", "export").Text
	if back != out {
		t.Errorf("read back it is\n%s\nnot\n%s", back, out)
	}
	for _, change := range [][2]string{{`"count":6`, `"count":0`}, {`"count":6`, `"count":600`}, {`"Reading":1`, `"Reading":9`}, {`"how":"delivered"`, `"how":"sunk"`},
		{`"verdict":"`, `"verdict":"very `}, {`"ring":`, `"ring":-`}, {`"units":"kg"`, `"units":"stone"`}, {`"pieces"`, `"piece"`}, {`"name":"12"`, `"name":""`},
		{`"Material":"chain"`, `"Material":"wool"`}, {`"tag":"chain 7"`, `"tag":"` + strings.Repeat("x", 100) + `"`}, {out[len(out)-1:], ""}} {
		broken := strings.Replace(out, change[0], change[1], 1)
		if change[1] == "" {
			broken = out[:len(out)-1]
		}
		if broken == out {
			t.Errorf("the record holds no %s", change[0])
		}
		if got := send(t, e, "c "+change[0]+change[1], "gear 2x 1/2 g70", broken); !strings.Contains(got.Text, "Nothing changed") || !bytes.Contains(got.Data, []byte(`"verdict":"unread"`)) {
			t.Errorf("with %s for %s: %s", change[1], change[0], got.Text)
		}
		if got := send(t, e, "c "+change[0]+change[1], "", "", "", "yes"); strings.Contains(got.Text, "Read back") {
			t.Errorf("with %s for %s it is read back", change[1], change[0])
		}
	}
}

// Read back of anything that was told is the state that was, and of anything else
// nothing: neither panics.
func FuzzHandle_record(f *testing.F) {
	e := New(&sessions.Memory{})
	s := talk.State{}
	s, _ = talk.Step(s, talk.Event{ID: "1", Text: "gear 6x 3/8 g70"}, noon)
	s, _ = talk.Step(s, talk.Event{ID: "2", Text: "chain 7 is bent"}, noon)
	_, r := talk.Step(s, talk.Event{ID: "3", Text: "export"}, noon)
	for _, say := range r.Says {
		if x, ok := say.(talk.Export); ok {
			f.Add(string(x.JSON))
		}
	}
	f.Add(`{"halfweight":1}`)
	f.Add(`{"halfweight":1,"units":"lb","past":[{"how":"delivered","verdict":"covered","load":{"Articles":[{}]}}]}`)
	n := 0
	f.Fuzz(func(t *testing.T, text string) {
		n++
		chat := string(rune('a' + n%26))
		for i, line := range []string{text, "yes", "gear", "history", "machine 12, 4x 3/8 direct", "chain 7 replaced", "export"} {
			if _, err := e.Handle(t.Context(), in(strings.Repeat("x", n%50)+chat+string(rune('0'+i)), chat, line)); err != nil {
				t.Fatal(err)
			}
		}
	})
}

func opened(t *testing.T) *sessions.DB {
	d, err := sessions.Open(filepath.Join(t.TempDir(), "store"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { d.Close() })
	return d
}
