package tables

import (
	_ "embed"
	"sync"
)

//go:embed guidance.csv
var guidanceCSV string

// Guidance is an answer of the agency's to a question about a section, in our
// own words.
type Guidance struct {
	Question string
	Answer   string
	Source
}

var guidance = sync.OnceValue(func() map[string]Guidance {
	m := make(map[string]Guidance)
	for _, r := range read("guidance.csv", guidanceCSV) {
		m[r.text("key")] = Guidance{r.text("question"), r.text("answer"), r.source()}
	}
	return m
})

// FindGuidance looks up what the rules lean on: "G1" (below 10,000 lb a lock
// holds an accessory), "G2" (one that would stick out may ride raised and
// locked), "G3" (a backhoe's own locks).
func FindGuidance(key string) (g Guidance, ok bool) {
	g, ok = guidance()[key]
	return g, ok
}
