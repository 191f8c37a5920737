package talk

import (
	"halfweight/parser"
	"halfweight/rules"
	"halfweight/rules/load"
)

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
			t.say(wear(x, t.s.law()))
		} else {
			t.say(t.rating([]load.TieDown{x}))
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
		t.them = c.Ref.Which == parser.All
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

// holdsThat takes the article named in answer to "which of the two does it
// hold": the tie-down is that one's alone.
func (t *turn) holdsThat(d *parser.Describe) bool {
	q, a := t.s.Asked, &d.Articles[0]
	if q == nil || q.Key != rules.AskShared || len(d.Articles) > 1 || d.Add || factual(&a.Article) || len(a.Ties) > 0 {
		return false
	}
	known := t.byNoun(a)
	if known == nil {
		return false
	}
	holds := load.Article{ID: known.ID}
	for _, x := range t.among(t.pool(&parser.Ref{}, &parser.Edit{}), q.IDs) {
		alone := *x
		alone.Shared = false
		holds.Ties = append(holds.Ties, alone)
	}
	t.edit(Edit{IDs: q.IDs, Do: Strike})
	t.edit(Edit{Article: &holds})
	return true
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

// loneRoute takes a kind told with a way to run and no number, "3/8 g70 direct", for
// how those of it run of which that was not told: it adds none.
func (t *turn) loneRoute(d *parser.Describe) bool {
	a := &d.Articles[0]
	if len(d.Articles) > 1 || d.Add || named(a) || factual(&a.Article) || len(a.Ties) != 1 || len(a.Lines) != 1 || a.Lines[0].Told || !a.Lines[0].Named {
		return false
	}
	x := &a.Ties[0]
	if x.Route == "" || x.Route == load.Over || x.Place != (load.Place{}) || x.Plural || wrong(x) { // over would lift them
		return false
	}
	var list []int
	for i := range t.load.Articles {
		for _, y := range t.load.Articles[i].Ties {
			if y.Route == "" && y.State.Gone == "" && sameKind(&y, x) {
				list = append(list, y.ID)
			}
		}
	}
	if len(list) == 0 {
		return false
	}
	t.settled = true
	t.edit(Edit{IDs: list, Set: &load.TieDown{Route: x.Route}})
	return true
}
