package talk

import (
	"slices"

	"halfweight/parser"
	"halfweight/rules/load"
)

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
	case p.End != "" && p.Side != "" && len(all) > 1 && len(lacking) != 1:
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
	if oneLine(all) || alike(all) || readAlike(all, &e.Set) {
		return picked{ties: all}, ""
	}
	return picked{open: ids(all)}, whichOne
}

// readAlike says whether the stamps on the binders were told alike of all: read once
// more, they are put right of all.
func readAlike(all []*load.TieDown, f *load.TieDown) bool {
	return f.Tensioner.Rating > 0 && !slices.ContainsFunc(all, func(x *load.TieDown) bool {
		return x.Tensioner.Rating != all[0].Tensioner.Rating
	})
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
		x.Mark == 0 && f.Mark > 0 || x.Hook == 0 && f.Hook > 0 || x.HookStamp == (load.Stamp{}) && f.HookStamp != (load.Stamp{}) || x.Tensioner.Stamp == (load.Stamp{}) && f.Tensioner.Stamp != (load.Stamp{}) || x.Anchor == 0 && f.Anchor > 0 ||
		x.Tensioner.Rating == 0 && f.Tensioner.Rating > 0 || x.Tensioner.Label == "" && f.Tensioner.Label != "" ||
		x.Tensioner.Has == load.Untold && f.Tensioner.Has != load.Untold || x.Tensioner.Kind == "" && f.Tensioner.Kind != "" ||
		x.Route == "" && f.Route != "" || x.Place == (load.Place{}) && f.Place != (load.Place{}) ||
		x.Make == "" && f.Make != "" || x.Thick == 0 && f.Thick > 0 ||
		x.State.Tight == load.Untold && f.State.Tight != load.Untold || x.State.Sound == load.Untold && f.State.Sound != load.Untold
}
