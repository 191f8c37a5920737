package talk

import (
	"math"
	"testing"

	"halfweight/parser"
	"halfweight/rules"
	"halfweight/rules/load"
	"halfweight/rules/tables"
)

// asked is the answers to a question of hold.
func asked(r Reply) (list []Hold) {
	for _, s := range r.Says {
		if h, ok := s.(Hold); ok {
			list = append(list, h)
		}
	}
	return list
}

// one is the only answer.
func one(t *testing.T, r Reply) Hold {
	t.Helper()
	list := asked(r)
	if len(list) != 1 {
		t.Fatalf("%d answers: %+v", len(list), r.Says)
	}
	return list[0]
}

func holdAsk(h parser.Hold) parser.Ask { return parser.Ask{Topic: "hold", Words: "hold", Hold: h} }

// g are the figures of an answer: forward, rearward, left, right.
func (h Hold) g() (g [4]float64) {
	for i, w := range h.Ways {
		g[i] = w.G
	}
	return g
}

func TestHold_changesNothingAndSaysHowTheCountStands(t *testing.T) {
	c := newChat(t)
	c.say(roller(14000, clause{4, g70(load.Direct)}))
	before := marshal(t, c.s.load())
	r := c.say(holdAsk(parser.Hold{}))
	if after := marshal(t, c.s.load()); after != before || r.Verdict != verdictAnswer || r.Report != nil {
		t.Errorf("%s, load %s, before %s", r.Verdict, after, before)
	}
	counted := rules.Evaluate(c.s.load(), rules.Federal)
	if h := one(t, r); r.LoadVerdict != string(counted.Verdict) || h.Count.Verdict != counted.Verdict {
		t.Errorf("load verdict %s, in the answer %s, counted %s", r.LoadVerdict, h.Count.Verdict, counted.Verdict)
	}
}

func TestHold_asksForAWeightNotTold(t *testing.T) {
	c := newChat(t)
	if r := c.say(holdAsk(parser.Hold{})); len(asked(r)) > 0 || r.Says[0] != Say(Cannot{Why: "no load", Words: "hand-built"}) {
		t.Errorf("without a load: %+v", r.Says)
	}
	c.say(roller(0, clause{4, g70(load.Direct)}))
	r := c.say(holdAsk(parser.Hold{}))
	if len(asked(r)) > 0 || r.Says[0].(Cannot).Why != "hold no weight" {
		t.Errorf("without a weight: %+v", r.Says)
	}
}

func TestHold_aLooseOneHoldsNothing(t *testing.T) {
	c := newChat(t)
	c.say(roller(14000, clause{4, g70(load.Direct)}))
	all := one(t, c.say(holdAsk(parser.Hold{}))).g()
	c.say(loose(there2("front", "left")))
	h := one(t, c.say(holdAsk(parser.Hold{})))
	if g := h.g(); h.Aside != 1 || g[1] >= all[1] || g[3] >= all[3] || g[0] != all[0] || g[2] != all[2] {
		t.Errorf("%v, with all four %v, %d aside", g, all, h.Aside)
	}
}

func TestHold_aWeightToldLooselyIsTakenAtItsMost(t *testing.T) {
	at := func(w load.Weight) [4]float64 {
		c := newChat(t)
		a := article("roller", 0, clause{4, g70(load.Direct)})
		a.Weight = w
		c.say(told(a))
		return one(t, c.say(holdAsk(parser.Hold{}))).g()
	}
	loosely := at(load.Weight{Told: pounds(30000), Low: pounds(20000), High: pounds(40000)})
	if most, told := at(load.Exact(pounds(40000), false)), at(load.Exact(pounds(30000), false)); loosely != most || loosely == told {
		t.Errorf("%v, at the most %v, as told %v", loosely, most, told)
	}
}

func TestHold_explainsTheRankingOnceAndWhyExplainsTheFigures(t *testing.T) {
	c := newChat(t)
	c.say(roller(14000, clause{4, g70(load.Direct)}))
	if h := one(t, c.say(holdAsk(parser.Hold{}))); !h.Explain || h.Why {
		t.Errorf("the first time: %+v", h)
	}
	why := parser.Ask{Topic: "why", Words: "why"}
	if h := one(t, c.say(why)); !h.Why || h.Explain {
		t.Errorf("why: %+v", h)
	}
	if h := one(t, c.say(holdAsk(parser.Hold{}))); h.Explain || h.Why {
		t.Errorf("the second time: %+v", h)
	}
	c.say(facts(load.Article{Weight: load.Exact(pounds(15000), false)}))
	if r := c.say(why); len(asked(r)) > 0 {
		t.Errorf("why, after a change, is the count's: %+v", r.Says)
	}
	if h := one(t, c.say(holdAsk(parser.Hold{}))); h.Explain {
		t.Errorf("after a change: %+v", h)
	}
	if r := c.say(parser.Ask{Topic: "why", Words: "why 3300"}); len(asked(r)) > 0 {
		t.Errorf("why 3300 is the count's: %+v", r.Says)
	}
}

