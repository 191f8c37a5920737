package render

import (
	"testing"

	"halfweight/bot/talk"
	"halfweight/parser"
	"halfweight/rules"
	"halfweight/rules/load"
)

func TestPrintMore(t *testing.T) {
	g70 := func(r load.Route) load.TieDown { return chain(in38, "3/8", "70", r) }
	show := func(name string, r talk.Reply) { t.Logf("%s\n%s\n", name, Text(r)) }

	// several
	a1 := machine("skid steer", 9000, ties(1, 4, chain(load.Inch*5/16, "5/16", "70", load.Direct)))
	a1.Parts = []load.Part{{Name: "bucket", Down: load.Yes, Tied: load.Yes}}
	a2 := machine("car", 4000, ties(5, 1, strap(2*load.Inch, "2", load.Direct)))
	a2.ID = 2
	show("several", judged(a1, a2))
	r := modelA()
	r.Unread = []parser.Span{{Text: "florp", At: 3}, {Text: "wobble", At: 9}}
	show("unread", r)
	r.Grave, r.Verdict = true, "unsettled"
	r.Unread = []parser.Span{{Text: "minus 14000", At: 3}}
	show("grave", r)
	r = modelA()
	r.Units = "kg"
	show("kg", r)
	a := machine("dozer", 0, ties(1, 4, g70(load.Direct)))
	a.Weight = load.Weight{}
	show("no weight", asking(judged(a), rules.AskWeight, ""))
	show("no ties", asking(judged(machine("roller", 14000)), rules.AskTies, ""))
	a = machine("roller", 14000)
	a.Bare = true
	show("bare", judged(a))
	a = machine("roller", 14000, ties(1, 4, g70(load.Direct)))
	a.Weight = load.Weight{Told: 24000 * lb, Low: 24000 * lb, High: 12 * load.Tonne, Ton: true}
	a.Joint.Locked = load.Yes
	show("tons", asking(judged(a), rules.AskPlate, ""))
	al := g70(load.Direct)
	al.Grade = load.Grade{}
	a = machine("excavator", 32000, ties(1, 4, al))
	a.Parts = []load.Part{{Name: "bucket", Tied: load.Yes}}
	show("not read", asking(judged(a), rules.AskGrade, "", "70", "80", "100", "no mark"))
	al.Grade.Reading = load.NoMarks
	a = machine("roller", 24000, ties(1, 2, g70(load.Direct)), ties(3, 2, al))
	a.Joint = load.Joint{Locked: load.Yes, How: load.SteeringLock}
	show("no marks", judged(a))
	wr := load.TieDown{Material: load.WireRope, Size: in12, SizeWord: "1/2", Route: load.Direct}
	a = machine("forklift", 17000, ties(1, 4, wr))
	a.Parts = []load.Part{{Name: "forks", Tied: load.Yes}, {Name: "mast", Tied: load.Yes}}
	show("wire rope", asking(judged(a), rules.AskTensioner, "", "yes", "no"))
	a = machine("crate", 4000, ties(1, 2, strap(2*load.Inch, "2", load.Over)))
	a.Length = 10*load.Foot + load.Inch
	a.Blocked = load.No
	show("crate short", judged(a))
	a.Blocked = load.Untold
	show("crate", asking(judged(a), rules.AskBlocked, "", "yes", "no"))
	nb := g70(load.Direct)
	nb.Tensioner.Has = load.No
	a = machine("tractor", 14000, ties(1, 4, nb))
	show("no binders", judged(a))
	nb = at(nb, "rear", "left")
	a = machine("machine", 12000, ties(1, 3, g70(load.Direct)), ties(4, 1, nb))
	show("one no binder", asking(judged(a), rules.AskKind, ""))
	a = machine("grader", 36000, ties(1, 6, chain(in38, "3/8", "80", load.Direct)))
	a.Parts = []load.Part{{Name: "blade", Tied: load.No}}
	a.Joint.Locked = load.No
	show("grader", judged(a))
	hurt := strap(4*load.Inch, "4", load.Direct)
	hurt.State.Damage = []load.Damage{{Kind: "cut", Size: []load.Length{load.Inch * 5 / 8}}}
	a = machine("pickup", 7000, ties(1, 2, at(strap(4*load.Inch, "4", load.Direct), "front", "")), ties(3, 1, at(hurt, "rear", "")), ties(4, 1, at(strap(4*load.Inch, "4", load.Direct), "rear", "")))
	show("trade cut", judged(a))
	hurt.State.Damage[0].Size = nil
	a.Ties[2] = at(hurt, "rear", "")
	a.Ties[2].ID = 3
	show("cut not measured", asking(judged(a), rules.AskDamage, ""))
	a = machine("pickup", 8800, ties(1, 1, at(chain(in38, "3/8", "70", load.Direct), "front", "")), ties(2, 2, at(chain(in38, "3/8", "70", load.Direct), "rear", "")))
	a.Weight = load.Exact(9700*lb, false)
	show("pickup near line", judged(a))
	a = machine("water truck", 26400, ties(1, 4, g70(load.Direct)))
	a.Kind = "truck"
	for i := range a.Ties {
		a.Ties[i].Tensioner.Rating = 9200 * lb
	}
	show("only just", judged(a))
	gone := at(g70(load.Direct), "rear", "right")
	gone.State.Gone = "came off"
	a = machine("dozer", 30000, ties(1, 6, g70(load.Direct)), ties(7, 1, gone))
	a.Parts = []load.Part{{Name: "blade", Down: load.Yes, Tied: load.Yes}}
	show("came off", judged(a))
	a = machine("dozer", 60000, ties(1, 4, g70(load.Direct)))
	a.Parts = []load.Part{{Name: "blade", Down: load.No}, {Name: "ripper", Hydraulics: true}}
	show("big short", judged(a))
	a = machine("roller", 12500, ties(1, 4, chain(in38, "3/8", "70", "")))
	show("no route", asking(judged(a), rules.AskRoute, "", "direct", "over"))
	b1 := chain(in38, "3/8", "70", load.Direct)
	b1.Tensioner.Rating = 5400 * lb
	a = machine("dozer", 26000, ties(1, 3, g70(load.Direct)), ties(4, 1, b1))
	show("weak binder", judged(a))
}
