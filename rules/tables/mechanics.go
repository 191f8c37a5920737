package tables

import (
	_ "embed"
	"fmt"
	"sync"
)

//go:embed mechanics.csv
var mechanicsCSV string

//go:embed friction.csv
var frictionCSV string

// Mechanics are the figures that the mechanics of a load are worked out with and
// compared with. No rule rests on any of them.
type Mechanics struct {
	Federal, Canada Performance // what the mechanics are compared with

	AngleLow, AngleHigh   float64 // degrees: the range of an angle that was not told
	AngleFlat, AngleSteep float64 // degrees to the deck: outside these it is asked again

	Keeps        float64 // share of its WLL that one over the top keeps as tension
	Braked       float64 // share of the weight on wheels that is on braked ones
	FrictionMost float64 // the most that is taken of a friction told
	FrictionHigh float64 // above this it is doubted
}

// Performance is what a section names that each direction must hold, in g, with
// each device at its working load limit.
type Performance struct {
	Forward, Rearward, Sideways float64
	Cite                        string
}

var mechanics = sync.OnceValue(func() *Mechanics {
	rows := map[string]row{}
	for _, r := range read("mechanics.csv", mechanicsCSV) {
		rows[r.text("key")] = r
	}
	take := func(key, unit string, of float64) float64 {
		r, ok := rows[key]
		if !ok || r.text("unit") != unit {
			panic(fmt.Sprintf("table mechanics.csv has no %q in %s", key, unit))
		}
		delete(rows, key)
		return float64(r.whole("value")) / of
	}
	performance := func(of string) Performance {
		const unit = "thousandths of g"
		cite := rows[of+"_forward"].text("cite")
		return Performance{take(of+"_forward", unit, 1000), take(of+"_rearward", unit, 1000), take(of+"_sideways", unit, 1000), cite}
	}
	m := &Mechanics{
		Federal:      performance("wll"),
		Canada:       performance("canada"),
		AngleLow:     take("angle_low", "degrees", 1),
		AngleHigh:    take("angle_high", "degrees", 1),
		AngleFlat:    take("angle_flat", "degrees", 1),
		AngleSteep:   take("angle_steep", "degrees", 1),
		Keeps:        take("keeps", "percent", 100),
		Braked:       take("braked", "percent", 100),
		FrictionMost: take("friction_most", "hundredths", 100),
		FrictionHigh: take("friction_high", "hundredths", 100),
	}
	for key := range rows {
		panic(fmt.Sprintf("table mechanics.csv has %q, which nothing takes", key))
	}
	return m
})

// MechanicsFigures are the figures of mechanics.csv.
func MechanicsFigures() *Mechanics { return mechanics() }

// Rubbing is what an article stands on, as told; an empty field was not told.
type Rubbing struct {
	Contact string `json:",omitzero"` // "rubber", "steel", "wood", "mat"
	Deck    string `json:",omitzero"` // "wood", "steel" (aluminium too)
	State   string `json:",omitzero"` // "dry", "wet", "slick" (mud, oil, ice, snow)
}

type frictionRow struct {
	Rubbing
	value float64
}

var frictions = sync.OnceValue(func() []frictionRow {
	return parse("friction.csv", frictionCSV, func(r row) frictionRow {
		return frictionRow{Rubbing{r.text("contact"), r.text("deck"), r.text("state")}, float64(r.whole("friction")) / 100}
	})
})

// Friction is the least friction of the rows that fit what was told. What the
// article stands on with has a row of its own where it was not told; whether it is
// dry or wet, not told, is taken as the lesser of the two, as is the deck.
func Friction(told Rubbing) float64 {
	if told.Contact == "" {
		told.Contact = "untold"
	}
	least := 1.0
	for _, r := range frictions() {
		if r.Contact != told.Contact || r.Deck != "any" && told.Deck != "" && r.Deck != told.Deck {
			continue
		}
		if r.State == told.State || told.State == "" && r.State != "slick" {
			least = min(least, r.value)
		}
	}
	if least == 1.0 {
		return 0 // nothing fits: no friction is counted on
	}
	return least
}
