package chem

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"
)

// A tray of a litre that loses its warmth to 17 °C with a time constant of 45 min, and hands that give it 2 W, by steps
// of heat: a second account, m c dT = (2 W - (m c/tau)(T - 17)) dt with 4186 J/(kg K). Two readings and the time constant
// find it settle 2 x 2700/4186 = 1.29 K higher, where all five fitted readings do too.
func TestHandsAreInTheDrift(t *testing.T) {
	const tau, capacity = 2700.0, 4186.0
	bath, all := 20.0, []Point{}
	for ms := range 1_200_001 {
		if ms%240_000 == 0 {
			all = append(all, Point{time.Duration(ms) * time.Millisecond, Celsius(bath)})
		}
		bath += (2/capacity - (bath-17)/tau) / 1000
	}
	want := 17 + 2*tau/capacity
	two, err := FitSettle([]Point{all[0], all[len(all)-1]}, tau*time.Second)
	if err != nil || math.Abs(float64(two.Drift.Settle)-want) > 1e-5 || two.Confidence != 0 {
		t.Errorf("%+v, %v; expected it to settle at %.4f °C", two, err, want)
	}
	// by hand: Ts = (T2 - T1 e)/(1 - e), so errors of both add to sqrt(1 + e^2)/(1 - e) times one
	if e := math.Exp(-1200 / tau); math.Abs(two.PerError-math.Sqrt(1+e*e)/(1-e)) > 1e-9 {
		t.Errorf("off by %g times an error; expected %g", two.PerError, math.Sqrt(1+e*e)/(1-e))
	}
	fitted, err := FitDrift(all)
	if err != nil || math.Abs(float64(fitted.Drift.Settle)-want) > 1e-2 || math.Abs(fitted.Drift.Tau.Seconds()-tau) > 10 {
		t.Errorf("%+v, %v; expected %.4f °C, 45 min", fitted, err, want)
	}
}

// The 90% interval of where it settles holds in nine trials of ten: 1,800 of 2,000, give or take four deviations of 13.4.
func TestSettleIntervalsHold(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 20))
	held := 0
	for range 2000 {
		c := Course{Readings: []Point{{0, 24}}, Drift: &Drift{Settle: 18, Tau: 40 * time.Minute}}
		var readings []Point
		for at := time.Duration(0); at <= 24*time.Minute; at += 6 * time.Minute {
			readings = append(readings, Point{at, c.At(at) + Celsius(0.1*rng.NormFloat64())})
		}
		f, err := FitSettle(readings, 40*time.Minute)
		if err != nil {
			t.Fatal(err)
		}
		if f.Settle.Low <= 18 && 18 <= f.Settle.High {
			held++
		}
	}
	if held < 1800-54 || held > 1800+54 {
		t.Errorf("%d of 2,000 hold", held)
	}
}

func TestSettleRefuses(t *testing.T) {
	for _, list := range [][]Point{{{0, 20}}, {{0, 20}, {0, 21}}, {{0, 20}, {time.Minute, Celsius(math.NaN())}}} {
		if f, err := FitSettle(list, time.Hour); err == nil {
			t.Errorf("%v: %+v", list, f)
		}
	}
	if f, err := FitSettle([]Point{{0, 20}, {time.Minute, 19}}, 0); err == nil {
		t.Errorf("no time constant: %+v", f)
	}
}
