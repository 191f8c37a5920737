package talk_test

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"testing"
	"time"

	"halfweight/bot/render"
	"halfweight/bot/sms"
	"halfweight/bot/talk"
)

// cargoMessages are messages as haulers text loads that are no machine, each with
// the verdict that its section gives on what is told, decided before the message
// was read, and whether some of its words stay unread.
func cargoMessages(t *testing.T) [][]string {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "messages", "cargo.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	const fewest = 120
	if len(rows) < fewest {
		t.Fatalf("%d messages", len(rows))
	}
	return rows[1:]
}

func TestStep_otherCargoEndsAsItsSectionSays(t *testing.T) {
	for _, row := range cargoMessages(t) {
		text, verdict, unread := row[0], row[1], row[2] == "yes"
		_, r := talk.Step(talk.State{}, talk.Event{ID: "1", Text: text}, time.Unix(0, 0))
		if r.Verdict != verdict {
			t.Errorf("%q is %s, want %s: %s", text, r.Verdict, verdict, row[3])
		}
		if len(r.Unread) > 0 != unread {
			t.Errorf("%q leaves %v unread", text, r.Unread)
		}
	}
}

// A reply that names a section's checks by eye fits two segments like any other.
func TestStep_otherCargoIsAnsweredInTwoSegments(t *testing.T) {
	for _, row := range cargoMessages(t) {
		_, r := talk.Step(talk.State{}, talk.Event{ID: "1", Text: row[0]}, time.Unix(0, 0))
		if text, _ := render.Brief(r, sms.Fits); !sms.Fits(text) {
			t.Errorf("%q is answered with %q", row[0], text)
		}
	}
}
