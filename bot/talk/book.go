package talk

import (
	"slices"
	"time"

	"halfweight/parser"
	"halfweight/rules"
	"halfweight/rules/load"
	"halfweight/rules/tables"
)

// Piece is one piece of the chat's gear of which more is kept than its kind: one
// with a mark of the crew's own, or one of a kind in the gear that was told hurt.
// What is out stays out, whatever becomes of the load, until it is told replaced
// or measured and found good enough.
type Piece struct {
	ID   int          `json:"id,omitzero"`
	Tag  string       `json:"tag,omitzero"`  // the crew's own mark ("chain 7"); "" for one of its kind
	Tie  load.TieDown `json:"tie"`           // its kind as far as told, and in its State what is wrong with it
	Out  time.Time    `json:"out,omitzero"`  // since when it is not to be used; zero: it is in
	Read time.Time    `json:"read,omitzero"` // when its stamp or tag was told last; zero: never
	Of   int          `json:"of,omitzero"`   // with no tag: ID of the tie-down it was on the load
}

// PieceWas is a piece before a turn, to undo that.
type PieceWas struct {
	ID  int    `json:"id"`
	Was *Piece `json:"was,omitzero"` // nil: there was none
}

// PieceNote says what is noted of one piece.
type PieceNote struct {
	Piece Piece
	// "noted": what was told of it; "in": it is in again; "out": a load named one
	// that is out; "gone": it is on the list no more; "new": a mark that is not on
	// the list, taken as one piece; "differs": told of another kind than listed;
	// "apart": out, and it may be on the load in hand.
	Why string
	Now time.Time
}

// Again says that a tie-down came loose that had come loose before.
type Again struct {
	Tie   load.TieDown
	Times int // this time counted
}

func (PieceNote) say() {}
func (Again) say()     {}

// piece is the one with a mark; nil where the list has none.
func (t *turn) piece(tag string) *Piece {
	return t.findPiece(func(p *Piece) bool { return tag != "" && p.Tag == tag })
}

func (t *turn) findPiece(is func(*Piece) bool) *Piece {
	for i := range t.s.Pieces {
		if is(&t.s.Pieces[i]) {
			return &t.s.Pieces[i]
		}
	}
	return nil
}

// setPiece writes a piece into the list and settles whether it is out.
func (t *turn) setPiece(p Piece) Piece {
	switch out := unfit(&p.Tie); {
	case !out:
		p.Out = time.Time{}
	case p.Out.IsZero():
		p.Out = t.now
	}
	t.pieceWas(p.ID)
	t.s.putPiece(p.ID, &p)
	return p
}

// pieceWas keeps what a piece was before this message.
func (t *turn) pieceWas(id int) {
	if slices.ContainsFunc(t.pieces, func(w PieceWas) bool { return w.ID == id }) {
		return
	}
	was := PieceWas{ID: id}
	if p := t.findPiece(func(p *Piece) bool { return p.ID == id }); p != nil {
		copied := *p
		was.Was = &copied
	}
	t.pieces = append(t.pieces, was)
}

func (t *turn) dropPiece(id int) {
	t.pieceWas(id)
	t.s.putPiece(id, nil)
}

// putPiece puts p in the place of the piece of that ID, nothing where p is nil.
func (s *State) putPiece(id int, p *Piece) {
	list := slices.Clone(s.Pieces)
	switch at := slices.IndexFunc(list, func(p Piece) bool { return p.ID == id }); {
	case at >= 0 && p == nil:
		list = slices.Delete(list, at, at+1)
	case at >= 0:
		list[at] = *p
	case p != nil:
		list = append(list, *p)
	}
	s.Pieces = list
}

// unfit says whether a piece is not to be used: lost, or hurt so that the rules
// set it aside; the federal ones, for the list outlasts a trip under others.
func unfit(x *load.TieDown) bool {
	if x.State.Gone == "lost" {
		return true
	}
	if len(x.State.Damage) == 0 {
		return false
	}
	hurt := *x
	hurt.State = load.State{Damage: x.State.Damage}
	aside := wear(hurt, rules.Federal).Aside
	return aside != nil && !aside.Counts || x.Material == ""
}

// kindOf is what the list keeps of a tie-down.
func kindOf(x *load.TieDown) load.TieDown {
	k := *x
	k.ID, k.Line, k.Route, k.Place, k.Anchor, k.Plural, k.Shared, k.FromGear, k.State = 0, 0, "", load.Place{}, 0, false, false, false, load.State{}
	k.Tensioner.Tag = ""
	return k
}

