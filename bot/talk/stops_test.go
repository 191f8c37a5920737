package talk

import (
	"encoding/csv"
	"flag"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
)

var everyProbe = flag.Bool("every-probe", false, "try every wording of stops.csv at every place, not a sample")

// wordings reads a table of testdata/parser that holds wordings: its rows by
// column.
func wordings(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open("../../testdata/parser/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var list []map[string]string
	for _, row := range rows[1:] {
		m := map[string]string{}
		for i, column := range rows[0] {
			m[column] = row[i]
		}
		list = append(list, m)
	}
	return list
}

// held is a load that is covered, in clauses.
type held struct {
	has, clauses []string
	credit       string
}

func heldLoads(t *testing.T) []held {
	t.Helper()
	var list []held
	for _, m := range wordings(t, "covered.csv") {
		list = append(list, held{strings.Fields(m["has"]), strings.Split(m["clauses"], "|"), m["credit_lb"]})
	}
	return list
}

// takes is a wording as said of the load; false where the load has nothing it
// could be said of.
func (h held) takes(stop map[string]string) (words string, ok bool) {
	switch of := stop["of"]; {
	case of == "any", of == "tight", slices.Contains(h.has, of):
		return stop["words"], true
	case of == "part":
		for _, x := range h.has {
			if name, is := strings.CutPrefix(x, "part="); is {
				return strings.ReplaceAll(stop["words"], "{part}", name), true
			}
		}
	}
	return "", false
}

// ways is how a wording can be told in one message with the load: before it, in
// it and behind it, bound to it in several ways, or as its own sentence.
func (h held) ways(words string) []string {
	var list []string
	whole := strings.Join(h.clauses, ", ")
	for _, gap := range []string{", ", ". ", "\n", " ", " but ", " and ", " - ", "; "} {
		list = append(list, whole+gap+words)
	}
	for _, gap := range []string{", ", ". ", "\n", " "} {
		list = append(list, words+gap+whole)
	}
	for i := 1; i < len(h.clauses); i++ {
		for _, gap := range []string{", ", "\n", " "} {
			list = append(list, strings.Join(h.clauses[:i], gap)+gap+words+gap+strings.Join(h.clauses[i:], gap))
		}
	}
	return append(list, whole+" ("+words+")", strings.ToUpper(whole+", "+words), strings.Join(h.clauses, " ")+" "+words)
}

func TestStep_heldLoadsAreCoveredAsToldAndHaveLittleToSpare(t *testing.T) {
	for _, h := range heldLoads(t) {
		for _, gap := range []string{", ", "\n", " ", "; "} {
			text := strings.Join(h.clauses, gap)
			_, r := Step(State{}, Event{ID: "1", Text: text}, noon)
			if r.Verdict != "covered" || fmt.Sprint(credit(r)) != h.credit {
				t.Errorf("%q: %s, credit %d, want %s", text, r.Verdict, credit(r), h.credit)
			}
		}
	}
}

// What takes a tie-down, a part's hold or a lock from a load, or doubts it, must
// not leave it covered, however and wherever it is told.
func TestStep_whatStopsALoadIsNeverCovered(t *testing.T) {
	n, every := 0, 7
	if *everyProbe {
		every = 1
	}
	for _, stop := range wordings(t, "stops.csv") {
		for _, h := range heldLoads(t) {
			words, ok := h.takes(stop)
			if !ok {
				continue
			}
			for _, text := range h.ways(words) {
				if n++; n%every != 0 {
					continue
				}
				if _, r := Step(State{}, Event{ID: "1", Text: text}, noon); r.Verdict == "covered" {
					t.Errorf("%s (%s): %q is covered", stop["about"], stop["cite"], text)
				}
			}
		}
	}
	t.Logf("%d probes", n/every)
}

// keypad is what a phone of twelve keys, which picks one of the words that the keys
// spell (ITU-T E.161), may put for a word. "Good" for "gone" is not here: it cannot
// be told from what it says.
var keypad = map[string]string{
	"none": "mood", "gone": "home", "worn": "word", "bent": "cent", "off": "odd", "one": "nod", "rear": "pear", "might": "night",
	"bad": "ace", "missing": "nipping", "knot": "loot", "dont": "foot",
}

// A stop with one word as a keypad may put it still leaves no load covered.
func TestStep_whatAKeypadMakesOfAStopIsNeverCovered(t *testing.T) {
	n := 0
	for _, stop := range wordings(t, "stops.csv") {
		for _, h := range heldLoads(t) {
			words, ok := h.takes(stop)
			if !ok {
				continue
			}
			for _, word := range strings.Fields(words) {
				put := keypad[word]
				if put == "" {
					continue
				}
				n++
				text := strings.Join(h.clauses, ", ") + ", " + strings.Replace(words, word, put, 1)
				if _, r := Step(State{}, Event{ID: "1", Text: text}, noon); r.Verdict == "covered" {
					t.Errorf("%s: %q is covered (unread %v)", stop["about"], text, r.Unread)
				}
			}
		}
	}
	t.Logf("%d messages", n)
}

// The same as a message of its own, after the load: it is not covered any more,
// and is read where stops.csv says so.
func TestStep_whatStopsALoadInTheNextMessageIsNeverCovered(t *testing.T) {
	n, unread := 0, 0
	for _, stop := range wordings(t, "stops.csv") {
		if stop["next"] == "-" {
			continue
		}
		for _, h := range heldLoads(t) {
			words, ok := h.takes(stop)
			if !ok {
				continue
			}
			n++
			s, _ := Step(State{}, Event{ID: "1", Text: strings.Join(h.clauses, ", ")}, noon)
			_, r := Step(s, Event{ID: "2", Text: words}, noon)
			if r.Verdict == "covered" || r.LoadVerdict == "covered" {
				t.Errorf("%s (%s): %q after %q is %s %s", stop["about"], stop["cite"], words, h.clauses, r.Verdict, r.LoadVerdict)
			}
			if r.Verdict == "unread" || len(r.Unread) > 0 {
				unread++
				if stop["next"] == "read" {
					t.Errorf("%s: %q after %q is not read", stop["about"], words, h.clauses)
				}
			}
		}
	}
	t.Logf("%d messages, %d unread", n, unread)
}

// Ordinary ways to tell one covered load, all of which must be read as it: a
// reader that holds everything open is of no use.
func TestStep_aCoveredLoadIsCoveredHoweverItIsTold(t *testing.T) {
	of := map[string][]string{}
	for _, m := range wordings(t, "tellings.csv") {
		of[m["what"]] = strings.Split(strings.ReplaceAll(m["ways"], `\n`, "\n"), "|")
	}
	every := 37
	if *everyProbe {
		every = 1
	}
	n, tried, failed := 0, 0, 0
	for _, frame := range of["frame"] {
		for _, w := range of["w"] {
			for _, noun := range of["n"] {
				for _, j := range of["j"] {
					for _, ties := range of["t"] {
						if n++; n%every != 0 {
							continue
						}
						tried++
						text := strings.NewReplacer("{w}", w, "{n}", noun, "{j}", j, "{t}", ties).Replace(frame)
						_, r := Step(State{}, Event{ID: "1", Text: text}, noon)
						if r.Verdict != "covered" || credit(r) != 13200 {
							if failed++; failed <= 40 {
								t.Errorf("%q: %s, credit %d, unread %v", text, r.Verdict, credit(r), r.Unread)
							}
						}
					}
				}
			}
		}
	}
	t.Logf("%d told, %d not read as covered", tried, failed)
}
