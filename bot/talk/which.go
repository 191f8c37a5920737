package talk

import (
	"slices"
	"strings"

	"halfweight/parser"
	"halfweight/rules/load"
)

// askWhich keeps a change until it is told which of some tie-downs it was about.
func (t *turn) askWhich(of []int, w Which) {
	w.Of = of
	t.taken = &w
	t.tried(t.whichQuestion(), 0)
}

// whichQuestion asks which tie-down the change kept was about.
func (t *turn) whichQuestion() *Question {
	q := &Question{Key: "which one", IDs: t.taken.Of}
	if t.taken.Tag != "" {
		q.Key, q.Subject = "which piece", t.taken.Tag
	}
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
	if !words || len(q.Options) < 2 {
		q.Options = nil
	}
	if q.Key == "which piece" {
		q.Options = []string{"no"} // or its place
	}
	return q
}

// stillWhich says whether a change of an earlier message is still in doubt: the
// tie-down taken for it is on the load and not mended, or the marked piece that it
// is of may be on the load.
func (t *turn) stillWhich() bool {
	w := t.s.Which
	if w == nil || w.ID == 0 && w.Tag == "" {
		return false
	}
	if w.Tag != "" {
		return !t.isOnLoad(w.Tag) && len(t.among(t.pool(&parser.Ref{}, &parser.Edit{}), w.Of)) > 0
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
	if q == nil || q.Key != "which one" && q.Key != "which piece" || w == nil {
		return false
	}
	if d != nil {
		a := &d.Articles[0]
		if len(d.Articles) != 1 || d.Add || named(a) || factual(&a.Article) || len(a.Ties) != 1 || len(a.Lines) == 0 {
			return false
		}
		if like = &a.Ties[0]; a.Lines[0].Told && (w.Tag == "" || like.Tag != w.Tag) {
			return false
		}
	}
	if w.Tag != "" && like.Tag == w.Tag { // "chain 7 is front left"
		it := *like
		it.Tag, like = "", &it
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
	t.askNext(w)
	return true
}

// askNext goes on to what is asked after w.
func (t *turn) askNext(w *Which) {
	if w != nil && w.Next != nil {
		t.r.Doubt = true
		t.askWhich(w.Next.Of, *w.Next)
	}
}
