package response

// The fit. Density at log exposure h after a time t:
//
//	D(h, t) = b + u A(h) + u (1-u) C(h),   u = 1 - exp(-k (t - t0))
//
// b is the base; A is where development would end, C how much sooner or later the exposures get there;
// both are splines. With C = 0 every density above the base grows by the law of the time-contrast curve
// (C. E. K. Mees, "The Theory of the Photographic Process"), its rate k and induction t0. A and C are
// smooth and C is small as far as the readings allow: normal beliefs whose widths, with k, t0 and the
// reading error, are weighed by how well they foretell the readings (marginal likelihood).

import (
	"errors"
	"math"
	"slices"
	"time"

	"gonum.org/v1/gonum/mat"
)

const (
	coefficients = 1 + 2*splines // b, A, C
	baseSpread   = 0.3           // standard deviation of the base about 0.15
	baseMean     = 0.15
	levelSpread  = 4.0  // of A's level and slope: wide
	curlSpread   = 0.35 // of C's level and slope: growth differs little over the exposures (our own belief)
)

// shape is one set of what enters the fit not linearly.
type shape struct {
	rate      float64 // k, per minute
	induction float64 // t0, minutes
	bend      float64 // standard deviation of the second differences of A
	error     float64 // of a reading, where none is stated
}

func (s shape) grown(t time.Duration) float64 {
	return max(0, -math.Expm1(-s.rate*(t.Minutes()-s.induction)))
}

// fitted is the surface of one shape: its most likely coefficients and the factor of their
// covariance.
type fitted struct {
	shape
	mean   *mat.VecDense
	factor mat.Cholesky // of the precision
	score  float64      // log marginal likelihood
}

// ErrNoFit says that the readings let no surface be found.
var ErrNoFit = errors.New("no surface fits the readings")

// Fit fits the surface. It errs for fewer than two developing times or five readings a sheet.
func Fit(sheets []Sheet, o Options) (*Surface, error) {
	if err := check(sheets); err != nil {
		return nil, err
	}
	o = o.filled()
	s := &Surface{options: o, sheets: sheets}
	s.span(sheets)
	for _, sh := range s.shapes() {
		if f, ok := s.fit(sh); ok {
			s.fits = append(s.fits, f)
		}
	}
	if len(s.fits) == 0 {
		return nil, ErrNoFit
	}
	s.weigh()
	return s, nil
}

// span takes over the ranges of exposure and time.
func (s *Surface) span(sheets []Sheet) {
	s.basis = basis{math.Inf(1), math.Inf(-1)}
	s.Shortest, s.Longest = sheets[0].Time, sheets[0].Time
	for _, sh := range sheets {
		s.basis.low = min(s.basis.low, sh.LogH[0])
		s.basis.high = max(s.basis.high, sh.LogH[len(sh.LogH)-1])
		s.Shortest, s.Longest = min(s.Shortest, sh.Time), max(s.Longest, sh.Time)
	}
}

// shapes are the sets that are tried: rates by the longest time of the test, from nearly a straight rise
// to one that ends before half of it.
func (s *Surface) shapes() (list []shape) {
	inductions := []float64{0}
	if s.options.Induction {
		for i := 1; i <= 6; i++ {
			inductions = append(inductions, 0.12*float64(i)*s.Shortest.Minutes())
		}
	}
	readingErrors := []float64{0.004, 0.008, 0.015, 0.025, 0.04}
	if s.options.ReadingError > 0 || s.stated() {
		readingErrors = []float64{s.options.ReadingError}
	}
	for _, t0 := range inductions {
		for kt := 0.3; kt < 5; kt *= 1.22 {
			for _, bend := range []float64{0.03, 0.08, 0.2} {
				for _, e := range readingErrors {
					list = append(list, shape{kt / s.Longest.Minutes(), t0, bend, e})
				}
			}
		}
	}
	return list
}

// stated reports whether every reading has an error of its own.
func (s *Surface) stated() bool {
	return !slices.ContainsFunc(s.sheets, func(sh Sheet) bool { return sh.Error == nil })
}

// row is the derivatives of the density by the coefficients.
func (s *Surface) row(h, u float64, into []float64) {
	clear(into)
	into[0] = 1
	first, v, _ := s.basis.at(h)
	for i := range v {
		into[1+first+i] = u * v[i]
		into[1+splines+first+i] = u * (1 - u) * v[i]
	}
}

