package curve

// Which gradient a print wants, the times for it and for more and less of it, and what
// a borrowed time does.

import (
	"cmp"
	"fmt"
	"math"
	"time"

	"example.org/wetside/chem"
)

// PrintConditions is what a negative must fit: the gradient is Paper/(Subject - Flare).
//
// Source: Stroebel et al. (from memory): 1.05/(2.2 - 0.4) = 0.583 for a
// diffusion enlarger, 0.80/1.80 = 0.444 for a condenser.
type PrintConditions struct {
	Paper   LogH // the paper's log exposure scale
	Subject LogH // the subject's log range
	Flare   LogH // what flare takes from it
}

// The usual subject: seven stops and a little, less flare (Stroebel et al.,
// from memory).
const (
	DefaultSubject LogH = 2.2
	DefaultFlare   LogH = 0.4
)

// PrintConditionsFor is what a target gradient means for the usual subject.
func PrintConditionsFor(gradient float64) PrintConditions {
	return PrintConditions{Paper: LogH(gradient) * (DefaultSubject - DefaultFlare), Subject: DefaultSubject, Flare: DefaultFlare}
}

// Gradient is the average gradient that fits the subject to the paper. It errs
// where the paper's scale or the range that is left is not above zero.
func (w PrintConditions) Gradient() (float64, error) {
	left := w.Subject - w.Flare
	if !(w.Paper > 0 && w.Paper <= 5) || !(w.Subject <= 10) || !(w.Flare >= 0) || !(left > 0) {
		return 0, fmt.Errorf("gradient wanted: paper scale %g, subject %g, flare %g; expected a scale up to 5 and a subject up to 10, both over what flare takes", float64(w.Paper), float64(w.Subject), float64(w.Flare))
	}
	return float64(w.Paper / left), nil
}

// Shifted is what a subject shorter by n stops wants (N+n, for n above zero),
// or one longer (N-n), on the same paper (common practice, no source).
func (w PrintConditions) Shifted(n int) PrintConditions {
	w.Subject -= LogH(logHPerStop * float64(n))
	return w
}

// AimDensities are the densities that fit a print: shadows at the speed point, 0.10 over base
// plus fog, and highlights as far above them as the paper's log exposure scale
// (Stroebel et al., from memory: 1.05 for a diffusion enlarger, 0.80 for a condenser).
func (w PrintConditions) AimDensities(base Density) (shadows, highlights Density) {
	shadows = base + speedOverBase
	return shadows, shadows + Density(w.Paper)
}

// Aims are the densities that fit a print on the negative chosen: the sheet whose
// developing time is nearest to the target's, or the only one there is. Fog grows with
// time, so its own base plus fog counts. False where no sheet is chosen. The result is
// the sheet, for its time and base.
func (out Results) Aims(w PrintConditions) (sheet Result, shadows, highlights Density, ok bool) {
	at := -1
	for i, c := range out.Curves {
		switch {
		case len(out.Curves) == 1:
			at = i
		case out.Target == nil || c.Time == nil:
		case at < 0 || apart(*c.Time, out.Target.Time) < apart(*out.Curves[at].Time, out.Target.Time):
			at = i
		}
	}
	if at < 0 {
		return sheet, 0, 0, false
	}
	sheet = out.Curves[at]
	shadows, highlights = w.AimDensities(sheet.BaseFog)
	return sheet, shadows, highlights, true
}

// apart is how far two times are apart, as the steps of a test are.
func apart(a, b float64) float64 { return math.Abs(math.Log(a / b)) }

// maxShift is how far developments go from N.
const maxShift = 2

// Development is the time for a subject shorter or longer than the usual one.
type Development struct {
	Name   string  `json:"name"`   // N-2 to N+2
	Wanted float64 `json:"wanted"` // average gradient
	Target *Target `json:"target"` // nil where the test does not reach it
}

// Developments gives the times of N-2, N-1, N, N+1 and N+2. It errs as
// Wanted.Gradient does, and where there is no growth curve.
func (out Results) Developments(w PrintConditions) ([]Development, error) {
	if out.Growth == nil {
		return nil, fmt.Errorf("developments: %w", out.noGrowthReason())
	}
	var all []Development
	for n := -maxShift; n <= maxShift; n++ {
		g, err := w.Shifted(n).Gradient()
		if err != nil {
			return nil, err
		}
		d := Development{Name: "N", Wanted: g}
		if n != 0 {
			d.Name = fmt.Sprintf("N%+d", n)
		}
		if t, err := out.TimeFor(g); err == nil {
			d.Target = &t
		}
		all = append(all, d)
	}
	return all, nil
}

