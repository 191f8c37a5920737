package parser

import (
	"halfweight/rules/load"
)

// This file reads broken wires counted on a wire rope.

// wiresAt reads broken wires counted: "12 broken wires in a foot", "8 broken wires
// in 3 inches, 2 in one strand".
func (r *reader) wiresAt(i int) (f hurtFold, end int, ok bool) {
	n, k := r.whole(i), i
	if n > 0 && !r.unsureAt(i-1) {
		k++
	}
	h := r.t2(k)
	if n > 0 && h.kind == kDamage && h.word == "broken" && h.hurt == nil && r.kindAt(k+1) == kSpot {
		h.word = "wires" // "10 broken in a lay"
	}
	if h.kind != kDamage || h.word != "wires" || h.hurt != nil {
		return f, i, false
	}
	if n == 0 { // "broken wires, 12 in 3 inches"
		if n = r.whole(r.past(k+1, kSep)); n == 0 || !r.kindAt(r.past(k+1, kSep)+1).in(kOn, kSpot) {
			return f, i, false
		}
		k = r.past(k+1, kSep)
		f.head, f.kind = i, h.word
	} else {
		f.head, f.kind = k, h.word
	}
	end = r.wiresWhere(&f, n, k+1)
	for m := r.past(end, kSep, kAnd); m > end && r.whole(m) > 0; m = r.past(end, kSep, kAnd) {
		after := m + 1
		if r.kindAt(after) == kOf && r.kindAt(after+1).in(kThem, kAll, kIt) {
			after += 2 // "2 of them in one strand"
		} else if r.kindAt(after) == kThem {
			after++
		}
		if d := r.t2(after); d.kind == kDamage && d.word == "wires" {
			after++
		}
		if !r.kindAt(r.past(after, kOn, kDet)).in(kSpot, kNum) {
			break
		}
		end = r.wiresWhere(&f, r.whole(m), after)
	}
	f.eat(i, end)
	return f, end, true
}

// whole is the whole number told at i, 0 where there is none.
func (r *reader) whole(i int) int {
	if t := r.t2(i); (t.kind == kNum || t.kind == kCount) && t.num >= load.One && t.num%load.One == 0 && t.num <= maxCount*load.One {
		return int(t.num / load.One)
	}
	return 0
}

// wiresWhere reads where n wires were counted, from token i on.
func (r *reader) wiresWhere(f *hurtFold, n, i int) (end int) {
	end = i
	told := &f.d.Wires
	defer func() { *told = n }()
	for k := i; k < i+reach; k++ {
		t := r.t2(k)
		switch {
		case t.kind == kSpot && t.word == "strand":
			told = &f.d.Strand
		case t.kind == kSpot && t.word == "fitting":
			told = &f.d.Fitting
		case t.kind == kSpot:
			f.d.Lay = true
		case t.kind.in(kSize, kLength):
			f.d.Over = t.size
		case t.kind == kUnit && t.word == "ft" && r.kindAt(k-1) == kDet:
			f.d.Over = load.Foot
		case t.kind == kUnit && t.word == "in" && r.kindAt(k-1) == kDet:
			f.d.Over = load.Inch
		case t.kind == kNum && r.kindAt(k+1) == kSpot, t.kind.in(kOn, kOf, kDet):
			continue
		default:
			return end
		}
		end = k + 1
	}
	return end
}
