package chem

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"
)

func drawnBath(r *rapid.T) WashBath {
	return WashBath{
		Volume:    Millilitres(rapid.Float64Range(200, 5000).Draw(r, "volume")),
		CarryOver: Millilitres(rapid.Float64Range(1, 90).Draw(r, "carry-over")),
		Gelatin:   Millilitres(rapid.Float64Range(0.2, 30).Draw(r, "gelatin")),
		Half:      time.Duration(rapid.IntRange(12, 400).Draw(r, "half s")) * time.Second,
	}
}

// TestShortestWash: no wash in equal changes that was tried one by one is shorter and leaves as little; the
// upper bound is never under dilution alone.
func TestShortestWash(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		b, most := drawnBath(r), rapid.IntRange(1, 8).Draw(r, "most")
		leaves := math.Pow(10, rapid.Float64Range(-4, -0.5).Draw(r, "leaves"))
		got, ok := b.Shortest(Unwashed, most, leaves)
		if ok && (got.Left > leaves || b.Total(b.Changes(Unwashed, got.Changes, got.Stand)) != got.Left || got.Changes > most) {
			t.Fatalf("%+v leaves more than %g", got, leaves)
		}
		for n := 1; n <= most; n++ {
			thinned, err := Residue(b.CarryOver, b.Volume, n)
			if err != nil || b.Total(b.Changes(Unwashed, n, time.Minute)) < thinned {
				t.Fatalf("%d changes leave less than dilution alone, %g (%v)", n, thinned, err)
			}
			for stand := time.Minute; stand <= 30*time.Minute; stand += 15 * time.Second {
				wet := time.Duration(n) * (stand + 20*time.Second)
				if b.Total(b.Changes(Unwashed, n, stand)) <= leaves && (!ok || wet < got.Wet) {
					t.Fatalf("%d changes of %v, %v in all, do as well as %+v (%v)", n, stand, wet, got, ok)
				}
			}
		}
	})
}

// TestRunningWash: the time found is where the two equations, stepped through one by one (Runge-Kutta of the
// fourth order), come down to what may be left; 15 s less is not enough.
func TestRunningWash(t *testing.T) {
	for _, b := range []WashBath{{1500, 30, 3, 208 * time.Second}, {500, 10, 2, time.Minute}, {4000, 60, 10, 35 * time.Second}} {
		for _, renewals := range []float64{0.2, 1, 3} {
			const leaves = 0.003
			got, ok := b.RunningTime(Unwashed, renewals, leaves)
			if !ok || steppedWash(b, got, renewals) > leaves*(1+1e-6) || steppedWash(b, got-15*time.Second, renewals) <= leaves {
				t.Errorf("%+v at %g a minute: %v (%v) leaves %g, 15 s less %g", b, renewals, got, ok,
					steppedWash(b, got, renewals), steppedWash(b, got-15*time.Second, renewals))
			}
		}
	}
	if d, ok := (WashBath{1500, 30, 3, time.Minute}).RunningTime(Unwashed, 0, 1e-6); ok {
		t.Errorf("standing water washes by %v", d)
	}
}

func steppedWash(b WashBath, d time.Duration, renewals float64) float64 {
	k, share := math.Ln2/b.Half.Minutes(), float64(b.Gelatin/b.Volume)
	slope := func(g, w float64) (float64, float64) { return -k * (g - w), share*k*(g-w) - renewals*w }
	g, w, h := 1.0, float64(b.CarryOver/b.Volume), 0.005
	for range int(math.Round(d.Minutes() / h)) {
		g1, w1 := slope(g, w)
		g2, w2 := slope(g+h/2*g1, w+h/2*w1)
		g3, w3 := slope(g+h/2*g2, w+h/2*w2)
		g4, w4 := slope(g+h*g3, w+h*w3)
		g, w = g+h/6*(g1+2*g2+2*g3+g4), w+h/6*(w1+2*w2+2*w3+w4)
	}
	return (float64(b.Gelatin)*g + float64(b.CarryOver)*w) / float64(b.Gelatin+b.CarryOver)
}

// Torzynski 2004: a film of 36 exposures, 0.056 m2, brings 4 ml with it, half of it in the gelatin, and a drained tank
// of 500 ml keeps 6 ml more: 8 ml beside the gelatin's 2.
func TestCarryOver(t *testing.T) {
	const inches = 0.056 / (0.0254 * 0.0254)
	if got := CarryOverOf(500, inches); math.Abs(float64(got)-8) > 1e-9 {
		t.Errorf("%g ml; expected 8", float64(got))
	}
	b, err := NewWashBath(8, 500, inches, time.Minute)
	if err != nil || math.Abs(float64(b.Gelatin)-2) > 1e-9 {
		t.Errorf("gelatin holds %g ml (%v); expected 2", float64(b.Gelatin), err)
	}
	// 10 ml of 160 g/l on 0.056 m2 are 28.57 g/m2; 0.014 of it is a fraction of 0.00049
	if got := b.FractionFor(ResidualLimit, 160, inches); math.Abs(got-0.00049) > 1e-9 {
		t.Errorf("may be left: %g; expected 0.00049", got)
	}
	if n, ok := b.FewestChanges(Left{}, time.Minute, 0.1); n != 0 || !ok {
		t.Errorf("washed film takes %d changes (%v)", n, ok)
	}
}
