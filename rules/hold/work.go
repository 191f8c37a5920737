package hold

import (
	"math"

	"halfweight/rules/load"
)

// Range is an angle in degrees as far as it is told: Low and High are equal where
// it is told exactly.
type Range struct{ Low, High float64 }

// Tie is one tie-down in plain figures. One set aside has no WLL: it holds nothing,
// but those it was told with stand where it does not.
type Tie struct {
	WLL   float64 // the least of its parts'; 0 holds nothing
	Line  int     // those told together share it
	Route load.Route
	Place load.Place
	Up    Range // to the deck
	Out   Range // in plan, off the long axis
}

// Load is an article and its tie-downs, for Work. Forces are in any one unit, and
// lengths in any one.
type Load struct {
	Weight   float64
	Friction float64 // of what it stands on, on the deck
	Braked   float64 // share of the weight on what cannot roll: fore and aft, only that rubs
	Keeps    float64 // share of its WLL that a tie-down over the top keeps as tension
	Height   float64 // of the centre of gravity; 0 untold: then nothing is said of tipping
	Width    float64 // of the base; 0 untold
	Length   float64 // of the base; 0 untold
	Ties     []Tie
}

// Answer is what Work finds, by Direction, in g and not rounded.
type Answer struct {
	Holds   [4]float64 // the lesser of Slides and Tips
	Slides  [4]float64
	Tips    [4]float64 // 0 where Tipping is false
	Tipping [4]bool    // tipping was worked out

	Corners bool // some were taken one to a corner, or one to a side
	Left    int  // tie-downs with a WLL that were given less than they may hold, or nothing: place or route not told, or no equal on the other side
	Program bool // a linear program gave a figure: pulls that do not mirror each other
}

// Weakest is the direction that holds least, the first of equals.
func (a *Answer) Weakest() Direction {
	w := Forward
	for _, d := range Directions {
		if Down(a.Holds[d]) < Down(a.Holds[w]) {
			w = d
		}
	}
	return w
}

// Work is what the tie-downs hold, with what was not told at its worst: an angle at
// the worst end of its range; a tie-down whose place, side or route is not told, or
// that has no equal to mirror it, holds nothing. Direct ones with no place are taken
// one to a corner, as the count takes them; front ones to pull forward, rear ones
// back, each to its own side; those over the top even about the middle; the centre
// of gravity in the middle. Hooks may
// be anywhere on the base up to the height of the centre of gravity, so against
// tipping only those over the top count.
//
// Where base, height and angles are all told, pulls that do not mirror each other
// are given to the linear program, at the worst of some hook-ups. ok is false
// without a weight or friction.
func Work(l Load) (a Answer, ok bool) {
	if !(l.Weight > 0) || !between(l.Weight, 0, 1e12) || !between(l.Friction, 0, 1) || !between(l.Braked, 0, 1) || !between(l.Keeps, 0, 1) ||
		!between(l.Height, 0, 1e6) || !between(l.Width, 0, 1e6) || !between(l.Length, 0, 1e6) {
		return Answer{}, false
	}
	stands, corners := stand(l.Ties)
	a.Corners = corners
	for _, d := range Directions {
		a.Slides[d] = l.slides(stands, d)
		a.Tips[d], a.Tipping[d] = l.tips(d)
		a.Holds[d] = a.Slides[d]
		if a.Tipping[d] {
			a.Holds[d] = math.Min(a.Holds[d], a.Tips[d])
		}
	}
	a.Left = l.left(stands)
	if a.Left > 0 {
		for _, d := range Directions {
			if g, ok := l.turns(stands, d); ok && g > a.Holds[d] {
				a.Holds[d], a.Slides[d], a.Tips[d], a.Program = g, math.Max(g, a.Slides[d]), math.Max(g, a.Tips[d]), true
			}
		}
	}
	return a, true
}

// friction is the friction in a direction: fore and aft, only what cannot roll rubs.
func (l *Load) friction(d Direction) float64 {
	if d == Forward || d == Rearward {
		return l.Friction * l.Braked
	}
	return l.Friction
}

// slides is the closed form of sliding, for pairs that mirror each other about d.
func (l *Load) slides(stands []standing, d Direction) float64 {
	mu := l.friction(d)
	g := mu
	for _, p := range pairs(stands, d) {
		g += 2 * p.pull * p.kind.holds(mu, d) / l.Weight
	}
	return g + mu*l.pressed()/l.Weight
}

// pressed is how hard those over the top press on the deck: two legs each.
func (l *Load) pressed() (force float64) {
	for i := range l.Ties {
		if t := &l.Ties[i]; t.presses() {
			force += 2 * l.Keeps * t.WLL * worst(t.Up, func(up float64) float64 { return math.Sin(up * degree) })
		}
	}
	return force
}

// presses says whether t runs over the article itself.
func (t *Tie) presses() bool { return t.Route == load.Over && t.Place.On == "" && t.sound() }

// sound says whether t can hold at all.
func (t *Tie) sound() bool {
	return t.WLL > 0 && between(t.WLL, 0, 1e12) && between(t.Up.Low, 0, 90) && between(t.Up.High, 0, 90) &&
		between(t.Out.Low, 0, 90) && between(t.Out.High, 0, 90)
}

