package parser

import (
	"halfweight/rules/load"
)

// breakdown settles clauses told by count and place or route only: they share
// out the clause before them ("four, two at the front and two at the rear"),
// or are more of its kind ("4x 3/8 g70 direct, 1 over").
func breakdown(cs []*clause) []*clause {
	kindBehind(cs)
	cs = kindApart(cs)
	var out []*clause
	for i := 0; i < len(cs); {
		head := cs[i]
		if n := head.totalOf(cs[i+1:]); n > 0 {
			i++ // "6 chains: 4x 3/8 g70 direct, 2x 5/16 g70 over"
			continue
		}
		head.restOf(cs[i+1:])
		// the clauses behind it that name no kind of their own
		j := i + 1
		for j < len(cs) && !cs[j].named && (cs[j].told || cs[j].routes > 0 || len(cs[j].places) > 0) {
			j++
		}
		subs := cs[i+1 : j]
		if len(subs) > 0 && !head.named && !head.told {
			j, subs = i+1, nil
		}
		if subs = head.take(subs); len(subs) == 0 {
			out = append(out, head)
		} else {
			out = head.split(out, subs)
		}
		i = j
	}
	return out
}

// kindApart joins a count told with no size and the kind told by itself right behind
// it: "4 chains. 3/8 g70." is four of those.
func kindApart(cs []*clause) (out []*clause) {
	for i := 0; i < len(cs); i++ {
		c := cs[i]
		out = append(out, c)
		if i+1 == len(cs) || !c.told || c.one || len(c.tags) > 0 || c.tie.Size != 0 || c.tie.Mark != 0 || c.tie.Grade != (load.Grade{}) || c.onPart() {
			continue
		}
		n := cs[i+1]
		if n.told || n.one || n.plural || n.joined || n.tie.Size == 0 || n.tie.Grade.Reading != load.Read || len(n.places) > 0 || len(n.tags) > 0 ||
			c.tie.Material != load.Chain || n.tie.Material != "" && n.tie.Material != load.Chain || n.routes > 0 && n.tie.Route != load.Direct || n.routes > 0 && c.routes > 0 && n.tie.Route != c.tie.Route {
			continue
		}
		c.tie.Size, c.tie.SizeWord, c.tie.Grade = n.tie.Size, n.tie.SizeWord, n.tie.Grade
		if c.routes == 0 {
			c.tie.Route, c.routes = n.tie.Route, n.routes
		}
		i++
	}
	return out
}

// totalOf says how many of the clauses that follow make up a total told by its
// material only; 0 where it is none.
func (head *clause) totalOf(cs []*clause) int {
	if !head.told || len(head.tags) > 0 || head.tie.Size != 0 || head.tie.Mark != 0 || head.tie.Grade.Reading != load.NotRead || head.routes > 0 || len(head.places) > 0 {
		return 0
	}
	for n := range cs {
		if !cs[n].named || cs[n].tie.Size == 0 {
			return 0
		}
		if n > 0 && pieces(cs[:n+1]) == head.count {
			return n + 1
		}
	}
	return 0
}

// kindBehind gives clauses that name no kind the one told behind them all: "2 up
// front, 2 in back 3/8 g70 direct".
func kindBehind(cs []*clause) {
	for i, c := range cs {
		if !c.late {
			continue
		}
		from := i
		for from > 0 && cs[from-1].told && (!cs[from-1].named || cs[from-1].onlyMade(c)) {
			from--
		}
		for _, s := range cs[from:i] {
			s.inherit(c, false)
		}
		if from < i {
			share(cs[from : i+1])
		}
	}
}

// onlyMade says whether nothing but what c is made of is told of the kind: "2
// chains front, 2 chains rear 3/8 g70".
func (s *clause) onlyMade(c *clause) bool {
	return s.tie.Material != "" && (c.tie.Material == "" || c.tie.Material == s.tie.Material) && s.tie.Size == 0 && s.tie.Mark == 0 && s.tie.Grade == load.Grade{} && len(s.places) > 0
}

// pieces is how many pieces a clause is.
func (c *clause) pieces() int { return max(c.count, 1) }

func pieces(cs []*clause) (n int) {
	for _, c := range cs {
		n += c.pieces()
	}
	return n
}

// split settles what subs are to the head, and adds both to out.
func (head *clause) split(out, subs []*clause) []*clause {
	add := func(cs []*clause, all bool) {
		for _, c := range cs {
			c.inherit(head, all)
			out = append(out, c)
		}
	}
	exact := 0 // so many of subs use the head's count up
	for n := range subs {
		if head.told && pieces(subs[:n+1]) == head.count {
			exact = n + 1
			break
		}
	}
	switch {
	case !head.told && head.named && (head.plural || len(head.places) == 0):
		add(subs, true) // "3/8 g70 chains: 4 direct, 2 over": the head only names the kind
	case exact > 0 && !head.one && head.partsInto(subs[:exact]):
		share(subs[:exact])
		head.shareTags(subs[:exact])
		add(subs[:exact], true)
		add(subs[exact:], false)
	case head.told && len(head.tags) == 0 && pieces(subs) < head.count &&
		(subs[0].ofThem || len(head.places) == 0 && (head.routes == 0 || len(subs) == 1 && placedOnly(subs) && !cornered(subs))):
		// some of them: the rest stay as told
		rest := *head
		rest.count -= pieces(subs)
		rest.plural = false
		out = append(out, &rest)
		add(subs, true)
	case head.told && len(head.places) == 0 && head.routes > 0 && placedOnly(subs) && (cornered(subs) || len(subs) > 1):
		head.unclear = true // "4x direct, three in front three in back", "3 corners": which number is it
		out = append(out, head)
	default:
		out = append(out, head)
		// "2 front, 2 rear, three on the left one on the right": told again
		again := len(subs) > 1 && pieces(out) == pieces(subs)
		for n, s := range subs {
			if s.ofThem || again {
				head.unclear = true // of what was told one by one: it adds nothing
				continue
			}
			add(subs[n:n+1], false)
		}
	}
	return out
}

