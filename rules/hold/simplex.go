package hold

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
)

// program is: the most of its first column's amount, so that each balance comes to
// nothing. A column is what one unit of an amount gives to the balances; no amount
// is below 0.
type program struct {
	eq    equations
	rhs   []float64   // what the amounts must come to against
	cols  [][]float64 // one entry for each balance
	value []float64   // of one unit
	most  []float64   // of each amount; infinite where nothing limits it
}

func (p *program) column(rows []float64, value, most float64) {
	p.cols = append(p.cols, rows)
	p.value = append(p.value, value)
	p.most = append(p.most, most)
}

// carry adds a force that is always there: the amounts must bear it too.
func (p *program) carry(rows []float64, n float64) {
	for i, r := range rows {
		p.rhs[i] -= r * n
	}
}

// Figures of the search for the best point, all in weights.
const (
	costly  = 1e4  // what a stand-in amount costs: more than any acceleration is worth
	close   = 1e-6 // how far a balance may be out
	settled = 1e-9 // the solver's tolerance
	nudge   = 1e-9 // the balances are moved by this, so that no two limits meet in a point
	steps   = 1000 // of the solver; the hardest load seen takes 90
)

// solve finds the best point and checks it. What the solver says of a program that
// it could not solve is not believed.
func (p *program) solve() (float64, error) {
	for _, by := range [...]float64{nudge, 10 * nudge, 0} {
		if x, ok := p.try(by); ok {
			return x[0], nil
		}
	}
	return 0, ErrNoAnswer
}

// try asks the solver, which has its traps: it gives up on balances that say the
// same or say nothing, calls some programs that can be solved infeasible, goes round
// in circles for ever where many limits meet, and may panic. So it is given a
// stand-in amount for each balance to begin with, too costly to keep; the balances
// are nudged; its steps are counted; and its answer is put back into the program.
func (p *program) try(by float64) (x []float64, ok bool) {
	defer func() {
		if recover() != nil {
			x, ok = nil, false
		}
	}()
	a, b, c, basis := p.standard(by)
	_, x, err := lp.Simplex(c, a, b, settled, basis)
	if err != nil || len(x) < len(p.cols) {
		return nil, false
	}
	x = x[:len(p.cols)]
	for i := range x {
		x[i] = math.Max(0, x[i])
	}
	return x, p.holds(x)
}

// holds puts amounts back into the program: each within its limits, and every
// balance kept.
func (p *program) holds(x []float64) bool {
	for i, v := range x {
		if !(v <= p.most[i]+close) || math.IsInf(v, 0) {
			return false
		}
	}
	for i, rhs := range p.rhs {
		sum, size := -rhs, 1+math.Abs(rhs)
		for j, v := range x {
			sum += p.cols[j][i] * v
			size += math.Abs(p.cols[j][i] * v)
		}
		if !(math.Abs(sum) <= close*math.Min(size, 10)) {
			return false
		}
	}
	return true
}

// standard is the program in the solver's form: least of c x with a x = b and no x
// below 0, the columns being the amounts, what is left to the limit of each, and
// the stand-ins, which are the basis to begin with.
func (p *program) standard(by float64) (a *counted, b, c []float64, basis []int) {
	var limited []int
	for j, m := range p.most {
		if !math.IsInf(m, 1) {
			limited = append(limited, j)
		}
	}
	rows, n := len(p.rhs)+len(limited), len(p.cols)
	dense := mat.NewDense(rows, n+len(limited)+len(p.rhs), nil)
	b, c = make([]float64, rows), make([]float64, n+len(limited)+len(p.rhs))
	basis = make([]int, rows)
	for i, rhs := range p.rhs {
		sign := 1.0
		if rhs < 0 {
			sign = -1
		}
		b[i] = sign*rhs + by*float64(i+1)
		for j := range p.cols {
			dense.Set(i, j, sign*p.cols[j][i])
		}
		standIn := n + len(limited) + i
		dense.Set(i, standIn, 1)
		c[standIn] = costly
		basis[i] = standIn
	}
	for k, j := range limited {
		i := len(p.rhs) + k
		dense.Set(i, j, 1)
		dense.Set(i, n+k, 1)
		b[i] = p.most[j] * (1 - by*float64(i+1))
		basis[i] = n + k
	}
	for j, v := range p.value {
		c[j] = -v
	}
	return &counted{dense: dense, left: rows * (4*len(c) + steps)}, b, c, basis
}

// counted is a matrix that stops the solver when it has looked too often: the
// solver reads a column of it at each step.
type counted struct {
	dense *mat.Dense
	left  int
}

// Dims is the matrix's size.
func (m *counted) Dims() (rows, columns int) { return m.dense.Dims() }

// T is its transpose.
func (m *counted) T() mat.Matrix { return mat.Transpose{Matrix: m} }

// At is an element; it panics when it was asked too often.
func (m *counted) At(i, j int) float64 {
	if m.left--; m.left < 0 {
		panic("too many steps")
	}
	return m.dense.At(i, j)
}
