package curve

// From a family of curves to results: what each curve says by itself, the
// growth that they show together, and the time for a wanted gradient. The
// JSON is that of `wetside curve --json`.

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
)

// Request is what to compute, and how.
type Request struct {
	Smooth      Density      // an error E to smooth by; 0: the reading error
	Exact       bool         // draw the curves through every reading, and smooth nothing
	Absolute    bool         // the person vouches for lux seconds
	SpeedAnchor *SpeedAnchor // what relative exposures are worth; nil: not known
	Induction   bool         // fit a time of induction too
	Target      float64      // average gradient wanted; 0: none
	Errors      Errors       // what the intervals carry
	Intervals   bool         // also of each curve's values, and of the growth
	Rounds      int          // of the bootstrap; 0: 300
	Seed        uint64       // of the bootstrap
}

// Result is what one curve says. Nil stands where the readings end too early.
type Result struct {
	Time            *float64 `json:"time_s"`
	BaseFog         Density  `json:"base_fog"`
	SpeedPoint      *LogH    `json:"speed_point_log_h"` // 0.10 over base plus fog
	DensityRise     *Density `json:"density_rise"`      // over 1.30 log H from there
	AverageGradient *float64 `json:"average_gradient"`
	ContrastIndex   *float64 `json:"contrast_index"`
	Gamma           *float64 `json:"gamma"`
	DensityRange    Density  `json:"density_range"` // greatest reading over base plus fog
	ISOValid        bool     `json:"iso_valid"`     // rise of 0.75 to 0.85
	ISOSpeed        *float64 `json:"iso_speed"`
	ExposureIndex   *float64 `json:"exposure_index"`

	Intervals *Intervals `json:"intervals"`

	index     float64 // the exposure index before it was rounded; 0 for none
	gammaBias float64 // that was taken off gamma

	// Curve is the drawn curve, for charts.
	Curve *Interpolant `json:"-"`
}

// Results is what a family says.
type Results struct {
	Curves []Result `json:"curves"`
	Growth *Growth  `json:"growth"`
	Target *Target  `json:"target"`

	// GrowthIntervals is nil where Growth is.
	GrowthIntervals *GrowthIntervals `json:"growth_intervals"`

	Suspects []Suspect `json:"suspects"` // readings that do not fit their neighbours

	Notes []string `json:"notes"` // what was taken for granted, a sentence each

	// Errors is what the intervals went by.
	Errors Scatters `json:"errors"`

	sheets    []Sheet
	measured  []measuredSheet
	growthErr error  // why there is no growth
	belief    belief // what the sheets allow
}

// SpeedReading is the curve at its speed point; false where it has none.
func (r Result) SpeedReading() (Reading, bool) {
	if r.SpeedPoint == nil || r.Curve == nil {
		return Reading{}, false
	}
	d, ok := r.Curve.At(*r.SpeedPoint)
	return Reading{LogH: *r.SpeedPoint, Density: d}, ok
}

// Evaluate computes the results. A curve that cannot be drawn is an error; so
// is a target without a time, beside whole results without it. Where there is
// no growth, Growth is nil, and a note says why.
func Evaluate(f Family, r Request) (Results, error) {
	out := Results{Curves: []Result{}, Suspects: []Suspect{}, Notes: append([]string{}, f.Notes...)}
	stated := cmp.Or(r.Errors.Reading, r.Smooth)
	if err := r.complete(f); err != nil {
		return out, err
	}
	out.Errors = Scatters{Reading: r.Errors.Reading, Stated: stated > 0, Sheets: r.Errors.Scatter, Pictures: pictureErrorOf(f.Curves), SessionsStated: r.Errors.Sessions != nil}
	if !out.Errors.SessionsStated {
		out.Errors.Own = r.Errors.Own
	}
	out.noteScale(f, r)
	var measured []measuredSheet
	for i, c := range f.Curves {
		d, err := fitCurve(c, r.smoothing(len(c.Readings)))
		if err != nil {
			return out, fmt.Errorf("%s: %s: %w", printable(f.Name), f.Label(i), err)
		}
		one := d.result(c)
		one.speeds(f.Scale, r.Absolute, r.SpeedAnchor)
		reading := d.measure(&one, r)
		out.Curves = append(out.Curves, one)
		out.suspect(c, f.Label(i), stated)
		out.Notes = append(out.Notes, d.notes(f.Label(i))...)
		if c.Time > 0 && one.AverageGradient != nil {
			out.sheets = append(out.sheets, Sheet{c.Time, *one.AverageGradient})
			measured = append(measured, measuredSheet{minutes(c.Time), *one.AverageGradient, reading, f.sessionOf(i)})
		}
	}
	out.measured = slices.Clone(measured)
	out.grow(measured, r)
	if r.Target == 0 {
		return out, nil
	}
	target, err := out.TimeFor(r.Target)
	if err == nil {
		out.Target = &target
	}
	return out, err
}

// noteScale says where exposures make no index.
func (out *Results) noteScale(f Family, r Request) {
	if f.Scale == Unstated && !r.Absolute && r.SpeedAnchor == nil {
		out.Notes = append(out.Notes, "no exposure index, since these exposures are not known to be lux seconds (--absolute says that they are)")
	}
	if r.Absolute && f.Scale == Relative {
		out.Notes = append(out.Notes, "exposures are said to be absolute, and nothing places them (--log-h0 does): no exposure index follows")
	}
}

// sessionOf numbers the session of curve i: the first curve of the same.
func (f Family) sessionOf(i int) int {
	return slices.IndexFunc(f.Curves, func(c Curve) bool { return c.Session == f.Curves[i].Session })
}

