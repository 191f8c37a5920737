package plan

import (
	"cmp"
	"slices"
)

// mostLeft is how many ways of one article are listed.
const mostLeft = 1000

// choose looks for the best answer among the ways that the prices leave. Of an answer
// that costs little above the bound each article's way costs no more than that above
// the article's cheapest: there are few such. So those are looked through that cost a
// little above it, then more, until an answer is found or there is no better one. It
// is true where it came to its end within so many steps: then no answer is better.
func (s *sharing) choose(bound int64, steps int) bool {
	var c *choice
	listed := s.try(listing*len(s.m.wants), func() bool { c = s.choice(bound); return c != nil })
	return listed && s.try(steps, func() bool { return c.deepen(bound) })
}

// deepen looks through what costs a little above the bound, then more.
func (c *choice) deepen(bound int64) bool {
	s := c.sharing
	for above := s.scale.weight / 4; ; above *= 2 {
		c.limit = min(bound+above, c.listed)
		c.article(0, slices.Clone(s.kinds), 0)
		switch {
		case *s.steps < 0:
			return false
		case s.bestCost-1 <= c.limit:
			return true
		case c.limit == c.listed:
			return false
		}
	}
}

// choice is nil where an article has too many ways.
func (s *sharing) choice(bound int64) *choice {
	n := len(s.m.wants)
	c := &choice{sharing: s, bound: bound, listed: s.bestCost - 1, ways: make([][]use, n), lists: make([][][]*chosen, n+1)}
	lists := make([][]*chosen, n)
	for j := range lists {
		if a := s.alike[j]; a < j {
			lists[j] = lists[a]
		} else {
			var above int64
			if lists[j], above = s.leaves(j, c.listed-bound); *s.steps < 0 {
				return nil
			}
			c.listed = bound + above
		}
		c.order = append(c.order, j)
	}
	slices.SortStableFunc(c.order, func(a, b int) int {
		return cmp.Or(cmp.Compare(len(lists[a]), len(lists[b])), cmp.Compare(s.alike[a], s.alike[b]))
	})
	for i := range c.lists {
		c.lists[i] = make([][]*chosen, n)
	}
	for i, j := range c.order {
		c.lists[0][i] = lists[j]
	}
	return c
}

// chosen is a way to fill an article.
type chosen struct {
	uses  []use
	kinds []piecesOf // that it uses
	above int64      // what it costs above the cheapest
	at    int        // its place in the whole list
}

type piecesOf struct{ kind, n int }

// leaves is the ways to fill article j that cost no more than so much above its
// cheapest, cheapest first. Where there are many it is the cheapest of them, those
// that cost no more than bar above it.
func (s *sharing) leaves(j int, above int64) (list []*chosen, bar int64) {
	bar = min(above, never-s.low[j])
	order := func(a, b *chosen) int { return cmp.Compare(a.above, b.above) }
	limit := func() int64 { return s.low[j] + bar }
	s.frames(j, s.kinds, limit, func(fr *frame) {
		fr.search(s.kinds, limit, func(now []use, cost int64) {
			w := &chosen{uses: slices.Clone(now), above: cost - s.low[j]}
			for k, u := range now {
				if u.direct+u.over > 0 {
					w.kinds = append(w.kinds, piecesOf{k, u.direct + u.over})
				}
			}
			if list = append(list, w); len(list) == 2*mostLeft {
				slices.SortStableFunc(list, order)
				list = list[:mostLeft]
				bar = list[mostLeft-1].above - 1
			}
		})
	})
	slices.SortStableFunc(list, order)
	for i := range list {
		list[i].at = i
	}
	return list, bar
}

// choice is the ways chosen so far.
type choice struct {
	*sharing
	bound  int64
	limit  int64 // what it may cost
	listed int64 // what the ways on the lists go up to
	order  []int
	ways   [][]use       // by article
	lists  [][][]*chosen // by articles chosen, by place in order: what is left to choose from
	last   int           // place in its list of the one chosen last
}

// article chooses for the article at place i in order. above is what those before it
// cost above their cheapest.
func (c *choice) article(i int, left []int, above int64) {
	if i == len(c.order) {
		c.offer(c.ways)
		return
	}
	same := i > 0 && c.alike[c.order[i]] == c.alike[c.order[i-1]]
	last := c.last
	for n := range c.lists[i][i] {
		w := c.lists[i][i][n]
		if same && w.at < last {
			continue // the same the other way round
		}
		if above+w.above+c.rest(i, i+1) > c.most() {
			break
		}
		for _, p := range w.kinds {
			left[p.kind] -= p.n
		}
		if c.strike(i, left) && above+w.above+c.rest(i+1, i+1) <= c.most() {
			c.ways[c.order[i]], c.last = w.uses, w.at
			c.article(i+1, left, above+w.above)
		}
		for _, p := range w.kinds {
			left[p.kind] += p.n
		}
		if *c.steps < 0 {
			return
		}
	}
	c.last = last
}

// most is what an answer looked for costs above the bound at the most.
func (c *choice) most() int64 { return min(c.limit, c.bestCost-1) - c.bound }

// rest is the least that the articles from a place on cost above their cheapest, by
// the lists as they are with so many chosen.
func (c *choice) rest(chosen, from int) (sum int64) {
	for i := from; i < len(c.order); i++ {
		if len(c.lists[chosen][i]) == 0 {
			return never
		}
		sum += c.lists[chosen][i][0].above
	}
	return sum
}

// strike strikes off what the pieces left do not do for, of the articles after the
// one at place i. It is false where one has nothing left.
func (c *choice) strike(i int, left []int) bool {
	for n := i + 1; n < len(c.order); n++ {
		list := c.lists[i+1][n][:0]
		for _, w := range c.lists[i][n] {
			if w.fits(left) {
				list = append(list, w)
			}
		}
		*c.steps -= 1 + len(c.lists[i][n])/4
		c.lists[i+1][n] = list
		if len(list) == 0 {
			return false
		}
	}
	return true
}

func (w *chosen) fits(left []int) bool {
	for _, p := range w.kinds {
		if left[p.kind] < p.n {
			return false
		}
	}
	return true
}
