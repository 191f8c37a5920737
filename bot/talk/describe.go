package talk

import (
	"slices"
	"strconv"

	"halfweight/parser"
	"halfweight/rules/load"
	"halfweight/rules/tables"
)

// describe takes facts of articles: a new load, one more article, or facts of
// one in hand.
func (t *turn) describe(d *parser.Describe) {
	if len(d.Articles) == 0 {
		return
	}
	if t.whichOne(&load.TieDown{}, d) || t.loneMark(d) || t.bareSize(d) || t.holdsThat(d) || t.loneKind(d) || t.loneRoute(d) || t.placeLines(d) || t.ofKnown(d) || t.maybeStamp(d) {
		return
	}
	t.settled, t.added = !d.Add || !t.s.OpenOf, d.Add
	t.onAskedPart(d)
	t.likeLast(d)
	for i := range d.Articles {
		a := d.Articles[i]
		t.machine(&a)
		t.inUnits(&a.Weight)
		id, replaces := t.target(d, i, &a)
		if replaces {
			if thin := !a.Weight.Known() || len(a.Ties) == 0; thin || !named(&a) {
				t.say(Done{What: "replaced"}) // it may not have been meant so
			}
			t.clear()
		}
		if id == 0 {
			id = t.newID()
			t.s.Asked, t.s.Which = nil, nil
		}
		if a.Replace {
			t.strike(id, a.Ties)
		}
		t.tell(id, &a)
	}
}

// maybeStamp holds back a bare figure told loosely ("they say 6600") right after a
// stamp was: far below the weight in hand, it may be the stamp put right.
func (t *turn) maybeStamp(d *parser.Describe) bool {
	hand := t.inHand()
	if hand == nil || d.Add || len(d.Articles) != 1 || len(t.s.Turns) == 0 {
		return false
	}
	a, w := &d.Articles[0], d.Articles[0].Weight
	if named(a) || len(a.Ties) > 0 || !w.Known() || !w.Bare || w.Low == w.High || !hand.Weight.Known() || 2*w.High > hand.Weight.Low {
		return false
	}
	stamped := slices.ContainsFunc(t.s.Turns[len(t.s.Turns)-1].Edits, func(e Edit) bool {
		_, ok := rated(e.Set, w.Told)
		return ok
	})
	if stamped {
		t.touched, t.r.Doubt = true, true
		t.cannot("which figure")
	}
	return stamped
}

// likeLast gives tie-downs added with no kind told ("add another over") the kind
// of the one told last.
func (t *turn) likeLast(d *parser.Describe) {
	hand := t.inHand()
	if !d.Add || hand == nil || len(hand.Ties) == 0 || len(d.Articles) != 1 || named(&d.Articles[0]) {
		return
	}
	last := hand.Ties[len(hand.Ties)-1]
	a := d.Articles[0]
	a.Ties = slices.Clone(a.Ties)
	for i := range a.Ties {
		x := &a.Ties[i]
		if x.Material != "" || x.Size != 0 || x.Mark != 0 || x.Grade.Reading != load.NotRead {
			return
		}
		x.Material, x.Size, x.SizeWord, x.Grade, x.Make, x.Thick, x.Mark = last.Material, last.Size, last.SizeWord, last.Grade, last.Make, last.Thick, last.Marked()
	}
	d.Articles = []parser.Article{a}
}

// tell lays an article's facts and tie-downs over the one of that ID.
func (t *turn) tell(id int, a *parser.Article) {
	facts := a.Article
	facts.ID = id
	facts.Ties = t.newTies(t.moved(a.Ties, t.added))
	t.edit(Edit{Article: &facts})
	t.partless(id, &facts)
	t.doubtsHeld(id, &facts)
}

// doubtsHeld leaves the load open where a part that a tie-down is told on is
// spoken of with a doubt: "blade maybe chained".
func (t *turn) doubtsHeld(id int, told *load.Article) {
	for _, p := range told.Parts {
		if p.Doubtful && slices.ContainsFunc(articleIn(&t.load, id).Ties, func(x load.TieDown) bool { return x.Place.On == p.Name }) {
			t.r.Doubt = true
		}
	}
}

// partless says so where something loose is told of a part or a joint, and the
// article is of a kind that has none: no rule would judge it.
func (t *turn) partless(id int, told *load.Article) {
	if m, ok := tables.Kind(articleIn(&t.load, id).Kind); !ok || m.Class != tables.ClassCargo {
		return
	}
	loose := told.Joint.Locked == load.No || told.Articulated == load.Yes
	for i := range told.Parts {
		p := &told.Parts[i]
		loose = loose || p.Loose || p.Hydraulics || p.Unlocked || p.Tied == load.No || p.Down == load.No
	}
	if loose {
		t.cannot("no such part")
		t.r.Doubt = true
	}
}

// clear puts the load away. It is always the first edit of its turn: what the
// message told before it is put away too.
func (t *turn) clear() {
	t.edits = t.edits[:0]
	t.edit(Edit{Clear: true})
	t.spoken, t.hand = nil, 0
	t.s.Asked, t.s.Which, t.s.Tries = nil, nil, nil
}

