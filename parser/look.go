package parser

import "slices"

// This file looks along the significant tokens: what stands before a token or
// behind it, small words aside. A reach bounds the look, in tokens, so that a
// message of nothing but small words costs no more than another.

// in says whether k is one of ks.
func (k kind) in(ks ...kind) bool { return slices.Contains(ks, k) }

// past is the first token from i on that is none of small.
func (r *reader) past(i int, small ...kind) int {
	for r.kindAt(i).in(small...) {
		i++
	}
	return i
}

// back is the last token up to i that is none of small; -1 when there is none.
func (r *reader) back(i int, small ...kind) int {
	for r.kindAt(i).in(small...) {
		i--
	}
	return i
}

// kindPast is the kind of the first of the reach tokens from i on that is none
// of small, kNone when all are.
func (r *reader) kindPast(i, reach int, small ...kind) kind {
	for k := i; k < i+reach; k++ {
		if x := r.kindAt(k); !x.in(small...) {
			return x
		}
	}
	return kNone
}

// backIn is the last of the reach tokens up to i that is none of small; -1 when
// all are.
func (r *reader) backIn(i, reach int, small ...kind) int {
	for k := i; k > i-reach && k >= 0; k-- {
		if !r.kindAt(k).in(small...) {
			return k
		}
	}
	return -1
}

// has says whether one of the kinds stands in tokens from..to.
func (r *reader) has(from, to int, ks ...kind) bool {
	for i := from; i < to && i < len(r.sig); i++ {
		if r.t(i).kind.in(ks...) {
			return true
		}
	}
	return false
}
