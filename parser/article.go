package parser

import (
	"strconv"

	"halfweight/rules/load"
)

// article is an article while it is read.
type article struct {
	Article
	clauses []*clause
	noun    bool // a noun was told
	binders int  // binders told of all its tie-downs; 0 not told
	alike   int  // machines it stands for, if all is told of each; 0 one
	alikeAt int  // the token of their number
	lone    bool // a part was told in the singular
}

// article is the one being read, made if there is none: the one in hand.
func (r *reader) article() *article {
	if r.cur == nil {
		r.cur = &article{}
		r.arts = append(r.arts, r.cur)
		if r.weight != nil {
			r.cur.Weight, r.weight = *r.weight, nil
		}
	}
	return r.cur
}

// noun takes the word for an article at i: a new one, unless it only says what a
// tie-down is hooked to or speaks again of the one being read.
func (r *reader) noun(i int) {
	t := r.t(i)
	r.own(i, OwnFact)
	weight, definite, after := r.nounHead(i)
	r.lastPart = -1
	if r.contents(i) {
		return
	}
	if k := r.prevOn(i); k != "" && r.cl != nil && r.cl.tie.Size == 0 && r.cl.tie.Grade.Reading == load.NotRead {
		r.cl = nil // what lies in the truck or the box holds nothing
		r.aside = true
		return
	} else if k != "" && weight == nil {
		r.aside = r.aside || r.cl != nil // "4x 3/8 g70 still in the truck"
		return
	}
	if after && r.cl != nil && r.anyNoun() {
		if a := r.articleOf(t.word); a != nil && weight == nil {
			// "2x 3/8 g70 direct on the dozer"
			a.clauses = append(a.clauses, r.cl)
			r.cl = nil
			return
		}
		if weight != nil && len(r.cur.clauses) > 0 {
			// "..., 2x 2in straps over a 2000 lb crate"
			c := r.cl
			r.cl, r.cur = nil, nil
			a := r.article()
			a.noun, a.Kind, a.clauses = true, t.word, []*clause{c}
			a.Weight, r.weight = *weight, nil
			r.cur.Name = r.surface(i)
			return
		}
	}
	if after && (weight == nil && (r.anyNoun() || definite && vague(t.word))) {
		return // "through the machine", "hooked to the roller"
	}
	if r.cur != nil && r.cur.noun && r.cur.Kind == t.word && r.another(i, weight) {
		r.close()
		r.cur = nil
	}
	if r.cur != nil && r.cur.noun && weight == nil && (r.cur.Kind == t.word || vague(t.word) && definite) {
		return // "the roller is ..." again
	}
	if r.cur != nil && r.cur.noun && r.cl == nil && len(r.cur.clauses) == 0 && vague(r.cur.Kind) && weight == nil && !r.cur.Weight.Known() && t.word != "unit" {
		r.cur.Kind, r.cur.Name = t.word, r.surface(i) // "a machine, a roller"
		return
	}
	if r.cur != nil && r.cur.noun && r.cl == nil && len(r.cur.clauses) == 0 && weight == nil && rolls(r.cur.Kind) && rolls(t.word) {
		if r.cur.Kind == "roller" {
			r.cur.Kind, r.cur.Name = t.word, r.surface(i)
		}
		r.own(i, OwnFact)
		return // "asphalt roller double drum", "compactor, sheepsfoot"
	}
	if r.haul(i) {
		return
	}
	if r.cur != nil && r.cur.noun && r.kindAt(i+1) == kPart && weight == nil {
		return // "skid steer with a dozer blade": what sort of blade
	}
	if r.cur != nil && r.cur.noun {
		r.close()
		r.cur = nil
		r.leads, r.lead = false, nil
	}
	a := r.article()
	a.noun, a.Kind = true, t.word
	r.cur.Name = r.surface(i)
	if weight != nil && !a.Weight.Known() {
		a.Weight, r.weight = *weight, nil
	} else if r.weight != nil && !a.Weight.Known() {
		a.Weight, r.weight = *r.weight, nil
	} else if r.weight != nil && *r.weight != a.Weight && !r.corrected() {
		r.aside = true // "it weighs 60000, 26000 lb tractor": which one is it
	}
	r.pieces(i)
	r.alike(i)
	if definite {
		r.definite = true
	}
	if r.kindAt(i-1) == kExtra && r.t(i-1).raw == "another" {
		r.add = true // "another roller behind it"
	}
	r.named(i)
}

// surface is the token as the dictionary names it, or as sent where the
// canonical word is only a class.
func (r *reader) surface(i int) string {
	switch t := r.t(i); t.word {
	case "unknown", "cargo", "loose attachment", "machine", "truck", "part", "spool", "steel", "beam", "log", "lumber", "coil",
		"paper roll", "concrete pipe", "container", "flattened vehicle", "roll-off container", "boulder":
		return r.sent(i)
	default:
		return t.word
	}
}

