package load

import "math/big"

// Mass is a mass in micrograms. A pound is a whole number of them, so no limit
// is ever compared in floating point.
type Mass int64

// Masses of the units people text in, in micrograms; all exact (international
// avoirdupois pound, 1959: 0.45359237 kg).
const (
	Pound    Mass = 453_592_370
	Kilogram Mass = 1_000_000_000
	Tonne    Mass = 1000 * Kilogram
	ShortTon Mass = 2000 * Pound
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

// Times is n units of u, rounded to the nearest micro- or nano-unit; ok is
// false when the result is negative or does not fit.
func Times[Q ~int64](n *big.Rat, u Q) (Q, bool) {
	p := new(big.Rat).Mul(n, new(big.Rat).SetInt64(int64(u)))
	if p.Sign() < 0 {
		return 0, false
	}
	// round half up: floor(p + 1/2)
	p.Add(p, big.NewRat(1, 2))
	q := new(big.Int).Quo(p.Num(), p.Denom())
	if !q.IsInt64() {
		return 0, false
	}
	return Q(q.Int64()), true
}
