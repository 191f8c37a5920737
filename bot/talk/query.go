package talk

import (
	"slices"
	"strings"

	"halfweight/parser"
	"halfweight/rules"
	"halfweight/rules/load"
)

// ask answers a question. Nothing in it changes the load.
func (t *turn) ask(q *parser.Ask, report *rules.Report) {
	if q.Plan != nil {
		t.plan(q)
		return
	}
	t.inUnits(&q.Weight)
	if len(q.Near) > 0 && len(t.load.Articles) == 0 {
		t.say(Plain{Topic: "unknown", Near: q.Near})
		return
	}
	switch q.Topic {
	case "how many":
		t.howMany(q)
	case "compare":
		if len(q.Ties) < 2 {
			t.rate(q)
			return
		}
		a, b := q.Ties[0], q.Ties[1]
		t.say(Compare{A: a, B: b})
	case "what is", "good for":
		t.rate(q)
	case "wear":
		if len(q.Ties) == 0 {
			t.cannot("how many of what")
			return
		}
		for _, x := range q.Ties {
			t.complete(&x)
			t.say(wear(x, t.s.law()))
		}
	case "what if":
		t.whatIf(q)
	case "need", "why":
		if q.Topic == "why" && t.held != nil && aboutOf(q.Words) == "" {
			t.hold(t.held, true)
			return
		}
		t.onLoad(q, report)
	case "when":
		t.say(t.when())
	case "hold":
		t.hold(&q.Hold, false)
	default:
		if _, hurt := lastSaid(t.r.Says).(Wear); hurt && q.Topic == "unknown" {
			return // "my strap is cut can i still use it"
		}
		t.say(Plain{Topic: q.Topic, Near: q.Near})
	}
}

func lastSaid(says []Say) Say {
	if len(says) == 0 {
		return nil
	}
	return says[len(says)-1]
}

// rate says what the tie-downs asked about count for.
func (t *turn) rate(q *parser.Ask) {
	if len(q.Ties) == 0 {
		t.cannot("how many of what")
		return
	}
	ties := pieces(q)
	sized := false
	for i := range ties {
		t.complete(&ties[i])
		sized = sized || ties[i].Size > 0 || ties[i].Mark > 0
	}
	if !sized {
		t.cannot("how many of what")
		return
	}
	t.say(t.rating(ties))
}

// pieces are the tie-downs asked about, as many of each as were told.
func pieces(q *parser.Ask) []load.TieDown {
	var list []load.TieDown
	for i := range q.Ties {
		for range max(1, countOf(q.Lines, i)) {
			list = append(list, q.Ties[i])
		}
	}
	return list
}

// rating judges tie-downs as those of an article of untold kind and weight.
func (t *turn) rating(ties []load.TieDown) Rating { return rating(ties, t.s.law()) }

func rating(ties []load.TieDown, law rules.Set) Rating {
	report := rules.Evaluate(load.Load{Articles: []load.Article{{Ties: ties}}}, law)
	return Rating{Count: &report.Articles[0]}
}

// wear says how a tie-down with the damage told is taken.
func wear(x load.TieDown, law rules.Set) Wear {
	if x.Material == "" && len(x.State.Damage) > 0 {
		if x.Material = hurtOf(&x.State.Damage[0]); x.Grade != (load.Grade{}) {
			x.Material = load.Chain // only chain has a grade
		}
	}
	r := rating([]load.TieDown{x}, law)
	w := Wear{Tie: x}
	if len(r.Count.SetAside) > 0 {
		w.Aside = &r.Count.SetAside[0]
	}
	return w
}

// hurtOf is the material of a tie-down that a hurt tells of, where nothing else
// does.
func hurtOf(d *load.Damage) load.Material {
	switch d.Part {
	case "ratchet", "webbing":
		return load.Webbing
	case "chain", "hook", "binder":
		return load.Chain
	}
	switch d.Kind {
	case "stitching":
		return load.Webbing
	case "wires", "strand", "birdcaged", "popped core":
		return load.WireRope
	}
	return ""
}

