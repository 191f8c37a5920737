package talk

import (
	"encoding/json"
	"fmt"
	"testing"
	"time"
)

// Every state of a talk, of its edits and of what is taken back reads as the one
// that json.Marshal writes.
func TestEncode_readsAsWhatMarshalWrites(t *testing.T) {
	texts := []string{
		"14000 lb roller, 4x 3/8 g70 direct", "lock bar in", "front left is loose", "undo", "add 1x 3/8 g70 over",
		"it weighs 15000 lb", "new load", "undo", "48000 lb dozer, 4x 1/2 g70 direct", "one has a cracked hook",
		"gear 6x 3/8 g70 with 9200 binders", "rolling", "strike that", "make the last two over",
	}
	var s State
	for n := range 4 * len(texts) {
		e := Event{ID: fmt.Sprint(n), Text: texts[n%len(texts)]}
		if n%9 == 8 { // the message before is edited
			e.Edits, e.Text = fmt.Sprint(n-1), "13000 lb roller, lock bar in, 3x 3/8 g70 direct"
		}
		now, _ := Step(s, e, time.Unix(int64(n), 0))
		wrote, err := now.Encode()
		if err != nil {
			t.Fatal(err)
		}
		want, err := json.Marshal(now)
		if err != nil {
			t.Fatal(err)
		}
		var read State
		if err := json.Unmarshal(wrote, &read); err != nil {
			t.Fatalf("%v in %s", err, wrote)
		}
		again, err := json.Marshal(read)
		if err != nil {
			t.Fatal(err)
		}
		if string(again) != string(want) || len(wrote) != len(want) {
			t.Fatalf("after %q it wrote\n%s\nwant\n%s", e.Text, wrote, want)
		}
		if s = now; n%5 == 4 {
			s = read // after a restart
		}
	}
	if len(s.Turns) != kept {
		t.Errorf("%d turns: too few to try them all", len(s.Turns))
	}
}
