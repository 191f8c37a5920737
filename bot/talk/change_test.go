package talk

import (
	"testing"

	"halfweight/parser"
	"halfweight/rules"
	"halfweight/rules/load"
)

func like(x load.TieDown) parser.Ref { return parser.Ref{Like: x} }

func cut(inches load.Length) load.Damage {
	d := load.Damage{Part: "webbing", Kind: "cut"}
	if inches > 0 {
		d.Size = []load.Length{inches}
	}
	return d
}

// car has two straps at each end.
func car(lb int) parser.Describe {
	return told(article("car", lb,
		clause{2, at(strap(2, load.Direct), "front", "")}, clause{2, at(strap(2, load.Direct), "rear", "")}))
}

func TestChange_resolvesReferences(t *testing.T) {
	direct4 := roller(14000, clause{4, g70(load.Direct)})
	mixed := roller(14000, clause{4, g70(load.Direct)}, clause{1, chain(load.Inch/2, "1/2", "70", load.Over)})
	placed := roller(14000,
		clause{1, at(g70(load.Direct), "front", "left")}, clause{1, at(g70(load.Direct), "front", "right")},
		clause{1, at(g70(load.Direct), "rear", "left")}, clause{1, at(g70(load.Direct), "rear", "right")})
	corners := g70(load.Direct)
	corners.Place.Spread = "corners"
	both := parser.Ref{Which: parser.All, Count: 2, Like: load.TieDown{Material: load.Webbing, Place: load.Place{End: "rear"}}}
	for _, tt := range []struct {
		name   string
		load   parser.Describe
		change parser.Change
		credit int
		cannot string
		asks   string
	}{
		{"front left of four unplaced", direct4, loose(there2("front", "left")), 9900, "", ""},
		{"front left of four at the corners", roller(14000, clause{4, corners}), loose(there2("front", "left")), 9900, "", ""},
		{"front left, with one over: a corner one", mixed, loose(there2("front", "left")), 13200 + 11300 - 3300, "", ""},
		{"front left where it was told", placed, loose(there2("front", "left")), 9900, "", ""},
		{"middle where none can be", placed, loose(there2("middle", "")), 13200, "no such tie-down", ""},
		{"one of four alike", direct4, loose(parser.Ref{Which: parser.Some, Count: 1}), 9900, "", ""},
		{"one of unlike ones is the strongest", mixed, loose(parser.Ref{Which: parser.Some, Count: 1}), 13200, "", "which one"},
		{"one of four at four places", placed, loose(parser.Ref{Which: parser.Some, Count: 1}), 9900, "", "which one"},
		{"two of them", direct4, loose(parser.Ref{Which: parser.Some, Count: 2}), 6600, "", ""},
		{"five of four", direct4, loose(parser.Ref{Which: parser.Some, Count: 5}), 13200, "no such tie-down", ""},
		{"the last two", direct4, parser.Change{Ref: parser.Ref{Which: parser.Last, Count: 2}, Edit: parser.Edit{Set: load.TieDown{Route: load.Over}}}, 19800, "", ""},
		{"the last one is the one over", mixed, parser.Change{Ref: parser.Ref{Which: parser.Last, Count: 1}, Edit: parser.Edit{Gone: "came off"}}, 13200, "", ""},
		{"all of them", mixed, loose(parser.Ref{Which: parser.All}), 0, "", ""},
		{"the 1/2 chain", mixed, loose(like(load.TieDown{Size: load.Inch / 2})), 13200, "", ""},
		{"a strap where there is none", mixed, loose(like(load.TieDown{Material: load.Webbing})), 13200 + 11300, "no such tie-down", ""},
		{"take off the strap of four", car(3600), parser.Change{Ref: like(load.TieDown{Material: load.Webbing}), Edit: parser.Edit{Gone: "taken off"}}, 3000, "", "which one"},
		{"the rear is loose: all told there", car(3600), loose(there2("rear", "")), 2000, "", ""},
		{"both rear straps", car(3600), loose(both), 2000, "", ""},
		{"both rear straps of four unplaced", told(article("car", 3600, clause{4, strap(2, load.Direct)})), loose(both), 2000, "", ""},
		{"one rear strap is cut", car(3600), parser.Change{Ref: parser.Ref{Which: parser.Some, Count: 1, Like: load.TieDown{Material: load.Webbing, Place: load.Place{End: "rear"}}}, Edit: parser.Edit{Damage: []load.Damage{cut(load.Inch)}}}, 3000, "", ""},
		{"no mark on two of them", direct4, parser.Change{Ref: parser.Ref{Which: parser.Some, Count: 2}, Edit: parser.Edit{Set: load.TieDown{Grade: load.Grade{Reading: load.NoMarks}}}}, 6600 + 2650, "", ""},
		{"no binder at the rear left", direct4, parser.Change{Ref: there2("rear", "left"), Edit: parser.Edit{Set: load.TieDown{Tensioner: load.Tensioner{Has: load.No}}}}, 9900, "", ""},
		{"the one on the dozer, with a roller in hand", direct4, loose(parser.Ref{Kind: "dozer"}), 13200, "no such tie-down", ""},
		{"grade is 43 not 70 of one clause", direct4, parser.Change{Ref: parser.Ref{Which: parser.All, Like: load.TieDown{Grade: load.Grade{Value: "70", Reading: load.Read}}}, Edit: parser.Edit{Set: load.TieDown{Grade: load.Grade{Value: "43", Reading: load.Read}}}}, 10800, "", ""},
		{"grade is 43 not 70 of two clauses", mixed, parser.Change{Ref: parser.Ref{Which: parser.All, Like: load.TieDown{Grade: load.Grade{Value: "70", Reading: load.Read}}}, Edit: parser.Edit{Set: load.TieDown{Grade: load.Grade{Value: "43", Reading: load.Read}}}}, 13200 + 11300, "which of several", "which one"},
		{"make that five", direct4, parser.Change{Edit: parser.Edit{Count: 5}}, 16500, "", ""},
		{"make that three", direct4, parser.Change{Edit: parser.Edit{Count: 3}}, 9900, "", ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := newChat(t)
			c.say(tt.load)
			r := c.say(tt.change)
			want(t, "credit", credit(r), tt.credit)
			want(t, "cannot", cannot(r), tt.cannot)
			asks := ""
			if r.Ask != nil && r.Ask.Key == "which one" {
				asks = r.Ask.Key
			}
			want(t, "asks", asks, tt.asks)
			if tt.cannot != "" {
				want(t, "verdict", r.Verdict, "unsettled") // harm was told, and it is not known of what
			}
		})
	}
}

