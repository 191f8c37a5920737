package hold

import "math"

// SlideClosed is the closed form of Slide: friction, plus what each acting cable
// holds by its pull and by pressing down. ok is false where it is not exact: where
// the cables' pulls across the direction do not cancel.
func SlideClosed(b Block, cables []Cable, d Direction) (g float64, ok bool) {
	mu, across := b.friction(d), 0.0
	held := mu * b.Weight
	for i := range cables {
		c := &cables[i]
		t := c.full(d)
		held += t * (-c.Pull.dot(d.unit()) - mu*c.Pull[2])
		across += t * c.Pull.dot(d.aside())
	}
	if !(math.Abs(across) <= 1e-6*b.Weight) {
		return 0, false
	}
	return math.Max(0, held/b.Weight), true
}

// TipClosed is the closed form of Tip: the moments about the edge of the base over
// which the block would go. ok is false without a height of the centre of gravity.
func TipClosed(b Block, cables []Cable, d Direction) (g float64, ok bool) {
	if !(b.CG[2] > 0) {
		return 0, false
	}
	u := d.unit()
	held := b.Weight * (b.reach(d) - b.CG.dot(u))
	for i := range cables {
		c := &cables[i]
		held += c.full(d) * (-c.Pull.dot(u)*c.At[2] - c.Pull[2]*(b.reach(d)-c.At.dot(u)))
	}
	return math.Max(0, held/(b.Weight*b.CG[2])), true
}

// full is the cable's tension where all act as hard as they may.
func (c *Cable) full(d Direction) float64 {
	switch {
	case c.Clamp:
		return c.Slack
	case c.against(d):
		return c.Most
	}
	return 0
}
