package parser

import (
	"strconv"
	"strings"

	"halfweight/rules/load"
)

// This file reads what is told of an article that is no machine: how many there
// are, how it lies, its shape, what it rides on, what keeps it from rolling.

// cargoKinds are the nouns that are plainly not on wheels or tracks.
var cargoKinds = map[string]bool{
	"crate": true, "pallet": true, "bundle": true, "box": true, "beam": true, "steel": true, "pipe": true, "cargo": true,
	"loose bucket": true, "loose attachment": true, "unknown": true, "spool": true, "log": true, "lumber": true, "coil": true,
	"paper roll": true, "concrete pipe": true, "container": true, "flattened vehicle": true, "roll-off container": true, "boulder": true,
}

func cargoKind(k string) bool { return cargoKinds[k] }

// cargoWord takes a fact told in a word of the dictionary ("lies=on end"), which
// stands for the article being read, or by itself for the one in hand.
func (r *reader) cargoWord(i int) {
	t := r.t(i)
	if r.doubtful(i, i+1) || r.kindAt(i-1) == kBe && (r.t(i-1).raw == "was" || r.t(i-1).raw == "were") {
		return // a plan, a doubt, or what was so before
	}
	fact, value, _ := strings.Cut(t.word, "=")
	no := r.kindAt(i-1) == kNeg && r.t(i-1).owner == ""
	if value == "" {
		r.numbered(i, fact)
		return
	}
	c := &r.article().Cargo
	yes := tri(value != "no")
	if no && (value == "yes" || value == "no") {
		yes = tri(value == "no")
	}
	switch fact {
	case "lies":
		c.Lies = value
	case "shape":
		c.Shape = value
	case "walls":
		if c.Walls, _ = strconv.Atoi(value); c.Walls == 0 {
			c.Walls = load.NoWalls
		}
	case "tiers":
		c.Tiers, _ = strconv.Atoi(value)
	case "stacks":
		c.Stacks, _ = strconv.Atoi(value)
	case "chassis":
		c.Chassis = yes
	case "empty":
		c.Empty = yes
	case "locked":
		c.Locked = yes
	case "chocked":
		c.Chocked = yes
	case "banded":
		c.Banded = yes
	case "touching":
		if yes == load.Yes { // "not touching": they may still be blocked apart
			c.Touching = yes
		}
	case "special":
		c.Special = yes
	case "checked":
		c.Checked = yes
	}
	if fact == "locked" && value == "no" && r.kindAt(i-1).in(kNum, kCount) {
		r.own(i-1, OwnPhrase) // "one twist lock missing": however many
	}
	if no && (value == "yes" || value == "no") {
		r.own(i-1, OwnFact)
	} else if no {
		return // "not crosswise": how, is not told
	}
	r.own(i, OwnFact)
}

// numbered takes a word that counts by the number beside it: "3 walls", "two
// stacks", "3 tiers", "36 in inside diameter".
func (r *reader) numbered(i int, fact string) {
	c := &r.article().Cargo
	if fact == "bore" {
		r.bore(i)
		return
	}
	n, at := 0, -1
	for _, k := range [...]int{i - 1, i + 1, i + 2, i + 3} {
		if r.kindAt(k) == kNone {
			break
		}
		t := r.t(k)
		switch {
		case t.kind.in(kNum, kCount) && t.num%load.One == 0 && t.owner != OwnFact:
			n, at = int(t.num/load.One), k
		case r.kindAt(k) == kAll && strings.Contains(t.word+r.sent(k), "4"), r.kindAt(k) == kAll && strings.Contains(r.sent(k), "four"):
			n, at = 4, k
		case r.kindAt(k).in(kOn, kDet, kAll):
			continue
		case k < i:
			continue
		}
		break
	}
	const most = 200
	if at < 0 || n < 1 || n > most || fact == "walls" && n > 4 {
		return
	}
	switch fact {
	case "walls":
		c.Walls = n
	case "tiers":
		c.Tiers = n
	case "stacks":
		c.Stacks = n
	}
	last := max(i, at)
	if fact == "walls" && r.kindAt(last+1) != kNone && strings.HasPrefix(r.t(last+1).raw, "side") {
		last++ // "walls on 3 sides"
	}
	r.ownAll(min(i, at), last+1, OwnFact)
	r.skip = max(r.skip, last+1)
}

// bore takes the inside diameter named at i, whose figure stands before or behind
// it: "36 in inside diameter", "inside diameter 36 in".
func (r *reader) bore(i int) {
	inch := func(k int) bool { return r.kindAt(k).in(kOn, kUnit) && (r.t(k).raw == "in" || r.t(k).raw == "inch") }
	k := i - 1
	if inch(k) {
		k--
	}
	if !r.kindAt(k).in(kSize, kLength, kNum) || r.t(k).owner == OwnFact {
		for k = i + 1; r.kindAt(k).in(kBe, kOf, kDet); k++ {
		}
	}
	size := load.Length(0)
	switch t := r.kindAt(k); {
	case t.in(kSize, kLength):
		size = r.t(k).size
	case t == kNum:
		size, _ = load.Times(r.t(k).num, load.Inch)
	}
	if size <= 0 {
		return
	}
	last := max(i, k)
	if inch(last + 1) {
		last++
	}
	r.article().Cargo.Bore = size
	r.ownAll(min(i, k), last+1, OwnFact)
	r.skip = max(r.skip, last+1)
}

