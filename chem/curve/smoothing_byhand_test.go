package curve

// Errors of readings, and smoothing by them, against whole matrices.

import (
	"math"
	"testing"
)

// Errors of a picture by hand: 0.01, 0.02 and one that is not known, of the usual sqrt(0.00025); with an error of 0.02 in all
// sqrt(0.00015) more lies on each; none counts under a quarter.
func TestVariancesByHand(t *testing.T) {
	c := Curve{Readings: make([]Reading, 3), Errors: []Density{0.01, 0.02, 0}}
	if e := pictureErrorOf([]Curve{c, {}}); !(math.Abs(float64(e)-math.Sqrt(0.00025)) <= 1e-12) {
		t.Errorf("%g; expected %g", float64(e), math.Sqrt(0.00025))
	}
	for e, want := range map[Density][3]float64{0.01: {0.4, 1.6, 1}, 0.02: {0.00025 / 0.0004, 0.00055 / 0.0004, 1}} {
		for i, got := range c.variances(e) {
			if !(math.Abs(got-want[i]) <= 1e-12) {
				t.Errorf("error %g, reading %d: %g; expected %g", float64(e), i, got, want[i])
			}
		}
	}
	c.Errors = []Density{0.001, 0.05, 0.05}
	if got := c.variances(0.01)[0]; !(math.Abs(got-0.0625) <= 1e-12) {
		t.Errorf("%g; expected a sixteenth", got)
	}
	if (Curve{Readings: make([]Reading, 3)}).variances(0.01) != nil {
		t.Error("variances of errors that are not known")
	}
}

// The smoothing spline as a penalised regression with whole matrices (Green and Silverman 1994, ch. 2, from memory): K = Q R^-1 Q',
// S = (V^-1 + lambda K)^-1 V^-1; the penalty is the one of 41, evenly spread in the logarithm from 1e-8 to 100, with the least sum of
// squares over v and 2 E^2 trace S.
func TestSmoothingAgainstWholeMatrices(t *testing.T) {
	x, v := []float64{0, 0.1, 0.3, 0.45, 0.5, 0.8, 0.9, 1.2, 1.25}, []float64{1, 2, 0.5, 1, 3, 1, 0.25, 1, 1.5}
	n := len(x)
	q, r := square(n), square(n)
	for j := range n - 2 {
		before, after := x[j+1]-x[j], x[j+2]-x[j+1]
		q[j][j], q[j+1][j], q[j+2][j] = 1/before, -1/before-1/after, 1/after
		r[j][j] = (before + after) / 3
		if j+1 < n-2 {
			r[j][j+1], r[j+1][j] = after/6, after/6
		}
	}
	r[n-2][n-2], r[n-1][n-1] = 1, 1 // no columns of Q
	ri := inverse(r)
	k := square(n)
	for a := range n {
		for b := range n {
			for i := range n - 2 {
				for j := range n - 2 {
					k[a][b] += q[a][i] * ri[i][j] * q[b][j]
				}
			}
		}
	}
	hat := func(lambda float64) [][]float64 {
		m := square(n)
		for a := range n {
			for b := range n {
				m[a][b] = lambda * k[a][b]
			}
			m[a][a] += 1 / v[a]
		}
		m = inverse(m)
		for a := range n {
			for b := range n {
				m[a][b] /= v[b]
			}
		}
		return m
	}
	for _, e := range []float64{0.005, 0.02, 0.1} {
		y := make([]float64, n)
		for i := range y {
			y[i] = x[i]*x[i]*0.6 + e*[]float64{1, -1, 0.5, -1.5, 0.3, 1.2, -0.7, 0.1, -0.4}[i]*math.Sqrt(v[i])
		}
		best, least := 0.0, math.Inf(1)
		for i := range 41 {
			lambda := math.Pow(10, -8+float64(i)/4)
			s := hat(lambda)
			risk := 0.0
			for a := range n {
				fit := 0.0
				for b := range n {
					fit += s[a][b] * y[b]
				}
				risk += 2*e*e*s[a][a] + (y[a]-fit)*(y[a]-fit)/v[a]
			}
			if risk < least {
				best, least = lambda, risk
			}
		}
		s := newSmoother(x)
		s.v = v
		s.choose(y, Density(e))
		if !(math.Abs(s.lambda/best-1) <= 1e-9) {
			t.Errorf("error %g: a penalty of %g; expected %g", e, s.lambda, best)
		}
		got, whole := make([]float64, n), hat(best)
		s.smooth(y, got)
		straightened := (&fitResult{readings: y, variances: v, curve: NewInterpolant(x, y)}).straightened(Density(e))
		for a := range n {
			want := 0.0
			for b := range n {
				want += whole[a][b] * y[b]
			}
			if straightened[a] != got[a] {
				t.Errorf("error %g, reading %d: straightened to %.9f; expected %.9f", e, a, straightened[a], want)
			}
			if !(math.Abs(got[a]-want) <= 1e-9) {
				t.Errorf("error %g, reading %d: %.9f; expected %.9f", e, a, got[a], want)
			}
		}
		for share, want := range map[float64]float64{penaltyShare: 0.1, straightShare: 10, 1: 1} {
			d := &fitResult{readings: y, variances: v}
			if got := d.smootherFor(x, Density(e), share).lambda; !(math.Abs(got/(want*best)-1) <= 1e-9) {
				t.Errorf("error %g: %g of the penalty; expected %g", e, got/best, want)
			}
		}
	}
}

