package curve

// From a family of curves to results: what each curve says by itself, the
// growth that they show together, and the time for a wanted gradient. The
// JSON is that of `wetside curve --json`.

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"time"

	"example.org/wetside/chem"
)

// Request is what to compute, and how.
type Request struct {
	Smooth      Density      // reading error E to smooth by; 0: through every reading
	Absolute    bool         // the person vouches for lux seconds
	SpeedAnchor *SpeedAnchor // what relative exposures are worth; nil: not known
	Induction   bool         // fit a time of induction too
	Target      float64      // average gradient wanted; 0: none
	Errors      Errors       // what the intervals carry
	Intervals   bool         // also of each curve's values, and of the growth
	Rounds      int          // of the bootstrap; 0: 1000
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

	index float64 // the exposure index before it was rounded; 0 for none

	// Curve is the drawn curve, for charts.
	Curve *Interpolant `json:"-"`
}

// Target is the developing time for an average gradient, with its interval.
type Target struct {
	AverageGradient float64  `json:"average_gradient"`
	Time            float64  `json:"time_s"`
	Low             *float64 `json:"low_s"`  // nil where it has no end
	High            *float64 `json:"high_s"` // nil where it has no end
	Confidence      float64  `json:"confidence"`
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

	sheets    []Sheet
	growthErr error    // why there is no growth
	refits    []Growth // of the bootstrap
}

// Evaluate computes the results. A curve that cannot be drawn is an error; so
// is a target without a time, beside whole results without it. Where there is
// no growth, Growth is nil, and a note says why.
func Evaluate(f Family, r Request) (Results, error) {
	out := Results{Curves: []Result{}, Suspects: []Suspect{}, Notes: append([]string{}, f.Notes...)}
	stated := cmp.Or(r.Errors.Reading, r.Smooth)
	if err := r.complete(); err != nil {
		return out, err
	}
	if f.Scale == Unstated && !r.Absolute && r.SpeedAnchor == nil {
		out.Notes = append(out.Notes, "nothing says that these exposures are lux seconds (--absolute does): no exposure index follows")
	}
	if r.Absolute && f.Scale == Relative {
		out.Notes = append(out.Notes, "exposures are said to be absolute, and nothing places them (--log-h0 does): no exposure index follows")
	}
	var drawn []*fitResult
	for i, c := range f.Curves {
		d, err := fitCurve(c, r.Smooth)
		if err != nil {
			return out, fmt.Errorf("%s: %s: %w", printable(f.Name), f.Label(i), err)
		}
		one := d.result(c)
		one.speeds(f.Scale, r.Absolute, r.SpeedAnchor)
		if r.Intervals {
			one.Intervals = d.intervals(one, r)
		}
		out.Curves = append(out.Curves, one)
		out.suspect(c, f.Label(i), stated)
		out.Notes = append(out.Notes, d.notes(f.Label(i))...)
		if c.Time > 0 && one.AverageGradient != nil {
			drawn = append(drawn, d)
			out.sheets = append(out.sheets, Sheet{c.Time, *one.AverageGradient})
		}
	}
	out.grow(drawn, r)
	if r.Target == 0 {
		return out, nil
	}
	target, err := out.TimeFor(r.Target)
	if err == nil {
		out.Target = &target
	}
	return out, err
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
func (r *Request) complete() error {
	switch {
	case !(r.Smooth >= 0 && r.Smooth <= maxReadingError):
		return fmt.Errorf("smoothing: reading error %g; expected above 0, up to %g", float64(r.Smooth), maxReadingError)
	case r.Rounds < 0 || r.Rounds > maxRounds:
		return fmt.Errorf("bootstrap: %d rounds; expected 1 to %d", r.Rounds, maxRounds)
	case r.SpeedAnchor != nil && !(r.SpeedAnchor.Speed > 0):
		return fmt.Errorf("box speed: %g; expected above zero", r.SpeedAnchor.Speed)
	}
	if r.Rounds == 0 {
		r.Rounds = defaultRounds
	}
	return r.Errors.complete(r.Smooth)
}

// grow fits the growth and its refits.
func (out *Results) grow(drawn []*fitResult, r Request) {
	g, err := FitGrowth(out.sheets, r.Induction)
	if err != nil {
		out.growthErr = err
		if !errors.Is(err, ErrTooFewSheets) {
			out.Notes = append(out.Notes, err.Error())
		}
		return
	}
	out.Growth = &g
	b := bootstrap{sheets: out.sheets, drawn: drawn, request: r, growth: g}
	out.refits = b.run()
	if r.Intervals {
		out.GrowthIntervals = growthIntervals(out.refits)
	}
	if b.widened > 1 {
		out.Notes = append(out.Notes, fmt.Sprintf("the sheets scatter %.1f times as much as stated; intervals are that much wider", b.widened))
	}
}

// TimeFor is the developing time for an average gradient, with a 90 % interval.
// It errs without a growth curve, and with ErrOutsideTests where the time lies
// outside the times that were tested.
func (out Results) TimeFor(gradient float64) (Target, error) {
	if out.Growth == nil {
		return Target{}, fmt.Errorf("time for gradient %.3g: %w", gradient, out.noGrowthReason())
	}
	first, last := out.tested()
	t, err := out.Growth.Time(gradient)
	switch {
	case err == nil && t >= first && t <= last:
	case out.gave(gradient) && err == nil:
		t = min(max(t, first), last)
	case out.gave(gradient):
		t = last // over the limit that was fitted, but not over what a sheet had
	case err != nil:
		return Target{}, err
	default:
		return Target{}, fmt.Errorf("gradient %.3g: %w, at about %s; expected %.3g to %.3g, as at the times tested, %s to %s",
			gradient, ErrOutsideTests, chem.FormatDuration(t.Round(5*time.Second)), out.Growth.At(first), out.Growth.At(last),
			chem.FormatDuration(first.Round(time.Second)), chem.FormatDuration(last.Round(time.Second)))
	}
	target := Target{AverageGradient: gradient, Time: t.Seconds(), Confidence: confidence}
	target.Low, target.High = interval(out.refits, gradient)
	return target, nil
}

// asPrinted is half of the last digit of a gradient as it is shown and typed.
const asPrinted = 0.005

// gave reports whether a tested time gave a gradient, or some gave less and some more:
// whatever the fitted curve says of it, nothing is extrapolated.
func (out Results) gave(gradient float64) bool {
	least, most := math.Inf(1), math.Inf(-1)
	for _, s := range out.sheets {
		least, most = min(least, s.Gradient), max(most, s.Gradient)
	}
	return gradient >= least-asPrinted && gradient <= most+asPrinted
}

// tested is the shortest and the longest developing time with a gradient.
func (out Results) tested() (first, last time.Duration) {
	for i, s := range out.sheets {
		if i == 0 {
			first = s.Time
		}
		first, last = min(first, s.Time), max(last, s.Time)
	}
	return first, last
}