// rolls says whether a kind is a roller that bends in the middle, whatever its drums.
func rolls(kind string) bool {
	return kind == "roller" || kind == "tandem roller" || kind == "compactor"
}

func vague(kind string) bool { return kind == "machine" || kind == "unit" }

func (r *reader) anyNoun() bool {
	for _, a := range r.arts {
		if a.noun {
			return true
		}
	}
	return false
}

// another says whether the noun at i, told before, is a second such article: it
// is called another, or comes with a weight of its own, or stands at the head
// of a part of its own after the first one's tie-downs.
func (r *reader) another(i int, w *load.Weight) bool {
	k := i - 1
	for r.kindAt(k).in(kMass, kBig) || r.kindAt(k) == kDet && r.t(k).raw != "the" {
		k--
	}
	if r.kindAt(k) == kExtra {
		return true
	}
	if !r.cur.Weight.Known() && len(r.cur.clauses) == 0 && r.cl == nil {
		return false
	}
	if n := r.kindAt(i + 1); w != nil || r.cur.Weight.Known() && n.in(kMass, kBig) {
		return true
	}
	if raw := r.prevRaw(i); raw == "second" || raw == "other" || raw == "third" {
		return true
	}
	return false
}

// prevRaw is the word before significant token i as sent, a filler too.
func (r *reader) prevRaw(i int) string {
	if k := r.sig[i] - 1; k >= 0 {
		return r.toks[k].raw
	}
	return ""
}

// articleOf is the article told last of that kind; nil when there is none or it
// is the one being read.
func (r *reader) articleOf(kind string) *article {
	for k := len(r.arts) - 1; k >= 0; k-- {
		if a := r.arts[k]; a.Kind == kind && a.noun {
			if a == r.cur {
				return nil
			}
			return a
		}
	}
	return nil
}

// prevOn is "in" or the like where the noun at i is told as a place to be in.
func (r *reader) prevOn(i int) string {
	if k := r.back(i-1, kDet); r.kindAt(k) == kOn {
		if raw := r.t(k).raw; raw == "on" && r.t(i).word == "truck" && r.cur != nil && r.cur.noun && r.cur.Kind != "truck" || raw == "in" || raw == "behind" || raw == "under" || raw == "inside" {
			return raw
		}
	}
	return ""
}

// nounHead looks at what stands before the noun at i: a weight of its own, a
// definite determiner, and whether a preposition puts it in a tie-down's path.
func (r *reader) nounHead(i int) (w *load.Weight, definite, after bool) {
	k := i - 1
	for ; k >= 0; k-- {
		t := r.t(k)
		switch t.kind {
		case kMass, kBig:
			if w == nil && r.pending(k) {
				w = r.weight
				continue
			}
		case kDet:
			if raw := t.raw; raw == "the" {
				definite = true
			}
			continue
		case kIt:
			definite = true
			continue
		case kBends, kWheels, kHedge, kExtra:
			continue
		case kOn, kTo, kFrom, kOf:
			if t.raw == "in" || t.raw == "behind" || t.raw == "under" {
				return w, true, true // "spare chains in the truck"
			}
			after = r.begun()
		case kRoute:
			after = true
		}
		break
	}
	return w, definite, after
}

// pending says whether the weight token at k is the one that waits for its noun.
func (r *reader) pending(k int) bool { return r.weight != nil && r.weightAt == k }

// named takes what may follow a noun: its number in this chat.
func (r *reader) named(i int) {
	a := r.cur
	k := i + 1
	if r.kindAt(k) == kNum && r.t(k).num%load.One == 0 && r.nameable(a.Kind) {
		n := r.kindAt(k + 1)
		// "machine 12,": a name; "machine 12 3/8 chains": twelve chains
		if n.in(kNone, kSep, kLine, kStop, kBe, kCount, kNum, kMass, kWith, kOn, kBig, kKind, kAsk) {
			a.Machine = strconv.Itoa(int(r.t(k).num / load.One))
			r.own(k, OwnFact)
			r.skip = k + 1
		}
	}
}

func (r *reader) nameable(kind string) bool {
	return vague(kind) || kind == "truck"
}

// haul takes "truck 9:" ahead of an article: who hauls it, no article and no
// figure.
func (r *reader) haul(i int) bool {
	w := r.t(i).raw
	if w != "truck" && w != "unit" || r.kindAt(i+1) != kNum {
		return false
	}
	// an article of its own must follow
	for k := i + 2; k < len(r.sig); k++ {
		switch r.t(k).kind {
		case kKind:
			r.ownAll(i, i+2, OwnPhrase)
			r.skip = i + 2
			return true
		case kStop:
			return false
		}
	}
	return false
}
