package parser

import (
	"encoding/csv"
	"os"
	"testing"
)

// testdata/parser/gear_topics.csv: the ways people ask about gear and its
// fitness. Each is a question of its topic and nothing else.
func TestRead_topicsOfGearAreAskedInSeveralWays(t *testing.T) {
	f, err := os.Open("../testdata/parser/gear_topics.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	ways := map[string]int{}
	for _, row := range rows[1:] {
		ways[row[0]]++
		m := Read(row[1])
		if len(m.Acts) != 1 {
			t.Errorf("%q is read as %s", row[1], reading(m))
			continue
		}
		if q, ok := m.Acts[0].(Ask); !ok || q.Topic != row[0] || len(m.Unread) > 0 {
			t.Errorf("%q is read as %s, unread %v; want the topic %q", row[1], reading(m), m.Unread, row[0])
		}
	}
	for key := range gearTopics() {
		if ways[key] < 3 {
			t.Errorf("%q is asked in %d ways only", key, ways[key])
		}
	}
}