// measure completes the result of a curve by its bootstrap: what errors raise is taken off,
// and the intervals where they are asked for. The result is what readings leave of the gradient.
func (d *fitResult) measure(one *Result, r Request) (reading float64) {
	b := d.bootstrap(r.Errors.Reading, r.Rounds, r.Seed)
	seen := b.run(r.Errors.Reading, 0, false)
	if d.smoother != nil && r.Errors.Reading >= exactReadings {
		one.gammaBias = b.bias(b.truth.gamma, seen.gamma)
		one.Gamma = less(one.Gamma, one.gammaBias)
	}
	if r.Intervals {
		one.Intervals = b.intervals(*one, b.run(r.Errors.Reading, cmp.Or(r.Errors.Scatter, usualScatter), true))
	}
	return b.deviation(seen, r.Errors.Reading)
}

func less(v *float64, by float64) *float64 {
	if v == nil {
		return nil
	}
	return new(*v - by)
}

// suspect names a curve's readings that do not fit their neighbours.
func (out *Results) suspect(c Curve, label string, e Density) {
	for _, s := range c.suspects(e) {
		out.Suspects = append(out.Suspects, s)
		out.Notes = append(out.Notes, fmt.Sprintf("%s, step %d does not fit its neighbours: read it again, or leave it empty", label, s.Step))
	}
}

// complete puts in what was left at its default, and errs for values out of
// range.
func (r *Request) complete(f Family) error {
	switch {
	case !(r.Smooth >= 0 && r.Smooth <= maxReadingError):
		return fmt.Errorf("smoothing: reading error %g; expected above 0, up to %g", float64(r.Smooth), maxReadingError)
	case r.Rounds < 0 || r.Rounds > maxRounds:
		return fmt.Errorf("bootstrap: %d rounds; expected 1 to %d", r.Rounds, maxRounds)
	case r.SpeedAnchor != nil && !(r.SpeedAnchor.Speed > 0):
		return fmt.Errorf("box speed: %g; expected above zero", r.SpeedAnchor.Speed)
	}
	if r.Smooth > 0 {
		for i, c := range f.Curves {
			if n := len(c.Readings); !smoothable(n) {
				return fmt.Errorf("%s: %s: smoothing: %d readings; expected %d to %d", printable(f.Name), f.Label(i), n, minSmoothed, maxSmoothed)
			}
		}
	}
	r.Rounds = cmp.Or(r.Rounds, defaultRounds)
	r.Errors.Reading = cmp.Or(r.Errors.Reading, r.Smooth)
	if err := r.Errors.check(); err != nil || r.Errors.Reading > 0 {
		return err
	}
	scatter, ok := readingErrorOf(f.Curves)
	switch pictures := pictureErrorOf(f.Curves); {
	case ok:
		r.Errors.Reading = max(scatter, pictures)
	case pictures > 0:
		r.Errors.Reading = pictures
	default:
		r.Errors.Reading, r.Exact = defaultReadingError, true
	}
	return nil
}

// smoothing is the error that so many readings are smoothed by; 0: not at all.
func (r Request) smoothing(readings int) Density {
	e := cmp.Or(r.Smooth, r.Errors.Reading)
	if r.Exact || !smoothable(readings) || r.Smooth == 0 && e < exactReadings {
		return 0
	}
	return e
}

// grow fits the growth, and weighs all that the sheets allow.
func (out *Results) grow(measured []measuredSheet, r Request) {
	g, err := FitGrowth(out.sheets, r.Induction)
	if err != nil {
		out.growthErr = err
		if !errors.Is(err, ErrTooFewSheets) {
			out.Notes = append(out.Notes, err.Error())
		}
		return
	}
	out.Growth = &g
	fitted, widened := out.explained(measured, g, r)
	scatters := r.Errors.sheets()
	if widened > 1 {
		scatters[0].value *= widened
		for i := range measured {
			measured[i].reading *= widened
		}
		out.Notes = append(out.Notes, fmt.Sprintf("the sheets scatter %.1f times as much as stated; intervals are that much wider", widened))
	}
	sessions := map[int]bool{}
	for _, m := range measured {
		sessions[m.session] = true
	}
	out.belief = believe(measured, fitted, priorFor(measured, r.Induction), scatters, r.Errors.sessionsOf(len(sessions)))
	out.Errors.Sheets = out.belief.mean(func(c growthBelief) float64 { return c.scatter })
	out.Errors.Sessions, out.Errors.Tests = out.belief.mean(func(c growthBelief) float64 { return c.sessions }), len(sessions)
	if r.Intervals {
		out.GrowthIntervals = out.belief.intervals()
	}
	out.noteInduction(r)
}

// How likely a time of induction must be to be told, or to be advised (our own rules).
const (
	inductionPossible = 0.2
	inductionLikely   = 0.8
)

// noteInduction says where a time of induction may be there and was not fitted.
func (out *Results) noteInduction(r Request) {
	if r.Induction {
		return
	}
	chance := out.belief.mean(func(c growthBelief) float64 {
		if c.t0 > 0 {
			return 1
		}
		return 0
	})
	switch {
	case chance > inductionLikely:
		out.Notes = append(out.Notes, "development seems to set in only after some time, which was not fitted: --induction fits it, with three developing times or more")
	case chance > inductionPossible:
		out.Notes = append(out.Notes, "a time before development sets in was not fitted (--induction); this test does not rule out up to 3 min of it, and the intervals of limit and rate allow for them")
	}
}
