package parser

import (
	"strings"
	"unicode/utf8"

	"halfweight/rules/load"
)

// message is what came of it: acts, owners, and what is left unread.
func (r *reader) message() Message {
	m := Message{Text: r.text, Acts: r.acts, Grave: r.aside, Tokens: make([]Token, len(r.toks))}
	offs := offsets(r.text)
	span := func(a, b int) string { return r.text[offs.at(a):offs.at(b)] }
	for i := range r.toks {
		if of := r.toks[i].of; of > 0 {
			r.toks[i].owner = r.toks[of-1].owner // a measure goes with its hurt
		}
	}
	keys := english().keys
	last := -1 // last unread token
	for i := range r.toks {
		t := &r.toks[i]
		if t.owner == "" {
			t.owner = OwnUnread
			switch t.kind {
			case kSep, kLine, kStop, kAsk:
				t.owner = OwnPhrase
			case kAnd, kOr, kOf, kOn, kTo, kFrom, kThan, kFor, kDet, kBe, kWith, kIt, kThem, kEach, kUnit:
				if _, grave := keys.others(t.raw); len(r.acts) > 0 && !(t.kind == kUnit && grave) {
					t.owner = OwnFiller
				}
			}
		}
		swapped := r.swapped(i)
		if swapped {
			t.owner = OwnUnread
		}
		m.Tokens[i] = Token{Span: Span{Text: span(t.at, t.end), At: t.at}, Kind: kindName[t.kind], Owner: t.owner}
		if t.owner != OwnUnread {
			if t.owner != OwnFiller || t.kind != kDecor {
				last = -1
			}
			continue
		}
		like, grave := "", false
		if t.kind.in(kOther, kPlain, kUnit) && t.raw != "gold" { // how grade 70 is painted (common practice)
			like, grave = keys.others(strings.ToLower(m.Tokens[i].Text))
		}
		if grave || swapped || t.grave() || r.ofGear(i) || r.hookedTo(i) {
			m.Grave = true
		}
		if last >= 0 && t.at-r.toks[last].end <= 1 {
			u := &m.Unread[len(m.Unread)-1]
			u.Text = span(u.At, t.end)
			if u.Like == "" {
				u.Like = like
			}
		} else {
			m.Unread = append(m.Unread, Span{Text: span(t.at, t.end), At: t.at, Like: like})
		}
		last = i
	}
	return m
}

// ofGear says whether the unread word at i is said of a tie-down or a part of
// one: "one chain is too short". It may be a defect, in words we do not know.
func (r *reader) ofGear(i int) bool {
	if n := i + 1; n < len(r.toks) && r.toks[i].kind.in(kOther, kPlain) && r.toks[n].kind == kNum && r.toks[n].num == load.One && !r.coreBehind(n) {
		return true // "ignore one"
	}
	copula := false
	for k := i - 1; k >= 0 && k >= i-5; k-- {
		t := &r.toks[k]
		switch t.kind {
		case kBe, kWith, kFiller, kDet, kHedge, kQuery:
			copula = copula || t.kind.in(kBe, kWith)
			continue
		case kHook, kRing, kLink, kTens, kCorner:
			return true
		case kThem, kAll:
			return true
		case kLock, kJoint, kPart:
			return copula // "lock bar is florped"
		case kMat, kEnd, kSide:
			if k == i-1 && r.toks[i].kind == kOther && (t.kind != kMat || k == 0 || !r.toks[k-1].kind.in(kSize, kGrade)) && (t.kind == kMat && !t.plural || !r.coreBehind(i)) {
				return true // "chain florped", "left side florped"
			}
			return copula || r.begins(k) || t.kind == kMat && !t.plural && k > 0 && r.toks[k-1].kind.in(kNum, kDet, kTaken, kCorner, kSide, kEnd)
		case kCount, kTimes:
			return k == i-1 && !r.coreBehind(i) // "1x florp"
		case kNum, kIt:
			return copula || t.kind == kNum && k == i-1 && r.begins(k) && !r.coreBehind(i)
		}
		return false
	}
	return false
}

// hookedTo says whether the unread word at i is what a tie-down is told hooked to:
// "hooked on the florps". It may hold nothing.
func (r *reader) hookedTo(i int) bool {
	if !r.toks[i].kind.in(kOther, kPlain) {
		return false
	}
	k := i - 1
	for ; k >= 0 && k >= i-4 && r.toks[k].kind.in(kDet, kOther, kPlain, kIt, kFiller); k-- {
	}
	if k < 1 || !r.toks[k].kind.in(kTo, kOn) {
		return false
	}
	on := k - 1
	switch r.toks[on].raw {
	case "hooked", "attached", "connected", "hooks", "tied", "chained", "strapped", "wrapped":
		return true
	}
	if r.toks[on].kind == kSep && on > 0 {
		on--
	}
	return r.toks[k].kind == kTo && r.toks[on].kind == kRoute
}

// begins says whether the token at k is the first of what is told there.
func (r *reader) begins(k int) bool {
	for k--; k >= 0 && r.toks[k].kind.in(kFiller, kDecor, kDet); k-- {
	}
	return k < 0 || r.toks[k].kind.in(kSep, kLine, kStop, kAnd)
}

// coreBehind says whether what stands behind token i describes a tie-down.
func (r *reader) coreBehind(i int) bool {
	for i++; i < len(r.toks) && r.toks[i].kind.in(kFiller, kDecor, kDet, kOther, kPlain); i++ {
	}
	return i < len(r.toks) && r.toks[i].kind.in(kSize, kGrade, kMat)
}

// offsetTable finds the byte of a code point.
type offsetTable struct {
	ascii bool
	off   []int
	text  string
}

func offsets(text string) offsetTable {
	ascii := true
	for i := 0; i < len(text); i++ {
		if text[i] >= utf8.RuneSelf {
			ascii = false
			break
		}
	}
	if ascii {
		return offsetTable{ascii: true, text: text}
	}
	t := offsetTable{text: text}
	for i := range text {
		t.off = append(t.off, i)
	}
	t.off = append(t.off, len(text))
	return t
}

func (t offsetTable) at(n int) int {
	if t.ascii {
		return min(n, len(t.text))
	}
	return t.off[min(n, len(t.off)-1)]
}

func cut(text string, from, n int) string {
	t := offsets(text)
	return text[t.at(from):t.at(from+n)]
}
