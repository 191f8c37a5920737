package plan

import (
	"cmp"
	"math"
	"slices"
)

// How many steps a search may take. Past them the best found so far stands, and is
// said not to be proven.
const (
	patience = 700_000 // all that is searched for one question, every way of it
	first    = 20_000  // what is tried before anything longer
	second   = 100_000
	third    = 400_000
	listing  = 60_000 // to list the ways of one article
	batch    = 10     // rounds in which prices are set, after which it is seen what they leave
	batches  = 10
)

// solve finds the best answer of a model: fewest pieces, then the least weight,
// then the most credit. ok is false where there is none.
//
// Where the best ways to fill the articles, each by itself, leave none short of
// gear, together they are the best answer. Else the kinds of which too few are
// there get a price for every piece, so that articles leave them to those that
// gain most by them (the Lagrangian dual); what each article's cheapest way then
// costs, less the price of all there is, bounds every answer from below, and what
// the bound leaves is searched through (choose). The other bound is all articles
// taken as one (together); where one of the two is far off the other seldom is.
func (m *model) solve() (answer, bool) {
	most, ok := m.enough()
	if !ok {
		return answer{proven: true}, false
	}
	small, of := m.merged(m.prune(most))
	s := newSharing(small, most)
	uses, ok := s.solve()
	a := answer{proven: s.proven}
	if !ok && !a.proven {
		uses, ok = small.strongest()
	}
	if !ok {
		return a, false
	}
	a.uses = m.parted(uses, of)
	return a, true
}

// can says whether a model has an answer.
func (m *model) can() bool {
	_, ok := m.solve()
	return ok
}

// enough is a number of pieces that some answer does with, or all there are. ok
// is false where no answer can be: an article cannot be filled with all there is.
func (m *model) enough() (most int, ok bool) {
	order := make([]int, len(m.kinds))
	for k := range order {
		order[k] = k
		most += m.kinds[k].n
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(m.kinds[b].wll, m.kinds[a].wll) })
	sorted := m.take(order)
	for j := range sorted.wants {
		if _, ok := sorted.wants[j].fewest(sorted, sorted.all(), nil); !ok {
			return 0, false
		}
	}
	if all, ok := sorted.asOne(sorted.articles()); !ok {
		return 0, false
	} else if _, ok := all.fewest(sorted, sorted.all(), nil); !ok {
		return 0, false
	}
	if uses, ok := sorted.strongest(); ok {
		most = 0
		for j := range uses {
			for _, u := range uses[j] {
				most += u.direct + u.over
			}
		}
	}
	return most, true
}

// all is the pieces there are, by kind.
func (m *model) all() []int {
	left := make([]int, len(m.kinds))
	for k := range left {
		left[k] = m.kinds[k].n
	}
	return left
}

// strongest fills the articles in turn, each with the fewest of the strongest
// pieces left: an answer, if not the best. It finds none where a rule bars some
// kinds from some slots. The kinds are in order of strength.
func (m *model) strongest() (uses [][]use, ok bool) {
	left := m.all()
	for j := range m.wants {
		way := make([]use, len(left))
		if _, ok := m.wants[j].fewest(m, left, way); !ok || !m.wants[j].even() {
			return nil, false
		}
		for k, u := range way {
			left[k] -= u.direct + u.over
		}
		uses = append(uses, way)
	}
	return uses, true
}

// fewest is the least number of pieces out of left that fill an article, the
// strongest first, and notes them in taken, where that is not nil. Where a rule
// bars some kinds from some slots it is a bound from below.
func (w *want) fewest(m *model, left []int, taken []use) (n int, ok bool) {
	total := 0
	for _, c := range left {
		total += c
	}
	f := frame{finder: &finder{m: m}, w: w, even: w.even()}
	tops := w.tops()
	for n = max(w.direct+w.over, w.number); n <= total; n++ {
		f.direct, f.over = w.direct, n-w.direct
		if w.allDirect {
			f.direct, f.over = n-w.over, w.over
		}
		for _, f.top = range tops {
			need := max(0, w.credit)
			if w.spare {
				need = max(0, w.credit+f.top)
			}
			if f.reach(0, f.direct, f.over, left, nil) >= need {
				f.reach(0, f.direct, f.over, left, taken)
				return n, true
			}
		}
	}
	return 0, false
}

