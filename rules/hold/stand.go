package hold

import (
	"math"
	"slices"

	"halfweight/rules/load"
)

// corner is one of the four at which a tie-down pulls away from the article.
type corner int

const (
	frontLeft corner = iota
	frontRight
	rearLeft
	rearRight
	corners
)

// sign is 1 or -1: to the front, to the left.
func (c corner) sign() (front, left float64) {
	return [...]float64{1, 1, -1, -1}[c], [...]float64{1, -1, 1, -1}[c]
}

// standing is the tension of one kind of tie-down at each corner.
type standing struct {
	kind  kind
	sum   [corners]float64
	count [corners]int
}

// ground is the tie-downs while they are put in their places.
type ground struct {
	stands []standing
	taken  [corners]int // pieces that hold there
	out    []*Tie       // pieces set aside whose corner is known
	took   bool         // some were taken one to a corner or to a side
}

// stand puts direct and same-side tie-downs of the article itself at the corners
// where they pull. Those told together at the corners, at an end or on a side are
// spread evenly, and one of them that is out is missing where it hurts most; what
// is left over, and those in the middle, stand nowhere.
func stand(ties []Tie) (stands []standing, took bool) {
	g := &ground{}
	var loose []*Tie // no place told
	spread := map[spreadKey][]*Tie{}
	var order []spreadKey
	for i := range ties {
		t := &ties[i]
		if !t.pulls() {
			continue
		}
		if c, ok := cornerOf(t.Place); ok {
			g.put(t, c, t.WLL, t.kind())
		}
		key, ok := spreadOf(t)
		if !ok {
			if t.Place == (load.Place{}) {
				loose = append(loose, t)
			}
			continue
		}
		if _, seen := spread[key]; !seen {
			order = append(order, key)
		}
		spread[key] = append(spread[key], t)
	}
	for _, key := range order {
		g.spread(spread[key], key)
	}
	g.fill(loose)
	return g.stands, g.took
}

// pulls says whether t pulls on the article itself from a place on the trailer.
func (t *Tie) pulls() bool {
	direct := t.Route == load.Direct || t.Route == "" && (t.Place.Spread == "corners" || t.Place.Side != "" && t.Place.End != "")
	return (direct || t.Route == load.SameSide) && t.Place.On == "" && t.Place.End != "middle"
}

func (t *Tie) kind() kind {
	if t.Route == load.SameSide {
		return kind{up: t.Up, loop: true}
	}
	return kind{up: t.Up, out: t.Out}
}

// cornerOf is the corner told.
func cornerOf(p load.Place) (corner, bool) {
	at := map[[2]string]corner{{"front", "left"}: frontLeft, {"front", "right"}: frontRight, {"rear", "left"}: rearLeft, {"rear", "right"}: rearRight}
	c, ok := at[[2]string{p.End, p.Side}]
	return c, ok
}

// spreadKey is what tie-downs have in common that are spread evenly together.
type spreadKey struct {
	line     int    // told together; 0 where the place alone says it
	over     string // "corners", "ends", an end, a side
	sameSide bool
}

// spreadOf is how t is spread over corners. One whose corner is known by now is
// still one of those it was told with.
func spreadOf(t *Tie) (spreadKey, bool) {
	p := t.Place
	key := spreadKey{sameSide: t.Route == load.SameSide}
	switch {
	case p.Spread != "":
		key.line, key.over = t.Line, p.Spread
	case p.End != "" && p.Side == "":
		key.over = p.End
	case p.Side != "" && p.End == "":
		key.over = p.Side
	default:
		return key, false
	}
	return key, true
}

// slots are the corners over which they are spread.
func (k spreadKey) slots() []corner {
	switch k.over {
	case "front":
		return []corner{frontLeft, frontRight}
	case "rear":
		return []corner{rearLeft, rearRight}
	case "left":
		return []corner{frontLeft, rearLeft}
	case "right":
		return []corner{frontRight, rearRight}
	}
	return []corner{frontLeft, frontRight, rearLeft, rearRight}
}

// spread puts the same number at each corner.
func (g *ground) spread(ties []*Tie, key spreadKey) {
	var open []*Tie
	known := [corners]int{}
	lost := 0
	for _, t := range ties {
		if c, ok := cornerOf(t.Place); ok {
			known[c]++
			continue
		}
		if t.WLL > 0 {
			open = append(open, t)
		} else {
			lost++
		}
	}
	slots := key.slots()
	total := len(ties)
	if key.line == 0 {
		for _, c := range slots { // all that are told to stand there
			known[c] = g.taken[c] + g.outAt(c, ties)
			total += known[c]
		}
	}
	each, wanted := total/len(slots), 0
	for _, c := range slots {
		wanted += max(0, each-known[c])
	}
	if wanted > len(open)+lost {
		return // what is told of some does not go with an even spread
	}
	for _, c := range slots {
		if n := each - known[c] - lost; n > 0 && len(open) > 0 {
			g.took = true
			g.several(open, n, c)
		}
	}
}

// fill puts direct ones with no place told one to a corner, where there are enough
// for every corner that has none.
func (g *ground) fill(ties []*Tie) {
	var open []*Tie
	for _, t := range ties {
		if t.WLL > 0 && t.Route == load.Direct {
			open = append(open, t)
		}
	}
	var empty []corner
	for c := range corners {
		if g.taken[c] == 0 && g.outAt(c, open) == 0 {
			empty = append(empty, c)
		}
	}
	if len(empty) == 0 || len(open) < len(empty) {
		return
	}
	g.took = true
	for _, c := range empty {
		g.several(open, 1, c)
	}
}

// outAt counts the pieces set aside at a corner that were told together with some
// of others: those others stand elsewhere.
func (g *ground) outAt(c corner, others []*Tie) (n int) {
	for _, t := range g.out {
		if at, _ := cornerOf(t.Place); at == c && slices.ContainsFunc(others, func(o *Tie) bool { return o.Line == t.Line }) {
			n++
		}
	}
	return n
}

// several puts n of some at a corner: which of them is not known, so each is taken
// as the weakest, and its angles as wide as theirs together.
func (g *ground) several(some []*Tie, n int, c corner) {
	k, wll := some[0].kind(), some[0].WLL
	for _, t := range some {
		wll = math.Min(wll, t.WLL)
		k.up, k.out = k.up.with(t.kind().up), k.out.with(t.kind().out)
	}
	for range n {
		g.put(some[0], c, wll, k)
	}
}

// with is the range that holds both.
func (r Range) with(o Range) Range { return Range{math.Min(r.Low, o.Low), math.Max(r.High, o.High)} }

// put puts one tie-down at a corner.
func (g *ground) put(t *Tie, c corner, wll float64, k kind) {
	if !t.sound() {
		g.out = append(g.out, t)
		return
	}
	g.taken[c]++
	for i := range g.stands {
		if s := &g.stands[i]; s.kind == k {
			s.sum[c] += wll
			s.count[c]++
			return
		}
	}
	s := standing{kind: k}
	s.sum[c], s.count[c] = wll, 1
	g.stands = append(g.stands, s)
}
