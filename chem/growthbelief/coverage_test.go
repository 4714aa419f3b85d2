package growthbelief

// Intervals counted on simulated films that grow and scatter otherwise than the model says.

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"
	"time"

	"gonum.org/v1/gonum/stat/distuv"
)

// otherFilm is a film of a hierarchy that the package does not know: a growth of Hill's form (its toe is longer and
// its approach to the limit slower), sessions that scatter in time by 5% with heavy tails, sheets by 4% of the
// gradient, heavy tails too.
type otherFilm struct {
	r                  *rand.Rand
	limit, half, power float64
}

func newOtherFilm(r *rand.Rand) otherFilm {
	for {
		f := otherFilm{r, 0.95 + 1.2*r.Float64(), 3 + 9*r.Float64(), 1.1 + 0.5*r.Float64()}
		if t := f.timeFor(aim); t > 4 && t < 16 {
			return f
		}
	}
}

func (f otherFilm) timeFor(g float64) float64 {
	return f.half * math.Pow(g/(f.limit-g), 1/f.power)
}

func (f otherFilm) heavy(spread float64) float64 {
	return spread * distuv.StudentsT{Mu: 0, Sigma: math.Sqrt(3. / 5), Nu: 5, Src: f.r}.Rand()
}

// session is by how much a session is longer than its clock says.
func (f otherFilm) session() float64 { return math.Exp(f.heavy(0.05)) }

func (f otherFilm) test(times []float64) Test {
	t, longer := Test{Weight: 1}, f.session()
	for _, m := range times {
		at := math.Pow(m*longer, f.power)
		g := f.limit*at/(at+math.Pow(f.half, f.power))*math.Exp(f.heavy(0.04)) + 0.015*f.r.NormFloat64()
		t.Readings = append(t.Readings, Reading{minutes(m), 20, math.Max(g, 0.02), 0.015})
	}
	return t
}

// The time that the next session needs lies in 90% intervals 0.88 to 0.92 of the time after one, two and four tests
// of three sheets. WETSIDE_FULL=1 go test ./chem/growthbelief -run HoldTheNextSession -v counts 1,000 films in 40 s; a
// share of them, with wider bounds, else. 1,000 films, drawn by 3 and 14, on 2026-11-30: 0.917, 0.911, 0.900 hold; 42, 46,
// 60 are below and 41, 43, 40 above.
func TestTimesHoldTheNextSession(t *testing.T) {
	films, slack := 80, 0.10 // three standard deviations of a binomial with 80 draws
	if os.Getenv("WETSIDE_FULL") != "" {
		films, slack = 1000, 0.02
	}
	r := rand.New(rand.NewPCG(3, 14))
	held, below, above := map[int]int{}, map[int]int{}, map[int]int{}
	width := map[int]float64{}
	for range films {
		f := newOtherFilm(r)
		guess := f.timeFor(aim) * math.Exp(0.25*r.NormFloat64())
		var e Evidence
		for n := 1; n <= 4; n++ {
			e.Tests = append(e.Tests, f.test([]float64{guess / 1.5, guess, guess * 1.5}))
			if n == 3 {
				continue
			}
			v := Believe(Weak, e).Time(aim, 20)
			guess = math.Min(v.Middle, 30)
			next := f.timeFor(aim) / f.session()
			switch {
			case next < v.Low:
				below[n]++
			case next > v.High:
				above[n]++
			default:
				held[n]++
			}
			width[n] += math.Min(v.Narrowness(), 3) / float64(films)
		}
	}
	for _, n := range []int{1, 2, 4} {
		share := float64(held[n]) / float64(films)
		t.Logf("after %d: %.3f hold, %d below, %d above, width %.2f", n, share, below[n], above[n], width[n])
		if math.Abs(share-0.9) > slack {
			t.Errorf("after %d tests %.3f of the intervals hold", n, share)
		}
	}
}

