package talk

import (
	"testing"
	"time"
)

// stepped steps through events and gives the last reply.
func stepped(s State, events ...Event) (State, Reply) {
	var r Reply
	for _, e := range events {
		s, r = Step(s, e, time.Unix(0, 0))
	}
	return s, r
}

func why(r Reply) string {
	for _, say := range r.Says {
		if c, ok := say.(Cannot); ok {
			return c.Why
		}
	}
	return ""
}

func TestStep_editIsReadInPlaceOfTheLastTurn(t *testing.T) {
	const three, four = "14000 lb roller, lock bar in, 3x 3/8 g70 direct", "14000 lb roller, lock bar in, 4x 3/8 g70 direct"
	loose := Event{ID: "2", Text: "front left is loose"}
	for _, c := range []struct {
		name    string
		events  []Event
		verdict string
		cannot  string
	}{
		{"the load", []Event{{ID: "1", Text: three}, {ID: "e", Edits: "1", Text: four}}, "covered", ""},
		{"twice", []Event{{ID: "1", Text: three}, {ID: "e", Edits: "1", Text: four}, {ID: "f", Edits: "1", Text: three}}, "short", ""},
		{"a question after it", []Event{{ID: "1", Text: three}, {ID: "q", Text: "why"}, {ID: "e", Edits: "1", Text: four}}, "covered", ""},
		{"a change", []Event{{ID: "1", Text: four}, loose, {ID: "e", Edits: "2", Text: "lock bar in"}}, "covered", ""},
		{"counted on", []Event{{ID: "1", Text: four}, loose, {ID: "e", Edits: "1", Text: three}}, "unread", "edited late"},
		{"read nothing before", []Event{{ID: "1", Text: "florp"}, {ID: "e", Edits: "1", Text: four}}, "covered", ""},
		{"undone since", []Event{{ID: "1", Text: four}, {ID: "2", Text: "undo"}, {ID: "e", Edits: "1", Text: three}}, "unread", "edited late"},
		{"into gear", []Event{{ID: "1", Text: "gear 6x 3/8 g70"}, {ID: "e", Edits: "1", Text: "gear 5x 3/8 g70"}}, "unread", "edited command"},
		{"not heard before", []Event{{ID: "1", Text: four}, {ID: "e", Edits: "0", First: true, Text: "front left is loose"}}, "short", ""},
	} {
		if _, r := stepped(State{}, c.events...); r.Verdict != c.verdict || c.cannot != "" && why(r) != c.cannot {
			t.Errorf("%s: %s %q, want %s %q", c.name, r.Verdict, why(r), c.verdict, c.cannot)
		} else if r.Replaces != (c.cannot == "") {
			t.Errorf("%s: replaces is %v", c.name, r.Replaces)
		}
	}
}

func TestStep_pressCountsWhileItsQuestionIsOpen(t *testing.T) {
	s, r := stepped(State{}, Event{ID: "1", Text: "14000 lb roller, 4x 3/8 g70 direct"})
	if r.Ask == nil || r.Ask.Event != "1" || len(r.Ask.Options) == 0 {
		t.Fatalf("it asks %+v", r.Ask)
	}
	yes := Event{ID: "2", Text: "LOCKED", Pressed: "1"}
	s, r = stepped(s, yes)
	if r.Verdict != "covered" {
		t.Errorf("pressed: %s %q", r.Verdict, why(r))
	}
	for _, other := range []string{"1", "0"} {
		after, r := stepped(s, Event{ID: "3", Text: "NOT LOCKED", Pressed: other})
		if why(r) != "settled" || len(after.Turns) != len(s.Turns) {
			t.Errorf("pressed again under %s: %s %q", other, r.Verdict, why(r))
		}
	}
}

func TestStep_pictureIsNotTakenForTheLoad(t *testing.T) {
	_, r := stepped(State{}, Event{ID: "1", Other: "picture"})
	if why(r) != "not words" {
		t.Errorf("alone: %q", why(r))
	}
	_, r = stepped(State{}, Event{ID: "1", Other: "picture", Text: "14000 lb roller, lock bar in, 4x 3/8 g70 direct"})
	if r.Verdict != "covered" || why(r) != "words only" {
		t.Errorf("with words: %s %q", r.Verdict, why(r))
	}
}
