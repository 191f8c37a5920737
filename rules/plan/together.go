package plan

import (
	"cmp"
	"math"
	"slices"

	"halfweight/rules/load"
)

// together looks for the best answer by way of all articles as one: as many slots
// as they have in all, and their needs in one sum. Whatever answers for each
// article answers for that one too, so what it costs bounds every answer from below,
// and what pieces an answer is made of is among the ways to fill it. Those are taken
// in order of cost, and each is parted among the articles if it can be: the first
// that can at no loss is the best answer. It is true where that is proven.
//
// Where articles share many kinds of which few pieces are there, this bound is close
// and the parting easy; prices say little there.
func (s *sharing) together() (proven bool) {
	p := s.parting()
	if p == nil {
		return false
	}
	f := &finder{m: &model{kinds: s.m.kinds, wants: []want{p.from[0]}}, scale: s.scale, cost: s.costs(make([]int64, len(s.kinds))), steps: s.steps}
	ways, bar := f.cheapest(s.kinds, s.bestCost-1)
	if *s.steps < 0 {
		return false
	}
	for _, w := range ways {
		if w.cost >= s.bestCost {
			return true
		}
		if !p.part(w.uses) {
			return false
		}
	}
	return bar >= s.bestCost-1
}

// priced is a way to fill an article and what it costs.
type priced struct {
	uses []use
	cost int64
}

// mostWays is how many ways are looked at in order.
const mostWays = 2000

// cheapest is the ways to fill the one article of the model that cost no more than
// the limit, cheapest first. Where there are too many it is those that cost no more
// than bar.
func (f *finder) cheapest(caps []int, limit int64) (ways []priced, bar int64) {
	bar = limit
	order := func(a, b priced) int { return cmp.Compare(a.cost, b.cost) }
	under := func() int64 { return bar }
	f.frames(0, caps, under, func(fr *frame) {
		fr.search(caps, under, func(now []use, cost int64) {
			ways = append(ways, priced{slices.Clone(now), cost})
			if len(ways) == 2*mostWays {
				slices.SortStableFunc(ways, order)
				ways = ways[:mostWays]
				bar = ways[mostWays-1].cost - 1
			}
		})
	})
	slices.SortStableFunc(ways, order)
	return ways, bar
}

// parting parts pieces among the articles.
type parting struct {
	*sharing
	order  []int
	from   []want  // by place in order: the articles from there on as one; one longer than order
	ways   [][]use // by article
	left   []int
	narrow bool // each gets its share of what is to spare only
	failed map[string]load.Mass
}

// parting is nil where an article cannot be filled at all.
func (s *sharing) parting() *parting {
	n := len(s.m.wants)
	p := &parting{sharing: s, ways: make([][]use, n), order: make([]int, n)}
	for j := range p.order {
		p.order[j], p.ways[j] = j, make([]use, len(s.kinds))
	}
	slices.SortStableFunc(p.order, func(a, b int) int { return cmp.Compare(s.m.wants[b].credit, s.m.wants[a].credit) })
	p.from = make([]want, n+1)
	for i := range p.from {
		var ok bool
		if p.from[i], ok = s.m.asOne(p.order[i:]); !ok {
			return nil
		}
	}
	return p
}

// asOne is some articles as one: as many slots and as much credit as they take at
// least. ok is false where one of them cannot be filled at all.
func (m *model) asOne(articles []int) (all want, ok bool) {
	all = want{allDirect: true, of: make([]option, len(m.kinds))}
	for k := range all.of {
		all.of[k] = option{barred, barred}
	}
	for _, j := range articles {
		w := &m.wants[j]
		fewest, ok := w.fewest(m, m.all(), nil)
		if !ok {
			return all, false
		}
		all.number += fewest
		all.credit += w.least()
		all.add(w)
	}
	return all, true
}

// articles is the places of all articles.
func (m *model) articles() []int {
	list := make([]int, len(m.wants))
	for j := range list {
		list[j] = j
	}
	return list
}

// least is the credit that an article takes at least.
func (w *want) least() load.Mass {
	if w.spare {
		return max(0, w.credit+w.largest)
	}
	return max(0, w.credit)
}

// add adds the slots of another article, and what pieces count for at most on one of
// the two.
func (w *want) add(v *want) {
	w.direct, w.over, w.allDirect = w.direct+v.direct, w.over+v.over, w.allDirect && v.allDirect
	for k := range w.of {
		o := &w.of[k]
		o.direct = max(o.direct, v.of[k].direct)
		o.over = max(o.over, v.of[k].over)
		if !w.allDirect {
			o.over = max(o.over, o.direct) // a direct one beyond those asked for is taken as one over
		}
	}
}

// part looks for the best way to part pieces among the articles. It is false where
// the search was cut short.
func (p *parting) part(uses []use) bool {
	n := 0
	p.left = make([]int, len(uses))
	for k, u := range uses {
		p.left[k] = u.direct + u.over
		n += p.left[k]
	}
	for {
		least := p.target(n)
		if most := p.reachOf(0, n); least > most || most < p.from[0].credit {
			return true
		}
		before := p.bestCost
		for _, p.narrow = range [...]bool{true, false} {
			p.failed = make(map[string]load.Mass)
			if p.article(0, n, least) {
				break
			}
		}
		if *p.steps < 0 {
			return false
		}
		if p.bestCost == before {
			return true
		}
	}
}

