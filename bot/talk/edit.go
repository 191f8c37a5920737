package talk

import (
	"slices"

	"halfweight/rules/load"
)

// Edit is one resolved change of the load. Articles and tie-downs go by ID.
type Edit struct {
	Clear   bool          `json:"clear,omitzero"`   // the load is put away; only the first edit of a turn
	Article *load.Article `json:"article,omitzero"` // facts laid over the article of that ID, its Ties joined to it; a new one where none has the ID
	IDs     []int         `json:"ids,omitempty"`    // the tie-downs that the rest is about
	Set     *load.TieDown `json:"set,omitzero"`     // facts laid over each
	Do      Deed          `json:"do,omitempty"`     // what was done to each
	Hurt    *load.Damage  `json:"hurt,omitzero"`    // told of each
	Gone    string        `json:"gone,omitempty"`   // with Leave: "came off", "lost", "taken off"
}

// Deed is what was done to a tie-down.
type Deed string

// The deeds.
const (
	Loosen  Deed = "loose"
	Tighten Deed = "tight"
	Replace Deed = "replaced" // by another like it
	Leave   Deed = "gone"     // not on any more
	Return  Deed = "back"     // on again
	Strike  Deed = "struck"   // was never there: a count put right
	Restore Deed = "restored" // is as Set says, whole
)

// apply changes l, which must be a copy (see clone). What e holds is not
// changed, nor shared with l where l could change it later.
func (e *Edit) apply(l *load.Load) {
	if e.Clear {
		*l = load.Load{}
	}
	if e.Article != nil {
		lay(articleIn(l, e.Article.ID), e.Article)
	}
	for _, id := range e.IDs {
		a, i := find(l, id)
		switch {
		case a == nil:
		case e.Do == Strike:
			a.Ties = slices.Delete(a.Ties, i, i+1)
		default:
			e.change(&a.Ties[i])
		}
	}
}

// articleIn is the article of that ID, a new one where none has it.
func articleIn(l *load.Load, id int) *load.Article {
	for i := range l.Articles {
		if l.Articles[i].ID == id {
			return &l.Articles[i]
		}
	}
	l.Articles = append(l.Articles, load.Article{ID: id})
	return &l.Articles[len(l.Articles)-1]
}

// find is the tie-down of that ID: its article, and where it stands there.
func find(l *load.Load, id int) (a *load.Article, i int) {
	for j := range l.Articles {
		a := &l.Articles[j]
		for i := range a.Ties {
			if a.Ties[i].ID == id {
				return a, i
			}
		}
	}
	return nil, 0
}

// change does e to one tie-down.
func (e *Edit) change(t *load.TieDown) {
	switch e.Do {
	case Restore:
		*t = *e.Set
		return
	case Loosen:
		if t.State.Tight != load.No {
			t.State.Slipped++
		}
		t.State.Tight = load.No
	case Tighten:
		t.State.Tight = load.Yes
	case Replace:
		t.State = load.State{NoGuard: t.State.NoGuard, NoTag: t.State.NoTag}
		if t.Tensioner.Has == load.No {
			t.Tensioner.Has = load.Untold
		}
		if e.Set != nil && (e.Set.Material != "" || e.Set.Size != 0 || e.Set.Grade != load.Grade{}) {
			*t = load.TieDown{ID: t.ID, Line: t.Line, Route: t.Route, Place: t.Place, Anchor: t.Anchor, State: t.State}
		}
	case Leave:
		t.State.Gone = e.Gone
	case Return:
		t.State.Gone = ""
	}
	if e.Hurt != nil {
		hurt(t, *e.Hurt)
	}
	if e.Set != nil {
		set(t, e.Set)
	}
}

// set lays the facts told in f over t.
func set(t, f *load.TieDown) {
	put(&t.Material, f.Material)
	if f.Size != 0 {
		t.Size, t.SizeWord = f.Size, f.SizeWord
	}
	put(&t.Thick, f.Thick)
	put(&t.Make, f.Make)
	put(&t.Grade, f.Grade)
	if f.Mark > 0 && !f.State.NoTag { // a tag was found after all
		t.State.NoTag = false
		if t.Grade.Reading == load.NoMarks {
			t.Grade = load.Grade{}
		}
	}
	t.State.NoTag = t.State.NoTag || f.State.NoTag
	put(&t.Mark, f.Mark)
	put(&t.Tensioner.Has, f.Tensioner.Has)
	put(&t.Tensioner.Kind, f.Tensioner.Kind)
	put(&t.Tensioner.Rating, f.Tensioner.Rating)
	put(&t.Tensioner.Label, f.Tensioner.Label)
	put(&t.Tensioner.Stamp, f.Tensioner.Stamp)
	put(&t.Tensioner.Tag, f.Tensioner.Tag)
	if t.Tensioner.Has == load.No && (f.Tensioner.Rating > 0 || f.Tensioner.Kind != "" || f.Tensioner.Label != "") {
		t.Tensioner.Has = load.Yes
	}
	put(&t.Hook, f.Hook)
	put(&t.HookStamp, f.HookStamp)
	put(&t.Anchor, f.Anchor)
	put(&t.Route, f.Route)
	if f.Place != (load.Place{}) {
		spread := t.Place.Spread
		t.Place = f.Place
		if f.Place.Spread == "" && f.Place.On == "" && f.Place.End != "middle" {
			t.Place.Spread = spread // one of those told at the corners
		}
	}
	put(&t.State.Tight, f.State.Tight)
	if len(t.State.Damage) == 0 {
		put(&t.State.Sound, f.State.Sound)
	}
	t.State.NoGuard = t.State.NoGuard || f.State.NoGuard
	put(&t.State.Guarded, f.State.Guarded)
	t.Shared = t.Shared || f.Shared
	t.FromGear = t.FromGear && f.Size == 0 && f.Grade == load.Grade{} && f.Mark == 0
	put(&t.Tag, f.Tag)
}

// put sets *to where v was told.
func put[T comparable](to *T, v T) {
	var untold T
	if v != untold {
		*to = v
	}
}
