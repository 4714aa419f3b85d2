package chem

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

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
			if want := grid(limit, trials, plan); math.Abs(got-want) > 0.006 {
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

func TestWetLimitAt(t *testing.T) {
	w := EstimateWetLife(18*time.Minute, []WetTrial{trial(20, 20, 60, false)})
	at := w.LimitAt(trial(0, 20, 60, false), 0.05)
	for _, d := range []time.Duration{-5 * time.Second, 5 * time.Second} {
		risk, _, _ := w.Risk(WetTrial{Wet: at + d, Temperature: 20, Handlings: 60})
		if (d < 0) != (risk <= 0.05) {
			t.Errorf("risk %.4f at %v%+v", risk, at, d)
		}
	}
}
