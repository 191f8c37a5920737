package hold

import (
	"math"
	"strconv"
	"strings"
	"testing"
)

// printed is a row of testdata/hold/printed.csv: what was printed for which inputs.
type printed struct {
	row
	of    map[string]float64
	value float64
}

func printedRows(t *testing.T) (list []printed) {
	t.Helper()
	for _, r := range file(t, "printed.csv") {
		p := printed{row: r, of: map[string]float64{}, value: r.float(t, "printed")}
		for part := range strings.SplitSeq(r["of"], ";") {
			name, figure, ok := strings.Cut(part, "=")
			if !ok {
				continue
			}
			f, err := strconv.ParseFloat(figure, 64)
			if err != nil {
				t.Fatal(err)
			}
			p.of[name] = f
		}
		list = append(list, p)
	}
	return list
}

// holding is what cables hold sideways by the program, with friction mu.
func holding(t *testing.T, weight, mu float64, cables []Cable) float64 {
	t.Helper()
	g, err := Slide(Block{Weight: weight, Along: mu, Across: mu}, cables, Left)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// flat is a cable that holds against going left with a force, along the deck.
func flat(force float64) []Cable { return []Cable{{Pull: Pull(0, 90, 1, -1), Most: force}} }

// Figures printed in handbooks, guides to standards and trade pages; the sources
// stand in the file.
func TestPrograms_giveThePrintedFigures(t *testing.T) {
	const gravity = 9.81
	tried := map[string]int{}
	for _, p := range printedRows(t) {
		tried[p.row["what"]]++
		same := func(got, half float64) {
			t.Helper()
			if math.Abs(got-p.value) > half {
				t.Errorf("%s of %s: %.4f, printed %v (%s)", p.row["what"], p.row["of"], got, p.value, p.row["source"])
			}
		}
		switch p.row["what"] {
		case "over count":
			// The printed number holds, one to each section fewer does not.
			n := p.value / p.of["sections"]
			over := func(n float64) float64 {
				force := n * p.of["tension_kn"] * p.of["k"] / 2 / p.of["fs"]
				legs := []Cable{
					{Pull: Pull(p.of["up"], 90, 1, 1), Clamp: true, Slack: force},
					{Pull: Pull(p.of["up"], 90, 1, -1), Clamp: true, Slack: force},
				}
				return holding(t, p.of["mass_t"]*gravity, p.of["mu"], legs)
			}
			if over(n) < p.of["c"] || over(n-1) >= p.of["c"] {
				t.Errorf("%s: %v hold %.4f, one fewer %.4f, wanted %v", p.row["table"], n, over(n), over(n-1), p.of["c"])
			}
		case "along":
			same(holding(t, 1, 0, []Cable{{Pull: Pull(p.of["up"], 90, 1, -1), Most: p.of["tension"] / plenty}})*plenty, 0.5)
		case "down":
			c := Cable{Pull: Pull(p.of["up"], 90, 1, -1)}
			same(-c.Pull[2]*p.of["tension"], 0.5)
		case "force left", "share left":
			// That force, or share of the weight, along the deck makes up the rest.
			if g := holding(t, p.of["weight"], p.of["mu"], flat(p.value)); math.Abs(g-p.of["c"]) > 1e-5 {
				t.Errorf("%s: %v leaves %.4f, wanted %v", p.row["table"], p.value, g, p.of["c"])
			}
		case "tonnes held":
			force := 2 * p.of["msl_t"] * 10 / p.of["divisor"]
			if g := holding(t, (p.value-p.of["step"]/2)*gravity, p.of["mu"], flat(force)); g < p.of["c"] {
				t.Errorf("%s: half a step less holds %.4f, wanted %v", p.row["table"], g, p.of["c"])
			}
			if g := holding(t, (p.value+p.of["step"])*gravity, p.of["mu"], flat(force)); g >= p.of["c"] {
				t.Errorf("%s: a step more holds %.4f, wanted under %v", p.row["table"], g, p.of["c"])
			}
		case "angle share":
			// The guides halve; the press at the flat end is that, or a little more.
			low, high := Pull(p.of["up"], 90, 1, 1), Pull(p.of["up2"], 90, 1, 1)
			if share := low[2] / high[2]; share < p.value || share > p.value+0.05 {
				t.Errorf("%s: %.4f, printed %v", p.row["table"], share, p.value)
			}
		case "wrong":
			// On a deck tilted until it slides, the pull along is the sine and the
			// press the cosine of the weight: friction is their quotient.
			tilt := p.of["tilt"] * degree
			if g := holding(t, math.Cos(tilt), math.Tan(tilt), nil) * math.Cos(tilt); math.Abs(g-math.Sin(tilt)) > 1e-5 {
				t.Errorf("%s: slides at %.4f of %.4f", p.row["table"], g, math.Sin(tilt))
			}
			if g := holding(t, math.Cos(tilt), p.value, nil) * math.Cos(tilt); math.Abs(g-math.Sin(tilt)) < 0.05 {
				t.Errorf("%s: the printed error comes out", p.row["table"])
			}
		case "outside":
			if p.row["note"] == "" {
				t.Errorf("%s: outside, with no reason", p.row["table"])
			}
		default:
			t.Errorf("%q is none of the kinds", p.row["what"])
		}
	}
	want := map[string]int{"over count": 4, "along": 3, "down": 1, "force left": 1, "share left": 4, "tonnes held": 6, "angle share": 1, "wrong": 3, "outside": 4}
	for kind, n := range want {
		if tried[kind] != n {
			t.Errorf("%d rows of %q, want %d", tried[kind], kind, n)
		}
	}
}
