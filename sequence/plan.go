package sequence

// The plan: a recipe under today's conditions, with fixed times and cues. It is
// frozen into the first record of a session, so everything that running needs
// is in it; nothing is looked up in the recipe's file again.

import (
	"cmp"
	"math"
	"slices"

	"example.org/wetside/chem"
)

// Plan is a recipe resolved under conditions.
type Plan struct {
	Recipe     Recipe       `json:"recipe"`
	Conditions Conditions   `json:"conditions"`
	Vessel     Vessel       `json:"vessel"` // of the load
	Sheets     int          `json:"sheets"`
	Limits     WetLimit     `json:"limits,omitzero"` // the film's, as the conditions change them
	Steps      []PlanStep   `json:"steps"`
	Passages   []Passage    `json:"passages"` // by step, then sheet
	Cues       []Cue        `json:"cues"`
	Wet        Wet          `json:"wet"`
	Cautions   []Caution    `json:"cautions"`
	Shorten    []Shortening `json:"shorten"`
}

// PlanStep is one step with its times fixed.
type PlanStep struct {
	Step                            // as the recipe has it
	Vessel            Vessel        `json:"in_vessel"` // that it is carried out in
	Stack             bool          `json:"stack,omitzero"`
	Start             Elapsed       `json:"start_s"`                // first sheet in
	FirstOut          Elapsed       `json:"moves_s"`                // first sheet out
	End               Elapsed       `json:"end_s"`                  // last sheet out
	Given             Elapsed       `json:"given_s"`                // what each sheet is given at least; developing: exactly
	Base              Elapsed       `json:"base_s"`                 // the recipe's time, before temperature and factor
	Dose              Elapsed       `json:"dose_s"`                 // to be reached, as time at the reference temperature
	Doses             []Elapsed     `json:"doses_s,omitzero"`       // take-out: one a sheet
	Temperature       *chem.Celsius `json:"temperature_c,omitzero"` // at its start; nil where unknown
	TimeByTemperature *Temperature  `json:"works,omitzero"`         // how temperature changes the time; nil for not at all
	Reused            *ReusedBath   `json:"reused,omitzero"`        // its bath was used before and works slower: Dose and Doses allow for it; nil for none
}

// ReusedBath is a developer that was used before, as its bottle's history tells.
type ReusedBath struct {
	Bottle string  `json:"bottle"`
	Sheets float64 `json:"sheets"` // of 20 square inches, that no replenisher was added for
	Factor float64 `json:"factor"` // how many times as long as in a fresh bath
}

// Fresh is a time in the step's bath as time in a fresh one, to a thousandth of a second.
func (st *PlanStep) Fresh(d Elapsed) Elapsed {
	if st.Reused == nil {
		return d
	}
	const grain = 1e6 // ns
	return Elapsed(math.Round(float64(d)/st.Reused.Factor/grain)) * grain
}

// Passage is one sheet's stay in one step. Out is Never while it lasts.
type Passage struct {
	Step  int     `json:"step"`  // index into the plan's steps
	Sheet int     `json:"sheet"` // 1..n
	In    Elapsed `json:"in_s"`
	Out   Elapsed `json:"out_s"`
}

// PassageOf is a sheet's stay in step i; false where it has none.
func (p *Plan) PassageOf(i, sheet int) (Passage, bool) {
	k := slices.IndexFunc(p.Passages, func(y Passage) bool { return y.Step == i && y.Sheet == sheet })
	if k < 0 {
		return Passage{}, false
	}
	return p.Passages[k], true
}

// Wet is the wet time of the worst sheet that is not set aside, forecast.
type Wet struct {
	Total     Elapsed  `json:"total_s"`      // the longest among the sheets
	Limit     *Elapsed `json:"limit_s"`      // of the load's vessel; nil where none is known
	Used      *float64 `json:"used"`         // shares of the vessels' limits, added
	Margin    *Elapsed `json:"margin_s"`     // (1 - used) x limit
	WarningAt *Elapsed `json:"warning_at_s"` // nil where never reached within the plan
	LimitAt   *Elapsed `json:"limit_at_s"`   // when its limit is used up, also beyond the plan's end; nil where none is known
	Session   Elapsed  `json:"session_s"`    // first sheet in to last sheet out of all sheets
}

// PercentUsed is a share of the wet limit in whole per cent, rounded to the careful side: what
// is over the limit never reads 100. What adding shares up is off by is no per cent more.
func PercentUsed(share float64) int { return int(max(0, math.Ceil(100*share-grain))) }

// PercentDeveloped is a share of its development in whole per cent, rounded to the nearest.
func PercentDeveloped(share float64) int { return int(math.Floor(100*share + 0.5 + grain)) }

// PercentOff is by how much a share may be off in whole per cent, rounded to the careful side.
func PercentOff(share float64) int { return int(math.Ceil(100*share - grain)) }

// grain is what adding shares up may be off by, in per cent.
const grain = 1e-9

// Course is the developer's temperature through the session as planned.
// Readings taken while running are added to it.
func (p *Plan) Course(st *PlanStep) chem.Course {
	c := p.Conditions
	t, before := chem.Celsius(0), Elapsed(0)
	if st.TimeByTemperature != nil {
		t = st.TimeByTemperature.At
	}
	if c.BathTemperature != nil {
		t, before = *c.BathTemperature+c.Thermometers.Of(ByHand).Shift, c.ReadBefore
	}
	course := chem.Course{Readings: []chem.Point{{At: -before, T: t}}}
	if c.SettlesAt != nil {
		course.Drift = &chem.Drift{Settle: *c.SettlesAt, Tau: c.TimeConstant}
	}
	return course
}

// Rate is how fast the step's bath works.
func (st *PlanStep) Rate() (chem.Rate, error) {
	w := st.TimeByTemperature
	switch {
	case w == nil:
		return chem.ConstantRate{}, nil
	case len(w.Table) > 0:
		return chem.NewPairs(w.At, w.Table)
	default:
		return chem.Coefficient{Reference: w.At, K: w.Coefficient}, nil
	}
}

// AssumesCoefficient reports whether a step's time today rests on a temperature coefficient that the recipe
// does not state.
func (st *PlanStep) AssumesCoefficient() bool {
	t := st.Step.Temperature
	return st.TimeByTemperature != nil && t != nil && t.Coefficient == 0 && len(t.Table) == 0 && st.Given != st.Dose
}

// Pulls is each sheet's own time in step i of a film test today: after temperature,
// drift and factor. nil for other steps.
func (p *Plan) Pulls(i int) []Elapsed {
	if !p.Steps[i].IsFilmTest() {
		return nil
	}
	times := make([]Elapsed, p.Sheets)
	for _, y := range p.Passages {
		if y.Step == i {
			times[y.Sheet-1] = y.Out - y.In
		}
	}
	return times
}

// Next names the step after the one named; "the dry" after the last.
func (p *Plan) Next(step string) string {
	return cmp.Or(p.StepName(p.StepIndex(step)+1), "the dry")
}
