// Package curvecmd is the command wetside curve. Start with NewCurveCommand; the arithmetic is
// in chem/curve, the pages are in tui/page.
package curvecmd

// wetside curve: from readings of step-tablet negatives to curves, speed,
// gradients, growth, and the time for a wanted gradient.

import (
	"cmp"
	"fmt"
	"os"
	"time"

	"github.com/spf13/cobra"

	"example.org/wetside/chem"
	"example.org/wetside/chem/curve"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/page"
)

// curveFlags is the flags as typed.
type curveFlags struct {
	target, smooth, step, logH0          float64
	paper, subject, flare                float64
	boxSpeed, meteredAt                  float64
	induction, absolute, asJSON          bool
	channel, tablet, time, publishedTime string
	svgFile, pngFile                     string
	session, recipe, writeFile           string
	exposedText                          string // how the tablet was metered
	assumedGrowth                        float64
	reading, scatter                     float64
}

func NewCurveCommand(p *app.Env) *cobra.Command {
	var e curveFlags
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
		Args: flags.UsageArgs(cobra.MinimumNArgs(1)),
		RunE: func(cmd *cobra.Command, files []string) error { return runCurve(p, cmd, e, files) },
	}
	f := cmd.Flags()
	f.Float64Var(&e.target, "target", 0, "the average gradient wanted, `G`")
	f.Float64Var(&e.paper, "paper", 0, "or: the paper's log exposure scale")
	f.Float64Var(&e.subject, "subject", float64(curve.DefaultSubject), "with --paper: the subject's log range")
	f.Float64Var(&e.flare, "flare", float64(curve.DefaultFlare), "with --paper: what flare takes from it")
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
	f.Float64Var(&e.meteredAt, "metered-at", 0, "with --box-speed: the log H that a meter set to it asked for on a grey card")
	f.StringVar(&e.publishedTime, "borrowed", "", "what a developing time from elsewhere would do, `D`")
	f.Float64Var(&e.assumedGrowth, "assume", 0, "one sheet alone: growth of `K` a minute is assumed (0: that of --recipe, or as if it had reached half of its limit)")
	f.StringVar(&e.exposedText, "metered", "", "the tablet was exposed through a camera: `TEXT` is the meter's index and the stops given over it, \"EI 50 +4\"")
	f.StringVar(&e.session, "session", "", "the session `ID` that developed the sheets: their times as they really were")
	f.StringVar(&e.recipe, "recipe", "", "with --write: the `RECIPE` to start from (the session's own); with --assume: whose growth it is")
	f.StringVar(&e.writeFile, "write", "", "write the recipe with what was found to `FILE`, which must be new")
	f.StringVar(&e.svgFile, "svg", "", "write a picture to `FILE`")
	f.StringVar(&e.pngFile, "png", "", "write a picture to `FILE`")
	f.BoolVar(&e.asJSON, "json", false, "as JSON")
	return cmd
}

func runCurve(p *app.Env, cmd *cobra.Command, e curveFlags, files []string) error {
	o, err := e.options(cmd)
	if err == nil {
		err = e.sensible(cmd)
	}
	if err != nil {
		return err
	}
	family, link, err := ReadFamily(files, o)
	if err == nil {
		err = refuseCGATSFlags(cmd, files)
	}
	if err != nil {
		return err
	}
	w, err := e.wanted(cmd)
	if err != nil {
		return err
	}
	s, err := e.linkSession(&family, link)
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
	if pictures := e.writePictures(family, r); pictures != nil {
		return pictures
	}
	if cmd.Flags().Changed("assume") {
		return printOneSheet(p, e, r, w)
	}
	if e.asJSON {
		if shown := p.WriteJSON(r); shown != nil {
			return shown
		}
	} else {
		printCurves(p, e, family, r, w)
	}
	if err == nil && e.writeFile != "" {
		err = writeRefinedRecipe(p, e, r, w, s, link.Film, files)
	}
	return err
}

// The average gradients that anybody could want of a film.
const leastTarget, mostTarget = 0.1, 3

