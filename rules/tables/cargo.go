package tables

import (
	_ "embed"
	"sync"

	"halfweight/rules/load"
)

//go:embed cargo.csv
var cargoCSV string

//go:embed checks.csv
var checksCSV string

// CargoKind is a row of cargo.csv: what the rules ask of a kind of article that
// is no machine.
type CargoKind struct {
	Section string // id of the rule of the section it has to itself; "" none
	Rolls   bool   // likely to roll (49 CFR 393.106(c)(1))
	Special bool   // a fabricated structural item (49 CFR 393.110(d))
	Source
}

var cargoKinds = sync.OnceValue(func() map[string]CargoKind {
	m := make(map[string]CargoKind)
	for _, r := range read("cargo.csv", cargoCSV) {
		m[r.text("key")] = CargoKind{r.text("section"), r.text("rolls") == "yes", r.text("special") == "yes", r.source()}
	}
	return m
})

// Cargo is what the rules ask of a kind of article; nothing of one that is not
// in the table.
func Cargo(kind string) CargoKind { return cargoKinds()[kind] }

// Check is something that a section asks for and only an eye can tell.
type Check struct {
	When string // how the article lies, what it rides on, its shape; "" always
	Text string
	Source
}

var checks = sync.OnceValue(func() map[string][]Check {
	m := make(map[string][]Check)
	for _, r := range read("checks.csv", checksCSV) {
		of := r.text("of")
		m[of] = append(m[of], Check{r.text("when"), r.text("check"), r.source()})
	}
	return m
})

// Checks are the checks by eye that a rule's section asks for, those that matter
// most first. rule is an id, of a section of its own or of a general one.
func Checks(rule string) []Check { return checks()[rule] }

// CargoLimits are the figures of the sections that one kind of cargo has to
// itself (49 CFR 393.116 to 393.136), and the metric limits of 393.110.
type CargoLimits struct {
	NumberShortMetric, NumberLongMetric load.Length // 393.110(b), told in metres

	LogsShare int       // lengthwise, the credits must reach this part of a stack's weight: one in so many
	LogsTies  int       // on each stack
	LogsLeast load.Mass // WLL of each, by the federal handbook

	LumberTop int // over each long bundle of an upper tier

	CoilsFrom, CoilsFromMetric                   load.Mass // 393.120 from here
	CoilOnEnd, CoilAcross, CoilAlong, CoilAlOver int       // tie-downs of one coil by how its eye lies; CoilAlOver where all go over

	PaperFrom, PaperFromMetric load.Mass // 393.122 from here

	PipeLarge     load.Length // inside diameter above which each pipe is held by itself
	PipeTies      int         // of a group of smaller ones
	PipeLargeEach int

	ContainerCorners int

	FlattenedOpen, FlattenedTwoWalls, FlattenedThreeWalls int       // on each stack
	FlattenedLeast                                        load.Mass // WLL of each

	RollOffRear int

	BoulderFrom, BoulderFromMetric load.Mass // 393.136 from here
	BoulderChains, BoulderLegs     int
	BoulderAround, BoulderLeg      Percent // of its weight: WLL of the chain round it, of each from that to the deck
}

// cargoLimits takes the figures from figures.csv.
func cargoLimits(take func(key, unit string) int64) CargoLimits {
	number := func(key string) int { return int(take(key, "count")) }
	pounds := func(key string) load.Mass { return load.Mass(take(key, "lb")) * load.Pound }
	kilograms := func(key string) load.Mass { return load.Mass(take(key, "kg")) * load.Kilogram }
	millimetres := func(key string) load.Length { return load.Length(take(key, "mm")) * load.Millimetre }
	percent := func(key string) Percent { return Percent(take(key, "percent")) }
	return CargoLimits{
		NumberShortMetric: millimetres("number_short_metric"),
		NumberLongMetric:  millimetres("number_long_metric"),

		LogsShare: int(take("logs_share", "parts")), LogsTies: number("logs_ties"), LogsLeast: pounds("logs_least"),
		LumberTop: number("lumber_top"),
		CoilsFrom: pounds("coils_from"), CoilsFromMetric: kilograms("coils_from_metric"),
		CoilOnEnd: number("coil_on_end"), CoilAcross: number("coil_across"),
		CoilAlong: number("coil_along"), CoilAlOver: number("coil_along_over"),
		PaperFrom: pounds("paper_from"), PaperFromMetric: kilograms("paper_from_metric"),
		PipeLarge: load.Length(take("pipe_large", "in")) * load.Inch,
		PipeTies:  number("pipe_ties"), PipeLargeEach: number("pipe_large_each"),
		ContainerCorners: number("container_corners"),
		FlattenedOpen:    number("flattened_open"), FlattenedTwoWalls: number("flattened_two_walls"),
		FlattenedThreeWalls: number("flattened_three_walls"), FlattenedLeast: pounds("flattened_least"),
		RollOffRear: number("roll_off_rear"),
		BoulderFrom: pounds("boulder_from"), BoulderFromMetric: kilograms("boulder_from_metric"),
		BoulderChains: number("boulder_chains"), BoulderLegs: number("boulder_legs"),
		BoulderAround: percent("boulder_around"), BoulderLeg: percent("boulder_leg"),
	}
}