// PublishedTime is what a time taken from elsewhere does to this film.
type PublishedTime struct {
	Time     float64 `json:"time_s"`
	Gradient float64 `json:"average_gradient"` // that it gives
	Wanted   float64 `json:"wanted"`
	Over     float64 `json:"over"`  // gradient given less gradient wanted; below zero: underdeveloped
	Stops    float64 `json:"stops"` // by how many stops shorter a subject it would suit: N+Stops
	Untested bool    `json:"untested"`
}

// AtPublishedTime says how far a borrowed time over- or underdevelops: in gradient, and
// in stops of the subject's range. Outside the times tested the growth curve is
// carried on, and Untested is true. It errs where there is no growth curve, for
// a time without development, and as Wanted.Gradient does.
func (out Results) AtPublishedTime(t time.Duration, w PrintConditions) (PublishedTime, error) {
	if out.Growth == nil {
		return PublishedTime{}, fmt.Errorf("borrowed time: %w", out.noGrowthReason())
	}
	wanted, err := w.Gradient()
	if err != nil {
		return PublishedTime{}, err
	}
	g := out.Growth.At(t)
	if !(g > 0) {
		return PublishedTime{}, fmt.Errorf("borrowed time: %v develops nothing; expected more than %.1f min", t, float64(out.Growth.Induction))
	}
	first, last := out.tested()
	suits := float64(w.Paper) / g // the log range that this gradient fits to the paper
	return PublishedTime{
		Time: t.Seconds(), Gradient: g, Wanted: wanted, Over: g - wanted,
		Stops:    LogH(float64(w.Subject-w.Flare) - suits).Stops(),
		Untested: t < first || t > last,
	}, nil
}

// noGrowthReason is why there is no growth curve.
func (out Results) noGrowthReason() error { return cmp.Or(out.growthErr, ErrTooFewSheets) }

// Target is the developing time for an average gradient, with its interval.
type Target struct {
	Kind            string   `json:"kind"` // "average": by average gradient
	AverageGradient float64  `json:"average_gradient"`
	Time            float64  `json:"time_s"`
	Low             *float64 `json:"low_s"`  // what the next session wants; nil where it has no end
	High            *float64 `json:"high_s"` // nil where it has no end
	OwnLow          *float64 `json:"own_low_s"`
	OwnHigh         *float64 `json:"own_high_s"` // the film's own time, the mean of many sessions
	Confidence      float64  `json:"confidence"`
}

// TimeFor is the developing time for an average gradient, with a 90 % interval.
// It errs without a growth curve, and with ErrOutsideTests where the time lies
// outside the times that were tested.
func (out Results) TimeFor(gradient float64) (Target, error) {
	if out.Growth == nil {
		return Target{}, fmt.Errorf("time for gradient %.3g: %w", gradient, out.noGrowthReason())
	}
	t, err := out.timeTested(gradient)
	if err != nil {
		return Target{}, err
	}
	target := Target{Kind: "average", AverageGradient: gradient, Time: t.Seconds(), Confidence: confidence}
	target.Low, target.High = out.belief.time(gradient, true)
	target.OwnLow, target.OwnHigh = out.belief.time(gradient, false)
	return target, nil
}

// timeTested is the time for a gradient within the times that were tested.
func (out Results) timeTested(gradient float64) (time.Duration, error) {
	first, last := out.tested()
	t, err := out.Growth.Time(gradient)
	switch {
	case err == nil && t >= first && t <= last:
	case out.gave(gradient) && err == nil:
		t = min(max(t, first), last)
	case out.gave(gradient):
		t = last // over the limit that was fitted, but not over what a sheet had
	case err != nil:
		return 0, err
	default:
		return 0, fmt.Errorf("gradient %.3g: %w, at about %s; expected %.3g to %.3g, as at the times tested, %s to %s",
			gradient, ErrOutsideTests, chem.FormatDuration(t.Round(5*time.Second)), out.Growth.At(first), out.Growth.At(last),
			chem.FormatDuration(first.Round(time.Second)), chem.FormatDuration(last.Round(time.Second)))
	}
	return t, nil
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
	sheets := out.Sheets()
	return sheets[0].Time, sheets[len(sheets)-1].Time
}