func square(n int) [][]float64 {
	m := make([][]float64, n)
	for i := range m {
		m[i] = make([]float64, n)
	}
	return m
}

// inverse is Gauss and Jordan's, of a matrix that needs no pivots.
func inverse(m [][]float64) [][]float64 {
	n := len(m)
	a, b := square(n), square(n)
	for i := range n {
		copy(a[i], m[i])
		b[i][i] = 1
	}
	for c := range n {
		p := a[c][c]
		for j := range n {
			a[c][j], b[c][j] = a[c][j]/p, b[c][j]/p
		}
		for i := range n {
			f := a[i][c]
			for j := 0; i != c && j < n; j++ {
				a[i][j], b[i][j] = a[i][j]-f*a[c][j], b[i][j]-f*b[c][j]
			}
		}
	}
	return b
}

// The error of readings that scatter by turns: third differences weigh four neighbours 1, 3, 3, 1 over the root of 20, so errors of
// +-e are differences of 8 e/sqrt(20) all along. One reading off by 30 e, short of a slip, makes two far greater, which count as
// four medians over 0.6745. Of eleven readings eight differences are enough, of ten not.
func TestReadingErrorByHand(t *testing.T) {
	turns := func(n int, e, wild float64) (c Curve) {
		for i := range n {
			d := 0.1 + 0.09*float64(i) + e*float64(1-2*(i%2))
			if i == 8 {
				d += wild
			}
			c.Readings = append(c.Readings, Reading{LogH(0.15 * float64(i)), Density(d)})
		}
		return c
	}
	for n, ok := range map[int]bool{11: true, 10: false} {
		if got, told := readingErrorOf([]Curve{turns(n, 0.004, 0)}); told != ok || ok && !(math.Abs(float64(got)-0.004*8/math.Sqrt(20)) <= 1e-9) {
			t.Errorf("%d readings: %g, %v; expected %g", n, float64(got), told, 0.004*8/math.Sqrt(20))
		}
	}
	const n, e = 20, 0.001
	median, sum := 8*e/math.Sqrt(20), 0.0
	for i := range n - 3 {
		off := median
		for at, weight := range []float64{1, -3, 3, -1} { // of reading 8, which is up by turns as well
			if i+at == 8 {
				off = math.Abs(float64(1-2*(i%2))*median + weight*30*e/math.Sqrt(20))
			}
		}
		sum += math.Pow(min(off, 4*median/0.6745), 2)
	}
	if got, ok := readingErrorOf([]Curve{turns(n, e, 30*e)}); !ok || !(math.Abs(float64(got)-math.Sqrt(sum/(n-3))) <= 1e-9) {
		t.Errorf("%.6f, %v; expected %.6f", float64(got), ok, math.Sqrt(sum/(n-3)))
	}
	if got := turns(20, 0.01, 0).readingError(); !(math.Abs(float64(got)-0.01*8/math.Sqrt(20)/0.6745) <= 1e-9) {
		t.Errorf("%g; expected %g", float64(got), 0.01*8/math.Sqrt(20)/0.6745)
	}
}
