package talk

import (
	"testing"

	"halfweight/parser"
	"halfweight/rules"
	"halfweight/rules/load"
)

func TestAnswer_settlesTheOpenQuestion(t *testing.T) {
	plain := load.TieDown{Material: load.Chain, Route: load.Direct}
	noGrade := load.TieDown{Material: load.Chain, Size: load.Inch * 3 / 8, SizeWord: "3/8", Route: load.Direct}
	plural := g70(load.Direct)
	plural.Plural = true
	rope := load.TieDown{Material: load.WireRope, Size: load.Inch / 2, SizeWord: "1/2", Route: load.Direct}
	bendy := article("roller", 14000, clause{4, g70(load.Direct)})
	for _, tt := range []struct {
		name   string
		load   parser.Describe
		asks   string
		answer parser.Answer
		rule   string
		want   string
		credit int
	}{
		{"joint locked", told(bendy), rules.AskJoint, parser.Answer{Word: "locked"}, "articulation", "met", 13200},
		{"joint yes", told(bendy), rules.AskJoint, parser.Answer{Word: "yes"}, "articulation", "met", 13200},
		{"joint no", told(bendy), rules.AskJoint, parser.Answer{Word: "no"}, "articulation", "short", 13200},
		{"joint tied", told(bendy), rules.AskJoint, parser.Answer{Word: "tied"}, "articulation", "met", 13200},
		{"bucket yes", told(article("excavator", 20000, clause{4, g70(load.Direct)})), rules.AskTied, parser.Answer{Word: "yes"}, "accessory", "met", 13200},
		{"bucket no", told(article("excavator", 20000, clause{4, g70(load.Direct)})), rules.AskTied, parser.Answer{Word: "no"}, "accessory", "short", 13200},
		{"bucket up", told(article("excavator", 20000, clause{4, g70(load.Direct)})), rules.AskTied, parser.Answer{Word: "up"}, "accessory", "short", 13200},
		{"light bucket latched", told(article("skid steer", 6000, clause{2, g70(load.Direct)})), rules.AskLatched, parser.Answer{Word: "locked"}, "accessory", "met", 6600},
		{"light bucket not held", told(article("skid steer", 6000, clause{2, g70(load.Direct)})), rules.AskLatched, parser.Answer{Word: "no"}, "accessory", "short", 6600},
		{"weight", roller(0, clause{4, g70(load.Direct)}), rules.AskWeight, parser.Answer{Figure: "14000", Mass: pounds(14000)}, "weight", "met", 13200},
		{"size", roller(14000, clause{4, plain}), rules.AskSize, parser.Answer{Figure: "3/8"}, "corners", "met", 4 * 1325},
		{"size in millimetres", roller(14000, clause{4, plain}), rules.AskSize, parser.Answer{Figure: "10", Number: 10, Mass: pounds(10)}, "corners", "met", 4 * 1325},
		{"grade", roller(14000, clause{4, noGrade}), rules.AskGrade, parser.Answer{Figure: "70", Number: 70}, "aggregate", "met", 13200},
		{"binder", roller(26400, clause{4, g70(load.Direct)}), rules.AskBinder, parser.Answer{Figure: "9200", Mass: pounds(9200)}, "aggregate", "met", 13200},
		{"binder too weak", roller(26400, clause{4, g70(load.Direct)}), rules.AskBinder, parser.Answer{Figure: "5400", Mass: pounds(5400)}, "aggregate", "short", 10800},
		{"count", roller(14000, clause{1, plural}), rules.AskCount, parser.Answer{Figure: "4", Number: 4}, "corners", "met", 13200},
		{"what tightens a rope", roller(14000, clause{4, rope}), rules.AskTensioner, parser.Answer{Word: "yes"}, "tensioner", "met", 4 * 2650},
		{"how long", told(article("crate", 4000, clause{2, strap(4, load.Over)})), rules.AskLength, parser.Answer{Figure: "10", Number: 10}, "number", "met", 8000},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := newChat(t)
			r := c.say(tt.load)
			if r.Ask == nil || r.Ask.Key != tt.asks {
				t.Fatalf("asks %+v, want %s", r.Ask, tt.asks)
			}
			r = c.say(tt.answer)
			want(t, "cannot", cannot(r), "")
			want(t, tt.rule, outcome(r, tt.rule), tt.want)
			want(t, "credit", credit(r), tt.credit)
		})
	}
}

