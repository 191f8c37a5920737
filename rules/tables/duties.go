package tables

import _ "embed"

//go:embed duties.csv
var dutiesCSV string

//go:embed duties_canada.csv
var dutiesCanadaCSV string

// Duty is what a rule asks for, and the section that says so.
type Duty struct {
	Title string // "half the weight"
	Source
}

// duties reads the duties of one table, or of several, of which a later one's
// row stands in the place of an earlier one's.
func duties(files ...string) map[string]Duty {
	m := make(map[string]Duty)
	for _, csv := range files {
		for _, r := range read("duties", csv) {
			m[r.text("key")] = Duty{r.text("title"), r.source()}
		}
	}
	return m
}
