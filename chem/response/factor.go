package response

// Cholesky's factors of the fit's precisions, without the estimate of condition that a library makes of each: it
// takes longer than all the rest, and the beliefs keep every precision well conditioned.

import "math"

// square is a symmetric matrix; its lower triangle counts.
type square struct {
	n    int
	data []float64
}

func newSquare(n int) square { return square{n, make([]float64, n*n)} }

func (m square) plus(i, j int, v float64) { m.data[max(i, j)*m.n+min(i, j)] += v }

func (m square) row(i int) []float64 { return m.data[i*m.n : (i+1)*m.n] }

// factorize replaces the matrix M by L with LL' = M; false where M is not positive definite.
func (m square) factorize() bool {
	for i := range m.n {
		ri := m.row(i)
		for j := range i + 1 {
			rj := m.row(j)
			v := ri[j]
			for k, x := range rj[:j] {
				v -= ri[k] * x
			}
			if i != j {
				ri[j] = v / rj[j]
				continue
			}
			if !(v > 0) {
				return false
			}
			ri[i] = math.Sqrt(v)
		}
	}
	return true
}

// logDet is log det M of a factor.
func (m square) logDet() (sum float64) {
	for i := range m.n {
		sum += 2 * math.Log(m.data[i*m.n+i])
	}
	return sum
}

// forward replaces x by L^-1 x.
func (m square) forward(x []float64) {
	for i := range m.n {
		r := m.row(i)
		v := x[i]
		for k, l := range r[:i] {
			v -= l * x[k]
		}
		x[i] = v / r[i]
	}
}

// back replaces x by L'^-1 x.
func (m square) back(x []float64) {
	for i := m.n - 1; i >= 0; i-- {
		r := m.row(i)
		x[i] /= r[i]
		for k, l := range r[:i] {
			x[k] -= l * x[i]
		}
	}
}