// placedOnly says whether nothing but their number and a place on the article is
// told of all of them: no pieces beside those told before.
func placedOnly(subs []*clause) bool {
	for _, s := range subs {
		if !s.told || s.more || s.routes > 0 || len(s.places) == 0 || s.places[0].On != "" || s.tie.Tensioner != (load.Tensioner{}) {
			return false
		}
	}
	return true
}

// cornered says whether one of subs is told to be at corners.
func cornered(subs []*clause) bool {
	for _, s := range subs {
		if p := s.places[0]; p.Spread == "corners" || p.End != "" && p.Side != "" {
			return true
		}
	}
	return false
}

// shareTags gives the pieces of a clause of marked ones their marks, in the order
// told.
func (head *clause) shareTags(subs []*clause) {
	tags := head.tags
	for _, s := range subs {
		n := min(s.pieces(), len(tags))
		s.tags, tags = tags[:n], tags[n:]
	}
}

// take lays routes and places that were told with no count over the head, where
// it lacks them: they add no piece. It returns the rest.
func (head *clause) take(subs []*clause) (rest []*clause) {
	for _, s := range subs {
		if s.told || len(s.places) > 0 && s.places[0].On != "" || s.one {
			rest = append(rest, s)
			continue
		}
		if head.routes == 0 && s.routes > 0 {
			head.tie.Route, head.routes = s.tie.Route, s.routes
		}
		if len(head.places) == 0 {
			head.places = s.places
		}
	}
	return rest
}

// restOf gives "the rest" its count: the head's total less what was told of it.
func (head *clause) restOf(subs []*clause) {
	left := head.count
	for _, s := range subs {
		if s.named {
			return
		}
		if s.rest && !s.told && head.told && left > 0 {
			s.count, s.told = left, true
			return
		}
		left -= s.pieces()
	}
}

// partsInto says whether subs can be pieces of the head: none tells another
// place or route than the head does.
func (head *clause) partsInto(subs []*clause) bool {
	for _, s := range subs {
		if len(head.places) > 0 && head.places[0].Spread == "" && len(s.places) > 0 {
			return false
		}
		if head.routes > 0 && s.routes > 0 && s.tie.Route != head.tie.Route {
			return false
		}
	}
	return true
}

// share gives "direct", told last of a breakdown, to the pieces before it: "one
// front, one rear, direct". Over and the rest would lift them, so they are not
// shared.
func share(subs []*clause) {
	last := subs[len(subs)-1]
	if last.tie.Route != load.Direct {
		return
	}
	for _, s := range subs[:len(subs)-1] {
		if s.routes > 0 {
			return
		}
	}
	for _, s := range subs {
		s.tie.Route, s.routes = load.Direct, 1
	}
}

// shareMarked gives "direct", told of a clause behind "and", to the marked pieces that
// it is joined to: "chain 7 and 3x 3/8 g70 direct". As for share, no other route.
func shareMarked(cs []*clause) {
	for i := 1; i < len(cs); i++ {
		c, before := cs[i], cs[i-1]
		if c.joined && c.named && c.tie.Route == load.Direct && len(before.tags) > 0 && before.routes == 0 && len(before.places) == 0 && !before.through {
			before.tie.Route, before.routes = load.Direct, 1
		}
	}
}

// inherit takes the kind of the head; all says that it is a piece of the head,
// so that its route, place, fittings and state are its own too.
func (c *clause) inherit(head *clause, all bool) {
	t, h := &c.tie, &head.tie
	t.Material, t.Size, t.SizeWord, t.Grade, t.Make, t.Thick = h.Material, h.Size, h.SizeWord, h.Grade, h.Make, h.Thick
	c.named = true
	c.through = c.through || all && head.through
	if c.count == 0 {
		c.count = 1
	}
	if t.Mark == 0 {
		t.Mark, t.State.NoTag = h.Mark, t.State.NoTag || h.State.NoTag
	}
	if t.Anchor == 0 {
		t.Anchor = h.Anchor
	}
	if !all {
		return
	}
	if t.Route == "" && c.routes == 0 {
		t.Route, c.routes = h.Route, head.routes
	}
	if len(c.places) == 0 {
		c.places = head.places
	}
	if t.Tensioner == (load.Tensioner{}) {
		t.Tensioner = h.Tensioner
	}
	if t.Hook == 0 {
		t.Hook = h.Hook
	}
	if t.HookStamp == (load.Stamp{}) {
		t.HookStamp = h.HookStamp
	}
	if t.State.Tight == load.Untold {
		t.State.Tight = h.State.Tight
	}
	if t.State.Sound == load.Untold {
		t.State.Sound = h.State.Sound
	}
	t.State.NoGuard = t.State.NoGuard || h.State.NoGuard
	t.State.Damage = append(t.State.Damage, h.State.Damage...)
	if h.State.Gone != "" {
		t.State.Gone = h.State.Gone
	}
}
