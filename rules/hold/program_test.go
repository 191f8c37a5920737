package hold

import (
	"errors"
	"math"
	"math/big"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// exact solves a program in whole fractions with Bland's rule, which never goes
// round in circles: nothing of the solver's, and no rounding. ok is false where no
// amounts keep the balances.
func exact(p *program) (best float64, ok bool) {
	var limited []int
	for j, m := range p.most {
		if !math.IsInf(m, 1) {
			limited = append(limited, j)
		}
	}
	rows, n := len(p.rhs)+len(limited), len(p.cols)
	wide := n + len(limited) + len(p.rhs) // amounts, what is left to their limits, stand-ins
	tab := make([][]*big.Rat, rows)
	basis := make([]int, rows)
	rat := func(f float64) *big.Rat { return new(big.Rat).SetFloat64(f) }
	for i := range tab {
		tab[i] = make([]*big.Rat, wide+1)
		for j := range tab[i] {
			tab[i][j] = new(big.Rat)
		}
		if i < len(p.rhs) {
			sign := 1.0
			if p.rhs[i] < 0 {
				sign = -1
			}
			for j := range p.cols {
				tab[i][j] = rat(sign * p.cols[j][i])
			}
			basis[i] = n + len(limited) + i
			tab[i][wide] = rat(sign * p.rhs[i])
		} else {
			k := i - len(p.rhs)
			tab[i][limited[k]] = rat(1)
			basis[i] = n + k
			tab[i][wide] = rat(p.most[limited[k]])
		}
		tab[i][basis[i]] = rat(1)
	}
	pivot := func(leave, enter int) {
		size := new(big.Rat).Set(tab[leave][enter])
		for j := range tab[leave] {
			tab[leave][j] = new(big.Rat).Quo(tab[leave][j], size)
		}
		for i := range tab {
			by := new(big.Rat).Set(tab[i][enter])
			if i == leave || by.Sign() == 0 {
				continue
			}
			for j := range tab[i] {
				if tab[leave][j].Sign() == 0 {
					continue
				}
				tab[i][j] = new(big.Rat).Sub(tab[i][j], new(big.Rat).Mul(by, tab[leave][j]))
			}
		}
		basis[leave] = enter
	}
	optimise := func(cost func(j int) *big.Rat, upTo int) {
		for {
			enter := -1
			for j := 0; j < upTo && enter < 0; j++ {
				reduced := new(big.Rat).Set(cost(j))
				for i := range tab {
					if tab[i][j].Sign() == 0 || cost(basis[i]).Sign() == 0 {
						continue
					}
					reduced.Sub(reduced, new(big.Rat).Mul(cost(basis[i]), tab[i][j]))
				}
				if reduced.Sign() > 0 {
					enter = j
				}
			}
			if enter < 0 {
				return
			}
			leave := -1
			var least *big.Rat
			for i := range tab {
				if tab[i][enter].Sign() <= 0 {
					continue
				}
				ratio := new(big.Rat).Quo(tab[i][wide], tab[i][enter])
				if leave < 0 || ratio.Cmp(least) < 0 || ratio.Cmp(least) == 0 && basis[i] < basis[leave] {
					leave, least = i, ratio
				}
			}
			if leave < 0 {
				panic("a program without an end")
			}
			pivot(leave, enter)
		}
	}
	zero, first := new(big.Rat), n+len(limited)
	optimise(func(j int) *big.Rat { // first be rid of the stand-ins
		if j >= first {
			return rat(-1)
		}
		return zero
	}, wide)
	for i := range tab {
		if basis[i] >= first && tab[i][wide].Cmp(rat(1e-9)) > 0 {
			return 0, false
		}
		for j := 0; j < first && basis[i] >= first; j++ { // one left in at nothing must not grow
			if tab[i][j].Sign() != 0 {
				pivot(i, j)
			}
		}
	}
	optimise(func(j int) *big.Rat {
		if j >= n {
			return zero
		}
		return rat(p.value[j])
	}, first)
	for i := range tab {
		if basis[i] == 0 {
			best, _ = tab[i][wide].Float64()
		}
	}
	return best, true
}

// blocks draws loads of every kind, round figures among them: those make the
// programs in which many limits meet.
func blocks(t *rapid.T) (Block, []Cable) {
	// Hundredths and whole degrees: a figure a hair off another turns a balance
	// that is out by a hair into any tension at all.
	figure := func(name string, low, high float64) float64 {
		if rapid.Bool().Draw(t, name+" round") {
			return low + (high-low)*float64(rapid.IntRange(0, 8).Draw(t, name))/8
		}
		return float64(rapid.IntRange(int(low*100), int(high*100)).Draw(t, name)) / 100
	}
	degrees := func(name string) float64 { return float64(rapid.IntRange(0, 90).Draw(t, name)) }
	b := Block{
		Weight: figure("weight", 500, 80000), Along: figure("along", 0, 0.8), Across: figure("across", 0, 0.8),
		Length: figure("length", 4, 30), Width: figure("width", 3, 10),
	}
	b.CG = Vec{b.Length * figure("cg x", -0.4, 0.4), b.Width * figure("cg y", -0.4, 0.4), figure("cg height", 0.5, 9)}
	var cables []Cable
	for range rapid.IntRange(0, 6).Draw(t, "cables") {
		front := rapid.SampledFrom([]float64{-1, 1}).Draw(t, "end")
		left := rapid.SampledFrom([]float64{-1, 1}).Draw(t, "side")
		c := Cable{
			At:   Vec{front * b.Length * figure("at x", 0, 0.5), left * b.Width * figure("at y", 0, 0.5), figure("at z", 0, 8)},
			Most: figure("most", 0, 40000),
		}
		c.Pull = Pull(degrees("up"), degrees("out"), front*rapid.SampledFrom([]float64{-1, 1}).Draw(t, "crossed"), left)
		if rapid.IntRange(0, 3).Draw(t, "clamp") == 0 {
			// Two legs that press alike: one alone may push a block off by itself.
			c.Clamp, c.Most, c.Slack = true, 0, c.Most/10
			other := c
			other.At[1], other.Pull[0], other.Pull[1] = -c.At[1], -c.Pull[0], -c.Pull[1]
			cables = append(cables, other)
		}
		cables = append(cables, c)
	}
	return b, cables
}

// programOf is the program that run solves.
func programOf(b Block, cables []Cable, d Direction, eq equations) *program {
	p, ok := lay(b, cables, d, eq)
	if !ok {
		return nil
	}
	return p
}

func TestPrograms_agreeWithWholeFractions(t *testing.T) {
	none := 0
	rapid.Check(t, func(t *rapid.T) {
		b, cables := blocks(t)
		d := rapid.SampledFrom(Directions[:]).Draw(t, "direction")
		eq := rapid.SampledFrom([]equations{forces, moments, both}).Draw(t, "equations")
		if eq == both && len(cables) > 4 {
			cables = cables[:4] // fractions of a dozen rows grow long
		}
		got, err := run(b, cables, d, eq)
		want, ok := exact(programOf(b, cables, d, eq))
		switch {
		case err != nil && ok:
			none++
			t.Logf("no figure where there is one, %.6f", want)
		case err == nil && !ok && got > 1e-6:
			t.Fatalf("%.6f, where nothing keeps the balances: %+v %+v", got, b, cables)
		case err == nil && ok && math.Abs(got-want) > 1e-4*(1+want):
			t.Fatalf("%.6f, in whole fractions %.6f: %+v %+v", got, want, b, cables)
		}
	})
	if none > 0 {
		t.Errorf("no figure for %d loads that have one", none)
	}
}

// In C19 six limits meet in one point; the solver goes round in circles there
// unless the balances are nudged.
func TestTry_stopsASolverThatGoesInCircles(t *testing.T) {
	o := oracles(t)["C19"]
	p := programOf(o.block, o.cables, Left, both)
	began := time.Now()
	if _, ok := p.try(0); ok {
		t.Log("the solver does not go round in circles here any more")
	}
	if took := time.Since(began); took > 5*time.Second {
		t.Errorf("took %v to be stopped", took)
	}
	if _, ok := p.try(nudge); !ok {
		t.Error("no answer, nudged")
	}
}

func TestRun_refusesWhatIsNoLoad(t *testing.T) {
	good := Block{Weight: 1000, Along: 0.3, Across: 0.3, Length: 10, Width: 8, CG: Vec{0, 0, 3}}
	pull := Cable{At: Vec{-5, 4, 0}, Pull: Pull(45, 45, -1, 1), Most: 500}
	for name, change := range map[string]func(b *Block, c *Cable){
		"no weight":       func(b *Block, c *Cable) { b.Weight = 0 },
		"nan friction":    func(b *Block, c *Cable) { b.Along = math.NaN() },
		"below zero":      func(b *Block, c *Cable) { b.Across = -0.1 },
		"no height":       func(b *Block, c *Cable) { b.CG[2] = 0 },
		"no base":         func(b *Block, c *Cable) { b.Width = 0 },
		"off its base":    func(b *Block, c *Cable) { b.CG[0] = 6 },
		"infinite pull":   func(b *Block, c *Cable) { c.Most = math.Inf(1) },
		"no direction":    func(b *Block, c *Cable) { c.Pull = Vec{} },
		"nan place":       func(b *Block, c *Cable) { c.At[1] = math.NaN() },
		"endless tension": func(b *Block, c *Cable) { c.Slack = math.NaN() },
	} {
		b, c := good, pull
		change(&b, &c)
		if g, err := Full(b, []Cable{c}, Forward); !errors.Is(err, ErrNoAnswer) || g != 0 {
			t.Errorf("%s: %.3f, %v", name, g, err)
		}
	}
	if _, err := Full(good, []Cable{pull}, Forward); err != nil {
		t.Errorf("the load itself: %v", err)
	}
}

func FuzzPrograms_neverPanicNorExceedTheirBounds(f *testing.F) {
	f.Add(40000.0, 0.4, 14.0, 7.0, 3.5, 0.0, 45.0, 45.0, 10000.0, uint8(0))
	f.Add(20000.0, 0.3, 10.0, 6.0, 2.5, 0.0, 45.0, 90.0, 10000.0, uint8(2))
	f.Add(1.0, 0.0, 1.0, 1.0, 1.0, 0.0, 0.0, 0.0, 0.0, uint8(3))
	f.Add(math.MaxFloat64, math.Inf(1), math.NaN(), 1e-300, -1.0, 1e300, 91.0, -45.0, math.SmallestNonzeroFloat64, uint8(1))
	f.Fuzz(func(t *testing.T, weight, mu, length, width, height, x, up, out, most float64, way uint8) {
		b := Block{Weight: weight, Along: mu, Across: mu, Length: length, Width: width, CG: Vec{x, 0, height}}
		d := Directions[way%4]
		var cables []Cable
		for _, corner := range [...][2]float64{{1, 1}, {1, -1}, {-1, 1}, {-1, -1}} {
			cables = append(cables, Cable{
				At:   Vec{corner[0] * length / 2, corner[1] * width / 2, height / 2},
				Pull: Pull(up, out, corner[0], corner[1]), Most: most,
			})
		}
		slide, errS := Slide(b, cables, d)
		tip, errT := Tip(b, cables, d)
		full, err := Full(b, cables, d)
		if err != nil {
			return
		}
		// All the weight and all the pulls lean on friction, and pull along besides.
		bound := mu + 4*most/weight*(1+mu)
		if errS == nil && slide > bound*(1+1e-4)+1e-4 {
			t.Errorf("slides at %v, more than %v", slide, bound)
		}
		if errS == nil && full > slide*(1+1e-3)+1e-3 || errT == nil && full > tip*(1+1e-3)+1e-3 {
			t.Errorf("holds %v, but slides at %v and tips at %v", full, slide, tip)
		}
	})
}
