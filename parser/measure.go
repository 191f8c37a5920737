package parser

import "halfweight/rules/load"

// This file reads the measure of a damage: how wide a cut is, how much of a
// link is left.

// measureAt takes a measure of the condition, or a word that goes with one.
func (r *reader) measureAt(c *condition, k int) bool {
	if r.t(c.at).hurt != nil {
		return false // told with its measure already
	}
	switch t := r.t(k); t.kind {
	case kSize:
		if !r.measures(c.at) || !c.before.told && !c.after.told && !c.before.fitting && r.kindAt(k+1).in(kMat, kGrade) {
			return false
		}
		if !c.unsure {
			c.sizes = append(c.sizes, t.size)
		}
	case kNum:
		if t.num >= load.One || !c.what.in(kDamage, kTail) {
			return false
		}
		c.thin, _ = load.Times(t.num, load.Inch)
	case kHedge:
		c.unsure = true
		return false
	case kDoubt:
		c.unsure = true
	case kTail, kTo:
	case kEach:
		if t.raw == "per" {
			return false
		}
		c.both = true
	case kSpread:
		if t.word != "ends" {
			return false
		}
		c.both = true
	default:
		return false
	}
	return true
}

// measure puts the size right before the condition at the head of its measures.
func (r *reader) measure(c *condition) {
	size := r.t(c.head).size
	c.sizes = append([]load.Length{size}, c.sizes...)
	if k := c.head - 1; r.kindAt(k) == kNum && c.before.number && r.t(k).num <= 4*load.One {
		// "strap has two 1/4 nicks": so many of that measure
		for n := r.t(k).num/load.One - 1; n > 0; n-- {
			c.sizes = append(c.sizes, size)
		}
		c.both = false
		c.before.uncount()
	}
}

// measures says whether a size told with the damage at i is its measure.
func (r *reader) measures(i int) bool {
	if r.t(i).kind != kDamage {
		return false
	}
	return gash(r.t(i).word) || r.leftOf(i) || r.kindAt(i+1) == kTo
}

// gash says whether a damage of that word is measured by its own size; of
// others only what is left can be told.
func gash(word string) bool {
	switch word {
	case "cut", "nicked", "burned", "hole", "frayed", "gouged":
		return true
	}
	return false
}

// measureBefore says whether a size right before the damage at i is its
// measure: "a 1/2 in cut".
func (r *reader) measureBefore(i, from int) bool {
	if r.t(i).kind != kDamage || r.t(i).hurt != nil || i-1 < from || r.t(i-1).kind != kSize || !gash(r.t(i).word) {
		return false
	}
	switch r.kindAt(i - 2) {
	case kNum, kCount:
		// "one 3/8 cut" is the chain's size; "strap two 1/4 nicks" the cuts'
		return r.kindAt(i-3).in(kMat, kWith)
	}
	return true
}

// leftOf says whether a measure after token i is told as what is left.
func (r *reader) leftOf(i int) bool {
	for k := i + 1; k < len(r.sig) && k < i+6; k++ {
		if r.t(k).kind == kTail {
			return true
		}
	}
	return false
}
