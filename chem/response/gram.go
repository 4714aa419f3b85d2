package response

// What the fit needs of a sheet whatever the rate of growth: sums over its readings, made once. The design
// of a reading at h is T'B(h), B the splines and T their parts in the coefficients, so every sum over
// readings follows from that over the splines.

import (
	"math"
	"time"
)

// gram is a sheet's sums, weighted by one over the squares of its errors; where no error was stated the
// weights are 1, and share scales them.
type gram struct {
	time     time.Duration
	readings float64
	stated   bool
	bb       [splines]coefs // of B B'
	by       coefs          // of B y
	yy, logs float64        // of y², and of -log error
	base     *float64
}

func (b basis) gram(s Sheet) (g gram) {
	g = gram{time: s.Time, readings: float64(len(s.LogH)), stated: s.Error != nil, base: s.Base}
	for i, h := range s.LogH {
		w := 1.0
		if g.stated {
			sd := math.Hypot(s.Error[i], leastError)
			w = 1 / (sd * sd)
			g.logs -= math.Log(sd)
		}
		first, v, _ := b.at(h)
		for j, vj := range v {
			for k, vk := range v {
				g.bb[first+j][first+k] += w * vj * vk
			}
			g.by[first+j] += w * vj * s.Density[i]
		}
		g.yy += w * s.Density[i] * s.Density[i]
	}
	return g
}

// leastError keeps readings that are said to be exact from swamping the arithmetic.
const leastError = 1e-4

// share is by what the sums are multiplied with a reading error of e, and the logarithms that belong to it.
func (g *gram) share(e float64) (w, logs float64) {
	if g.stated {
		return 1, g.logs
	}
	return 1 / (e * e), -g.readings * math.Log(e)
}

// times is B B' q.
func (g *gram) times(q *coefs) (r coefs) {
	for i := range r {
		for j, v := range q {
			r[i] += g.bb[i][j] * v
		}
	}
	return r
}

func dot(a, b *coefs) (sum float64) {
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}
