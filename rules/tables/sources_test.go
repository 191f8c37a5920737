package tables

import (
	"regexp"
	"slices"
	"strings"
	"testing"
)

var sectionOf = regexp.MustCompile(`39[0-9]\.\d+`)

// Every figure that the rules compare with has a source and a mark, and a
// section that some duty cites, so that WHY, which names the duty with its
// section and mark, reaches it. Those of no section say whose they are.
func TestFigures_areReachedByTheDutyOfTheirSection(t *testing.T) {
	var cited []string
	for _, d := range duties(dutiesCSV) {
		cited = append(cited, sectionOf.FindAllString(d.Cite, -1)...)
	}
	for _, m := range lines(t, "figures.csv") {
		src, ok := Federal().Source(m["key"])
		if !ok || src.Text == "" || src.Mark == "" {
			t.Errorf("%s: source %+v", m["key"], src)
		}
		switch {
		case src.Cite != "":
			if s := sectionOf.FindString(src.Cite); s == "" || !slices.Contains(cited, s) {
				t.Errorf("%s: no duty cites %s", m["key"], src.Cite)
			}
		case strings.Contains(src.Text, "handbook"), strings.Contains(src.Mark, "own choice"), src.Mark == "definition", src.Mark == "trade fact":
		default:
			t.Errorf("%s has no section, and does not say whose it is", m["key"])
		}
	}
}

// Every check by eye has its section, its source, and a mark that says whether it
// was read; one recalled says to read the section.
func TestChecks_nameTheirSectionAndHowTheyAreKnown(t *testing.T) {
	known := regexp.MustCompile(`^(seen-\d|partly seen|memory)$`)
	for _, m := range lines(t, "checks.csv") {
		d, ok := Federal().Duty(m["of"])
		if !ok || !known.MatchString(m["mark"]) || sectionOf.FindString(m["cite"]) == "" {
			t.Errorf("%v", m)
		}
		if m["mark"] == "memory" && !strings.Contains(m["source"], "read the section") {
			t.Errorf("%q is recalled and does not say to read the section", m["check"])
		}
		if s := sectionOf.FindString(d.Cite); !strings.HasPrefix(m["cite"], "49 CFR "+s) && m["cite"] != "49 CFR 393.114" && m["cite"] != "49 CFR 393.100(b)" {
			t.Errorf("%q of %s is cited as %s, its rule as %s", m["check"], m["of"], m["cite"], d.Cite)
		}
	}
}
