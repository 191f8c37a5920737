package rules_test

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"halfweight/rules"
	"halfweight/rules/tables"
)

// covered is a row of the coverage table in DEVELOPERS.md.
type covered struct {
	section, duty string
	how           []string // "computed", "asked", "listed", "taken", "not"
	where         string
}

// coverage reads the table under the heading "What of subpart I is covered".
func coverage(t *testing.T) []covered {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "DEVELOPERS.md"))
	if err != nil {
		t.Fatal(err)
	}
	_, text, ok := strings.Cut(string(data), "## What of subpart I is covered\n")
	if !ok {
		t.Fatal("DEVELOPERS.md has no coverage table")
	}
	text, _, _ = strings.Cut(text, "\n## ")
	var rows []covered
	for _, line := range strings.Split(text, "\n") {
		cells := strings.Split(strings.Trim(line, "| "), "|")
		if len(cells) != 4 || !strings.HasPrefix(cells[0], "393.") {
			continue
		}
		for i := range cells {
			cells[i] = strings.TrimSpace(cells[i])
		}
		rows = append(rows, covered{cells[0], cells[1], strings.Split(cells[2], ", "), cells[3]})
	}
	return rows
}

// section is "393.106" of "49 CFR 393.106(d)".
var section = regexp.MustCompile(`393\.1\d\d`)

var quotedID = regexp.MustCompile("`([a-z- ]+)`")

func ids(where string) []string {
	var list []string
	for _, m := range quotedID.FindAllStringSubmatch(where, -1) {
		list = append(list, m[1])
	}
	return list
}

// Every section of subpart I (49 CFR 393.100 to 393.136) has its row, with a way
// in which it is covered; every id that a row names is that of a rule or of a
// list of checks, and is cited in that section.
func TestCoverage_everySectionHasItsRow(t *testing.T) {
	rows := coverage(t)
	for n := 100; n <= 136; n += 2 {
		name := fmt.Sprintf("393.%d", n)
		if !slices.ContainsFunc(rows, func(r covered) bool { return strings.HasPrefix(r.section, name) }) {
			t.Errorf("no row for %s", name)
		}
	}
	for _, r := range rows {
		for _, how := range r.how {
			if !slices.Contains([]string{"computed", "asked", "listed", "taken", "not"}, how) {
				t.Errorf("%s %s: %q is no way to cover it", r.section, r.duty, how)
			}
		}
		named := ids(r.where)
		if len(named) == 0 && !slices.Contains(r.how, "not") && !slices.Contains(r.how, "taken") {
			t.Errorf("%s %s names no rule", r.section, r.duty)
		}
		for _, id := range named {
			d, ok := tables.Federal().Duty(id)
			switch {
			case ok:
			case ofAnother(id):
				continue
			default:
				t.Errorf("%s: no duty %q", r.section, id)
			}
			cites := d.Cite
			for _, c := range tables.Checks(id) {
				cites += " " + c.Cite
			}
			if id != "eye" && !strings.Contains(cites, section.FindString(r.section)) {
				t.Errorf("%s: %s is cited as %s", r.section, id, cites)
			}
			if slices.Contains(r.how, "listed") && id != "eye" && len(tables.Checks(id)) == 0 {
				t.Errorf("%s: %s lists no check", r.section, id)
			}
		}
	}
}

// Every rule of the set stands in a row of its section, and every list of checks
// in one that says so.
func TestCoverage_everyRuleHasItsRow(t *testing.T) {
	rows := coverage(t)
	for _, r := range rules.Federal.Rules {
		if !slices.ContainsFunc(rows, func(c covered) bool { return slices.Contains(ids(c.where), r.ID) }) {
			t.Errorf("the rule %s stands in no row", r.ID)
		}
		d, ok := tables.Federal().Duty(r.ID)
		if !ofAnother(r.ID) && (!ok || d.Cite == "" || d.Mark == "" || d.Text == "") {
			t.Errorf("the rule %s has the duty %+v", r.ID, d)
		}
	}
	for _, k := range tables.Kinds() {
		s := tables.Cargo(k.Key).Section
		if s == "" {
			continue
		}
		d, ok := tables.Federal().Duty(s)
		at := slices.IndexFunc(rows, func(c covered) bool {
			return ok && strings.HasPrefix(c.section, section.FindString(d.Cite)) && slices.Contains(c.how, "listed")
		})
		if at < 0 || len(tables.Checks(s)) == 0 {
			t.Errorf("%s: the checks of %q are not listed", k.Key, s)
		}
	}
}

// ofAnother says whether a rule asks nothing by the federal figures: another
// code's, or a crew's own.
func ofAnother(id string) bool { return id == "rating" || id == "guard" }