func TestChange_rest(t *testing.T) {
	c := newChat(t)
	c.say(roller(14000, clause{4, g70("")}))
	c.say(parser.Change{Ref: parser.Ref{Which: parser.Last, Count: 1}, Edit: parser.Edit{Set: load.TieDown{Route: load.Over}}})
	r := c.say(parser.Change{Ref: parser.Ref{Which: parser.Rest}, Edit: parser.Edit{Set: load.TieDown{Route: load.Direct}}})
	want(t, "credit", credit(r), 3*3300+6600)
}

func TestChange_answerToWhichOneMovesTheHarm(t *testing.T) {
	c := newChat(t)
	c.say(roller(14000, clause{4, g70(load.Direct)}, clause{1, chain(load.Inch/2, "1/2", "70", load.Over)}))
	r := c.say(loose(parser.Ref{Which: parser.Some, Count: 1}))
	want(t, "credit meanwhile", credit(r), 13200)
	want(t, "options", options2(r.Ask), []string{"3/8 g70 direct", "1/2 g70 over"})
	r = c.say(parser.Change{Ref: like(load.TieDown{Size: load.Inch * 3 / 8})})
	want(t, "credit", credit(r), 9900+11300)
	want(t, "set aside", len(r.Report.Articles[0].SetAside), 1)
}

