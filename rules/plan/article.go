package plan

import (
	"math"
	"math/bits"
	"slices"

	"halfweight/rules/load"
)

// scale makes one number of the three things that answers are compared by, so
// that the least cost is the best answer: pieces first, then weight, then credit.
type scale struct {
	piece  int64     // cost of a piece: more than any weight
	weight int64     // cost of a hundredth of a pound per foot: more than any credit
	grain  load.Mass // credit that takes 1 off the cost
	exact  bool      // every credit is a whole number of grains
}

// coarse is the grain where the credits have no larger one in common. Less than
// it to spare makes no difference between two plans.
const coarse = load.Pound / 2

// most grains that all credits together may come to.
const mostGrains = 1 << 24

// scaled is the scale for answers of at most that many pieces.
func (m *model) scaled(pieces int) scale {
	var common, largest load.Mass
	var heaviest int64
	for k := range m.kinds {
		heaviest = max(heaviest, m.kinds[k].weight)
		for j := range m.wants {
			for _, c := range [...]load.Mass{m.wants[j].of[k].direct, m.wants[j].of[k].over} {
				if c > 0 {
					common, largest = gcd(common, c), max(largest, c)
				}
			}
		}
	}
	s := scale{grain: max(common, 1), exact: true}
	if largest/s.grain > mostGrains/load.Mass(pieces+1) {
		s.grain, s.exact = coarse, false
	}
	s.weight = int64(largest/s.grain+1)*int64(pieces+1) + 1
	s.piece = s.weight * (heaviest*int64(pieces+1) + 1)
	return s
}