// high takes "two high", told of bundles.
func (r *reader) high(i int) bool {
	const most = 20
	t := r.t(i)
	if r.kindAt(i+1) != kWide || r.t(i+1).raw != "high" || r.cur == nil || !cargoKind(r.cur.Kind) || t.num%load.One != 0 || t.num > most*load.One {
		return false
	}
	r.cur.Cargo.Tiers = int(t.num / load.One)
	r.ownAll(i, i+2, OwnFact)
	r.skip = i + 2
	return true
}

// round says whether a kind is told by its diameter.
func round(kind string) bool {
	return kind == "concrete pipe" || kind == "pipe" || kind == "coil" || kind == "spool" || kind == "paper roll"
}

// roundAhead says whether a noun of such a kind stands at piece j: "24 in culvert".
func (b *builder) roundAhead(j int) bool {
	e, n, _ := b.phrase(j)
	return n > 0 && e.kind == kKind && round(e.word)
}

// widest is wider than any strap: a size beyond it is of the cargo.
const widest = 6 * load.Inch

// across takes the size at i for the diameter of a pipe, coil or the like that is
// being read or told next, where no tie-down is so wide.
func (r *reader) across(i int) bool {
	if r.t(i).size <= widest || r.kindAt(i+1).in(kMat, kCargo, kLong, kWide) {
		return false
	}
	if r.kindAt(i+1) == kKind && round(r.t(i+1).word) {
		return true // the noun takes it
	}
	if r.cur == nil || !round(r.cur.Kind) {
		return false
	}
	r.sizeOf(r.cur, i)
	return true
}

// sizeOf takes the size at i as an article's own: of concrete pipe its inside
// diameter.
func (r *reader) sizeOf(a *article, i int) {
	if a.Kind != "concrete pipe" || a.Cargo.Bore > 0 {
		r.own(i, OwnPhrase)
		return
	}
	a.Cargo.Bore = r.t(i).size
	r.own(i, OwnFact)
}

// piecesOf takes "4 pcs", "8 joints", told of the article being read.
func (r *reader) piecesOf(i int) bool {
	const most = 1000
	t, k := r.t(i), r.sig[i]+1
	if r.cur == nil || !cargoKind(r.cur.Kind) || r.cur.Kind == "log" || r.cur.Cargo.Pieces > 0 || k >= len(r.toks) || t.num%load.One != 0 || t.num < load.One || t.num > most*load.One {
		return false
	}
	switch r.toks[k].raw {
	case "pcs", "pc", "pieces", "joints", "sticks", "lengths":
	default:
		return false
	}
	r.cur.Cargo.Pieces = int(t.num / load.One)
	r.own(i, OwnFact)
	if r.kindAt(i+1) != kNone && r.sig[i+1] == k {
		r.own(i+1, OwnFact)
		r.skip = i + 2
	}
	return true
}

// pieces takes the number of like pieces before the noun at i: "6 pallets", "10
// 20 ft pipes". One told as "a" or "the" is one.
func (r *reader) pieces(i int) {
	a := r.cur
	if a == nil || !cargoKind(a.Kind) || a.Kind == "unknown" {
		return
	}
	k := r.backIn(i-1, 4, kMass, kBig, kLength, kLong, kCargo, kSize, kOf)
	t := &tok{}
	if k >= 0 {
		t = r.t(k)
	}
	switch {
	case r.kindAt(k).in(kNum, kCount) && t.num%load.One == 0 && t.num >= load.One && (t.owner == "" || t.owner == OwnUnread) && r.kindAt(k-1) != kCount && !r.taggedOut(k):
		const most = 1000
		if n := int(t.num / load.One); n <= most {
			a.Cargo.Pieces = n
			r.own(k, OwnFact)
		}
	case a.Kind != "lumber" && a.Kind != "log":
	case r.kindAt(k) == kDet && (t.raw == "a" || t.raw == "an" || t.raw == "one") && !r.t(i).plural && a.Cargo.Pieces == 0:
		a.Cargo.Pieces = 1
	}
	switch a.Kind {
	case "log", "lumber", "flattened vehicle", "paper roll", "steel":
	default:
		a.Cargo.Several = r.t(i).plural && a.Cargo.Pieces == 0
	}
	if a.Kind == "log" && a.Cargo.Pieces > 0 {
		// of logs a number is of stacks, where a stack is what was told
		n := a.Cargo.Pieces
		a.Cargo.Pieces = 0
		if s := r.sent(i); strings.Contains(s, "pile") || strings.Contains(s, "stack") {
			a.Cargo.Stacks = n
		}
	}
	// "36 in concrete pipe": its inside diameter
	if round(a.Kind) && r.kindAt(i-1) == kSize && r.t(i-1).owner != OwnFact {
		r.sizeOf(a, i-1)
	}
}

