package main

// wetside curve: from readings of step-tablet negatives to curves, speed,
// gradients, growth, and the time for a wanted gradient.

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"os"
	"time"

	"github.com/spf13/cobra"

	"example.org/wetside/chem"
	"example.org/wetside/chem/curve"
	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/page"
)

// evaluation is the flags as typed.
type evaluation struct {
	target, smooth, step, logH0     float64
	paper, subject, flare           float64
	boxSpeed, metered               float64
	induction, absolute, asJSON     bool
	channel, tablet, time, borrowed string
	svg, png                        string
	session, recipe, write          string
	exposed                         string // how the tablet was metered
	assumed                         float64
	reading, scatter                float64
}

func (p *program) curve() *cobra.Command {
	var e evaluation
	cmd := &cobra.Command{
		Use:   "curve FILE...",
		Short: "curves, speed, gradients and the right time from densities",
		Long: "Reads densities of step-tablet negatives (CSV, or CGATS text), one file or several\n" +
			"of one film, and gives base plus fog, speed point, average gradient, contrast\n" +
			"index, gamma, the growth of the gradient with time, and the time for a target.\n" +
			"A home test is a speed by ISO arithmetic, never an ISO speed.",
		Example: "  wetside curve densities.csv --target 0.58\n" +
			"  wetside curve densities.csv --target 0.58 --session 2026-11-25T1912-plover --write found.toml\n" +
			"  wetside curve five.cgats seven.cgats --channel blue --svg family.svg",
		Args: words(cobra.MinimumNArgs(1)),
		RunE: func(cmd *cobra.Command, files []string) error { return p.evaluate(cmd, e, files) },
	}
	f := cmd.Flags()
	f.Float64Var(&e.target, "target", 0, "the average gradient wanted, `G`")
	f.Float64Var(&e.paper, "paper", 0, "or: the paper's log exposure scale")
	f.Float64Var(&e.subject, "subject", float64(curve.UsualSubject), "with --paper: the subject's log range")
	f.Float64Var(&e.flare, "flare", float64(curve.UsualFlare), "with --paper: what flare takes from it")
	f.BoolVar(&e.induction, "induction", false, "fit a time of induction too")
	f.StringVar(&e.channel, "channel", "", "of CGATS text: vis, blue, green or red")
	f.StringVar(&e.tablet, "tablet", "", "a `FILE` with the step tablet's densities")
	f.Float64Var(&e.step, "step", 0, "log H from sample to sample where there is no tablet (0.15)")
	f.Float64Var(&e.logH0, "log-h0", 0, "log10 of the lux seconds behind density 0 of the tablet")
	f.StringVar(&e.time, "time", "", "developing time of CGATS text, `D`")
	f.Float64Var(&e.smooth, "smooth", 0, "smooth by a reading error of `E`; without it the curve goes through every reading")
	f.Float64Var(&e.reading, "reading-error", 0, "what one reading may be off, `E` (0.02; slips: as the readings scatter)")
	f.Float64Var(&e.scatter, "sheet-scatter", 0, "from sheet to sheet, as a fraction `E` of the gradient (0.04)")
	f.BoolVar(&e.absolute, "absolute", false, "the exposures are lux seconds: give a speed by ISO arithmetic")
	f.Float64Var(&e.boxSpeed, "box-speed", 0, "the film's box speed, for an exposure index")
	f.Float64Var(&e.metered, "metered-at", 0, "with --box-speed: the log H that a meter set to it asked for on a grey card")
	f.StringVar(&e.borrowed, "borrowed", "", "what a developing time from elsewhere would do, `D`")
	f.Float64Var(&e.assumed, "assume", 0, "one sheet alone: growth of `K` a minute is assumed (0: that of --recipe, or as if it had reached half of its limit)")
	f.StringVar(&e.exposed, "metered", "", "the tablet was exposed through a camera: `TEXT` is the meter's index and the stops given over it, \"EI 50 +4\"")
	f.StringVar(&e.session, "session", "", "the session `ID` that developed the sheets: their times as they really were")
	f.StringVar(&e.recipe, "recipe", "", "with --write: the `RECIPE` to start from (the session's own); with --assume: whose growth it is")
	f.StringVar(&e.write, "write", "", "write the recipe with what was found to `FILE`, which must be new")
	f.StringVar(&e.svg, "svg", "", "write a picture to `FILE`")
	f.StringVar(&e.png, "png", "", "write a picture to `FILE`")
	f.BoolVar(&e.asJSON, "json", false, "as JSON")
	return cmd
}

