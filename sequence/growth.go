package sequence

// What a film test found, kept in the recipe that it led to: how the average
// gradient grows in the developer. It belongs to one film, developer, vessel and
// agitation; a plan that uses it with another of these says so.
//
// Source: C. E. K. Mees, "Zeitentwicklung", Jahrbuch fuer Photographie 25 (1911).

import (
	"errors"
	"fmt"
	"math"
	"time"
)

// Growth is the average gradient as a function of developing time at the step's
// reference temperature: Limit (1 - exp(-K (t - Induction))), times in minutes.
type Growth struct {
	Limit     float64 `json:"gamma_infinity"`
	K         float64 `json:"k_per_min"`
	Induction float64 `json:"induction_min,omitzero"`

	Film      string    `json:"film"`               // name of the film tested
	Developer string    `json:"developer,omitzero"` // as MixtureOf tells it, or a bath's id; "" where not known
	Vessel    Vessel    `json:"vessel"`
	Agitate   Agitation `json:"agitate"`
	From      string    `json:"from,omitzero"` // where it was read: session, readings, day

	Tested []TestedTime `json:"tested,omitzero"` // the times it was fitted to, not falling; it says nothing beyond them
}

// TestedTime is a developing time of a film test and the average gradient that it gave.
type TestedTime struct {
	Time     Elapsed `json:"time_s"`
	Gradient float64 `json:"average_gradient"`
}

// ErrUntested: a gradient or a time that no film test has reached.
var ErrUntested = errors.New("outside tested times")

// asPrinted is half of the last digit of a gradient as it is shown and typed.
const asPrinted = 0.005

// Origin is where the developing times of a recipe were found, the session and the
// readings of a film test; "" where they were not.
func (r *Recipe) Origin() string {
	for i := range r.Steps {
		if g := r.Steps[i].Growth; g != nil && g.From != "" {
			return g.From
		}
	}
	return ""
}

// At is the average gradient after a developing time at the reference temperature;
// 0 up to the induction.
func (g *Growth) At(t Elapsed) float64 {
	return max(0, g.Limit*-math.Expm1(-g.K*(t.Minutes()-g.Induction)))
}

// Time is the developing time at the reference temperature that gives an average
// gradient. It errs at and beyond the limit, below zero, and with ErrUntested outside
// the tested times. A gradient that a tested time gave lies inside, wherever the fitted
// curve passes it: the nearest tested time is its time.
func (g *Growth) Time(gradient float64) (Elapsed, error) {
	if !(gradient > 0) {
		return 0, fmt.Errorf("gradient %.3g; expected above zero", gradient)
	}
	if len(g.Tested) == 0 {
		return 0, fmt.Errorf("gradient %.2f: %w: the recipe's growth does not say which they were; expected tested = [[\"5m\", 0.44], [\"12m\", 0.66]] in it", gradient, ErrUntested)
	}
	first, last := g.Tested[0].Time, g.Tested[len(g.Tested)-1].Time
	t := Never
	if gradient < g.Limit {
		minutes := g.Induction - math.Log1p(-gradient/g.Limit)/g.K
		t = Elapsed(math.Round(minutes * float64(time.Minute)))
	}
	switch {
	case t >= first && t <= last:
		return t, nil
	case g.gave(gradient):
		return min(max(t, first), last), nil
	case t == Never:
		return 0, fmt.Errorf("gradient %.2f cannot be had: in this developer the film ends at %.2f", gradient, g.Limit)
	}
	return 0, fmt.Errorf("gradient %.2f: %w (%s to %s), at about %s", gradient, ErrUntested, FormatElapsed(first), FormatElapsed(last), FormatElapsed(t.Round(5*time.Second)))
}

// gave reports whether tested times gave a gradient, or some less and some more.
func (g *Growth) gave(gradient float64) bool {
	least, most := math.Inf(1), math.Inf(-1)
	for _, t := range g.Tested {
		least, most = min(least, t.Gradient), max(most, t.Gradient)
	}
	return gradient >= least-asPrinted && gradient <= most+asPrinted
}

// asHanded is by how much a tested time may move when it is rounded to what a hand keeps.
const asHanded = 5 * time.Second

// Covers reports whether a developing time lies inside those that were tested, as a hand
// keeps time.
func (g *Growth) Covers(t Elapsed) bool {
	n := len(g.Tested)
	return n > 0 && t > g.Tested[0].Time-asHanded && t < g.Tested[n-1].Time+asHanded
}

// Slope is by how much the average gradient rises for each whole share of development
// more, at a developing time: t dG/dt.
func (g *Growth) Slope(t Elapsed) float64 {
	if t.Minutes() <= g.Induction {
		return 0
	}
	return t.Minutes() * g.Limit * g.K * math.Exp(-g.K*(t.Minutes()-g.Induction))
}
