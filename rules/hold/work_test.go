package hold

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"halfweight/rules/load"
)

// untold is the range of an angle that was not told.
var untold = Range{30, 60}

// exactly is an angle that was told.
func exactly(degrees float64) Range { return Range{degrees, degrees} }

// atCorners is four direct ones of one kind.
func atCorners(wll float64, up, out Range) []Tie {
	ties := make([]Tie, 4)
	for i := range ties {
		ties[i] = Tie{WLL: wll, Line: 1, Route: load.Direct, Place: load.Place{Spread: "corners"}, Up: up, Out: out}
	}
	return ties
}

func work(t interface{ Fatalf(string, ...any) }, l Load) Answer {
	a, ok := Work(l)
	if !ok {
		t.Fatalf("no answer for %+v", l)
	}
	return a
}

// The table of four corner ties at the legal minimum, each of a quarter of the
// weight: testdata/hold/README.md, "angles not told". Marks there.
func TestWork_givesTheTableOfTheLegalMinimum(t *testing.T) {
	for _, r := range file(t, "minimum.csv") {
		mu := r.float(t, "friction")
		for _, c := range []struct {
			column  string
			up, out Range
		}{{"at_45_45_g", exactly(45), exactly(45)}, {"worst_30_to_60_g", untold, untold}, {"at_75_60_g", exactly(75), exactly(60)}} {
			a := work(t, Load{Weight: 40000, Friction: mu, Braked: 1, Ties: atCorners(10000, c.up, c.out)})
			weakest := a.Holds[a.Weakest()]
			if want := r.float(t, c.column); math.Abs(weakest-want) > 0.0101 {
				t.Errorf("friction %.1f, %s: %.4f, want %.2f", mu, c.column, weakest, want)
			}
		}
		if a := work(t, Load{Weight: 40000, Friction: mu, Braked: 1}); math.Abs(a.Holds[Left]-mu) > 1e-9 {
			t.Errorf("friction %.1f alone holds %.4f", mu, a.Holds[Left])
		}
	}
}

// At the angles and places of a case Work gives the case's own figure.
func TestWork_givesTheCasesThatMessagesCanTell(t *testing.T) {
	over := func(n int, wll, up float64) (ties []Tie) {
		for range n {
			ties = append(ties, Tie{WLL: wll, Route: load.Over, Up: exactly(up)})
		}
		return ties
	}
	corner := func(up, out float64) func(o *oracle) []Tie {
		return func(o *oracle) []Tie { return atCorners(o.cables[0].Most, exactly(up), exactly(out)) }
	}
	cases, rows := oracles(t), file(t, "answers.csv")
	tried := 0
	for name, ties := range map[string]func(*oracle) []Tie{
		"C01": corner(45, 45), "C02": corner(45, 45), "C03": corner(45, 45), "C04": corner(45, 45), "C05": corner(45, 45),
		"C06": corner(45, 45), "C07": corner(30, 30), "C08": corner(60, 60), "C09": corner(45, 30), "C10": corner(30, 15),
		"C24": corner(45, 45), "C25": corner(45, 45), "C28": corner(75, 45), "C29": func(*oracle) []Tie { return nil }, "C31": corner(20, 30),
		"C12": func(o *oracle) []Tie {
			return slices.Concat(corner(45, 45)(o), corner(45, 45)(o))
		},
		"C16": func(*oracle) []Tie { return over(4, 5400, 60) },
		"C18": func(*oracle) []Tie { return over(2, 3330, 75) },
		"C20": func(o *oracle) []Tie { return slices.Concat(corner(45, 45)(o), over(2, 5400, 60)) },
		"C22": func(*oracle) []Tie { return over(3, 5400, 75) },
		"C19": func(*oracle) (ties []Tie) {
			for _, side := range []string{"left", "right"} {
				for _, end := range []string{"front", "rear"} {
					ties = append(ties, Tie{WLL: 5000, Route: load.SameSide, Place: load.Place{End: end, Side: side}, Up: exactly(45)})
				}
			}
			return ties
		},
	} {
		o := cases[name]
		a := work(t, Load{Weight: o.block.Weight, Friction: o.block.Along, Braked: 1, Keeps: 0.1, Ties: ties(o)})
		for _, r := range rows {
			if r["case"] != name {
				continue
			}
			tried++
			d := direction(t, r["direction"])
			if want := r.float(t, "slide_g"); math.Abs(a.Slides[d]-want) > near {
				t.Errorf("%s (%s) %s: %.4f, want %.4f", name, o.what, d, a.Slides[d], want)
			}
		}
	}
	if tried != 84 {
		t.Errorf("%d figures tried, want 84", tried)
	}
	// Over the top alone tips in closed form too.
	o := cases["C22"]
	a := work(t, Load{Weight: 6000, Friction: 0.6, Braked: 1, Keeps: 0.1, Height: 5, Width: 4, Length: 7, Ties: over(3, 5400, 75)})
	if math.Abs(a.Holds[Left]-0.6086) > near || !a.Tipping[Left] || a.Tips[Left] >= a.Slides[Left] {
		t.Errorf("%s tips at %.4f, want 0.6086: %+v", o.what, a.Holds[Left], a)
	}
}