func TestAnswer_acrossTheJoint(t *testing.T) {
	unlocked := article("roller", 14000, clause{4, g70(load.Direct)}, clause{1, g70(load.Over)})
	unlocked.Joint.Locked = load.No
	for word, want := range map[string]string{"yes": "met", "no": "short", "over the joint": "met", "locked": "met"} {
		c := newChat(t)
		r := c.say(told(unlocked))
		if r.Ask == nil || r.Ask.Key != rules.AskAcross {
			t.Fatalf("asks %+v, want %s", r.Ask, rules.AskAcross)
		}
		if got := outcome(c.say(parser.Answer{Word: word}), "articulation"); got != want {
			t.Errorf("%s: articulation %s, want %s", word, got, want)
		}
	}
}

func TestAnswer_twoLocksAreAskedOneByOne(t *testing.T) {
	c := newChat(t)
	hoe := article("backhoe", 16000, clause{4, g70(load.Direct)})
	hoe.Parts = []load.Part{{Name: "bucket", Tied: load.Yes}, {Name: "hoe", Tied: load.No}}
	r := c.say(told(hoe))
	want(t, "asks", r.Ask.Key, rules.AskLock)
	r = c.say(parser.Answer{Word: "yes"})
	want(t, "verdict with one lock", r.Verdict, "unsettled")
	want(t, "asks", r.Ask.Key, rules.AskOtherLock)
	r = c.say(parser.Answer{Word: "yes"})
	want(t, "verdict", r.Verdict, "covered")
}

func TestAnswer_onlyWhileAskedAndAlone(t *testing.T) {
	covered := roller(14000, clause{4, g70(load.Direct)})
	open := told(article("roller", 14000, clause{4, g70(load.Direct)}))
	for _, tt := range []struct {
		name    string
		load    parser.Describe
		acts    []parser.Act
		cannot  string
		verdict string
	}{
		{"no question open", covered, []parser.Act{parser.Answer{Word: "locked"}}, "nothing asked", "answer"},
		{"not an answer to it", open, []parser.Act{parser.Answer{Word: "up"}}, "not an answer", "answer"},
		{"beside a tie-down", open, []parser.Act{parser.Answer{Word: "yes"}, told(article("", 0, clause{1, g70(load.Over)}))}, "answer beside", "unsettled"},
		{"beside a fact only", open, []parser.Act{parser.Answer{Word: "locked"}, facts(load.Article{Weight: load.Exact(pounds(15000), false)})}, "", "covered"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := newChat(t)
			c.say(tt.load)
			r := c.say(tt.acts...)
			want(t, "cannot", cannot(r), tt.cannot)
			want(t, "verdict", r.Verdict, tt.verdict)
		})
	}
	c := newChat(t)
	r := c.say(parser.Answer{Figure: "14000", Mass: pounds(14000)})
	want(t, "verdict with no load", r.Verdict, "unread")
	want(t, "unread", r.Unread, []parser.Span{{Text: "hand-built"}})
}

func TestAnswer_worseWordThatFitsNothingLeavesTheLoadOpen(t *testing.T) {
	c := newChat(t)
	c.say(roller(14000, clause{4, g70(load.Direct)}))
	r := c.say(parser.Answer{Word: "not tied"})
	want(t, "load verdict", r.LoadVerdict, "unsettled")
}

func TestAnswer_noLockIsOfTheOneJointAskedOrNot(t *testing.T) {
	c := newChat(t)
	c.say(roller(14000, clause{4, g70(load.Direct)}))
	r := c.say(parser.Answer{Word: "not locked"})
	want(t, "verdict", r.Verdict, "short")
}

