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
	var tau, settle int
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
		if s := truth.Tau.Seconds(); got.Tau.Low <= s && s <= got.Tau.High {
			tau++
		}
		if s := float64(truth.Settle); got.Settle.Low <= s && s <= got.Settle.High {
			settle++
		}
	}
	for name, n := range map[string]int{"time constant": tau, "settling temperature": settle} {
		if n < 862 || n > 938 {
			t.Errorf("the interval of the %s held the truth in %d of %d trials; expected about 900", name, n, trials)
		}
		t.Logf("%s: %d of %d", name, n, trials)
	}
}

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