func TestWork_aLooseOneIsMissedWhereItHurts(t *testing.T) {
	all := work(t, Load{Weight: 14000, Friction: 0.2, Braked: 1, Ties: atCorners(6600, untold, untold)})
	ties := atCorners(6600, untold, untold)
	ties[2].WLL = 0
	somewhere := work(t, Load{Weight: 14000, Friction: 0.2, Braked: 1, Ties: ties})
	for _, d := range Directions {
		if somewhere.Holds[d] != 0.2 || all.Holds[d] < 0.5 {
			t.Errorf("%s: %.3f with all, %.3f with one loose somewhere", d, all.Holds[d], somewhere.Holds[d])
		}
	}
	ties[2].Place.End, ties[2].Place.Side = "front", "left"
	known := work(t, Load{Weight: 14000, Friction: 0.2, Braked: 1, Ties: ties})
	// Its own corner pulls against going rearward and going right.
	for d, want := range map[Direction]float64{Forward: all.Holds[Forward], Rearward: 0.2, Left: all.Holds[Left], Right: 0.2} {
		if math.Abs(known.Holds[d]-want) > 1e-9 {
			t.Errorf("front left loose, %s: %.3f, want %.3f", d, known.Holds[d], want)
		}
	}
}

func TestWork_placesNotToldAreTakenAtTheWorst(t *testing.T) {
	tie := func(route load.Route, p load.Place) Tie {
		return Tie{WLL: 6600, Line: 1, Route: route, Place: p, Up: untold, Out: untold}
	}
	some := func(n int, t Tie) (ties []Tie) {
		for range n {
			ties = append(ties, t)
		}
		return ties
	}
	four := work(t, Load{Weight: 20000, Friction: 0.2, Braked: 1, Ties: atCorners(6600, untold, untold)}).Holds
	friction := [4]float64{0.2, 0.2, 0.2, 0.2}
	for _, c := range []struct {
		name string
		ties []Tie
		want [4]float64
	}{
		{"four direct with no place are one to a corner", some(4, tie(load.Direct, load.Place{})), four},
		{"a fifth may be anywhere", some(5, tie(load.Direct, load.Place{})), four},
		{"three with no place may all be at one end", some(3, tie(load.Direct, load.Place{})), friction},
		{"two at each end are one to a side", slices.Concat(some(2, tie(load.Direct, load.Place{End: "front"})), some(2, tie(load.Direct, load.Place{End: "rear"}))), four},
		{"the rest fills the corners that lack", slices.Concat(some(2, tie(load.Direct, load.Place{End: "front"})), some(2, tie(load.Direct, load.Place{}))), four},
		{"two at the ends pull askew", some(2, tie(load.Direct, load.Place{Spread: "ends"})), friction},
		{"four at the ends are two at each", some(4, tie(load.Direct, load.Place{Spread: "ends"})), four},
		{"one at each end pulls askew", []Tie{tie(load.Direct, load.Place{End: "front"}), tie(load.Direct, load.Place{End: "rear"})}, friction},
		{"route not told", some(4, tie("", load.Place{})), friction},
		{"in the middle", some(4, tie(load.Direct, load.Place{End: "middle"})), friction},
		{"on the bucket", some(4, tie(load.Direct, load.Place{On: "bucket"})), friction},
		{"front to rear", some(4, tie(load.Lengthwise, load.Place{})), friction},
		{"same side, side not told", some(4, tie(load.SameSide, load.Place{})), friction},
		{"over, with no pre-tension kept", some(4, tie(load.Over, load.Place{})), friction},
		{"three told at one corner and one at the corners", slices.Concat(some(3, tie(load.Direct, load.Place{Spread: "corners", End: "front", Side: "left"})), some(1, tie(load.Direct, load.Place{Spread: "corners"}))), friction},
	} {
		a := work(t, Load{Weight: 20000, Friction: 0.2, Braked: 1, Ties: c.ties})
		for _, d := range Directions {
			if math.Abs(a.Holds[d]-c.want[d]) > 1e-9 {
				t.Errorf("%s: %s %.3f, want %.3f", c.name, d, a.Holds[d], c.want[d])
			}
		}
	}
}