// newPiece is a piece with a mark, not yet on the list.
func (t *turn) newPiece(tag string, kind load.TieDown) Piece {
	kind = kindOf(&kind)
	kind.Tag = tag
	return Piece{ID: t.newID(), Tag: tag, Tie: kind}
}

// changePiece takes what is told of a marked piece that is not on the load in
// hand; false where it is on the load, or none is told of.
func (t *turn) changePiece(c *parser.Change) bool {
	tag := c.Ref.Like.Tag
	if tag == "" || t.isOnLoad(tag) {
		return false
	}
	e := &c.Edit
	was := t.piece(tag)
	p := Piece{}
	if was != nil {
		p = *was
	} else {
		p = t.newPiece(tag, c.Ref.Like)
	}
	switch {
	case was == nil && (e.Replaced || len(e.Damage) == 0 && e.Gone != "lost" && !listed(&e.Set)):
		return t.noPiece(c, &p)
	case e.Replaced:
		p.Tie.State, p.Read = load.State{}, time.Time{}
		if listed(&e.Set) {
			p.Tie = load.TieDown{Tag: tag}
		}
	case e.Gone == "lost":
		p.Tie.State.Gone = e.Gone
	case e.Back && was != nil:
		p.Tie.State.Gone = ""
	case !t.bindsOnLoad(tag) && (e.Gone != "" || e.Loose || e.Tightened), e.Back, e.Set.Route != "", e.Set.Place != load.Place{}:
		return t.noPiece(c, &p)
	}
	for _, d := range e.Damage {
		hurt(&p.Tie, d)
	}
	if listed(&e.Set) {
		facts := e.Set
		facts.State, facts.Route, facts.Place, facts.Tag = load.State{NoTag: e.Set.State.NoTag}, "", load.Place{}, ""
		set(&p.Tie, &facts)
		if e.Set.Mark > 0 || e.Set.Tensioner.Rating > 0 {
			p.Read = t.now
		}
	}
	t.did = true
	if !e.Loose && !e.Tightened {
		wasOut := !p.Out.IsZero()
		p = t.setPiece(p)
		why := "noted"
		if wasOut && p.Out.IsZero() {
			why = "in"
		}
		t.say(PieceNote{p, why, t.now})
	}
	if !t.onBinder(tag, e) && senseOf(e) == harms {
		t.perhapsOnLoad(&p, nil)
	}
	return true
}

// bindsOnLoad says whether a marked binder is on a tie-down of the load.
func (t *turn) bindsOnLoad(tag string) bool {
	return t.tieBy(func(x *load.TieDown) bool { return x.Tensioner.Tag == tag && x.State.Gone == "" }) != nil
}

// binder says whether a piece is a binder by itself.
func binder(p *Piece) bool { return p.Tie.Material == "" && p.Tie.Tensioner.Kind != "" }

// swapPiece takes "replaced chain 7 with chain 11": the one is where the other was
// on the load, whose own condition stays as it was told.
func (t *turn) swapPiece(c *parser.Change) bool {
	was, now := c.Ref.Like.Tag, c.Edit.Set.Tag
	if was == "" || now == "" || !c.Edit.Replaced {
		return false
	}
	old := t.tieBy(func(x *load.TieDown) bool { return x.Tag == was && x.State.Gone == "" })
	if old == nil || t.isOnLoad(now) {
		t.did = true
		t.say(Cannot{Why: "no such piece", Words: was})
		if t.isOnLoad(now) {
			t.r.Doubt = true // it cannot be in two places
		}
		return true
	}
	t.touched, t.settled = true, true
	id := old.ID
	x := load.TieDown{Material: old.Material, Anchor: old.Anchor, Route: old.Route, Place: old.Place, Tag: now}
	t.complete(&x)
	x.ID, x.Line = id, old.Line
	t.edit(Edit{IDs: []int{id}, Do: Restore, Set: &x})
	return true
}

// listed says whether facts are told that the list keeps.
func listed(x *load.TieDown) bool {
	return x.Size > 0 || x.Grade != (load.Grade{}) || x.Mark > 0 || x.Tensioner.Rating > 0 || x.Make != "" || x.Hook > 0 || x.State.NoTag
}

