package growthbelief

// How well a possible film explains the evidence.

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// logLikelihood is the logarithm of how likely the evidence is from a film; a constant is left out.
func (f *film) logLikelihood(e *Evidence) float64 {
	sum := 0.0
	for i := range e.Tests {
		sum += e.Tests[i].Weight * f.ofTest(&e.Tests[i])
	}
	for _, s := range e.Sessions {
		sum += f.ofSession(s)
	}
	for _, b := range e.Borrowed {
		sum += f.ofBorrowed(b)
	}
	return sum
}

// ofTest has the sheets' own scatter on the diagonal, and the session's, which all share, beside it: a share of time
// is so many times their steepness of the gradient. The inverse and determinant of such a matrix are known in closed
// form (J. Sherman and W. J. Morrison, Ann. Math. Statist. 21 (1950) 124-127).
func (f *film) ofTest(t *Test) float64 {
	var precision, weighted, squares float64
	variances, logs := 1.0, 0.0
	for _, r := range t.Readings {
		own := r.Error / r.Gradient
		variance := own*own + f.sheets*f.sheets
		grown, steep := f.after(r.Time, r.Temperature)
		off := math.Log(r.Gradient) - grown
		precision += steep * steep / variance
		weighted += off * steep / variance
		squares += off * off / variance
		if variances *= variance; variances < 1e-200 || variances > 1e200 { // the product of many has no number
			variances, logs = 1, logs+math.Log(variances)
		}
	}
	shared := f.sessions * f.sessions
	inflated := 1 + shared*precision
	out := -0.5 * (squares - shared*weighted*weighted/inflated + logs + math.Log(variances*inflated))
	if math.IsNaN(out) {
		return math.Inf(-1) // a sheet with density before anything can show
	}
	return out
}

// ofSession is the probability of a look.
func (f *film) ofSession(s Session) float64 {
	grown, steep := f.after(s.Time, s.Temperature)
	blur := math.Hypot(lookError, f.sessions*steep)
	off := grown - math.Log(s.Wanted)
	below := func(x float64) float64 { return distuv.UnitNormal.CDF((x - off) / blur) }
	p := 0.0 // a film on which nothing shows yet looks thin
	switch s.Look {
	case Thin:
		p = below(-lookFrom)
	case Dense:
		p = 1 - below(lookFrom)
	default:
		p = below(lookFrom) - below(-lookFrom)
	}
	return math.Log(math.Max(p, 1e-300))
}

// ofBorrowed compares times, not gradients: a borrowed time is off by a share of time, by Student's distribution of
// three degrees of freedom, whose heavy tails let tests that contradict it win. A film that never reaches the gradient
// would have made nobody recommend a time for it.
func (f *film) ofBorrowed(b Borrowed) float64 {
	off := math.Log(b.Time.Minutes() / f.time(b.Wanted, 0, b.Temperature))
	return -2 * math.Log1p(off*off/(3*b.Log*b.Log))
}
