package parser

import (
	"sort"

	"halfweight/rules/load"
)

// attached is a condition that waits for the clause it stands in.
type attached struct {
	at   int
	edit Edit
	all  bool // told of everything: "tight and checked"
}

// attachAt applies what waits for the clause that is being read at token i.
func (r *reader) attachAt(i int) {
	n := sort.Search(len(r.attach), func(n int) bool { return r.attach[n].at >= i })
	for _, x := range r.attach[n:] {
		if x.at != i {
			break
		}
		c := r.lastOrOpen()
		if c == nil || x.all && r.brokeBack(i) {
			which := r.allOr()
			if x.all || x.edit.Set.State.NoTag || x.edit.Set.Tensioner.Has != load.Untold {
				which = All
			}
			r.changes = append(r.changes, Change{Ref: Ref{Which: which}, Edit: x.edit})
			continue
		}
		c.apply(x.edit)
	}
}

// allOr points at all tie-downs where this message told some, else at the one
// spoken of.
func (r *reader) allOr() Which {
	for _, a := range r.arts {
		if len(a.clauses) > 0 {
			return All
		}
	}
	if r.cl != nil {
		return All
	}
	return It
}

// brokeBack says whether a separator stands before the condition at i.
func (r *reader) brokeBack(i int) bool {
	return r.kindAt(r.backIn(i-1, window, kTaken, kAnd)).in(kSep, kLine, kStop)
}

// apply lays a condition over all pieces of a clause.
func (c *clause) apply(e Edit) {
	s := &c.tie.State
	if e.Loose {
		s.Tight = load.No
	}
	if e.Set.State.Tight == load.Yes {
		s.Tight = load.Yes
	}
	if e.Set.State.Sound == load.Yes {
		s.Sound = load.Yes
	}
	s.NoGuard = s.NoGuard || e.Set.State.NoGuard && c.tie.Material != load.Chain
	s.NoTag = s.NoTag || e.Set.State.NoTag
	s.Damage = append(s.Damage, e.Damage...)
	if e.Gone != "" {
		s.Gone = e.Gone
	}
	if e.Set.Grade.Reading != load.NotRead {
		c.tie.Grade = e.Set.Grade
		c.named = true
	}
	if e.Set.Tensioner.Has != load.Untold {
		c.tie.Tensioner.Has = e.Set.Tensioner.Has
	}
}