// noPiece answers a change that only a tie-down on the load can take, told of a
// mark that is not on it.
func (t *turn) noPiece(c *parser.Change, p *Piece) bool {
	if blank(&c.Edit) {
		t.did = true
		if known := t.piece(p.Tag); known != nil {
			t.say(PieceNote{*known, "noted", t.now})
		} else {
			t.say(Cannot{Why: "no such piece", Words: p.Tag})
		}
		return true
	}
	if senseOf(&c.Edit) == harms && t.perhapsOnLoad(p, editsOf(&c.Edit)) {
		return true
	}
	t.did = true
	t.say(Cannot{Why: "no such piece", Words: p.Tag})
	t.r.Doubt = t.r.Doubt || senseOf(&c.Edit) == harms
	return true
}

// perhapsOnLoad asks which tie-down of the load a marked piece is, where one told
// without a mark may be it: until that is told no load is covered. edits are what
// was told of it beside.
func (t *turn) perhapsOnLoad(p *Piece, edits []Edit) bool {
	like := load.TieDown{Material: p.Tie.Material, Size: p.Tie.Size, Grade: p.Tie.Grade}
	var may []int
	for _, x := range t.pool(&parser.Ref{Like: like}, &parser.Edit{}) {
		if x.Tag == "" && !wrong(x) {
			may = append(may, x.ID)
		}
	}
	if len(may) == 0 {
		return false
	}
	t.touched, t.r.Doubt = true, true
	if binder(p) {
		for i := range p.Tie.State.Damage {
			edits = append(edits, Edit{Hurt: &p.Tie.State.Damage[i]})
		}
	} else {
		edits = append(edits, Edit{Set: &load.TieDown{Tag: p.Tag}})
	}
	w := Which{Tag: p.Tag, Edits: edits, Of: may}
	if t.taken == nil {
		t.askWhich(may, w)
		return true
	}
	last := t.taken
	for last.Next != nil {
		last = last.Next
	}
	last.Next = &w
	return true
}

// isOnLoad says whether a marked piece is on the load in hand, or was.
func (t *turn) isOnLoad(tag string) bool {
	return slices.ContainsFunc(t.load.Articles, func(a load.Article) bool {
		return slices.ContainsFunc(a.Ties, func(x load.TieDown) bool { return x.Tag == tag })
	})
}

// moved takes marked pieces told of a load that has them: each is where it was told
// last, and is one piece still. One that is not told as added ("chain 8 front
// left") is the one without a mark that was told to hold there, or may: counted as
// one more, there would be more chains than are on.
func (t *turn) moved(told []load.TieDown, added bool) (rest []load.TieDown) {
	if !marked(told) {
		return told
	}
	for i := range told {
		x := told[i]
		had := t.tieBy(func(y *load.TieDown) bool { return x.Tag != "" && y.Tag == x.Tag })
		if had == nil && !added {
			had = t.without(&x)
		}
		if had == nil {
			rest = append(rest, x)
			continue
		}
		id := had.ID
		if had.State.Gone != "" {
			t.edit(Edit{IDs: []int{id}, Do: Return})
		}
		facts := x
		if had.Tag != "" {
			facts.Tag = ""
		}
		t.edit(Edit{IDs: []int{id}, Set: &facts})
		for j := range x.State.Damage {
			t.edit(Edit{IDs: []int{id}, Hurt: &x.State.Damage[j]})
		}
		if x.State.Tight == load.No {
			t.edit(Edit{IDs: []int{id}, Do: Loosen})
		}
	}
	return rest
}

// marked says whether any of the tie-downs has a mark of the crew's own.
func marked(ties []load.TieDown) bool {
	for i := range ties {
		if ties[i].Tag != "" {
			return true
		}
	}
	return false
}

// without is the tie-down told without a mark that x may be: of its kind, and told
// to hold at the one place that x is told to hold at, or not told where.
func (t *turn) without(x *load.TieDown) *load.TieDown {
	if x.Tag == "" || x.Place.On == "" && (x.Place.End == "" || x.Place.Side == "") {
		return nil
	}
	like := load.TieDown{Material: x.Material, Size: x.Size, Grade: x.Grade, Route: x.Route}
	all := slices.DeleteFunc(t.pool(&parser.Ref{Like: like}, &parser.Edit{}), func(y *load.TieDown) bool { return y.Tag != "" })
	all, _ = placed(all, x.Place)
	if len(all) == 0 {
		return nil
	}
	return all[0]
}