func TestWork_whatCanRollRubsLessForeAndAft(t *testing.T) {
	l := Load{Weight: 20000, Friction: 0.4, Braked: 0.5, Ties: atCorners(6600, untold, untold)}
	a := work(t, l)
	if a.Holds[Forward] >= a.Holds[Left] {
		t.Errorf("forward %.3f, left %.3f", a.Holds[Forward], a.Holds[Left])
	}
	l.Braked, l.Ties = 0, nil
	if a := work(t, l); a.Holds[Forward] != 0 || a.Holds[Left] != 0.4 {
		t.Errorf("free to roll: %v", a.Holds)
	}
}

func TestWork_oneOnADiagonalIsLeftToTheProgram(t *testing.T) {
	// C15: two on one diagonal. Its figure is for hooks at the corners, 3 ft up.
	ties := []Tie{
		{WLL: 10000, Route: load.Direct, Place: load.Place{End: "front", Side: "left"}, Up: exactly(45), Out: exactly(45)},
		{WLL: 10000, Route: load.Direct, Place: load.Place{End: "rear", Side: "right"}, Up: exactly(45), Out: exactly(45)},
	}
	l := Load{Weight: 40000, Friction: 0.4, Braked: 1, Height: 3.5, Width: 7, Length: 14, Ties: ties}
	a := work(t, l)
	if !a.Program || a.Left != 2 || a.Holds[Forward] <= 0.4 || a.Holds[Forward] > 0.5708+near || a.Holds[Left] > 0.5289+near || a.Holds[Left] < 0.4 {
		t.Errorf("%+v", a)
	}
	l.Length = 0
	if a := work(t, l); a.Program || a.Holds[Forward] != 0.4 {
		t.Errorf("length not told: %+v", a)
	}
}

func TestWork_refusesWhatIsNoLoad(t *testing.T) {
	for _, l := range []Load{{}, {Weight: -1, Friction: 0.2}, {Weight: math.NaN()}, {Weight: 1, Friction: 1.1}, {Weight: 1, Friction: math.NaN()},
		{Weight: 1, Friction: 0.2, Braked: 2}, {Weight: 1, Friction: 0.2, Keeps: -1}, {Weight: 1, Height: math.Inf(1)}} {
		if a, ok := Work(l); ok {
			t.Errorf("%+v: %+v", l, a)
		}
	}
}