// newTies gives tie-downs their IDs and lines, the trailer's rings and what the
// gear tells of them.
func (t *turn) newTies(told []load.TieDown) []load.TieDown {
	if len(told) == 0 {
		return nil
	}
	line := 0
	for i := range t.load.Articles {
		for j := range t.load.Articles[i].Ties {
			line = max(line, t.load.Articles[i].Ties[j].Line)
		}
	}
	ties := make([]load.TieDown, len(told))
	for i := range told {
		x := told[i]
		t.complete(&x)
		if x.Anchor == 0 {
			x.Anchor = t.s.Ring
		}
		if x.State.Tight == load.No {
			x.State.Slipped++
		}
		x.ID, x.Line = t.newID(), line+1+told[i].Line
		ties[i] = x
	}
	return ties
}

// named says whether an article was told by a noun or by its name.
func named(a *parser.Article) bool { return a.Kind != "" || a.Name != "" || a.Machine != "" }

// factual says whether anything but tie-downs was told of an article.
func factual(a *load.Article) bool {
	return a.Weight.Known() || a.Length > 0 || a.Articulated != load.Untold || a.OnWheels != load.Untold ||
		a.Blocked != load.Untold || a.Still || a.Bare || len(a.Parts) > 0 || a.Joint != (load.Joint{}) || a.Cargo != (load.Cargo{})
}

// target is the article that told facts belong to: the ID of one in hand, or 0
// for a new one, which replaces the load or joins it.
//
// Decisions where several readings are possible: a noun of an article in hand
// told with neither a weight nor tie-downs speaks of that one. Tie-downs told
// first, then the article they hold, are one load, and so are "a machine" and
// then which machine. A weight and tie-downs told without a noun are a load of
// their own where the one in hand has both: added up, the two would count for
// more than is on the trailer.
func (t *turn) target(d *parser.Describe, i int, a *parser.Article) (id int, replaces bool) {
	hand := t.inHand()
	if hand == nil {
		return 0, false
	}
	weighed, tied := a.Weight.Known(), len(a.Ties) > 0
	if !named(a) {
		if !d.Add && i == 0 && weighed && tied && hand.Weight.Known() && len(hand.Ties) > 0 {
			return 0, true
		}
		return hand.ID, false
	}
	known := t.byNoun(a)
	nameless := len(t.load.Articles) == 1 && (hand.Kind == "" && hand.Name == "" || vague(hand.Kind) && !vague(a.Kind))
	switch {
	case i > 0 && !d.Definite:
		return 0, false
	case d.Add && d.Definite && known != nil:
		return known.ID, false
	case d.Add:
		return 0, false
	case t.asksWhat(a) && !weighed && !tied:
		return t.s.Asked.Article, false
	case known != nil && d.Definite && (!tied || len(known.Ties) == 0):
		return known.ID, false
	case known != nil && !weighed && !tied:
		return known.ID, false
	case nameless && !(weighed && hand.Weight.Known()) && !(tied && len(hand.Ties) > 0):
		return hand.ID, false
	case i > 0:
		return 0, false
	}
	return 0, true
}

// vague says whether a kind tells nothing of what the article is.
func vague(kind string) bool {
	m, ok := tables.Kind(kind)
	return ok && m.Class == tables.ClassVague
}

// asksWhat says whether the open question is what the article in hand is.
func (t *turn) asksWhat(a *parser.Article) bool {
	q := t.s.Asked
	return q != nil && (q.Key == "kind" || q.Key == "wheels") && a.Machine == "" &&
		slices.ContainsFunc(t.load.Articles, func(x load.Article) bool { return x.ID == q.Article })
}

// byNoun is the article in hand that a noun speaks of; nil where none or several
// are.
func (t *turn) byNoun(a *parser.Article) *load.Article {
	var found *load.Article
	for i := range t.load.Articles {
		x := &t.load.Articles[i]
		if a.Kind != "" && x.Kind == a.Kind || a.Name != "" && x.Name == a.Name || a.Machine != "" && x.Name == a.Name {
			if found != nil {
				return nil
			}
			found = x
		}
	}
	return found
}

// leastWeight is the least bare figure, in pounds, that is taken for a weight.
const leastWeight = 1000

// machine completes an article told by its name in this chat. A number that is
// no name and high enough is a weight; any other name not known is said.
func (t *turn) machine(a *parser.Article) {
	if a.Machine == "" {
		return
	}
	i := slices.IndexFunc(t.s.Machines, func(m Machine) bool { return m.Name == a.Machine })
	if i >= 0 {
		m := clone(load.Load{Articles: []load.Article{t.s.Machines[i].Article}}).Articles[0]
		told := a.Article
		told.Kind, told.Name, told.FromGear = "", "", false
		lay(&m, &told)
		m.FromGear = !told.Weight.Known()
		a.Article = m
		return
	}
	if n, err := strconv.Atoi(a.Machine); err == nil && n >= leastWeight && !a.Weight.Known() {
		a.Weight = load.Exact(load.Mass(n)*load.Pound, false)
		a.Weight.Bare = true
		return
	}
	if a.Kind == "" {
		a.Kind = "machine"
	}
	t.say(Cannot{Why: "no such machine", Words: a.Machine})
}

// inUnits takes a weight told without a unit in the chat's.
func (t *turn) inUnits(w *load.Weight) {
	if !w.Bare || t.s.Units != "kg" {
		return
	}
	w.Told, w.Low, w.High = kilograms(w.Told), kilograms(w.Low), kilograms(w.High)
	w.Bare, w.Metric = false, true
}

// kilograms is as many kilograms as m is pounds.
func kilograms(m load.Mass) load.Mass {
	return m/load.Pound*load.Kilogram + m%load.Pound*load.Kilogram/load.Pound
}
