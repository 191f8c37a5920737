package talk

import (
	"fmt"
	"testing"
)

func TestStep_messagesAsTheyAreTextedComeToTheirVerdict(t *testing.T) {
	for _, m := range wordings(t, "texted.csv") {
		_, r := Step(State{}, Event{ID: "1", Text: m["text"]}, noon)
		if m["verdict"] == "not covered" {
			if r.Verdict == "covered" {
				t.Errorf("%s: %q is covered", m["kind"], m["text"])
			}
			continue
		}
		if r.Verdict != m["verdict"] {
			t.Errorf("%s: %q is %s, want %s (unread %v)", m["kind"], m["text"], r.Verdict, m["verdict"], r.Unread)
			continue
		}
		if want := m["credit_lb"]; want != "" && fmt.Sprint(credit(r)) != want {
			t.Errorf("%s: %q counts %d, want %s", m["kind"], m["text"], credit(r), want)
		}
	}
}
