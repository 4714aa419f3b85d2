package response

// Families of curves made by laws that are not the fit's: what is solved for lies near the truth, and the
// intervals hold it as often as they say.

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"
)

// film is a made film. Its toe is a softened ramp (softplus), its shoulder an exponential saturation, and
// its speed grows with development; gradient grows by a law of its own.
type film struct {
	fog, limit, rate, induction float64
	toe, shoulder, speed        float64
}

func drawnFilm(r *rand.Rand) film {
	return film{fog: 0.08 + 0.1*r.Float64(), limit: 0.8 + 0.5*r.Float64(), rate: 0.08 + 0.12*r.Float64(),
		toe: 0.12 + 0.25*r.Float64(), shoulder: 2.2 + 2*r.Float64(), speed: 0.1 * r.Float64()}
}

// density at log H, minutes, and a session that develops so much more.
func (f film) density(h, t, more float64) float64 {
	grown := f.limit * -math.Expm1(-f.rate*(t-f.induction)) * more
	x := h + 2.2 + f.speed*math.Log(t/8)
	ramp := f.toe * math.Log1p(math.Exp(x/f.toe))
	top := f.shoulder
	return f.fog*(1+0.01*t) + grown*top*-math.Expm1(-ramp/top)
}

// gradient over 1.30 from the speed point, by bisection on the law itself.
func (f film) gradient(t, more float64) float64 {
	low, high := -4.0, 0.5
	want := f.density(-3.05, t, more) + 0.10
	for range 60 {
		if m := (low + high) / 2; f.density(m, t, more) < want {
			low = m
		} else {
			high = m
		}
	}
	return (f.density(high+1.3, t, more) - f.density(high, t, more)) / 1.3
}

func (f film) timeFor(gradient, more float64) float64 {
	low, high := 1.0, 60.0
	for range 60 {
		if m := (low + high) / 2; f.gradient(m, more) < gradient {
			low = m
		} else {
			high = m
		}
	}
	return high
}

// tested is a test of the film: sheets at times, 21 steps of 0.15, with errors.
func (f film) tested(r *rand.Rand, times []float64, reading, scatter, session float64) []Sheet {
	today := 1 + session*r.NormFloat64()
	var list []Sheet
	for _, t := range times {
		more := today * (1 + scatter*r.NormFloat64())
		s := Sheet{Time: time.Duration(t * float64(time.Minute))}
		for i := 20; i >= 0; i-- {
			h := -0.05 - 0.15*float64(i)
			s.LogH, s.Density = append(s.LogH, h), append(s.Density, f.density(h, t, more)+reading*r.NormFloat64())
		}
		list = append(list, s)
	}
	return list
}

func TestExactReadingsGiveTheTime(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	worst := 0.0
	for range 12 {
		f := drawnFilm(r)
		s, err := Fit(f.tested(r, []float64{4, 6, 9, 13}, 1e-4, 0, 0), Options{ReadingError: 0.002, SheetScatter: 0.001})
		if err != nil {
			t.Fatal(err)
		}
		want := f.timeFor(f.gradient(7.5, 1), 1)
		got, err := s.Solve(Average{f.gradient(7.5, 1)})
		if err != nil {
			t.Fatal(err)
		}
		off := got.Time.Minutes()/want - 1
		worst = max(worst, math.Abs(off))
		t.Logf("%.3f min; %.3f (%+.2f%%), %v to %v", got.Time.Minutes(), want, 100*off, got.Low, got.High)
	}
	if worst > 0.01 {
		t.Errorf("off by %.2f%%", 100*worst)
	}
}

func TestHolds(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 13))
	const tests = 60
	for _, c := range []struct {
		name                      string
		times                     []float64
		reading, scatter, session float64
	}{{"four", []float64{4, 6, 9, 13}, 0.02, 0.03, 0.05}, {"two", []float64{5, 10}, 0.02, 0.03, 0.05}, {"three fine", []float64{5, 7, 10}, 0.01, 0.02, 0.05}} {
		held, below, tried, fails := 0, 0, 0, 0
		var sq float64
		began := time.Now()
		for range tests {
			f := drawnFilm(r)
			s, err := Fit(f.tested(r, c.times, c.reading, c.scatter, c.session), Options{SheetScatter: c.scatter, SessionScatter: math.Sqrt2 * c.session})
			if err != nil {
				t.Fatal(err)
			}
			aim := f.gradient(7.5, 1)
			got, err := s.Solve(Average{aim})
			if err != nil {
				fails++
				continue
			}
			next := (1 + c.session*r.NormFloat64()) * (1 + c.scatter*r.NormFloat64())
			want := f.timeFor(aim, next)
			tried++
			sq += math.Pow(got.Time.Minutes()/7.5-1, 2)
			switch {
			case want < got.Low.Minutes():
				below++
			case want <= got.High.Minutes():
				held++
			}
		}
		t.Logf("%s: held %.3f, below %d of %d, %d without; sd %.1f%%; %v each", c.name, float64(held)/float64(tried), below, tried, fails, 100*math.Sqrt(sq/float64(tried)), time.Since(began)/tests)
	}
}