func TestHold_frictionIsToldOrLookedUpOrTheLesser(t *testing.T) {
	micro := func(f float64) load.Micro { return load.Micro(math.Round(f * 1e6)) }
	for _, c := range []struct {
		name  string
		told  parser.Hold
		want  float64
		from  string
		doubt bool
	}{
		{"nothing told", parser.Hold{}, 0.2, "", false},
		{"a figure", parser.Hold{Friction: micro(0.35)}, 0.35, "told", false},
		{"a figure beside a pair", parser.Hold{Friction: micro(0.35), Contact: "steel", Deck: "steel"}, 0.35, "told", false},
		{"more than any", parser.Hold{Friction: micro(0.9)}, 0.2, "", false},
		{"more than any, beside a pair", parser.Hold{Friction: micro(0.9), Contact: "steel", Deck: "wood"}, 0.2, "table", false},
		{"a pair", parser.Hold{Contact: "rubber", Deck: "wood", Surface: "dry"}, 0.4, "table", false},
		{"words not read", parser.Hold{Deck: "steel", Doubt: true}, 0.05, "table", true},
		{"words not read beside a figure", parser.Hold{Friction: micro(0.3), Doubt: true}, 0.3, "told", false},
	} {
		ch := newChat(t)
		ch.say(roller(14000, clause{4, g70(load.Direct)}))
		h := one(t, ch.say(holdAsk(c.told)))
		if math.Abs(h.Friction-c.want) > 1e-9 || h.From != c.from || h.Doubt != c.doubt {
			t.Errorf("%s: %v by %q, doubt %v; want %v by %q", c.name, h.Friction, h.From, h.Doubt, c.want, c.from)
		}
	}
}

func TestHold_whatFollowsKeepsWhatWasTold(t *testing.T) {
	c := newChat(t)
	c.say(roller(14000, clause{4, g70(load.Direct)}))
	c.say(holdAsk(parser.Hold{Contact: "steel", Deck: "wood"}))
	h := one(t, c.say(holdAsk(parser.Hold{Angles: []parser.Angle{{Up: 45 * load.One, Out: 30 * load.One, OutTold: true}}})))
	if h.Rubbing != (tables.Rubbing{Contact: "steel", Deck: "wood"}) || h.Angles != "told" {
		t.Errorf("%+v, angles %s", h.Rubbing, h.Angles)
	}
	h = one(t, c.say(holdAsk(parser.Hold{Surface: "slick", Height: 5 * load.Foot, Width: 8 * load.Foot})))
	if h.Rubbing != (tables.Rubbing{Contact: "steel", Deck: "wood", State: "slick"}) || h.Angles != "told" || !h.Ways[2].TipKnown || h.Ways[0].TipKnown {
		t.Errorf("%+v", h)
	}
	c.say(facts(load.Article{Weight: load.Exact(pounds(15000), false)}))
	if h := one(t, c.say(holdAsk(parser.Hold{}))); h.Rubbing != (tables.Rubbing{}) || h.Angles != "range" {
		t.Errorf("after a change: %+v", h)
	}
}

func TestHold_severalInOneMessageAreOne(t *testing.T) {
	c := newChat(t)
	c.say(roller(14000, clause{4, g70(load.Direct)}))
	h := one(t, c.say(holdAsk(parser.Hold{Contact: "rubber"}), holdAsk(parser.Hold{Deck: "wood", Height: 5 * load.Foot}), holdAsk(parser.Hold{Surface: "wet"})))
	if h.Rubbing != (tables.Rubbing{Contact: "rubber", Deck: "wood", State: "wet"}) || !h.Height {
		t.Errorf("%+v", h)
	}
}

func TestHold_angles(t *testing.T) {
	deg := func(n int) load.Micro { return load.Micro(n) * load.One }
	at := func(told ...parser.Angle) Hold {
		c := newChat(t)
		c.say(roller(14000, clause{4, g70(load.Direct)}))
		return one(t, c.say(holdAsk(parser.Hold{Angles: told})))
	}
	untold, straight := at(), at(parser.Angle{Up: deg(45), Out: deg(30), OutTold: true})
	if untold.Angles != "range" || straight.Angles != "told" || straight.Ways[0].G <= untold.Ways[0].G || straight.Ways[2].G < untold.Ways[2].G {
		t.Errorf("not told %v, told %v", untold.g(), straight.g())
	}
	if half := at(parser.Angle{Up: deg(45)}); half.Angles != "partly" || half.Ways[0].G < untold.Ways[0].G || half.Ways[0].G > straight.Ways[0].G {
		t.Errorf("one told: %s %v", half.Angles, half.g())
	}
	if other := at(parser.Angle{Material: load.Webbing, Up: deg(45), Out: deg(30), OutTold: true}); other.g() != untold.g() {
		t.Errorf("told of straps: %v", other.g())
	}
	for _, n := range []int{5, 85} { // no better than the range
		odd := at(parser.Angle{Up: deg(n)})
		for i := range odd.Ways {
			if !odd.Flat || odd.Ways[i].G > untold.Ways[i].G {
				t.Errorf("%d degrees: %v, not told %v", n, odd.g(), untold.g())
			}
		}
	}
}
