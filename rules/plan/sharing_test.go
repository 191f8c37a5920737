package plan

import (
	"math/rand/v2"
	"testing"
)

// Two ways that share nothing but the model must find answers that cost the same:
// all articles as one, parted, and each article's ways that prices leave.
func TestSharing_bothWaysFindWhatCostsTheSame(t *testing.T) {
	stock := shelf(t)
	both, spare := 0, 0
	for seed := range uint64(1500) {
		r := rand.New(rand.NewPCG(seed, 3))
		c := randomCase(r, stock)
		for n := 2 + r.IntN(6); len(c.articles) < n; {
			c.articles = append(c.articles, randomArticle(r, &c))
		}
		m := newPlanner(c.ask()).model
		if c.direct {
			for j := range m.wants {
				m.wants[j].allDirect = m.wants[j].direct > 0
			}
		}
		most, ok := m.enough()
		if !ok {
			continue
		}
		small, _ := m.merged(m.prune(most))
		search := func(how func(*sharing, *bidding) bool) (cost int64, done bool) {
			work := patience
			small.work = &work
			s := newSharing(small, most)
			ways, bound, ok := s.relaxed(nil)
			if !ok || s.fits(ways) {
				return 0, false
			}
			s.inTurn()
			done = how(s, s.bidding(ways, bound))
			return s.bestCost, done
		}
		one, ok1 := search(func(s *sharing, _ *bidding) bool { return s.try(second, s.together) })
		each, ok2 := search(func(s *sharing, b *bidding) bool {
			return s.try(patience/2, func() bool { b.rounds(3 * batch); return *s.steps >= 0 }) && (b.best >= s.bestCost || s.choose(b.best, second))
		})
		if ok1 && ok2 {
			if both++; one != each {
				t.Errorf("case %d: %d as one, %d by prices", seed, one, each)
			}
			if c.spare {
				spare++
			}
		}
	}
	t.Logf("%d cases, %d of them with one spare", both, spare)
	if both < 200 || spare < 20 {
		t.Errorf("only %d cases, %d with one spare", both, spare)
	}
}
