package talk

import (
	"strings"
	"testing"
	"time"
)

// sent is a text, with the part it is and when after noon it comes.
type sent struct {
	after time.Duration
	part  Part
	text  string
}

func texts(list ...sent) (s State, r Reply) {
	for i, m := range list {
		s, r = Step(s, Event{ID: string(rune('a' + i)), Part: m.part, Text: m.text}, noon.Add(m.after))
	}
	return s, r
}

func TestStep_partsInAnyOrderAreOneMessage(t *testing.T) {
	_, r := texts(
		sent{0, Part{"a7", 3, 3}, "direct"},
		sent{0, Part{"a7", 1, 3}, "14000 lb tractor, 4x "},
		sent{0, Part{"a7", 1, 3}, "14000 lb tractor, 4x "},
		sent{0, Part{"a7", 2, 3}, "3/8 g70 "},
	)
	want(t, "all three", r.Verdict, "covered")
}

// The same mark on parts of another message does not mix the two.
func TestStep_aPartWithOtherWordsBeginsAnotherMessage(t *testing.T) {
	_, r := texts(
		sent{0, Part{"a7", 1, 2}, "26000 lb dozer, 2x "},
		sent{0, Part{"a7", 1, 2}, "14000 lb tractor, 4x "},
		sent{0, Part{"a7", 2, 2}, "3/8 g70 direct"},
	)
	if len(r.Says) == 0 || r.Says[0] != (Cannot{Why: "part lost", Words: "26000 lb dozer, 2x"}) {
		t.Errorf("the first is dropped in silence: %+v", r.Says)
	}
	if r.Report == nil || r.Report.Articles[0].Article.Kind != "tractor" {
		t.Errorf("%+v", r.Report)
	}
}

// What came of a message whose rest never did is quoted, and holds the load open.
func TestStep_aPartWhoseRestNeverCameIsToldAndHoldsTheLoadOpen(t *testing.T) {
	whole := sent{0, Part{}, "14000 lb tractor, 4x 3/8 g70 direct"}
	half := sent{time.Minute, Part{"a7", 1, 2}, "front left is lo"}
	if _, r := texts(whole, half, sent{partsTime, Part{}, "rolling"}); len(r.Says) > 0 && strings.Contains(r.Text, "lo") {
		t.Errorf("given up too soon: %+v", r.Says)
	}
	s, r := texts(whole, half, sent{partsTime + 2*time.Minute, Part{}, "rolling"})
	if len(r.Says) == 0 || r.Says[0] != (Cannot{Why: "part lost", Words: "front left is lo"}) {
		t.Errorf("%+v", r.Says)
	}
	want(t, "rolling", r.LoadVerdict, "unsettled")
	_, r = Step(s, Event{ID: "z", Text: "14000 lb tractor, 4x 3/8 g70 direct"}, noon.Add(time.Hour))
	want(t, "told again", r.Verdict, "covered")
}
