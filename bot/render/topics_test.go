package render

import (
	"encoding/csv"
	"os"
	"strconv"
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
	asked := map[string]bool{}
	for _, name := range []string{"topics.csv", "gear_topics.csv"} {
		f, err := os.Open("../../parser/" + name)
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		rows, err := csv.NewReader(f).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range rows[1:] {
			asked[row[0]] = true
			if _, ok := topics()[row[0]]; !ok {
				t.Errorf("no answer to %q", row[0])
			}
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

	// of gear and its fitness
	link := func(size load.Length) string {
		left, _, _, ok := tables.WornBelow(size, "70")
		if !ok {
			t.Fatal("no stock")
		}
		return decimal(left)
	}
	for _, key := range []string{"check chain", "measure link", "wear limit"} {
		says(key, link(in38))
		says(key, link(in12))
	}
	_, gauge, _, _ := tables.WornBelow(in38, "70")
	says("measure link", decimal(gauge))
	says("wear limit", decimal(gauge))
	says("rust", link(in38))
	stock, _, _ := tables.Stock(in38, "70")
	says("wear limit", decimal(stock)+" new")
	stock, _, _ = tables.Stock(in12, "70")
	says("wear limit", decimal(stock)+" new")
	least, by, _, _ := tables.LiftingWear(in38)
	for _, key := range []string{"wear limit", "lifting rules"} {
		says(key, by)
		says(key, decimal(least))
	}
	says("lifting rules", "OSHA 0.297") // 19/64, the laxer of the two: testdata/reference/chain_wear.csv
	for _, width := range []load.Length{2 * load.Inch, 3 * load.Inch, 4 * load.Inch} {
		published, trade, _, _ := tables.CutLimits(width)
		says("check strap", "past "+inches(published))
		if trade > 0 {
			says("check strap", "past "+inches(trade))
		}
		w, _ := tables.Webbing(width)
		says("no tag", p.down(w.WLL))
	}
	n := func(part, hurt, measure string) string {
		d, ok := tables.HurtLimit(part, hurt, measure)
		if !ok {
			t.Fatalf("no limit %s %s %s", part, hurt, measure)
		}
		if d.Length() > 0 {
			return inches(d.Length()) + " in"
		}
		return strconv.Itoa(d.Count())
	}
	says("check wire rope", "more than "+n("wire rope", "wires", "along")+" broken wires in six diameters, "+n("wire rope", "wires", "strand")+" in one strand, "+n("wire rope", "wires", "fitting")+" at a fitting")
	says("check wire rope", n("wire rope", "wires", "crane lay")+" in a lay or "+n("wire rope", "wires", "crane strand")+" in a strand on cranes, "+n("wire rope", "wires", "sling lay")+" or "+n("wire rope", "wires", "sling strand")+" on slings")
	says("check hook", "past "+n("hook", "opened", "share")+" percent, or "+n("hook", "opened", "most"))
	says("check hook", "more than "+n("hook", "worn", "share")+" percent")
	says("stretched chain", n("chain", "stretched", "share")+" percent")
	poly, _ := tables.Cordage(in12, "polypropylene")
	says("check rope", "1/2 in is "+p.down(poly.WLL))
	says("check binder", p.down(weak.WLL))
	three8, _ := tables.Chain(in38, "30")
	for _, key := range []string{"no tag", "paint"} {
		says(key, "3/8 is then "+p.down(three8.WLL))
	}
	g43, _ := tables.Chain(in38, "43")
	g70, _ := tables.Chain(in38, "70")
	says("mixed grades", p.down(g43.WLL)+", not "+p.down(g70.WLL))
}
