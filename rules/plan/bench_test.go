package plan

import (
	"fmt"
	"testing"

	"halfweight/rules"
	"halfweight/rules/load"
)

// benchAsk is so many tractors that together weigh so many pounds, and gear of so
// many kinds, a few pieces of each.
func benchAsk(tb testing.TB, kinds, pounds, articles int) Ask {
	a := Ask{Set: rules.Federal}
	stock := shelf(tb)
	for i := range kinds {
		t := stock[i*7%len(stock)].tie
		if i >= len(stock) { // the same chains with lesser binders
			t.Tensioner.Rating = t.Tensioner.Rating*load.Mass(90-i%13)/100 + load.Pound*2000
		}
		a.Gear = append(a.Gear, Stock{t, 2 + i%5})
	}
	for i := range articles {
		w := load.Mass(pounds/articles+100*i) * load.Pound
		a.Load.Articles = append(a.Load.Articles, load.Article{ID: i + 1, Name: "dozer", Kind: "dozer", Weight: load.Exact(w, false)})
	}
	return a
}

func BenchmarkMake(b *testing.B) {
	type size struct{ kinds, pounds, articles int }
	for _, s := range []size{
		{4, 30000, 1}, {15, 30000, 1}, {60, 30000, 1},
		{60, 60000, 1}, {60, 120000, 1}, {60, 400000, 1},
		{60, 400000, 2}, {60, 400000, 5}, {60, 400000, 10},
	} {
		b.Run(fmt.Sprintf("kinds=%d,lb=%d,articles=%d", s.kinds, s.pounds, s.articles), func(b *testing.B) {
			a := benchAsk(b, s.kinds, s.pounds, s.articles)
			b.ReportAllocs()
			var r Result
			for b.Loop() {
				r = Make(a)
			}
			if len(r.Plans) == 0 {
				b.Fatal("no plan")
			}
			proven := 1.0
			for _, p := range r.Plans {
				if !p.Proven {
					proven = 0
				}
			}
			b.ReportMetric(proven, "proven")
			b.ReportMetric(float64(r.Plans[0].Pieces), "pieces")
		})
	}
}

// The largest loads that the project speaks of: 60 kinds of gear, 400,000 lb.
func TestMake_manyKindsAndArticlesAreProven(t *testing.T) {
	for _, articles := range []int{1, 2, 3, 5} {
		for _, p := range Make(benchAsk(t, 60, 400000, articles)).Plans {
			if !p.Proven {
				t.Errorf("%d articles: the plan with %d pieces is not proven", articles, p.Pieces)
			}
		}
	}
}
