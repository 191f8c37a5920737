package plan

import (
	"cmp"
	"slices"
)

// mostLeft is how many ways of one article are searched through at most.
const mostLeft = 4000

// choose looks for the best answer among the ways that the prices leave: of each
// article those that cost no more above its cheapest than the best answer costs
// above the bound. Those are listed once; one is chosen for each article in turn,
// and of the others what the pieces left do not reach for is struck off. It is true
// where it came to its end within so many steps: then no answer is better.
func (s *sharing) choose(bound int64, steps int) bool {
	*s.steps = steps
	n := len(s.m.wants)
	c := &choice{sharing: s, bound: bound, ways: make([][]use, n), lists: make([][][]chosen, n+1)}
	lists := make([][]chosen, n)
	for j := range lists {
		if a := s.alike[j]; a < j {
			lists[j] = lists[a]
		} else if lists[j] = s.leaves(j, bound); lists[j] == nil {
			return *s.steps >= 0 && s.bestCost < never // none is left: none is better
		}
		c.order = append(c.order, j)
	}
	slices.SortStableFunc(c.order, func(a, b int) int {
		return cmp.Or(cmp.Compare(len(lists[a]), len(lists[b])), cmp.Compare(s.alike[a], s.alike[b]))
	})
	for i := range c.lists {
		c.lists[i] = make([][]chosen, n)
	}
	for i, j := range c.order {
		c.lists[0][i] = lists[j]
	}
	c.article(0, slices.Clone(s.kinds), 0)
	return *s.steps >= 0
}

// chosen is a way to fill an article.
type chosen struct {
	uses  []use
	kinds []piecesOf // that it uses
	above int64      // what it costs above the cheapest
	at    int        // its place in the whole list
}

type piecesOf struct{ kind, n int }

// leaves is the ways that the prices leave to article j, cheapest first; nil where
// there are none, or too many.
func (s *sharing) leaves(j int, bound int64) (list []chosen) {
	limit := func() int64 {
		if len(list) > mostLeft {
			*s.steps = -1
		}
		return min(never, s.low[j]+s.bestCost-1-bound)
	}
	s.frames(j, s.kinds, limit, func(fr *frame) {
		fr.search(s.kinds, limit, func(now []use, cost int64) {
			w := chosen{uses: slices.Clone(now), above: cost - s.low[j]}
			for k, u := range now {
				if u.direct+u.over > 0 {
					w.kinds = append(w.kinds, piecesOf{k, u.direct + u.over})
				}
			}
			list = append(list, w)
		})
	})
	slices.SortStableFunc(list, func(a, b chosen) int { return cmp.Compare(a.above, b.above) })
	for i := range list {
		list[i].at = i
	}
	return list
}

// choice is the ways chosen so far.
type choice struct {
	*sharing
	bound int64
	order []int
	ways  [][]use      // by article
	lists [][][]chosen // by articles chosen, by place in order: what is left to choose from
	last  int          // place in its list of the one chosen last
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
		w := &c.lists[i][i][n]
		if same && w.at < last {
			continue // the same the other way round
		}
		if above+w.above+c.rest(i, i+1) > c.bestCost-1-c.bound {
			break
		}
		for _, p := range w.kinds {
			left[p.kind] -= p.n
		}
		if c.strike(i, left) && above+w.above+c.rest(i+1, i+1) <= c.bestCost-1-c.bound {
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

// rest is the least that the articles from a place on cost above their cheapest, by
// the lists as they are with so many chosen.
func (c *choice) rest(chosen, from int) (sum int64) {
	for i := from; i < len(c.order); i++ {
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
		*c.steps -= 1 + len(c.lists[i][n])/8
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
