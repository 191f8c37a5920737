package tables

import (
	_ "embed"
	"sync"
)

//go:embed duties.csv
var dutiesCSV string

// Duty is what a rule asks for, and the section that says so.
type Duty struct {
	Title string // "half the weight"
	Source
}

var duties = sync.OnceValue(func() map[string]Duty {
	m := make(map[string]Duty)
	for _, r := range read("duties.csv", dutiesCSV) {
		m[r.text("key")] = Duty{r.text("title"), r.source()}
	}
	return m
})

// FindDuty looks up a rule id, or another key of duties.csv: "accessory light"
// (below 10,000 lb), "damaged", "loose", "knot", "edge guard", "weakest part",
// "mark", "unmarked chain", "checks", "applies".
func FindDuty(key string) (d Duty, ok bool) {
	d, ok = duties()[key]
	return d, ok
}

// Citation is the section behind a rule id, or behind another key that FindDuty
// knows: "49 CFR 393.106(d)". It is "" for any other.
func Citation(key string) string { return duties()[key].Cite }