// loneMark takes marked pieces told alone, with neither place nor route, as told
// of the list: "chain 7 reads 6600", "chain 7".
func (t *turn) loneMark(d *parser.Describe) bool {
	a := &d.Articles[0]
	if len(d.Articles) > 1 || d.Add || named(a) || factual(&a.Article) || len(a.Ties) == 0 {
		return false
	}
	if q := t.s.Asked; q != nil && q.Key == "ties" {
		return false
	}
	for i := range a.Ties {
		if x := &a.Ties[i]; x.Tag == "" || x.Route != "" || x.Place != (load.Place{}) {
			return false
		}
	}
	for i := range a.Ties {
		x := a.Ties[i]
		c := parser.Change{Ref: parser.Ref{Like: load.TieDown{Tag: x.Tag, Material: x.Material}}}
		c.Edit = parser.Edit{Loose: x.State.Tight == load.No, Damage: x.State.Damage, Gone: x.State.Gone}
		x.Tag, x.State, x.Material, x.Line, x.Plural = "", load.State{NoTag: x.State.NoTag}, "", 0, false
		c.Edit.Set = x
		if t.isOnLoad(c.Ref.Like.Tag) && blank(&c.Edit) {
			t.noPiece(&c, &Piece{Tag: c.Ref.Like.Tag})
			continue
		}
		t.change(&c)
	}
	return true
}

// completePiece fills in from the list what was not told of a marked piece. One
// that is out brings its hurts with it, so that it is set aside.
func (t *turn) completePiece(x *load.TieDown) bool {
	p := t.piece(x.Tag)
	if p == nil {
		return false
	}
	if !owned(&p.Tie, x) {
		t.say(PieceNote{*p, "differs", t.now})
		t.r.Doubt = true
		listed := *x
		listed.Size, listed.SizeWord, listed.Grade, listed.Make, listed.Mark = p.Tie.Size, p.Tie.SizeWord, p.Tie.Grade, p.Tie.Make, p.Tie.Mark
		if lim := tables.Federal(); rules.Credit(&listed, lim).Low < rules.Credit(x, lim).Low {
			*x = listed // the lesser of the two
		}
	}
	fill(x, &p.Tie)
	for _, d := range p.Tie.State.Damage {
		if !slices.ContainsFunc(x.State.Damage, func(had load.Damage) bool { return sameDamage(&had, &d) }) {
			x.State.Damage = append(slices.Clip(x.State.Damage), d)
			x.State.Sound = load.No
		}
	}
	if p.Tie.State.Gone == "lost" {
		x.State.Gone = "lost"
	}
	x.State.Slipped += p.Tie.State.Slipped
	if !p.Out.IsZero() {
		t.say(PieceNote{*p, "out", t.now})
	}
	return true
}

// completeBinder fills in from the list what was not told of a marked binder. One
// that is out hurts the tie-down it is on.
func (t *turn) completeBinder(x *load.TieDown) {
	p := t.piece(x.Tensioner.Tag)
	if p == nil {
		return
	}
	put(&x.Tensioner.Has, p.Tie.Tensioner.Has)
	if x.Tensioner.Rating == 0 {
		x.Tensioner.Rating = p.Tie.Tensioner.Rating
	}
	if p.Out.IsZero() {
		return
	}
	for _, d := range p.Tie.State.Damage {
		d.Part = "binder"
		x.State.Damage = append(slices.Clip(x.State.Damage), d)
	}
	x.State.Sound = load.No
	if p.Tie.State.Gone != "" {
		x.Tensioner.Has = load.No
	}
	t.say(PieceNote{*p, "out", t.now})
}

