package curvecmd

// Results of curves as text for people.

import (
	"cmp"
	"fmt"
	"strings"

	"example.org/wetside/chem"
	"example.org/wetside/chem/curve"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/page"
	"example.org/wetside/tui/widget"
)

// printCurves writes the results for people.
func printCurves(p *app.Env, e curveFlags, f curve.Family, r curve.Results, w *curve.PrintConditions, met *aimMet) {
	const rows = 16
	printTarget(p, r)
	printAim(p, met)
	printDevelopments(p, r, w)
	printPublishedTime(p, e, r, w)
	if r.Target != nil || met != nil {
		fmt.Fprintln(p.Out)
	}
	fmt.Fprint(p.Out, app.CleanPage(page.CurveText(r, min(p.Width(), 80), rows)))
	fmt.Fprintf(p.Out, "\n%-8s %6s %9s %6s %9s %6s %6s %8s\n", "time", "b+f", "speed pt", "ΔD", "avg grad", "CI", "gamma", "EI")
	for i, c := range r.Curves {
		fmt.Fprintf(p.Out, "%-8s %6.2f %9s %6s %9s %6s %6s %8s\n", safetext.Clean(f.Label(i)), float64(c.BaseFog),
			numberOrDash(c.SpeedPoint, 2), numberOrDash(c.DensityRise, 2), numberOrDash(c.AverageGradient, 2), numberOrDash(c.ContrastIndex, 2), numberOrDash(c.Gamma, 2),
			numberOrDash(cmp.Or(c.ISOSpeed, c.ExposureIndex), 0))
	}
	if g := r.Growth; g != nil {
		fmt.Fprintf(p.Out, "\ngrowth: gradient = %.3f (1 - exp(-%.4f (t - %.2f min)))\n", g.Limit, float64(g.K), float64(g.Induction))
	}
	printIntervals(p, f, r, w)
	for _, note := range r.Notes {
		fmt.Fprintf(p.Out, "note: %s\n", safetext.Clean(note))
	}
	fmt.Fprintln(p.Out, "note: a home test gives a speed by ISO arithmetic, never an ISO speed")
}

// printIntervals says how sure each curve is, and what a print asks of it.
func printIntervals(p *app.Env, f curve.Family, r curve.Results, w *curve.PrintConditions) {
	fmt.Fprintf(p.Out, "\nnine times of ten, for %s:\n", errorsText(r.Errors))
	for i, c := range r.Curves {
		if in := c.Intervals; in != nil {
			fmt.Fprintf(p.Out, "%-8s speed pt %s, avg grad %s, CI %s, gamma %s\n", safetext.Clean(f.Label(i)),
				rangeText(in.SpeedPoint), rangeText(in.AverageGradient), rangeText(in.ContrastIndex), rangeText(in.Gamma))
		}
	}
	if in := r.GrowthIntervals; in != nil {
		fmt.Fprintf(p.Out, "growth   limit %s, rate %.3f to %.3f a minute\n", rangeText(&in.Limit), in.K.Low, in.K.High)
	}
	if w == nil {
		return
	}
	if sheet, shadows, highlights, ok := r.Aims(*w); ok {
		fmt.Fprintf(p.Out, "aims for the print: shadows at %.2f, highlights at %.2f (base plus fog %.2f%s)\n",
			float64(shadows), float64(highlights), float64(sheet.BaseFog), ofSheet(sheet))
	}
}

func rangeText(in *curve.Interval) string {
	if in == nil {
		return "-"
	}
	return fmt.Sprintf("%.2f to %.2f", in.Low, in.High)
}

// errorsText says what the intervals carry.
func errorsText(e curve.Scatters) string {
	how := "as the readings scatter"
	if e.Stated {
		how = "as stated"
	}
	if e.Pictures > 0 {
		how += fmt.Sprintf("; their pictures state %.3f", float64(e.Pictures))
	}
	s := fmt.Sprintf("a reading error of %.3f (%s)", float64(e.Reading), how)
	if e.Tests == 0 {
		return s + " and the usual scatter from sheet to sheet"
	}
	return s + fmt.Sprintf(" and %.1f%% from sheet to sheet", 100*e.Sheets)
}

