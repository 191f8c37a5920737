package hold

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// mirrored draws a block with its centre of gravity in the middle and equal cables
// at its four corners, crossed or not, and legs over the top in pairs.
func mirrored(t *rapid.T) (Block, []Cable) {
	number := func(name string, low, high int) float64 { return float64(rapid.IntRange(low, high).Draw(t, name)) }
	mu := number("friction", 0, 80) / 100
	b := Block{
		Weight: number("weight", 1000, 80000), Along: mu * number("braked", 0, 2) / 2, Across: mu,
		Length: number("length", 4, 30), Width: number("width", 3, 10), CG: Vec{0, 0, number("height", 1, 10)},
	}
	crossed := rapid.SampledFrom([]float64{1, -1}).Draw(t, "crossed")
	var cables []Cable
	up, out, most := number("up", 1, 89), number("out", 0, 90), number("most", 0, 20000)
	in, z := number("in", 0, 10)/10, number("hooks", 0, 8)
	for c := range corners {
		front, left := c.sign()
		cables = append(cables, Cable{
			At: Vec{front * in * b.Length / 2, crossed * left * in * b.Width / 2, z}, Pull: Pull(up, out, front, left), Most: most,
		})
	}
	for range rapid.IntRange(0, 2).Draw(t, "over") {
		keeps := number("keeps", 0, 2000)
		for _, left := range []float64{1, -1} {
			cables = append(cables, Cable{At: Vec{0, left * b.Width / 2, z}, Pull: Pull(up, 90, 1, left), Clamp: true, Slack: keeps})
		}
	}
	return b, cables
}

func TestClosedForms_areThePrograms(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, cables := mirrored(t)
		for _, d := range Directions {
			for _, form := range []struct {
				name    string
				closed  func(Block, []Cable, Direction) (float64, bool)
				program func(Block, []Cable, Direction) (float64, error)
			}{{"slides", SlideClosed, Slide}, {"tips", TipClosed, Tip}} {
				want, ok := form.closed(b, cables, d)
				got, err := form.program(b, cables, d)
				if !ok || err != nil {
					t.Fatalf("%s %s: closed form %v, program %v", form.name, d, ok, err)
				}
				if math.Abs(got-want) > near*(1+want) {
					t.Fatalf("%s %s at %.5f, in closed form %.5f: %+v %+v", form.name, d, got, want, b, cables)
				}
			}
		}
	})
}

func TestFull_isNoMoreThanEither(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, cables := blocks(t)
		for _, d := range Directions {
			full, err := Full(b, cables, d)
			if err != nil {
				continue // some loads slide by themselves
			}
			slide, errS := Slide(b, cables, d)
			tip, errT := Tip(b, cables, d)
			if errS == nil && full > slide+near*(1+slide) || errT == nil && full > tip+near*(1+tip) {
				t.Fatalf("%s %.5f, slides %.5f (%v), tips %.5f (%v)", d, full, slide, errS, tip, errT)
			}
		}
	})
}
