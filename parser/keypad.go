package parser

import (
	"slices"
	"strings"
)

// keypad finds the known words that a phone of twelve keys takes for one another:
// it is pressed once for each letter, and picks one of the words with those keys.
// "Rear" may come as "pear", "none" as "mood". Such a word is never read as the
// other, but it is asked about, and it holds the load open where the other could.
type keypad map[string][]keyed

// keyed is a known word by its keys.
type keyed struct {
	word, means string
	grave       bool // left unread, it could change the answer
	trade       bool // of the trade: worth asking after
}

// letterKeys are those that the letters a to z lie on (ITU-T E.161).
const letterKeys = "22233344455566677778889999"

// keysOf appends the keys of a word to b; nothing for a word with other signs, or
// too short to tell.
func keysOf(b []byte, w string) []byte {
	if len(w) < 3 {
		return b
	}
	for i := 0; i < len(w); i++ {
		if w[i] < 'a' || w[i] > 'z' {
			return b[:0]
		}
		b = append(b, letterKeys[w[i]-'a'])
	}
	return b
}

// at are the known words with the keys of w.
func (p keypad) at(w string) []keyed {
	var b [32]byte
	return p[string(keysOf(b[:0], w))]
}

// add makes a word of a kind known. A short form without a vowel is on no phone's list.
func (p keypad) add(w, means string, k kind) {
	if k.in(kPlain, kFiller) || !strings.ContainsAny(w, "aeiouy") {
		return
	}
	if at := string(keysOf(nil, w)); at != "" {
		grave := (&tok{kind: k}).grave()
		p[at] = append(p[at], keyed{w, means, grave, grave || k.in(kKind, kPart, kLock, kTight)})
	}
}

// others is what else the keys of w spell: the one word of the trade, "" where it is
// none or several; and whether any of them could change the answer.
func (p keypad) others(w string) (word string, grave bool) {
	means := ""
	for _, k := range p.at(w) {
		switch {
		case k.word == w:
			continue // itself, as a unit with no figure is
		case !k.trade:
		case means == "":
			word, means = k.word, k.means
		case k.means != means:
			word = ""
		}
		grave = grave || k.grave
	}
	return word, grave
}

// grave says whether a known word, left unread, could change the answer.
func (p keypad) grave(w string) bool {
	return slices.ContainsFunc(p.at(w), func(k keyed) bool { return k.grave && k.word == w })
}

// swapped says whether the token at i is one of the small words that a keypad gives
// for a grave one, where it makes no sense as it stands: "on binders" for "no
// binders", "strap is but" for "cut".
func (r *reader) swapped(i int) bool {
	t := &r.toks[i]
	last := i+1 == len(r.toks)
	switch {
	case t.raw == "on" && t.kind == kOn && !last:
		return r.noFor(i)
	case t.raw == "but" && t.kind == kAnd && i > 0:
		return last || r.toks[i-1].kind == kBe || r.toks[i+1].kind.in(kStop, kLine)
	}
	return false
}

// noFor says whether the "on" at i may be a "no": of a lock; at the head of what is
// told, or behind "has", of what a tie-down can be without; behind "is", of good. Run
// into what stands before it ("direct on binders") it is taken as it stands.
func (r *reader) noFor(i int) bool {
	next := &r.toks[i+1]
	switch {
	case next.raw == "lock" || next.raw == "pin":
		return true
	case i > 0 && r.toks[i-1].kind == kBe:
		return next.raw == "good"
	case !r.begins(i) && !r.toks[i-1].kind.in(kDecor, kWith):
		return false
	}
	return next.raw == "marks" || next.kind.in(kMat, kTens, kLock, kLink, kHook, kRing, kRated, kState, kNoMark) && next.tags == nil
}