// Nine in ten of the prior are as Weak's comment tells them, and the coefficients of two published tables lie within:
// Wall 1910 (70 s at 8 °C, 25 s at 20 °C: 2.358) and T.O. 33B-1-1, Table 6-16 (1.916, a fit to its seven times).
func TestPriorIsAsTold(t *testing.T) {
	for what, c := range map[string]struct {
		of        Spread
		low, high float64
	}{"limit": {Weak.Limit, 0.69, 2.1}, "rate": {Weak.Rate, 0.045, 0.32}, "coefficient": {Weak.Coefficient, 1.9, 2.6}, "sessions": {Weak.Sessions, 0.03, 0.08}, "sheets": {Weak.Sheets, 0.027, 0.06}} {
		low, high := c.of.Middle*math.Exp(-1.645*c.of.Log), c.of.Middle*math.Exp(1.645*c.of.Log)
		if math.Abs(low/c.low-1) > 0.03 || math.Abs(high/c.high-1) > 0.03 {
			t.Errorf("%s: %.3g to %.3g; told %g to %g", what, low, high, c.low, c.high)
		}
	}
	if most := Weak.Induction * math.Log(10); math.Abs(most-1.4) > 0.05 { // of an exponential
		t.Errorf("induction: nine in ten under %.2f min", most)
	}
	for _, k := range []float64{2.358, 1.916} {
		if off := math.Log(k/Weak.Coefficient.Middle) / Weak.Coefficient.Log; math.Abs(off) > 1.645 {
			t.Errorf("%g lies %.2f deviations off", k, off)
		}
	}
	if v := Believe(Weak, Evidence{}).Time(0.58, 20); math.Abs(v.Low-2.1) > 0.3 || math.Abs(v.High-25) > 3 {
		t.Errorf("before any test 0.58 takes %.1f to %.1f min", v.Low, v.High)
	}
}

// The variance that is expected after two sheets, by simulating them: of each of many believed films sheets are
// drawn, the belief is weighed by them, and the variances that are left are averaged.
func TestNextSheetsByBruteForce(t *testing.T) {
	b := Believe(Weak, goldens(t)[3].evidence())
	sheets := []Sheet{{6 * time.Minute, 20}, {12 * time.Minute, 20}}
	s := b.survey([]float64{aim}, 20, sheets)
	s.observe(0)
	s.observe(1)
	r := rand.New(rand.NewPCG(2, 7))
	sum, n := 0.0, 0
	for i := 0; n < 400; i = (i + 1) % len(b.films) {
		if r.Float64() > 400*b.weight[i] {
			continue
		}
		n++
		truth, shift := b.films[i], b.films[i].sessions*r.NormFloat64()
		one := Test{Weight: 1}
		for _, sheet := range sheets {
			g := math.Exp(truth.logGradient(minutes(sheet.Time.Minutes()*math.Exp(shift)), sheet.Temperature)+truth.sheets*r.NormFloat64()) + readBy*r.NormFloat64()
			one.Readings = append(one.Readings, Reading{sheet.Time, sheet.Temperature, g, readBy})
		}
		var total, mean, squares float64
		for k := range b.films {
			w := b.weight[k] * math.Exp(b.films[k].ofTest(&one))
			x := math.Log(math.Min(b.films[k].time(aim, 0, 20), longestTime))
			total, mean, squares = total+w, mean+w*x, squares+w*x*x
		}
		mean /= total
		sum += squares/total - mean*mean
	}
	if want := sum / 400; math.Abs(s.cov[0][0]/want-1) > 0.25 {
		t.Errorf("variance %.5f expected after the sheets; simulated %.5f, before %.5f", s.cov[0][0], want, s.before*s.before-s.session)
	} else {
		t.Logf("%.5f, simulated %.5f", s.cov[0][0], want)
	}
}

// Nothing known: the first sheets gain much, and there is not enough. Ten tests of one film: there is.
func TestEnoughTests(t *testing.T) {
	usual := []time.Duration{5 * time.Minute, 7 * time.Minute, 10 * time.Minute}
	first := Believe(Weak, Evidence{}).NextSheets([]float64{aim, 0.53, 0.74}, 20, 3, usual)
	total := func(list []Gain) (sum float64) {
		for _, g := range list {
			sum += g.Gain
		}
		return sum
	}
	if first.Enough() || total(first.Best) < 0.3 || total(first.Best) < total(first.Usual) {
		t.Errorf("before the first test: %+v", first)
	}
	r := rand.New(rand.NewPCG(5, 9))
	f := newOtherFilm(r)
	var e Evidence
	for range 10 {
		m := f.timeFor(aim)
		e.Tests = append(e.Tests, f.test([]float64{m / 1.3, m, m * 1.3}))
	}
	if last := Believe(Weak, e).NextSheets([]float64{aim, 0.53, 0.74}, 20, 3, usual); !last.Enough() || total(last.Best) > 0.1 {
		t.Errorf("after ten tests: %+v", last)
	}
}
