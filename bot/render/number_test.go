package render

import (
	"testing"

	"halfweight/rules/load"
)

const lb = load.Pound

func TestMeasure_shortfallsRoundUpAndSparesDown(t *testing.T) {
	pound, kilo := measureIn("lb"), measureIn("kg")
	for _, c := range []struct {
		name, got, want string
	}{
		{"whole pounds stay", pound.up(13201 * lb), "13,201"},
		{"whole pounds stay down", pound.down(13201 * lb), "13,201"},
		{"half a pound of need rounds up", pound.up(13200*lb + lb/2), "13,201"},
		{"half a pound of credit rounds down", pound.down(13200*lb + lb/2), "13,200"},
		{"a microgram short is a pound short", pound.up(1), "1"},
		{"a microgram to spare is nothing", pound.down(1), "0"},
		{"nothing", pound.down(0), "0"},
		{"below zero rounds down", pound.down(-lb / 2), "-1"},
		{"hundreds have no comma", pound.down(999 * lb), "999"},
		{"thousands have one", pound.down(1000 * lb), "1,000"},
		{"a million has two", pound.down(1_000_000 * lb), "1,000,000"},
		// 12 metric tons twice over: 24 t is 26,455.47 lb on the plate and needs 13,227.74.
		{"two dozen thousand pounds of tonne class", pound.near(12 * load.Tonne), "26,455"},
		{"its half rounds up", pound.up(6 * load.Tonne), "13,228"},
		{"its shortfall against 13,200 rounds up", pound.up(6*load.Tonne - 13200*lb), "28"},
		{"kilograms", kilo.near(6350 * load.Kilogram), "6,350"},
		{"kilograms of 6,600 lb round down", kilo.down(6600 * lb), "2,993"},
		{"kilograms of 6,600 lb round up", kilo.up(6600 * lb), "2,994"},
	} {
		if c.got != c.want {
			t.Errorf("%s: %q, want %q", c.name, c.got, c.want)
		}
	}
}

func TestPounds_areExactToAHundredth(t *testing.T) {
	for m, want := range map[load.Mass]float64{
		14000 * lb:            14000,
		2350*lb + lb/2:        2350.5,
		6350 * load.Kilogram:  13999.35, // 6350 / 0.45359237 = 13,999.354
		-(200*lb + lb/4):      -200.25,
		1_000_000_000 * lb:    1_000_000_000,
		4536 * load.Kilogram:  10000.17,
		11975 * load.Kilogram: 26400.36,
	} {
		if got := pounds(m); got != want {
			t.Errorf("pounds(%d) = %v, want %v", m, got, want)
		}
	}
}

func TestInches_readAsOnATape(t *testing.T) {
	for l, want := range map[load.Length]string{
		load.Inch / 2:                  "1/2",
		load.Inch * 3 / 8:              "3/8",
		load.Inch:                      "1",
		load.Inch + load.Inch/4:        "1 1/4",
		load.Inch * 29 / 1000:          "0.029",
		310 * load.Inch / 1000:         "0.310",
		10 * load.Millimetre:           "0.394",
		load.Inch * 63 / 64:            "63/64",
		4 * load.Inch:                  "4",
		2*load.Inch + load.Inch*3/4:    "2 3/4",
		13 * load.Millimetre:           "0.512",
		load.Inch*3/8 + load.Inch/1000: "0.376",
	} {
		if got := inches(l); got != want {
			t.Errorf("inches(%d) = %q, want %q", l, got, want)
		}
	}
}
