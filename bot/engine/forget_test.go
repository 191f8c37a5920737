package engine

import (
	"bytes"
	"path/filepath"
	"strings"
	"testing"

	"halfweight/bot/talk"
	"halfweight/bot/wire"
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
		"red strap 2 is cut", "trailer d-rings 6600", "machine 12 is a 14000 lb roller, articulated, steering lock", "units kg", "rules canada", "house rule 60 percent", "house rule at least 5 tie-downs",
		card, "front left is cracked", "delivered", "40000 excavator, 4x 1/2 g70 direct", "new load", "export").Text
	back := send(t, e, "b", "gear 2x 1/2 g70", "14000 lb tractor, 4x 3/8 g70 direct", "new load", out, "yes", "export").Text
	if back != out {
		t.Errorf("read back it is\n%s\nnot\n%s", back, out)
	}
	for _, change := range [][2]string{{`"count":6`, `"count":0`}, {`"count":6`, `"count":600`}, {`"Reading":1`, `"Reading":9`}, {`"how":"delivered"`, `"how":"sunk"`},
		{`"verdict":"`, `"verdict":"very `}, {`"ring":`, `"ring":-`}, {`"units":"kg"`, `"units":"stone"`}, {`"pieces"`, `"piece"`}, {`"name":"12"`, `"name":""`},
		{`"rules":"canada"`, `"rules":"moon"`}, {`"percent":60`, `"percent":40`}, {`"kind":"ties"`, `"kind":"need"`}, {`"kind":"ties"`, `"kind":"luck"`}, {`"Material":"chain"`, `"Material":"wool"`}, {`"tag":"chain 7"`, `"tag":"` + strings.Repeat("x", 100) + `"`}, {out[len(out)-1:], ""}} {
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

// House rules outlast a record that has no word of rules, and a record that would
// ask less says so before it is read back.
func TestHandle_recordDropsNoRuleSilently(t *testing.T) {
	e := New(&sessions.Memory{})
	plain := send(t, e, "plain", "gear 6x 3/8 g70", "export").Text
	old := strings.Replace(plain, `"rules":"","house":[],`, "", 1)
	if old == plain {
		t.Fatal(plain)
	}
	if got := send(t, e, "a", "house rule 60 percent", plain); !strings.Contains(got.Text, "CAREFUL") {
		t.Errorf("offered: %s", got.Text)
	}
	if got := send(t, e, "a", "", "", "no", plain, "yes", "house rules"); !strings.Contains(got.Text, "No house rules") {
		t.Errorf("read back: %s", got.Text)
	}
	if got := send(t, e, "b", "house rule 60 percent", old); strings.Contains(got.Text, "CAREFUL") || strings.Contains(got.Text, "rules") {
		t.Errorf("offered: %s", got.Text)
	}
	if got := send(t, e, "b", "", "", "yes", "house rules"); strings.Contains(got.Text, "No house rules") {
		t.Errorf("read back: %s", got.Text)
	}
}

// After a carrier's STOP nothing is said to a record either, and the word that was
// waited for is not waited for any more.
func TestHandle_stopOutlastsARecordAndLetsAConfirmationGo(t *testing.T) {
	e := New(&sessions.Memory{})
	record := send(t, e, "other", "units kg", "export").Text
	send(t, e, "a", "gear 6x 3/8 g70", "forget me")
	for i, step := range []struct{ text, keyword, want string }{
		{"STOP", "stop", "*"}, {record, "", ""}, {"yes", "", ""}, {strings.Repeat("x", 9000), "", ""}, {"START", "start", "*"}, {"yes", "", "*"}, {"gear", "", "3/8"},
	} {
		event := in("stop "+string(rune('0'+i)), "a", step.text)
		event.Keyword = step.keyword
		r, err := e.Handle(t.Context(), event)
		if err != nil {
			t.Fatal(err)
		}
		switch {
		case step.want == "" && len(r.Bodies) > 0:
			t.Errorf("%.20q is answered %q", step.text, r.Bodies[0].Text)
		case step.want != "" && step.want != "*" && !strings.Contains(r.Bodies[0].Text, step.want):
			t.Errorf("%.20q is answered %q", step.text, r.Bodies[0].Text)
		}
	}
}

// A group that became another is forgotten under both names; what the transport
// delivers again, the move too, brings nothing back.
func TestHandle_forgottenGroupThatMovedStaysForgotten(t *testing.T) {
	for name, store := range map[string]Store{"memory": &sessions.Memory{}, "file": opened(t)} {
		t.Run(name, func(t *testing.T) {
			e := New(store)
			told := []string{"gear 6x 3/8 g70", "house rule 60 percent", card, "delivered"}
			send(t, e, "group", told...)
			moved := wire.In{Chat: "super", MovedFrom: "group"}
			if _, err := e.Handle(t.Context(), moved); err != nil {
				t.Fatal(err)
			}
			if got := send(t, e, "super", "history"); !strings.Contains(got.Text, "delivered") {
				t.Errorf("the past loads did not move: %s", got.Text)
			}
			if got := send(t, e, "super", "", "forget me", "yes"); !strings.Contains(got.Text, "Forgotten") {
				t.Fatal(got.Text)
			}
			for range 2 {
				for i, text := range told {
					if r, err := e.Handle(t.Context(), in(text+"-"+string(rune('0'+i)), "group", text)); err != nil || len(r.Bodies) > 0 {
						t.Errorf("%q delivered again is answered %v, %v", text, r.Bodies, err)
					}
				}
				if _, err := e.Handle(t.Context(), moved); err != nil {
					t.Fatal(err)
				}
			}
			for _, chat := range []string{"group", "super"} {
				if s, _ := store.Look(t.Context(), chat, ""); s.State != nil || s.MovedTo != "" {
					t.Errorf("%s is known: %+v", chat, s)
				}
				if log, _ := store.Log(t.Context(), chat); len(log) > 0 {
					t.Errorf("%s has a log: %v", chat, log)
				}
			}
		})
	}
}

// Where both names of a chat had told something, the past loads of both go on.
func TestHandle_pastLoadsOfBothNamesGoOn(t *testing.T) {
	e := New(&sessions.Memory{})
	send(t, e, "group", "22000 lb dozer, 4x 1/2 g70 direct", "delivered")
	send(t, e, "super", card, "delivered")
	if _, err := e.Handle(t.Context(), wire.In{Chat: "super", MovedFrom: "group"}); err != nil {
		t.Fatal(err)
	}
	for range 2 {
		got := send(t, e, "super", "", "", "history").Text
		if !strings.Contains(got, "ozer") || !strings.Contains(got, "oller") {
			t.Errorf("history: %s", got)
		}
	}
	got := send(t, e, "super", "", "", "", "9000 lb tractor, 4x 3/8 g70 direct", "delivered", "history").Text
	for _, load := range []string{"ozer", "oller", "ractor"} {
		if !strings.Contains(got, load) {
			t.Errorf("no %s in the history: %s", load, got)
		}
	}
}

// An answer in two text messages at most cannot hold a record: it is said where one
// is to be had. The word that the chat is forgotten is kept without its address.
func TestHandle_textMessagesCarryNoRecordAndTheFarewellNoAddress(t *testing.T) {
	for name, inline := range map[string]bool{"inline": true, "pushed": false} {
		t.Run(name, func(t *testing.T) {
			f := newFake()
			f.caps = wire.Caps{Fits: func(s string) bool { return len(s) <= 300 }, Inline: inline}
			store := &sessions.Memory{}
			e := New(store, f)
			var got []wire.Body
			for i, text := range []string{"gear 6x 3/8 g70", "export", "forget me", "yes"} {
				event := in(string(rune('0'+i)), "tg:7", text)
				event.ReplyTo = "sealed number"
				r, err := e.Handle(t.Context(), event)
				if err != nil {
					t.Fatal(err)
				}
				got = append(got, r.Bodies...)
			}
			if len(got) != 4 || !strings.Contains(got[1].Text, "Telegram") || strings.Contains(got[1].Text, "{") {
				t.Fatalf("answered %+v", got)
			}
			s, _ := store.Look(t.Context(), "tg:7", "3")
			if kept := len(s.Bodies) > 0; !s.Seen || kept != inline {
				t.Errorf("of the farewell is kept: %s", s.Bodies)
			}
			for _, b := range s.Bodies {
				if bytes.Contains(b, []byte("sealed")) || bytes.Contains(b, []byte("tg:7")) {
					t.Errorf("the farewell is kept as %s", b)
				}
			}
			row, waits, _ := store.Next(t.Context(), "tg:7")
			if waits == inline || waits && (!bytes.Contains(row.Body, []byte("sealed")) || bytes.Contains(row.Body, []byte("tg:7"))) {
				t.Errorf("waiting is %s", row.Body)
			}
		})
	}
}