func TestChange_mending(t *testing.T) {
	tightened := parser.Change{Edit: parser.Edit{Tightened: true}}
	replaced := parser.Change{Edit: parser.Edit{Replaced: true}}
	hurt := func(ref parser.Ref) parser.Change {
		return parser.Change{Ref: ref, Edit: parser.Edit{Damage: []load.Damage{{Part: "hook", Kind: "cracked"}}}}
	}
	one := parser.Ref{Which: parser.Some, Count: 1}
	for _, tt := range []struct {
		name   string
		steps  []parser.Act
		credit int
		cannot string
	}{
		{"tightened", []parser.Act{loose(one), tightened}, 13200, ""},
		{"tightened, with two loose and none named", []parser.Act{loose(one), loose(one), tightened}, 6600, "which of several"},
		{"tightened, named of two", []parser.Act{loose(there2("front", "left")), loose(there2("rear", "left")), parser.Change{Ref: there2("front", "left"), Edit: parser.Edit{Tightened: true}}}, 9900, ""},
		{"all tight", []parser.Act{loose(one), loose(one), parser.Change{Ref: parser.Ref{Which: parser.All}, Edit: parser.Edit{Tightened: true}}}, 13200, ""},
		{"tightened does not mend a crack", []parser.Act{hurt(one), tightened}, 9900, "nothing to mend"},
		{"replaced mends a crack", []parser.Act{hurt(one), replaced}, 13200, ""},
		{"one cracked, one loose: tightened is the loose one", []parser.Act{hurt(one), loose(one), tightened}, 9900, ""},
		{"came off, put on again", []parser.Act{parser.Change{Ref: one, Edit: parser.Edit{Gone: "came off"}}, parser.Change{Edit: parser.Edit{Back: true}}}, 13200, ""},
		{"came off, replaced", []parser.Act{parser.Change{Ref: one, Edit: parser.Edit{Gone: "lost"}}, replaced}, 13200, ""},
		{"tightened what is off", []parser.Act{parser.Change{Ref: one, Edit: parser.Edit{Gone: "lost"}}, tightened}, 9900, "nothing to mend"},
		{"replaced by another kind", []parser.Act{loose(one), parser.Change{Edit: parser.Edit{Replaced: true, Set: chain(load.Inch/2, "1/2", "70", "")}}}, 9900 + 5650, ""},
		{"loose twice is two", []parser.Act{loose(one), loose(one)}, 6600, ""},
		{"front left loose twice is one", []parser.Act{loose(there2("front", "left")), loose(there2("front", "left"))}, 9900, ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := newChat(t)
			c.say(roller(14000, clause{4, g70(load.Direct)}))
			var r Reply
			for _, s := range tt.steps {
				r = c.say(s)
			}
			want(t, "credit", credit(r), tt.credit)
			want(t, "cannot", cannot(r), tt.cannot)
		})
	}
}

func TestChange_measureSettlesADamage(t *testing.T) {
	c := newChat(t)
	c.say(car(3600))
	r := c.say(parser.Change{Ref: parser.Ref{Which: parser.Some, Count: 1, Like: load.TieDown{Place: load.Place{End: "rear"}}}, Edit: parser.Edit{Damage: []load.Damage{cut(0)}}})
	want(t, "question", r.Ask.Key, rules.AskDamage)
	want(t, "credit", credit(r), 3000)
	r = c.say(parser.Answer{Figure: "1/4"})
	want(t, "credit", credit(r), 4000)
	r = c.say(parser.Change{Ref: like(load.TieDown{Place: load.Place{End: "front"}}), Edit: parser.Edit{Damage: []load.Damage{cut(load.Inch / 4)}}})
	want(t, "verdict", r.Verdict, "covered")
	again := loose(parser.Ref{})
	again.Edit = parser.Edit{Damage: []load.Damage{cut(load.Inch / 4)}}
	r = c.say(parser.Change{Ref: like(load.TieDown{State: load.State{Damage: []load.Damage{{}}}, Place: load.Place{End: "rear"}}), Edit: again.Edit})
	want(t, "cuts add: past 3/8 in all", r.Verdict, "fix")
}

func TestChange_bareAttributes(t *testing.T) {
	bareChain := load.TieDown{Material: load.Chain, Route: load.Direct}
	set := func(x load.TieDown) parser.Change {
		return parser.Change{Ref: parser.Ref{Lacks: true}, Edit: parser.Edit{Set: x}}
	}
	binders := set(load.TieDown{Tensioner: load.Tensioner{Has: load.Yes, Rating: pounds(5400)}})
	for _, tt := range []struct {
		name   string
		load   parser.Describe
		change parser.Change
		credit int
		cannot string
	}{
		{"to all where all lack it", roller(14000, clause{4, bareChain}), set(g70("")), 13200, ""},
		{"to the one clause that lacks it", roller(14000, clause{4, g70(load.Direct)}, clause{2, bareChain}), set(chain(load.Inch/2, "1/2", "70", "")), 13200 + 11300, ""},
		{"binders to all chains", roller(14000, clause{4, g70(load.Direct)}, clause{1, strap(4, load.Over)}), binders, 4*2700 + 4000, ""},
		{"grade put right in one clause", roller(14000, clause{4, g70(load.Direct)}), set(load.TieDown{Grade: load.Grade{Value: "43", Reading: load.Read}}), 4 * 2700, ""},
		{"grade put right with two clauses", roller(14000, clause{2, g70(load.Direct)}, clause{1, chain(load.Inch/2, "1/2", "70", load.Direct)}), set(load.TieDown{Grade: load.Grade{Value: "43", Reading: load.Read}}), 6600 + 5650, "which of several"},
		{"direct to those with no route", roller(14000, clause{4, g70("")}), set(load.TieDown{Route: load.Over}), 26400, ""},
		{"a strap's width with chains only", roller(14000, clause{4, g70(load.Direct)}), set(strap(2, "")), 13200, "no such tie-down"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := newChat(t)
			c.say(tt.load)
			r := c.say(tt.change)
			want(t, "cannot", cannot(r), tt.cannot)
			want(t, "credit", credit(r), tt.credit)
		})
	}
}

