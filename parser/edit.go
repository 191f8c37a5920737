package parser

import "halfweight/rules/load"

// edit is what the condition at i, told of s, changes; ok is false when it is
// none.
func (r *reader) edit(i int, s *subject, sizes []load.Length, negated bool) (e Edit, ok bool) {
	t := r.t(i)
	switch t.kind {
	case kLoose:
		if negated {
			e.Set.State.Tight = load.Yes
		} else {
			e.Loose = true
		}
	case kGone:
		if negated {
			return e, false
		}
		e = s.gone(t.word)
	case kDamage:
		if negated {
			e.Set.State.Sound = load.Yes
		} else {
			e.Damage = []load.Damage{r.damage(i, s.part, sizes)}
		}
	case kTail:
		d := load.Damage{Kind: "worn", Part: "chain"}
		if len(sizes) > 0 {
			d.Left = sizes[0]
		}
		e.Damage = []load.Damage{d}
	case kNoGuard:
		if s.ref.Like.Material != load.Chain {
			e.Set.State.NoGuard = !negated // a guard is for a strap or rope
		}
	case kNoMark, kNoTag:
		e = s.noMark(t.kind)
	case kTighten:
		if negated {
			e.Loose = true
		} else {
			e.Tightened, e.Back = true, t.word == "back"
		}
	case kReplace:
		e.Replaced = true
	case kTight:
		if negated {
			e.Loose = true
		} else {
			e.Set.State.Tight = load.Yes
		}
	case kSound:
		if negated {
			e.Damage = []load.Damage{{Kind: "damaged", Part: s.part}}
		} else {
			e.Set.State.Sound = load.Yes
		}
	case kNeg, kNoTens:
		e.Set.Tensioner.Has = load.No
	default:
		return e, false
	}
	return e, true
}

// noMark is what a mark or tag told to be missing tells of the subject.
func (s *subject) noMark(what kind) (e Edit) {
	switch {
	case s.fitting && s.part != "chain":
		e.Unmarked = unmarked(s.part)
	case what == kNoMark:
		e.Set.Grade, e.Set.State.NoTag = load.Grade{Reading: load.NoMarks}, true
	default:
		e.Set.State.NoTag = true
	}
	return e
}

// unmarked is a fitting whose rating is read from its mark. Rings mostly bear
// none: theirs is asked of whoever made the trailer.
func unmarked(part string) string {
	if part == "anchor" {
		return ""
	}
	return part
}

// gone is what "came off", "lost", "popped" tells of the subject.
func (s *subject) gone(word string) (e Edit) {
	switch {
	case (s.part == "binder" || s.part == "ratchet") && word == "lost":
		e.Set.Tensioner.Has = load.No
		if !s.told && !s.plural {
			s.ref.Which, s.ref.Count, s.told = Some, 1, true
		}
	case s.fitting && s.part != "chain":
		e.Loose = true // a binder that popped off: the chain hangs
	default:
		e.Gone = word
	}
	return e
}

// damage is the damage told at i of a part, with its measures: the size of a
// cut, or what is left of worn metal.
func (r *reader) damage(i int, part string, sizes []load.Length) load.Damage {
	d := load.Damage{Kind: r.t(i).word, Part: part}
	if len(sizes) == 0 {
		return d
	}
	switch d.Kind {
	case "worn", "stretched", "bent", "cracked":
		if r.leftOf(i) || r.kindAt(i+1) == kTo {
			d.Left = sizes[0]
		}
	default:
		d.Size = sizes
	}
	return d
}
