package render

import (
	"testing"

	"halfweight/bot/talk"
	"halfweight/parser"
	"halfweight/rules"
	"halfweight/rules/load"
)

// ties is n tie-downs like t, with IDs from first on.
func ties(first, n int, t load.TieDown) []load.TieDown {
	list := make([]load.TieDown, n)
	for i := range list {
		list[i] = t
		list[i].ID = first + i
		list[i].Line = first
	}
	return list
}

func chain(size load.Length, word, grade string, route load.Route) load.TieDown {
	return load.TieDown{
		Material: load.Chain, Size: size, SizeWord: word, Route: route,
		Grade: load.Grade{Value: grade, Reading: load.Read},
	}
}

func strap(width load.Length, word string, route load.Route) load.TieDown {
	return load.TieDown{Material: load.Webbing, Size: width, SizeWord: word, Route: route}
}

const in38, in12 = load.Inch * 3 / 8, load.Inch / 2

func at(t load.TieDown, end, side string) load.TieDown {
	t.Place = load.Place{End: end, Side: side}
	return t
}

func on(t load.TieDown, part string) load.TieDown {
	t.Place = load.Place{On: part}
	return t
}

func machine(kind string, pounds load.Mass, groups ...[]load.TieDown) load.Article {
	a := load.Article{ID: 1, Name: kind, Kind: kind, Weight: load.Exact(pounds*lb, false)}
	for _, g := range groups {
		a.Ties = append(a.Ties, g...)
	}
	return a
}

// judged is the reply to a message that told these articles.
func judged(articles ...load.Article) talk.Reply {
	report := rules.Evaluate(load.Load{Articles: articles}, rules.Federal)
	return talk.Reply{Text: "told", Verdict: string(report.Verdict), LoadVerdict: string(report.Verdict), Units: "lb", Report: &report}
}

func asking(r talk.Reply, key, part string, options ...string) talk.Reply {
	r.Ask = &talk.Question{Key: key, Part: part, Subject: part, Options: options}
	return r
}

func modelA() talk.Reply {
	a := machine("roller", 14000, ties(1, 4, chain(in38, "3/8", "70", load.Direct)), ties(5, 1, chain(in38, "3/8", "70", load.Over)))
	a.Joint = load.Joint{Locked: load.Yes, How: load.LockBar}
	return judged(a)
}

func modelB() talk.Reply {
	a := machine("excavator", 40000, ties(1, 4, chain(in38, "3/8", "70", load.Direct)), ties(5, 1, on(chain(in38, "3/8", "70", load.Over), "bucket")))
	a.Parts = []load.Part{{Name: "bucket", Down: load.Yes, Tied: load.Yes}}
	return judged(a)
}

func modelC() talk.Reply {
	loose := at(chain(in38, "3/8", "70", load.Direct), "front", "left")
	loose.State.Tight = load.No
	a := machine("roller", 14000, ties(1, 1, loose),
		ties(2, 1, at(chain(in38, "3/8", "70", load.Direct), "front", "right")),
		ties(3, 1, at(chain(in38, "3/8", "70", load.Direct), "rear", "left")),
		ties(4, 1, at(chain(in38, "3/8", "70", load.Direct), "rear", "right")))
	a.Joint = load.Joint{Locked: load.Yes, How: load.LockBar}
	return judged(a)
}

func modelD() talk.Reply {
	r := judged(machine("excavator", 38000, ties(1, 4, chain(in12, "1/2", "70", load.Direct))))
	return asking(r, rules.AskTied, "bucket", "yes", "no", "unknown")
}

func modelE() talk.Reply {
	nicked := at(strap(2*load.Inch, "2", load.Direct), "rear", "")
	nicked.State.Damage = []load.Damage{{Kind: "nicked", Size: []load.Length{load.Inch / 4, load.Inch / 4}}}
	a := machine("car", 3600, ties(1, 1, nicked), ties(2, 3, strap(2*load.Inch, "2", load.Direct)))
	return judged(a)
}

func TestPrint(t *testing.T) {
	for name, r := range map[string]talk.Reply{
		"A": modelA(), "B": modelB(), "C": modelC(), "D": modelD(), "E": modelE(),
	} {
		t.Logf("%s\n%s\n%s\n", name, Text(r), Data(r))
	}
	_ = parser.Span{}
}