// sharing is the search over articles that share their gear.
type sharing struct {
	*finder
	kinds []int   // pieces there are, by kind
	price []int64 // of a piece, by kind, so that scarce ones are left to those that gain most

	found    [][]use // the best answer so far; nil none
	proven   bool    // no answer is better
	bestCost int64   // its cost; never, none

	low   []int64 // by article: the cost of its cheapest way at those prices
	alike []int   // by article: the first one that wants the same
}

func newSharing(m *model, most int) *sharing {
	if m.work == nil {
		work := patience
		m.work = &work
	}
	steps := patience
	s := &sharing{finder: &finder{m: m, scale: m.scaled(most), steps: &steps}, bestCost: never}
	s.kinds = make([]int, len(m.kinds))
	s.price = make([]int64, len(m.kinds))
	for k := range m.kinds {
		s.kinds[k] = min(m.kinds[k].n, most)
	}
	s.setPrices(s.price)
	s.low = make([]int64, len(m.wants))
	s.alike = make([]int, len(m.wants))
	for j := range m.wants {
		s.alike[j] = slices.IndexFunc(m.wants, func(w want) bool { return w.same(&m.wants[j]) })
	}
	return s
}

func (w *want) same(v *want) bool {
	return w.direct == v.direct && w.over == v.over && w.number == v.number && w.credit == v.credit &&
		w.allDirect == v.allDirect && w.spare == v.spare && w.largest == v.largest && slices.Equal(w.of, v.of)
}

// setPrices sets what a piece of each kind costs, its price with it.
func (s *sharing) setPrices(price []int64) { s.price, s.cost = price, s.costs(price) }

func (s *sharing) costs(price []int64) []int64 {
	cost := make([]int64, len(price))
	for k := range cost {
		cost[k] = s.scale.piece + s.scale.weight*s.m.kinds[k].weight + price[k]
	}
	return cost
}

// solve finds the best answer, proven or not.
func (s *sharing) solve() ([][]use, bool) {
	var ways [][]use
	var bound int64
	filled := false
	if ways, bound, filled = s.relaxed(nil); !filled || s.fits(ways) {
		s.proven = *s.steps >= 0
		return ways, filled
	}
	sound := *s.steps >= 0 // else it is no bound
	*s.steps = patience
	s.inTurn()
	s.proven = s.try(first, s.together) || sound && s.bidAndChoose(s.bidding(ways, bound))
	return s.found, s.found != nil
}

// bidAndChoose sets prices and looks through what they leave, until an answer is
// proven.
func (s *sharing) bidAndChoose(b *bidding) bool {
	for i := range batches {
		more := false
		if !s.try(*s.m.work, func() bool { more = b.rounds(batch); s.inTurn(); return *s.steps >= 0 }) {
			return false // the bound is none
		}
		if b.best >= s.bestCost || s.choose(b.best, first) || i == 1 && s.try(second, s.together) {
			return true
		}
		if !more {
			break
		}
	}
	return s.choose(b.best, second) || s.try(third, s.together) || s.choose(b.best, third)
}

// try searches with so many steps, of those that are left for the question. It is
// false where there are none, or the search does not come to its end within them.
func (s *sharing) try(steps int, search func() bool) bool {
	steps = min(steps, *s.m.work)
	if steps <= 0 {
		return false
	}
	*s.steps = steps
	done := search()
	*s.m.work -= steps - *s.steps
	return done
}

// relaxed is each article's best way at the prices, as if it were alone, and the
// bound that gives on every answer. before is its best ways at other prices.
func (s *sharing) relaxed(before [][]use) (ways [][]use, bound int64, ok bool) {
	ways = make([][]use, len(s.m.wants))
	for j := range ways {
		if a := s.alike[j]; a < j {
			ways[j], s.low[j] = ways[a], s.low[a]
		} else if ways[j], s.low[j], ok = s.best(j, s.kinds, s.costOf(before, j)); !ok {
			return nil, 0, false
		}
		bound += s.low[j]
	}
	for k, n := range s.kinds {
		bound -= s.price[k] * int64(n)
	}
	return ways, bound, true
}