// onBinder carries what is told of a marked binder over to the tie-down that it is
// on; false where it is on none.
func (t *turn) onBinder(tag string, e *parser.Edit) bool {
	x := t.tieBy(func(x *load.TieDown) bool { return tag != "" && x.Tensioner.Tag == tag && x.State.Gone == "" })
	if x == nil {
		return false
	}
	id := x.ID
	t.touched, t.settled = true, true
	for i := range e.Damage {
		d := e.Damage[i]
		d.Part = "binder"
		t.edit(Edit{IDs: []int{id}, Hurt: &d})
	}
	switch {
	case e.Gone != "":
		t.edit(Edit{IDs: []int{id}, Set: &load.TieDown{Tensioner: load.Tensioner{Has: load.No}}})
	case e.Loose:
		t.edit(Edit{IDs: []int{id}, Do: Loosen})
	case e.Tightened:
		t.edit(Edit{IDs: []int{id}, Do: Tighten})
	case e.Replaced:
		whole := *x
		whole.State.Damage = slices.DeleteFunc(slices.Clone(whole.State.Damage), func(d load.Damage) bool { return d.Part == "binder" })
		if len(whole.State.Damage) == 0 {
			whole.State.Sound = load.Untold
		}
		whole.Tensioner.Has = load.Yes
		put(&whole.Tensioner.Rating, e.Set.Tensioner.Rating)
		t.edit(Edit{IDs: []int{id}, Do: Restore, Set: &whole})
	case e.Set.Tensioner.Rating > 0:
		t.edit(Edit{IDs: []int{id}, Set: &load.TieDown{Tensioner: load.Tensioner{Has: load.Yes, Rating: e.Set.Tensioner.Rating}}})
	}
	return true
}

// tieBy is the first tie-down of the load that is so; nil where none is.
func (t *turn) tieBy(is func(*load.TieDown) bool) *load.TieDown {
	for i := range t.load.Articles {
		for j := range t.load.Articles[i].Ties {
			if x := &t.load.Articles[i].Ties[j]; is(x) {
				return x
			}
		}
	}
	return nil
}

func sameDamage(a, b *load.Damage) bool {
	return a.Part == b.Part && a.Kind == b.Kind && a.Left == b.Left && slices.Equal(a.Size, b.Size)
}

// noteBook carries what this message told of tie-downs on the load over to the
// list.
func (t *turn) noteBook() {
	noted := map[int]bool{}
	for i := range t.edits {
		e := &t.edits[i]
		told := e.IDs
		if e.Article != nil {
			for j := range e.Article.Ties {
				told = append(slices.Clip(told), e.Article.Ties[j].ID)
			}
		}
		for _, id := range told {
			a, at := find(&t.load, id)
			if a == nil {
				if p := t.unmarked(id); p != nil {
					t.dropPiece(p.ID)
				}
				continue
			}
			x := &a.Ties[at]
			if e.Do == Loosen && !noted[id] {
				noted[id] = true
				t.again(x)
			}
			if x.Tag != "" {
				t.notePiece(x, e.Do == Replace)
			} else {
				t.noteUnmarked(x)
			}
		}
	}
}

// again says so where a tie-down came loose that did before, and it is known that
// it is the same one.
func (t *turn) again(x *load.TieDown) {
	at := x.Place
	known := x.Tag != ""
	if !known && (at.On != "" || at.End != "" && at.Side != "") {
		known = len(slices.DeleteFunc(t.pool(&parser.Ref{}, &parser.Edit{}), func(y *load.TieDown) bool { return y.Place != at })) == 1
	}
	if known && x.State.Slipped > 1 && (t.taken == nil || t.taken.ID != x.ID) {
		t.say(Again{*x, x.State.Slipped})
	}
}

// notePiece keeps the condition of a marked piece on the load.
func (t *turn) notePiece(x *load.TieDown, replaced bool) {
	was := t.piece(x.Tag)
	if was == nil {
		if !wrong(x) && x.State.Slipped == 0 && !listed(x) {
			return
		}
		p := t.newPiece(x.Tag, *x)
		if x.Mark > 0 && !x.FromGear {
			p.Read = t.now
		}
		was = &p
	}
	p := *was
	p.Tie.State = load.State{Damage: ownHurts(x), Slipped: x.State.Slipped}
	if x.State.Gone == "lost" {
		p.Tie.State.Gone = x.State.Gone
	}
	switch {
	case replaced:
		p.Read = time.Time{}
	case x.Mark > 0 && x.Mark != p.Tie.Mark:
		p.Tie.Mark, p.Read = x.Mark, t.now
	}
	if p.Tie.Size == 0 && p.Tie.Mark == 0 {
		state, tag := p.Tie.State, p.Tag
		p.Tie = kindOf(x)
		p.Tie.State, p.Tie.Tag = state, tag
	}
	wasOut := !p.Out.IsZero()
	if p = t.setPiece(p); wasOut != !p.Out.IsZero() {
		why := "noted"
		if wasOut {
			why = "in"
		}
		t.say(PieceNote{p, why, t.now})
	}
}

