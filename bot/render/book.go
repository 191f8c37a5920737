package render

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"halfweight/bot/talk"
	"halfweight/rules"
	"halfweight/rules/load"
)

// gear lists what the chat owns: what is in, what is out and why, and when the
// stamps were read last.
func (p *page) gear(d talk.Done) {
	b := &p.w.Book
	var rows []string
	for i := range d.Gear {
		rows = append(rows, p.gearRow(&d.Gear[i], d))
	}
	list := strings.Join(rows, "; ")
	if list == "" && len(d.Pieces) == 0 {
		list = b.None
	}
	if list != "" {
		p.line(p.w.Done[d.What], "gear", list)
	}
	for i := range d.Pieces {
		p.line(p.pieceLine(&d.Pieces[i], d.Now))
	}
	p.turn()
	if d.Mass > 0 {
		p.say(b.Ring, "mass", p.down(d.Mass))
	}
	for i := range d.Machines {
		m := &d.Machines[i]
		p.say(b.Machine, "name", plain(m.Name, long), "what", p.article1(&m.Article))
	}
}

// whichGear asks which of several kinds is meant.
func (p *page) whichGear(s talk.WhichGear) {
	var kinds []string
	for _, t := range s.Kinds {
		kinds = append(kinds, strings.TrimSpace(p.brief(t, s.Count)))
	}
	p.line(p.w.Book.Which, "kinds", p.w.either(kinds), "n", strconv.Itoa(s.Count), "kind", strings.TrimSpace(p.brief(s.Kinds[0], 1)))
}

func (p *page) gearRow(g *talk.GearRow, d talk.Done) string {
	b := &p.w.Book
	out, marked, n := "", "", 0
	for i := range d.Pieces {
		if x := &d.Pieces[i]; !x.Out.IsZero() && sameKind(&x.Tie, &g.Tie) {
			n++
		}
		if x := &d.Pieces[i]; x.Tag != "" && sameKind(&x.Tie, &g.Tie) {
			marked = b.Among
		}
	}
	if n > 0 {
		out = filled(b.OutOf, "n", strconv.Itoa(n))
	}
	return filled(b.Row, "n", strconv.Itoa(g.Count), "noun", p.w.noun(g.Tie.Material, g.Count), "kind", p.after(g.Tie), "with", p.with(&g.Tie),
		"out", out, "marked", marked, "read", p.readAt(&g.Tie, g.Read, d.Now))
}

// pieceLine is one piece in the list.
func (p *page) pieceLine(x *talk.Piece, now time.Time) string {
	phrase := p.w.Book.In
	if !x.Out.IsZero() {
		phrase = p.w.Book.Out
	}
	return p.pieceWords(phrase, x, now)
}

func (p *page) pieceWords(phrase string, x *talk.Piece, now time.Time) string {
	b := &p.w.Book
	kind := p.pieceKind(&x.Tie)
	name := plain(x.Tag, long)
	if name == "" {
		name, kind = b.Nameless+" "+p.brief(unmarked(x.Tie), 1), ""
	} else if kind != "" {
		kind = ", " + kind
	}
	as := strings.Replace(kind, ",", "", 1)
	if strings.Contains(phrase, "as{kind}") {
		kind = as
	}
	slips := ""
	if n := x.Tie.State.Slipped; n > 1 {
		slips = filled(b.Slips, "n", strconv.Itoa(n))
	}
	return filled(phrase, "slips", slips, "name", name, "Name", capital(name), "kind", kind, "why", p.pieceWhy(x), "ago", p.ago(now, x.Out), "read", p.readAt(&x.Tie, x.Read, now))
}

func unmarked(t load.TieDown) load.TieDown {
	t.Tag, t.State = "", load.State{}
	return t
}

// pieceKind is what is known of a piece: "3/8 g70", "9,200".
func (p *page) pieceKind(t *load.TieDown) string {
	if t.Size == 0 && t.Mark == 0 {
		if t.Tensioner.Rating > 0 {
			return p.down(t.Tensioner.Rating) + " " + p.word
		}
		return ""
	}
	return p.kind(unmarked(*t))
}

// pieceWhy is why a piece is out.
func (p *page) pieceWhy(x *talk.Piece) string {
	var why []string
	for _, d := range x.Tie.State.Damage {
		one := x.Tie
		one.State.Damage = []load.Damage{d}
		s := word(p.w.Aside.Why, d.Kind)
		if part := word(p.w.Name.Limits, d.Part); part != "" && part != "chain" && part != string(x.Tie.Material) {
			s += " " + part
		}
		why = addNew(why, s+p.told(&rules.Aside{Line: rules.Line{Tie: one}}))
	}
	if x.Tie.State.Gone == "lost" {
		why = addNew(why, p.w.Book.Lost)
	}
	return p.w.list(why)
}

// piece says what is noted of one piece of gear.
func (p *page) piece(n talk.PieceNote, r talk.Reply) {
	key := n.Why
	if key == "new" {
		p.newPieces(n, r)
		return
	}
	if key == "noted" && !n.Piece.Out.IsZero() {
		key = "noted out"
	}
	if n.Piece.Tag == "" {
		key += " bare"
	}
	p.line(p.pieceWords(p.w.Book.Notes[key], &n.Piece, n.Now))
}

