package parser

import (
	"cmp"
	"slices"
	"strings"
	"sync"
)

// mostNear is how many topics are named for a question that none answers.
const mostNear = 3

// topicWords are, by word, the topics whose phrases hold it, a phrase of each.
var topicWords = sync.OnceValue(func() map[string][]topicRow {
	all := map[string][]topicRow{}
	for _, row := range topicRows() {
		if row.all != nil {
			continue // nothing to name it by
		}
		for w := range strings.FieldsSeq(row.words) {
			if !slices.ContainsFunc(all[w], func(o topicRow) bool { return o.key == row.key }) {
				all[w] = append(all[w], row)
			}
		}
	}
	return all
})

// smallWords stand in questions of any topic, and tell nothing of which.
var smallWords = wordSet(`the and for are was can could does did do has have had how what whats which who why when where
	with without this that these those they them their there you your our his her she him its not but should would will must need needs
	needed get got any some one ones from into much many more most same still take use put make made mean find tell count counts
	about between way off out all ok just only even told say says said know go going way got off on`)

// wordSet are the words of a text.
func wordSet(text string) map[string]bool {
	set := map[string]bool{}
	for w := range strings.FieldsSeq(text) {
		set[w] = true
	}
	return set
}

// telling are the words of a text that tell of a topic, each once.
func telling(text string) (list []string) {
	for w := range strings.FieldsSeq(text) {
		if !smallWords[w] && len(w) >= 3 && !slices.Contains(list, w) {
			list = append(list, w)
		}
	}
	return list
}

// scattered is the topic of the longest phrase whose telling words, two at least,
// all stand in a question, in any order: "is my strap still good" holds "strap
// still good". "" when none does.
func scattered(words string) (key string) {
	const least = 2
	asked, most := telling(words), 0
	for _, row := range topicRows() {
		if row.all != nil {
			continue
		}
		all := telling(row.words)
		if len(all) < least || slices.ContainsFunc(all, func(w string) bool { return !slices.Contains(asked, w) }) {
			continue
		}
		if n := len(strings.Join(all, " ")); n > most {
			key, most = row.key, n
		}
	}
	return key
}

// near are phrases of the topics nearest to a question, nearest first: of each
// topic the one that shares most with it, words of few topics telling more than
// those of many.
func near(words string) []string {
	index := topicWords()
	asked := telling(words)
	type hit struct {
		row   topicRow
		score float64
	}
	var hits []hit
	for _, row := range topicRows() {
		if row.all != nil {
			continue
		}
		all, score := telling(row.words), 0.0
		for _, w := range all {
			if slices.Contains(asked, w) {
				score += 1 / float64(len(index[w]))
			}
		}
		if score == 0 {
			continue
		}
		at := slices.IndexFunc(hits, func(h hit) bool { return h.row.key == row.key })
		if score /= float64(len(all)); at < 0 {
			hits = append(hits, hit{row, score})
		} else if score > hits[at].score {
			hits[at] = hit{row, score}
		}
	}
	slices.SortStableFunc(hits, func(a, b hit) int { return cmp.Compare(b.score, a.score) })
	var list []string
	for _, h := range hits[:min(len(hits), mostNear)] {
		list = append(list, strings.TrimSpace(h.row.words))
	}
	return list
}