func TestAnswer_sameThingIsAskedTwiceAtMost(t *testing.T) {
	c := newChat(t)
	r := c.say(told(article("roller", 14000, clause{4, g70(load.Direct)})))
	want(t, "asked before", r.Ask.Asked, 0)
	weigh := func(lb int) Reply { return c.say(facts(load.Article{Weight: load.Exact(pounds(lb), false)})) }
	want(t, "asked before", weigh(14100).Ask.Asked, 1)
	if q := weigh(14200).Ask; q != nil {
		t.Errorf("asked a third time: %+v", q)
	}
}

func TestAnswer_unknownIsNotAskedAgain(t *testing.T) {
	c := newChat(t)
	c.say(told(article("wheel loader", 14000, clause{4, g70(load.Direct)})))
	r := c.say(parser.Answer{Word: "unknown"})
	want(t, "verdict", r.Verdict, "unsettled")
	want(t, "asks next", r.Ask.Key, rules.AskJoint)
	r = c.say(parser.Answer{Word: "unknown"})
	if r.Ask != nil {
		t.Errorf("asks %+v, want nothing", r.Ask)
	}
}

func TestAnswer_sorryPutsRightTheFigureToldLast(t *testing.T) {
	rated := g70(load.Direct)
	rated.Tensioner = load.Tensioner{Has: load.Yes, Rating: pounds(9200)}
	tons := article("roller", 0, clause{4, g70(load.Direct)})
	tons.Weight = load.Weight{Told: 7 * load.ShortTon, Low: 7 * load.ShortTon, High: 7 * load.Tonne, Ton: true}
	kilos := article("roller", 0)
	kilos.Weight = load.Exact(6350*load.Kilogram, true)
	sorry := func(fig string, n int) parser.Answer {
		return parser.Answer{Figure: fig, Mass: pounds(n), Number: n, Sorry: true}
	}
	for _, tt := range []struct {
		name   string
		steps  []parser.Act
		sorry  parser.Answer
		weight load.Mass
		credit int
		cannot string
	}{
		{"a weight", []parser.Act{roller(14000, clause{4, g70(load.Direct)})}, sorry("12000", 12000), pounds(12000), 13200, ""},
		{"a number of pieces", []parser.Act{roller(14000, clause{4, g70(load.Direct)})}, sorry("3", 3), pounds(14000), 9900, ""},
		{"a grade", []parser.Act{roller(14000, clause{4, g70(load.Direct)})}, sorry("43", 43), pounds(14000), 10800, ""},
		{"a size", []parser.Act{roller(14000, clause{4, g70(load.Direct)})}, parser.Answer{Figure: "1/2", Sorry: true}, pounds(14000), 22600, ""},
		{"weight and rating told together", []parser.Act{roller(14000, clause{4, rated})}, sorry("5400", 5400), pounds(14000), 13200, "which figure"},
		{"the binders told after", []parser.Act{roller(14000, clause{4, g70(load.Direct)}), parser.Change{Ref: parser.Ref{Lacks: true}, Edit: parser.Edit{Set: load.TieDown{Tensioner: load.Tensioner{Has: load.Yes, Rating: pounds(9200)}}}}}, sorry("5400", 5400), pounds(14000), 10800, ""},
		{"tons or chains", []parser.Act{told(tons)}, sorry("8", 8), 7 * load.ShortTon, 13200, "which figure"},
		{"kilograms", []parser.Act{told(kilos)}, sorry("6400", 6400), 6400 * load.Kilogram, 0, ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := newChat(t)
			for _, s := range tt.steps {
				c.say(s)
			}
			r := c.say(tt.sorry)
			want(t, "cannot", cannot(r), tt.cannot)
			want(t, "weight", r.Report.Articles[0].Article.Weight.Told, tt.weight)
			want(t, "credit", credit(r), tt.credit)
		})
	}
}

