package parser

import (
	"halfweight/rules/load"
)

// tensioner reads a binder or ratchet told without its rating.
func (r *reader) tensioner(i int) {
	t := r.t(i)
	r.lastFitting = kTens
	c := r.lastOrOpen()
	if c == nil {
		return
	}
	if k := r.past(i+1, kOn); k > i+1 && r.kindAt(k) == kNum && (r.t(k).num < load.One*load.Micro(max(c.count, 1)) || c.count < 2 && r.kindAt(k+1).in(kOf, kThem)) {
		r.aside = true // "binders on three of them": what of the fourth
	}
	if n := len(t.tags); n > 1 || n == 1 && (c.count > 1 || c.plural) {
		return // which binder is on which is not told
	} else if n == 1 {
		c.tie.Tensioner.Tag = t.tags[0]
	}
	if c.tie.Tensioner.Has == load.Untold {
		c.tie.Tensioner.Has = load.Yes
	}
	if c.tie.Tensioner.Kind == "" {
		c.tie.Tensioner.Kind = t.word
	}
	r.own(i, OwnFact)
	if r.kindAt(i+1) == kEach {
		r.own(i+1, OwnPhrase)
	}
}

// ratingWords are the tokens of a rating phrase.
type ratingWords struct {
	a, b     int
	fitting  kind   // kTens, kHook, kRing; kNone is the tie-down's own, or one told before
	tens     string // the tensioner's word
	at       int    // the figure; -1 none
	label    int    // the size label; -1 none
	breaking bool   // a breaking strength, no working load limit
}

func (r *reader) ratingIn(a, b int) ratingWords {
	w := ratingWords{a: a, b: b, at: -1, label: -1}
	for i := a; i < b; i++ {
		switch t := r.t(i); t.kind {
		case kTens:
			w.fitting, w.tens = kTens, t.word
		case kHook, kRing:
			w.fitting = t.kind
		case kMass, kBig:
			w.at = i
		case kLabel:
			w.label = i
		case kRated:
			w.breaking = t.word == "breaking"
		}
	}
	return w
}

// rating reads a rating told of a binder, hook, ring, or of the tie-down's own
// mark.
func (r *reader) rating(a, b int) {
	w := r.ratingIn(a, b)
	for i := a; i < b; i++ {
		if t := r.t(i); t.kind == kTens && len(t.tags) > 0 {
			r.tensioner(i) // "with binder 3, 9200"
		}
	}
	switch {
	case w.breaking:
		if c := r.lastOrOpen(); c != nil && c.tie.Mark != 0 {
			r.ownAll(a, b, OwnPhrase) // told beside the working load limit; else the figure stays unread
		}
	case r.kindAt(b) == kRated && r.t(b).word == "breaking" && !r.kindAt(b+1).in(kMass, kBig):
		// "tagged 10000 breaking"
	case w.label >= 0:
		r.labelled(w)
	case w.fitting != kNone && r.kindAt(w.at+1) == kWith:
		// "14000 with ratchet binders": the article's weight, and its binders
		r.weighs(w.at, r.t(w.at).weight, false, false)
		for i := w.at + 2; i < b; i++ {
			if r.t(i).kind == kTens {
				r.tensioner(i)
			}
		}
	case w.fitting == kNone && r.t(w.at).kind == kMass && r.has(a, b, kIt) && r.lastOrOpen() == nil:
		// "he says its 14 tonnes"
		r.ownAll(a, b, OwnPhrase)
		r.t(w.at).owner = ""
		r.weighs(w.at, r.t(w.at).weight, false, true)
	default:
		r.rated(w)
	}
}

// labelled takes the size label of a tensioner: "5/16-3/8 binders".
func (r *reader) labelled(w ratingWords) {
	e := load.Tensioner{Has: load.Yes, Kind: w.tens, Label: r.t(w.label).word}
	r.lastFitting = kTens
	r.fit(w.a, w.b, func(t *load.TieDown) {
		if t.Tensioner.Label == "" {
			t.Tensioner.Has, t.Tensioner.Label = load.Yes, e.Label
		}
		if t.Tensioner.Kind == "" {
			t.Tensioner.Kind = e.Kind
		}
	}, Edit{Set: load.TieDown{Tensioner: e}}, false)
}

