package chem

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// grid integrates the same belief over a plain grid of its four parameters: a second account that shares
// nothing with the first but the model.
func grid(limit time.Duration, trials []WetTrial, plan WetTrial) float64 {
	normal := distuv.UnitNormal
	p := func(t WetTrial, m, s, a, b float64) float64 {
		minutes := t.Wet.Minutes() * math.Pow(a, float64(t.Temperature-20)/10) * math.Pow(1+float64(t.Handlings)/100, b)
		return normal.CDF((math.Log(minutes) - m) / s)
	}
	var sum, all float64
	for z := -3.95; z < 4; z += 0.1 {
		for s := 0.15 + 0.0175; s < 0.5; s += 0.035 {
			for i := 0.5; i < 10; i++ {
				a := math.Exp(math.Log(3) * i / 10)
				for b := 0.05; b < 1; b += 0.1 {
					m := math.Log(limit.Minutes()) + 1.6448536*s + 0.5*z
					w := normal.Prob(z)
					for _, t := range trials {
						if q := p(t, m, s, a, b); t.Damaged {
							w *= q
						} else {
							w *= 1 - q
						}
					}
					sum, all = sum+w*p(plan, m, s, a, b), all+w
				}
			}
		}
	}
	return sum / all
}

func trial(minutes float64, t Celsius, handlings int, damaged bool) WetTrial {
	return WetTrial{time.Duration(minutes * float64(time.Minute)), t, handlings, damaged}
}

func TestWetLifeIsTheGrids(t *testing.T) {
	limit := 18 * time.Minute
	for _, trials := range [][]WetTrial{
		nil,
		{trial(17, 20, 60, false), trial(18.5, 22, 60, false)},
		{trial(17, 20, 60, false), trial(24, 24, 120, true), trial(15, 24, 126, false)},
		{trial(22, 20, 60, true), trial(12, 20, 60, true)},
	} {
		w := EstimateWetLife(limit, trials)
		for _, plan := range []WetTrial{trial(15, 20, 60, false), trial(17.7, 24, 126, false), trial(30, 20, 0, false)} {
			got, low, high := w.Risk(plan)
			if want := grid(limit, trials, plan); !(math.Abs(got-want) <= 0.006) {
				t.Errorf("%d trials, %v: risk %.4f; by a grid %.4f", len(trials), plan, got, want)
			}
			if !(low <= got && got <= high) && high-low > 1e-6 {
				t.Errorf("%d trials, %v: risk %.3f outside %.3f to %.3f", len(trials), plan, got, low, high)
			}
		}
	}
}

// TestWetLifeLearns: what a session can say, and no more.
func TestWetLifeLearns(t *testing.T) {
	plan := trial(18, 20, 60, false)
	before, _, _ := EstimateWetLife(18*time.Minute, nil).Risk(plan)
	sound := EstimateWetLife(18*time.Minute, []WetTrial{trial(20, 20, 60, false), trial(20, 20, 60, false)})
	after, _, _ := sound.Risk(plan)
	harmed, _, _ := EstimateWetLife(18*time.Minute, []WetTrial{trial(16, 20, 60, true)}).Risk(plan)
	if !(after < before && before < harmed) {
		t.Errorf("risk %.3f, after two sound sessions %.3f, after a damaged one %.3f", before, after, harmed)
	}
	if !sound.Seen(plan) || sound.Seen(trial(18, 24, 60, false)) || sound.Seen(trial(18, 20, 90, false)) || sound.Seen(trial(21, 20, 10, false)) {
		t.Error("a combination that no session had counts as seen, or one that it had does not")
	}
	warm := EstimateWetLife(18*time.Minute, []WetTrial{trial(25, 18, 10, false), trial(12, 26, 10, false)})
	cold, _, _ := warm.Risk(trial(25, 18, 10, false))
	both, _, high := warm.Risk(trial(25, 26, 10, false))
	if both < cold+0.05 || high < 0.3 {
		t.Errorf("25 min from one session and 26 °C from another: risk %.3f, up to %.3f; alone %.3f", both, high, cold)
	}
}

// TestWetLifeHolds: films whose life follows another law (Weibull, warmth by a power of the temperature in
// °C); nine of ten intervals hold the film's true risk at the recipe's own conditions.
func TestWetLifeHolds(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	const films = 150 // 2,000 with this seed, by hand: 0.917
	held := 0
	for range films {
		limit := 18 * time.Minute
		scale := limit.Minutes() * math.Exp(0.35+0.4*r.NormFloat64())
		shape := 3 + 4*r.Float64()
		power := 0.2 + r.Float64()
		harm := func(w WetTrial) float64 {
			x := w.Wet.Minutes() * math.Pow(float64(w.Temperature)/20, power) * math.Pow(1+float64(w.Handlings)/100, 0.4) / math.Pow(1.6, 0.4)
			return 1 - math.Exp(-math.Pow(x/scale, shape))
		}
		var trials []WetTrial
		for range 6 {
			w := trial(limit.Minutes()*(0.7+0.6*r.Float64()), Celsius(18+8*r.Float64()), 40+r.IntN(80), false)
			w.Damaged = r.Float64() < harm(w)
			trials = append(trials, w)
		}
		plan := trial(17, 21, 70, false)
		if _, low, high := EstimateWetLife(limit, trials).Risk(plan); low <= harm(plan) && harm(plan) <= high {
			held++
		}
	}
	// Three standard deviations of a binomial about 0.9 with 150 draws are 0.073.
	if share := float64(held) / films; share < 0.83 || share > 0.975 {
		t.Errorf("%.3f of the intervals hold the true risk", share)
	} else {
		t.Logf("%.3f", share)
	}
}