// sensible refuses values that no film could be asked for.
func (e curveFlags) sensible(cmd *cobra.Command) error {
	if cmd.Flags().Changed("target") && !(e.target >= leastTarget && e.target <= mostTarget) {
		return app.Usagef("--target: %g; expected an average gradient from %g to %g, such as 0.58", e.target, leastTarget, float64(mostTarget))
	}
	for name, v := range map[string]float64{"reading-error": e.reading, "sheet-scatter": e.scatter} {
		if cmd.Flags().Changed(name) && !(v > 0 && v <= 0.2) {
			return app.Usagef("--%s: %g; expected above 0, up to 0.2", name, v)
		}
	}
	if e.publishedTime == "" {
		return nil
	}
	d, err := chem.ParseDuration(e.publishedTime)
	switch {
	case err != nil:
		return app.Usagef("--borrowed: %v", err)
	case d < time.Second || d > 24*time.Hour:
		return app.Usagef("--borrowed: %s; expected 1 s to 24 h", e.publishedTime)
	case !cmd.Flags().Changed("target") && !cmd.Flags().Changed("paper"):
		return app.Usagef("--borrowed: no gradient is wanted; expected --target or --paper")
	}
	return nil
}

// options is what the files do not say themselves.
func (e curveFlags) options(cmd *cobra.Command) (curve.Options, error) {
	o := curve.Options{Channel: curve.Channel(e.channel), Step: curve.LogH(e.step)}
	if cmd.Flags().Changed("log-h0") {
		h := curve.LogH(e.logH0)
		o.LogH0 = &h
	}
	if e.time != "" {
		d, err := chem.ParseDuration(e.time)
		if err != nil {
			return o, app.Usagef("--time: %v", err)
		}
		o.Time = d
	}
	if e.tablet != "" {
		data, err := readFile(e.tablet)
		if err != nil {
			return o, err
		}
		if o.Tablet, err = curve.ReadTablet(e.tablet, data, o.Channel); err != nil {
			return o, err
		}
	}
	return o, nil
}

// wanted is what the negatives must fit; false where nothing is asked for.
func (e curveFlags) wanted(cmd *cobra.Command) (*curve.PrintConditions, error) {
	switch {
	case cmd.Flags().Changed("target"):
		w := curve.PrintConditionsFor(e.target)
		return &w, nil
	case cmd.Flags().Changed("paper"):
		w := curve.PrintConditions{Paper: curve.LogH(e.paper), Subject: curve.LogH(e.subject), Flare: curve.LogH(e.flare)}
		_, err := w.Gradient()
		return &w, err
	}
	return nil, nil
}

func (e curveFlags) request(w *curve.PrintConditions, link curve.Link) (curve.Request, error) {
	r := curve.Request{Smooth: curve.Density(e.smooth), Absolute: e.absolute, Induction: e.induction, Intervals: true,
		Errors: curve.Errors{Reading: curve.Density(e.reading), Scatter: e.scatter}}
	if w != nil {
		r.Target, _ = w.Gradient()
	}
	switch exposed := cmp.Or(e.exposedText, link.Metered); {
	case e.boxSpeed > 0:
		b := curve.AnchorFromMeter(e.boxSpeed, curve.LogH(e.meteredAt))
		r.SpeedAnchor = &b
	case exposed != "":
		b, err := curve.ParseExposed(exposed)
		if err != nil {
			return r, app.Usagef("--metered: %v", err)
		}
		r.SpeedAnchor = &b
	}
	return r, nil
}

func (e curveFlags) writePictures(f curve.Family, r curve.Results) error {
	for format, name := range map[string]string{"svg": e.svgFile, "png": e.pngFile} {
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

// ofSheet names a sheet by its developing time; "" where that is not known.
func ofSheet(r curve.Result) string {
	if r.Time == nil {
		return ""
	}
	return ", of the sheet developed " + sequence.FormatElapsed(app.FromSeconds(*r.Time))
}
