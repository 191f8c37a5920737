package hold

import (
	"errors"
	"math"
)

// ErrNoAnswer says that a program gave no figure that stands up to being checked.
// It says nothing of the load: never take it for "does not hold".
var ErrNoAnswer = errors.New("no figure that can be relied on")

// sides is the number of corners of the polygon that stands for the circle of
// friction. It lies inside the circle, with corners on the axes: exact fore and aft
// and sideways, and never more than the circle.
const sides = 16

// equations says which balances a program keeps.
type equations int

const (
	forces  equations = iota // sliding: the block has no size
	moments                  // tipping: the deck holds it from sliding
	both
)

// Slide is the largest acceleration before the block slides, whatever its size.
func Slide(b Block, cables []Cable, d Direction) (float64, error) {
	return run(b, cables, d, forces)
}

// Tip is the largest acceleration before the block tips, were it not to slide. It
// needs the base and the height of the centre of gravity.
func Tip(b Block, cables []Cable, d Direction) (float64, error) {
	return run(b, cables, d, moments)
}

// Full is the largest acceleration before the block slides, tips or turns.
func Full(b Block, cables []Cable, d Direction) (float64, error) {
	return run(b, cables, d, both)
}

// run lays out a program and solves it.
func run(b Block, cables []Cable, d Direction, eq equations) (float64, error) {
	p, ok := lay(b, cables, d, eq)
	if !ok {
		return 0, ErrNoAnswer
	}
	return p.solve()
}

// lay lays out a program. Forces are kept in weights and lengths in heights of the
// centre of gravity, so that the acceleration's column is of size 1. ok is false for
// figures that are none of a load.
func lay(b Block, cables []Cable, d Direction, eq equations) (p *program, ok bool) {
	if !b.sound(eq) {
		return nil, false
	}
	size := 1.0
	if eq != forces {
		size = b.CG[2]
	}
	at := func(p Vec) Vec { return Vec{p[0] / size, p[1] / size, p[2] / size} }
	p = &program{eq: eq, rhs: eq.rows(at(b.CG), Vec{0, 0, 1})} // what the deck and the cables carry: the weight
	p.column(eq.rows(at(b.CG), d.unit()), 1, math.Inf(1))
	for i := range cables {
		c := &cables[i]
		if !c.sound() {
			return nil, false
		}
		pulls := eq.rows(at(c.At), c.Pull)
		if c.Clamp {
			p.carry(pulls, c.Slack/b.Weight)
		} else if most := c.most(d) / b.Weight; most > 0 {
			p.column(pulls, 0, math.Min(most, plenty))
		}
	}
	p.deck(&b, at)
	return p, true
}

// plenty is more tension, in weights, than any load needs: it keeps the figures of
// a program near each other in size.
const plenty = 100

// most is the most tension that the cable may have in a motion to d.
func (c *Cable) most(d Direction) float64 {
	if c.against(d) {
		return c.Most
	}
	return c.Slack
}

// deck adds what the deck can press back with: at each corner of the base a push
// up, leaning as far as friction lets it.
func (p *program) deck(b *Block, at func(Vec) Vec) {
	for _, corner := range [...]Vec{{1, 1}, {1, -1}, {-1, 1}, {-1, -1}} {
		foot := at(Vec{corner[0] * b.Length / 2, corner[1] * b.Width / 2})
		switch {
		case p.eq == moments:
			p.column(p.eq.rows(foot, Vec{0, 0, 1}), 0, math.Inf(1))
		case b.Along == 0 && b.Across == 0:
			p.column(p.eq.rows(foot, Vec{0, 0, 1}), 0, math.Inf(1))
		default:
			for k := range sides {
				sin, cos := math.Sincos(2 * math.Pi * float64(k) / sides)
				p.column(p.eq.rows(foot, Vec{b.Along * cos, b.Across * sin, 1}), 0, math.Inf(1))
			}
		}
		if p.eq == forces {
			return // without a size, all four are one
		}
	}
}

// rows is what a force at a point gives to each balance: the forces, the moments.
// Tipping needs neither the forces along the deck nor the moment about z: the deck
// takes those.
func (eq equations) rows(at, force Vec) []float64 {
	m := at.cross(force)
	switch eq {
	case forces:
		return []float64{force[0], force[1], force[2]}
	case moments:
		return []float64{force[2], m[0], m[1]}
	}
	return []float64{force[0], force[1], force[2], m[0], m[1], m[2]}
}

// sound says whether the figures of a block can be worked with.
func (b *Block) sound(eq equations) bool {
	ok := b.Weight > 0 && !math.IsInf(b.Weight, 0) && between(b.Along, 0, 10) && between(b.Across, 0, 10) && b.CG.finite()
	if eq == forces {
		return ok
	}
	h := b.CG[2]
	return ok && h > 0 && between(b.Length, h/100, h*100) && between(b.Width, h/100, h*100) &&
		math.Abs(b.CG[0]) <= b.Length/2 && math.Abs(b.CG[1]) <= b.Width/2
}

// sound says whether the figures of a cable can be worked with.
func (c *Cable) sound() bool {
	return c.At.finite() && c.Pull.finite() && math.Abs(c.Pull.dot(c.Pull)-1) < 1e-3 &&
		between(c.Most, 0, math.MaxFloat64) && between(c.Slack, 0, math.MaxFloat64)
}

// between is false for what is not a number.
func between(x, low, high float64) bool { return x >= low && x <= high }
