package parser

import (
	_ "embed"
	"encoding/csv"
	"sort"
	"strings"
	"sync"
)

//go:embed words.csv
var wordsCSV string

// entry is one spelling in the dictionary.
type entry struct {
	words []string
	kind  kind
	word  string // canonical value
}

// dictionary finds the longest phrase that stands at a place.
type dictionary struct {
	first map[string][]entry // by first word, longest first
	known map[string]bool    // every word of every phrase
	tools map[string]bool    // parts that are attachments
	near  nearIndex
	keys  keypad
}

var english = sync.OnceValue(func() *dictionary { return newDictionary(wordsCSV) })

// newDictionary reads a vocabulary table. It panics on a table that is not
// one: the table is part of the program.
func newDictionary(table string) *dictionary {
	r := csv.NewReader(strings.NewReader(table))
	r.Comment = '#'
	r.FieldsPerRecord = -1
	r.LazyQuotes = true
	rows, err := r.ReadAll()
	if err != nil {
		panic("parser: words.csv: " + err.Error())
	}
	rank, means := map[string]int{}, map[string]string{}
	d := &dictionary{first: make(map[string][]entry, 4096), known: make(map[string]bool, 4096), tools: map[string]bool{}, keys: keypad{}}
	for _, row := range rows[1:] {
		if row[0] == holdRow {
			continue // words of a hold question, which reads them by itself
		}
		k, ok := kindNames[row[0]]
		if !ok {
			panic("parser: words.csv: no token kind " + row[0])
		}
		if row[3] == "attachment" {
			d.tools[row[1]] = true
		}
		for _, spelling := range strings.Split(row[2], "|") {
			words := strings.Fields(spelling)
			if len(words) == 0 {
				continue
			}
			d.first[words[0]] = append(d.first[words[0]], entry{words: words, kind: k, word: row[1]})
			if len(words) == 1 {
				means[words[0]] = row[0] + " " + row[1]
				d.keys.add(words[0], means[words[0]], k)
			}
			for _, w := range words {
				d.known[w] = true
				switch {
				case k == kPlain:
					rank[w] = max(rank[w], rankPlain)
				case k.in(kCmd, kRoad, kNumber):
					rank[w] = max(rank[w], rankBlock)
				case small[k]:
					rank[w] = max(rank[w], rankSmall)
				default:
					rank[w] = rankTrade
				}
			}
		}
	}
	for w := range numberWords {
		d.number(w, rank)
		d.keys.add(w, "number "+w, kNumber)
	}
	for w := range fractionWords {
		d.number(w, rank)
	}
	for w := range d.first {
		es := d.first[w]
		sort.SliceStable(es, func(i, j int) bool { return len(es[i].words) > len(es[j].words) })
	}
	d.near = newNearIndex(rank, means)
	return d
}

// small are the kinds of words that say little by themselves.
var small = map[kind]bool{
	kFiller: true, kQuery: true, kBe: true, kDet: true, kWith: true, kOn: true, kOf: true, kTo: true, kFrom: true, kAnd: true,
	kOr: true, kIt: true, kThem: true, kThan: true, kFor: true, kHedge: true, kDoubt: true, kHaul: true, kCorrect: true, kYes: true, kPlan: true, kSame: true,
}

// number makes a number word known: never corrected, and a bar to correction.
func (d *dictionary) number(w string, rank map[string]int) {
	rank[w] = rankBlock
	d.known[w] = true
}

// spelt is the dictionary's spelling of w: itself, its singular, or the one
// known word a typing error away; ok is false when there is none.
func (d *dictionary) spelt(w string) (known string, plural, ok bool) {
	if d.known[w] {
		return w, false, true
	}
	if n := len(w); n > 3 && w[n-1] == 's' && d.known[w[:n-1]] {
		return w[:n-1], true, true
	}
	if n := len(w); n > 4 && w[n-2:] == "es" && d.known[w[:n-2]] {
		return w[:n-2], true, true
	}
	near, ok := d.near.find(w)
	if _, grave := d.keys.others(w); ok && grave && !d.keys.grave(near) {
		return "", false, false // it may be the graver one
	}
	return near, false, ok
}

// longest finds the longest phrase that starts at words[0]; n is its length in
// words, 0 when there is none. A word may stand in the plural where the phrase
// has it in the singular.
func (d *dictionary) longest(words []spelling) (e entry, n int, plural bool) {
	if len(words) == 0 {
		return entry{}, 0, false
	}
	best := func(first string, firstPlural bool) bool {
		for _, c := range d.first[first] {
			if len(c.words) > len(words) || len(c.words) <= n {
				continue
			}
			p, fit := firstPlural, true
			for i := 1; i < len(c.words); i++ {
				switch c.words[i] {
				case words[i].word:
					p = words[i].plural
				case words[i].single:
					p = true
				default:
					fit = false
				}
				if !fit {
					break
				}
			}
			if fit {
				e, n, plural = c, len(c.words), p
				return true
			}
		}
		return false
	}
	best(words[0].word, words[0].plural)
	if s := words[0].single; s != "" {
		best(s, true)
	}
	return e, n, plural
}

// spelling is a word of the text in the dictionary's spelling.
type spelling struct {
	word   string // as the dictionary spells it; "" unknown
	single string // its singular, where word is a plural that is known itself
	plural bool
}

func (d *dictionary) spell(w string) spelling {
	known, plural, ok := d.spelt(w)
	if !ok {
		return spelling{}
	}
	s := spelling{word: known, plural: plural}
	if n := len(known); n > 3 && known[n-1] == 's' && d.known[known[:n-1]] {
		s.single = known[:n-1]
	}
	return s
}
