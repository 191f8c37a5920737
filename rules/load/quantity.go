package load

import "math/bits"

// Mass is a mass in micrograms. A pound is a whole number of them, so no limit
// is ever compared in floating point.
type Mass int64

// Masses of the units people text in, in micrograms; all exact (international
// avoirdupois pound, 1959: 0.45359237 kg).
const (
	Pound    Mass = 453_592_370
	Kilogram Mass = 1_000_000_000
	Tonne         = 1000 * Kilogram
	ShortTon      = 2000 * Pound
)

// Pounds is m in pounds, for the data and for printing; never compare with it.
func (m Mass) Pounds() float64 { return float64(m) / float64(Pound) }

// Kilograms is m in kilograms, for printing.
func (m Mass) Kilograms() float64 { return float64(m) / float64(Kilogram) }

// Length is a length in nanometres: 1/64 in is a whole number of them.
type Length int64

// Lengths of the units people text in, in nanometres; all exact.
const (
	Millimetre Length = 1_000_000
	Metre             = 1000 * Millimetre
	Inch       Length = 25_400_000
	Foot              = 12 * Inch
)

// Inches is l in inches, for printing.
func (l Length) Inches() float64 { return float64(l) / float64(Inch) }

// Micro is a number told, in millionths: enough for any figure a person texts.
type Micro int64

// One is the number 1.
const One Micro = 1_000_000

// Times is n units of u, rounded half up. ok is false when n is negative or the
// product does not fit.
func Times[Q ~int64](n Micro, u Q) (q Q, ok bool) {
	if n < 0 || u < 0 {
		return 0, false
	}
	hi, lo := bits.Mul64(uint64(n), uint64(u))
	lo, carry := bits.Add64(lo, uint64(One)/2, 0)
	hi += carry
	if hi >= uint64(One) {
		return 0, false
	}
	v, _ := bits.Div64(hi, lo, uint64(One))
	if v > 1<<62 {
		return 0, false
	}
	return Q(v), true
}
