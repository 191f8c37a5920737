package render

import (
	"strings"

	"halfweight/rules"
	"halfweight/rules/load"
)

// mostChecks is how many checks by eye a reply names; WHY lists them all.
const mostChecks = 3

// checks are the checks by eye that matter most, in a list.
func (p *page) checks(a *load.Article, rule string) string {
	list := rules.Checks(a, rule)
	text := make([]string, 0, mostChecks)
	for i := range min(len(list), mostChecks) {
		text = append(text, list[i].Text)
	}
	return strings.Join(text, "; ")
}

// listChecks explains the checks by eye of a count: those of its own section,
// those of the general rules that were asked. Each with where it stands and how
// that is known.
func (p *page) listChecks(steps *steps, c *rules.Count) {
	for i := range c.Findings {
		f := &c.Findings[i]
		rule := f.Rule
		switch {
		case rule == "eye":
			rule = f.Part
		case rule == "number" && c.Article.Blocked != load.Yes:
			continue
		case rule != "ends" && rule != "number":
			continue
		}
		for _, check := range rules.Checks(c.Article, rule) {
			steps.add("eye check checks "+rule, p.w.Steps.Check, "check", check.Text, "cite", check.Cite, "mark", p.known(check.Source))
		}
	}
}
