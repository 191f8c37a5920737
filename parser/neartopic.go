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

// near are phrases of the topics that share most words with a question, words of
// few topics telling more than those of many. A word of a third of all topics
// ("what", "the") tells nothing.
func near(words string) []string {
	index := topicWords()
	keys := map[string]bool{}
	for _, row := range topicRows() {
		keys[row.key] = true
	}
	type hit struct {
		row   topicRow
		score float64
	}
	var hits []hit
	seen := map[string]bool{}
	for w := range strings.FieldsSeq(words) {
		rows := index[w]
		if seen[w] || len(rows) > len(keys)/mostNear || len(w) < 3 || smallWords[w] {
			continue
		}
		seen[w] = true
		for _, row := range rows {
			at := slices.IndexFunc(hits, func(h hit) bool { return h.row.key == row.key })
			if at < 0 {
				at = len(hits)
				hits = append(hits, hit{row: row})
			}
			hits[at].score += 1 / float64(len(rows))
		}
	}
	slices.SortStableFunc(hits, func(a, b hit) int { return cmp.Compare(b.score, a.score) })
	var list []string
	for _, h := range hits[:min(len(hits), mostNear)] {
		list = append(list, strings.TrimSpace(h.row.words))
	}
	return list
}