// rated lays a rating over what it is told of.
func (r *reader) rated(w ratingWords) {
	m := r.t(w.at).weight.Told
	if w.fitting == kNone && (r.kindAt(w.a-1) == kThem && r.lastFitting == kTens || r.nearFitting(w.a)) {
		w.fitting = r.lastFitting
	}
	if w.fitting != kNone {
		r.lastFitting = w.fitting
	}
	if r.kindAt(w.a-1) != kNum && r.lesserOf(w.fitting, m) {
		r.ownAll(w.a, w.b, OwnFact)
		return
	}
	switch w.fitting {
	case kTens:
		r.fit(w.a, w.b, func(t *load.TieDown) {
			if t.Tensioner.Rating == 0 && t.Tensioner.Has != load.No {
				t.Tensioner.Has, t.Tensioner.Rating = load.Yes, m
				if w.tens != "" {
					t.Tensioner.Kind = w.tens
				}
			}
		}, Edit{Set: load.TieDown{Tensioner: load.Tensioner{Has: load.Yes, Kind: w.tens, Rating: m}}}, false)
	case kHook:
		r.fit(w.a, w.b, func(t *load.TieDown) {
			if t.Hook == 0 {
				t.Hook = m
			}
		}, Edit{Set: load.TieDown{Hook: m}}, false)
	case kRing:
		r.fit(w.a, w.b, func(t *load.TieDown) {
			if t.Anchor == 0 {
				t.Anchor = m
			}
		}, Edit{Set: load.TieDown{Anchor: m}}, true)
	default:
		// with no tie-down told, only an open question says of what: "they read 9200"
		if c := r.lastOrOpen(); c != nil && c.tie.Mark == 0 && m <= mostMark {
			c.tie.Mark = m
			r.ownAll(w.a, w.b, OwnFact)
		}
	}
}

// lesserOf lays a rating told again, of binders or rings that all have one, over
// those told higher: the least of the two stands. It says whether it was such.
func (r *reader) lesserOf(fitting kind, m load.Mass) bool {
	var had []*load.Mass
	each := func(c *clause) {
		switch fitting {
		case kTens:
			had = append(had, &c.tie.Tensioner.Rating)
		case kRing:
			had = append(had, &c.tie.Anchor)
		}
	}
	if r.cl != nil && (r.cl.named || r.cl.told) {
		each(r.cl)
	}
	if r.cur != nil {
		for _, c := range r.cur.clauses {
			each(c)
		}
	}
	for _, x := range had {
		if *x == 0 {
			return false
		}
	}
	for _, x := range had {
		*x = min(*x, m)
	}
	return len(had) > 0
}

// mostMark is the most that is taken for the mark of a chain or a strap: above it
// the figure is of something else ("scale says 60000").
const mostMark = 50_000 * load.Pound

// nearFitting says whether the fitting told last stands right before token a.
func (r *reader) nearFitting(a int) bool {
	k := r.backIn(a-1, 4, kDet, kBe, kWith, kThem, kOn, kAnd, kSep, kIt, kRated, kGrade)
	return r.kindAt(k).in(kTens, kHook, kRing)
}

// fit applies a fitting's rating: to the clause it stands in when "with" or one
// clause says so, else to all clauses of the article that lack it; rings are
// the trailer's, so to all. With no tie-down in the message it is a Change.
func (r *reader) fit(a, b int, set func(*load.TieDown), e Edit, all bool) {
	r.ownAll(a, b, OwnFact)
	if k := a - 1; r.kindAt(k) == kNum && r.t(k).owner == "" && r.t(k).num <= mostBare*load.One {
		// "one binder is a 5400": of so many of them
		r.own(k, OwnFact)
		r.changes = append(r.changes, Change{Ref: Ref{Which: Some, Count: int(r.t(k).num / load.One)}, Edit: e})
		return
	}
	with := r.kindAt(a-1) == kWith || r.kindAt(a-1) == kDet && r.kindAt(a-2) == kWith || r.kindAt(a-1) == kEach
	if with && r.kindAt(a-1) == kDet {
		r.own(a-1, OwnPhrase)
	}
	if with && !all && r.cl != nil && (r.cl.named || r.cl.told) {
		set(&r.cl.tie)
		return
	}
	any := false
	if r.cl != nil && (r.cl.named || r.cl.told) {
		set(&r.cl.tie)
		any = true
	}
	for _, art := range r.arts {
		if art != r.cur {
			continue
		}
		for _, c := range art.clauses {
			set(&c.tie)
			any = true
		}
	}
	if any {
		if all {
			r.rings = append(r.rings, set)
		}
		return
	}
	r.fits = append(r.fits, fitted{set, Change{Ref: Ref{Which: All, Lacks: true}, Edit: e}})
}

// fitted is a rating told before any tie-down: of those that follow in this
// message, else of those told before it.
type fitted struct {
	set    func(*load.TieDown)
	change Change
}