// fit finds the coefficients of one shape: once with sheets alike, and again with the scatter from sheet to
// sheet, which moves all densities of a sheet above the base together.
func (s *Surface) fit(sh shape) (f fitted, ok bool) {
	f.shape = sh
	f.mean = mat.NewVecDense(coefficients, nil)
	for pass := range 2 {
		precision, right := s.belief(sh)
		score := logDet(precision) / 2
		var squares float64
		for _, one := range s.sheets {
			d, r, e := s.sheetTerms(one, f, pass > 0)
			precision.AddSym(precision, d)
			right.AddVec(right, r)
			score += e.logs
			squares += e.squares
		}
		if !f.factor.Factorize(precision) {
			return f, false
		}
		if err := f.factor.SolveVecTo(f.mean, right); err != nil {
			return f, false
		}
		f.score = score - f.factor.LogDet()/2 - (squares-mat.Dot(f.mean, right))/2
	}
	return f, !math.IsNaN(f.score)
}

// belief is the precision and right side of what is believed before any reading.
func (s *Surface) belief(sh shape) (*mat.SymDense, *mat.VecDense) {
	p := mat.NewSymDense(coefficients, nil)
	right := mat.NewVecDense(coefficients, nil)
	add := func(i, j int, v float64) { p.SetSym(i, j, p.At(i, j)+v) }
	add(0, 0, 1/(baseSpread*baseSpread))
	right.SetVec(0, baseMean/(baseSpread*baseSpread))
	for part, widths := range [2][2]float64{{levelSpread, sh.bend}, {curlSpread, sh.bend}} {
		from := 1 + part*splines
		for i := range splines {
			add(from+i, from+i, 1/(widths[0]*widths[0]))
		}
		w := 1 / (widths[1] * widths[1])
		for i := 0; i+2 < splines; i++ { // second differences
			for a, x := range [3]float64{1, -2, 1} {
				for b, y := range [3]float64{1, -2, 1} {
					if b >= a {
						add(from+i+a, from+i+b, w*x*y)
					}
				}
			}
		}
	}
	return p, right
}

func logDet(p *mat.SymDense) float64 {
	var c mat.Cholesky
	c.Factorize(p)
	return c.LogDet()
}

// sheetEvidence is the part of the marginal likelihood that does not depend on the coefficients.
type sheetEvidence struct{ logs, squares float64 }

// sheetTerms adds a sheet up: X' W X, X' W y and y' W y, W the inverse of the readings' covariance:
// error² on the diagonal and, where the coefficients are known already, scatter² v v', v the densities
// above the base.
func (s *Surface) sheetTerms(one Sheet, f fitted, scatter bool) (*mat.SymDense, *mat.VecDense, sheetEvidence) {
	n := len(one.LogH)
	u := f.grown(one.Time)
	x := mat.NewDense(n, coefficients, nil)
	weights, v, y := make([]float64, n), mat.NewVecDense(n, nil), mat.NewVecDense(n, slices.Clone(one.Density))
	var e sheetEvidence
	for i, h := range one.LogH {
		s.row(h, u, x.RawRowView(i))
		sd := f.error
		if one.Error != nil {
			sd = math.Hypot(one.Error[i], 1e-4)
		}
		weights[i] = 1 / (sd * sd)
		e.logs -= math.Log(sd)
		if scatter {
			v.SetVec(i, max(0, mat.Dot(x.RowView(i), f.mean)-f.mean.AtVec(0)))
		}
	}
	var wx mat.Dense
	wx.Apply(func(i, _ int, value float64) float64 { return value * weights[i] }, x)
	wy := mat.NewVecDense(n, nil)
	wv := mat.NewVecDense(n, nil)
	for i := range n {
		wy.SetVec(i, y.AtVec(i)*weights[i])
		wv.SetVec(i, v.AtVec(i)*weights[i])
	}
	var full mat.Dense
	full.Mul(x.T(), &wx)
	normal := mat.NewSymDense(coefficients, nil)
	for i := range coefficients {
		for j := i; j < coefficients; j++ {
			normal.SetSym(i, j, full.At(i, j))
		}
	}
	var right mat.VecDense
	right.MulVec(x.T(), wy)
	e.squares = mat.Dot(y, wy)
	if scatter { // Sherman and Morrison's formula
		c := s.options.SheetScatter * s.options.SheetScatter
		shrink := c / (1 + c*mat.Dot(v, wv))
		var xv mat.VecDense
		xv.MulVec(x.T(), wv)
		yv := mat.Dot(y, wv)
		normal.SymRankOne(normal, -shrink, &xv)
		right.AddScaledVec(&right, -shrink*yv, &xv)
		e.squares -= shrink * yv * yv
		e.logs -= math.Log1p(c*mat.Dot(v, wv)) / 2
	}
	return normal, &right, e
}
