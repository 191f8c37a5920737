package talk

import (
	"slices"

	"halfweight/parser"
	"halfweight/rules/load"
)

// change changes tie-downs told before: all of it or, with the reason said,
// nothing. Where it is not known which one was meant, harm is done to the
// strongest meanwhile.
func (t *turn) change(c *parser.Change) {
	if len(c.Edit.Damage) == 1 && c.Edit.Damage[0].Kind == "measure" {
		t.onlyMeasure(c.Edit.Damage[0])
		return
	}
	if t.swapPiece(c) || t.changePiece(c) {
		return
	}
	if len(t.load.Articles) == 0 {
		t.changeNothing(c)
		return
	}
	if c.Ref.Lacks && t.whichOne(&c.Edit.Set, nil) {
		return
	}
	if c.Edit.Unmarked != "" {
		t.touched, t.r.Doubt = true, true
		t.say(Cannot{Why: "part unmarked", Words: c.Edit.Unmarked})
		return
	}
	if blank(&c.Edit) {
		if !t.whichOne(&c.Ref.Like, nil) {
			t.answered = true
			t.cannot("nothing asked")
		}
		return
	}
	t.touched = true
	if t.deniedGrade(c) {
		t.r.Doubt = true
		t.cannot("two ways")
		return
	}
	if c.Ref.Lacks && c.Edit.Set.Route == load.Over && t.r.Grave {
		t.r.Doubt = true // what was not read may say of which: none counts more by it
		return
	}
	t.askAgain(c.Edit.Damage)
	if t.onPart(c) || t.tightenPart(c) {
		return
	}
	pick := t.pick
	if c.Ref.Lacks {
		pick = t.pickLacking
	}
	p, why := pick(&c.Ref, &c.Edit)
	edits := editsOf(&c.Edit)
	if why == whichOne && len(edits) > 0 && c.Edit.Count == 0 {
		t.askWhich(p.open, Which{Edits: edits})
	}
	if why == nothingToDo && t.mendUnmarked(c) {
		return
	}
	if why != "" {
		t.cannot(why)
		t.r.Doubt = t.r.Doubt || senseOf(&c.Edit) != mends || c.Edit.Replaced && !bare(&c.Edit.Set) // by what may be weaker
		return
	}
	if t.onlySome(c) {
		return
	}
	t.settled = true
	if w := t.s.Which; w != nil && !bare(&c.Ref.Like) && len(p.open) == 0 && slices.Contains(ids(p.ties), w.ID) {
		t.s.Which = nil // it was that one, told by name
	}
	if c.Edit.Count > 0 {
		t.recount(p.ties, c.Edit.Count)
		return
	}
	if len(p.open) > 0 && len(p.ties) == 1 {
		t.askWhich(p.open, Which{ID: p.ties[0].ID, Was: *p.ties[0], Edits: edits})
	}
	t.move(p)
	for _, e := range edits {
		e.IDs = ids(p.ties)
		t.edit(e)
	}
}

// deniedGrade says whether a change tells the grade of the chains of which the same
// message tells that they bear no marks ("the sub says grade 70 but no marks on
// them"): the links count, not what is said of them.
func (t *turn) deniedGrade(c *parser.Change) bool {
	ofAll := func(c *parser.Change) bool {
		return (c.Ref.Which == parser.It || c.Ref.Which == parser.All) && bare(&c.Ref.Like)
	}
	return c.Edit.Set.Grade.Reading == load.Read && ofAll(c) && slices.ContainsFunc(t.msg.Acts, func(act parser.Act) bool {
		o, ok := act.(parser.Change)
		return ok && o.Edit.Set.Grade.Reading == load.NoMarks && ofAll(&o)
	})
}

