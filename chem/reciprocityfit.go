package chem

// From a few test negatives to the film's own law of long exposures: at each metered
// time, the time that was needed for the same density.
//
// Two laws are fitted to y, the decimal logarithm of needed over metered: that of a
// constant exponent, y = (1/P - 1) log10(t) from one second up, and E. Kron's (1914,
// "Ueber das Schwaerzungsgesetz photographischer Platten", read in outline), a
// hyperbola of the logarithm of the intensity, y = a (sqrt(u^2 + 1) - 1) with u =
// log10(t/t0), whose limit in weak light is the exponent 1/(1 + a). Kron's other
// branch, short exposures in strong light, is left out: a meter's scale is set there.
// Which law the data prefer is told by Akaike's criterion corrected for few data
// (AICc: Hurvich and Tsai 1989, from memory). With few tests that criterion alone
// would say "exponent" whatever they are, so the exponent must fit no worse as well.

import (
	"fmt"
	"math"
	"slices"
	"time"

	"gonum.org/v1/gonum/stat/distuv"
)

// ReciprocityTest is one test: what the meter said, and what the film needed.
type ReciprocityTest struct{ Metered, Needed time.Duration }

// KronLaw is Kron's law: past T0 more is needed, at first little, in the end as with the
// exponent 1/(1 + A).
type KronLaw struct {
	A  float64
	T0 time.Duration // up to which nothing is lost
}

// Correct implements Reciprocity; beyond is never set.
func (k KronLaw) Correct(metered time.Duration) (time.Duration, bool, error) {
	if !(k.A >= 0 && k.A <= 2) || k.T0 <= 0 {
		return 0, false, fmt.Errorf("reciprocity by Kron: a %g, t0 %v; expected a from 0 to 2, and a time above zero", k.A, k.T0)
	}
	if err := checkMeteredTime(metered); err != nil {
		return 0, false, err
	}
	d, err := fromSeconds(metered.Seconds() * math.Pow(10, k.A*kronHyperbola(math.Log10(metered.Seconds()/k.T0.Seconds()))))
	return d, false, err
}

// kronHyperbola is Kron's hyperbola on the side of weak light.
func kronHyperbola(u float64) float64 {
	if u <= 0 {
		return 0
	}
	return math.Sqrt(u*u+1) - 1
}

// asymptoticExponent is Kron's a as an exponent of the other law.
func asymptoticExponent(a float64) float64 { return 1 / (1 + a) }

// ReciprocityFit is what the tests tell. Scatter is the standard deviation of a test about its
// law, in stops.
type ReciprocityFit struct {
	Exponent         Exponent
	ExponentInterval Interval
	ExponentScatter  float64
	Kron             *KronLaw // nil with fewer than four tests past one second
	KronInterval     Interval
	KronScatter      float64
	Preferred        string // "exponent" or "two-parameter"; "" where the tests do not tell
	Confidence       float64
}

// Law is the one the tests prefer, the exponent where they do not tell.
func (f ReciprocityFit) Law() Reciprocity {
	if f.Preferred == "two-parameter" {
		return *f.Kron
	}
	return f.Exponent
}

// FitReciprocity fits both laws to tests in any order. It errs with fewer than two past one
// second, for times not above zero, and where less was needed than metered by more
// than a third of a stop, which no film's failure is.
func FitReciprocity(tests []ReciprocityTest) (ReciprocityFit, error) {
	var t reciprocityData
	for i, x := range tests {
		if err := checkMeteredTime(x.Metered); err != nil {
			return ReciprocityFit{}, fmt.Errorf("test %d: %w", i+1, err)
		}
		if err := checkMeteredTime(x.Needed); err != nil {
			return ReciprocityFit{}, fmt.Errorf("test %d: %w", i+1, err)
		}
		y := math.Log10(float64(x.Needed) / float64(x.Metered))
		if y < -0.1 {
			return ReciprocityFit{}, fmt.Errorf("test %d: %v needed for a metered %v; expected no less than metered", i+1, x.Needed, x.Metered)
		}
		t.x, t.y = append(t.x, math.Log10(x.Metered.Seconds())), append(t.y, y)
		if t.x[i] > 0 {
			t.pastOneSecond++
		}
	}
	if t.pastOneSecond < 2 {
		return ReciprocityFit{}, fmt.Errorf("%d tests past one second; expected at least two", t.pastOneSecond)
	}
	f := ReciprocityFit{Confidence: confidence}
	rss := t.fitExponent(&f)
	if t.pastOneSecond >= 4 {
		t.fitKron(&f, rss)
	}
	return f, nil
}

// reciprocityData are the tests: x the logarithm of the metered time in seconds.
type reciprocityData struct {
	x, y          []float64
	pastOneSecond int // one second
}

