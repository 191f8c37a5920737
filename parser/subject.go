package parser

import (
	"halfweight/rules/load"
)

// subject is what a condition is told of.
type subject struct {
	ref     Ref
	told    bool // something points at tie-downs
	number  bool
	part    string // damaged part: "hook", "binder", ...
	fitting bool
	plural  bool
	size    []int
	counted bool // told as "4x": a clause, not a reference
	tags    []string
}

// take lays token k into the subject; ok is false when k is no part of one.
func (s *subject) take(r *reader, k int) bool {
	t := r.t(k)
	switch t.kind {
	case kMat:
		m, ok := materials[t.word]
		if !ok && t.word != "tie-down" {
			return false
		}
		if mixed := len(s.tags) > 0 && len(t.tags) > 0 && s.ref.Like.Material != m.material; mixed {
			s.ref.Like.Material = "" // "chain 7 and strap 2": the marks tell
		} else if ok {
			s.ref.Like.Material = m.material
			if s.part == "" {
				s.part = string(m.material)
			}
		}
		s.told = true
		s.plural = s.plural || t.plural
		s.tags = append(s.tags, t.tags...)
	case kTens:
		if len(t.tags) > 0 {
			s.tags, s.told = append(s.tags, t.tags...), true
			s.ref.Like.Tensioner.Kind = t.word
		}
		s.part, s.fitting = "binder", true
		if t.word == "ratchet" {
			s.part = "ratchet"
		}
		s.plural = s.plural || t.plural
	case kHook:
		s.part, s.fitting = "hook", true
	case kRing:
		s.part, s.fitting = "anchor", true
	case kLink:
		s.part, s.fitting = "chain", true
	case kEnd:
		s.ref.Like.Place, s.told = merge(s.ref.Like.Place, load.Place{End: t.word}), true
		if t.raw == "rears" {
			s.plural = true
		}
	case kSide:
		s.ref.Like.Place, s.told = merge(s.ref.Like.Place, load.Place{Side: t.word}), true
	case kCorner:
		s.ref.Like.Place, s.told = cornerPlace(t.word), true
	case kAll:
		s.ref.Which, s.told = All, true
		if t.raw == "both" && s.ref.Count == 0 {
			s.ref.Count = 2
		}
	case kRest:
		s.ref.Which, s.told = Rest, true
	case kLast:
		s.ref.Which, s.told = Last, true
	case kThem:
		if s.ref.Which == It {
			s.ref.Which = All
		}
		s.told = true
	case kNum, kCount:
		if t.num > maxCount*load.One {
			return false
		}
		if t.kind == kCount {
			s.counted = true
		}
		if r.kindAt(k+1) == kLink || r.kindAt(k+1) == kDamage && r.kindAt(k+2) == kLink {
			return true // counts links, not chains
		}
		s.ref.Count, s.number, s.told = int(t.num/load.One), true, true
		if s.ref.Which != Last {
			s.ref.Which = Some
		}
	case kExtra:
		s.ref.Count, s.number, s.told, s.ref.Which = 1, true, true, Some
	case kSize:
		s.size = append(s.size, k)
	case kGrade:
		s.ref.Like.Grade = readGrade(t.word)
		s.told = true
	case kRoute:
		if t.word == "?" {
			return false
		}
		s.ref.Like.Route = load.Route(t.word)
	case kIt, kDet, kOf, kOn, kBe, kWith, kEach, kFrom, kHedge:
		if t.kind == kIt {
			s.told = true
		}
	default:
		return false
	}
	return true
}
