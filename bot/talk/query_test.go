package talk

import (
	"testing"
	"time"

	"halfweight/parser"
	"halfweight/rules/load"
)

func ask(topic string, ties ...load.TieDown) parser.Ask {
	a := parser.Ask{Topic: topic, Words: topic, Ties: ties}
	for i := range a.Ties {
		a.Ties[i].Line = i
		a.Lines = append(a.Lines, parser.Line{Count: 1, Named: true})
	}
	return a
}

// The figures of these two: 49 CFR 393.106(d) and 393.108, one half of 52,000
// over 6,600 direct at half and over whole; 5,400 lb binders on 3/8 chain.
func TestAsk_howMany(t *testing.T) {
	c := newChat(t)
	q := ask("how many", g70(""))
	q.Weight = load.Exact(pounds(52000), false)
	r := c.say(q)
	want(t, "verdict", r.Verdict, "answer")
	h, ok := r.Says[0].(HowMany)
	if !ok {
		t.Fatalf("says %T", r.Says[0])
	}
	want(t, "need", h.Need, pounds(26000))
	want(t, "direct, over", [2]int{h.Direct, h.Over}, [2]int{8, 4})
	want(t, "with 5,400 binders", [2]int{h.WeakDirect, h.WeakOver}, [2]int{10, 5})
}

func TestAsk_howManyOfTheKindAndWeightInHand(t *testing.T) {
	c := newChat(t)
	want(t, "with nothing in hand", cannot(c.say(ask("how many"))), "how many of what")
	c.say(roller(52000, clause{4, g70(load.Direct)}))
	r := c.say(ask("how many"))
	want(t, "direct", r.Says[0].(HowMany).Direct, 8)
}

func TestAsk_leavesTheLoadAndItsQuestionAlone(t *testing.T) {
	c := newChat(t)
	r := c.say(told(article("roller", 14000, clause{4, g70(load.Direct)})))
	key, turns := r.Ask.Key, len(c.s.Turns)
	for _, q := range []parser.Ask{
		ask("what is", g70("")), ask("compare", g70(""), strap(4, "")), ask("need"), ask("why"), ask("when"), ask("boom lock"),
		{Topic: "what if", Change: &parser.Change{Ref: parser.Ref{Which: parser.Some, Count: 1}, Edit: parser.Edit{Gone: "came off"}}},
	} {
		r := c.say(q)
		want(t, q.Topic+": verdict", r.Verdict, "answer")
		want(t, q.Topic+": load verdict", r.LoadVerdict, "unsettled")
		if r.Report != nil {
			t.Errorf("%s: a report of the load in the answer", q.Topic)
		}
	}
	want(t, "turns", len(c.s.Turns), turns)
	want(t, "still open", c.s.Asked.Key, key)
	r = c.say(parser.Answer{Word: "locked"})
	want(t, "verdict", r.Verdict, "covered")
}

func TestAsk_whatIf(t *testing.T) {
	c := newChat(t)
	off := parser.Ask{Topic: "what if", Change: &parser.Change{Ref: there2("rear", "right"), Edit: parser.Edit{Gone: "came off"}}}
	want(t, "no load", cannot(c.say(off)), "no load")
	c.say(roller(14000, clause{4, g70(load.Direct)}))
	r := c.say(off)
	want(t, "verdict of the trial", string(r.Says[0].(WhatIf).Report.Verdict), "short")
	want(t, "load verdict", r.LoadVerdict, "covered")
	more := ask("what if", g70(load.Over))
	r = c.say(more)
	want(t, "credit of the trial", r.Says[0].(WhatIf).Report.Articles[0].Credit, pounds(19800))
	r = c.say(parser.Ask{Topic: "what if", Change: &parser.Change{Ref: like(strap(2, "")), Edit: parser.Edit{Gone: "came off"}}})
	want(t, "fits none", cannot(r), "no such tie-down")
}

func TestAsk_besideALoadIsAnsweredAfterIt(t *testing.T) {
	c := newChat(t)
	r := c.say(ask("why"), roller(14000, clause{4, g70(load.Direct)}))
	want(t, "verdict", r.Verdict, "covered")
	want(t, "credit explained", r.Says[0].(Why).Report.Articles[0].Credit, pounds(13200))
}

func gearOf(do string, n int, tie load.TieDown) parser.Gear {
	return parser.Gear{Do: do, Lines: []parser.Line{{Count: n, Told: true, Named: true}}, Ties: []load.TieDown{tie}}
}

