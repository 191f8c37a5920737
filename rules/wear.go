package rules

import (
	"halfweight/rules/load"
	"halfweight/rules/tables"
)

// This file takes the hurts told of a tie-down: whether it is out, counts, or
// waits for a measure. Duty: 49 CFR 393.104(b), which has no figures; those are
// in tables.CutLimits, tables.WornBelow and rules/tables/defects.csv, each with
// its source. It does not look for hurts nobody told of.

// hurts is what the hurts of one tie-down come to, taken together.
type hurts struct {
	tie   *load.TieDown
	worst condition

	cuts    load.Length // of a strap, all of them together
	cutWhy  string
	counted []*load.Damage // broken wires, by where they were counted
}

// damage is how what is told of a tie-down's hurts is taken, the worst of them.
func damage(t *load.TieDown) condition {
	h := hurts{tie: t}
	for i := range t.State.Damage {
		h.take(&t.State.Damage[i])
	}
	if h.cuts > 0 {
		h.worst = worstOf(h.worst, cut(t, h.cuts, h.cutWhy))
	}
	if len(h.counted) > 0 {
		h.worst = worstOf(h.worst, wires(t, h.counted))
	}
	return h.worst
}

// take takes one hurt: out as such, past a limit, within it, or not measured.
func (h *hurts) take(d *load.Damage) {
	t := h.tie
	part := partHurt(t, d)
	c := condition{why: hurtWord(t, d), fix: true, duty: "damaged"}
	_, outright := outFor(part, d.Kind)
	switch {
	case d.Kind == "knot":
		c.fate, c.duty = out, "knot"
	case outright:
		c.fate = out
	case d.Kind == "matching link":
		return // a repair link of the chain's own grade is part of it
	case part == string(load.WireRope) && d.Kind == "wires":
		h.counted = append(h.counted, d)
		return
	case part == string(load.Webbing) && (len(d.Size) > 0 || d.Share > 0 && t.Size > 0):
		h.cuts += cutOf(t, d)
		h.cutWhy = c.why
		return
	case part == string(load.Chain) && d.Measured() && len(d.Size) == 0:
		c = worn(t, d, c)
	case part == string(load.Cordage) && d.Measured() && len(d.Size) == 0:
		c = wornRope(t, d, c)
	case part == "hook" && (d.Lost > 0 || d.Share > 0):
		c = hook(d, c)
	default:
		c.fate, c.settle = maybe, measureOf(part, d)
	}
	h.worst = worstOf(h.worst, c)
}

// outFor is what puts a part out for a hurt of any measure: the row of that part,
// else, where no limit of it is measured, the row of a chain.
func outFor(part, kind string) (*tables.Defect, bool) {
	if d, ok := tables.OutFor(part, kind); ok {
		return d, true
	}
	if _, limited := tables.HurtLimit(part, kind, "share"); limited {
		return nil, false
	}
	return tables.OutFor(string(load.Chain), kind)
}

// partHurt is the part that a hurt was told of, as the tables name it.
func partHurt(t *load.TieDown, d *load.Damage) string {
	if t.Material != "" && ofMaterial(t, d) {
		return string(t.Material)
	}
	return d.Part
}

// cutOf is how much of a strap's width one hurt takes.
func cutOf(t *load.TieDown, d *load.Damage) (sum load.Length) {
	for _, s := range d.Size {
		sum += s
	}
	if d.Share > 0 {
		n, ok := load.Times(d.Share, t.Size)
		if !ok {
			n = t.Size
		}
		sum += n
	}
	return sum
}

// cut takes the cuts, burns and holes of a strap together: more than the
// published table for its width is out; past stricter trade advice it counts
// and is to be mended. Nicks on both edges add.
func cut(t *load.TieDown, total load.Length, why string) condition {
	c := condition{why: why, fix: true, duty: "damaged"}
	published, trade, _, ok := tables.CutLimits(t.Size)
	switch {
	case !ok && t.Size == 0:
		c.fate, c.settle = maybe, settleWidth
	case !ok:
		c.fate, c.settle = maybe, settleDamage // no row for that width
	case total > published:
		c.fate = out
	case trade > 0 && total > trade:
	default:
		return condition{}
	}
	return c
}

// worn takes a chain link by what is left of it at its thinnest, against the
// stock it was made of (roadside practice, not in part 393). Told by what is
// lost, it is not known of which size: only what holds for both settles it.
// Where the grade is not read, and so the stock not known, a link below the
// larger usual stock's limit may be one of a thinner stock.
func worn(t *load.TieDown, d *load.Damage, c condition) condition {
	grade := ""
	if t.Grade.Reading == load.Read {
		grade = t.Grade.Value
	}
	limit, nominal, _, ok := tables.WornBelow(t.Size, grade)
	if !ok {
		c.fate, c.settle = maybe, settleDamage
		if t.Size == 0 {
			c.settle = settleSize
		}
		return c
	}
	stock, _, _ := tables.Stock(t.Size, grade)
	size := tables.Nominal(t.Size, load.Chain)
	least, most := d.Left, d.Left
	if d.Left == 0 {
		least, most = remains(min(stock, size), d), remains(max(stock, size), d)
	}
	switch {
	case most > max(stock, size)+size/8:
		c.fate, c.settle = maybe, settleLink // more than it was made of: a slip
	case least >= limit:
		return condition{}
	case most < nominal, most < limit && grade != "":
		c.fate = out
	case most < limit:
		c.fate, c.settle = maybe, settleGrade
	default:
		c.fate, c.settle = maybe, settleLink
	}
	return c
}

