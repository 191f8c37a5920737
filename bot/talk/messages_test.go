package talk_test

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"testing"
	"time"

	"halfweight/bot/talk"
)

// Messages as haulers text loads that are no machine, each with the verdict that
// its section gives on what is told, decided before the message was read. None
// may be covered that is not to be; the rest of the words may stay unread only
// where the row says so.
func TestStep_otherCargoEndsAsItsSectionSays(t *testing.T) {
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
	for _, row := range rows[1:] {
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
