package talk

import (
	"slices"
	"strconv"

	"halfweight/parser"
	"halfweight/rules"
	"halfweight/rules/load"
	"halfweight/rules/tables"
)

// describe takes facts of articles: a new load, one more article, or facts of
// one in hand.
func (t *turn) describe(d *parser.Describe) {
	if len(d.Articles) == 0 {
		return
	}
	if t.whichOne(&load.TieDown{}, d) || t.bareSize(d) || t.loneKind(d) || t.placeLines(d) || t.ofKnown(d) {
		return
	}
	t.settled = true
	t.onAskedPart(d)
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

// tell lays an article's facts and tie-downs over the one of that ID.
func (t *turn) tell(id int, a *parser.Article) {
	facts := a.Article
	facts.ID = id
	facts.Ties = t.newTies(a.Ties)
	t.edit(Edit{Article: &facts})
	t.partless(id, &facts)
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
		a.Blocked != load.Untold || a.Still || a.Bare || len(a.Parts) > 0 || a.Joint != (load.Joint{})
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

// loneKind takes a kind of tie-down told alone, with no count, route or place:
// as what was asked or is lacking of those in hand, else as a question.
func (t *turn) loneKind(d *parser.Describe) bool {
	a := &d.Articles[0]
	if len(d.Articles) > 1 || d.Add || named(a) || factual(&a.Article) || len(a.Ties) == 0 {
		return false
	}
	for _, l := range a.Lines {
		if l.Told || !l.Named {
			return false
		}
	}
	for i := range a.Ties {
		x := &a.Ties[i]
		if x.Route != "" || x.Place != (load.Place{}) || wrong(x) && len(x.State.Damage) == 0 {
			return false
		}
	}
	for i := range a.Ties {
		x := a.Ties[i]
		if len(t.load.Articles) > 0 && t.kindInHand(x) {
			continue
		}
		t.answered = true
		t.complete(&x)
		if len(x.State.Damage) > 0 {
			t.say(wear(x))
		} else {
			t.say(rating([]load.TieDown{x}))
		}
	}
	return true
}

// bareSize takes a size told alone, which reads as a chain's, as the answer to
// the question that asks for one: a measure of damage, or a size.
func (t *turn) bareSize(d *parser.Describe) bool {
	q, a := t.s.Asked, &d.Articles[0]
	if q == nil || q.Key != rules.AskDamage && q.Key != rules.AskSize || len(d.Articles) > 1 || d.Add || named(a) || factual(&a.Article) || len(a.Ties) != 1 || len(a.Lines) != 1 {
		return false
	}
	x := &a.Ties[0]
	if a.Lines[0].Told || x.Grade != (load.Grade{}) || x.Size == 0 || x.Mark > 0 || x.Route != "" || x.Place != (load.Place{}) {
		return false
	}
	if q.Key == rules.AskSize {
		t.edit(Edit{IDs: q.IDs, Set: &load.TieDown{Size: x.Size, SizeWord: x.SizeWord}})
		return true
	}
	return t.measured(q, x.Size)
}

// ofKnown takes what is told of tie-downs of an article in hand, by no number,
// as said of those that are on it: "the strap on the pickup is loose".
func (t *turn) ofKnown(d *parser.Describe) bool {
	a := &d.Articles[0]
	if t.inHand() == nil || len(d.Articles) > 1 || d.Add || a.Weight.Known() || len(a.Ties) == 0 {
		return false
	}
	known := t.byNoun(a)
	if named(a) && (known == nil || len(known.Ties) == 0) {
		return false
	}
	for _, l := range a.Lines {
		if l.Told {
			return false
		}
	}
	for i := range a.Ties {
		if x := &a.Ties[i]; !wrong(x) && (known == nil || x.Route != "" || x.Place != (load.Place{})) {
			return false
		}
	}
	if known != nil {
		t.hand = known.ID
	}
	if factual(&a.Article) {
		rest := parser.Article{Article: a.Article}
		rest.Ties = nil
		t.tell(t.inHand().ID, &rest)
	}
	for i := range a.Ties {
		t.ofThose(a.Kind, a.Ties[i])
	}
	return true
}

// ofThose does to the tie-downs of one kind what was told of x, or only notes
// that they were spoken of.
func (t *turn) ofThose(kind string, x load.TieDown) {
	c := parser.Change{Ref: parser.Ref{Kind: kind}}
	if x.Plural {
		c.Ref.Which = parser.All
	}
	c.Edit = parser.Edit{Loose: x.State.Tight == load.No, Damage: x.State.Damage, Gone: x.State.Gone}
	if x.Tensioner.Has == load.No {
		c.Edit.Set.Tensioner.Has, x.Tensioner.Has = load.No, load.Untold
	}
	x.State, x.Plural, x.Line = load.State{}, false, 0
	c.Ref.Like = x
	if !blank(&c.Edit) {
		t.change(&c)
		return
	}
	if p, why := t.pick(&c.Ref, &c.Edit); why == "" || len(p.open) > 0 {
		t.spoken = append(ids(p.ties), p.open...)
	}
}

// kindInHand lays a kind told alone over the tie-downs in hand that lack it. A
// hurt told with it is told of one of that kind.
func (t *turn) kindInHand(x load.TieDown) bool {
	if hurts := x.State.Damage; len(hurts) > 0 {
		x.State, x.Plural = load.State{}, false
		t.change(&parser.Change{Ref: parser.Ref{Like: x}, Edit: parser.Edit{Damage: hurts}})
		return true
	}
	x.Plural = false
	for _, y := range t.pool(&parser.Ref{}, &parser.Edit{}) {
		if takes(y, &x) && lacks(y, &x) {
			t.change(&parser.Change{Ref: parser.Ref{Lacks: true}, Edit: parser.Edit{Set: x}})
			return true
		}
	}
	return false
}

// onAskedPart puts the one tie-down described in answer to "what chain is on
// the bucket" there.
func (t *turn) onAskedPart(d *parser.Describe) {
	q, a := t.s.Asked, &d.Articles[0]
	if q != nil && q.Key == rules.AskChain && len(d.Articles) == 1 && !d.Add && !named(a) && len(a.Ties) == 1 && a.Ties[0].Place == (load.Place{}) {
		tie := a.Ties[0]
		tie.Place.On = q.Part
		d.Articles = []parser.Article{*a}
		d.Articles[0].Ties = []load.TieDown{tie}
	}
}

// placeLines takes "two at the front, two at the rear", told with no material
// and no article, as the places of pieces in hand that lack them.
func (t *turn) placeLines(d *parser.Describe) bool {
	a := &d.Articles[0]
	if t.inHand() == nil || len(d.Articles) > 1 || d.Add || named(a) || factual(&a.Article) || len(a.Lines) == 0 || a.Replace {
		return false
	}
	used := map[int]bool{}
	var edits []Edit
	for i := range a.Ties {
		x := &a.Ties[i]
		if x.Material != "" || x.Size != 0 || x.Place == (load.Place{}) && x.Route == "" {
			return false
		}
		piece := t.lacksPlace(x, used)
		if piece == nil {
			return false
		}
		used[piece.ID] = true
		facts := load.TieDown{Route: x.Route, Place: x.Place, State: x.State}
		if n := len(edits); n > 0 && twin(edits[n-1].Set, &facts) {
			edits[n-1].IDs = append(edits[n-1].IDs, piece.ID)
			continue
		}
		edits = append(edits, Edit{IDs: []int{piece.ID}, Set: &facts})
	}
	t.settled = true
	for _, e := range edits {
		t.edit(e)
	}
	return true
}

// lacksPlace is a piece in hand that x may tell of: one told to be there, else
// one that lacks the place or route of x and has nothing told against it. Of
// equals it is the one told last.
func (t *turn) lacksPlace(x *load.TieDown, used map[int]bool) (piece *load.TieDown) {
	hand := t.inHand()
	for i := len(hand.Ties) - 1; i >= 0; i-- {
		h := &hand.Ties[i]
		if used[h.ID] || h.State.Gone != "" || !same(h.Route, x.Route) {
			continue
		}
		if x.Place != (load.Place{}) && nearness(h, x.Place) == there {
			return h
		}
		unplaced := h.Place.On == "" && h.Place.End == "" && h.Place.Side == ""
		if piece == nil && (x.Place != (load.Place{}) && unplaced || x.Place == (load.Place{}) && h.Route == "") {
			piece = h
		}
	}
	return piece
}

// strike takes away what told tie-downs put right ("make that 5 3/8 g70"): those
// of the same kind told last, or else the clause told last.
func (t *turn) strike(id int, told []load.TieDown) {
	a := articleIn(&t.load, id)
	var fit []*load.TieDown
	for i := range a.Ties {
		x := &a.Ties[i]
		if len(told) > 0 && x.State.Gone == "" && sameSize(x, &told[0]) && same(x.Material, told[0].Material) &&
			same(x.Grade, told[0].Grade) && same(x.Route, told[0].Route) && same(x.Place, told[0].Place) {
			fit = append(fit, x)
		}
	}
	if len(fit) == 0 {
		fit = t.among(t.pool(&parser.Ref{}, &parser.Edit{}), t.spoken)
	}
	if len(fit) > 0 {
		t.edit(Edit{IDs: ids(lastOf(fit, 0)), Do: Strike})
	}
}

// complete fills in from the chat's gear what was not told of a tie-down: a size
// and grade where one kind fits, the weakest where several do; a binder or a
// mark where exactly one does. A grade told with a doubt stays in doubt.
func (t *turn) complete(x *load.TieDown) {
	var fit []*load.TieDown
	for i := range t.s.Gear {
		if g := &t.s.Gear[i]; g.Count > 0 && owned(&g.Tie, x) {
			fit = append(fit, &g.Tie)
		}
	}
	if len(fit) == 0 {
		return
	}
	g := fit[0]
	if len(fit) > 1 {
		if described(x) {
			return
		}
		g = strongest(fit)[len(fit)-1]
	}
	before := *x
	put(&x.Material, g.Material)
	if x.Size == 0 {
		x.Size, x.SizeWord = g.Size, g.SizeWord
	}
	if x.Grade == (load.Grade{}) {
		x.Grade = g.Grade
	}
	if x.Make == "" {
		x.Make = g.Make
	}
	if x.Thick == 0 {
		x.Thick = g.Thick
	}
	if x.Mark == 0 {
		x.Mark = g.Mark
	}
	if x.Hook == 0 {
		x.Hook = g.Hook
	}
	if n := &x.Tensioner; n.Has != load.No && n.Rating == 0 && n.Label == "" && same(n.Kind, g.Tensioner.Kind) {
		*n = g.Tensioner
	}
	x.FromGear = !twin(x, &before)
}

// owned says whether a kind of gear may be the tie-down told.
func owned(g, x *load.TieDown) bool {
	return same(g.Material, x.Material) && sameSize(g, x) && (x.Grade == load.Grade{} || g.Grade == x.Grade) &&
		same(g.Make, x.Make) && same(g.Mark, x.Mark) && same(g.Tensioner.Rating, x.Tensioner.Rating) && same(g.Hook, x.Hook)
}

// described says whether enough was told of a tie-down to rate it.
func described(x *load.TieDown) bool {
	switch x.Material {
	case load.Chain:
		return x.Mark > 0 || x.Size > 0 && x.Grade != (load.Grade{})
	case load.Cordage:
		return x.Mark > 0 || x.Size > 0 && x.Make != ""
	}
	return x.Material != "" && (x.Mark > 0 || x.Size > 0)
}

// assumed is what was taken for granted in reading the load: the unit of its
// weights, and more of a kind than the gear holds.
func (t *turn) assumed() []Assumed {
	var list []Assumed
	for i := range t.load.Articles {
		a := &t.load.Articles[i]
		if a.Weight.Bare {
			list = append(list, Assumed{Code: "pounds", Mass: a.Weight.Told})
		}
	}
	for i := range t.s.Gear {
		g := &t.s.Gear[i]
		var used []int
		for _, x := range t.pool(&parser.Ref{}, &parser.Edit{}) {
			if sameKind(x, &g.Tie) {
				used = append(used, x.ID)
			}
		}
		if len(used) > g.Count {
			list = append(list, Assumed{Code: "fewer-in-gear", IDs: used, Tie: &g.Tie, Count: g.Count})
		}
	}
	return list
}

// sameKind says whether two tie-downs are of one kind as the gear lists them.
func sameKind(a, b *load.TieDown) bool {
	return a.Material == b.Material && tables.Nominal(a.Size, a.Material) == tables.Nominal(b.Size, b.Material) &&
		a.Grade == b.Grade && a.Make == b.Make
}
