package talk

import (
	"slices"

	"halfweight/parser"
	"halfweight/rules/load"
	"halfweight/rules/tables"
)

// complete fills in from the chat's gear what was not told of a tie-down: a size
// and grade where one kind fits, the weakest where several do; a binder or a
// mark where exactly one does. A grade told with a doubt stays in doubt.
func (t *turn) complete(x *load.TieDown) {
	if x.Tag != "" {
		if !t.completePiece(x) {
			t.say(PieceNote{t.newPiece(x.Tag, *x), "new", t.now})
		}
	}
	t.completeBinder(x)
	fit := t.kindsFor(x)
	if len(fit) == 0 {
		return
	}
	fromList := x.FromGear
	g := fit[0]
	if len(fit) > 1 {
		if described(x) {
			return
		}
		g = strongest(fit)[len(fit)-1]
	}
	fill(x, g)
	x.FromGear = x.FromGear || fromList
}

// kindsFor are the kinds of gear that a tie-down told may be: those of which some
// are in.
func (t *turn) kindsFor(x *load.TieDown) (fit []*load.TieDown) {
	for i := range t.s.Gear {
		if g := &t.s.Gear[i]; g.Count > t.outOf(g) && owned(&g.Tie, x) {
			fit = append(fit, &g.Tie)
		}
	}
	for i := range t.s.Pieces {
		p := &t.s.Pieces[i]
		kind := kindOf(&p.Tie)
		kind.Tag, kind.Mark = "", 0
		known := func(g *load.TieDown) bool { return sameKind(g, &kind) }
		if p.Out.IsZero() && described(&kind) && owned(&kind, x) && !slices.ContainsFunc(fit, known) &&
			!slices.ContainsFunc(t.s.Gear, func(g GearRow) bool { return known(&g.Tie) }) {
			fit = append(fit, &kind)
		}
	}
	return fit
}

// fill lays what gear tells over what was not told of x.
func fill(x, g *load.TieDown) {
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
	if x.Hook == 0 && x.HookStamp == (load.Stamp{}) {
		x.Hook, x.HookStamp = g.Hook, g.HookStamp
	}
	if n := &x.Tensioner; n.Has != load.No && n.Rating == 0 && n.Label == "" && n.Stamp == (load.Stamp{}) && same(n.Kind, g.Tensioner.Kind) {
		tag := n.Tag
		*n = g.Tensioner
		n.Tag = tag
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
		alike := func(o GearRow) bool { return sameKind(&o.Tie, &g.Tie) }
		if slices.ContainsFunc(t.s.Gear[:i], alike) {
			continue // its kind is counted: other binders on it make no other kind
		}
		in := -t.outOf(g)
		for _, o := range t.s.Gear[i:] {
			if alike(o) {
				in += o.Count
			}
		}
		var used []int
		for _, x := range t.pool(&parser.Ref{}, &parser.Edit{}) {
			if sameKind(x, &g.Tie) && !unfit(x) {
				used = append(used, x.ID)
			}
		}
		if len(used) > in {
			list = append(list, Assumed{Code: "fewer-in-gear", IDs: used, Tie: &g.Tie, Count: max(in, 0)})
		}
	}
	return list
}

// sameKind says whether two tie-downs are of one kind as the gear lists them.
func sameKind(a, b *load.TieDown) bool {
	return a.Material == b.Material && tables.Nominal(a.Size, a.Material) == tables.Nominal(b.Size, b.Material) &&
		a.Grade == b.Grade && a.Make == b.Make
}
