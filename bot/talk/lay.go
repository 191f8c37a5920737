package talk

import (
	"slices"

	"halfweight/rules/load"
)

// lay lays the facts told in f over a: what is told later stands.
func lay(a, f *load.Article) {
	put(&a.Name, f.Name)
	put(&a.Kind, f.Kind)
	if f.Weight.Known() {
		a.Weight = f.Weight
	}
	if f.Length > 0 {
		a.Length, a.InMetres, a.Cargo.Whole = f.Length, f.InMetres, false
	}
	layCargo(&a.Cargo, &f.Cargo)
	put(&a.Articulated, f.Articulated)
	put(&a.OnWheels, f.OnWheels)
	put(&a.Blocked, f.Blocked)
	a.Still = a.Still || f.Still
	a.FromGear = f.FromGear || a.FromGear && !f.Weight.Known()
	for i := range f.Parts {
		layPart(a, &f.Parts[i])
	}
	layJoint(&a.Joint, &f.Joint)
	if f.Bare {
		a.Bare = true
		for i := range a.Ties {
			leave(&a.Ties[i])
		}
	}
	if len(f.Ties) > 0 {
		a.Bare = false
		a.Ties = append(a.Ties, f.Ties...)
	}
}

// layCargo lays what was told of a thing that is no machine over what is known of
// it.
func layCargo(c, f *load.Cargo) {
	put(&c.Pieces, f.Pieces)
	c.Several = c.Several || f.Several
	c.Total = c.Total || f.Total
	c.Whole = c.Whole || f.Whole
	put(&c.Lies, f.Lies)
	put(&c.Shape, f.Shape)
	put(&c.Bore, f.Bore)
	put(&c.Stacks, f.Stacks)
	put(&c.Tiers, f.Tiers)
	put(&c.Walls, f.Walls)
	put(&c.Chassis, f.Chassis)
	put(&c.Empty, f.Empty)
	put(&c.Locked, f.Locked)
	put(&c.Chocked, f.Chocked)
	put(&c.Banded, f.Banded)
	put(&c.Touching, f.Touching)
	put(&c.Special, f.Special)
	put(&c.Checked, f.Checked)
}

// leave marks a tie-down as not on any more.
func leave(t *load.TieDown) {
	if t.State.Gone == "" {
		t.State.Gone = "taken off"
	}
}

// layPart lays what was told of a part over what is known of it. Told not tied
// or on hydraulics only, no tie-down is on it any more; told loose, the one on it
// is loose.
func layPart(a *load.Article, f *load.Part) {
	i := slices.IndexFunc(a.Parts, func(p load.Part) bool { return p.Name == f.Name })
	if i < 0 {
		a.Parts = append(a.Parts, *f)
		a.Parts[len(a.Parts)-1].Doubtful = false
	} else {
		if f.Doubtful {
			a.Parts[i] = load.Part{Name: f.Name, Word: a.Parts[i].Word, Off: a.Parts[i].Off}
		}
		tellPart(&a.Parts[i], f)
	}
	for i := range a.Ties {
		switch t := &a.Ties[i]; {
		case t.Place.On != f.Name:
		case f.Tied == load.No, f.Hydraulics:
			leave(t)
		case f.Loose:
			t.State.Tight = load.No
		}
	}
}

func tellPart(p, f *load.Part) {
	put(&p.Word, f.Word)
	if f.Tied == load.Yes || f.Down == load.Yes || len(f.Locks) > 0 || f.Loose || f.Hydraulics {
		p.Off = false
	}
	if f.Tied == load.Yes {
		p.Loose, p.Hydraulics = false, false
	}
	if f.Down == load.Yes {
		p.Prop, p.Hydraulics = false, p.Hydraulics && f.Hydraulics
	}
	if f.Hydraulics {
		p.Tied = load.Untold
	}
	if f.Loose || f.Hydraulics {
		p.Stowed = false
	}
	if f.Loose || f.Unlocked {
		p.Locks = nil
	}
	put(&p.Tied, f.Tied)
	put(&p.Down, f.Down)
	for _, l := range f.Locks {
		if p.Unlocked = false; !slices.Contains(p.Locks, l) {
			p.Locks = append(slices.Clip(p.Locks), l)
		}
	}
	p.Unlocked = p.Unlocked || f.Unlocked
	p.Hydraulics = p.Hydraulics || f.Hydraulics
	p.Prop = p.Prop || f.Prop
	p.Loose = p.Loose && len(f.Locks) == 0 || f.Loose
	p.Off = p.Off || f.Off
	p.Stowed = p.Stowed || f.Stowed
}

// layJoint lays what was told of the joint over what is known of it. A locked
// steering wheel says nothing of a lock told in.
func layJoint(j, f *load.Joint) {
	if f.Doubtful {
		*j = load.Joint{Uncrossed: j.Uncrossed}
	}
	j.Has = j.Has || f.Has
	j.Uncrossed = j.Uncrossed || f.Uncrossed
	switch {
	case f.Locked != load.Untold:
		j.Locked, j.How = f.Locked, f.How
	case f.How != "" && j.Locked != load.Yes:
		j.How = f.How
	}
}
