package tables

import (
	_ "embed"
	"fmt"
	"sync"

	"halfweight/rules/load"
)

//go:embed figures.csv
var figuresCSV string

// Percent is a share in hundredths.
type Percent int64

// Of is p hundredths of q, rounded down to the unit that q is kept in.
func Of[Q ~int64](p Percent, q Q) Q { return q/100*Q(p) + q%100*Q(p)/100 }

// Limits are the figures that the federal rules compare with. LimitSource has
// where each was read.
type Limits struct {
	Need             Percent // of the weight that the credits must reach (393.106(d))
	CreditDirect     Percent // of the WLL, by route (393.106(d)(1) to (3))
	CreditSameSide   Percent
	CreditOver       Percent
	CreditLengthwise Percent // not named there: the lesser

	Heavy       load.Mass // machine or vehicle of this or more (393.130(a)), told in pounds
	HeavyMetric load.Mass // the same, told in kilograms
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

	FirstCheck     int // miles within which the load is looked at again (392.9(b)(2))
	NextCheckMiles int // and then every so many miles or hours, whichever is first (392.9(b)(3))
	NextCheckHours int

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
func Federal() *Limits { return federal().limits }

// LimitSource is where a figure was read; key is as in figures.csv.
func LimitSource(key string) (src Source, ok bool) {
	src, ok = federal().sources[key]
	return src, ok
}

type figures struct {
	limits  *Limits
	sources map[string]Source
}

var federal = sync.OnceValue(func() figures {
	rows := make(map[string]row)
	sources := make(map[string]Source)
	for _, r := range read("figures.csv", figuresCSV) {
		rows[r.text("key")] = r
		sources[r.text("key")] = r.source()
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
	pounds := func(key string) load.Mass { return load.Mass(take(key, "lb")) * load.Pound }
	kilograms := func(key string) load.Mass { return load.Mass(take(key, "kg")) * load.Kilogram }
	feet := func(key string) load.Length { return load.Length(take(key, "ft")) * load.Foot }
	number := func(key, unit string) int { return int(take(key, unit)) }

	l := &Limits{
		Need:              percent("need"),
		CreditDirect:      percent("credit_direct"),
		CreditSameSide:    percent("credit_same_side"),
		CreditOver:        percent("credit_over"),
		CreditLengthwise:  percent("credit_lengthwise"),
		Heavy:             pounds("heavy"),
		HeavyMetric:       kilograms("heavy_metric"),
		Corners:           number("corners", "count"),
		Ends:              number("ends", "count"),
		EachEnd:           number("each_end", "count"),
		NumberShort:       feet("number_short"),
		NumberLong:        feet("number_long"),
		NumberEach:        feet("number_each"),
		NumberLight:       pounds("number_light"),
		NumberLightMetric: kilograms("number_light_metric"),
		NumberShortLight:  number("number_short_light", "count"),
		NumberBase:        number("number_base", "count"),
		FirstCheck:        number("first_check", "miles"),
		NextCheckMiles:    number("next_check_miles", "miles"),
		NextCheckHours:    number("next_check_hours", "hours"),
		Under5000:         pounds("under_5000"),
		NearLine:          pounds("near_line"),
		OnlyJust:          percent("only_just"),
		LooseWeight:       percent("loose_weight"),
		TonLow:            pounds("ton_low"),
		TonHigh:           kilograms("ton_high"),
		WornLeft:          percent("worn_left"),
		Cargo:             cargoLimits(take),
	}
	for key := range rows {
		panic(fmt.Sprintf("table figures.csv has %q, which nothing takes", key))
	}
	for i := range chains() {
		l.BestChain = max(l.BestChain, chains()[i].WLL)
	}
	return figures{l, sources}
})
