package render

import (
	"encoding/csv"
	"os"
	"strings"
	"testing"
	"unicode/utf8"

	"halfweight/bot/talk"
	"halfweight/rules/load"
	"halfweight/rules/tables"
)

func TestTopics_eachSaysWhereItIsFrom(t *testing.T) {
	if len(topics()) < 50 {
		t.Errorf("only %d topics", len(topics()))
	}
	for key, topic := range topics() {
		if key != "thanks" && !strings.Contains(topic.source, "CFR") && !strings.Contains(topic.source, "source") && !strings.Contains(topic.source, "read") && !strings.Contains(topic.source, "second-hand") {
			t.Errorf("%s: the first line is no source: %q", key, topic.source)
		}
		text := Text(talk.Reply{Units: "lb", Verdict: "answer", Says: []talk.Say{talk.Plain{Topic: key}}})
		if hit := never.FindString(text); hit != "" {
			t.Errorf("%s says %q", key, hit)
		}
		if n := strings.Count(text, "\n") + 1; n > 9 {
			t.Errorf("%s: %d lines", key, n)
		}
		for _, line := range strings.Split(text, "\n") {
			if utf8.RuneCountInString(line) > width {
				t.Errorf("%s: a line of %d characters", key, utf8.RuneCountInString(line))
			}
		}
	}
}

func TestTopics_everyOneAskedForIsThere(t *testing.T) {
	f, err := os.Open("../../parser/topics.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	asked := map[string]bool{}
	for _, row := range rows[1:] {
		asked[row[0]] = true
		if _, ok := topics()[row[0]]; !ok {
			t.Errorf("no answer to %q", row[0])
		}
	}
	for key := range topics() {
		if !asked[key] {
			t.Errorf("nothing asks for %q", key)
		}
	}
}

// The figures in the topics are those of the tables.
func TestTopics_figuresAreTheTables(t *testing.T) {
	p := blank("lb")
	says := func(key, what string) {
		t.Helper()
		if !strings.Contains(strings.Join(topics()[key].lines, "\n"), what) {
			t.Errorf("%s does not say %q", key, what)
		}
	}
	for size, word := range map[load.Length]string{load.Inch / 4: "1/4", load.Inch * 5 / 16: "5/16", in38: "3/8", load.Inch * 7 / 16: "7/16", in12: "1/2", load.Inch * 5 / 8: "5/8"} {
		f, ok := tables.Chain(size, "70")
		if !ok {
			t.Fatalf("no row for %s grade 70", word)
		}
		says("g70", word+" is "+p.down(f.WLL))
	}
	f, _ := tables.Chain(in38, "30")
	for _, key := range []string{"grade marks", "hook grade"} {
		says(key, "3/8 is then "+p.down(f.WLL)+", hooked direct "+p.down(f.WLL/2))
	}
	for width, word := range map[load.Length]string{2 * load.Inch: "2 in strap is ", 4 * load.Inch: "4 in strap "} {
		f, _ := tables.Webbing(width)
		says("straps on machines", word+p.down(f.WLL))
	}
	weak, _ := tables.WeakerBinder(in38)
	says("binders", "a "+p.down(weak.WLL)+" binder on 3/8")
	l := tables.Federal()
	says("when to check", "first "+p.figure("first")+" miles")
	says("when to check", "every "+p.figure("each")+" miles, every "+p.figure("hours")+" hours")
	says("under 10000", "Below "+p.near(l.Heavy)+" lb")
	says("five thousand", "a machine of "+p.near(l.Heavy)+" lb or more the handbook asks "+p.near(l.Under5000)+" lb or more of each of the four")
	says("corners", "From "+p.near(l.Heavy)+" lb")
}
