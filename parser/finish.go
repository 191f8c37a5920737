package parser

import (
	"slices"

	"halfweight/rules/load"
)

// finish turns what was read into acts: the articles with their tie-downs piece
// by piece, then what changes tie-downs.
func (r *reader) finish() {
	r.close()
	if r.weight != nil {
		r.article().Weight, r.weight = *r.weight, nil
	}
	if r.lead != nil {
		r.t(r.leadAt).owner = OwnUnread // a place of nothing
	}
	for _, p := range r.partTies {
		r.settlePart(p)
	}
	if r.uncrossed {
		r.article().Joint.Uncrossed = true
	}
	if len(r.arts) > 1 && !r.arts[0].noun {
		r.joinFirst()
	}
	r.onEach()
	r.aside = r.aside || r.takenBack()
	d := Describe{Add: r.add, Definite: r.definite}
	for _, a := range r.arts {
		r.fitOut(a)
		if r.them && !a.noun && len(a.clauses) == 1 && !a.clauses[0].told && a.empty() {
			r.changes = append(r.changes, r.attributes(a.clauses[0]))
			continue
		}
		if r.guessed && a.Weight.Known() {
			a.Weight = loosely(a.Weight)
		}
		r.settle(a)
		r.aside = r.aside || r.contradicts(a) && !r.corrected()
		if a.noun || len(a.Ties) > 0 || !a.empty() {
			d.Articles = append(d.Articles, r.copies(a)...)
		}
	}
	any := false
	for _, a := range d.Articles {
		any = any || len(a.Ties) > 0
	}
	if len(d.Articles) > 0 {
		r.acts = append(r.acts, d)
	}
	if !any {
		for _, f := range r.fits {
			r.acts = append(r.acts, f.change)
		}
	}
	for n, c := range r.changes {
		if n > 0 && c.Edit.Tightened && r.changes[n-1].Edit.Tightened && c.Ref.Which == It && c.Ref.Like.Place == (load.Place{}) {
			continue // "put it back on and snugged it": once
		}
		r.acts = append(r.acts, c)
	}
}

// fitOut lays what was told of rings and fittings, apart from the tie-downs, over
// those of the article.
func (r *reader) fitOut(a *article) {
	for _, c := range a.clauses {
		for _, set := range r.rings {
			set(&c.tie)
		}
		for _, f := range r.fits {
			f.set(&c.tie)
			if m := f.change.Edit.Set.Tensioner.Rating; m > 0 && c.tie.Tensioner.Rating > m {
				c.tie.Tensioner.Rating = m // told twice: the least stands
			}
		}
	}
}

// settlePart lays what became of a part's tie-down over the part, where the
// message tells of the part and describes no tie-down on it.
func (r *reader) settlePart(x partTie) {
	for _, a := range r.arts {
		for _, c := range a.clauses {
			for _, p := range c.places {
				if p.On == x.part && (c.tie.Size != 0 || c.tie.Grade.Reading != load.NotRead) {
					return // the Change finds it
				}
			}
		}
	}
	art := r.article()
	k := r.part(&tok{word: x.part})
	if x.loose {
		art.Parts[k].Loose = true
	} else {
		art.Parts[k].Tied = tri(x.held)
	}
	if !x.held {
		r.deny.hold(x.part)
	}
	for n, c := range r.changes {
		if c.Ref.Like.Place.On == x.part {
			r.changes = append(r.changes[:n], r.changes[n+1:]...)
			break
		}
	}
}

// empty says whether nothing but tie-downs was told of the article.
func (a *article) empty() bool {
	return !a.noun && !a.Weight.Known() && a.Length == 0 && a.Articulated == load.Untold && a.OnWheels == load.Untold && a.Blocked == load.Untold &&
		!a.Still && !a.Bare && len(a.Parts) == 0 && a.Joint == (load.Joint{}) && a.Cargo == (load.Cargo{})
}

// attributes is "they are 3/8 g70": told of those that lack it.
func (r *reader) attributes(c *clause) Change {
	t := c.tie
	c.fillMaterial(&t)
	if len(c.places) == 1 {
		t.Place = c.places[0]
	}
	return Change{Ref: Ref{Which: All, Lacks: true}, Edit: Edit{Set: t}}
}

// joinFirst hands what was told ahead of the first noun to that noun's article.
func (r *reader) joinFirst() {
	first, next := r.arts[0], r.arts[1]
	next.clauses = append(first.clauses, next.clauses...)
	if !next.Weight.Known() {
		next.Weight = first.Weight
	} else if first.Weight.Known() && first.Weight != next.Weight {
		r.aside = true // two weights told: which one is it
	}
	if next.Length == 0 {
		next.Length, next.InMetres = first.Length, first.InMetres
	}
	if next.Cargo == (load.Cargo{}) {
		next.Cargo = first.Cargo
	}

	if next.Articulated == load.Untold {
		next.Articulated = first.Articulated
	}
	if next.OnWheels == load.Untold {
		next.OnWheels = first.OnWheels
	}
	if next.Blocked == load.Untold {
		next.Blocked = first.Blocked
	}
	next.Still = next.Still || first.Still
	next.Parts = append(first.Parts, next.Parts...)
	if next.Joint == (load.Joint{}) {
		next.Joint = first.Joint
	}
	r.arts = r.arts[1:]
}

