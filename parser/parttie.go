package parser

import (
	"halfweight/rules/load"
)

// partTie reads what is told of the tie-down on the part at token p: the part
// is not held by it any more, or it is again.
func (r *reader) partTie(p, mat, i, j int) {
	what := r.t(i).kind
	held := what.in(kTight, kTighten, kReplace, kSound)
	start := r.back(min(p, mat)-1, kDet) + 1
	name := r.t(p).word
	c := Change{Ref: Ref{Like: load.TieDown{Place: load.Place{On: name}}}}
	var s subject
	if e, ok := r.edit(i, &s, nil, false); ok {
		c.Edit = e
		r.changes = append(r.changes, c)
	}
	r.partTies = append(r.partTies, partTie{name, held, what == kLoose})
	r.take(start, j)
}

// partTie is what became of the tie-down on a part, where it was told by the
// part's name only.
type partTie struct {
	part  string
	held  bool
	loose bool // it is there, and loose
}