// remains is what is left of a size by what was told to be lost of it.
func remains(size load.Length, d *load.Damage) load.Length {
	lost := d.Lost
	if lost == 0 {
		n, ok := load.Times(d.Share, size)
		if !ok {
			return 0
		}
		lost = n
	}
	return max(size-lost, 0)
}

// wornRope takes a fibre rope by what is left of its diameter.
func wornRope(t *load.TieDown, d *load.Damage, c condition) condition {
	limit, ok := tables.HurtLimit(string(load.Cordage), "worn", "share")
	size := t.Size
	if d.Share > 0 && d.Left == 0 && d.Lost == 0 {
		size = load.Inch // a share of whatever it is
	}
	if !ok || size == 0 {
		c.fate, c.settle = maybe, settleSize
		return c
	}
	rest := d.Left
	if rest == 0 {
		rest = remains(size, d)
	}
	switch {
	case rest > size:
		c.fate, c.settle = maybe, settleRope // more than it was: a slip
	case limit.PastShare(int64(size-rest), int64(size)):
		c.fate = out
	default:
		return condition{}
	}
	return c
}

// hook takes a hook that has opened or is worn by the only figures found, those
// of rules for lifting: a share of the size as new, and for an opening a length.
func hook(d *load.Damage, c condition) condition {
	c.fate, c.settle = maybe, measureOf("hook", d)
	share, ok := tables.HurtLimit("hook", d.Kind, "share")
	if !ok {
		return c
	}
	lost, whole := int64(d.Lost), int64(d.New)
	if d.Share > 0 {
		lost, whole = int64(d.Share), int64(load.One)
	}
	most, limited := tables.HurtLimit("hook", d.Kind, "most")
	switch {
	case whole > 0 && share.PastShare(lost, whole), limited && d.Lost > most.Length():
		c.fate, c.settle = out, ""
	case whole > 0:
		return condition{}
	}
	return c
}

// wires takes the broken wires of a wire rope, by where they were counted. Along
// the rope they count within so many diameters; all of those may be in one strand
// until that is told. More than the rule for running crane rope lets pass in a lay
// counts, and is to be mended.
func wires(t *load.TieDown, counted []*load.Damage) condition {
	c := condition{why: hurtWord(t, counted[0]), fix: true, duty: "damaged"}
	rope := string(load.WireRope)
	along, _ := tables.HurtLimit(rope, "wires", "along")
	span, _ := tables.HurtLimit(rope, "wires", "span")
	strand, _ := tables.HurtLimit(rope, "wires", "strand")
	fitting, _ := tables.HurtLimit(rope, "wires", "fitting")
	crane, _ := tables.HurtLimit(rope, "wires", "crane lay")

	ran := load.Length(span.Count()) * t.Size // 0 where the diameter is not told
	sum := 0                                  // along the rope
	known, strandTold := true, false
	for _, d := range counted {
		within := d.Lay || ran > 0 && d.Over > 0 && d.Over <= ran
		if fitting.Past(d.Fitting) || strand.Past(d.Strand) || within && along.Past(d.Wires) {
			c.fate = out
		}
		strandTold = strandTold || d.Strand > 0
		known = known && d.Measured()
		if d.Wires > 0 {
			// Counted in less than the span there may be more of them; with no
			// length told some may be at a fitting. Only as few as every limit
			// allows are within all of them then.
			sum += d.Wires
			whole := d.Lay || ran > 0 && d.Over >= ran
			known = known && (whole && !along.Past(sum) || !fitting.Past(sum))
		}
	}
	switch {
	case c.fate == out:
	case !known, strand.Past(sum) && !strandTold:
		c.fate, c.settle = maybe, settleWires
	case sum > crane.Count():
	default:
		return condition{}
	}
	return c
}

// measureOf is the measure that would settle a hurt told without one.
func measureOf(part string, d *load.Damage) string {
	switch {
	case d.Kind == "repair link":
		return settleRepair
	case d.Kind == "rotted":
		return settleDamage
	case part == string(load.Webbing):
		return settleCut
	case part == string(load.Chain):
		return settleLink
	case part == string(load.Cordage) && (d.Kind == "worn" || d.Kind == "frayed"):
		return settleRope
	case part == "hook" && d.Kind == "opened":
		return settleOpened
	case part == "hook" && d.Kind == "worn":
		return settleHook
	}
	return settleDamage
}