func TestGear_addLessShow(t *testing.T) {
	c := newChat(t)
	want(t, "verdict", c.say(gearOf("set", 8, g70(""))).Verdict, "done")
	r := c.say(gearOf("less", 3, load.TieDown{Material: load.Chain}))
	want(t, "gear", r.Says[0].(Done).Gear, []GearRow{{Count: 5, Tie: g70("")}})
	r = c.say(roller(14000, clause{6, g70(load.Direct)}))
	want(t, "assumed", r.Assumed[0].Code, "fewer-in-gear")
	want(t, "gear holds", r.Assumed[0].Count, 5)
	twice := gearOf("set", 3, g70(""))
	more := gearOf("set", 2, g70(""))
	twice.Ties = append(twice.Ties, more.Ties...)
	twice.Lines = append(twice.Lines, more.Lines...)
	want(t, "told twice in one message", c.say(twice).Says[0].(Done).Gear, []GearRow{{Count: 5, Tie: g70("")}})
	c.say(gearOf("add", 2, chain(load.Inch/2, "1/2", "70", "")))
	which := c.say(gearOf("less", 2, load.TieDown{Material: load.Chain})).Says[0].(WhichGear)
	want(t, "two kinds fit", which, WhichGear{Count: 2, Kinds: []load.TieDown{g70(""), chain(load.Inch/2, "1/2", "70", "")}})
	want(t, "more than it holds", cannot(c.say(gearOf("less", 6, g70("")))), "gear fewer")
	r = c.say(parser.Gear{Do: "show"})
	want(t, "gear", r.Says[0].(Done).Gear, []GearRow{{Count: 5, Tie: g70("")}, {Count: 2, Tie: chain(load.Inch/2, "1/2", "70", "")}})
}

func TestGear_oneKindOnTwoRowsIsHeldTogether(t *testing.T) {
	bound := func(lb int) load.TieDown {
		x := g70("")
		x.Tensioner = load.Tensioner{Has: load.Yes, Rating: pounds(lb)}
		return x
	}
	c := newChat(t)
	c.say(gearOf("set", 4, bound(5400)))
	c.say(gearOf("set", 2, bound(6600)))
	want(t, "as many as both hold", len(c.say(roller(14000, clause{6, g70(load.Direct)})).Assumed), 0)
	r := c.say(roller(14000, clause{7, g70(load.Direct)}))
	want(t, "said once", len(r.Assumed), 1)
	want(t, "code", r.Assumed[0].Code, "fewer-in-gear")
	want(t, "gear holds", r.Assumed[0].Count, 6)
}

func TestGear_completesWhatWasNotTold(t *testing.T) {
	bound := g70("")
	bound.Tensioner = load.Tensioner{Has: load.Yes, Rating: pounds(5400)}
	half := chain(load.Inch/2, "1/2", "70", "")
	doubtful := load.TieDown{Material: load.Chain, Size: load.Inch * 3 / 8, SizeWord: "3/8", Grade: load.Grade{Value: "70"}, Route: load.Direct}
	for _, tt := range []struct {
		name   string
		gear   []load.TieDown
		tie    load.TieDown
		credit int
		from   bool
	}{
		{"the one kind there is", []load.TieDown{bound}, load.TieDown{Material: load.Chain, Route: load.Direct}, 4 * 2700, true},
		{"its grade", []load.TieDown{g70("")}, load.TieDown{Material: load.Chain, Size: load.Inch * 3 / 8, Route: load.Direct}, 13200, true},
		{"its binder", []load.TieDown{bound}, g70(load.Direct), 4 * 2700, true},
		{"the weakest of several", []load.TieDown{half, g70("")}, load.TieDown{Material: load.Chain, Route: load.Direct}, 13200, true},
		{"none that fits", []load.TieDown{half}, g70(load.Direct), 13200, false},
		{"a grade in doubt stays so", []load.TieDown{g70("")}, doubtful, 4 * 1325, false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := newChat(t)
			for _, g := range tt.gear {
				c.say(gearOf("add", 6, g))
			}
			r := c.say(roller(14000, clause{4, tt.tie}))
			want(t, "credit", credit(r), tt.credit)
			want(t, "from gear", r.Report.Articles[0].Article.Ties[0].FromGear, tt.from)
		})
	}
}

func TestGear_ringsLimitLaterTieDownsOnly(t *testing.T) {
	c := newChat(t)
	c.say(roller(14000, clause{4, chain(load.Inch/2, "1/2", "70", load.Direct)}))
	c.say(parser.Gear{Do: "anchor", Anchor: pounds(6600)})
	r := c.say(told(article("", 0, clause{1, chain(load.Inch/2, "1/2", "70", load.Over)})))
	want(t, "credit", credit(r), 22600+6600)
}

