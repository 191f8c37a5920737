package tables

import (
	_ "embed"
	"fmt"
	"maps"
	"sync"

	"halfweight/rules/load"
)

//go:embed figures.csv
var figuresCSV string

//go:embed figures_canada.csv
var figuresCanadaCSV string

// Percent is a share in hundredths.
type Percent int64

// Of is p hundredths of q, rounded down to the unit that q is kept in.
func Of[Q ~int64](p Percent, q Q) Q { return q/100*Q(p) + q%100*Q(p)/100 }

// Limits are the figures that one authority's rules compare with. Source has
// where each was read, Citation the section behind a duty.
type Limits struct {
	sources map[string]Source
	duties  map[string]Duty

	Need             Percent // of the weight that the credits must reach (393.106(d))
	CreditDirect     Percent // of the WLL, by route (393.106(d)(1) to (3))
	CreditSameSide   Percent
	CreditOver       Percent
	CreditLengthwise Percent // not named there: the lesser

	Heavy       load.Mass // machine or vehicle of this or more (393.130(a)), told in pounds
	HeavyMetric load.Mass // the same, told in kilograms
	HeavyOver   bool      // only what is over that figure is heavy
	Corners     int       // tie-downs of a heavy one (393.130(c))
	Ends        int       // tie-downs of a light one in all (393.128(b))
	EachEnd     int       // and at the front, and at the rear

	// 393.110: not blocked against moving forward, an article no longer than
	// NumberShort and no heavier than NumberLight takes NumberShortLight; any
	// other up to NumberLong takes NumberBase; a longer one takes one more for
	// each NumberEach, or part, beyond NumberLong. Blocked, an article takes one
	// for each NumberEach or part.
	NumberShort, NumberLong, NumberEach load.Length
	NumberLight, NumberLightMetric      load.Mass // told in pounds, told in kilograms
	NumberShortLight, NumberBase        int

	Cargo CargoLimits // of the sections that one kind of cargo has to itself

	FirstCheck     int // miles or kilometres within which the load is looked at again (392.9(b)(2))
	NextCheck      int // and then every so many of them, or of hours, whichever is first (392.9(b)(3))
	NextCheckHours int
	Kilometres     bool // those distances are kilometres

	// A crew's own, which only tighten; the zero value asks nothing.
	NoWebbing  bool // straps on a machine or vehicle count for nothing
	LeastGrade int  // chain of a lesser grade counts for nothing
	Guards     bool // every strap or rope that bears on an edge has a guard
	LeastTies  int  // tie-downs on each article, wherever they hold

	Unmarked  bool      // gear told to bear no mark still counts, by the tables
	LeastHold load.Mass // least WLL of each of the tie-downs that hold a heavy machine; 0 none asked

	Under5000   load.Mass // least WLL that the federal handbook asks of each of the four
	NearLine    load.Mass // from here to Heavy: run it as a heavy one
	OnlyJust    Percent   // of the need: less to spare is "only just"
	LooseWeight Percent   // a weight told loosely, either way
	TonLow      load.Mass // the least and the most that "ton" can mean
	TonHigh     load.Mass
	WornLeft    Percent   // of its stock that a link must keep
	BestChain   load.Mass // the highest rating in 393.108's chain table
}

// Federal is the limits of the United States' federal minimum.
func Federal() *Limits { return federal() }

// Canada is the limits of National Safety Code Standard 10, so far as its
// figures were read; what was not read is the federal figure.
func Canada() *Limits { return canada() }

// Source is where a figure was read; key is as in figures.csv.
func (l *Limits) Source(key string) (src Source, ok bool) {
	src, ok = l.sources[key]
	return src, ok
}

// Duty looks up a rule id, or another key of duties.csv: "accessory light"
// (below the heavy line), "damaged", "loose", "knot", "edge guard", "weakest
// part", "mark", "unmarked chain", "checks", "applies".
func (l *Limits) Duty(key string) (d Duty, ok bool) {
	d, ok = l.duties[key]
	return d, ok
}

// Miles is a distance of the road checks in miles.
func (l *Limits) Miles(n int) float64 {
	if l.Kilometres {
		return float64(n) / KmPerMile
	}
	return float64(n)
}

