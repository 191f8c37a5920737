package plan

import (
	"cmp"
	"slices"

	"halfweight/rules/load"
)

// model is what is to be solved, in whole numbers: how many pieces of each kind
// go to each article, direct and over.
type model struct {
	kinds []kind
	wants []want
	work  *int // steps that are left to search; nil as many as a question has
}

// kind is tie-downs that are alike.
type kind struct {
	wll    load.Mass
	weight int64 // hundredths of a pound per foot
	n      int   // pieces there are
}

// want is what one article still lacks. Its tie-downs are as many direct ones
// as its corners or ends lack, one over each part and joint, and beyond them what
// the number and the weight take: over, or direct where allDirect.
type want struct {
	direct    int // at least so many direct, at the corners or ends
	over      int // at least so many over, each on a part or on the joint
	number    int // at least so many in all
	credit    load.Mass
	allDirect bool

	// spare asks that the credit is still there after the loss of any one piece;
	// largest is then the greatest credit of one that is on already.
	spare   bool
	largest load.Mass

	of []option // what a piece of each kind counts for; as long as model.kinds
}

// option is what a piece of one kind counts for on one article, direct and over;
// barred where a rule does not allow it there.
type option struct{ direct, over load.Mass }

const barred = load.Mass(-1)

// use is how many of a kind go to one article.
type use struct{ direct, over int }

// answer is a solved model: uses[article][kind].
type answer struct {
	uses   [][]use
	proven bool // none is better; false where the search was cut short
}

// tally is what an answer comes to, in the order in which answers are compared.
type tally struct {
	pieces int
	weight int64     // hundredths of a pound per foot, of all pieces
	credit load.Mass // of all pieces
}

// compare is below 0 where t is the better one: fewer pieces, then less weight,
// then more credit.
func (t tally) compare(u tally) int {
	return cmp.Or(cmp.Compare(t.pieces, u.pieces), cmp.Compare(t.weight, u.weight), cmp.Compare(u.credit, t.credit))
}

// prune leaves out the kinds that no answer needs: those of which enough are
// there that are rated no less and weigh no more. most is a number of pieces that
// an answer is known to do with. It returns the places of those kept, strongest
// first.
func (m *model) prune(most int) []int {
	var keep []int
	for k := range m.kinds {
		better := 0
		for b := range m.kinds {
			if b != k && m.better(b, k) {
				better += m.kinds[b].n
			}
		}
		if better < most && m.kinds[k].n > 0 {
			keep = append(keep, k)
		}
	}
	slices.SortStableFunc(keep, func(a, b int) int {
		return cmp.Or(cmp.Compare(m.kinds[b].wll, m.kinds[a].wll), cmp.Compare(m.kinds[a].weight, m.kinds[b].weight))
	})
	return keep
}

// better says whether a piece of kind b can always stand in for one of kind a;
// of two alike the first.
func (m *model) better(b, a int) bool {
	x, y := &m.kinds[b], &m.kinds[a]
	if x.weight > y.weight {
		return false
	}
	same := x.weight == y.weight
	for j := range m.wants {
		p, q := &m.wants[j].of[b], &m.wants[j].of[a]
		if p.direct < q.direct || p.over < q.over {
			return false
		}
		same = same && *p == *q
	}
	return !same || b < a
}

// take is the model with the kinds at those places only.
func (m *model) take(keep []int) *model {
	t := &model{kinds: make([]kind, len(keep)), wants: slices.Clone(m.wants), work: m.work}
	for i, k := range keep {
		t.kinds[i] = m.kinds[k]
	}
	for j := range t.wants {
		of := make([]option, len(keep))
		for i, k := range keep {
			of[i] = m.wants[j].of[k]
		}
		t.wants[j].of = of
	}
	return t
}

// merged is the model with the kinds at those places only, those that no article
// tells apart as one. of is the places that each of its kinds stands for.
func (m *model) merged(keep []int) (small *model, of [][]int) {
	var first []int
	for _, k := range keep {
		i := slices.IndexFunc(first, func(f int) bool { return m.equal(f, k) })
		if i < 0 {
			first, of = append(first, k), append(of, []int{k})
			continue
		}
		of[i] = append(of[i], k)
	}
	small = m.take(first)
	for i := range of {
		small.kinds[i].n = 0
		for _, k := range of[i] {
			small.kinds[i].n += m.kinds[k].n
		}
	}
	return small, of
}

// equal says whether no article tells two kinds apart.
func (m *model) equal(a, b int) bool {
	for j := range m.wants {
		if m.wants[j].of[a] != m.wants[j].of[b] {
			return false
		}
	}
	return m.kinds[a].weight == m.kinds[b].weight
}

// parted gives what the merged kinds are used for back to those they stand for, as
// far as each goes.
func (m *model) parted(uses [][]use, of [][]int) [][]use {
	out := make([][]use, len(uses))
	left := make([]int, len(m.kinds))
	for k := range left {
		left[k] = m.kinds[k].n
	}
	for j := range uses {
		out[j] = make([]use, len(m.kinds))
		for i, u := range uses[j] {
			for _, k := range of[i] {
				d := min(u.direct, left[k])
				o := min(u.over, left[k]-d)
				out[j][k] = use{d, o}
				left[k] -= d + o
				u.direct, u.over = u.direct-d, u.over-o
			}
		}
	}
	return out
}