// onlySome holds the load open where fewer than all were told tight or sound,
// "three of them are tight": what of the rest is not told.
func (t *turn) onlySome(c *parser.Change) bool {
	edits := editsOf(&c.Edit)
	good := len(edits) == 1 && (c.Edit.Set.State.Tight == load.Yes || c.Edit.Set.State.Sound == load.Yes)
	n := 0
	for i := range t.load.Articles {
		for _, x := range t.load.Articles[i].Ties {
			if x.State.Gone == "" && x.State.Tight != load.No {
				n++
			}
		}
	}
	if !good || c.Ref.Which != parser.Some || !bare(&c.Ref.Like) || c.Ref.Count == 0 || c.Ref.Count >= n {
		return false
	}
	t.r.Doubt = true
	t.cannot(whichOne)
	return true
}

// changeNothing answers a change while no load is in hand: wear told of a kind
// of tie-down is a question, anything else needs a load.
func (t *turn) changeNothing(c *parser.Change) {
	like := c.Ref.Like
	mended := func(act parser.Act) bool { c, ok := act.(parser.Change); return ok && c.Edit.Replaced }
	if len(c.Edit.Damage) > 0 && slices.ContainsFunc(t.msg.Acts, mended) {
		return // "the cracked chain is replaced"
	}
	if len(c.Edit.Damage) > 0 && (like.Material != "" || like.Size > 0 || c.Edit.Damage[0].Part != "") {
		set(&like, &c.Edit.Set)
		like.State.Damage = c.Edit.Damage
		t.complete(&like)
		t.answered = true
		t.say(wear(like, t.s.law()))
		return
	}
	if t.mendUnmarked(c) {
		return
	}
	if len(c.Edit.Damage) > 0 && bare(&like) && t.answered {
		t.hurtToo(c.Edit.Damage)
		return // "stitching coming loose is that bad": said of the same
	}
	if c.Edit.Set.State.NoTag && len(editsOf(&c.Edit)) == 1 {
		t.answered = true
		t.say(Plain{Topic: "no tag"})
		return
	}
	if s := &c.Edit.Set; s.HookStamp != (load.Stamp{}) || s.Tensioner.Stamp != (load.Stamp{}) {
		t.answered = true
		t.say(Plain{Topic: "weakest part"})
		return
	}
	if p, ok := lastSaid(t.r.Says).(Plain); ok && p.Topic == "weakest part" && c.Edit.Set.Grade.Reading == load.Read {
		return // "his chain is grade 70 but the hook says 43"
	}
	t.lost = true
	t.cannot("no load")
}

// hurtToo answers for the hurt of a lone tie-down told in the same message, "strap
// says 3333 but it is frayed": what it would count for sound is left out.
func (t *turn) hurtToo(hurt []load.Damage) {
	for _, act := range t.msg.Acts {
		d, ok := act.(parser.Describe)
		if !ok || len(d.Articles) == 0 || len(d.Articles[0].Ties) == 0 {
			continue
		}
		t.r.Says = slices.DeleteFunc(t.r.Says, func(s Say) bool { _, is := s.(Rating); return is })
		tie := d.Articles[0].Ties[0]
		tie.State.Damage = hurt
		t.complete(&tie)
		t.say(wear(tie, t.s.law()))
		return
	}
}

// blank says whether an edit does nothing: only a tie-down was named.
func blank(e *parser.Edit) bool {
	return len(editsOf(e)) == 0 && e.Count == 0
}

// editsOf is an edit as talk keeps it, each part by itself, without IDs.
func editsOf(e *parser.Edit) []Edit {
	var list []Edit
	var facts *load.TieDown
	if !bare(&e.Set) || e.Set.State.Sound != load.Untold || e.Set.State.NoGuard || e.Set.State.NoTag || e.Set.Thick > 0 || e.Set.Shared {
		s := e.Set
		s.State.Damage = nil
		facts = &s
	}
	if e.Replaced {
		list = append(list, Edit{Do: Replace, Set: facts})
		facts = nil
	}
	if e.Back {
		list = append(list, Edit{Do: Return})
	}
	for i := range e.Damage {
		list = append(list, Edit{Hurt: &e.Damage[i]})
	}
	if e.Loose {
		list = append(list, Edit{Do: Loosen})
	}
	if e.Tightened {
		list = append(list, Edit{Do: Tighten})
	}
	if e.Gone != "" {
		list = append(list, Edit{Do: Leave, Gone: e.Gone})
	}
	if facts != nil {
		list = append(list, Edit{Set: facts})
	}
	return list
}