// target is the credit that an answer of all the pieces left must come to so that it
// is better than the best so far.
func (p *parting) target(n int) load.Mass {
	paid := int64(n) * p.scale.piece
	for k, c := range p.left {
		paid += int64(c) * p.scale.weight * p.m.kinds[k].weight
	}
	if paid < p.bestCost {
		return 0
	}
	grains := paid - p.bestCost + 1
	if grains > math.MaxInt64/int64(p.scale.grain) {
		return math.MaxInt64
	}
	return load.Mass(grains) * p.scale.grain
}

// reachOf is the most credit that n pieces, all that are left, come to on the
// articles from place i on.
func (p *parting) reachOf(i, n int) load.Mass {
	w := &p.from[i]
	f := frame{finder: p.finder, w: w, direct: w.direct, over: n - w.direct, top: math.MaxInt64, even: w.even()}
	if w.allDirect {
		f.direct, f.over = n-w.over, w.over
	}
	if f.direct < 0 || f.over < 0 {
		return barred
	}
	return f.reach(0, f.direct, f.over, p.left, nil)
}

// article fills the article at place i and those after it with the n pieces left, so
// that they come to at least the target. It is true once a better answer is found.
func (p *parting) article(i, n int, target load.Mass) bool {
	if i == len(p.order) {
		before := p.bestCost
		p.offer(p.ways)
		return p.bestCost < before
	}
	most := p.reachOf(i, n)
	if most < target || most < p.from[i].credit {
		return false
	}
	key := p.key(i)
	if had, ok := p.failed[key]; ok && target >= had {
		return false
	}
	w := &p.m.wants[p.order[i]]
	fewest := p.from[i].number - p.from[i+1].number
	extra := n - p.from[i].number
	for e := range extra + 1 {
		if i == len(p.order)-1 && e < extra {
			continue // all must go
		}
		h := hand{i: i, n: n - fewest - e, direct: w.direct, over: fewest + e - w.direct, least: w.least(), most: most - p.from[i+1].credit, target: target}
		if w.allDirect {
			h.direct, h.over = fewest+e-w.over, w.over
		}
		if p.narrow && i < len(p.order)-1 {
			share := (most - p.from[i].credit) / load.Mass(len(p.order)-i)
			h.most = min(h.most, h.least+2*share)
		}
		if p.kind(&h, 0, h.direct, h.over, 0, 0, false) {
			return true
		}
	}
	if *p.steps >= 0 {
		p.failed[key] = target
	}
	return false
}

// key tells the state of a search apart.
func (p *parting) key(i int) string {
	b := make([]byte, 0, 2*len(p.left)+1)
	b = append(b, byte(i))
	for _, n := range p.left {
		b = append(b, byte(n), byte(n>>8))
	}
	return string(b)
}

// hand is one article being filled.
type hand struct {
	i, n         int // its place in order; pieces left after it
	direct, over int
	least, most  load.Mass // credit: of less it has not enough, of more the others have not
	target       load.Mass // of it and those after it
}

// kind decides how many of kind k and those after it go to the article, direct and
// over, as walk does. Where the loss of one is to be borne nothing is settled: the
// stronger one over may be what cannot be lost.
func (p *parting) kind(h *hand, k, direct, over int, sum, top load.Mass, settled bool) bool {
	*p.steps--
	if *p.steps < 0 {
		return false
	}
	w := &p.m.wants[p.order[h.i]]
	if direct+over == 0 {
		if sum > h.most || sum < max(0, w.credit) || w.spare && sum < w.credit+max(w.largest, top) {
			return false
		}
		return p.article(h.i+1, h.n, h.target-sum)
	}
	f := frame{w: w, top: math.MaxInt64, even: w.even()}
	if k == len(p.left) || sum+f.reach(k, direct, over, p.left, nil) < h.least {
		return false
	}
	if low := p.lowest(w, k, direct, over); low == barred || sum+low > h.most {
		return false
	}
	way := p.ways[p.order[h.i]]
	o := &w.of[k]
	mostOver, mostDirect := 0, 0
	if o.direct != barred {
		mostDirect = direct
	}
	if o.over != barred && !(settled && o.direct != barred) {
		mostOver = min(over, p.left[k])
	}
	n := p.left[k]
	for b := mostOver; b >= 0; b-- {
		for a := min(mostDirect, n-b); a >= 0; a-- {
			way[k] = use{a, b}
			p.left[k] = n - a - b
			t := top
			if b > 0 {
				t = max(t, o.over)
			}
			if a > 0 {
				t = max(t, o.direct)
			}
			found := p.kind(h, k+1, direct-a, over-b, sum+load.Mass(a)*o.direct+load.Mass(b)*o.over, t, !w.spare && (settled || a > 0 && o.over != barred))
			p.left[k] = n
			if found {
				way[k] = use{}
				return true
			}
		}
	}
	way[k] = use{}
	return false
}

// lowest is no more than the slots come to with the weakest pieces left of kind k
// and those after it; barred where there are too few.
func (p *parting) lowest(w *want, k, direct, over int) (sum load.Mass) {
	d, o := direct, over
	for i := len(p.left) - 1; i >= k && d+o > 0; i-- {
		if c := w.of[i].direct; c != barred && d > 0 {
			n := min(d, p.left[i])
			sum += c * load.Mass(n)
			d -= n
		}
		if c := w.of[i].over; c != barred && o > 0 {
			n := min(o, p.left[i])
			sum += c * load.Mass(n)
			o -= n
		}
	}
	if d+o > 0 {
		return barred
	}
	return sum
}
