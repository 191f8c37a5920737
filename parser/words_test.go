package parser

import (
	"encoding/csv"
	"os"
	"slices"
	"strings"
	"testing"

	"halfweight/rules/load"
	"halfweight/rules/tables"
)

// row is one row of the vocabulary.
type row struct {
	kind, word string
	spellings  []string
}

func vocabulary(t *testing.T) []row {
	t.Helper()
	r := csv.NewReader(strings.NewReader(wordsCSV))
	r.Comment = '#'
	all, err := r.ReadAll() // every row has as many columns as the first
	if err != nil {
		t.Fatal(err)
	}
	if want := []string{"kind", "word", "spellings", "note"}; !slices.Equal(all[0], want) {
		t.Fatalf("the columns are %q, want %q", all[0], want)
	}
	var out []row
	for _, x := range all[1:] {
		if x[0] == holdRow {
			continue
		}
		out = append(out, row{x[0], x[1], strings.Split(x[2], "|")})
	}
	return out
}

func TestWords_noSpellingTwice(t *testing.T) {
	first := map[string]string{}
	for _, r := range vocabulary(t) {
		for _, s := range r.spellings {
			if where, ok := first[s]; ok {
				t.Errorf("%q stands under %s and under %s %s", s, where, r.kind, r.word)
			}
			first[s] = r.kind + " " + r.word
		}
	}
}

func TestWords_everySpellingReadsAsItsRowSays(t *testing.T) {
	for _, r := range vocabulary(t) {
		for _, s := range r.spellings {
			if strings.TrimSpace(s) == "" || s != strings.ToLower(s) {
				t.Errorf("%s %s: the spelling %q", r.kind, r.word, s)
				continue
			}
			if _, number := numberWords[s]; r.kind == "number" || r.kind == "plain" && number {
				continue // read as the figure it stands for
			}
			toks := tokenise(s, english())
			if len(toks) != 1 || kindName[toks[0].kind] != r.kind || r.kind != "grade" && toks[0].word != r.word {
				var got []string
				for _, x := range toks {
					got = append(got, kindName[x.kind]+" "+x.word)
				}
				t.Errorf("%q stands under %s %s and reads as %q", s, r.kind, r.word, got)
			}
		}
	}
}

// notInTheTables are kinds of article that the words know and the tables do
// not, and what they are taken for.
var notInTheTables = map[string]string{
	"hoe":  "asked: an excavator or a backhoe's end",
	"load": "an article of no kind",
}

func TestWords_everyArticleIsAKindOfTheTables(t *testing.T) {
	for _, r := range vocabulary(t) {
		if r.kind != "kind" {
			continue
		}
		if _, ok := tables.Kind(r.word); !ok && notInTheTables[r.word] == "" {
			t.Errorf("the tables have no kind %q", r.word)
		}
	}
}

func TestWords_everyPartIsAPartOfTheTables(t *testing.T) {
	for _, r := range vocabulary(t) {
		if r.kind != "part" {
			continue
		}
		if _, ok := tables.FindPart(r.word); !ok {
			t.Errorf("the tables have no part %q", r.word)
		}
	}
}

func TestWords_everyCanonicalWordIsOneThatIsRead(t *testing.T) {
	// the words that lowering knows, by kind; nil is any
	known := map[string][]string{
		"bends": {"yes", "no"}, "still": {"yes"}, "wheels": {"yes", "no"}, "blocked": {"yes", "no"},
		"state":  {"tied", "not tied", "down", "up", "locked", "not locked", "no lock", "no joint lock", "hydraulics", "prop", "off", "stowed", "free"},
		"gone":   {"came off", "lost", "taken off"},
		"route":  {string(load.Direct), string(load.Over), string(load.SameSide), "?"},
		"end":    {"front", "rear", "middle"},
		"side":   {"left", "right"},
		"corner": {"fl", "fr", "rl", "rr"},
		"spread": {"corners", "ends"},
		"unit":   {"lb", "kg", "tonne", "short ton", "ton", "k", "in", "mm", "ft", "m", "cm"},
		"road":   {"rolling", "stopped", "checked", "delivered", "at"},
	}
	for _, r := range vocabulary(t) {
		if k, ok := known[r.kind]; ok && !slices.Contains(k, r.word) {
			t.Errorf("%s has no word %q", r.kind, r.word)
		}
		if r.kind == "mat" && r.word != "tie-down" && r.word != "winch line" {
			if _, ok := materials[r.word]; !ok {
				t.Errorf("no material %q", r.word)
			}
		}
	}
	for word, m := range materials {
		if !slices.ContainsFunc(vocabulary(t), func(r row) bool { return r.kind == "mat" && r.word == word }) {
			t.Errorf("no spelling of the material %q", word)
		}
		if m.make == "" {
			continue
		}
		if !slices.ContainsFunc(makes(t), func(s string) bool { return s == m.make }) {
			t.Errorf("the tables have no rope %q", m.make)
		}
	}
}

// makes are the ropes of the table of cordage.
func makes(t *testing.T) []string {
	t.Helper()
	f, err := os.Open("../rules/tables/cordage.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, r := range rows[1:] {
		out = append(out, r[slices.Index(rows[0], "make")])
	}
	return out
}

func TestTopics_everyPhraseIsFoundByItsOwnWords(t *testing.T) {
	for _, r := range topicRows() {
		if got := topicOf(r.words); got != r.key {
			t.Errorf("%q is asked for under %q, its row says %q", r.words, got, r.key)
		}
	}
}