// move tells tie-downs the place they were pointed at by.
func (t *turn) move(p picked) {
	if p.at == (load.Place{}) || p.at.On != "" {
		return
	}
	for _, x := range p.ties {
		at := x.Place
		put(&at.End, p.at.End)
		put(&at.Side, p.at.Side)
		if at.End == "" && at.Side == "" {
			put(&at.Spread, p.at.Spread)
		}
		if at != x.Place {
			t.edit(Edit{IDs: []int{x.ID}, Set: &load.TieDown{Place: at}})
		}
	}
}

// onPart takes harm or mending of a part's tie-down that no one described
// ("blade chained", then "the chain on the blade is loose") as said of the part.
func (t *turn) onPart(c *parser.Change) bool {
	on := c.Ref.Like.Place.On
	if on == "" || c.Ref.Lacks {
		return false
	}
	for i := range t.load.Articles {
		a := &t.load.Articles[i]
		if slices.ContainsFunc(a.Ties, func(x load.TieDown) bool { return x.Place.On == on }) {
			return false
		}
	}
	for i := range t.load.Articles {
		a := &t.load.Articles[i]
		j := slices.IndexFunc(a.Parts, func(p load.Part) bool { return p.Name == on && p.Tied != load.Untold })
		if j < 0 {
			continue
		}
		told := load.Part{Name: on, Tied: load.No}
		switch sense := senseOf(&c.Edit); {
		case sense == mends:
			told.Tied = load.Yes
		case sense == tells:
			return false
		case c.Edit.Loose:
			told.Tied, told.Loose = load.Untold, true
		}
		t.settled = true
		t.edit(Edit{Article: &load.Article{ID: a.ID, Parts: []load.Part{told}}})
		return true
	}
	return false
}

// recount puts right how many pieces there are of what was told.
func (t *turn) recount(ties []*load.TieDown, n int) {
	told := ids(ties)
	switch have := len(ties); {
	case n < have:
		// Those in good order go first: what was told loose or hurt stays.
		order := slices.Clone(ties)
		slices.SortStableFunc(order, func(a, b *load.TieDown) int { return soundness(a) - soundness(b) })
		t.edit(Edit{IDs: ids(order[:have-n]), Do: Strike})
	case n > have:
		a, _ := find(&t.load, ties[0].ID)
		more := load.Article{ID: a.ID}
		for range n - have {
			x := *ties[0]
			x.ID, x.State, x.Plural, x.Tag = t.newID(), load.State{}, false, ""
			if x.Place.Spread == "" {
				x.Place = load.Place{On: x.Place.On}
			}
			more.Ties = append(more.Ties, x)
		}
		t.edit(Edit{Article: &more})
	}
	t.counted(told)
}

// counted settles that pieces told in the plural are as many as there are.
func (t *turn) counted(told []int) {
	for _, id := range told {
		if a, i := find(&t.load, id); a != nil && a.Ties[i].Plural {
			whole := a.Ties[i]
			whole.Plural = false
			t.edit(Edit{IDs: []int{whole.ID}, Do: Restore, Set: &whole})
		}
	}
}

// soundness orders tie-downs, those in good order first.
func soundness(x *load.TieDown) int {
	if wrong(x) {
		return 1
	}
	return 0
}

// tightenPart takes a bare "tightened" as said of the tie-down on a part that was
// told tied and then loose, where no tie-down described is loose.
func (t *turn) tightenPart(c *parser.Change) bool {
	if !c.Edit.Tightened || !bare(&c.Ref.Like) || len(thoseToMend(t.pool(&c.Ref, &c.Edit), &c.Edit)) > 0 {
		return false
	}
	for i := range t.load.Articles {
		a := &t.load.Articles[i]
		for _, p := range a.Parts {
			if p.Loose && p.Tied == load.Yes {
				t.settled = true
				t.edit(Edit{Article: &load.Article{ID: a.ID, Parts: []load.Part{{Name: p.Name, Tied: load.Yes}}}})
				return true
			}
		}
	}
	return false
}