func TestGear_machineIsKeptAsItWasNamed(t *testing.T) {
	c := newChat(t)
	c.say(parser.Gear{Do: "machine", Machine: "3", Article: article("dozer", 20000).Article})
	use := told(article("machine", 0, clause{4, g70(load.Direct)}))
	use.Articles[0].Machine = "3"
	r := c.say(use)
	want(t, "name", r.Report.Articles[0].Article.Name, "dozer")
	want(t, "weight", r.Report.Articles[0].Article.Weight.Told, pounds(20000))
	c.say(facts(load.Article{Weight: load.Exact(pounds(27000), false)}))
	c.say(parser.House{Word: "new load"})
	r = c.say(use)
	want(t, "weight of the next load", r.Report.Articles[0].Article.Weight.Told, pounds(20000))
	use.Articles[0].Machine = "5"
	r = c.say(use)
	want(t, "unknown name", cannot(r), "no such machine")
	want(t, "verdict", r.Verdict, "unsettled")
}

func TestUnits_bareWeightsAreTheChats(t *testing.T) {
	bare := func(n int) parser.Describe {
		w := load.Exact(pounds(n), false)
		w.Bare = true
		return facts(load.Article{Weight: w})
	}
	c := newChat(t)
	r := c.say(bare(14000))
	want(t, "assumed", r.Assumed, []Assumed{{Code: "pounds", Mass: pounds(14000)}})
	r = c.say(parser.House{Word: "units", Arg: "kg"})
	want(t, "units", r.Units, "kg")
	r = c.say(bare(6350))
	want(t, "weight", r.Report.Articles[0].Article.Weight, load.Exact(6350*load.Kilogram, true))
	want(t, "assumed", len(r.Assumed), 0)
	c.say(undo())
	want(t, "units after undo", c.s.Units, "kg")
}

// 49 CFR 392.9(b)(2), (3): within the first 50 miles, then after 150 miles, 3
// hours or a change of duty.
func TestRoad_nextLook(t *testing.T) {
	c := newChat(t)
	when := func() When { return c.say(ask("when")).Says[0].(When) }
	want(t, "before the trip", when(), When{})
	c.say(roller(14000, clause{4, g70(load.Direct)}))
	want(t, "load verdict", c.say(parser.Road{Word: "rolling"}).LoadVerdict, "covered")
	want(t, "first", when(), When{Rolling: true, Next: 50, By: noon.Add(3 * time.Hour)})
	c.say(parser.Road{Word: "at", Miles: 48})
	c.now = c.now.Add(time.Hour)
	c.say(parser.Road{Word: "checked"})
	want(t, "after the first", when(), When{Rolling: true, Miles: 48, Next: 198, By: noon.Add(4 * time.Hour)})
	c.say(parser.Road{Word: "at", Miles: 198})
	want(t, "due by miles", when().Due, true)
	c.say(parser.Road{Word: "checked"})
	want(t, "not due", when().Due, false)
	c.now = c.now.Add(3 * time.Hour)
	want(t, "due by hours", when().Due, true)
	c.say(parser.Road{Word: "checked"})
	c.say(parser.Road{Word: "stopped"})
	want(t, "due by a stop", when().Due, true)
	c.say(undo())
	want(t, "undo leaves the trip", when().Rolling, true)
	r := c.say(parser.Road{Word: "delivered"})
	want(t, "delivered", r.Verdict, "done")
	want(t, "after the trip", when().Rolling, false)
}

func TestHouse_forgetMe(t *testing.T) {
	c := newChat(t)
	c.say(roller(14000, clause{4, g70(load.Direct)}))
	c.say(gearOf("set", 8, g70("")))
	want(t, "asked first", c.say(parser.House{Word: "forget me"}).Says, []Say{Done{What: "forget"}})
	want(t, "not yet", [2]int{len(c.s.Turns), len(c.s.Gear)}, [2]int{1, 1})
	want(t, "kept", c.say(parser.Answer{Word: "no"}).Says, []Say{Done{What: "forget not"}})
	c.say(parser.House{Word: "forget me"})
	c.say(parser.House{Word: "help"})
	want(t, "another message lets it go", c.say(parser.Answer{Word: "yes"}).Verdict != "done", true)
	c.say(parser.House{Word: "forget me"})
	c.say(parser.Answer{Word: "yes"})
	want(t, "turns, gear", [2]int{len(c.s.Turns), len(c.s.Gear)}, [2]int{0, 0})
	want(t, "undo", c.say(undo()).Says, []Say{Done{What: "nothing to undo"}})
	want(t, "history", c.say(parser.House{Word: "history"}).Says[0].(History).Load == nil, true)
}