func TestFigure_reads(t *testing.T) {
	for s, want := range map[string]load.Micro{
		"3/8": 375000, ".31": 310000, "14,000": 14000 * load.One, "1 1/2": 1500000, "0.325": 325000, "2": 2 * load.One, "5/16": 312500,
	} {
		if got, ok := figure(s); !ok || got != want {
			t.Errorf("figure(%q) = %d, %v, want %d", s, got, ok, want)
		}
	}
	for _, s := range []string{"", "x", "3/0", "1e9", "9999999", "-3", "1.2.3", "/8", "3/", ".", "1 2", "NaN", "1/2/3"} {
		if got, ok := figure(s); ok {
			t.Errorf("figure(%q) = %d, want none", s, got)
		}
	}
}

func TestAnswer_sorryDoesNotReachIntoTheLoadBefore(t *testing.T) {
	c := newChat(t)
	c.say(roller(14000, clause{4, g70(load.Direct)}))
	c.say(told(article("crate", 0)))
	r := c.say(parser.Answer{Figure: "12000", Mass: pounds(12000), Number: 12000, Sorry: true})
	want(t, "articles", len(r.Report.Articles), 1)
	want(t, "weight: it had none", r.Report.Articles[0].Article.Weight.Told, pounds(12000))
}

func TestDescribe_tieDownsOfAnArticleInHandByItsNoun(t *testing.T) {
	c := newChat(t)
	c.say(roller(14000, clause{4, g70(load.Direct)}))
	c.say(parser.Describe{Add: true, Articles: []parser.Article{article("pickup", 5000, clause{2, strap(2, load.Direct)})}})
	x := load.TieDown{Material: load.Webbing, State: load.State{Tight: load.No}}
	d := told(article("pickup", 0, clause{1, x}))
	d.Definite, d.Articles[0].Lines[0].Told = true, false
	r := c.say(d)
	want(t, "articles", len(r.Report.Articles), 2)
	want(t, "pickup's credit", r.Report.Articles[1].Credit, pounds(1000))
	want(t, "roller's credit", r.Report.Articles[0].Credit, pounds(13200))
}

func TestAnswer_chainOnAPartIsPutThere(t *testing.T) {
	c := newChat(t)
	d := article("excavator", 40000, clause{4, g70(load.Direct)})
	d.Parts = []load.Part{{Name: "bucket", Tied: load.Yes}}
	r := c.say(told(d))
	want(t, "asks", r.Ask.Key, rules.AskChain)
	r = c.say(told(article("", 0, clause{1, chain(load.Inch/2, "1/2", "100", load.Over)})))
	want(t, "credit", credit(r), 13200+15000)
	want(t, "where", r.Report.Articles[0].Article.Ties[4].Place, load.Place{On: "bucket"})
	want(t, "verdict", r.Verdict, "covered")
}

func TestAnswer_oneTieDownOverTwoArticles(t *testing.T) {
	shared := strap(4, load.Over)
	shared.Shared = true
	c := newChat(t)
	crate := article("crate", 4000, clause{1, strap(4, load.Over)}, clause{1, shared})
	crate.Length, crate.Blocked = 6*load.Foot, load.No
	box := article("box", 500)
	box.Length = 4 * load.Foot
	r := c.say(parser.Describe{Articles: []parser.Article{crate, box}})
	want(t, "credit", credit(r), 4000)
	for r.Ask != nil && r.Ask.Key != rules.AskShared {
		r = c.say(parser.Answer{Word: "unknown"})
	}
	if r.Ask == nil {
		t.Fatal("which article it holds is not asked")
	}
	want(t, "options", r.Ask.Options, []string{"crate", "box"})
	r = c.say(told(article("box", 0)))
	want(t, "crate's", r.Report.Articles[0].Credit, pounds(4000))
	want(t, "box's", r.Report.Articles[1].Credit, pounds(4000))
}