// Where no limit is known, thirty minutes are where one film in twenty is harmed, and the belief is twice as wide: one
// standard deviation of ln(time) instead of a half. The ends of the risk's interval are the twentieths of the same grid.
func TestWetLifeWithoutALimit(t *testing.T) {
	normal := distuv.UnitNormal
	for _, c := range []struct {
		limit time.Duration
		known float64
		wide  float64
	}{{0, 30, 1}, {18 * time.Minute, 18, 0.5}} {
		for _, plan := range []WetTrial{trial(30, 20, 0, false), trial(12, 26, 100, false), trial(60, 20, 50, false)} {
			var risks, weights []float64
			for z := -3.95; z < 4; z += 0.1 {
				for s := 0.15 + 0.0175; s < 0.5; s += 0.035 {
					for i := 0.5; i < 10; i++ {
						for b := 0.05; b < 1; b += 0.1 {
							ln := math.Log(plan.Wet.Minutes()) + math.Log(3)*i/10*float64(plan.Temperature-20)/10 + b*math.Log(1+float64(plan.Handlings)/100)
							risks = append(risks, normal.CDF((ln-math.Log(c.known)-1.6448536*s-c.wide*z)/s))
							weights = append(weights, normal.Prob(z))
						}
					}
				}
			}
			want := stat.Mean(risks, weights)
			stat.SortWeighted(risks, weights)
			got, low, high := EstimateWetLife(c.limit, nil).Risk(plan)
			if !(math.Abs(got-want) <= 0.005) {
				t.Errorf("limit %v, %v: risk %.4f; by a grid %.4f", c.limit, plan, got, want)
			}
			for _, end := range []struct{ got, at float64 }{{low, 0.05}, {high, 0.95}} {
				if want := stat.Quantile(end.at, stat.Empirical, risks, weights); !(math.Abs(end.got-want) <= 0.02) {
					t.Errorf("limit %v, %v: %.4f; by a grid %.4f", c.limit, plan, end.got, want)
				}
			}
		}
	}
}

// Van der Corput by hand: in base 2 1/2, 1/4, 3/4, 1/8; in base 3 1/3, 2/3, 1/9, 4/9.
func TestRadicalInverse(t *testing.T) {
	for base, want := range map[int][]float64{2: {0.5, 0.25, 0.75, 0.125}, 3: {1.0 / 3, 2.0 / 3, 1.0 / 9, 4.0 / 9}} {
		for i, w := range want {
			if got := RadicalInverse(i+1, base); !(math.Abs(got-w) <= 1e-15) {
				t.Errorf("%d in base %d: %g; expected %g", i+1, base, got, w)
			}
		}
	}
}

// No wet time at all is no risk.
func TestNotWetIsNoRisk(t *testing.T) {
	w := EstimateWetLife(18*time.Minute, nil)
	if risk, _, high := w.Risk(trial(0, 20, 0, false)); risk != 0 || high != 0 {
		t.Errorf("not wet: %g, up to %g", risk, high)
	}
}

// The first two films of the belief by hand: van der Corput's sequences have 1/2, 1/4 in base 2, 1/3, 2/3 in base 3, and so on; the
// normal quantile of 1/4 is -0.67449, of a twentieth -1.64485 (printed tables).
func TestTheFirstFilmsOfTheBelief(t *testing.T) {
	for limit, c := range map[time.Duration]struct{ centre, wide float64 }{0: {30, 1}, 18 * time.Minute: {18, 0.5}, 1: {time.Duration(1).Minutes(), 0.5}} {
		w := EstimateWetLife(limit, []WetTrial{trial(0, 20, 0, false)})
		for i, z := range []float64{0, -0.67449} {
			l, n := w.lives[i], float64(i+1)
			want := wetLife{spread: 0.15 + 0.35*n/3, warmth: math.Log(3) * n / 5, handling: n / 7}
			want.median = math.Log(c.centre) + 1.64485*want.spread + c.wide*z
			if !(math.Abs(l.spread-want.spread) <= 1e-12) || !(math.Abs(l.warmth-want.warmth) <= 1e-12) || !(math.Abs(l.handling-want.handling) <= 1e-12) || !(math.Abs(l.median-want.median) <= 1e-4) {
				t.Errorf("limit %v: film %d is %+v; expected %+v", limit, i, l, want)
			}
		}
	}
	// one film: median 20 min, spread 0.3, twice as fast ten degrees warmer, a root of two faster at a hundred handlings
	l := wetLife{median: math.Log(20), spread: 0.3, warmth: math.Ln2, handling: 0.5}
	for _, c := range []struct {
		trial WetTrial
		want  float64
	}{{trial(20, 20, 0, false), 0.5}, {trial(10, 30, 0, false), 0.5}, {trial(40, 10, 0, false), 0.5}, {trial(20/math.Sqrt2, 20, 100, false), 0.5},
		{trial(20/math.Sqrt(3), 20, 200, false), 0.5}, {trial(20*math.Exp(0.3), 20, 0, false), 0.841345}, {trial(20, 20, -50, false), 0.5}, {trial(0, 20, 0, false), 0}} {
		if got := l.risk(c.trial); !(math.Abs(got-c.want) <= 1e-6) {
			t.Errorf("%+v: %.6f; expected %.6f", c.trial, got, c.want)
		}
	}
}
