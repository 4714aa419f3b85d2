package chem

import (
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"os"
	"testing"
	"time"
)

// scipy's curve_fit, another method, finds the same drifts (testdata/trial.py).
func TestTrialAgainstScipy(t *testing.T) {
	text, err := os.ReadFile("testdata/trial.json")
	if err != nil {
		t.Fatal(err)
	}
	var cases []struct {
		T, Y               []float64
		Settle, Start, Tau float64
	}
	if err := json.Unmarshal(text, &cases); err != nil || len(cases) != 20 {
		t.Fatal(len(cases), err)
	}
	for i, c := range cases {
		var readings []Point
		for j := range c.T {
			readings = append(readings, Point{time.Duration(c.T[j] * 1e9), Celsius(c.Y[j])})
		}
		got, err := FitDrift(readings)
		if err != nil {
			t.Fatalf("case %d: %v", i, err)
		}
		if off := math.Abs(got.Drift.Tau.Seconds()/c.Tau - 1); off > 1e-5 {
			t.Errorf("case %d: tau %v, scipy %v s", i, got.Drift.Tau, c.Tau)
		}
		if math.Abs(float64(got.Drift.Settle)-c.Settle) > 1e-4 || math.Abs(float64(got.Start)-c.Start) > 1e-4 {
			t.Errorf("case %d: settles %v from %v, scipy %v from %v", i, got.Drift.Settle, got.Start, c.Settle, c.Start)
		}
	}
}

// The 90 % intervals hold the truth in about nine trials of ten: 900 of 1,000,
// give or take four standard deviations of 9.5.
func TestTrialIntervalsHoldTheTruth(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 20))
	const trials = 1000
	var tau, settle, doubted int
	for range trials {
		truth := Drift{Settle: Celsius(15 + 4*rng.Float64()), Tau: time.Duration((20 + 25*rng.Float64()) * float64(time.Minute))}
		start := Celsius(24 + 4*rng.Float64())
		c := Course{Readings: []Point{{0, start}}, Drift: &truth}
		var readings []Point
		for at := time.Duration(0); at <= time.Hour; at += 4 * time.Minute {
			readings = append(readings, Point{at, c.At(at) + Celsius(0.1*rng.NormFloat64())})
		}
		got, err := FitDrift(readings)
		if err != nil {
			t.Fatal(err)
		}
		if got.Doubt != NoDoubt {
			doubted++
			continue
		}
		if s := truth.Tau.Seconds(); got.Tau.Low <= s && s <= got.Tau.High {
			tau++
		}
		if s := float64(truth.Settle); got.Settle.Low <= s && s <= got.Settle.High {
			settle++
		}
	}
	for name, n := range map[string]int{"time constant": tau, "settling temperature": settle} {
		if want := 0.9 * float64(trials-doubted); math.Abs(float64(n)-want) > 38 {
			t.Errorf("the interval of the %s held the truth in %d of %d trials; expected about %.0f", name, n, trials-doubted, want)
		}
		t.Logf("%s: %d of %d", name, n, trials-doubted)
	}
	if doubted > 40 { // two looks at one in a hundred each: 20, and four standard deviations of 4.4
		t.Errorf("%d of %d trials that follow the model are doubted; expected about 20 at most", doubted, trials)
	}
}

