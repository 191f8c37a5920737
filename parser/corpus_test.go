package parser

import (
	"encoding/csv"
	"os"
	"slices"
	"testing"
)

// table reads a table of testdata/parser: its header and its rows by column.
func table(t testing.TB, name string, columns ...string) []map[string]string {
	t.Helper()
	f, err := os.Open("../testdata/parser/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(rows[0], columns) {
		t.Fatalf("%s has the columns %q, want %q", name, rows[0], columns)
	}
	var out []map[string]string
	for _, row := range rows[1:] {
		r := map[string]string{}
		for i, column := range columns {
			r[column] = row[i]
		}
		out = append(out, r)
	}
	return out
}

// accepted are messages that are read whole, and what is read of them.
func accepted(t testing.TB) []map[string]string {
	return table(t, "accept.csv", "about", "text", "reads")
}

// rejected are messages with something that must stay unread, and what is read
// of the rest.
func rejected(t testing.TB) []map[string]string {
	return table(t, "reject.csv", "about", "text", "unread", "grave", "reads")
}

// messages are the texts of both tables.
func messages(t testing.TB) []string {
	var out []string
	for _, r := range slices.Concat(accepted(t), rejected(t)) {
		out = append(out, r["text"])
	}
	return out
}

func TestRead_manyWordingsOneMeaning(t *testing.T) {
	for _, r := range accepted(t) {
		m := Read(r["text"])
		if got := reading(m); got != r["reads"] {
			t.Errorf("%s: %q\n got %s\nwant %s", r["about"], r["text"], got, r["reads"])
		}
		if m.Unread != nil || m.Grave {
			t.Errorf("%s: %q\nunread %s, grave %v", r["about"], r["text"], unread(m), m.Grave)
		}
	}
}

func TestRead_whatCannotBeReadIsGivenBack(t *testing.T) {
	for _, r := range rejected(t) {
		m := Read(r["text"])
		if got := unread(m); got != r["unread"] {
			t.Errorf("%s: %q\n got unread %s\nwant unread %s", r["about"], r["text"], got, r["unread"])
		}
		if got := reading(m); got != r["reads"] {
			t.Errorf("%s: %q\n got %s\nwant %s", r["about"], r["text"], got, r["reads"])
		}
		if grave := when(m.Grave, "yes"); grave != r["grave"] {
			t.Errorf("%s: %q\n got grave %q, want %q", r["about"], r["text"], grave, r["grave"])
		}
	}
}

func TestCorpora_noTextTwice(t *testing.T) {
	seen := map[string]bool{}
	for _, text := range messages(t) {
		if seen[text] {
			t.Errorf("%q stands twice", text)
		}
		seen[text] = true
	}
}
