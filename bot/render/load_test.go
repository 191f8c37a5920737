package render

import (
	"strings"
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
	report := talk.Judge(load.Load{Articles: articles}, rules.Federal)
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

// inOrder fails where the pieces do not stand in the text one after another,
// wherever its lines break.
func inOrder(t *testing.T, text string, pieces ...string) {
	t.Helper()
	rest := strings.ReplaceAll(text, "\n", " ")
	for _, piece := range pieces {
		_, after, ok := strings.Cut(rest, piece)
		if !ok {
			t.Errorf("no %q in its place in:\n%s", piece, text)
			return
		}
		rest = after
	}
}

// The models are those of a written page of good replies: figures and order are
// theirs, the words our own.
func TestText_modelRepliesHoldFiguresAndOrder(t *testing.T) {
	for _, c := range []struct {
		name   string
		reply  talk.Reply
		pieces []string
	}{
		{"A roller adds up", modelA(), []string{
			"ADDS UP: 12,800 lb to spare. Roller, 14,000 lb.",
			"Needs 7,000. Has 19,800: 4 chains 3/8 g70 direct at half 13,200, 1 over whole 6,600.",
			"Holds with 5,400 binders too.", "Corners 4 of 4.", "Joint locked.",
			"Lose a corner chain and it no longer adds up.",
			"Go look: one on each corner of the roller itself;", "all tight and sound;", "stamps on binder, hook and ring.",
			"Look again inside 50 miles.", "Federal minimum on your word, not a go-ahead.",
		}},
		{"B excavator short by 200", modelB(), []string{
			"SHORT by 200 lb. Excavator, 40,000 lb.",
			"Put on one more 3/8 g70 chain: over gives 6,600, direct 3,300.",
			"needs 20,000, has 19,800: 4 chains 3/8 g70 direct at half 13,200,", "1 over the bucket 6,600.",
			"That is with 6,600 binders; with 5,400 it is short 3,800: put one more over.",
			"Corners 4 of 4.", "Bucket down and tied.", "Go look:",
			"Text me what you add. Federal minimum on your word, not a go-ahead.",
		}},
		{"C a corner came loose", modelC(), []string{
			"SHORT: 3 of 4 corners. Roller, 14,000 lb. Leave it parked.",
			"The front left chain: loose, not counted.", "Tighten it if chain, hook and ring are sound.", "put another there.",
			"Before you go:", "the tyres, why it let go, handle tied back.",
			"needs 7,000, has 9,900", "Corners 3 of 4.",
			"Federal minimum on your word, not a go-ahead.",
		}},
		{"D excavator not settled", modelD(), []string{
			"CAN'T CALL IT YET: the bucket and the binders? Excavator, 38,000 lb.",
			"Bucket: down and tied? YES / NO / DON'T KNOW.", "Hydraulics alone do not count.",
			"needs 19,000, has 22,600", "That is with 11,300 binders; 9,200 ones make 18,400, short 600: read one.",
			"Corners 4 of 4.", "one on each corner of the excavator itself", "Federal minimum on your word, not a go-ahead.",
		}},
		{"E car with a nicked strap", modelE(), []string{
			"ADDS UP WITHOUT IT, BUT MEND IT FIRST: 1,200 lb to spare. Car, 3,600 lb.",
			"1/4 + 1/4 = 1/2 in", "Take it off, or put another there", "past 1/4", "past 3/8", "Cuts on both edges add.", "every hook and ratchet",
			"Needs 1,800. Has 3,000", "Both ends held.", "Federal minimum on your word, not a go-ahead.",
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := Text(c.reply)
			inOrder(t, text, c.pieces...)
			if n := strings.Count(text, "\n") + 1; n > 10 {
				t.Errorf("%d lines:\n%s", n, text)
			}
		})
	}
}

func TestText_cases(t *testing.T) {
	g70 := func(r load.Route) load.TieDown { return chain(in38, "3/8", "70", r) }
	rated := func(t load.TieDown, binder load.Mass) load.TieDown {
		t.Tensioner.Rating = binder * lb
		return t
	}
	hurt := func(t load.TieDown, d load.Damage) load.TieDown {
		t.State.Damage = []load.Damage{d}
		return t
	}
	loose := func(t load.TieDown) load.TieDown {
		t.State.Tight = load.No
		return t
	}
	gone := func(t load.TieDown, how string) load.TieDown {
		t.State.Gone = how
		return t
	}
	with := func(a load.Article, change func(*load.Article)) load.Article {
		change(&a)
		return a
	}
	strap4 := strap(4*load.Inch, "4", load.Direct)
	for _, c := range []struct {
		name   string
		reply  talk.Reply
		pieces []string
	}{
		{"spare under five percent is only just",
			judged(with(machine("water truck", 26000, ties(1, 4, rated(g70(load.Direct), 9200))), func(a *load.Article) { a.Kind = "truck" })),
			[]string{"ADDS UP, ONLY JUST: 200 lb to spare. Water truck, 26,000 lb.", "Lose any one and it no longer adds up."}},
		{"spare of five percent is not",
			judged(with(machine("water truck", 25140, ties(1, 4, rated(g70(load.Direct), 9200))), func(a *load.Article) { a.Kind = "truck" })),
			[]string{"ADDS UP: 630 lb to spare."}},
		{"nothing to spare is said so",
			judged(with(machine("water truck", 26400, ties(1, 4, rated(g70(load.Direct), 9200))), func(a *load.Article) { a.Kind = "truck" })),
			[]string{"ADDS UP, ONLY JUST: nothing to spare."}},
		{"the binder that limits is named",
			judged(machine("tractor", 26000, ties(1, 4, rated(g70(load.Direct), 5400)))),
			[]string{"SHORT by 2,200 lb.", "The binder is the weakest part: 5,400 each."}},
		{"untold weight says what it is good up to",
			asking(judged(machine("tractor", 0, ties(1, 4, g70(load.Direct)))), rules.AskWeight, ""),
			[]string{"CAN'T CALL IT YET: the weight? Tractor, no weight told.", "What does it weigh", "Good up to 26,400 lb with 6,600 binders,"}},
		{"a ton is judged at both ends",
			asking(judged(with(machine("roller", 0, ties(1, 4, rated(g70(load.Direct), 6600))), func(a *load.Article) {
				a.Weight = load.Weight{Told: 24000 * lb, Low: 24000 * lb, High: 12 * load.Tonne, Ton: true}
				a.Joint.Locked = load.Yes
			})), rules.AskPlate, ""),
			[]string{"CAN'T CALL IT YET: the exact weight? Roller, 24,000 to 26,455 lb.", "needs 12,000 to 13,228, has 13,200", "the plate, 24,000 lb if in short tons, 26,455 if metric"}},
		{"kilograms where the chat speaks them",
			func() talk.Reply { r := modelA(); r.Units = "kg"; return r }(),
			[]string{"ADDS UP: 5,805 kg to spare. Roller, 6,350 kg.", "Needs 3,176. Has 8,981:"}},
		{"a mixed lot names each kind once",
			judged(machine("tractor", 20000, ties(1, 3, rated(g70(load.Direct), 6600)), ties(4, 1, load.TieDown{Material: load.Chain, Size: in38, SizeWord: "3/8", Grade: load.Grade{Reading: load.NoMarks}, Route: load.Direct}))),
			[]string{"3 chains 3/8 g70 direct at half 9,900,", "1 chain 3/8 (no mark) direct at half 1,325."}},
		{"a strap hurt past trade advice counts, and is mended first",
			judged(machine("pickup", 7000, ties(1, 2, at(strap4, "front", "")), ties(3, 1, at(hurt(strap4, load.Damage{Kind: "cut", Size: []load.Length{load.Inch * 5 / 8}}), "rear", "")), ties(4, 1, at(strap4, "rear", "")))),
			[]string{"ADDS UP, BUT MEND IT FIRST: 4,500 lb to spare.", "cut 5/8 in, counted. Put a sound one there before you go.", "past 1/2", "past 3/4"}},
		{"a hurt not measured asks for the measure",
			func() talk.Reply {
				r := asking(judged(machine("pickup", 7000, ties(1, 2, at(strap4, "front", "")), ties(3, 1, at(hurt(strap4, load.Damage{Kind: "cut"}), "rear", "")), ties(4, 1, at(strap4, "rear", "")))), rules.AskDamage, "")
				r.Ask.Subject = "cut size"
				return r
			}(),
			[]string{"cut, not measured, not counted.", "How long are the cuts across the strap in total?"}},
		{"what to put on comes with the larger chain's binder",
			judged(machine("tractor", 60000, ties(1, 4, rated(g70(load.Direct), 6600)))),
			[]string{"SHORT by 16,800 lb.", "Put on 3 more chains 3/8 g70 over, or 6 direct, or 2 chains 7/16 g70 over, with a binder of 8,750 or more."}},
		{"a chain over an untied blade closes both",
			judged(with(machine("dozer", 30000, ties(1, 4, rated(g70(load.Direct), 6600))), func(a *load.Article) {
				a.Parts = []load.Part{{Name: "blade", Down: load.Yes, Tied: load.No}}
			})),
			[]string{"SHORT by 1,800 lb; blade not tied. Dozer, 30,000 lb.", "Put on one 3/8 g70 chain over the blade."}},
		{"nothing holds it",
			judged(with(machine("tractor", 14000), func(a *load.Article) { a.Bare = true })),
			[]string{"SHORT: nothing holds it. Tractor, 14,000 lb.", "Needs 7,000. Nothing holds it."}},
		{"no tie-down told yet",
			asking(judged(machine("tractor", 14000)), rules.AskTies, ""),
			[]string{"CAN'T CALL IT YET: what holds it? Tractor, 14,000 lb.", "What holds it? Text it like: 4x 3/8 g70 direct", "No tie-down told yet."}},
		{"one that came off is told, and why it went is to be looked at",
			judged(machine("tractor", 14000, ties(1, 6, g70(load.Direct)), ties(7, 1, func() load.TieDown {
				t := at(g70(load.Direct), "rear", "right")
				t.State.Gone = "came off"
				return t
			}()))),
			[]string{"ADDS UP: 12,800 lb to spare.", "The rear right chain: came off, not counted.", "why it let go"}},
		{"two that are loose are told of together",
			judged(machine("tractor", 14000, ties(1, 1, loose(at(g70(load.Direct), "front", "left"))), ties(2, 1, loose(at(g70(load.Direct), "rear", "right"))),
				ties(3, 4, g70(load.Direct)))),
			[]string{"The front left and rear right chains: loose, not counted. Tighten each if", "Before you go:", "Needs 7,000"}},
		{"a ring is called a ring",
			judged(machine("tractor", 14000, ties(1, 4, g70(load.Direct)), ties(5, 1, hurt(g70(load.Direct), load.Damage{Kind: "cracked", Part: "anchor"})))),
			[]string{"cracked ring, not counted."}},
		{"a mend that settles what is open is said after the question",
			func() talk.Reply {
				r := modelD()
				over := on(chain(in12, "1/2", "70", load.Over), "bucket")
				r.Report.Articles[0].Mends = []rules.Mend{{Count: 1, Tie: over, Closes: []string{"accessory:bucket", "aggregate"}}}
				return r
			}(),
			[]string{"Bucket: down and tied? YES / NO / DON'T KNOW.", "One 1/2 g70 chain over the bucket settles both.", "Weight: needs 19,000"}},
		{"one that came off is replaced, those loose have another put there",
			judged(machine("tractor", 14000, ties(1, 1, loose(at(g70(load.Direct), "front", "left"))), ties(2, 1, gone(at(g70(load.Direct), "rear", "right"), "came off")),
				ties(3, 1, at(g70(load.Direct), "front", "right")), ties(4, 1, at(g70(load.Direct), "rear", "left")))),
			[]string{"If not, put another there.", "came off, not counted.", "Put on one 3/8 g70 chain direct in place of the one that is off."}},
		{"a loose one at the front leaves the rear to be held",
			judged(machine("tractor", 14000, ties(1, 1, loose(at(g70(load.Direct), "front", "left"))), ties(2, 4, at(g70(load.Direct), "front", "")))),
			[]string{"If not, put another there. Put on one 3/8 g70 chain direct at the rear."}},
		{"a loose one over the top is none of the corners",
			judged(machine("tractor", 14000, ties(1, 1, loose(at(g70(load.Over), "middle", ""))), ties(2, 3, g70(load.Direct)))),
			[]string{"If not, put another there. Put on one 3/8 g70 chain direct on the corner that has none."}},
		{"where the one that lacks goes is not said when it is not known",
			judged(machine("tractor", 14000, ties(1, 3, g70(load.Direct)))),
			[]string{"SHORT: 3 of 4 corners.", "Put on one 3/8 g70 chain direct on the corner that has none."}},
		{"the front is said where it is known to lack them",
			judged(machine("tractor", 14000, ties(1, 4, at(g70(load.Direct), "rear", "")))),
			[]string{"SHORT: no corner held at the front.", "Put on one 3/8 g70 chain direct at the front."}},
		{"a joint told without a lock is locked or chained",
			judged(with(machine("roller", 14000, ties(1, 4, g70(load.Direct))), func(a *load.Article) { a.Joint.Locked = load.No })),
			[]string{"Lock the joint with its bar or pin, or put a chain across it."}},
		{"over mends what the weaker binders lack too",
			judged(machine("tractor", 30000, ties(1, 4, g70(load.Direct)))),
			[]string{"Put on one more 3/8 g70 chain: over gives 6,600, direct 3,300.", "with 5,400 it is short 4,200: put one more over."}},
		{"a hurt within the limits is told",
			judged(machine("pickup", 7000, ties(1, 2, at(strap4, "front", "")), ties(3, 1, at(hurt(strap4, load.Damage{Kind: "cut", Size: []load.Length{load.Inch / 4, load.Inch / 4}}), "rear", "")), ties(4, 1, at(strap4, "rear", "")))),
			[]string{"ADDS UP: 4,500 lb to spare.", "One rear strap: cut 1/4 + 1/4 = 1/2 in, counted.", "past 1/2 in of cut, the published table past 3/4."}},
		{"a link worn within the limit is told",
			judged(machine("tractor", 14000, ties(1, 4, g70(load.Direct)), ties(5, 1, hurt(g70(load.Direct), load.Damage{Kind: "worn", Left: load.Inch * 34 / 100})))),
			[]string{"worn, 0.340 in left, counted. A link is out below 0.325 in, at its thinnest."}},
		{"of mark and grade both are said",
			judged(machine("tractor", 14000, ties(1, 4, func() load.TieDown { t := g70(load.Direct); t.Mark = 10000 * lb; return t }()))),
			[]string{"4 chains 3/8 g70 marked 10,000 direct", "The mark counts. By the table a 3/8 in grade 70 chain is 6,600: read the mark again."}},
		{"of a mark alone the weakest of the weaker binders is said",
			judged(machine("tractor", 14000, ties(1, 4, load.TieDown{Material: load.Chain, Mark: 6600 * lb, Route: load.Direct}))),
			[]string{"Holds with 5,400 binders too."}},
		{"the part that limits some is said of those",
			judged(machine("tractor", 14000, ties(1, 4, rated(g70(load.Direct), 4000)), ties(5, 1, rated(g70(load.Over), 5000)))),
			[]string{"The binder is the weakest part of the 4 direct: 4,000 each.", "The binder is the weakest part of the one over: 5,000 each."}},
		{"weaker binders are said of their sizes",
			judged(machine("tractor", 14000, ties(1, 4, g70(load.Direct)), ties(5, 4, chain(in12, "1/2", "70", load.Direct)))),
			[]string{"Holds with 5,400 on 3/8 in and 9,200 on 1/2 in binders too."}},
		{"one blocked in front says so",
			judged(with(machine("crate", 12000, ties(1, 3, strap(4*load.Inch, "4", load.Over))), func(a *load.Article) { a.Length, a.Blocked = 15*load.Foot, load.Yes })),
			[]string{"Blocked in front, by its length 2, has 3."}},
		{"binders are said as they are stamped, in kilograms too",
			func() talk.Reply { r := modelA(); r.Units = "kg"; return r }(),
			[]string{"Holds with 5,400 lb (2,449 kg) binders too."}},
		{"what is left to ask of a kind too vague is all that is asked",
			func() talk.Reply {
				r := asking(judged(with(machine("machine", 14000, ties(1, 4, g70(load.Direct))), func(a *load.Article) { a.Still = true })), rules.AskKind, "")
				r.Ask.Article = 1
				return r
			}(),
			[]string{"CAN'T CALL IT YET: what it is?", "Machine, 14,000 lb. Does it bend in the middle?"}},
		{"a crate by its length",
			judged(with(machine("crate", 4000, ties(1, 2, strap(2*load.Inch, "2", load.Over))), func(a *load.Article) {
				a.Length, a.Blocked = 10*load.Foot+load.Inch, load.No
			})),
			[]string{"SHORT: 2 of 3 tie-downs for its length. Crate, 4,000 lb.", "Put on one more 2 in strap over.", "By its length 3, has 2."}},
	} {
		t.Run(c.name, func(t *testing.T) { inOrder(t, Text(c.reply), c.pieces...) })
	}
}

func TestText_worstArticleIsFirst(t *testing.T) {
	skid := machine("skid steer", 9000, ties(1, 4, chain(load.Inch*5/16, "5/16", "70", load.Direct)))
	skid.Parts = []load.Part{{Name: "bucket", Down: load.Yes, Tied: load.Yes}}
	car := machine("car", 4000, ties(5, 1, strap(2*load.Inch, "2", load.Direct)))
	car.ID = 2
	inOrder(t, Text(judged(skid, car)),
		"SHORT by 1,000 lb; 1 of 2 at the ends. Car, 4,000 lb. Adds up: skid steer.", "needs 2,000, has 1,000",
		"Skid steer, 9,000 lb, adds up: 4,900 lb to spare.", "Needs 4,500. Has 9,400",
		"Go look: one at each end of the skid steer itself; all tight and sound;", "stamps on binder, hook, ring and ratchet")
}

func TestText_unreadStandsOnTheSecondLineWordForWord(t *testing.T) {
	r := modelA()
	r.Unread = []parser.Span{{Text: "fLorp", At: 3}, {Text: "\x1b[2J{has}\u202e", At: 9}}
	lines := strings.Split(Text(r), "\n")
	if want := `I could not read "fLorp" and " [2J{has} ": not counted.`; lines[1] != want {
		t.Errorf("second line %q, want %q", lines[1], want)
	}
	if !strings.HasPrefix(lines[0], "ADDS UP") {
		t.Errorf("a word that changes nothing changed the verdict: %q", lines[0])
	}
}

func TestText_nothingStandsOnWhatWasNotRead(t *testing.T) {
	r := modelA()
	r.Verdict, r.Grave = "unsettled", true
	r.Unread = []parser.Span{{Text: "minus 14000"}}
	inOrder(t, Text(r), `CAN'T CALL IT YET: "minus 14000"? Roller, 14,000 lb.`, "it may change the answer", "needs 7,000")
	r.Grave, r.Doubt, r.Unread = false, true, nil
	r.Says = []talk.Say{talk.Cannot{Why: "which of several", Words: "the loose one"}}
	inOrder(t, Text(r), "CAN'T CALL IT YET: what you told last?", `More than one fits "the loose one".`)
	for _, never := range []string{"ADDS UP", "adds up", "Look again inside", "Holds with"} {
		if strings.Contains(Text(r), never) {
			t.Errorf("%q in:\n%s", never, Text(r))
		}
	}
}

func TestText_ofSeveralThatAddUpTheFirstLineIsOfAll(t *testing.T) {
	pickup := machine("pickup", 5000, ties(1, 4, strap(2*load.Inch, "2", load.Direct)))
	car := machine("car", 3000, ties(5, 4, strap(2*load.Inch, "2", load.Direct)))
	car.ID = 2
	inOrder(t, Text(judged(pickup, car)), "BOTH ADD UP: 1,500 lb to spare on the pickup, the least.",
		"Pickup, 5,000 lb, adds up: 1,500 lb to spare.", "Car, 3,000 lb, adds up: 2,500 lb to spare.", "one at each end of the pickup and car themselves")
	twin := machine("pickup", 5000, ties(13, 4, strap(2*load.Inch, "2", load.Direct)))
	twin.ID = 4
	inOrder(t, Text(judged(pickup, twin)), "BOTH ADD UP: 1,500 lb to spare on each.")
	other := machine("car", 3500, ties(9, 3, strap(2*load.Inch, "2", load.Direct)))
	other.ID = 3
	inOrder(t, Text(judged(pickup, car, other)), "ALL 3 ADD UP: 1,250 lb to spare on the car of 3,500 lb, the least.")
}

func TestText_whatWasTakenOffDidNotLetGo(t *testing.T) {
	for how, want := range map[string]bool{"taken off": false, "came off": true, "lost": true} {
		off := at(chain(in38, "3/8", "70", load.Direct), "rear", "")
		off.State.Gone = how
		text := Text(judged(machine("tractor", 14000, ties(1, 3, chain(in38, "3/8", "70", load.Direct)), ties(4, 1, off))))
		for _, s := range []string{"let go", "Leave it parked"} {
			if strings.Contains(text, s) != want {
				t.Errorf("%s: says %q: %v\n%s", how, s, !want, text)
			}
		}
	}
}

func TestText_whatWasNotReadIsQuotedOnce(t *testing.T) {
	r := modelA()
	r.Unread = []parser.Span{{Text: "yes"}, {Text: "1"}, {Text: "1"}}
	r.Says = []talk.Say{talk.Cannot{Why: "nothing asked", Words: "yes"}, talk.Cannot{Why: "nothing asked", Words: "yes"}}
	text := Text(r)
	for _, s := range []string{`"yes"`, `"1"`} {
		if n := strings.Count(text, s); n != 1 {
			t.Errorf("%s is quoted %d times:\n%s", s, n, text)
		}
	}
}

func TestText_aTopicBesideALoadIsShort(t *testing.T) {
	r := modelA()
	r.Says = []talk.Say{talk.Plain{Topic: "winch cable"}}
	text := Text(r)
	inOrder(t, text, "stamps on", "The winch cable is none", "own binder or ratchet", "Look again inside")
	if strings.Contains(text, "slack the cable") {
		t.Errorf("all of the topic:\n%s", text)
	}
}

func TestBrief_theFirstThingToDoStaysAndMoreGoesOnFromThere(t *testing.T) {
	fits := func(s string) bool { return len(s) <= 306 }
	loose := at(chain(in38, "3/8", "70", load.Direct), "front", "left")
	loose.State.Tight = load.No
	text, rest := Brief(judged(machine("excavator", 40000, ties(1, 3, chain(in38, "3/8", "70", load.Direct)), ties(4, 1, loose))), fits)
	for _, s := range []string{"The front left chain: loose, not counted. Tighten it if chain, hook and ring are sound.", "a go-ahead."} {
		if !strings.Contains(text, s) || !fits(text) {
			t.Errorf("no %q in %d characters: %s", s, len(text), text)
		}
	}
	if first, _, _ := strings.Cut(rest, "."); rest == "" || strings.Contains(text, first) {
		t.Errorf("MORE begins with %q, which was said: %s", first, text)
	}
}
