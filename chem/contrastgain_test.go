package chem

import (
	"math"
	"testing"
	"time"
)

// Slopes by hand. Kron's law, a = 0.2, at u = 2 (100 times t0): 1 + 0.2 x 2/sqrt(5) = 1.1789. An exponent of 0.86: 1/0.86 =
// 1.1628 from one second up, 1 below, and half of each over a range with one second in its middle. A table from 1 s:1 s to
// 10 s:20 s: log 20 = 1.301.
func TestContrastGain(t *testing.T) {
	table, err := NewExposureTable([][2]time.Duration{{time.Second, time.Second}, {10 * time.Second, 20 * time.Second}})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		law      Reciprocity
		metered  time.Duration
		logRange float64
		want     float64
	}{
		{KronLaw{A: 0.2, T0: time.Second}, 100 * time.Second, 0.01, 1.1789},
		{Exponent(0.86), 100 * time.Second, 1.8, 1.1628},
		{Exponent(0.86), time.Second, 2, 1.0814},
		{Exponent(0.86), 10 * time.Millisecond, 1.8, 1},
		{table, 3 * time.Second, 0.5, 1.3010},
		{nil, time.Minute, 1.8, 1},
	} {
		got, err := ContrastGain(c.law, c.metered, c.logRange)
		if err != nil || math.Abs(got-c.want) > 1e-4 {
			t.Errorf("%v, %v over %g: %.4f, %v; expected %.4f", c.law, c.metered, c.logRange, got, err, c.want)
		}
	}
	if _, err := ContrastGain(table, time.Second, 0); err == nil {
		t.Error("no range, no error")
	}
	// 10 s become 14.548 s (Schwarzschild), and back
	back, err := MeteredFor(Exponent(0.86), 14548*time.Millisecond)
	if err != nil || math.Abs(back.Seconds()-10) > 0.001 {
		t.Errorf("14.548 s back: %v, %v", back, err)
	}
	if same, err := MeteredFor(table, time.Second/2); err != nil || math.Abs(same.Seconds()-0.5) > 1e-6 {
		t.Errorf("half a second back: %v, %v", same, err)
	}
}
