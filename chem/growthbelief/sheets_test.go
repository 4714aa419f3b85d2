package growthbelief

// How many sheets it takes to know a film's time, against tests of four sheets that are each evaluated alone.

import (
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"
	"time"

	"example.org/wetside/chem/curve"
)

// known is within what the time is known, and enoughFilms of how many films.
const (
	known       = 0.05
	enoughFilms = 0.9
)

// strategy spends sheets on a film, and tells after each session how many and which time it has found; 0 for none.
type strategy func(f otherFilm, guess float64, sessions int) (sheets []int, times []float64)

// standAlone repeats a film test of four, each evaluated for itself by the growth curve of least squares within its
// tested times; what is known is the mean of the times found, and the next test goes round it.
func standAlone(f otherFilm, guess float64, sessions int) (sheets []int, times []float64) {
	found := []float64{}
	for n := 1; n <= sessions; n++ {
		series, err := curve.TestTimes(minutes(guess), 4)
		if err != nil {
			panic(err)
		}
		if t := evaluatedAlone(f.test(minutesOf(series)), series); t > 0 {
			found = append(found, math.Log(t))
			sum := 0.0
			for _, x := range found {
				sum += x
			}
			guess = math.Exp(sum / float64(len(found)))
		}
		sheets, times = append(sheets, 4*n), append(times, 0)
		if len(found) > 0 {
			times[n-1] = guess
		}
	}
	return sheets, times
}

// evaluatedAlone is the time that one test finds; 0 for none.
func evaluatedAlone(t Test, series []time.Duration) float64 {
	var list []curve.Sheet
	most := 0.0
	for _, r := range t.Readings {
		list, most = append(list, curve.Sheet{Time: r.Time, Gradient: r.Gradient}), math.Max(most, r.Gradient)
	}
	growth, err := curve.FitGrowth(list, false)
	if err != nil {
		return 0
	}
	found, err := growth.Time(aim)
	last := series[len(series)-1]
	switch {
	case err != nil && most >= aim:
		found = last
	case err != nil:
		return 0
	}
	if least := t.Readings[0].Gradient; found < series[0] && least > aim || found > last && most < aim {
		return 0 // outside what was tested
	}
	return min(max(found, series[0]), last).Minutes()
}

func minutesOf(list []time.Duration) (m []float64) {
	for _, t := range list {
		m = append(m, t.Minutes())
	}
	return m
}

// together weighs all sheets in one belief, with the guess as a borrowed time; n a session, at the times proposed or
// as the usual series.
func together(n int, proposed bool) strategy {
	return func(f otherFilm, guess float64, sessions int) (sheets []int, times []float64) {
		e := Evidence{Borrowed: []Borrowed{{minutes(guess), 20, aim, math.Log1p(0.35)}}}
		b := Believe(Weak, e)
		for k := 1; k <= sessions; k++ {
			var series []float64
			if proposed {
				for _, g := range b.NextSheets([]float64{aim, 0.53, 0.74}, 20, n, nil).Best {
					series = append(series, g.Time.Minutes())
				}
			} else {
				usual, err := curve.TestTimes(minutes(math.Min(b.TimeOfFilm(aim, 20).Middle, 30)), n)
				if err != nil {
					panic(err)
				}
				series = minutesOf(usual)
			}
			e.Tests = append(e.Tests, f.test(series))
			b = Believe(Weak, e)
			sheets, times = append(sheets, n*k), append(times, math.Min(b.TimeOfFilm(aim, 20).Middle, 60))
		}
		return sheets, times
	}
}

func TestSheetsToKnowTheTime(t *testing.T) {
	films := 12
	if os.Getenv("WETSIDE_FULL") != "" {
		films = 300
	}
	for _, s := range []struct {
		name     string
		sessions int
		strategy
	}{{"tests of 4, each alone", 10, standAlone}, {"2 proposed a session, together", 8, together(2, true)}, {"tests of 4, together", 6, together(4, false)},
		{"4 proposed a session, together", 5, together(4, true)}, {"1 proposed a session, together", 12, together(1, true)}} {
		right := make([]float64, s.sessions)
		var sheets []int
		errs := make([][]float64, s.sessions)
		for i := range films {
			r := rand.New(rand.NewPCG(20261130, uint64(i)))
			f := newOtherFilm(r)
			guess := f.timeFor(aim) * math.Exp(0.25*r.NormFloat64())
			var times []float64
			sheets, times = s.strategy(f, guess, s.sessions)
			for k, m := range times {
				off := 9.
				if m > 0 {
					off = math.Abs(math.Log(m / f.timeFor(aim)))
				}
				errs[k] = append(errs[k], off)
				if off <= math.Log1p(known) {
					right[k] += 1 / float64(films)
				}
			}
		}
		for k := range right {
			slices.Sort(errs[k])
			t.Logf("%-32s %2d sheets: within 5%% %.3f, nine of ten within %.1f%%", s.name, sheets[k], right[k], 100*math.Expm1(errs[k][int(0.9*float64(films))]))
		}
	}
}
