package render

import (
	"strings"
	"testing"

	"halfweight/bot/talk"
	"halfweight/parser"
	"halfweight/rules"
	"halfweight/rules/load"
)

// alone is a set of tie-downs judged as an article of untold weight.
func alone(n int, t load.TieDown) *rules.Count {
	r := rules.Evaluate(load.Load{Articles: []load.Article{{ID: 1, Ties: ties(1, n, t)}}}, rules.Federal)
	return &r.Articles[0]
}

func answering(says ...talk.Say) talk.Reply {
	return talk.Reply{Verdict: "answer", Units: "lb", Says: says}
}

func TestText_answers(t *testing.T) {
	g70, g80 := chain(in38, "3/8", "70", ""), chain(in38, "3/8", "80", "")
	how := talk.HowMany{Tie: g70, Weight: load.Exact(52000*lb, false), Need: 26000 * lb, WLL: 6600 * lb, Direct: 8, Over: 4, WeakDirect: 10, WeakOver: 5}
	will := func(n int) talk.HowMany { h := how; h.Have = n; return h }
	cut := func(size load.Length) talk.Wear {
		s := strap(4*load.Inch, "4", "")
		s.State.Damage = []load.Damage{{Kind: "cut", Size: []load.Length{size}}}
		return talk.Wear{Tie: s}
	}
	link := func(left load.Length) talk.Wear {
		c := chain(in38, "3/8", "70", "")
		c.State.Damage = []load.Damage{{Kind: "worn", Left: left}}
		return talk.Wear{Tie: c}
	}
	rope := load.TieDown{Material: load.Cordage, Size: in12, SizeWord: "1/2", Make: "nylon"}
	for _, c := range []struct {
		name   string
		say    talk.Say
		pieces []string
	}{
		{"3/8 g70?", talk.Rating{Count: alone(1, g70)}, []string{"3/8 in grade 70 chain: 6,600 lb by the federal table.", "Direct it counts 3,300, over to the other side 6,600.", "The binder, hook or ring may be less: read the stamp."}},
		{"a rating from memory says so", talk.Rating{Count: alone(1, rope)}, []string{"1/2 in nylon rope: 525 lb by the federal table, from memory."}},
		{"no table row", talk.Rating{Count: alone(1, chain(in38, "3/8", "90", ""))}, []string{"no row for it. Read the tag"}},
		{"a set is good up to", talk.Rating{Count: alone(4, chain(in38, "3/8", "70", load.Direct))}, []string{"Has 13,200: 4 chains 3/8 g70 direct at half of 6,600. Good up to 26,400 lb.", "With 5,400 binders 10,800, good up to 21,600.", "four corners", english.Laws["federal"].Caution}},
		{"compare", talk.Compare{A: g80, B: chain(in12, "1/2", "70", "")}, []string{"The 1/2 g70 chain is the stronger: 11,300 lb against 7,100 for the 3/8 g80 chain.", "In 5/16, g80 is less than g70: 4,500 against 4,700.", "Size first, then grade, then the binder."}},
		{"how many", how, []string{"52,000 lb needs 26,000. A 3/8 g70 chain is 6,600: 8 direct at 3,300, or 4 over.", "With 5,400 binders 10 direct, or 5 over.", english.Laws["federal"].Caution}},
		{"3 will not do", will(3), []string{"3 is too few: even all over they count 19,800."}},
		{"6 do only over", will(6), []string{"6 is enough only over: 39,600 over, 19,800 direct."}},
		{"8 do with strong binders", will(8), []string{"8 direct count 26,400, if the binders read 6,600 or more."}},
		{"10 do", will(10), []string{"10 direct count 33,000: enough for the weight."}},
		{"of a ton how many is said for the metric one", talk.HowMany{Tie: g70, Weight: load.Weight{Told: 20000 * lb, Low: 20000 * lb, High: 10 * load.Tonne, Ton: true}, Need: 5 * load.Tonne, WLL: 6600 * lb, Direct: 4, Over: 2},
			[]string{"20,000 lb needs 10,000; in metric tons it is 22,046, needs 11,024."}},
		{"how many of a size not told is asked, the usual ones said", talk.HowMany{Tie: load.TieDown{Material: load.Chain}, Weight: load.Exact(30000*lb, false), Need: 15000 * lb},
			[]string{"30,000 lb needs 15,000.", "Chains 3/8 g70: 5 direct, 6 with 5,400 binders.", "Chains 1/2 g70: 3 direct, 4 with 9,200 binders.", "What size and grade?", "four at least, one on each corner"}},
		{"below the heavy line it is one at each end", talk.HowMany{Tie: strap(3*load.Inch, "3", ""), Weight: load.Exact(9000*lb, false), Need: 4500 * lb, WLL: 3000 * lb, Direct: 3, Over: 2},
			[]string{"3 direct at 1,500, or 2 over.", "two at least, one at the front and one at the rear."}},
		{"what is needed of a machine that nothing holds yet", talk.Need{Report: judged(func() load.Article { a := machine("roller", 24000); return a }()).Report},
			[]string{"Roller, 24,000 lb: needs 12,000, half of its weight.", "Chains 3/8 g70: 4 direct, 5 with 5,400 binders.", "4 at least on the machine itself, one on each corner.", "Joint locked with its bar or pin, or a chain across it."}},
		{"what is needed of a crate", talk.Need{Report: judged(machine("crate", 4000)).Report},
			[]string{"Crate, 4,000 lb: needs 2,000", "Straps 2 in: 1 over.", "By its length 1 or more: tell me the length."}},
		{"what is needed of what nobody knows is asked once", talk.Need{Report: judged(machine("light tower", 2000)).Report},
			[]string{"Tell me what it is: what moves on it is tied, a joint is locked. Federal minimum"}},
		{"a what if names the part", talk.WhatIf{Report: judged(func() load.Article {
			a := machine("excavator", 40000, ties(1, 4, chain(in38, "3/8", "70", load.Direct)))
			a.Parts = []load.Part{{Name: "bucket", Down: load.Yes, Tied: load.Yes}}
			return a
		}()).Report}, []string{"Then: Excavator, 40,000 lb, can't call it yet: the chain on the bucket?"}},
		{"an undo that leaves nothing says so", talk.Done{What: "undo"}, []string{"Undone: no load in hand."}},
		{"a bent link is out without a measure", talk.Wear{Tie: load.TieDown{Material: load.Chain, State: load.State{Damage: []load.Damage{{Kind: "bent"}}}}, Aside: &rules.Aside{Line: rules.Line{Tie: load.TieDown{Material: load.Chain}}, Why: "bent", Cite: "49 CFR 393.104(b)"}},
			[]string{"TAKE IT OFF: chain, bent. No measuring", "published table of defects, from memory (49 CFR 393.104(b))"}},
		{"a quarter inch cut", cut(load.Inch / 4), []string{"It still counts with 1/4 in of cut. Watch it.", "past 1/2", "past 3/4", "every hook and ratchet"}},
		{"a half inch cut", cut(load.Inch / 2), []string{"It still counts, at the limit: 1/2 in of cut is the most some in the trade allow.", "past 1/2", "published table past 3/4", "second-hand"}},
		{"past the trade's limit", cut(load.Inch * 5 / 8), []string{"CHANGE IT: 5/8 in of cut is past the 1/2 of some in the trade."}},
		{"past the published limit", cut(load.Inch), []string{"TAKE IT OFF: 1 in of cut is past the 3/4 of the published table."}},
		{"a worn link", link(load.Inch * 310 / 1000), []string{"TAKE IT OFF: 0.310 in is below 0.325 on a 3/8 g70 chain.", "not in Part 393", "0.300"}},
		{"a link not yet worn out", link(load.Inch * 340 / 1000), []string{"It still counts: 0.340 in, out below 0.325"}},
		{"what if", talk.WhatIf{Report: modelC().Report}, []string{"Then: Roller, 14,000 lb, short: 3 of 4 corners.", "has 9,900", "Only asked: the load in hand stays as it was.", english.Laws["federal"].Caution}},
		{"what do I need", talk.Need{Report: modelB().Report}, []string{"Excavator, 40,000 lb, short by 200 lb.", "Put on one more 3/8 g70 chain: over gives 6,600, direct 3,300.", "needs 20,000, has 19,800", english.Laws["federal"].Caution}},
		{"why, step by step with sections", talk.Why{Report: modelA().Report}, []string{
			"Roller, 14,000 lb, adds up: 12,800 lb to spare.",
			"Half of the weight must be covered: 7,000 (49 CFR 393.106(d), read in 4 places).",
			"4 chains 3/8 g70: 6,600 each by the table (49 CFR 393.108, read in 2 places), half from trailer to load: 4 times 3,300 is 13,200.",
			"whole over to the other side: 6,600.", "Together 19,800 of 7,000: 12,800 lb to spare.",
			"Corners 4 of 4 (49 CFR 393.130(c), read in 3 places).", "Joint locked (49 CFR 393.130(b)(2), read in 3 places)."}},
		{"why 3,300", talk.Why{Report: modelA().Report, About: "3,300"}, []string{"4 times 3,300 is 13,200."}},
		{"why four", talk.Why{Report: modelA().Report, About: "four"}, []string{"Corners 4 of 4 (49 CFR 393.130(c), read in 3 places)."}},
		{"when, before rolling", talk.When{}, []string{"inside the first 50 miles, then every 150 miles, 3 hours or change of duty, whichever is first (49 CFR 392.9(b))."}},
		{"when, on the road", talk.When{Rolling: true, Miles: 48, Next: 198}, []string{"By mile 198, 150 on from here."}},
		{"help holds the full caution", talk.Help{}, []string{"4x 3/8 g70", "federal minimum", "not advice to go", "Read the tags", "Retighten", "State, provincial and permit rules", "inspector at the roadside", "machine maker's instructions decide", "No texting while driving."}},
		{"gear", talk.Done{What: "gear", Gear: []talk.GearRow{{Count: 5, Tie: g70}, {Count: 2, Tie: strap(4*load.Inch, "4", "")}}}, []string{"Your gear: 5 chains 3/8 g70, stamp never read; 2 straps 4 in, tag never read."}},
		{"rings", talk.Done{What: "anchor", Mass: 6600 * lb}, []string{"rings rated 6,600 lb"}},
		{"refused for its length", talk.Cannot{Why: "too long", Length: 100000}, []string{"That is 100,000 characters"}},
		{"a topic ends with where it is from", talk.Plain{Topic: "steering lock"}, []string{"A steering lock counts if it is a bar or pin at the joint", "49 CFR 393.130(b)(2)."}},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := Text(answering(c.say))
			inOrder(t, text, c.pieces...)
			if hit := never.FindString(text); hit != "" {
				t.Errorf("says %q:\n%s", hit, text)
			}
			if strings.Contains(text, "{") || strings.Contains(text, "  ") {
				t.Errorf("a hole in:\n%s", text)
			}
		})
	}
}

