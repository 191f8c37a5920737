package parser

import "halfweight/rules/load"

// edit is what the condition at i, told of s, changes; ok is false when it is
// none.
func (r *reader) edit(i int, s *subject, negated bool) (e Edit, ok bool) {
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
			e.Damage = []load.Damage{r.damage(i, s.part)}
		}
	case kTail:
		e.Damage = []load.Damage{{Kind: "worn", Part: "chain"}} // "down to .31 i think"
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
		if negated {
			r.aside = true // "not replaced yet"
			return e, false
		}
		e.Replaced = true
		if s.fitting && s.part != "chain" {
			e.Part = s.part
		} else if t.word != "replaced" {
			e.Part = t.word
		}
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

// damage is the damage told at i of a part, with the measure folded into it.
func (r *reader) damage(i int, part string) load.Damage {
	d := load.Damage{Kind: r.t(i).word}
	if h := r.t(i).hurt; h != nil {
		d = *h
	}
	if d.Part == "" {
		d.Part = part
	}
	switch d.Part {
	case "hook", "binder", "ratchet", "anchor":
	default:
		if d.Kind == "opened" {
			d.Part = "hook" // nothing else opens
		}
	}
	return d
}