// newPieces says of all the marks at once that are not on the list, with the first.
func (p *page) newPieces(first talk.PieceNote, r talk.Reply) {
	var names []string
	for _, s := range r.Says {
		if n, ok := s.(talk.PieceNote); ok && n.Why == "new" {
			names = addNew(names, plain(n.Piece.Tag, long))
		}
	}
	switch {
	case names[0] != plain(first.Piece.Tag, long):
	case len(names) == 1:
		p.line(p.pieceWords(p.w.Book.Notes["new"], &first.Piece, first.Now))
	default:
		p.line(p.w.Book.Notes["new many"], "Names", capital(p.w.list(names)))
	}
}

// again says that one came loose that did before.
func (p *page) again(s talk.Again) {
	b, phrase := &p.w.Book, p.w.Book.Again
	nth, known := b.Times[s.Times]
	if !known {
		phrase = b.AgainMany
	}
	if s.Tie.Tag != "" {
		s.Tie.Place = load.Place{}
	}
	which := p.which(&rules.Count{Article: &load.Article{}}, &rules.Line{Count: 1, Tie: s.Tie})
	p.line(phrase, "Nth", capital(nth), "which", which, "Which", capital(which), "n", strconv.Itoa(s.Times), "noun", p.w.noun(s.Tie.Material, 1))
}

// readAt says when a stamp was read last.
func (p *page) readAt(t *load.TieDown, at, now time.Time) string {
	b := &p.w.Book
	stamp, phrase := b.Stamp, b.Read
	if t.Material == load.Webbing || t.Material == load.Cordage {
		stamp = b.Tag
	}
	if at.IsZero() {
		phrase = b.Never
	}
	return filled(phrase, "stamp", stamp, "ago", p.ago(now, at))
}

// ago is how long before now something was, in whole units.
func (p *page) ago(now, then time.Time) string {
	w, past := &p.w.Book.Ago, now.Sub(then)
	n, one, many := int(past/(24*time.Hour)), w.Day, w.Days
	switch {
	case past < time.Minute:
		return w.Now
	case past < time.Hour:
		n, one, many = int(past/time.Minute), w.Minute, w.Minutes
	case past < 24*time.Hour:
		n, one, many = int(past/time.Hour), w.Hour, w.Hours
	}
	if n == 1 {
		return one
	}
	return filled(many, "n", strconv.Itoa(n))
}

// article1 names an article and its weight: "roller, 14,000 lb".
func (p *page) article1(a *load.Article) string {
	name := plain(a.Name, long)
	if name == "" {
		name = p.w.Head.Nameless
	}
	if !a.Weight.Known() {
		return name
	}
	return filled(p.w.Record.Article, "name", name, "weight", p.near(a.Weight.Told)+" "+p.word)
}

// inShort is a load in few words: "roller, 14,000 lb, 5 tie-downs".
func (p *page) inShort(l *load.Load) string {
	var list []string
	for i := range l.Articles {
		a := &l.Articles[i]
		on := len(a.Ties) - len(slices.DeleteFunc(slices.Clone(a.Ties), func(t load.TieDown) bool { return t.State.Gone == "" }))
		held := p.w.Record.Held
		if on == 1 {
			held = p.w.Record.HeldOne
		}
		list = append(list, p.article1(a)+", "+filled(held, "n", strconv.Itoa(on)))
	}
	return strings.Join(list, "; ")
}

// mostTold is how many lines a history has of each sort.
const mostTold = 6

// history says what was told of the load in hand and which loads were before it.
func (p *page) history(h talk.History) {
	w := &p.w.Record
	if h.Load == nil {
		p.line(w.NoHand)
	} else {
		p.line(w.Hand, "load", p.inShort(h.Load), "stands", p.w.Stands[h.Verdict])
	}
	for i, told := range h.Told {
		if i == mostTold {
			h.Earlier = true
			break
		}
		p.line(w.Told, "quote", `"`+plain(told.Words, 60)+`"`, "ago", p.ago(h.Now, told.At))
	}
	if h.Earlier {
		p.line(w.Earlier)
	}
	for i := range h.Past {
		if i == mostTold {
			p.line(w.More, "n", strconv.Itoa(len(h.Past)-mostTold))
			break
		}
		past := &h.Past[i]
		p.line(w.Past, "ago", p.ago(h.Now, past.At), "how", w.How[past.How], "load", p.inShort(&past.Load), "stood", w.Stood[past.Verdict])
	}
	if len(h.Past) == 0 {
		p.line(w.NoPast)
	}
}

// offer says what a record holds that would be read back.
func (p *page) offer(o talk.Offer) {
	w := &p.w.Record
	var parts []string
	for _, x := range []struct {
		key string
		n   int
	}{{"gear", o.Gear}, {"pieces", o.Pieces}, {"machines", o.Machines}, {"loads", o.Loads}, {"house", o.House}} {
		switch {
		case x.n == 1:
			parts = append(parts, w.Parts[x.key][0])
		case x.n > 1:
			parts = append(parts, filled(w.Parts[x.key][1], "n", strconv.Itoa(x.n)))
		}
	}
	if o.Ring > 0 {
		parts = append(parts, p.filled(w.Parts["ring"][0], "mass", p.down(o.Ring)))
	}
	if o.Rules != "" {
		parts = append(parts, filled(w.Parts["rules"][0], "name", o.Rules))
	}
	if len(parts) == 0 {
		parts = append(parts, w.Nothing)
	}
	law := w.Law
	if o.NoRules {
		law = ""
	}
	p.line(w.Offer, "rules", law, "ago", p.ago(o.Now, o.At), "parts", p.w.list(parts))
	if o.Fewer {
		p.line(w.Fewer)
	}
}