func TestText_whyAboutOneThingLeavesTheRestOut(t *testing.T) {
	if text := Text(answering(talk.Why{Report: modelA().Report, About: "corners"})); strings.Contains(text, "\n") {
		t.Errorf("more than the corners:\n%s", text)
	}
}

func TestText_aMovingDriverGetsOneLine(t *testing.T) {
	for _, what := range []string{"rolling", "at", "checked", "stopped", "delivered"} {
		for _, verdict := range []string{"", "covered", "fix", "short", "unsettled"} {
			r := answering(talk.Done{What: what, When: talk.When{Rolling: true, Miles: 10, Next: 50}})
			r.Verdict, r.LoadVerdict = "done", verdict
			text := Text(r)
			if text == "" || strings.Contains(text, "\n") {
				t.Errorf("%s on a load %q:\n%s", what, verdict, text)
			}
			if what == "rolling" && verdict != "" && verdict != "covered" && !strings.Contains(text, "pull over") {
				t.Errorf("rolling on a load that is %s does not warn: %s", verdict, text)
			}
		}
	}
}

func TestText_whatCannotBeReadIsQuotedWithAnExample(t *testing.T) {
	r := answering(talk.Cannot{Why: "nothing read"})
	r.Verdict, r.Unread = "unread", []parser.Span{{Text: "asdf"}, {Text: "qwer"}, {Text: "zxcv"}, {Text: "more"}, {Text: "still"}}
	inOrder(t, Text(r), `of "asdf", "qwer", "zxcv" and 2 more.`, "14000 lb roller")
}

func TestText_nothingToSayIsNotSilence(t *testing.T) {
	if Text(talk.Reply{Units: "lb", Verdict: "unread"}) == "" {
		t.Error("an empty reply")
	}
}
