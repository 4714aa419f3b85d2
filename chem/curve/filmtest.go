package curve

// Which developing times to spend test sheets on, and how well such a test
// will find the time.

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"time"

	"example.org/wetside/chem"
)

const (
	seriesRatio    = 1.4 // from one time to the next
	seriesSpan     = 5.4 // 1.4^5: the longest over the shortest, at most
	minEvenMinutes = 5 * time.Minute
	coarseMinutes  = 4 * time.Minute // times are whole 15 s from here on, 5 s below
	simulations    = 400
	maxTestSheets  = 200
	steps          = 21   // of the tablet that a simulation reads
	toeWidth       = 0.16 // log H: how slowly a simulated curve leaves base plus fog
)

// TestTimes is n developing times round a guess, each 1.4 times the one before,
// rounded to what a person can keep: 15 s from 4 min on, 5 s below. Over six
// sheets the steps are closer, so that the series spans no more than 5.4 times
// (1.4^5; our own rule). It errs for n outside 2 to 200 and where the times
// would be under 5 s, over 24 h, or twice the same.
func TestTimes(guess time.Duration, n int) ([]time.Duration, error) {
	if n < 2 || n > maxTestSheets {
		return nil, fmt.Errorf("film test: %d sheets; expected 2 to %d", n, maxTestSheets)
	}
	ratio := min(seriesRatio, math.Pow(seriesSpan, 1/float64(n-1)))
	times := make([]time.Duration, n)
	for i := range times {
		t := float64(guess) * math.Pow(ratio, float64(i)-float64(n-1)/2)
		if !(t >= float64(5*time.Second) && t <= float64(maxMinutes*time.Minute)) {
			return nil, fmt.Errorf("film test: %d times round %v; expected 5 s to %d h for each", n, guess, maxMinutes/60)
		}
		whole := 5 * time.Second
		if t >= float64(coarseMinutes) {
			whole = 15 * time.Second
		}
		times[i] = time.Duration(t).Round(whole)
		if i > 0 && times[i] <= times[i-1] {
			return nil, fmt.Errorf("film test: %d times round %v lie too close; expected a longer guess or fewer sheets", n, guess)
		}
	}
	return times, nil
}

// TestForecast is how well a film test will find a time.
type TestForecast struct {
	AverageGradient float64  `json:"average_gradient"` // that is looked for
	Assumed         Growth   `json:"assumed"`          // the growth that was simulated
	Time            float64  `json:"time_s"`           // where that has the gradient
	Low             *float64 `json:"low_s"`            // the middle 90 % of the times found; nil where there is no end
	High            *float64 `json:"high_s"`
	Confidence      float64  `json:"confidence"`
	Missed          float64  `json:"missed"` // share of the tests that gave no time
	Notes           []string `json:"notes"`
}

// ForecastTest simulates film tests with sheets at these times. Assumed is a film
// whose gradient is the target at the guess, and there half its limit (our own
// assumption, as is the shape of its curve: a straight line with a toe). Each
// simulated test is read with the errors, smoothed by the reading error, and
// evaluated as a real one is. All are of one session: another may differ from it by more
// than sheets do. It errs for less than two times, for times and a target out of range.
func ForecastTest(times []time.Duration, guess time.Duration, target float64, e Errors) (TestForecast, error) {
	if err := e.complete(); err != nil {
		return TestForecast{}, err
	}
	if len(times) < 2 || len(times) > maxTestSheets || !(guess > 0 && guess <= maxMinutes*time.Minute) || !(target > 0.1 && target < 3) {
		return TestForecast{}, fmt.Errorf("film test: %d times round %v for gradient %g; expected 2 to %d times, a gradient from 0.1 to 3", len(times), guess, target, maxTestSheets)
	}
	for _, t := range times {
		if !(t > 0 && t <= maxMinutes*time.Minute) {
			return TestForecast{}, fmt.Errorf("film test: time %v; expected above zero, up to %d h", t, maxMinutes/60)
		}
	}
	film := Growth{Limit: 2 * target, K: PerMinute(math.Ln2 / minutes(guess))}
	out := TestForecast{AverageGradient: target, Assumed: film, Time: guess.Seconds(), Confidence: confidence, Notes: []string{}}
	rng := rand.New(rand.NewPCG(uint64(len(times)), bootstrapSeed))
	found := make([]float64, 0, simulations)
	for range simulations {
		s, ok := simulate(rng, film, times, target, e)
		if !ok {
			out.Missed += 1.0 / simulations
			continue
		}
		found = append(found, s)
	}
	slices.Sort(found)
	if len(found) > 0 {
		low, high := quantile(found, (1-confidence)/2), quantile(found, (1+confidence)/2)
		out.Low, out.High = &low, &high
	}
	if slices.Min(times) < minEvenMinutes {
		out.Notes = append(out.Notes, "under 5 min development is hard to keep even (common advice)")
	}
	return out, nil
}

// simulate makes, reads and evaluates one test; ok is false where it gives no
// time.
func simulate(rng *rand.Rand, film Growth, times []time.Duration, target float64, e Errors) (seconds float64, ok bool) {
	out := Results{}
	for _, t := range times {
		g := film.At(t) * (1 + e.Scatter*rng.NormFloat64())
		d, err := fitCurve(simulated(rng, g, e.Reading), e.Reading)
		if err == nil && d.traits.hasGradient {
			out.sheets = append(out.sheets, Sheet{t, d.traits.gradient()})
		}
	}
	g, err := FitGrowth(out.sheets, false)
	if err != nil {
		return 0, false
	}
	out.Growth = &g
	t, err := out.timeTested(target)
	return t.Seconds(), err == nil
}

// simulated is a curve of an average gradient as it would be read.
func simulated(rng *rand.Rand, gradient float64, e Density) Curve {
	slope := toeSlope(gradient)
	base := Density(float64(e) * rng.NormFloat64())
	c := Curve{Base: &base}
	for i := range steps {
		x := -1.2 + tabletStep*float64(i)
		d := toe(slope, x) + float64(e)*rng.NormFloat64()
		c.Readings = append(c.Readings, Reading{LogH(x), Density(d)})
	}
	return c
}

// toe is a straight line of a slope that leaves the base gradually.
func toe(slope, x float64) float64 { return slope * toeWidth * math.Log1p(math.Exp(x/toeWidth)) }

// toeSlope is the slope at which toe has an average gradient.
func toeSlope(gradient float64) float64 {
	low, high := chem.Bisect(gradient, 2*gradient+1, 50, func(slope float64) bool {
		m := toeWidth * math.Log(math.Expm1(speedOverBase/(slope*toeWidth)))
		return (toe(slope, m+averagedOver)-speedOverBase)/averagedOver < gradient
	})
	return (low + high) / 2
}