// tips is the closed form of tipping. The legs of one over the top stand on both
// sides of the base, so sideways they have its whole width for an arm between them;
// where along it they stand is not known.
func (l *Load) tips(d Direction) (g float64, ok bool) {
	base, held := l.Width, l.pressed()/2*l.Width
	if d == Forward || d == Rearward {
		base, held = l.Length, 0
	}
	if !(l.Height > 0) || !(base > 0) {
		return 0, false
	}
	return (base/2 + held/l.Weight) / l.Height, true
}

// kind is what tie-downs must have in common to mirror each other.
type kind struct {
	up, out Range
	loop    bool // same side: two legs, which pull to their side only
}

// holds is what one unit of tension holds in direction d, at the worst of its
// angles: the pull along, and the press that friction works on. Both grow and fall
// with an angle without a dip between, so the worst is at an end of the range.
func (k kind) holds(mu float64, d Direction) float64 {
	fore := d == Forward || d == Rearward
	return worst(k.up, func(up float64) float64 {
		sin, cos := math.Sincos(up * degree)
		if k.loop {
			return 2 * (cos + mu*sin)
		}
		return worst(k.out, func(out float64) float64 {
			sinOut, cosOut := math.Sincos(out * degree)
			if fore {
				return cos*cosOut + mu*sin
			}
			return cos*sinOut + mu*sin
		})
	})
}

// worst is the least of f at the two ends of a range.
func worst(r Range, f func(float64) float64) float64 { return math.Min(f(r.Low), f(r.High)) }

// pair is tension that stands alike on both sides of a direction.
type pair struct {
	kind kind
	pull float64 // of each of the two
}

// pairs are those that pull against a motion in direction d, mirrored about it.
func pairs(stands []standing, d Direction) (list []pair) {
	for i := range stands {
		s := &stands[i]
		if s.kind.loop && (d == Forward || d == Rearward) {
			continue
		}
		a, b := acting(d)
		if pull := math.Min(s.sum[a], s.sum[b]); pull > 0 {
			list = append(list, pair{s.kind, pull})
		}
	}
	return list
}

// acting is the two corners whose tie-downs pull against a motion in direction d.
func acting(d Direction) (a, b corner) {
	switch d {
	case Forward:
		return rearLeft, rearRight
	case Rearward:
		return frontLeft, frontRight
	case Left:
		return frontRight, rearRight
	}
	return frontLeft, rearLeft
}

// left counts the tie-downs that are not wholly in a pair fore and aft and sideways,
// or over the top.
func (l *Load) left(stands []standing) (n int) {
	for i := range l.Ties {
		if t := &l.Ties[i]; t.WLL > 0 && !t.presses() {
			n++
		}
	}
	for i := range stands {
		s := &stands[i]
		even := math.Inf(1)
		for _, sum := range s.sum {
			even = math.Min(even, sum)
		}
		for c, sum := range s.sum {
			if sum > 0 && sum <= even*(1+1e-9) && !s.kind.loop || s.kind.loop && s.paired(corner(c)) {
				n -= s.count[c]
			}
		}
	}
	return max(0, n)
}

// paired says whether a loop's tension is met at the other end of its side.
func (s *standing) paired(c corner) bool {
	other := map[corner]corner{frontLeft: rearLeft, rearLeft: frontLeft, frontRight: rearRight, rearRight: frontRight}[c]
	return s.sum[c] > 0 && s.sum[c] <= s.sum[other]*(1+1e-9)
}

// turns is what the linear program gives for direct tie-downs that do not mirror
// each other, at the worst of some hook-ups. ok is false where base, height or an
// angle is not told, or where the program gives no figure.
func (l *Load) turns(stands []standing, d Direction) (g float64, ok bool) {
	if !(l.Height > 0) || !(l.Width > 0) || !(l.Length > 0) {
		return 0, false
	}
	b := Block{
		Weight: l.Weight, Along: l.Friction * l.Braked, Across: l.Friction,
		Length: l.Length, Width: l.Width, CG: Vec{0, 0, l.Height},
	}
	g = math.Inf(1)
	for _, hook := range [...]struct{ in, up, cross float64 }{{1, 0, 1}, {1, 1, 1}, {0.5, 0, 1}, {0.5, 1, 1}, {1, 0, -1}, {1, 1, -1}} {
		var cables []Cable
		for i := range stands {
			s := &stands[i]
			if s.kind.loop {
				continue
			}
			if s.kind.up.Low != s.kind.up.High || s.kind.out.Low != s.kind.out.High {
				return 0, false
			}
			for c, most := range s.sum {
				front, left := corner(c).sign()
				cables = append(cables, Cable{
					At:   Vec{front * hook.in * l.Length / 2, hook.cross * left * hook.in * l.Width / 2, hook.up * l.Height},
					Pull: Pull(s.kind.up.Low, s.kind.out.Low, front, left), Most: most,
				})
			}
		}
		full, err := Full(b, cables, d)
		if err != nil {
			return 0, false
		}
		g = math.Min(g, full)
	}
	return g, true
}
