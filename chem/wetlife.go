package chem

// How long an emulsion stands being wet, from sessions after which somebody looked at it. Nobody sees the
// moment at which gelatin gives way: a sound film says "later than this", a damaged one "before this". So
// the answer is a risk with an interval, and with few sessions the interval is wide.
//
// Model: ln of the time to damage is normal, its median m and spread s the film's own. Warmth and handling
// count as time: t (a^((T-20)/10)) ((1 + n/100)^b). What is believed before the first session is wide and
// is ours: at the recipe's limit one film in twenty is harmed; s 0.15 to 0.5; a 1 to 3, since gelatin
// swells more when warm; b 0 to 1. All common practice, no source. Sessions narrow it by Bayes' rule,
// worked out over a fixed set of evenly spread parameters.

import (
	"math"
	"slices"
	"time"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// WetTrial is how one film was wet.
type WetTrial struct {
	Wet         time.Duration
	Temperature Celsius
	Handlings   int  // times that a sheet was turned, lifted or moved
	Damaged     bool // of a session that was; not read of one that is planned
}

// WetLife is what is believed of one film in one vessel.
type WetLife struct {
	Trials []WetTrial
	lives  []wetLife
	weight []float64
}

// wetLife is one possible film.
type wetLife struct{ median, spread, warmth, handling float64 } // ln minutes, of ln time, ln a, b

const (
	wetDraws       = 8192
	riskAtLimit    = 0.05
	unknownWetLife = 30 * time.Minute // where no limit is given; wide (our own rule)
	priorSpread    = 0.5              // standard deviation of ln median where a limit is given
	unknownSpread  = 1.0
	wetConfidence  = 0.9
)

// EstimateWetLife is what trials say, starting from a wet limit; 0 for none known.
func EstimateWetLife(limit time.Duration, trials []WetTrial) *WetLife {
	w := &WetLife{Trials: slices.Clone(trials), lives: make([]wetLife, wetDraws), weight: make([]float64, wetDraws)}
	centre, wide := limit.Minutes(), priorSpread
	if limit <= 0 {
		centre, wide = unknownWetLife.Minutes(), unknownSpread
	}
	normal := distuv.UnitNormal
	for i := range w.lives {
		l := wetLife{
			spread:   0.15 + 0.35*RadicalInverse(i+1, 3),
			warmth:   math.Log(3) * RadicalInverse(i+1, 5),
			handling: RadicalInverse(i+1, 7),
		}
		l.median = math.Log(centre) - normal.Quantile(riskAtLimit)*l.spread + wide*normal.Quantile(RadicalInverse(i+1, 2))
		w.lives[i], w.weight[i] = l, 1
		for _, t := range trials {
			p := l.risk(t)
			if !t.Damaged {
				p = 1 - p
			}
			w.weight[i] *= p
		}
	}
	return w
}

// RadicalInverse is the i-th number of van der Corput's sequence in a base: evenly spread from 0 to 1. Several bases, all prime,
// spread points evenly in as many dimensions (J. H. Halton, Numer. Math. 2 (1960) 84-90).
func RadicalInverse(i, base int) (x float64) {
	for f := 1 / float64(base); i > 0; i, f = i/base, f/float64(base) {
		x += f * float64(i%base)
	}
	return x
}

// risk is how likely such a film is damaged by a trial.
func (l wetLife) risk(t WetTrial) float64 {
	if t.Wet <= 0 {
		return 0
	}
	x := math.Log(t.Wet.Minutes()) + l.warmth*float64(t.Temperature-20)/10 + l.handling*math.Log1p(float64(max(0, t.Handlings))/100)
	return distuv.UnitNormal.CDF((x - l.median) / l.spread)
}

// Risk is how likely a planned session damages the film, with the interval that holds nine in ten of what
// the film may be.
func (w *WetLife) Risk(plan WetTrial) (risk, low, high float64) {
	risks, weights := make([]float64, len(w.lives)), slices.Clone(w.weight)
	for i, l := range w.lives {
		risks[i] = l.risk(plan)
	}
	risk = stat.Mean(risks, weights)
	stat.SortWeighted(risks, weights)
	low = stat.Quantile((1-wetConfidence)/2, stat.Empirical, risks, weights)
	high = stat.Quantile((1+wetConfidence)/2, stat.Empirical, risks, weights)
	return risk, low, high
}

// Seen reports whether some session came through sound that was wet as long, as warm and as much handled
// as a plan, all at once.
func (w *WetLife) Seen(plan WetTrial) bool {
	return slices.ContainsFunc(w.Trials, func(t WetTrial) bool {
		return !t.Damaged && t.Wet >= plan.Wet && t.Temperature >= plan.Temperature && t.Handlings >= plan.Handlings
	})
}
