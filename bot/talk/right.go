package talk

import (
	"slices"
	"strconv"
	"strings"

	"halfweight/parser"
	"halfweight/rules/load"
	"halfweight/rules/tables"
)

// putRight puts a corrected figure where the one told last stands that it can
// put right: a size, a grade, a number of pieces, a weight or a rating. It gives
// how many of one message it could be, and puts right only the one.
func (t *turn) putRight(a *parser.Answer) int {
	turns := append(slices.Clone(t.s.Turns), Turn{Edits: t.edits})
	for i := len(turns) - 1; i >= 0; i-- {
		edits := turns[i].Edits
		right, pieces := t.couldBe(a, edits)
		switch {
		case len(right) == 0 && len(edits) > 0 && edits[0].Clear:
			return 0 // what came before is of another load
		case len(right) == 0:
			continue
		case len(right) > 1:
			return len(right)
		case !pieces:
			t.edit(right[0])
			return 1
		}
		ties := t.among(t.pool(&parser.Ref{}, &parser.Edit{}), right[0].IDs)
		if len(ties) == 0 {
			return 0
		}
		t.recount(t.lineOf(ties[0]), a.Number)
		return 1
	}
	return 0
}

// lineOf is the clause that x was told in, as many pieces as it has come to.
func (t *turn) lineOf(x *load.TieDown) (ties []*load.TieDown) {
	a, _ := find(&t.load, x.ID)
	for i := range a.Ties {
		if y := &a.Ties[i]; y.Line == x.Line && y.State.Gone == "" {
			ties = append(ties, y)
		}
	}
	return ties
}

// couldBe is what a corrected figure could put right of what some edits told.
// pieces says that it is a number of pieces, of the IDs.
func (t *turn) couldBe(a *parser.Answer, edits []Edit) (right []Edit, pieces bool) {
	n, ok := figure(a.Figure)
	for _, e := range edits {
		x, told := e.Set, e.IDs
		if e.Article != nil {
			if w := e.Article.Weight; w.Known() {
				if w, ok := t.sameUnit(a.Mass, w); ok {
					right = append(right, Edit{Article: &load.Article{ID: e.Article.ID, Weight: w}})
				}
			}
			x, told = lastOne(e.Article.Ties), lastLine(e.Article.Ties)
		}
		set := load.TieDown{}
		switch {
		case x == nil:
			continue
		case strings.Contains(a.Figure, "/"):
			if x.Size == 0 || !ok {
				continue
			}
			set.Size, _ = load.Times(n, load.Inch)
			set.SizeWord = a.Figure
		case chainGrade(a.Number) && x.Grade.Reading == load.Read:
			set.Grade = load.Grade{Value: strconv.Itoa(a.Number), Reading: load.Read}
		case e.Article != nil && a.Number > 0 && a.Number <= mostPieces:
			pieces = true
			right = append(right, Edit{IDs: told})
			continue
		default:
			var ok bool
			if set, ok = rated(x, a.Mass); !ok {
				continue
			}
		}
		right = append(right, Edit{IDs: told, Set: &set})
	}
	return right, pieces
}

func lastOne(ties []load.TieDown) *load.TieDown {
	if len(ties) == 0 {
		return nil
	}
	return &ties[len(ties)-1]
}

// rated is the facts that put a rating told in x right with m; ok is false where
// x tells none, or several, or m is no rating.
func rated(x *load.TieDown, m load.Mass) (set load.TieDown, ok bool) {
	if x == nil || x.FromGear || m < leastRating {
		return set, false
	}
	n := 0
	for _, f := range [...]struct{ told, to *load.Mass }{
		{&x.Mark, &set.Mark}, {&x.Tensioner.Rating, &set.Tensioner.Rating}, {&x.Hook, &set.Hook},
	} {
		if *f.told > 0 {
			*f.to = m
			n++
		}
	}
	return set, n == 1
}

// sameUnit is a bare figure in the unit of the weight it puts right; ok is false
// where it is too small for that.
func (t *turn) sameUnit(m load.Mass, was load.Weight) (w load.Weight, ok bool) {
	const mostTons = 200 * load.Pound
	switch {
	case m <= 0:
		return w, false
	case was.Ton && m <= mostTons:
		n := load.Micro(m * load.Mass(load.One) / load.Pound)
		w.Ton = true
		w.Low, _ = load.Times(n, tables.Federal().TonLow)
		w.High, _ = load.Times(n, tables.Federal().TonHigh)
		w.Told = w.Low
		return w, true
	case m <= mostTons:
		return w, false
	case was.Metric:
		return load.Exact(kilograms(m), true), true
	}
	w = load.Exact(m, false)
	w.Bare = was.Bare
	t.inUnits(&w)
	return w, true
}