func (p *program) evaluate(cmd *cobra.Command, e evaluation, files []string) error {
	o, err := e.options(cmd)
	if err == nil {
		err = e.sensible(cmd)
	}
	if err != nil {
		return err
	}
	family, link, err := readFamily(files, o)
	if err == nil {
		err = ofCGATS(cmd, files)
	}
	if err != nil {
		return err
	}
	w, err := e.wanted(cmd)
	if err != nil {
		return err
	}
	s, err := e.linked(&family, link)
	if err != nil {
		return err
	}
	q, err := e.request(w, link)
	if err != nil {
		return err
	}
	r, err := curve.Evaluate(family, q)
	if err != nil && len(r.Curves) == 0 {
		return err
	}
	if pictures := e.pictures(family, r); pictures != nil {
		return pictures
	}
	if cmd.Flags().Changed("assume") {
		return p.showOne(e, r, w)
	}
	if e.asJSON {
		if shown := p.json(r); shown != nil {
			return shown
		}
	} else {
		p.showCurves(e, family, r, w)
	}
	if err == nil && e.write != "" {
		err = p.writeFound(e, r, w, s, link.Film, files)
	}
	return err
}

// The average gradients that anybody could want of a film.
const leastTarget, mostTarget = 0.1, 3

// sensible refuses values that no film could be asked for.
func (e evaluation) sensible(cmd *cobra.Command) error {
	if cmd.Flags().Changed("target") && !(e.target >= leastTarget && e.target <= mostTarget) {
		return usage("--target: %g; expected an average gradient from %g to %g, such as 0.58", e.target, leastTarget, float64(mostTarget))
	}
	for name, v := range map[string]float64{"reading-error": e.reading, "sheet-scatter": e.scatter} {
		if cmd.Flags().Changed(name) && !(v > 0 && v <= 0.2) {
			return usage("--%s: %g; expected above 0, up to 0.2", name, v)
		}
	}
	if e.borrowed == "" {
		return nil
	}
	d, err := chem.ParseDuration(e.borrowed)
	switch {
	case err != nil:
		return usage("--borrowed: %v", err)
	case d < time.Second || d > 24*time.Hour:
		return usage("--borrowed: %s; expected 1 s to 24 h", e.borrowed)
	case !cmd.Flags().Changed("target") && !cmd.Flags().Changed("paper"):
		return usage("--borrowed: no gradient is wanted; expected --target or --paper")
	}
	return nil
}

// options is what the files do not say themselves.
func (e evaluation) options(cmd *cobra.Command) (curve.Options, error) {
	o := curve.Options{Channel: curve.Channel(e.channel), Step: curve.LogH(e.step)}
	if cmd.Flags().Changed("log-h0") {
		h := curve.LogH(e.logH0)
		o.LogH0 = &h
	}
	if e.time != "" {
		d, err := chem.ParseDuration(e.time)
		if err != nil {
			return o, usage("--time: %v", err)
		}
		o.Time = d
	}
	if e.tablet != "" {
		data, err := readOutside(e.tablet)
		if err != nil {
			return o, err
		}
		if o.Tablet, err = curve.ReadTablet(e.tablet, data, o.Channel); err != nil {
			return o, err
		}
	}
	return o, nil
}

// mostReadings is the largest file of readings that is read.
const mostReadings = 1 << 20

func readOutside(name string) ([]byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, mostReadings+1))
}

// readFamily reads the files, and what the only one says of its session.
func readFamily(files []string, o curve.Options) (curve.Family, curve.Link, error) {
	var all []curve.Family
	var link curve.Link
	var errs []error
	for _, name := range files {
		data, err := readOutside(name)
		if err != nil {
			errs = append(errs, err)
			continue
		}
		f, err := curve.Read(name, data, o)
		if err != nil {
			errs = append(errs, err)
			continue
		}
		all = append(all, f)
		if len(files) == 1 {
			link = curve.ReadLink(data)
		}
	}
	if len(errs) > 0 {
		return curve.Family{}, link, errors.Join(errs...)
	}
	return curve.Join(all...), link, nil
}