func gcd(a, b load.Mass) load.Mass {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// finder looks for the ways to fill one article.
type finder struct {
	m     *model
	scale scale
	cost  []int64 // of a piece of each kind before its credit is taken off: with its price, where gear is shared
	steps *int    // left to take before the search is cut short

	// Room for the frame in hand, used again for the next one.
	low, paid, sum []int64
	betters        []uint64
}

// frame is a number of slots of one article to be filled: so many direct, so many
// over, none of more credit than top. Its tables bound what is still to come.
type frame struct {
	*finder
	w            *want
	direct, over int
	top          load.Mass
	need         load.Mass
	even         bool // whatever may go direct may go over, and the other way round

	slope int64   // cost that a grain of credit is worth here
	least int64   // no way to fill it costs less
	low   []int64 // by kind, direct and over slots: least cost of filling that many from that kind on, credit taken off at the slope

	// Where only the best way is looked for: by kind, those before it (a bit each)
	// of which a piece can stand in for one of it, at no more cost. While one of them
	// is left none of it is used.
	betters []uint64

	caps  []int
	now   []use
	limit func() int64 // ways that cost more are not looked for
	yield func(cost int64)
}

const never = int64(math.MaxInt64 / 4)

// frames gives the frames of article j in order of pieces, as long as one might
// hold a way that costs no more than the limit.
func (f *finder) frames(j int, caps []int, limit func() int64, each func(*frame)) {
	f.eachFrame(j, caps, limit, false, each)
}

// eachFrame is frames; with reuse a frame stands until the next one only.
func (f *finder) eachFrame(j int, caps []int, limit func() int64, reuse bool, each func(*frame)) {
	w := &f.m.wants[j]
	cheapest, pieces := never, 0
	for k := range f.m.kinds {
		o := &w.of[k]
		if caps[k] > 0 && (o.direct >= 0 || o.over >= 0) {
			cheapest = min(cheapest, f.cost[k]-int64(max(o.direct, o.over)/f.scale.grain))
		}
		pieces += caps[k]
	}
	tops := w.tops()
	for n := max(w.direct+w.over, w.number); n <= pieces && cheapest*int64(n) <= limit() && *f.steps >= 0; n++ {
		for _, top := range tops {
			fr := &frame{finder: f, w: w, direct: w.direct, over: n - w.direct, top: top, need: max(0, w.credit), even: w.even()}
			if w.allDirect {
				fr.direct, fr.over = n-w.over, w.over
			}
			if w.spare {
				fr.need = max(0, w.credit+top)
			}
			if reuse {
				fr.low = f.low
			}
			if fr.bound(caps, limit()) {
				each(fr)
			}
			if reuse {
				f.low = fr.low
			}
		}
	}
}

// tops are the greatest credits of one piece that are to be tried: any, or where
// the loss of one is to be borne, each that there is.
func (w *want) tops() []load.Mass {
	if !w.spare {
		return []load.Mass{math.MaxInt64}
	}
	list := []load.Mass{w.largest}
	for k := range w.of {
		for _, c := range [...]load.Mass{w.of[k].direct, w.of[k].over} {
			if c > w.largest {
				list = append(list, c)
			}
		}
	}
	slices.Sort(list)
	return slices.Compact(list)
}

func (w *want) even() bool {
	for k := range w.of {
		if (w.of[k].direct == barred) != (w.of[k].over == barred) {
			return false
		}
	}
	return true
}

// at is the credit of a kind in a slot of the frame, barred where it may not.
func (f *frame) at(k int, over bool) load.Mass {
	c := f.w.of[k].direct
	if over {
		c = f.w.of[k].over
	}
	if c > f.top {
		return barred
	}
	return c
}

// bound works out the frame's tables from the dual of the problem in which
// pieces may be cut: the slope at which the cheapest pieces just make the need.
// It is false where no way to fill the frame costs limit or less.
func (f *frame) bound(caps []int, limit int64) bool {
	if f.reach(0, f.direct, f.over, caps, nil) < f.need {
		return false
	}
	grains := int64(f.need / f.scale.grain)
	if f.scale.exact {
		grains = int64((f.need + f.scale.grain - 1) / f.scale.grain)
	}
	low, ok := f.fill(0, caps)
	if !ok || low.cost > limit {
		return false
	}
	best := low
	if low.grains < grains {
		high, _ := f.fill(steepest, caps)
		const turns = 40 // far more than it takes
		for range turns {
			slope := min((high.cost-low.cost)/max(1, high.grains-low.grains), never/2/(high.grains+grains+1))
			best, _ = f.fill(slope, caps)
			if best.value()+slope*grains > limit {
				return false
			}
			if best.value() >= low.cost-slope*low.grains || best.grains == low.grains || best.grains == high.grains {
				break
			}
			if best.grains < grains {
				low = best
			} else {
				high = best
			}
		}
	}
	f.slope = best.slope
	f.least = best.value() + f.slope*grains
	return true
}

// steepest is a slope at which credit is all that counts.
const steepest = int64(-1)

// filled is what the slots come to.
type filled struct {
	slope, cost, grains int64
}

func (f filled) value() int64 { return f.cost - f.slope*f.grains }

// fill fills the slots with what costs least at a slope, kind by kind from the last
// one on, and leaves in low what that comes to from each kind on.
func (f *frame) fill(slope int64, caps []int) (filled, bool) {
	row := (f.direct + 1) * (f.over + 1)
	size := (len(caps) + 1) * row
	*f.steps -= size / 8 // what it takes, next to a step of a search
	if len(f.low) < size {
		f.low = make([]int64, size)
	}
	if len(f.paid) < size {
		f.paid, f.sum = make([]int64, size), make([]int64, size)
	}
	end := len(caps) * row
	for i := end + 1; i < size; i++ {
		f.low[i] = never
	}
	f.low[end], f.paid[end], f.sum[end] = 0, 0, 0
	for k := len(caps) - 1; k >= 0; k-- {
		f.fillFrom(k, slope, caps[k], row)
	}
	last := row - 1
	return filled{slope, f.paid[last], f.sum[last]}, f.low[last] < never
}

// fillFrom works out the rows of low, paid and sum of kind k from those of the
// kinds after it.
func (f *frame) fillFrom(k int, slope int64, n, row int) {
	var each, paid, sum [2]int64
	var most [2]int
	for i, over := range [...]bool{false, true} {
		if c := f.at(k, over); c != barred {
			paid[i] = f.cost[k] - int64(c/f.scale.grain)
			sum[i] = int64((c + f.scale.grain - 1) / f.scale.grain)
			each[i] = paid[i] - slope*sum[i]
			most[i] = n
			if slope == steepest {
				each[i] = -sum[i]
			}
		}
	}
	at, next := k*row, (k+1)*row
	wide := f.over + 1
	for d := 0; d <= f.direct; d++ {
		for o := 0; o <= f.over; o++ {
			best, bestD, bestO := never, 0, 0
			for a := 0; a <= min(d, most[0]); a++ {
				left := next + (d-a)*wide
				for b := 0; b <= min(o, most[1], n-a); b++ {
					if low := f.low[left+o-b]; low < never {
						if v := low + int64(a)*each[0] + int64(b)*each[1]; v < best {
							best, bestD, bestO = v, a, b
						}
					}
				}
			}
			i := at + d*wide + o
			f.low[i] = best
			if best < never {
				from := next + (d-bestD)*wide + o - bestO
				f.paid[i] = f.paid[from] + int64(bestD)*paid[0] + int64(bestO)*paid[1]
				f.sum[i] = f.sum[from] + int64(bestD)*sum[0] + int64(bestO)*sum[1]
			}
		}
	}
}

// reach is the most credit that the slots left can come to from kind k on. The
// kinds are in order of strength, so that where all may go anywhere the strongest
// go over and the next ones direct. What it takes is noted in taken, where that is
// not nil.
func (f *frame) reach(k, direct, over int, caps []int, taken []use) load.Mass {
	var sum load.Mass
	for ; k < len(caps) && direct+over > 0; k++ {
		n := caps[k]
		if c := f.at(k, true); c != barred && over > 0 {
			used := min(n, over)
			over -= used
			sum += c * load.Mass(used)
			if f.even {
				n -= used
			}
			if taken != nil {
				taken[k].over = used
			}
		}
		if c := f.at(k, false); c != barred && direct > 0 {
			used := min(n, direct)
			direct -= used
			sum += c * load.Mass(used)
			if taken != nil {
				taken[k].direct = used
			}
		}
	}
	if direct+over > 0 {
		return barred
	}
	return sum
}

// search gives every way to fill the frame from caps that costs no more than the
// limit, but of ways that differ only in which piece goes direct the best one.
// caps may be less than the frame was bound with.
func (f frame) search(caps []int, limit func() int64, yield func(now []use, cost int64)) {
	f.caps, f.now, f.limit = caps, make([]use, len(caps)), limit
	f.yield = func(cost int64) { yield(f.now, cost) }
	f.walk(0, f.direct, f.over, f.need, 0, false)
}

// walk decides kind k and those after it. settled says that a piece that could go
// over goes direct: then no weaker one that could go direct goes over, for the two
// would do better the other way round.
func (f *frame) walk(k, direct, over int, need load.Mass, cost int64, settled bool) {
	*f.steps--
	if *f.steps < 0 {
		return
	}
	if direct+over == 0 {
		if need <= 0 && cost <= f.limit() && f.touchesTop() {
			f.yield(cost)
		}
		return
	}
	if k == len(f.caps) || f.reach(k, direct, over, f.caps, nil) < need {
		return
	}
	grains := int64(need / f.scale.grain)
	if need < 0 {
		grains = -int64((-need + f.scale.grain - 1) / f.scale.grain)
	}
	low := f.low[(k*(f.direct+1)+direct)*(f.over+1)+over]
	if low >= never || cost+low+f.slope*grains > f.limit() {
		return
	}
	if f.betters != nil && f.leavesBetter(k) {
		f.walk(k+1, direct, over, need, cost, settled)
		return
	}
	mostOver, mostDirect := 0, 0
	overEach, directEach := f.at(k, true), f.at(k, false)
	if directEach != barred {
		mostDirect = direct
	}
	if overEach != barred && !(settled && directEach != barred) {
		mostOver = min(over, f.caps[k])
	}
	for o := mostOver; o >= 0; o-- {
		for d := min(mostDirect, f.caps[k]-o); d >= 0; d-- {
			f.now[k] = use{d, o}
			credit := load.Mass(d)*directEach + load.Mass(o)*overEach
			paid := int64(d+o) * f.cost[k]
			if d > 0 {
				paid -= int64(d) * int64(directEach/f.scale.grain)
			}
			if o > 0 {
				paid -= int64(o) * int64(overEach/f.scale.grain)
			}
			f.walk(k+1, direct-d, over-o, need-credit, cost+paid, settled || d > 0 && overEach != barred)
		}
	}
	f.now[k] = use{}
}

// rank works out betters, of the first kinds that there are bits for.
func (f *frame) rank(caps []int) {
	if len(f.finder.betters) < len(caps) {
		f.finder.betters = make([]uint64, len(caps))
	}
	f.betters = f.finder.betters[:len(caps)]
	for k := range caps {
		f.betters[k] = 0
		for b := range min(k, 64) {
			if caps[b] > 0 && f.cost[b] <= f.cost[k] && f.at(b, true) >= f.at(k, true) && f.at(b, false) >= f.at(k, false) {
				f.betters[k] |= 1 << b
			}
		}
	}
}

// leavesBetter says whether a piece is left that can stand in for one of kind k.
func (f *frame) leavesBetter(k int) bool {
	for set := f.betters[k]; set != 0; set &= set - 1 {
		b := bits.TrailingZeros64(set)
		if f.now[b].direct+f.now[b].over < f.caps[b] {
			return true
		}
	}
	return false
}

// touchesTop says whether the largest piece is that of the frame: a way with none
// so large is one of another frame as well.
func (f *frame) touchesTop() bool {
	if !f.w.spare || f.top == f.w.largest {
		return true
	}
	for k, u := range f.now {
		if u.direct > 0 && f.at(k, false) == f.top || u.over > 0 && f.at(k, true) == f.top {
			return true
		}
	}
	return false
}

// best is the way to fill article j that costs least and no more than limit.
func (f *finder) best(j int, caps []int, limit int64) (uses []use, cost int64, ok bool) {
	cost = limit
	bar := func() int64 { return cost }
	f.eachFrame(j, caps, bar, true, func(fr *frame) {
		fr.rank(caps)
		fr.search(caps, bar, func(now []use, c int64) {
			uses, cost, ok = append(uses[:0], now...), c-1, true
		})
	})
	if ok {
		cost++
	}
	return uses, cost, ok
}
