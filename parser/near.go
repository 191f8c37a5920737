package parser

import "math/bits"

// nearIndex finds the one known word a typing error away: one error (a letter
// missed, added, changed, or two neighbours swapped) in words of up to five
// letters, two beyond. Words of three letters or less are never guessed at.
// Candidates are ruled out by their set of letters first, so a message full of
// unknown words costs little.
type nearIndex struct {
	byLen [24][]nearWord
	// means is what a word means by itself, where it does: two spellings of one
	// meaning do not rival each other
	means map[string]string
}

type nearWord struct {
	word string
	set  uint32
	rank int
}

// Ranks of the known words. A plain word bars a correction when it is nearer; a
// word that gives an order, or a number, when it is as near. Of words as near, a
// trade word goes before a small one.
const (
	rankPlain = 1 + iota
	rankBlock
	rankSmall
	rankTrade
)

func newNearIndex(known map[string]int, means map[string]string) nearIndex {
	x := nearIndex{means: means}
	for w, rank := range known {
		if n := len(w); (n >= 4 || n == 3 && rank == rankBlock) && n < len(x.byLen) {
			x.byLen[n] = append(x.byLen[n], nearWord{w, letterSet(w), rankOf(w, rank)})
		}
	}
	return x
}

// rankOf lets a long small word rival a trade word: a slip in it may be either.
func rankOf(w string, rank int) int {
	if rank == rankSmall && len(w) > 5 {
		return rankTrade
	}
	return rank
}

func letterSet(w string) uint32 {
	var s uint32
	for i := 0; i < len(w); i++ {
		if c := w[i]; c >= 'a' && c <= 'z' {
			s |= 1 << (c - 'a')
		}
	}
	return s
}

// find returns the known word nearest to w within its allowance, if exactly one
// is that near and it starts or ends with the same letter.
func (x *nearIndex) find(w string) (string, bool) {
	allow := 1
	if len(w) > 5 {
		allow = 2
	}
	if len(w) < 4 || len(w) >= len(x.byLen)-2 {
		return "", false
	}
	set := letterSet(w)
	best, found, unique := allow+1, "", false
	rank := 0
	barred := allow + 1 // the nearest word that bars
	for n := max(3, len(w)-allow); n <= len(w)+allow; n++ {
		for _, c := range x.byLen[n] {
			if bits.OnesCount32(c.set^set) > 2*allow {
				continue
			}
			if c.word[0] != w[0] && c.word[n-1] != w[len(w)-1] {
				continue
			}
			// a short word allows one error, whichever of the two is the short one
			lim := allow
			if n <= 5 {
				lim = min(lim, 1)
			}
			// two errors only where both ends of the word agree
			if c.word[0] != w[0] || c.word[n-1] != w[len(w)-1] {
				lim = min(lim, 1)
			}
			if d := typos(w, c.word, lim); d <= lim {
				if c.rank < rankSmall {
					if c.rank == rankPlain {
						d++
					}
					barred = min(barred, d)
					continue
				}
				if d < best || d == best && c.rank > rank {
					best, rank, found, unique = d, c.rank, c.word, true
				} else if d == best && c.rank < rank {
					continue
				} else if m := x.means[c.word]; d == best && c.word != found && (m == "" || m != x.means[found]) {
					unique = false
				}
			}
		}
	}
	return found, unique && best < barred
}

// typos counts the typing errors between a and b, a swap of neighbours being
// one; more than limit returns limit+1.
func typos(a, b string, limit int) int {
	if len(a) > 24 || len(b) > 24 {
		return limit + 1
	}
	var rows [3][26]int
	before, prev, cur := &rows[0], &rows[1], &rows[2]
	for j := 0; j <= len(b); j++ {
		prev[j] = j
	}
	for i := 1; i <= len(a); i++ {
		cur[0] = i
		least := i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			v := min(prev[j]+1, cur[j-1]+1, prev[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				v = min(v, before[j-2]+1)
			}
			cur[j] = v
			least = min(least, v)
		}
		if least > limit {
			return limit + 1
		}
		before, prev, cur = prev, cur, before
	}
	return prev[len(b)]
}