// someLoad draws a load as messages tell them.
func someLoad(t *rapid.T) Load {
	angle := func(name string) Range {
		if rapid.Bool().Draw(t, name+" told") {
			return exactly(float64(rapid.IntRange(5, 85).Draw(t, name)))
		}
		return untold
	}
	l := Load{
		Weight: float64(rapid.IntRange(1000, 80000).Draw(t, "weight")), Friction: float64(rapid.IntRange(0, 60).Draw(t, "friction")) / 100,
		Braked: float64(rapid.IntRange(0, 2).Draw(t, "braked")) / 2, Keeps: 0.1,
	}
	if rapid.Bool().Draw(t, "sized") {
		l.Height, l.Width = float64(rapid.IntRange(1, 9).Draw(t, "height")), float64(rapid.IntRange(4, 9).Draw(t, "width"))
		l.Length = float64(rapid.IntRange(6, 30).Draw(t, "length"))
	}
	up, out := angle("up"), angle("out")
	for range rapid.IntRange(0, 8).Draw(t, "ties") {
		tie := Tie{
			WLL: float64(rapid.SampledFrom([]int{0, 2650, 4700, 6600, 11300}).Draw(t, "wll")), Line: rapid.IntRange(1, 2).Draw(t, "line"),
			Route: rapid.SampledFrom([]load.Route{load.Direct, load.Direct, load.Direct, load.SameSide, load.Over, load.Lengthwise, ""}).Draw(t, "route"),
			Up:    up, Out: out,
		}
		tie.Place.End = rapid.SampledFrom([]string{"", "front", "rear", "middle"}).Draw(t, "end")
		tie.Place.Side = rapid.SampledFrom([]string{"", "left", "right"}).Draw(t, "side")
		if tie.Place.End != "middle" && rapid.IntRange(0, 2).Draw(t, "spreads") == 0 {
			tie.Place.Spread = rapid.SampledFrom([]string{"corners", "ends"}).Draw(t, "spread")
		}
		if rapid.IntRange(0, 9).Draw(t, "part") == 0 {
			tie.Place.On = "bucket"
		}
		l.Ties = append(l.Ties, tie)
	}
	return l
}

func TestWork_aMirroredLoadMirrorsItsAnswer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := someLoad(t)
		a := work(t, l)
		for name, swap := range map[string]struct {
			word  map[string]string
			field func(*load.Place) *string
			way   [4]Direction
		}{
			"left to right": {map[string]string{"left": "right", "right": "left"}, func(p *load.Place) *string { return &p.Side }, [4]Direction{Forward, Rearward, Right, Left}},
			"front to rear": {map[string]string{"front": "rear", "rear": "front"}, func(p *load.Place) *string { return &p.End }, [4]Direction{Rearward, Forward, Left, Right}},
		} {
			m := l
			m.Ties = slices.Clone(l.Ties)
			for i := range m.Ties {
				f := swap.field(&m.Ties[i].Place)
				if w, ok := swap.word[*f]; ok {
					*f = w
				}
			}
			b := work(t, m)
			for _, d := range Directions {
				if math.Abs(a.Holds[d]-b.Holds[swap.way[d]]) > 1e-4 {
					t.Fatalf("%s: %s %.5f, mirrored %.5f", name, d, a.Holds[d], b.Holds[swap.way[d]])
				}
			}
		}
	})
}

// The closed form is exact here; the program's figure is good to 1e-4.
const slack = 1e-4

func TestWork_moreNeverHoldsLess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := someLoad(t)
		a := work(t, l)
		more := map[string]Load{}
		m := l
		m.Friction += 0.1
		more["more friction"] = m
		m = l
		m.Braked = 1
		more["more that cannot roll"] = m
		m = l
		m.Keeps = 0.2
		more["more tension over the top"] = m
		m = l
		m.Weight *= 0.9
		more["less weight"] = m
		m = l
		m.Ties = slices.Clone(l.Ties)
		for i := range m.Ties {
			m.Ties[i].WLL *= 1.1
		}
		more["more tension"] = m
		for name, m := range more {
			b := work(t, m)
			for _, d := range Directions {
				if b.Holds[d] < a.Holds[d]-slack {
					t.Fatalf("%s: %s %.5f, before %.5f", name, d, b.Holds[d], a.Holds[d])
				}
			}
		}
	})
}

func TestWork_aSlackTieDownAddsNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := someLoad(t)
		for i := range l.Ties {
			l.Ties[i].Place.Spread = ""
		}
		a := work(t, l)
		n := l
		n.Ties = append(slices.Clone(l.Ties), Tie{
			Route: rapid.SampledFrom([]load.Route{load.Direct, load.Over, load.SameSide}).Draw(t, "slack route"),
			Line:  9, // told by itself
			Place: load.Place{End: rapid.SampledFrom([]string{"front", "rear"}).Draw(t, "slack end"), Side: "left"}, Up: untold, Out: untold,
		})
		b := work(t, n)
		for _, d := range Directions {
			if b.Holds[d] > a.Holds[d]+slack {
				t.Fatalf("%s: %.5f with a slack one more, %.5f without", d, b.Holds[d], a.Holds[d])
			}
		}
	})
}

