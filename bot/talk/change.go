package talk

import (
	"slices"
	"strings"

	"halfweight/parser"
	"halfweight/rules/load"
)

// change changes tie-downs told before: all of it or, with the reason said,
// nothing. Where it is not known which one was meant, harm is done to the
// strongest meanwhile.
func (t *turn) change(c *parser.Change) {
	if len(t.load.Articles) == 0 {
		t.changeNothing(c)
		return
	}
	if c.Ref.Lacks && t.whichOne(&c.Edit.Set, nil) {
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
	if why != "" {
		t.cannot(why)
		t.r.Doubt = t.r.Doubt || senseOf(&c.Edit) != mends
		return
	}
	t.settled = true
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

// changeNothing answers a change while no load is in hand: wear told of a kind
// of tie-down is a question, anything else needs a load.
func (t *turn) changeNothing(c *parser.Change) {
	like := c.Ref.Like
	if len(c.Edit.Damage) > 0 && (like.Material != "" || like.Size > 0) {
		set(&like, &c.Edit.Set)
		like.State.Damage = c.Edit.Damage
		t.complete(&like)
		t.answered = true
		t.say(wear(like))
		return
	}
	t.lost = true
	t.cannot("no load")
}

// blank says whether an edit does nothing: only a tie-down was named.
func blank(e *parser.Edit) bool {
	return len(editsOf(e)) == 0 && e.Count == 0
}

// editsOf is an edit as talk keeps it, each part by itself, without IDs.
func editsOf(e *parser.Edit) []Edit {
	var list []Edit
	var facts *load.TieDown
	if !bare(&e.Set) || e.Set.State.Sound != load.Untold || e.Set.State.NoGuard || e.Set.Thick > 0 || e.Set.Shared {
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
		tied := load.No
		switch senseOf(&c.Edit) {
		case mends:
			tied = load.Yes
		case tells:
			return false
		}
		t.settled = true
		t.edit(Edit{Article: &load.Article{ID: a.ID, Parts: []load.Part{{Name: on, Tied: tied}}}})
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

// pickLacking resolves a bare attribute ("they are 3/8 g70", "binders 9200"): it
// goes to the one clause it fits, to all where all lack it; else it is asked.
func (t *turn) pickLacking(ref *parser.Ref, e *parser.Edit) (picked, string) {
	all := t.pool(ref, e)
	if p := ref.Like.Place; p != (load.Place{}) {
		all, _ = placed(all, p)
	}
	all = slices.DeleteFunc(all, func(x *load.TieDown) bool { return !takes(x, &e.Set) })
	lacking := slices.DeleteFunc(slices.Clone(all), func(x *load.TieDown) bool { return !lacks(x, &e.Set) })
	switch p := &e.Set.Place; {
	case len(all) == 0:
		return picked{}, noSuch
	case p.End != "" && p.Side != "" && len(lacking) > 1:
		return picked{open: ids(lacking)}, whichOne // one corner is not all of them
	case len(lacking) == len(all), len(lacking) > 0 && oneLine(lacking):
		return picked{ties: lacking}, ""
	}
	if q := t.s.Asked; q != nil && len(q.IDs) > 0 {
		if asked := t.among(lacking, q.IDs); len(asked) > 0 {
			return picked{ties: asked}, ""
		}
	}
	if len(lacking) > 0 {
		return picked{open: ids(lacking)}, whichOne
	}
	if oneLine(all) || alike(all) {
		return picked{ties: all}, ""
	}
	return picked{open: ids(all)}, whichOne
}

// takes says whether the facts in f can be told of x at all.
func takes(x, f *load.TieDown) bool {
	chain := x.Material == load.Chain || x.Material == ""
	return same(x.Material, f.Material) && (f.Grade == load.Grade{} || chain) && (f.Tensioner.Label == "" || chain)
}

// lacks says whether x was not told something that f tells, and nothing that f
// contradicts.
func lacks(x, f *load.TieDown) bool {
	if !sameSize(x, f) || x.Grade != (load.Grade{}) && f.Grade != (load.Grade{}) && x.Grade.Reading != load.NotRead && x.Grade != f.Grade {
		return false
	}
	return x.Size == 0 && f.Size > 0 || x.Grade.Reading == load.NotRead && f.Grade != (load.Grade{}) ||
		x.Mark == 0 && f.Mark > 0 || x.Hook == 0 && f.Hook > 0 || x.Anchor == 0 && f.Anchor > 0 ||
		x.Tensioner.Rating == 0 && f.Tensioner.Rating > 0 || x.Tensioner.Label == "" && f.Tensioner.Label != "" ||
		x.Tensioner.Has == load.Untold && f.Tensioner.Has != load.Untold || x.Tensioner.Kind == "" && f.Tensioner.Kind != "" ||
		x.Route == "" && f.Route != "" || x.Place == (load.Place{}) && f.Place != (load.Place{}) ||
		x.Make == "" && f.Make != "" || x.Thick == 0 && f.Thick > 0 ||
		x.State.Tight == load.Untold && f.State.Tight != load.Untold || x.State.Sound == load.Untold && f.State.Sound != load.Untold
}

// askWhich keeps a change until it is told which of some tie-downs it was about.
func (t *turn) askWhich(of []int, w Which) {
	w.Of = of
	t.taken = &w
	t.tried(t.whichQuestion(), 0)
}

// whichQuestion asks which tie-down the change kept was about.
func (t *turn) whichQuestion() *Question {
	q := &Question{Key: "which one", IDs: t.taken.Of}
	words := true
	var told []*load.TieDown
	for _, id := range t.taken.Of {
		a, i := find(&t.load, id)
		if a == nil {
			continue
		}
		x := &a.Ties[i]
		q.Article = a.ID
		if id == t.taken.ID {
			x = &t.taken.Was
		}
		if slices.ContainsFunc(told, func(y *load.TieDown) bool { return twin(x, y) }) {
			continue
		}
		word := wordFor(x)
		words = words && word != "" && !slices.Contains(q.Options, word)
		told, q.Options = append(told, x), append(q.Options, word)
	}
	if !words {
		q.Options = nil
	}
	return q
}

// stillWhich says whether a change of an earlier message is still in doubt: the
// tie-down taken for it is on the load and not mended.
func (t *turn) stillWhich() bool {
	w := t.s.Which
	if w == nil || w.ID == 0 {
		return false
	}
	a, i := find(&t.load, w.ID)
	return a != nil && wrong(&a.Ties[i])
}

// wordFor is what tells a tie-down from the others, as it can be typed: where it
// holds, else its kind and how it runs; "" where nothing does.
func wordFor(x *load.TieDown) string {
	kind := ""
	switch p := &x.Place; {
	case p.On != "":
		return p.On
	case p.End != "" && p.Side != "":
		return p.End + " " + p.Side
	case p.End != "" || p.Side != "":
		return p.End + p.Side
	case x.Material == load.Chain && x.Grade.Reading == load.Read:
		kind = x.SizeWord + " g" + x.Grade.Value
	case x.Material == load.Webbing && x.SizeWord != "":
		kind = x.SizeWord + "in strap"
	default:
		return ""
	}
	return strings.TrimSpace(kind + " " + string(x.Route))
}

// whichOne takes the tie-down named in answer to "which one": the change goes to
// it instead of to the one taken meanwhile.
func (t *turn) whichOne(like *load.TieDown, d *parser.Describe) bool {
	q, w := t.s.Asked, t.s.Which
	if q == nil || q.Key != "which one" || w == nil {
		return false
	}
	if d != nil {
		a := &d.Articles[0]
		if len(d.Articles) != 1 || d.Add || named(a) || factual(&a.Article) || len(a.Ties) != 1 || len(a.Lines) == 0 || a.Lines[0].Told {
			return false
		}
		like = &a.Ties[0]
	}
	if bare(like) {
		return false
	}
	ties := t.among(t.pool(&parser.Ref{Like: *like}, &parser.Edit{Back: true}), q.IDs)
	ties, _ = placed(ties, like.Place)
	if len(ties) == 0 || len(ties) > 1 && !alike(ties) {
		return false
	}
	t.touched, t.settled = true, true
	one := picked{ties: ties[:1], at: like.Place}
	id := ties[0].ID
	if w.ID != 0 && w.ID != id {
		was := w.Was
		t.edit(Edit{IDs: []int{w.ID}, Do: Restore, Set: &was})
	}
	t.move(one)
	if w.ID != id {
		for _, e := range w.Edits {
			e.IDs = []int{id}
			t.edit(e)
		}
	}
	t.s.Asked, t.s.Which = nil, nil
	return true
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
