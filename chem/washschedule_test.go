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
	if got := CarryOverOf(500, inches); !(math.Abs(float64(got)-8) <= 1e-9) {
		t.Errorf("%g ml; expected 8", float64(got))
	}
	b, err := NewWashBath(8, 500, inches, time.Minute)
	if err != nil || !(math.Abs(float64(b.Gelatin)-2) <= 1e-9) {
		t.Errorf("gelatin holds %g ml (%v); expected 2", float64(b.Gelatin), err)
	}
	// 10 ml of 160 g/l on 0.056 m2 are 28.57 g/m2; 0.014 of it is a fraction of 0.00049
	if got := b.FractionFor(ResidualLimit, 160, inches); !(math.Abs(got-0.00049) <= 1e-9) {
		t.Errorf("may be left: %g; expected 0.00049", got)
	}
	if n, ok := b.FewestChanges(Left{}, time.Minute, 0.1); n != 0 || !ok {
		t.Errorf("washed film takes %d changes (%v)", n, ok)
	}
}

// What a wash in equal changes comes to by hand: four changes in ten minutes stand for 150 - 20 s each and take 4 x 1.5 l.
// A limit of its own in running water: the last of 960 quarter minutes.
func TestWashSchedulesByHand(t *testing.T) {
	b := WashBath{1500, 30, 3, time.Minute}
	got := b.ScheduleOf(Unwashed, 4, 10*time.Minute)
	if got.Stand != 130*time.Second || got.Wet != 10*time.Minute || got.Water != 6000 || got.Changes != 4 || got.Left != b.Total(b.Changes(Unwashed, 4, 130*time.Second)) {
		t.Errorf("%+v", got)
	}
	if got := b.ScheduleOf(Unwashed, 4, time.Minute); got.Stand != 0 || got.Wet != 80*time.Second {
		t.Errorf("no time to stand: %+v", got)
	}
	// gelatin alone, in water that is new all the time, halves with each half time: 2^-8 in four hours of a half hour each
	slow := WashBath{Volume: 1e6, CarryOver: 1e-9, Gelatin: 1, Half: 30 * time.Minute}
	if d, ok := slow.RunningTime(Unwashed, 1e3, math.Exp2(-7.99)); !ok || d < 239*time.Minute {
		t.Errorf("%v, %v; expected just under four hours", d, ok)
	}
	if _, ok := slow.RunningTime(Unwashed, 1e3, math.Exp2(-8.05)); ok {
		t.Error("over four hours")
	}
	// each change of three half times leaves an eighth of gelatin that is alone: ten leave 2^-30
	if n, ok := (WashBath{1e9, 1e-9, 1, time.Minute}).FewestChanges(Unwashed, 3*time.Minute, 1.001*math.Exp2(-30)); n != 10 || !ok {
		t.Errorf("%d changes, %v; expected 10", n, ok)
	}
	if b.FractionFor(1e6, 160, 100) != 1 || !math.IsNaN(b.FractionFor(1, 0, 100)) {
		t.Error("more may be left than there is, or of no fixer")
	}
	for at, want := range map[Celsius][2]float64{24: {1, 1}, FromFahrenheit(50): {3, 3}} {
		fast, slow, _ := GelatinHalfTime(at, true)
		// five minutes after an aid: 8.67 halvings, 0.577 min each; that is quicker than half in a minute
		halvings := math.Log2(160 * 2 / (1.6 * 0.035) / 1000 / 0.014)
		if !(math.Abs(fast.Minutes()-want[0]*5/halvings) <= 1e-9) || fast != slow {
			t.Errorf("%v: %v, %v", at, fast, slow)
		}
	}
	// where the area is not known, a fifth of what is carried over is in the gelatin (2 of 10 ml, Torzynski 2004)
	if b, err := NewWashBath(10, 500, 0, time.Minute); err != nil || !(math.Abs(float64(b.Gelatin)-2) <= 1e-12) {
		t.Errorf("%g ml, %v", float64(b.Gelatin), err)
	}
}

// The aims that their sources print, a strong rapid fixer, and bounds of washing: a residue of so many changes takes so many, but for
// rounding; something is published from 50 F on; half a square inch is an area.
func TestWashingsFigures(t *testing.T) {
	for i, limit := range []float64{0.1, 0.03, 0.014} { // ANSI/NAPM IT9.1 from memory; 36 CFR 1238.14(c)
		if WashAims[i].Limit != limit {
			t.Errorf("%+v; expected %g g/m2", WashAims[i], limit)
		}
	}
	if FixerStrength != 160 { // from memory
		t.Errorf("a fixer of %g g/l", FixerStrength)
	}
	for residue, want := range map[float64]int{1 - 1e-12: 1, math.Pow(0.02, 3+5e-10): 3, math.Pow(0.02, 3+5e-7): 4} {
		if n, err := Changes(10, 500, residue); err != nil || n != want {
			t.Errorf("residue %v: %d, %v; expected %d", residue, n, err, want)
		}
	}
	for f, want := range map[float64]bool{50 - 5e-10: true, 50 - 2e-9: false} {
		if _, known := ColdWashFactor(FromFahrenheit(f)); known != want {
			t.Errorf("%v F: known %v", f, known)
		}
	}
	if ways, _ := WashMethods(24, 1); len(ways) != 4 {
		t.Errorf("one change is no way of washing: %+v", ways)
	}
	if b, err := NewWashBath(10, 500, 0.5, time.Minute); err != nil || !(math.Abs(float64(b.Gelatin)-2/(1.6*0.035)*0.5*0.0254*0.0254) <= 1e-12) {
		t.Errorf("%+v, %v", b, err)
	}
}

// A change stands for half an hour at most: gelatin alone, whose half time is ten minutes, needs 29.5 for 2^-2.95. What may stay as it
// is takes one change all the same.
func TestTheLongestStand(t *testing.T) {
	b := WashBath{1e9, 1e-9, 1, 10 * time.Minute}
	if got, ok := b.Shortest(Unwashed, 1, math.Exp2(-2.949)); !ok || got.Stand != 29*time.Minute+30*time.Second {
		t.Errorf("%+v, %v", got, ok)
	}
	if got, ok := b.Shortest(Unwashed, 1, math.Exp2(-3.05)); ok {
		t.Errorf("%+v", got)
	}
	if got, ok := b.Shortest(Unwashed, 3, 1); !ok || got.Changes != 1 || got.Stand != time.Minute {
		t.Errorf("%+v, %v", got, ok)
	}
}