// What Work gives with things untold is no more than a truth that fits what was
// told: angles inside their ranges, hooks anywhere on the base and no higher than
// the centre of gravity, those over the top even about the middle, the load's size.
func TestWork_isNeverMoreThanATruthThatFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := Load{
			Weight: float64(rapid.IntRange(2000, 60000).Draw(t, "weight")), Friction: float64(rapid.IntRange(0, 60).Draw(t, "friction")) / 100,
			Braked: float64(rapid.IntRange(0, 2).Draw(t, "braked")) / 2, Keeps: 0.1,
			Height: float64(rapid.IntRange(1, 8).Draw(t, "height")), Width: 8, Length: float64(rapid.IntRange(8, 20).Draw(t, "length")),
			Ties: atCorners(float64(rapid.IntRange(1000, 12000).Draw(t, "wll")), untold, untold),
		}
		for range rapid.IntRange(0, 2).Draw(t, "over") {
			l.Ties = append(l.Ties, Tie{WLL: 5400, Route: load.Over, Up: untold})
		}
		a := work(t, l)
		angle := func(name string) float64 { return float64(rapid.IntRange(30, 60).Draw(t, name)) }
		up, out, legs := angle("up"), angle("out"), angle("legs")
		in := float64(rapid.IntRange(0, 10).Draw(t, "in")) / 10
		at := l.Height * float64(rapid.IntRange(0, 10).Draw(t, "at")) / 10
		b := Block{Weight: l.Weight, Along: l.Friction * l.Braked, Across: l.Friction, Length: l.Length, Width: l.Width, CG: Vec{0, 0, l.Height}}
		var cables []Cable
		for _, tie := range l.Ties {
			if tie.Route == load.Over {
				for _, left := range []float64{1, -1} {
					cables = append(cables, Cable{At: Vec{0, left * l.Width / 2, 6}, Pull: Pull(legs, 90, 1, left), Clamp: true, Slack: l.Keeps * tie.WLL})
				}
			}
		}
		for c := range corners {
			front, left := c.sign()
			cables = append(cables, Cable{
				At: Vec{front * in * l.Length / 2, left * in * l.Width / 2, at}, Pull: Pull(up, out, front, left), Most: l.Ties[0].WLL,
			})
		}
		d := rapid.SampledFrom(Directions[:]).Draw(t, "direction")
		truth, err := Full(b, cables, d)
		if err != nil {
			t.Fatalf("no figure")
		}
		if a.Holds[d] > truth+near {
			t.Fatalf("%s: %.4f, in truth %.4f: up %v out %v legs %v, hooks in %v up %v, %+v", d, a.Holds[d], truth, up, out, legs, in, at, l)
		}
	})
}

func TestDown_roundsDownToATwentieth(t *testing.T) {
	for g, want := range map[float64]float64{0: 0, 0.049: 0, 0.05: 0.05, 0.2999999: 0.3, 0.29: 0.25, 0.4999: 0.45, 0.5: 0.5, 0.435: 0.4, 1.0621: 1.05, -0.3: 0} {
		if got := Down(g); math.Abs(got-want) > 1e-12 {
			t.Errorf("%v rounds to %v, want %v", g, got, want)
		}
	}
}

func BenchmarkWork(b *testing.B) {
	told := Load{Weight: 14000, Friction: 0.3, Braked: 0.5, Keeps: 0.1, Ties: atCorners(6600, untold, untold)}
	b.Run("closed form", func(b *testing.B) {
		for b.Loop() {
			Work(told)
		}
	})
	askew := Load{Weight: 40000, Friction: 0.4, Braked: 1, Height: 3.5, Width: 7, Length: 14, Ties: []Tie{
		{WLL: 10000, Route: load.Direct, Place: load.Place{End: "front", Side: "left"}, Up: exactly(45), Out: exactly(45)},
		{WLL: 10000, Route: load.Direct, Place: load.Place{End: "rear", Side: "right"}, Up: exactly(45), Out: exactly(45)},
	}}
	b.Run("programs", func(b *testing.B) {
		for b.Loop() {
			Work(askew)
		}
	})
}