// Readings that do not follow the model are said to, mostly: errors that go with their neighbours (first-order
// autoregression, 0.8), and a room that warms by 3 C in the hour. The intervals that are still given held the truth
// in 0.54 and in none of such trials before.
func TestTrialsThatContradictTheModel(t *testing.T) {
	const trials = 300
	for name, c := range map[string]struct {
		rho, warms, noise float64
		least             float64 // share that must be doubted
		minutes           int
	}{
		"errors that go with their neighbours": {rho: 0.8, noise: 0.1, least: 0.5, minutes: 2},
		"a room that warms":                    {warms: 3, noise: 0.05, least: 0.5, minutes: 2},
	} {
		rng := rand.New(rand.NewPCG(7, 21))
		doubted, said := 0, map[DriftDoubt]int{}
		for range trials {
			truth := Drift{Settle: Celsius(15 + 4*rng.Float64()), Tau: time.Duration((15 + 10*rng.Float64()) * float64(time.Minute))}
			course := Course{Readings: []Point{{0, Celsius(26 + 2*rng.Float64())}}, Drift: &truth}
			var readings []Point
			e := c.noise * rng.NormFloat64()
			for at := time.Duration(0); at <= time.Hour; at += time.Duration(c.minutes) * time.Minute {
				y := float64(course.At(at)) + e + warmed(c.warms, truth.Tau.Hours(), at.Hours())
				readings = append(readings, Point{at, Celsius(y)})
				e = c.rho*e + math.Sqrt(1-c.rho*c.rho)*c.noise*rng.NormFloat64()
			}
			got, err := FitDrift(readings)
			if err != nil || got.Doubt != NoDoubt {
				doubted++
			}
			if said[got.Doubt]++; got.Doubt != NoDoubt && got.Tau != (Interval{}) {
				t.Fatalf("%s: doubted, and an interval is given: %+v", name, got)
			}
		}
		t.Logf("%s: %d of %d doubted, %v", name, doubted, trials, said)
		if float64(doubted) < c.least*trials {
			t.Errorf("%s: %d of %d doubted; expected %.0f at least", name, doubted, trials, c.least*trials)
		}
	}
}

// warmed is what a room that warms by so much an hour adds to a bath: Newton's law, T' = (rate t - T)/tau, from 0.
func warmed(rate, tau, t float64) float64 { return rate * (t - tau*(1-math.Exp(-t/tau))) }

func TestTrialRefusesWhatTellsNothing(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	var still []Point
	for i := range 12 {
		still = append(still, Point{time.Duration(i) * time.Minute, 20 + Celsius(0.1*rng.NormFloat64())})
	}
	if _, err := FitDrift(still); !errors.Is(err, ErrNoDrift) {
		t.Errorf("a bath that stands still: %v; expected ErrNoDrift", err)
	}
	if _, err := FitDrift(still[:4]); err == nil {
		t.Error("four readings were taken")
	}
	still[3].At = still[2].At
	if _, err := FitDrift(still); err == nil {
		t.Error("two readings at one moment were taken")
	}
}

// The ends of the time constant's interval: there the sum of squares, the other two values
// following, is (1 + t^2/(n - 3)) times the least. Of six readings three degrees of freedom are
// left, and t is 2.3534 (tables of Student's distribution, 5 % above it). The sums are worked
// out here by the normal equations of their own.
func TestTheIntervalEndsWhereItsSumOfSquaresDoes(t *testing.T) {
	var readings []Point
	temperatures := []float64{26.05, 23.38, 21.61, 20.22, 19.49, 18.77}
	for i, y := range temperatures {
		readings = append(readings, Point{time.Duration(10*i) * time.Minute, Celsius(y)})
	}
	got, err := FitDrift(readings)
	if err != nil {
		t.Fatal(err)
	}
	squares := func(tau float64) (rss float64) {
		var n, x, xx, y, xy float64
		for i, v := range temperatures {
			e := math.Exp(-600 * float64(i) / tau)
			n, x, xx, y, xy = n+1, x+e, xx+e*e, y+v, xy+e*v
		}
		slope := (xy - x*y/n) / (xx - x*x/n)
		for i, v := range temperatures {
			d := v - y/n - slope*(math.Exp(-600*float64(i)/tau)-x/n)
			rss += d * d
		}
		return rss
	}
	least := squares(got.Drift.Tau.Seconds())
	for _, end := range []float64{got.Tau.Low, got.Tau.High} {
		if ratio := squares(end) / least; math.Abs(ratio-(1+2.3534*2.3534/3)) > 0.01 {
			t.Errorf("at %.0f s the sum of squares is %.4f times the least; expected 2.846", end, ratio)
		}
	}
	if math.Abs(got.Residual-math.Sqrt(least/3)) > 1e-6 {
		t.Errorf("a reading is off by %.5f; expected %.5f", got.Residual, math.Sqrt(least/3))
	}
}