// ownHurts are the hurts of a tie-down's own material and hooks: a binder is a
// piece by itself, and the ring is the trailer's.
func ownHurts(x *load.TieDown) []load.Damage {
	return slices.DeleteFunc(slices.Clone(x.State.Damage), func(d load.Damage) bool { return d.Part == "binder" || d.Part == "anchor" })
}

// unmarked is the piece with no mark that was tie-down id of the load.
func (t *turn) unmarked(id int) *Piece {
	return t.findPiece(func(p *Piece) bool { return p.Tag == "" && p.Of == id })
}

// noteUnmarked keeps one of a kind in the gear out of it while it is hurt.
func (t *turn) noteUnmarked(x *load.TieDown) {
	was := t.unmarked(x.ID)
	own := *x
	own.State = load.State{Damage: ownHurts(x)}
	hurt := unfit(&own)
	switch {
	case !hurt && was != nil:
		t.say(PieceNote{*was, "in", t.now})
		t.dropPiece(was.ID)
	case hurt && was != nil:
		p := *was
		p.Tie.State.Damage = own.State.Damage
		t.setPiece(p)
	case hurt && slices.ContainsFunc(t.s.Gear, func(g GearRow) bool { return sameKind(x, &g.Tie) }):
		p := Piece{ID: t.newID(), Tie: kindOf(x), Of: x.ID}
		p.Tie.State.Damage = own.State.Damage
		t.say(PieceNote{t.setPiece(p), "noted", t.now})
	}
}

// mendUnmarked takes "the cracked chain is replaced", with no such tie-down on a
// load, as told of a piece that is out; false where none is, or which is open.
func (t *turn) mendUnmarked(c *parser.Change) bool {
	if !c.Edit.Replaced {
		return false
	}
	var fit []*Piece
	for i := range t.s.Pieces {
		if p := &t.s.Pieces[i]; p.Tag == "" && fits(&p.Tie, &load.TieDown{Material: c.Ref.Like.Material, Size: c.Ref.Like.Size, Grade: c.Ref.Like.Grade, State: load.State{Damage: c.Ref.Like.State.Damage}}) {
			fit = append(fit, p)
		}
	}
	if len(fit) == 0 {
		return false
	}
	t.did = true
	if slices.ContainsFunc(fit, func(p *Piece) bool { return !sameKind(&p.Tie, &fit[0].Tie) }) {
		t.cannot("gear which")
		return true
	}
	p := *fit[0]
	t.dropPiece(p.ID)
	t.say(PieceNote{p, "in", t.now})
	return true
}

// outOf is how many pieces of a kind of gear are out.
func (t *turn) outOf(g *GearRow) (n int) {
	for i := range t.s.Pieces {
		if p := &t.s.Pieces[i]; !p.Out.IsZero() && sameKind(&p.Tie, &g.Tie) {
			n++
		}
	}
	return n
}

// gearPieces puts marked pieces on the list, or takes them off it.
func (t *turn) gearPieces(g *parser.Gear) {
	for _, tag := range g.Tags {
		p := t.piece(tag)
		if g.Do == "less" {
			if p == nil {
				t.say(Cannot{Why: "no such piece", Words: tag})
				continue
			}
			gone := *p
			t.dropPiece(gone.ID)
			t.say(PieceNote{gone, "gone", t.now})
			continue
		}
		c := parser.Change{Ref: parser.Ref{Like: load.TieDown{Tag: tag}}}
		if len(g.Ties) > 0 {
			c.Edit.Set = g.Ties[0]
		}
		t.listPiece(&c)
	}
}

// listPiece notes the kind of a marked piece. Its hurts stay; one that was lost is
// found.
func (t *turn) listPiece(c *parser.Change) {
	tag, facts := c.Ref.Like.Tag, c.Edit.Set
	if !listed(&facts) {
		t.noPiece(&parser.Change{}, &Piece{Tag: tag})
		return
	}
	p := t.newPiece(tag, facts)
	if was := t.piece(tag); was != nil {
		p.ID, p.Out, p.Tie.State = was.ID, was.Out, was.Tie.State
		p.Tie.State.Gone = ""
		if facts.Mark == 0 && facts.Tensioner.Rating == 0 && sameKind(&was.Tie, &p.Tie) {
			p.Read, p.Tie.Mark = was.Read, was.Tie.Mark
		}
	}
	if facts.Mark > 0 || facts.Tensioner.Rating > 0 {
		p.Read = t.now
	}
	t.say(PieceNote{t.setPiece(p), "noted", t.now})
}
