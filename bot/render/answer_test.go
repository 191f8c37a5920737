package render

import (
	"testing"

	"halfweight/bot/talk"
	"halfweight/rules"
	"halfweight/rules/load"
)

func alone(groups ...[]load.TieDown) *rules.Count {
	a := load.Article{ID: 1}
	for _, g := range groups {
		a.Ties = append(a.Ties, g...)
	}
	r := rules.Evaluate(load.Load{Articles: []load.Article{a}}, rules.Federal)
	return &r.Articles[0]
}

func answer_(says ...talk.Say) talk.Reply {
	return talk.Reply{Verdict: "answer", Units: "lb", Says: says}
}

func TestPrintAnswers(t *testing.T) {
	show := func(name string, r talk.Reply) { t.Logf("%s\n%s\n", name, Text(r)) }
	g70 := chain(in38, "3/8", "70", "")
	show("3/8 g70?", answer_(talk.Rating{Count: alone(ties(1, 1, g70))}))
	g43 := chain(in38, "3/8", "43", "")
	show("3/8 g43?", answer_(talk.Rating{Count: alone(ties(1, 1, g43))}))
	show("3/8 wire rope?", answer_(talk.Rating{Count: alone(ties(1, 1, load.TieDown{Material: load.WireRope, Size: in38, SizeWord: "3/8"}))}))
	show("1/2 nylon?", answer_(talk.Rating{Count: alone(ties(1, 1, load.TieDown{Material: load.Cordage, Size: in12, SizeWord: "1/2", Make: "nylon"}))}))
	show("g90", answer_(talk.Rating{Count: alone(ties(1, 1, chain(in38, "3/8", "90", "")))}))
	g70.Grade = load.Grade{}
	show("3/8 chain?", answer_(talk.Rating{Count: alone(ties(1, 1, g70))}))
	show("4x 3/8 g70 direct good for?", answer_(talk.Rating{Count: alone(ties(1, 4, chain(in38, "3/8", "70", load.Direct)))}))
	show("compare", answer_(talk.Compare{A: chain(in38, "3/8", "80", ""), B: chain(in12, "1/2", "70", "")}))
	show("compare none", answer_(talk.Compare{A: chain(in38, "3/8", "90", ""), B: chain(in12, "1/2", "70", "")}))
	hm := talk.HowMany{Tie: chain(in38, "3/8", "70", ""), Weight: load.Exact(52000*lb, false), Need: 26000 * lb, WLL: 6600 * lb, Direct: 8, Over: 4, WeakDirect: 10, WeakOver: 5}
	show("how many", answer_(hm))
	for _, n := range []int{3, 6, 8, 10} {
		hm.Have = n
		show("will n do", answer_(hm))
	}
	cut := strap(4*load.Inch, "4", "")
	for _, s := range []load.Length{load.Inch / 4, load.Inch / 2, load.Inch * 5 / 8, load.Inch} {
		cut.State.Damage = []load.Damage{{Kind: "cut", Size: []load.Length{s}}}
		show("strap cut", answer_(talk.Wear{Tie: cut}))
	}
	link := chain(in38, "3/8", "", "")
	link.Grade = load.Grade{}
	link.State.Damage = []load.Damage{{Kind: "worn", Left: load.Inch * 310 / 1000}}
	show("link", answer_(talk.Wear{Tie: link, Aside: &rules.Aside{Why: "worn", Fix: true}}))
	link.State.Damage[0].Left = load.Inch * 340 / 1000
	show("link", answer_(talk.Wear{Tie: link}))
	link.State.Damage = []load.Damage{{Kind: "cracked", Part: "hook"}}
	show("hook", answer_(talk.Wear{Tie: link, Aside: &rules.Aside{Line: rules.Line{Tie: link}, Why: "cracked hook", Fix: true}}))
	for _, r := range []talk.Reply{modelA(), modelB(), modelC(), modelD()} {
		show("what if", answer_(talk.WhatIf{Report: r.Report}))
		show("need", answer_(talk.Need{Report: r.Report}))
		show("why", answer_(talk.Why{Report: r.Report}))
	}
	show("why 3300", answer_(talk.Why{Report: modelA().Report, About: "3300"}))
	show("why four", answer_(talk.Why{Report: modelA().Report, About: "four"}))
	show("why corners", answer_(talk.Why{Report: modelA().Report, About: "corners"}))
	show("when", answer_(talk.When{}))
	show("when", answer_(talk.When{Rolling: true, Miles: 48, Next: 198}))
	show("help", answer_(talk.Help{}))
	for key := range topics() {
		show(key, answer_(talk.Plain{Topic: key}))
	}
	for key := range english.Cannot {
		show(key, answer_(talk.Cannot{Why: key, Words: "the strap", Length: 100000}))
	}
	r := answer_(talk.Done{What: "gear", Gear: []talk.GearRow{{Count: 5, Tie: chain(in38, "3/8", "70", "")}, {Count: 2, Tie: strap(4*load.Inch, "4", "")}}})
	show("gear", r)
	for key := range english.Done {
		show(key, answer_(talk.Done{What: key, Words: "20,000 lb dozer"}))
	}
}
