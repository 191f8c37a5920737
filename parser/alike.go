package parser

import (
	"slices"

	"halfweight/rules/load"
)

// mostAlike is how many like machines are read: what one trailer carries.
const mostAlike = 6

// alike notes how many machines the noun at i tells of: "two skid steers". Its
// number stays unread unless finish finds that all was told of each of them.
func (r *reader) alike(i int) {
	a := r.cur
	k := r.backIn(i-1, 3, kMass, kBig)
	if a == nil || cargoKind(a.Kind) || !r.t(i).plural || !r.kindAt(k).in(kNum, kCount) {
		return
	}
	if t := r.t(k); t.num%load.One == 0 && t.num > load.One && t.num <= mostAlike*load.One {
		a.alike, a.alikeAt = int(t.num/load.One), k
	}
}

// eachAlike says whether "each" at i tells that there is as much on every machine:
// not "each side", nor "6600 lb each".
func (r *reader) eachAlike(i int) bool {
	return slices.Contains([]string{"each", "apiece", "a piece", "each one"}, r.sent(i)) &&
		!r.kindAt(i-1).in(kMass, kBig) && r.kindAt(i+1).in(kNone, kSep, kLine, kStop, kAnd)
}

// copies are the articles that one told of like machines stands for: itself alone
// unless its weight, its tie-downs and its parts were told of each.
func (r *reader) copies(a *article) []Article {
	if a.alike == 0 || !a.Weight.Known() || !r.weightOfEach(a) || a.lone || a.binders > 0 || a.Joint != (load.Joint{}) || len(r.changes) > 0 {
		return []Article{a.Article}
	}
	for _, c := range a.clauses {
		if !c.each || len(c.tags) > 0 || len(c.tie.State.Damage) > 0 {
			return []Article{a.Article}
		}
	}
	r.t(a.alikeAt).owner = OwnFact
	list := make([]Article, a.alike)
	for i := range list {
		list[i] = a.Article
		list[i].Lines, list[i].Ties, list[i].Parts = slices.Clone(a.Lines), slices.Clone(a.Ties), slices.Clone(a.Parts)
	}
	return list
}

// onEach gives tie-downs told of each of the machines named, "dozer 26000 lb and
// loader 24000 lb, 4x 1/2 g70 direct on each", to those named before the last too.
func (r *reader) onEach() {
	n := len(r.arts) - 1
	if n < 1 || len(r.changes) > 0 {
		return
	}
	last := r.arts[n]
	own := func(c *clause) bool { return !c.each || len(c.tags) > 0 || len(c.tie.State.Damage) > 0 }
	if len(last.clauses) == 0 || last.alike > 0 || last.binders > 0 || slices.ContainsFunc(last.clauses, own) {
		return
	}
	for _, a := range r.arts[:n] {
		if !a.noun || len(a.clauses) > 0 || a.alike > 0 || a.Bare {
			return
		}
	}
	for _, a := range r.arts[:n] {
		for _, c := range last.clauses {
			same := *c
			same.places = slices.Clone(c.places)
			a.clauses = append(a.clauses, &same)
		}
	}
}

// weightOfEach says whether the article's weight was told with "each".
func (r *reader) weightOfEach(a *article) bool {
	for i := range r.sig {
		if t := r.t(i); t.kind.in(kMass, kBig) && t.weight.Told == a.Weight.Told {
			each, _ := r.eachOrAll(i)
			return each
		}
	}
	return false
}