// ofCGATS refuses flags that tell of CGATS text what CSV says itself, where all is CSV.
func ofCGATS(cmd *cobra.Command, files []string) error {
	for _, name := range files {
		if data, err := readOutside(name); err != nil || curve.IsCGATS(data) {
			return err
		}
	}
	for _, flag := range []string{"channel", "step", "time", "tablet"} {
		if cmd.Flags().Changed(flag) {
			return usage("--%s is for CGATS text; a CSV file says it itself", flag)
		}
	}
	return nil
}

// wanted is what the negatives must fit; false where nothing is asked for.
func (e evaluation) wanted(cmd *cobra.Command) (*curve.Wanted, error) {
	switch {
	case cmd.Flags().Changed("target"):
		w := curve.WantedFor(e.target)
		return &w, nil
	case cmd.Flags().Changed("paper"):
		w := curve.Wanted{Paper: curve.LogH(e.paper), Subject: curve.LogH(e.subject), Flare: curve.LogH(e.flare)}
		_, err := w.Gradient()
		return &w, err
	}
	return nil, nil
}

func (e evaluation) request(w *curve.Wanted, link curve.Link) (curve.Request, error) {
	r := curve.Request{Smooth: curve.Density(e.smooth), Absolute: e.absolute, Induction: e.induction, Intervals: true,
		Errors: curve.Errors{Reading: curve.Density(e.reading), Scatter: e.scatter}}
	if w != nil {
		r.Target, _ = w.Gradient()
	}
	switch exposed := cmp.Or(e.exposed, link.Metered); {
	case e.boxSpeed > 0:
		b := curve.Metered(e.boxSpeed, curve.LogH(e.metered))
		r.Box = &b
	case exposed != "":
		b, err := curve.ParseMetered(exposed)
		if err != nil {
			return r, usage("--metered: %v", err)
		}
		r.Box = &b
	}
	return r, nil
}

func (e evaluation) pictures(f curve.Family, r curve.Results) error {
	for format, name := range map[string]string{"svg": e.svg, "png": e.png} {
		if name == "" {
			continue
		}
		out, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o600)
		if err != nil {
			return err
		}
		err = page.Curves(out, format, f, r)
		if closed := out.Close(); err == nil {
			err = closed
		}
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
	}
	return nil
}

// showCurves writes the results for people.
func (p *program) showCurves(e evaluation, f curve.Family, r curve.Results, w *curve.Wanted) {
	const rows = 16
	fmt.Fprint(p.out, cleaned(page.CurveText(r, min(p.width(), 80), rows)))
	fmt.Fprintf(p.out, "\n%-8s %6s %9s %6s %9s %6s %6s %8s\n", "time", "b+f", "speed pt", "rise", "avg grad", "index", "gamma", "EI")
	for i, c := range r.Curves {
		fmt.Fprintf(p.out, "%-8s %6.2f %9s %6s %9s %6s %6s %8s\n", recipes.Clean(f.Label(i)), float64(c.BaseFog),
			number(c.SpeedPoint, 2), number(c.DensityRise, 2), number(c.AverageGradient, 2), number(c.ContrastIndex, 2), number(c.Gamma, 2),
			number(firstOf(c.ISOSpeed, c.ExposureIndex), 0))
	}
	p.showIntervals(f, r, w)
	if g := r.Growth; g != nil {
		fmt.Fprintf(p.out, "\ngrowth: gradient = %.3f (1 - exp(-%.4f (t - %.2f min)))\n", g.Limit, float64(g.K), float64(g.Induction))
	}
	if t := r.Target; t != nil {
		fmt.Fprintf(p.out, "time for %.2f: %s%s\n", t.AverageGradient, sequence.Clock(seconds(t.Time)), interval(t.Low, t.High, t.Confidence))
	}
	p.showDevelopments(r, w)
	p.showBorrowed(e, r, w)
	for _, note := range r.Notes {
		fmt.Fprintf(p.out, "note: %s\n", recipes.Clean(note))
	}
	fmt.Fprintln(p.out, "note: a home test gives a speed by ISO arithmetic, never an ISO speed")
}

