package sequence

// What a film test found, kept in the recipe that it led to: how the average
// gradient grows in the developer. It belongs to one film, developer, vessel and
// agitation; a plan that uses it with another of these says so.
//
// Source: C. E. K. Mees, "Zeitentwicklung", Jahrbuch fuer Photographie 25 (1911).

import (
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
}

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
// gradient. It errs at and beyond the limit, and below zero.
func (g *Growth) Time(gradient float64) (Elapsed, error) {
	if !(gradient > 0) {
		return 0, fmt.Errorf("gradient %.3g; expected above zero", gradient)
	}
	if gradient >= g.Limit {
		return 0, fmt.Errorf("gradient %.2f cannot be had: in this developer the film ends at %.2f", gradient, g.Limit)
	}
	minutes := g.Induction - math.Log1p(-gradient/g.Limit)/g.K
	return Elapsed(math.Round(minutes * float64(time.Minute))), nil
}

// Slope is by how much the average gradient rises for each whole share of development
// more, at a developing time: t dG/dt.
func (g *Growth) Slope(t Elapsed) float64 {
	if t.Minutes() <= g.Induction {
		return 0
	}
	return t.Minutes() * g.Limit * g.K * math.Exp(-g.K*(t.Minutes()-g.Induction))
}