// printTarget is the time found: what the next session wants, and the film's own.
func printTarget(p *app.Env, r curve.Results) {
	t := r.Target
	if t == nil {
		return
	}
	fmt.Fprintf(p.Out, "Develop %s for an average gradient of %.2f: %s in the next session (%.0f%%).\n",
		sequence.FormatElapsed(app.FromSeconds(t.Time)), t.AverageGradient, between(t.Low, t.High), 100*t.Confidence)
	doubt := fmt.Sprintf("The film's own time is %s (%.0f%%); on top of that sessions differ by %.1f%% of developing time (%s).",
		between(t.OwnLow, t.OwnHigh), 100*t.Confidence, 100*r.Errors.Sessions, sessionsText(r.Errors))
	fmt.Fprintln(p.Out, strings.Join(widget.Wrap(doubt, p.Width()), "\n"))
}

// sessionsText is where the scatter from session to session is from.
func sessionsText(e curve.Scatters) (from string) {
	switch {
	case e.SessionsStated:
		return "as stated"
	case e.Own != nil:
		from = fmt.Sprintf("from %d of your sessions, %.1f to %.1f%%", e.Own.Sessions, 100*e.Own.Low, 100*e.Own.High)
	default:
		from = "common practice, until enough of your own sessions were read"
	}
	if e.Tests > 1 {
		from += fmt.Sprintf("; corrected by the %d here", e.Tests)
	}
	return from
}

// printDevelopments is the table of N-2 to N+2, ready for a recipe's times.
func printDevelopments(p *app.Env, r curve.Results, w *curve.PrintConditions) {
	if w == nil {
		return
	}
	list, err := r.Developments(*w)
	if err != nil {
		return
	}
	for _, d := range list {
		if d.Target == nil {
			fmt.Fprintf(p.Out, "%4s  gradient %.2f: outside tested times\n", d.Name, d.Wanted)
			continue
		}
		fmt.Fprintf(p.Out, "%4s  gradient %.2f: %s%s\n", d.Name, d.Wanted, sequence.FormatElapsed(app.FromSeconds(d.Target.Time)),
			timeRangeText(d.Target.Low, d.Target.High, d.Target.Confidence))
	}
}

// printPublishedTime says what a time from elsewhere would do.
func printPublishedTime(p *app.Env, e curveFlags, r curve.Results, w *curve.PrintConditions) {
	if e.publishedTime == "" || w == nil {
		return
	}
	d, _ := chem.ParseDuration(e.publishedTime) // sensible has read it
	b, err := r.AtPublishedTime(d, *w)
	if err != nil {
		p.Complain("--published-time: %v", err)
		return
	}
	what := "overdevelops"
	if b.Over < 0 {
		what = "underdevelops"
	}
	untested := ""
	if b.Untested {
		untested = "; outside tested times, by the growth curve alone"
	}
	fmt.Fprintf(p.Out, "%s would give %.2f where %.2f is wanted: it %s by %.2f, as for a subject %+.1f stops shorter%s\n",
		sequence.FormatElapsed(d), b.Gradient, b.Wanted, what, max(b.Over, -b.Over), b.Stops, untested)
}

func numberOrDash[T ~float64](x *T, digits int) string {
	if x == nil {
		return "-"
	}
	return fmt.Sprintf("%.*f", digits, float64(*x))
}

// between is an interval of times, in seconds.
func between(low, high *float64) string {
	at := func(s *float64) string { return sequence.FormatElapsed(app.FromSeconds(*s)) }
	switch {
	case low != nil && high != nil:
		return at(low) + "–" + at(high)
	case low != nil:
		return "from " + at(low) + " on"
	case high != nil:
		return "up to " + at(high)
	}
	return "any time"
}

func timeRangeText(low, high *float64, confidence float64) string {
	if low == nil || high == nil {
		return ", with no bound on one side"
	}
	return fmt.Sprintf(" (%s, %.0f%%)", between(low, high), 100*confidence)
}