// showIntervals says how sure each curve is, and what a print asks of it.
func (p *program) showIntervals(f curve.Family, r curve.Results, w *curve.Wanted) {
	const method = "\nnine times of ten, for reading error and scatter from sheet to sheet (parametric bootstrap):"
	fmt.Fprintln(p.out, method)
	for i, c := range r.Curves {
		if in := c.Intervals; in != nil {
			fmt.Fprintf(p.out, "%-8s speed pt %s, avg grad %s, index %s, gamma %s\n", recipes.Clean(f.Label(i)),
				fromLowToHigh(in.SpeedPoint), fromLowToHigh(in.AverageGradient), fromLowToHigh(in.ContrastIndex), fromLowToHigh(in.Gamma))
		}
	}
	if in := r.GrowthIntervals; in != nil {
		fmt.Fprintf(p.out, "growth   limit %s, rate %.3f to %.3f a minute\n", fromLowToHigh(&in.Limit), in.K.Low, in.K.High)
	}
	if w == nil {
		return
	}
	if sheet, shadows, highlights, ok := r.Aims(*w); ok {
		fmt.Fprintf(p.out, "aims for the print: shadows at %.2f, highlights at %.2f (base plus fog %.2f%s)\n",
			float64(shadows), float64(highlights), float64(sheet.BaseFog), ofSheet(sheet))
	}
}

// ofSheet names a sheet by its developing time; "" where that is not known.
func ofSheet(r curve.Result) string {
	if r.Time == nil {
		return ""
	}
	return ", of the sheet developed " + sequence.Clock(seconds(*r.Time))
}

func fromLowToHigh(in *curve.Interval) string {
	if in == nil {
		return "-"
	}
	return fmt.Sprintf("%.2f to %.2f", in.Low, in.High)
}

// showDevelopments is the table of N-2 to N+2, ready for a recipe's times.
func (p *program) showDevelopments(r curve.Results, w *curve.Wanted) {
	if w == nil {
		return
	}
	list, err := r.Developments(*w)
	if err != nil {
		return
	}
	for _, d := range list {
		if d.Target == nil {
			fmt.Fprintf(p.out, "%4s  gradient %.2f: beyond what was tested\n", d.Name, d.Wanted)
			continue
		}
		fmt.Fprintf(p.out, "%4s  gradient %.2f: %s%s\n", d.Name, d.Wanted, sequence.Clock(seconds(d.Target.Time)),
			interval(d.Target.Low, d.Target.High, d.Target.Confidence))
	}
}

// showBorrowed says what a time from elsewhere would do.
func (p *program) showBorrowed(e evaluation, r curve.Results, w *curve.Wanted) {
	if e.borrowed == "" || w == nil {
		return
	}
	d, _ := chem.ParseDuration(e.borrowed) // sensible has read it
	b, err := r.Borrow(d, *w)
	if err != nil {
		fmt.Fprintf(p.err, "wetside: --borrowed: %v\n", err)
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
	fmt.Fprintf(p.out, "%s would give %.2f where %.2f is wanted: it %s by %.2f, as for a subject %+.1f stops shorter%s\n",
		sequence.Clock(d), b.Gradient, b.Wanted, what, max(b.Over, -b.Over), b.Stops, untested)
}

func number[T ~float64](x *T, digits int) string {
	if x == nil {
		return "-"
	}
	return fmt.Sprintf("%.*f", digits, float64(*x))
}

func firstOf(list ...*float64) *float64 {
	for _, x := range list {
		if x != nil {
			return x
		}
	}
	return nil
}

func seconds(s float64) time.Duration { return time.Duration(s * float64(time.Second)) }

func interval(low, high *float64, confidence float64) string {
	if low == nil || high == nil {
		return ", with no bound on one side"
	}
	return fmt.Sprintf(" (%s to %s with %.0f %% confidence)", sequence.Clock(seconds(*low)), sequence.Clock(seconds(*high)), 100*confidence)
}