// howMany counts how many of a kind a weight takes: the kind asked about, else
// the one in use; the weight asked about, else that of the load in hand.
func (t *turn) howMany(q *parser.Ask) {
	art := q.Article
	if q.Weight.Known() {
		art.Weight = q.Weight
	}
	t.inUnits(&art.Weight)
	hand := t.inHand()
	if !art.Weight.Known() && hand != nil {
		art.Weight = hand.Weight
	}
	tie, ok := t.kindAsked(q, hand)
	if q.Article.Kind != "" && !art.Weight.Known() {
		if q.Topic = "need"; len(q.Lines) > 0 && !q.Lines[0].Told {
			q.Lines, q.Ties = nil, nil // "how many straps for a pickup"
		}
		t.onLoad(q, nil)
		return
	}
	if !ok || !art.Weight.Known() {
		t.cannot("how many of what")
		return
	}
	art.Ties = nil
	if art.Kind == "container" {
		art.Cargo.Locked = load.No // asked of tie-downs, it is not held by locks
	}
	count := rules.Evaluate(load.Load{Articles: []load.Article{art}}, t.set).Articles[0]
	h := HowMany{Kind: art.Kind, Tie: tie, Weight: art.Weight, Need: count.NeedHigh}
	for _, l := range q.Lines {
		if l.Told {
			h.Have += l.Count
		}
	}
	lim := t.set.Limits()
	direct, over := tie, tie
	direct.Route, over.Route = load.Direct, load.Over
	d, o := rules.Credit(&direct, lim), rules.Credit(&over, lim)
	h.WLL = d.WLL
	h.Direct, h.Over = takesSoMany(h.Need, d.Low), takesSoMany(h.Need, o.Low)
	if d.Weaker < d.Low {
		h.WeakDirect, h.WeakOver = takesSoMany(h.Need, d.Weaker), takesSoMany(h.Need, o.Weaker)
	}
	r := t.rating([]load.TieDown{tie})
	if len(r.Count.Lines) > 0 {
		h.Rating = &r.Count.Lines[0]
	}
	t.say(h)
}

// kindAsked is the kind of tie-down a question is about.
func (t *turn) kindAsked(q *parser.Ask, hand *load.Article) (load.TieDown, bool) {
	if len(q.Ties) > 0 {
		x := q.Ties[0]
		t.complete(&x)
		return x, true
	}
	if hand == nil || len(hand.Ties) == 0 {
		return load.TieDown{}, false
	}
	x := hand.Ties[0]
	for i := range hand.Ties {
		if !sameKind(&hand.Ties[i], &x) {
			return load.TieDown{}, false
		}
	}
	x.Route, x.Place, x.State = "", load.Place{}, load.State{}
	return x, true
}

// takesSoMany is how many times credit makes up need; 0 where credit is none.
func takesSoMany(need, credit load.Mass) int {
	if credit == 0 {
		return 0
	}
	return int((need + credit - 1) / credit)
}

// whatIf judges a change that is not kept.
func (t *turn) whatIf(q *parser.Ask) {
	if len(t.load.Articles) == 0 {
		if q.Else != "" {
			t.say(Plain{Topic: q.Else})
			return
		}
		t.cannot("no load")
		return
	}
	trial := turn{s: t.s, set: t.set, now: t.now, msg: &parser.Message{Text: t.msg.Text}, load: clone(t.load), spoken: t.spoken, hand: t.hand}
	trial.r.Text = t.r.Text
	trial.s.Asked, trial.s.Which = nil, nil
	if q.Change != nil {
		c := *q.Change
		trial.change(&c)
	}
	art := parser.Article{Article: q.Article, Lines: q.Lines}
	art.Ties = pieces(q)
	if factual(&art.Article) || len(art.Ties) > 0 {
		art.Name, art.Kind = "", ""
		trial.describe(&parser.Describe{Add: true, Articles: []parser.Article{art}})
	}
	for _, s := range trial.r.Says {
		if c, cannot := s.(Cannot); cannot {
			t.say(c)
		}
	}
	if len(trial.edits) > 0 {
		report := Judge(trial.load, t.set, t.spare(&trial.load)...)
		t.say(WhatIf{Report: &report})
	} else if !slices.ContainsFunc(trial.r.Says, func(s Say) bool { _, cannot := s.(Cannot); return cannot }) {
		t.cannot("no such tie-down")
	}
}

// onLoad answers what is still needed, or why, of the load in hand or of an
// article told in the question.
func (t *turn) onLoad(q *parser.Ask, report *rules.Report) {
	if q.Topic == "need" && (q.Article.Kind != "" || q.Article.Weight.Known() || q.Weight.Known()) {
		art := q.Article
		if q.Weight.Known() {
			art.Weight = q.Weight
		}
		t.inUnits(&art.Weight)
		art.Ties = pieces(q)
		asked := Judge(load.Load{Articles: []load.Article{art}}, t.set)
		t.say(Need{Report: &asked})
		return
	}
	switch {
	case len(t.load.Articles) == 0:
		t.cannot("no load")
	case q.Topic == "need":
		t.say(Need{Report: report})
	default:
		t.say(Why{Report: report, About: aboutOf(q.Words)})
	}
}

// aboutOf is the one thing a "why" asks about: its last word, where it has more
// than one.
func aboutOf(words string) string {
	w := strings.Fields(words)
	if len(w) < 2 {
		return ""
	}
	return strings.Trim(w[len(w)-1], "?!.,")
}