// weighsEach takes a weight told of each of several as that of all of them; told
// neither of each nor of all, it may be either. Of each of a number not told, it
// tells nothing of the whole.
func (r *reader) weighsEach(a *article) {
	w, n := &a.Weight, load.Mass(a.Cargo.Pieces)
	a.Cargo.Several = a.Cargo.Several && n == 0
	if !w.Known() || n == 1 || !cargoKind(a.Kind) {
		return
	}
	each, all := false, false
	for i := range r.sig {
		if t := r.t(i); t.kind.in(kMass, kBig) && t.weight.Told == w.Told {
			each, all = r.eachOrAll(i)
		}
	}
	switch most := load.Mass(maxPounds) * load.Pound; {
	case n == 0 && each:
		r.unweigh(a)
	case n == 0 && all:
		a.Cargo.Total = true
	case n == 0 || all:
	case w.High > most/n && each:
		r.unweigh(a)
	case w.High > most/n:
	case each:
		w.Told, w.Low, w.High = w.Told*n, w.Low*n, w.High*n
	default:
		w.Told, w.High = w.Told*n, w.High*n
	}
}

// eachOrAll says whether the weight at i is told of each piece, or of all.
func (r *reader) eachOrAll(i int) (each, all bool) {
	if r.kindAt(i+1) == kEach && r.t(i+1).raw != "both" {
		return true, false
	}
	from := r.sig[i]
	for k := max(0, from-2); k < len(r.toks) && k < from+4; k++ {
		switch r.toks[k].raw {
		case "total", "altogether", "together", "combined", "all":
			all = true
		case "ea", "apiece":
			each = each || k > from
		default:
			if k > from && !r.toks[k].kind.in(kFiller, kAll, kOn, kFor) {
				return each, all
			}
		}
	}
	return each, all
}

// cargoCompany settles words that tell something else beside a thing that is no
// machine: a loaded container, stacks of logs, a coil crosswise; each by itself
// as well, for it may answer a question.
func (c *company) cargoCompany() {
	stacked := false
	for i := range c.toks {
		t := &c.toks[i]
		stacked = stacked || t.kind == kKind && (t.word == "log" || t.word == "flattened vehicle")
	}
	for i := range c.toks {
		t := &c.toks[i]
		switch {
		case t.raw == "loaded" && t.kind == kFiller && c.beside(i, "container", "roll-off container"):
			t.kind, t.word = kCargo, "empty=no"
		case t.kind == kKind && (t.word == "bundle" || t.word == "pallet" || t.word == "crate" || t.word == "box"):
			if t.word == "bundle" && stacked && (t.raw == "stack" || t.raw == "stacks") {
				t.kind, t.word = kCargo, "stacks"
				continue
			}
			c.contents(i)
		case t.kind == kRoute && (t.raw == "crosswise" || t.raw == "crossways" || t.raw == "sideways") &&
			c.beside(i, "coil", "log", "concrete pipe", "paper roll", "pipe"):
			t.kind, t.word = kCargo, "lies=crosswise"
		}
	}
}

// contents settles "bundle of pipe", "pallet of boulders", "4 bundles osb": the
// thing that is handled is the article, save that a bundle of lumber is lumber and
// that a stack is what is stacked.
func (c *company) contents(i int) {
	j := i + 1
	for j < len(c.toks) && (c.toks[j].kind.in(kFiller, kDecor, kOf)) {
		j++
	}
	if j >= len(c.toks) || c.toks[j].kind != kKind || !cargoKind(c.toks[j].word) || j > i+2 {
		return
	}
	if c.toks[i].word == "bundle" && c.toks[j].word == "lumber" {
		c.toks[i].kind = kFiller
		return
	}
	if keepsRule(&c.toks[i], c.toks[j].word) {
		return
	}
	for k := i + 1; k <= j; k++ {
		c.toks[k].kind = kFiller
	}
}

// beside says whether token i stands by itself, or right beside a noun of one of
// the kinds.
func (c *company) beside(i int, kinds ...string) bool {
	j, k := c.prev(i)
	n, next := i+1, c.next(i)
	for n < len(c.toks) && c.toks[n].kind.in(kFiller, kDecor) {
		n++
	}
	if k == kNone && next == kNone {
		return true
	}
	for k.in(kLength, kMass, kBig, kSep, kLong, kEach) {
		j, k = c.prev(j)
	}
	named := func(t *tok) bool {
		for _, kind := range kinds {
			if t.kind == kKind && t.word == kind {
				return true
			}
		}
		return false
	}
	return j >= 0 && named(&c.toks[j]) || next != kNone && n < len(c.toks) && (named(&c.toks[n]) || next == kLength && n+1 < len(c.toks) && named(&c.toks[n+1]))
}
