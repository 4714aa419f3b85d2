package curve

// Films for the tests of coverage, whose curves and growth are not those that the program
// fits: characteristic curves from the literature and of plain geometry, growth laws other
// than the fitted one.

import (
	"math"
	"math/rand/v2"
)

// shape is densities over base plus fog of a curve of contrast 1 at log exposures.
type shape func(x float64) float64

// The curves.
var shapes = map[string]shape{
	// F. Hurter and V. C. Driffield, J. Soc. Chem. Ind. 9 (1890) 455-469 (from memory):
	// D = gamma log10(O - (O-1) beta^I), a toe, a straight part and a shoulder; O = 10^5
	"hurter and driffield": func(x float64) float64 { return hurterDriffield(x-1.3, 5) },
	// a gradient that falls to a third at 1.1 log H from the toe
	"shoulder": func(x float64) float64 { return normalToe(x) - 0.67*normalToe(x-1.1) },
	// a gradient that rises evenly over some log H, then stays (a parabola, then its tangent)
	"long toe": func(x float64) float64 { return parabola(x+0.7, 1.4) },
	"even toe": func(x float64) float64 { return parabola(x+0.7, 0.7) },
	// a gradient that rises as the normal distribution does: the integral of that
	"normal toe": normalToe,
	// straight all the way
	"straight": func(x float64) float64 { return max(0, x+0.4) },
}

func parabola(u, width float64) float64 {
	switch {
	case u <= 0:
		return 0
	case u < width:
		return u * u / (2 * width)
	}
	return u - width/2
}

func normalToe(x float64) float64 {
	const s = 0.3
	z := x / s
	return s * (z*(1+math.Erf(z/math.Sqrt2))/2 + math.Exp(-z*z/2)/math.Sqrt(2*math.Pi))
}

func hurterDriffield(x, range10 float64) float64 {
	o := math.Pow(10, range10)
	exposure := math.Pow(10, x) // beta = 1/e
	// O - (O-1) e^-I = 1 - (O-1)(e^-I - 1), which keeps its digits in the toe
	return math.Log10(1 - (o-1)*math.Expm1(-exposure*10/o))
}

// average is the average gradient of a shape at a contrast.
func (s shape) average(contrast float64) float64 {
	m := s.speedPoint(contrast)
	return (contrast*s(m+averagedOver) - speedOverBase) / averagedOver
}

// speedPoint is where the density comes to 0.10, by halving.
func (s shape) speedPoint(contrast float64) float64 {
	low, high := -4.0, 4.0
	for range 60 {
		if mid := (low + high) / 2; contrast*s(mid) < speedOverBase {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}

// contrastFor is the contrast at which a shape has an average gradient, by halving.
func (s shape) contrastFor(gradient float64) float64 {
	low, high := gradient/4, 4*gradient+0.2
	for range 40 {
		if mid := (low + high) / 2; s.average(mid) < gradient {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}

// law is the average gradient as a function of minutes.
type law struct {
	at       func(minutes float64) float64
	limit, k float64 // of the first order alone
}

// drawLaw draws a film's growth: limits of 0.69 to 2.1 for nine films in ten, at gradients in use after about 8 min.
func drawLaw(rng *rand.Rand, kind string, induction float64) law {
	at8 := 0.5 + 0.2*rng.Float64()
	limit := 0.0
	for limit < at8+0.1 {
		limit = 1.2 * math.Exp(0.34*rng.NormFloat64()) // common practice, no source: as chem/growthbelief has it
	}
	switch kind {
	case "first order": // Mees 1911
		k := -math.Log1p(-at8/limit) / 8
		return law{func(m float64) float64 { return limit * -math.Expm1(-k*max(0, m-induction)) }, limit, k}
	case "second order": // a rate in proportion to the square of what is left
		limit := 1.4 * limit
		k := at8 / (limit - at8) / 8
		return law{at: func(m float64) float64 { m = max(0, m-induction); return limit * k * m / (1 + k*m) }}
	default:
		// A. H. Nietz, The Theory of Development (1922), from memory: D = D_inf (1 - exp(-K log(t/t_a))),
		// nothing before a time of appearance t_a; of a gradient of 0.5 to 0.7 after 8 min
		k, start := 0.3+0.3*rng.Float64(), 1+rng.Float64()
		scale := at8 / (1 - math.Pow(8/start, -k))
		return law{at: func(m float64) float64 {
			m = max(start, m-induction)
			return scale * (1 - math.Pow(m/start, -k))
		}}
	}
}

// errorOf draws a standard error; with heavy tails from Student's t with three degrees of
// freedom, of the same standard deviation.
func errorOf(rng *rand.Rand, heavy bool) float64 {
	z := rng.NormFloat64()
	if !heavy {
		return z
	}
	chi2 := 0.0
	for range 3 {
		x := rng.NormFloat64()
		chi2 += x * x
	}
	return max(-8, min(8, z/math.Sqrt(chi2))) // t3 has a variance of 3; what lies further off is read again
}

// readSheet reads a sheet of a contrast with a tablet of 21 steps.
func readSheet(rng *rand.Rand, s shape, contrast, e float64, heavy bool) Curve {
	base := Density(0.2 + e*errorOf(rng, heavy))
	c := Curve{Base: &base}
	for i := range 21 {
		x := -1.2 + 0.15*float64(i)
		c.Readings = append(c.Readings, Reading{LogH(x), Density(0.2 + contrast*s(x) + e*errorOf(rng, heavy))})
	}
	return c
}

func newRand(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 0xc0)) }