// KmPerMile is a mile in kilometres, exactly (international mile, 1959).
const KmPerMile = 1.609344

// Citation is the section behind a rule id, or behind another key that Duty
// knows: "49 CFR 393.106(d)". It is "" for any other.
func (l *Limits) Citation(key string) string { return l.duties[key].Cite }

// Tightened is a copy of l for a crew's own rules; cite says which duties they
// tighten and how that is cited.
func (l *Limits) Tightened(cites map[string]string) *Limits {
	c := *l
	c.duties = maps.Clone(l.duties)
	for key, cite := range cites {
		d := c.duties[key]
		d.Cite = cite
		c.duties[key] = d
	}
	return &c
}

var federal = sync.OnceValue(func() *Limits {
	l := limits(read("figures.csv", figuresCSV))
	l.Unmarked = true // 393.108 rates what bears no mark
	l.duties = duties(dutiesCSV)
	return l
})

var canada = sync.OnceValue(func() *Limits {
	l := limits(read("figures.csv", figuresCSV), read("figures_canada.csv", figuresCanadaCSV))
	l.HeavyOver, l.Kilometres = true, true
	l.duties = duties(dutiesCSV, dutiesCanadaCSV)
	return l
})

// limits takes the figures of one table, or of several, of which a later one's
// row stands in the place of an earlier one's.
func limits(figures ...[]row) *Limits {
	rows := make(map[string]row)
	sources := make(map[string]Source)
	for _, table := range figures {
		for _, r := range table {
			rows[r.text("key")] = r
			sources[r.text("key")] = r.source()
		}
	}
	take := func(key, unit string) int64 {
		r, ok := rows[key]
		if !ok || r.text("unit") != unit {
			panic(fmt.Sprintf("table figures.csv has no %q in %s", key, unit))
		}
		delete(rows, key)
		return r.whole("value")
	}
	percent := func(key string) Percent { return Percent(take(key, "percent")) }
	mass := func(key string) load.Mass {
		if rows[key].text("unit") == "kg" {
			return load.Mass(take(key, "kg")) * load.Kilogram
		}
		return load.Mass(take(key, "lb")) * load.Pound
	}
	feet := func(key string) load.Length { return load.Length(take(key, "ft")) * load.Foot }
	number := func(key, unit string) int { return int(take(key, unit)) }
	distance := func(key string) int {
		if rows[key].text("unit") == "km" {
			return number(key, "km")
		}
		return number(key, "miles")
	}

	l := &Limits{
		sources:           sources,
		Need:              percent("need"),
		CreditDirect:      percent("credit_direct"),
		CreditSameSide:    percent("credit_same_side"),
		CreditOver:        percent("credit_over"),
		CreditLengthwise:  percent("credit_lengthwise"),
		Heavy:             mass("heavy"),
		HeavyMetric:       mass("heavy_metric"),
		Corners:           number("corners", "count"),
		Ends:              number("ends", "count"),
		EachEnd:           number("each_end", "count"),
		NumberShort:       feet("number_short"),
		NumberLong:        feet("number_long"),
		NumberEach:        feet("number_each"),
		NumberLight:       mass("number_light"),
		NumberLightMetric: mass("number_light_metric"),
		NumberShortLight:  number("number_short_light", "count"),
		NumberBase:        number("number_base", "count"),
		FirstCheck:        distance("first_check"),
		NextCheck:         distance("next_check"),
		NextCheckHours:    number("next_check_hours", "hours"),
		Under5000:         mass("under_5000"),
		NearLine:          mass("near_line"),
		OnlyJust:          percent("only_just"),
		LooseWeight:       percent("loose_weight"),
		TonLow:            mass("ton_low"),
		TonHigh:           mass("ton_high"),
		WornLeft:          percent("worn_left"),
		Cargo:             cargoLimits(take),
	}
	if _, asked := rows["least_hold"]; asked {
		l.LeastHold = mass("least_hold")
	}
	for key := range rows {
		panic(fmt.Sprintf("table figures.csv has %q, which nothing takes", key))
	}
	for i := range chains() {
		l.BestChain = max(l.BestChain, chains()[i].WLL)
	}
	return l
}