// costOf is what a way to fill article j costs at the prices.
func (s *sharing) costOf(ways [][]use, j int) int64 {
	if ways == nil {
		return never
	}
	var cost int64
	for k, u := range ways[j] {
		o := &s.m.wants[j].of[k]
		cost += int64(u.direct)*(s.cost[k]-int64(o.direct/s.scale.grain)) + int64(u.over)*(s.cost[k]-int64(o.over/s.scale.grain))
	}
	return cost
}

// fits says whether there is gear enough for all the ways together.
func (s *sharing) fits(ways [][]use) bool {
	for k, n := range s.kinds {
		if used(ways, k) > n {
			return false
		}
	}
	return true
}

func used(ways [][]use, k int) (n int) {
	for j := range ways {
		n += ways[j][k].direct + ways[j][k].over
	}
	return n
}

// offer keeps an answer that is better than the best so far.
func (s *sharing) offer(ways [][]use) {
	var cost int64
	for j := range ways {
		cost += s.costOf(ways, j)
		for k, u := range ways[j] {
			cost -= s.price[k] * int64(u.direct+u.over)
		}
	}
	if cost >= s.bestCost {
		return
	}
	s.bestCost = cost
	s.found = make([][]use, len(ways))
	for j := range ways {
		s.found[j] = slices.Clone(ways[j])
	}
}

// inTurn offers the answers in which the articles take what they like best in
// turn: those that cost most first, and the other way round.
func (s *sharing) inTurn() {
	order := make([]int, len(s.low))
	for j := range order {
		order[j] = j
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(s.low[b], s.low[a]) })
	for range 2 {
		left := slices.Clone(s.kinds)
		ways := make([][]use, len(order))
		done := true
		for _, j := range order {
			way, _, ok := s.best(j, left, never)
			if !ok {
				done = false
				break
			}
			ways[j] = way
			for k, u := range way {
				left[k] -= u.direct + u.over
			}
		}
		if done {
			s.offer(ways)
		}
		slices.Reverse(order)
	}
}

// bidding is prices being set: of kinds that are asked for too often they are raised,
// of those that are left they are lowered, as far as that raises the bound.
type bidding struct {
	*sharing
	ways  [][]use // the best at the prices of now
	bound int64   // that those give
	price []float64
	pace  float64
	idle  int // rounds that raised nothing

	best      int64 // the best bound
	bestPrice []int64
}

func (s *sharing) bidding(ways [][]use, bound int64) *bidding {
	return &bidding{sharing: s, ways: ways, bound: bound, price: make([]float64, len(s.price)), pace: 1, best: bound, bestPrice: s.price}
}

// rounds sets the prices so many times and leaves the best ones set. It is false
// where no other prices would raise the bound.
func (b *bidding) rounds(n int) bool {
	more := true
	for range n {
		if more = b.best < b.bestCost && b.raise(); !more {
			break
		}
	}
	b.setPrices(b.bestPrice)
	b.relaxed(nil)
	return more
}

// raise sets the prices once.
func (b *bidding) raise() bool {
	gap := float64(b.bestCost - b.bound)
	if b.found == nil {
		gap = float64(b.scale.piece) * float64(len(b.ways))
	}
	var square float64
	for k, n := range b.kinds {
		over := float64(used(b.ways, k) - n)
		if over > 0 || b.price[k] > 0 {
			square += over * over
		}
	}
	if square == 0 {
		return false
	}
	next := make([]int64, len(b.price))
	for k, n := range b.kinds {
		b.price[k] = math.Max(0, b.price[k]+b.pace*gap/square*float64(used(b.ways, k)-n))
		next[k] = int64(b.price[k])
	}
	b.setPrices(next)
	ways, bound, ok := b.relaxed(b.ways)
	if !ok {
		return false // out of patience
	}
	b.ways, b.bound = ways, bound
	if b.fits(ways) {
		b.offer(ways)
	}
	if bound > b.best {
		b.best, b.bestPrice, b.idle = bound, next, 0
	} else if b.idle++; b.idle > 3 {
		b.pace, b.idle = b.pace/2, 0
	}
	return true
}
