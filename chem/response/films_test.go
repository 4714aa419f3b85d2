package response

// Films for the tests, made by laws that are not the fit's: characteristic curves of plain geometry and from the
// literature, and growth of other orders.

import (
	"math"
	"math/rand/v2"
	"time"
)

// film is a made film: a curve of contrast 1, which moves to less exposure as development goes on, and a contrast
// that grows with the minutes.
type film struct {
	fog, speed float64
	curve      func(x float64) float64
	contrast   func(minutes float64) float64
}

// The characteristic curves. Each begins near x = 0.
var curves = map[string]func(r *rand.Rand) func(x float64) float64{
	// a ramp with a softened corner (softplus) and an exponential shoulder
	"soft": func(r *rand.Rand) func(x float64) float64 {
		toe, top := 0.12+0.25*r.Float64(), 2.2+2*r.Float64()
		return func(x float64) float64 { return top * -math.Expm1(-toe*math.Log1p(math.Exp(x/toe))/top) }
	},
	// F. Hurter and V. C. Driffield, J. Soc. Chem. Ind. 9 (1890) 455 (from memory): D = log10(O - (O-1) beta^I)
	"hurter and driffield": func(r *rand.Rand) func(x float64) float64 {
		o := math.Pow(10, 3+2*r.Float64())
		return func(x float64) float64 { return math.Log10(1 - (o-1)*math.Expm1(-math.Pow(10, x-0.6)*3/o)) }
	},
	// a gradient that rises evenly over much log H, then stays (a parabola and its tangent)
	"long toe": func(r *rand.Rand) func(x float64) float64 {
		width := 1 + 0.6*r.Float64()
		return func(x float64) float64 {
			u := x + width/2
			if u < width {
				return max(0, u) * max(0, u) / (2 * width)
			}
			return u - width/2
		}
	},
	// a gradient that falls to a third from 1.2 log H on, toe and shoulder as the normal distribution
	"shoulder": func(r *rand.Rand) func(x float64) float64 {
		at := 1.1 + 0.6*r.Float64()
		return func(x float64) float64 { return normalToe(x) - 0.6*normalToe(x-at) }
	},
}

func normalToe(x float64) float64 {
	const s = 0.3
	z := x / s
	return s * (z*(1+math.Erf(z/math.Sqrt2))/2 + math.Exp(-z*z/2)/math.Sqrt(2*math.Pi))
}

// The laws of growth.
var laws = map[string]func(r *rand.Rand) func(t float64) float64{
	// C. E. K. Mees 1911: first order
	"first order": func(r *rand.Rand) func(t float64) float64 {
		limit, k := 0.8+0.5*r.Float64(), 0.08+0.12*r.Float64()
		return func(t float64) float64 { return limit * -math.Expm1(-k*t) }
	},
	// a rate in proportion to the square of what is left
	"second order": func(r *rand.Rand) func(t float64) float64 {
		limit, k := 1.2+0.6*r.Float64(), 0.07+0.06*r.Float64()
		return func(t float64) float64 { return limit * k * t / (1 + k*t) }
	},
	// A. H. Nietz, The Theory of Development (1922), from memory: by the logarithm of time since an appearance
	"logarithm of time": func(r *rand.Rand) func(t float64) float64 {
		k, start := 0.3+0.3*r.Float64(), 1+r.Float64()
		scale := (0.5 + 0.2*r.Float64()) / (1 - math.Pow(8/start, -k))
		return func(t float64) float64 { return scale * (1 - math.Pow(max(t, start)/start, -k)) }
	},
	"induction": func(r *rand.Rand) func(t float64) float64 {
		limit, k, t0 := 0.9+0.4*r.Float64(), 0.1+0.1*r.Float64(), 1+r.Float64()
		return func(t float64) float64 { return limit * -math.Expm1(-k*max(0, t-t0)) }
	},
}

func drawnFilm(r *rand.Rand, curve, law string) film {
	return film{fog: 0.08 + 0.1*r.Float64(), speed: 0.1 * r.Float64(), curve: curves[curve](r), contrast: laws[law](r)}
}

// toeAt is the log exposure where the films' curves begin.
const toeAt = -1.9

// density over base plus fog after minutes, of a sheet that develops so much more.
func (f film) over(h, t, more float64) float64 {
	return f.contrast(t) * more * f.curve(h-toeAt+f.speed*math.Log(t/8))
}

func (f film) baseFog(t float64) float64 { return f.fog * (1 + 0.01*t) }

// crossing is where density stands so far over base plus fog, by halving.
func (f film) crossing(t, more, over float64) float64 {
	low, high := -5.0, 3.0
	for range 60 {
		if m := (low + high) / 2; f.over(m, t, more) < over {
			low = m
		} else {
			high = m
		}
	}
	return high
}

// gradient over 1.30 from the speed point.
func (f film) gradient(t, more float64) float64 {
	return (f.over(f.crossing(t, more, 0.10)+1.30, t, more) - 0.10) / 1.30
}

// logRange that an image of a log exposure range has in densities, its shadow 0.10 over base plus fog.
func (f film) logRange(t, more, onFilm float64) float64 {
	return f.over(f.crossing(t, more, 0.10)+onFilm, t, more) - 0.10
}

// timeFor is the minutes at which something that rises with time comes to a value, by halving.
func timeFor(of func(t float64) float64, value float64) float64 {
	low, high := 2.0, 60.0
	for range 60 {
		if m := (low + high) / 2; of(m) < value {
			low = m
		} else {
			high = m
		}
	}
	return high
}

// errors are a test's.
type scatters struct {
	reading, sheet, session float64
	heavy                   bool // readings that err as Student's t with three degrees of freedom
}

func (e scatters) ofReading(r *rand.Rand) float64 {
	z := r.NormFloat64()
	if e.heavy {
		chi2 := 0.0
		for range 3 {
			x := r.NormFloat64()
			chi2 += x * x
		}
		z /= math.Sqrt(chi2) // a variance of 1, as the normal
	}
	return e.reading * z
}

// sheetOf is what a sheet develops more in a session.
func (e scatters) sheetOf(r *rand.Rand, session float64) float64 {
	return session * (1 + e.sheet*r.NormFloat64())
}

func (e scatters) sessionOf(r *rand.Rand) float64 { return 1 + e.session*r.NormFloat64() }

// tested is a test of the film in one session: sheets at times, 21 steps of 0.15, base plus fog read as well.
func (f film) tested(r *rand.Rand, times []float64, e scatters) []Sheet {
	session := e.sessionOf(r)
	var list []Sheet
	for _, t := range times {
		more := e.sheetOf(r, session)
		base := f.baseFog(t) + e.ofReading(r)
		s := Sheet{Time: time.Duration(t * float64(time.Minute)), Base: &base}
		for i := 20; i >= 0; i-- {
			h := 0.25 - 0.15*float64(i)
			s.LogH, s.Density = append(s.LogH, h), append(s.Density, f.baseFog(t)+f.over(h, t, more)+e.ofReading(r))
		}
		list = append(list, s)
	}
	return list
}
