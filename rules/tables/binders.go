package tables

import (
	_ "embed"
	"strings"
	"sync"

	"halfweight/rules/load"
)

//go:embed binders.csv
var bindersCSV string

type binderRow struct {
	label    string
	to       load.Length // the largest chain of its label
	weakerOn load.Length // the chain size on which it is the commonest weaker binder
	Figure
}

var binders = sync.OnceValue(func() []binderRow {
	return parse("binders.csv", bindersCSV, func(r row) binderRow {
		_, top, ranged := strings.Cut(r.text("label"), "-")
		if !ranged {
			top = r.text("label")
		}
		to, ok := inches(top)
		if !ok {
			panic(r.bad("label"))
		}
		return binderRow{
			label:    r.text("label"),
			to:       to,
			weakerOn: r.inches("weaker_on_in"),
			Figure:   Figure{WLL: r.pounds("least_lb"), Source: r.source()},
		}
	})
})

// WeakerBinder is the commonest binder weaker than the best chain of that size:
// 5,400 lb on 3/8, 9,200 on 1/2; ok is false for other sizes.
func WeakerBinder(size load.Length) (f Figure, ok bool) {
	size = Nominal(size, load.Chain)
	for _, b := range binders() {
		if b.weakerOn == size && size != 0 {
			return b.Figure, true
		}
	}
	return Figure{}, false
}

// BinderLabel is the least rating usual for a binder's size label: "1/4-5/16",
// "5/16-3/8", "3/8-1/2", "1/2", "1/2-5/8". It is practice: no section gives a
// binder a rating.
func BinderLabel(label string) (f Figure, ok bool) {
	for _, b := range binders() {
		if b.label == label && (!ok || b.WLL < f.WLL) {
			f, ok = b.Figure, true
		}
	}
	return f, ok
}

// BinderTo is the least rating usual for a binder made for chain up to that size;
// ok is false for other sizes. It is practice, as BinderLabel.
func BinderTo(size load.Length) (f Figure, ok bool) {
	size = Nominal(size, load.Chain)
	for _, b := range binders() {
		if b.to == size && (!ok || b.WLL < f.WLL) {
			f, ok = b.Figure, true
		}
	}
	return f, ok
}
