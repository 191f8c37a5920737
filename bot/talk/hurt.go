package talk

import (
	"slices"

	"halfweight/parser"
	"halfweight/rules"
	"halfweight/rules/load"
)

// This file lays hurts over tie-downs: one more, or the measure of one told
// before.

// hurt adds damage. A measure of a hurt that none settled yet takes its place;
// one more hurt with a measure adds to it.
func hurt(t *load.TieDown, d load.Damage) {
	t.State.Sound = load.No
	for i := range t.State.Damage {
		if had := &t.State.Damage[i]; open(t, had) && sameHurt(t, had, &d) {
			t.State.Damage = slices.Clone(t.State.Damage)
			t.State.Damage[i] = d
			return
		}
	}
	t.State.Damage = append(slices.Clip(t.State.Damage), d)
}

// onlyMeasure takes a measure told by itself ("1/4 and 1/8 on the other edge") as
// that of the hurt asked about.
func (t *turn) onlyMeasure(d load.Damage) {
	var fit []*load.TieDown
	for _, x := range t.pool(&parser.Ref{}, &parser.Edit{}) {
		if had := openDamage(x); had != nil && measuredBy(x, had) && (d.Left > 0) == (x.Material == load.Chain || x.Material == load.Cordage) {
			fit = append(fit, x)
		}
	}
	if q := t.s.Asked; q != nil && q.Key == rules.AskDamage && len(fit) > 1 {
		fit = t.among(fit, q.IDs)
	}
	if len(fit) == 1 {
		had := openDamage(fit[0])
		d.Part, d.Kind = had.Part, had.Kind
		t.touched, t.settled = true, true
		t.edit(Edit{IDs: ids(fit), Hurt: &d})
		return
	}
	t.answered = true
	t.cannot("nothing asked")
	t.r.Doubt = true
}

// askAgain lets the measure of a new hurt be asked, though others were.
func (t *turn) askAgain(hurts []load.Damage) {
	if slices.ContainsFunc(hurts, func(d load.Damage) bool { return !d.Measured() }) {
		t.s.Tries = slices.DeleteFunc(slices.Clone(t.s.Tries), func(x Try) bool { return x.Key == rules.AskDamage })
	}
}

// sameHurt says whether d is told of the hurt had, or is its measure.
func sameHurt(t *load.TieDown, had, d *load.Damage) bool {
	switch {
	case partOf(t, had) != partOf(t, d):
		return false
	case had.Kind == d.Kind:
		return true
	}
	return d.Measured() && wears(had.Kind) && wears(d.Kind) ||
		had.Kind == "repair link" && (d.Kind == "matching link" || d.Kind == "wrong link")
}

// partOf is the part that a hurt is of; one told of none is of the tie-down's own
// material.
func partOf(t *load.TieDown, d *load.Damage) string {
	switch {
	case d.Kind == "opened":
		return "hook"
	case d.Part == "" || d.Part == "rope":
		return string(t.Material)
	}
	return d.Part
}

// open says whether a hurt of t waits for a measure: none was told, or one that
// leaves open of what size it is.
func open(t *load.TieDown, d *load.Damage) bool {
	switch {
	case !d.Measured():
		return true
	case d.Kind == "opened" || d.Part == "hook":
		return d.Share == 0 && d.New == 0
	case t.Material == load.Chain:
		return d.Left == 0 && len(d.Size) == 0
	}
	return false
}

// hurtLike says whether x has a hurt like d, any at all where d tells of no kind.
func hurtLike(x *load.TieDown, d *load.Damage) bool {
	return slices.ContainsFunc(x.State.Damage, func(had load.Damage) bool {
		return d.Kind == "" || had.Kind == d.Kind || wears(had.Kind) && wears(d.Kind)
	})
}

// wears says whether a kind of damage is one that people tell under several
// names and that one measure settles.
func wears(kind string) bool {
	switch kind {
	case "cut", "worn", "nicked", "frayed", "gouged", "damaged":
		return true
	}
	return false
}

// openDamage is the damage of x that was told without the measure that would
// settle it; nil where there is none.
func openDamage(x *load.TieDown) *load.Damage {
	for i := range x.State.Damage {
		d := &x.State.Damage[i]
		if !open(x, d) {
			continue
		}
		switch {
		case wears(d.Kind):
			return d
		case d.Kind == "burned", d.Kind == "hole", d.Kind == "opened", d.Kind == "wires", d.Kind == "repair link":
			return d
		}
	}
	return nil
}