func (t *reciprocityData) n() float64 { return float64(len(t.x)) }

// fitExponent is a straight line through the origin, with the interval of Student's
// distribution with n - 1 degrees of freedom; it returns the squares that are left.
func (t *reciprocityData) fitExponent(f *ReciprocityFit) float64 {
	var xx, xy float64
	for i, x := range t.x {
		x = max(0, x)
		xx, xy = xx+x*x, xy+x*t.y[i]
	}
	a := max(0, xy/xx)
	rss := t.rss(func(x float64) float64 { return a * max(0, x) })
	s := math.Sqrt(rss / (t.n() - 1))
	half := studentQuantile(t.n()-1) * s / math.Sqrt(xx)
	f.Exponent = Exponent(asymptoticExponent(a))
	f.ExponentInterval = Interval{asymptoticExponent(a + half), asymptoticExponent(max(0, a-half))}
	f.ExponentScatter = s * stopsPerDecade
	return rss
}

// stopsPerDecade is how many stops a factor of ten is.
var stopsPerDecade = math.Log2(10)

func studentQuantile(free float64) float64 {
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: free}.Quantile((1 + confidence) / 2)
}

func (t *reciprocityData) rss(law func(x float64) float64) float64 {
	sum := 0.0
	for i, x := range t.x {
		d := t.y[i] - law(x)
		sum += d * d
	}
	return sum
}

// The search for Kron's t0, in logarithms of seconds.
const (
	minT0   = -2.0
	t0Steps = 400
)

// fitKron searches t0, for each of which a is a straight line, and says which law is
// preferred: the exponent only where the tests scatter about it no more than about
// Kron's law, each by its degrees of freedom (our own rule).
func (t *reciprocityData) fitKron(f *ReciprocityFit, straight float64) {
	a, x0, least := 0.0, 0.0, math.Inf(1)
	try := func(b float64) {
		at := t.slope(b)
		if rss := t.kronRSS(at, b); rss < least {
			a, x0, least = at, b, rss
		}
	}
	t.eachT0(try)
	for width := 0.02; width > 1e-8; width /= 10 { // finer and finer round the best
		for i, middle := -10, x0; i <= 10; i++ {
			try(max(minT0, middle+width*float64(i)/10))
		}
	}
	t0, err := fromSeconds(math.Pow(10, x0))
	if err != nil {
		return
	}
	f.Kron = &KronLaw{A: a, T0: t0}
	free := t.n() - 2
	f.KronScatter = math.Sqrt(least/free) * stopsPerDecade
	f.KronInterval = t.profileInterval(a, least*(1+studentQuantile(free)*studentQuantile(free)/free))
	if t.n() < minTestsForAICc {
		return
	}
	switch d := t.aicc(straight, 2) - t.aicc(least, 3); {
	case d > minDeltaAICc:
		f.Preferred = "two-parameter"
	case d < -minDeltaAICc && f.ExponentScatter <= f.KronScatter:
		f.Preferred = "exponent"
	}
}

// minDeltaAICc is the difference in AICc from which one law is preferred (Burnham and
// Anderson 2002, from memory: less than two says little).
const minDeltaAICc = 2

// minTestsForAICc is how many tests AICc needs for three parameters.
const minTestsForAICc = 5

func (t *reciprocityData) eachT0(try func(b float64)) {
	last := max(0, slices.Max(t.x))
	for i := range t0Steps {
		try(minT0 + (last-minT0)*float64(i)/t0Steps)
	}
}

// slope is the best a for a t0.
func (t *reciprocityData) slope(b float64) float64 {
	var ff, fy float64
	for i, x := range t.x {
		h := kronHyperbola(x - b)
		ff, fy = ff+h*h, fy+h*t.y[i]
	}
	if ff == 0 {
		return 0
	}
	return min(2, max(0, fy/ff))
}

func (t *reciprocityData) kronRSS(a, b float64) float64 {
	return t.rss(func(x float64) float64 { return a * kronHyperbola(x-b) })
}

// profileInterval is all a with which some t0 leaves no more than limit.
func (t *reciprocityData) profileInterval(best, limit float64) Interval {
	within := func(a float64) bool {
		least := math.Inf(1)
		t.eachT0(func(b float64) { least = min(least, t.kronRSS(a, b)) })
		return least <= limit
	}
	edge := func(in, out float64) float64 {
		if within(out) {
			return out
		}
		in, _ = Bisect(in, out, 40, within)
		return in
	}
	return Interval{edge(best, 0), edge(best, 2)}
}

// aicc is Akaike's criterion for k parameters, the variance among them.
func (t *reciprocityData) aicc(rss, k float64) float64 {
	n := t.n()
	return n*math.Log(rss/n) + 2*k + 2*k*(k+1)/(n-k-1)
}
