package curve

// How the average gradient grows with developing time:
// G(t) = limit (1 - exp(-k (t - t0))), fitted by least squares.
//
// Sources: C. E. K. Mees, "Zeitentwicklung", Jahrbuch fuer Photographie 25
// (1911), for t0 = 0; the form for t and 2 t is derived from it (S. E. Sheppard
// and C. E. K. Mees 1907, from memory). t0 is the time of induction, before
// which nothing shows.

import (
	"errors"
	"fmt"
	"math"
	"time"
)

// Why there is no growth curve, or no time.
var (
	// ErrTooFewSheets: not enough different developing times with a gradient.
	ErrTooFewSheets = errors.New("growth: too few developing times with an average gradient")
	// ErrNoLimit: the gradients rise in proportion to time, or faster.
	ErrNoLimit = errors.New("growth: no limit is in sight, the gradients rise in proportion to time or faster; expected a longer developing time among them")
	// ErrNoRise: the gradients do not rise with time.
	ErrNoRise = errors.New("growth: the gradients do not rise with developing time; expected shorter times among them, or sheets in their right order")
	// ErrOutsideTests: a gradient that was not reached in the test.
	ErrOutsideTests = errors.New("beyond the test")
)

// Minutes is a length of time in minutes.
type Minutes float64

func minutes(d time.Duration) float64 { return d.Minutes() }

func fromMinutes(m float64) time.Duration {
	return time.Duration(math.Round(m * float64(time.Minute)))
}

// PerMinute is a rate: the inverse of a time.
type PerMinute float64

// Sheet is one sheet's developing time and average gradient.
type Sheet struct {
	Time     time.Duration
	Gradient float64
}

// Growth is the gradient as a function of developing time.
type Growth struct {
	Limit     float64   `json:"gamma_infinity"`
	K         PerMinute `json:"k_per_min"`
	Induction Minutes   `json:"induction_min"`
	RSS       float64   `json:"rss"` // sum of squared residuals of the fit
}

// At is the gradient after a developing time; zero up to the induction.
func (g Growth) At(t time.Duration) float64 {
	return max(0, g.Limit*-math.Expm1(-float64(g.K)*(minutes(t)-float64(g.Induction))))
}

// Time is the developing time for a gradient: the inverse of At. It errs with
// ErrOutsideTests at and over the limit and for a gradient not above zero. Whether
// the time lies within what was tested is for Results.TimeFor to say.
func (g Growth) Time(gradient float64) (time.Duration, error) {
	if !(gradient > 0 && gradient < g.Limit) {
		return 0, fmt.Errorf("gradient %.3g: %w; expected above zero and below the limit of growth, %.3g", gradient, ErrOutsideTests, g.Limit)
	}
	m := float64(g.Induction) - math.Log1p(-gradient/g.Limit)/float64(g.K)
	if !(m < maxMinutes) {
		return 0, fmt.Errorf("gradient %.3g: %w; it takes over %d h", gradient, ErrOutsideTests, maxMinutes/60)
	}
	return fromMinutes(m), nil
}

// maxMinutes is the longest developing time of a recipe, 24 h.
const maxMinutes = 24 * 60

// FitGrowth fits the growth curve by least squares, all sheets weighing the
// same. With induction, t0 is fitted too, not below zero. It errs with ErrTooFewSheets
// for less than two different times (three with induction), and with
// ErrNoLimit or ErrNoRise where the sheets do not bend as growth does.
func FitGrowth(sheets []Sheet, induction bool) (Growth, error) {
	least := 2
	if induction {
		least = 3
	}
	times := map[time.Duration]bool{}
	for _, s := range sheets {
		if !(s.Time > 0 && s.Time <= maxMinutes*time.Minute) || math.IsNaN(s.Gradient) || math.IsInf(s.Gradient, 0) {
			return Growth{}, fmt.Errorf("growth: time %v, gradient %g; expected a time above zero, up to %d h", s.Time, s.Gradient, maxMinutes/60)
		}
		times[s.Time] = true
	}
	if len(times) < least {
		return Growth{}, fmt.Errorf("%w: %d; expected at least %d", ErrTooFewSheets, len(times), least)
	}
	f := newGrowthFitter(sheets)
	g, shape := f.fit(induction)
	switch shape {
	case linear:
		return Growth{}, ErrNoLimit
	case constant:
		return Growth{}, ErrNoRise
	}
	return g, nil
}