func TestChange_withoutALoad(t *testing.T) {
	c := newChat(t)
	r := c.say(loose(there2("front", "left")))
	want(t, "verdict", r.Verdict, "unsettled")
	want(t, "cannot", cannot(r), "no load")
	link := load.Damage{Part: "chain", Kind: "worn", Left: load.Inch * 31 / 100}
	r = c.say(parser.Change{Ref: like(load.TieDown{Material: load.Chain, Size: load.Inch * 3 / 8}), Edit: parser.Edit{Damage: []load.Damage{link}}})
	want(t, "verdict", r.Verdict, "answer")
	if w, ok := r.Says[0].(Wear); !ok || w.Aside == nil {
		t.Errorf("says %+v, want wear that is set aside", r.Says)
	}
}

func TestChange_harmThatFitsNothingStaysOpen(t *testing.T) {
	c := newChat(t)
	c.say(roller(14000, clause{2, at(g70(load.Direct), "front", "")}, clause{2, at(g70(load.Direct), "rear", "")}))
	r := c.say(loose(like(load.TieDown{Material: load.Webbing})))
	want(t, "verdict", r.Verdict, "unsettled")
	r = c.say(parser.Road{Word: "rolling"})
	want(t, "load verdict", r.LoadVerdict, "unsettled")
	r = c.say(loose(there2("front", "left")))
	want(t, "verdict", r.Verdict, "short")
}

func TestChange_whichOneIsOpenUntilToldOrMended(t *testing.T) {
	c := newChat(t)
	c.say(roller(14000, clause{5, g70(load.Direct)}, clause{2, g70(load.Over)}))
	r := c.say(parser.Change{Ref: parser.Ref{Which: parser.Some, Count: 1}, Edit: parser.Edit{Gone: "came off"}})
	want(t, "verdict", r.Verdict, "unsettled")
	want(t, "asks", r.Ask.Key, "which one")
	r = c.say(facts(load.Article{Weight: load.Exact(pounds(14100), false)}))
	want(t, "verdict after another fact", r.Verdict, "unsettled")
	want(t, "load verdict", c.say(parser.Road{Word: "rolling"}).LoadVerdict, "unsettled")
	r = c.say(parser.Change{Ref: like(load.TieDown{Route: load.Direct})})
	want(t, "verdict once told", r.Verdict, "covered")
	want(t, "credit once told", credit(r), 4*3300+2*6600)

	c = newChat(t)
	c.say(roller(14000, clause{5, g70(load.Direct)}, clause{2, g70(load.Over)}))
	c.say(parser.Change{Ref: parser.Ref{Which: parser.Some, Count: 1}, Edit: parser.Edit{Gone: "came off"}})
	r = c.say(parser.Change{Edit: parser.Edit{Replaced: true}})
	want(t, "verdict once replaced", r.Verdict, "covered")
}

func TestChange_theOneTakenToldByNameSettlesWhich(t *testing.T) {
	c := newChat(t)
	c.say(roller(14000, clause{1, at(g70(load.Direct), "front", "left")}, clause{1, at(g70(load.Direct), "front", "right")},
		clause{2, at(g70(load.Direct), "rear", "")}))
	r := c.say(loose(parser.Ref{Which: parser.Some, Count: 1}))
	want(t, "asks", r.Ask.Key, "which one")
	r = c.say(loose(there2("front", "left")))
	if r.Ask != nil {
		t.Errorf("asks %+v, want nothing", r.Ask)
	}
	want(t, "credit", credit(r), 9900)
}

func TestChange_tightenedIsThePartsChainThatWasLoose(t *testing.T) {
	c := newChat(t)
	c.say(told(article("excavator", 30000, clause{8, g70(load.Direct)})))
	bucket := func(p load.Part) Reply { p.Name = "bucket"; return c.say(facts(load.Article{Parts: []load.Part{p}})) }
	bucket(load.Part{Tied: load.Yes})
	want(t, "loose", bucket(load.Part{Loose: true}).Verdict, "short")
	want(t, "tightened", c.say(parser.Change{Edit: parser.Edit{Tightened: true}}).Verdict, "covered")
}

func TestChange_tightOfWhatWasNeverLoose(t *testing.T) {
	c := newChat(t)
	c.say(roller(14000, clause{4, g70(load.Direct)}))
	r := c.say(parser.Answer{Word: "tight"})
	want(t, "cannot", cannot(r), "")
	want(t, "told tight", r.Report.Articles[0].Article.Ties[3].State.Tight, load.Yes)
}