// settle turns an article's clauses into pieces.
func (r *reader) settle(a *article) {
	if a.noun && a.Weight.Known() && !cargoKind(a.Kind) && a.Weight.High < leastMachine {
		r.unweigh(a)
	}
	if a.Kind == "box" && a.Cargo.Chassis == load.Yes {
		a.Kind = "container" // "20 ft box on a chassis"
	}
	r.weighsEach(a)
	shareMarked(a.clauses)
	a.clauses = breakdown(a.clauses)
	for _, c := range a.clauses {
		if n := len(c.tags); n > 0 {
			c.count, c.told = n, true // "chain 7 on each corner" is one chain
		}
	}
	total := 0
	for _, c := range a.clauses {
		total += max(c.count, 1)
		r.aside = r.aside || c.unclear
	}
	bare := 0 // pieces that the binders told do not reach
	if a.binders > 0 && a.binders < total {
		bare = total - a.binders
	}
	for _, c := range a.clauses {
		if c.on != "" && c.count <= 1 && !c.plural && !c.onPart() {
			c.places = append(c.places, load.Place{On: c.on})
		}
	}
	for _, c := range a.clauses {
		if n := len(c.places); c.count == 0 && n > 1 && n <= maxCount && !c.plural && !c.onPart() {
			c.count, c.told = n, true // a list of places is one at each
		}
		if c.count == 0 {
			c.count = 1
		}
		if a.onPart(c) {
			r.aside = r.aside || c.told && !c.named && len(a.clauses) > 1 // "two up front are on the bucket": of those told by kind
			continue
		}
		line := len(a.Lines)
		a.Lines = append(a.Lines, Line{Count: c.count, Told: c.told, Named: c.named})
		t := c.tie
		t.Line = line
		c.fillMaterial(&t)
		t.Plural = c.plural && !c.told
		place := c.where()
		a.Ties = slices.Grow(a.Ties, max(total, c.count))
		for k := 0; k < c.count; k++ {
			p := t
			if k < len(c.tags) {
				p.Tag = c.tags[k]
			}
			p.State.Damage = append([]load.Damage(nil), t.State.Damage...)
			p.Place = place(k)
			total--
			if bare > 0 && total < bare {
				p.Tensioner.Has = load.No
			} else if c.binders >= 0 && k >= c.binders {
				p.Tensioner.Has = load.No
			} else if c.binders >= 0 {
				p.Tensioner.Has = load.Yes
			}
			a.Ties = append(a.Ties, p)
		}
	}
}

// unweigh takes back a weight that is absurd for a machine.
func (r *reader) unweigh(a *article) {
	for i := range r.toks {
		if t := &r.toks[i]; t.kind.in(kMass, kBig) && t.weight.Told == a.Weight.Told {
			t.owner = OwnUnread
		}
	}
	a.Weight = load.Weight{}
}

// onPart says whether the clause is told to hold a part or the joint.
func (c *clause) onPart() bool {
	for _, p := range c.places {
		if p.On != "" {
			return true
		}
	}
	return false
}

// where is the place of each piece of a clause: one told for all, or one each;
// untold where they cannot be shared out.
func (c *clause) where() func(piece int) load.Place {
	one := func(p load.Place) func(int) load.Place { return func(int) load.Place { return p } }
	if len(c.places) == 0 {
		return one(load.Place{})
	}
	if len(c.places) == 1 {
		return one(c.places[0])
	}
	on := ""
	var each []load.Place
	for _, p := range c.places {
		if p.On != "" {
			on = p.On
		} else {
			each = append(each, p)
		}
	}
	switch {
	case on != "":
		return one(load.Place{On: on}) // a place on the machine and on a part: the part wins
	case len(each) == c.count:
		return func(piece int) load.Place { return each[piece] }
	}
	return one(load.Place{})
}

// onPart takes a chain told with nothing but the part it holds: the part is
// tied, and no credit comes of it.
func (a *article) onPart(c *clause) bool {
	if len(c.places) == 0 {
		return false
	}
	on := c.places[len(c.places)-1].On
	if on == "" || on == "joint" || len(c.tags) > 0 || c.tie.Size != 0 || c.tie.Mark != 0 || c.tie.Grade.Reading == load.Read || c.tie.State.Tight == load.No || len(c.tie.State.Damage) > 0 || c.tie.Tensioner.Has == load.No {
		return false
	}
	for k := range a.Parts {
		if a.Parts[k].Name == on {
			a.Parts[k].Tied = load.Yes
			return true
		}
	}
	a.Parts = append(a.Parts, load.Part{Name: on, Word: on, Tied: load.Yes})
	return true
}

// fillMaterial names the material that the size alone tells: chain sizes are
// fractions of an inch, straps come in whole inches.
func (c *clause) fillMaterial(t *load.TieDown) {
	if t.Material != "" {
		return
	}
	switch {
	case t.Grade.Reading != load.NotRead:
		t.Material = load.Chain
	case t.Size >= load.Inch || t.Size == 25*load.Millimetre || t.Size >= 40*load.Millimetre:
		t.Material = load.Webbing
	case t.Size > 0:
		t.Material = load.Chain
	}
}
