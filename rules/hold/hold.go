// Package hold works out by mechanics what the tie-downs of one article hold: the
// largest acceleration, as a share of the weight (in g), forward, rearward and to
// each side, before the article slides or tips. It reads plain figures, knows no
// rule, and never changes an outcome of one: the count is the law's, this is not.
//
// The article is a rigid block on a flat deck; a tie-down is a cable that pulls from
// nothing up to its working load limit as the block tries to move; one over the top
// presses with its pre-tension alone. Shock, bounce, stretch and slack are not in it,
// so a figure is the most a careful set-up can hold, not what it will.
//
// Axes: x forward, y left, z up. Forces are in any one unit, lengths in any one
// unit. testdata/hold/README.md has the model's sources; Slide, Tip and Full are its
// linear programs, SlideClosed and TipClosed the closed forms where those are exact,
// and Work what a message's tie-downs hold with what was not told at its worst.
package hold

import "math"

// Vec is a point or a force: x forward, y left, z up.
type Vec [3]float64

func (v Vec) dot(w Vec) float64 { return v[0]*w[0] + v[1]*w[1] + v[2]*w[2] }

func (v Vec) cross(w Vec) Vec {
	return Vec{v[1]*w[2] - v[2]*w[1], v[2]*w[0] - v[0]*w[2], v[0]*w[1] - v[1]*w[0]}
}

func (v Vec) finite() bool {
	for _, x := range v {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}

// Direction is the way the article wants to go: forward when the truck brakes.
type Direction int

// The four directions, each looked at by itself.
const (
	Forward Direction = iota
	Rearward
	Left
	Right
)

// Directions are all four, in print order.
var Directions = [...]Direction{Forward, Rearward, Left, Right}

// String is the direction's name in data and in print.
func (d Direction) String() string { return [...]string{"forward", "rearward", "left", "right"}[d] }

// unit is the direction as a vector of length 1.
func (d Direction) unit() Vec {
	return [...]Vec{{1, 0, 0}, {-1, 0, 0}, {0, 1, 0}, {0, -1, 0}}[d]
}

// aside is the direction across d.
func (d Direction) aside() Vec {
	if d == Forward || d == Rearward {
		return Left.unit()
	}
	return Forward.unit()
}

// Block is the article: a rigid block that stands on the four corners of its base.
type Block struct {
	Weight        float64
	Along, Across float64 // friction on the deck, fore and aft, and sideways
	Length, Width float64 // of the base
	CG            Vec     // centre of gravity: from the middle of the base, and its height
}

// friction is the friction in a direction.
func (b *Block) friction(d Direction) float64 {
	if d == Forward || d == Rearward {
		return b.Along
	}
	return b.Across
}

// reach is how far the base's edge in direction d is from its middle.
func (b *Block) reach(d Direction) float64 {
	if d == Forward || d == Rearward {
		return b.Length / 2
	}
	return b.Width / 2
}

// Cable is one tie-down, or one leg of one that runs over the top.
type Cable struct {
	At    Vec     // where it leaves the block, from the middle of the base
	Pull  Vec     // unit vector from there to its anchor; z is below 0
	Most  float64 // the tension it may reach where it pulls against the motion; not used by a Clamp
	Slack float64 // the tension it may keep otherwise
	Clamp bool    // over the top: Most is not used, the tension stays at Slack whatever the motion
}

// against says whether the cable pulls against a motion in direction d. One that
// does not goes slack.
func (c *Cable) against(d Direction) bool { return !c.Clamp && c.Pull.dot(d.unit()) < -1e-9 }

// degree is one degree in radians.
const degree = math.Pi / 180

// Pull is the unit vector of a cable that falls at up degrees to the deck and runs
// out degrees off the long axis in plan, to the front or the rear and to the left or
// the right (each +1 or -1, or 0 for neither).
func Pull(up, out float64, front, left float64) Vec {
	flat := cos(up)
	return Vec{front * flat * cos(out), left * flat * math.Sin(out*degree), -math.Sin(up * degree)}
}

// cos is the cosine of an angle in degrees; that of 90 is none at all, or a balance
// of what points across would be out by a hair.
func cos(angle float64) float64 {
	if angle == 90 {
		return 0
	}
	return math.Cos(angle * degree)
}

// Down rounds g down to a twentieth of the weight, as figures are told. An error of
// the arithmetic does not cost a step.
func Down(g float64) float64 {
	const steps, grain = 20, 1e-6
	return math.Max(0, math.Floor((g+grain)*steps)) / steps
}
