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
		switch {
		case negated:
			return e, false
		case (s.part == "binder" || s.part == "ratchet") && t.word == "lost":
			e.Set.Tensioner.Has = load.No
			if !s.told && !s.plural {
				s.ref.Which, s.ref.Count, s.told = Some, 1, true
			}
		case s.fitting && s.part != "chain":
			e.Loose = true // a binder that popped off: the chain hangs
		default:
			e.Gone = t.word
		}
	case kDamage:
		if negated {
			e.Set.State.Sound = load.Yes
			break
		}
		d := load.Damage{Kind: t.word, Part: s.part}
		if len(sizes) > 0 {
			switch t.word {
			case "worn", "stretched", "bent", "cracked":
				if r.leftOf(i) || r.kindAt(i+1) == kTo {
					d.Left = sizes[0]
				}
			default:
				d.Size = sizes
			}
		}
		e.Damage = []load.Damage{d}
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
	case kNoMark:
		if s.fitting && s.part != "chain" {
			return e, true // an unmarked hook or binder has no figure either way
		}
		e.Set.Grade = load.Grade{Reading: load.NoMarks}
	case kNoTag:
		return e, true
	case kTighten:
		if negated {
			e.Loose = true
		} else {
			e.Tightened = true
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
