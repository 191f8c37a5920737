package rules_test

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"halfweight/rules"
	"halfweight/rules/load"
	"halfweight/rules/plan"

	"pgregory.net/rapid"
)

// mended is an article judged, with what the planner says would mend it.
func mended(a load.Article, set rules.Set) rules.Count {
	r := rules.Evaluate(load.Load{Articles: []load.Article{a}}, set)
	plan.Mend(&r, set, nil)
	return r.Articles[0]
}

// What would mend a short article, step by step.
func TestVectors_whatMendsIsListedInOrder(t *testing.T) {
	for _, v := range vectors(t, "mends") {
		c := mended(v.article(t), v.law(t))
		var list []string
		for _, m := range c.Mends {
			list = append(list, mendText(m))
		}
		if got := strings.Join(list, "; "); got != v.cell["mends"] {
			t.Errorf("%v:\n got %s\nwant %s", v, got, v.cell["mends"])
		}
	}
}

func mendText(m rules.Mend) string {
	var words []string
	add := func(s string) {
		if s != "" {
			words = append(words, s)
		}
	}
	if m.Or {
		add("or")
	}
	add(m.Do)
	add(m.Part)
	if m.Alone {
		add("alone")
	}
	if m.Do == "" {
		add(strconv.Itoa(m.Count))
		for _, s := range []string{string(m.Tie.Material), m.Tie.SizeWord, string(m.Tie.Route), m.Tie.Place.End, m.Tie.Place.Side} {
			add(s)
		}
		if m.Tie.Place.On != "" {
			add("on " + m.Tie.Place.On)
		}
	}
	if m.Binder > 0 {
		add("binder " + pounds(m.Binder))
	}
	if len(m.Closes) > 0 {
		add("closes " + strings.Join(m.Closes, " "))
	}
	return strings.Join(words, " ")
}

// What is offered to mend a short article mends it: with all of it done nothing
// that it says to close is short. What is offered to settle one that is not
// settled leaves what it says it closes met.
func TestMend_stepsCloseWhatTheySayTheyClose(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := drawArticle(t)
		c := mended(a, rules.Federal)
		want := rules.Untold // the least that is closed
		switch c.Verdict {
		case rules.VerdictShort:
		case rules.VerdictUnsettled:
			want = rules.Met
			if len(c.Mends) > 1 {
				t.Fatalf("more than one way to settle: %+v", c.Mends)
			}
		default:
			if len(c.Mends) > 0 {
				t.Fatalf("mends of an article that is %s", c.Verdict)
			}
			return
		}
		done := copyOf(a)
		var closes []string
		for _, m := range c.Mends {
			if m.Alone || m.Or {
				continue
			}
			closes = append(closes, m.Closes...)
			apply(&done, m)
		}
		after := evaluate(done)
		for _, f := range after.Findings {
			key := f.Rule
			if f.Subject != "" {
				key += ":" + f.Subject
			}
			if slices.Contains(closes, key) && (f.Outcome == rules.Short || f.Outcome != want && want == rules.Met) {
				t.Fatalf("%s is %s after %+v of %+v", key, f.Outcome, c.Mends, a)
			}
		}
		if c.Verdict == rules.VerdictShort {
			mendsDo(t, a, c)
		}
	})
}

// mendsDo says that what is offered does it, each of the ways there is: nothing is
// short once all of it is done, or once those are tightened; with fewer of the next
// larger kind in place of the step before.
func mendsDo(t *rapid.T, a load.Article, c rules.Count) {
	done := func(skip func(i int, m rules.Mend) bool) string {
		x := copyOf(a)
		for i, m := range c.Mends {
			if !skip(i, m) {
				apply(&x, m)
			}
		}
		after := evaluate(x)
		for _, f := range after.Findings {
			demanded := slices.ContainsFunc(after.Demands, func(d rules.Demand) bool { return d.Rule == f.Rule })
			strap := f.Rule == "flattened" && slices.ContainsFunc(a.Ties, func(t load.TieDown) bool { return t.Material == load.Webbing }) // must come off, said with what is set aside
			was := slices.ContainsFunc(c.Findings, func(g rules.Finding) bool {
				return g.Rule == f.Rule && g.Part == f.Part && g.Outcome == rules.Short
			})
			weak := f.Reason == "a tie-down too weak"                           // pieces enough, of too little strength: no more of them help
			if f.Outcome == rules.Short && was && demanded && !strap && !weak { // what does not hang on tie-downs (chocks, contact) they do not mend
				return f.Rule
			}
		}
		return ""
	}
	for i, m := range c.Mends {
		short := ""
		switch {
		case m.Alone:
			short = done(func(j int, _ rules.Mend) bool { return j != i })
		case m.Or:
			short = done(func(j int, o rules.Mend) bool { return o.Alone || j == i-1 })
		case i == len(c.Mends)-1 || c.Mends[i+1].Or:
			short = done(func(_ int, o rules.Mend) bool { return o.Alone || o.Or })
		}
		if short != "" {
			t.Fatalf("%s is still short after %+v of %+v, of %+v", short, m, c.Mends, a)
		}
	}
}

// apply does a mend.
func apply(a *load.Article, m rules.Mend) {
	switch m.Do {
	case "":
		for range m.Count {
			td := m.Tie
			td.ID = 1000 + len(a.Ties)
			a.Ties = append(a.Ties, td)
		}
	case rules.DoTighten:
		for i := range a.Ties {
			if slices.Contains(m.IDs, a.Ties[i].ID) {
				a.Ties[i].State.Tight = load.Yes
			}
		}
	case rules.DoBinder:
		for i := range a.Ties {
			if slices.Contains(m.IDs, a.Ties[i].ID) {
				a.Ties[i].Tensioner.Has = load.Yes
			}
		}
	case rules.DoLower:
		for i := range a.Parts {
			if a.Parts[i].Name == m.Part {
				a.Parts[i].Down, a.Parts[i].Hydraulics = load.Yes, false
			}
		}
	case rules.DoLock:
		a.Joint = load.Joint{Locked: load.Yes, How: load.LockBar}
	}
}
