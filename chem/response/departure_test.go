package response

// Departures of growth, beliefs about induction and what smoothing bends, against arithmetic and made films.

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"
)

// Two sheets, one twice as long as the other: their departures, of 1 %, have e^(-1/2) = 0.6065 in common. Sheets that
// scatter by 1 % too and lie 1 % over and under the law: by the regression, whose matrix has the eigenvector (1, -1)
// with 0.0002 - 0.00006065 = 0.00013935, growth departs by 0.01/0.00013935 (1 - 0.6065) 0.0001 = 0.002824 at either time
// (by hand), and by nothing between them; far away it keeps to the law. Exact sheets are gone through.
func TestDepartureByHand(t *testing.T) {
	sheets := []Sheet{{Time: 6 * time.Minute}, {Time: 12 * time.Minute}}
	s := &Surface{options: Options{SheetScatter: 0.01}}
	s.sum(sheets)
	d := departureOf(s, []float64{0.01, -0.01})
	between := 6 * math.Sqrt2 * float64(time.Minute)
	for at, want := range map[time.Duration]float64{6 * time.Minute: 0.002824, 12 * time.Minute: -0.002824, time.Duration(between): 0, 50 * time.Hour: 0} {
		if got := d.at(at); math.Abs(got-want) > 1e-6 {
			t.Errorf("%v: %.6f; expected %.6f", at, got, want)
		}
	}
	s = &Surface{options: Options{SheetScatter: 1e-6}}
	s.sum(sheets)
	if got := departureOf(s, []float64{0.01, -0.01}).at(6 * time.Minute); math.Abs(got-0.01) > 1e-5 {
		t.Errorf("%.6f through exact sheets; expected 0.01", got)
	}
}

// An exponential distribution of 0.6 min, each minute standing for what is nearest to it (by hand): to 0.5, to 1.5,
// to 2.5 and from there. Asked for, all are alike.
func TestWhatIsBelievedOfInduction(t *testing.T) {
	s := &Surface{Shortest: 5 * time.Minute}
	got := s.inductions()
	for i, want := range []float64{0.5654, 0.3525, 0.0666, 0.0155} {
		if got[i].minutes != float64(i) || math.Abs(math.Exp(got[i].prior)-want) > 1e-4 {
			t.Errorf("%+v, %.4f; expected %d min, %.4f", got[i], math.Exp(got[i].prior), i, want)
		}
	}
	s.options.Induction = true
	for _, g := range s.inductions() {
		if g.prior != 0 {
			t.Errorf("asked for: %+v", g)
		}
	}
}

// Each value stands in the middle of its share: of four, the second and third lie round the half.
func TestQuantile(t *testing.T) {
	for share, want := range map[float64]float64{0.5: 2.5, 0.125: 1, 0.25: 1.5, 0.05: 1, 0.9: 4} {
		if got := quantile([]float64{1, 2, 3, 4}, share); math.Abs(got-want) > 1e-12 {
			t.Errorf("%.3f: %g; expected %g", share, got, want)
		}
	}
}

// Readings without error, said to be good to 0.02, are smoothed as if they had it: shadows of films whose toes are short
// come out early, and times long, by 0.006 log H and 1 % without that what the smoothing bends is taken off again.
func TestSmoothingIsUnbent(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 21))
	const films = 12
	var off, shadow float64
	for range films {
		f := drawnFilm(r, "soft", "first order")
		s, err := Fit(f.tested(r, six, scatters{reading: 1e-5}), Options{ReadingError: 0.02, SheetScatter: 0.001, SessionScatter: 0.001})
		if err != nil {
			t.Fatal(err)
		}
		got, err := s.Solve(Average{f.gradient(7.5, 1)})
		if err != nil {
			t.Fatal(err)
		}
		off += (got.Time.Minutes()/7.5 - 1) / films
		shadow += (got.Shadow - f.crossing(7.5, 1, 0.10)) / films
	}
	if math.Abs(off) > 0.006 || math.Abs(shadow) > 0.003 {
		t.Errorf("times are off by %+.4f on the average, shadows by %+.4f", off, shadow)
	}
}

// What is taken off is what a second fit shows, of readings that the surface found has itself: as far as that fit falls
// short of the surface, so far did the surface of the truth.
func TestUnbentAsASecondFitShows(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 22))
	sheets := drawnFilm(r, "long toe", "first order").tested(r, four, scatters{reading: 0.02})
	o := Options{ReadingError: 0.02, SheetScatter: 1e-5, SessionScatter: 1e-5}
	s, err := Fit(sheets, o)
	if err != nil {
		t.Fatal(err)
	}
	shape := s.fits[0].shape
	once, _ := s.fit(shape, s.beliefs[shape.bend], math.Inf(-1))
	var c, a coefs
	copy(a[:], once.mean[atA:])
	copy(c[:], once.mean[atC:])
	for i := range sheets {
		u := shape.grown(sheets[i].Time)
		for j, h := range sheets[i].LogH {
			level, _ := s.basis.combine(&a, h)
			curl, _ := s.basis.combine(&c, h)
			sheets[i].Density[j] = once.mean[atBase] + u*level + u*(1-u)*curl
		}
		*sheets[i].Base = once.mean[atBase] + u*once.mean[atFog] + u*(1-u)*once.mean[atFog+1]
	}
	again := &Surface{options: o}
	again.span(sheets)
	again.sum(sheets)
	twice, _ := again.fit(shape, s.beliefs[shape.bend], math.Inf(-1))
	for i := range atSheet {
		if got, want := s.fits[0].mean[i], 2*once.mean[i]-twice.mean[i]; math.Abs(got-want) > 1e-4 {
			t.Errorf("coefficient %d: %.5f; expected %.5f, from %.5f", i, got, want, once.mean[i])
		}
	}
}
