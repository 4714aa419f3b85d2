// Package curvecmd is the command wetside curve. Start with NewCurveCommand; the arithmetic is
// in chem/curve, the pages are in tui/page.
package curvecmd

// wetside curve: from readings of step-tablet negatives to curves, speed,
// gradients, growth, and the time for a wanted gradient.

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
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
	target, smooth, step, logH0    float64
	paper, flare                   float64
	aim                            aimFlags
	subject                        string
	readingError                   float64
	sheetScatter, sessionScatter   float64
	induction, absolute, asJSON    bool
	channel, tablet, publishedTime string
	times                          []string // of CGATS files, in their order
	pictureFile                    string
	out                            flags.Output
	session, recipe, writeFile     string
	exposedText                    string // how the tablet was exposed by a meter
	assumedGrowth                  float64
}

func NewCurveCommand(p *app.Env) *cobra.Command {
	var e curveFlags
	cmd := &cobra.Command{
		Use:   "curve FILE...",
		Short: "find curves, speed and the right time from densities",
		Long: "Finds the developing time for an aim from densities of step-tablet negatives (CSV, or\n" +
			"CGATS text), one file or several of one film: an average gradient, a contrast index, or\n" +
			"a print on your paper (wetside help print). For each sheet it gives base plus fog, speed\n" +
			"point, average gradient, contrast index and gamma, and how the gradient grows with time.\n" +
			"A home test gives a speed by ISO arithmetic, never an ISO speed.",
		Example: "  wetside curve densities.csv --target 0.58\n" +
			"  wetside curve densities.csv --aim print --grade 2 --subject \"7 stops\" --exposed \"EI 50 +4\"\n" +
			"  wetside curve densities.csv --target 0.58 --session 2026-11-25T1912-plover --write found.toml\n" +
			"  wetside curve five.cgats seven.cgats --time 5m,7m --channel blue --picture family.svg",
		Args: flags.UsageArgs(cobra.MinimumNArgs(1)),
		RunE: func(cmd *cobra.Command, files []string) error { return runCurve(p, cmd, e, files) },
	}
	f := cmd.Flags()
	f.Float64Var(&e.target, "target", 0, "`G`: average gradient wanted")
	f.Float64Var(&e.paper, "paper", 0, "`R`: the paper's log exposure range; with --aim print for both ends of the print, else for the average gradient that fits")
	f.StringVar(&e.subject, "subject", "2.2", "`R`: with a paper: the subject's range, in log10 or as \"7 stops\"")
	f.Float64Var(&e.flare, "flare", float64(curve.DefaultFlare), "`F`: with a paper: what flare takes from a subject of 2.2")
	e.aim.add(f)
	f.BoolVar(&e.induction, "induction", false, "fit the time before development sets in, too")
	f.StringVar(&e.channel, "channel", "", "`CHANNEL`: of CGATS text: vis, blue, green or red")
	f.StringVar(&e.tablet, "tablet", "", "`FILE`: the step tablet's densities, step by step: CSV or CGATS text")
	f.Float64Var(&e.step, "step", 0, "`X`: of CGATS text without a tablet: log H from sample to sample (default 0.15)")
	f.Float64Var(&e.logH0, "log-h0", 0, "`X`: log10 of the lux seconds behind density 0 of the tablet; makes the exposures absolute")
	f.StringSliceVar(&e.times, "time", nil, "`DURATION`: developing time of CGATS text; of several files one for each, in order: 5m,7m")
	f.Float64Var(&e.smooth, "smooth", 0, "`E`: smooth by this error (default: the reading error); 0: through every reading")
	f.BoolVar(&e.absolute, "absolute", false, "the column log_h is log10 of lux seconds: give a speed by ISO arithmetic")
	f.Float64Var(&e.readingError, "reading-error", 0, "`E`: how far one density may be off (default: as the readings scatter)")
	f.Float64Var(&e.sheetScatter, "sheet-scatter", 0, "`E`: how far sheets differ, as a fraction of the gradient (default 0.04, common practice, corrected by the sheets)")
	f.Float64Var(&e.sessionScatter, "session-scatter", 0, "`E`: how far sessions differ, as a fraction of the gradient; 0: not at all (default 0.05, common practice, or as your own do)")
	f.StringVar(&e.publishedTime, "published-time", "", "`DURATION`: a developing time from elsewhere: say what it would give")
	f.Float64Var(&e.assumedGrowth, "assume-rate", 0, "`K`: one sheet alone: assume that it grows by K a minute (0: as in --recipe, or as if half grown)")
	f.StringVar(&e.exposedText, "exposed", "", "`TEXT`: the tablet was exposed through a camera: the meter's index and the stops given over it, \"EI 50 +4\"")
	f.StringVar(&e.session, "session", "", "`ID`: the session that developed the sheets: their times as they really were")
	f.StringVar(&e.recipe, "recipe", "", "`RECIPE`: with --write: the one to start from (default: the session's); with --assume-rate: whose growth it is")
	f.StringVar(&e.writeFile, "write", "", "`FILE`: write the recipe with what was found to a new file")
	f.StringVar(&e.pictureFile, "picture", "", "`FILE`: draw the curves, to FILE.svg")
	e.out.Add(cmd, "picture")
	f.BoolVar(&e.asJSON, "json", false, "print JSON")
	cmd.MarkFlagsMutuallyExclusive("target", "paper")
	cmd.MarkFlagsMutuallyExclusive("absolute", "log-h0", "exposed")
	flags.Excludes(cmd, "tablet", "step")
	flags.Excludes(cmd, "published-time", "json", "assume-rate")
	flags.Excludes(cmd, "assume-rate", "write", "induction")
	flags.Needs(cmd, "subject", "paper", "aim")
	flags.Needs(cmd, "flare", "paper", "aim")
	e.aim.rules(cmd)
	flags.Needs(cmd, "recipe", "write", "assume-rate")
	flags.Needs(cmd, "published-time", "target", "paper", "aim")
	flags.Needs(cmd, "assume-rate", "target", "paper", "aim")
	return cmd
}

func runCurve(p *app.Env, cmd *cobra.Command, e curveFlags, files []string) error {
	family, link, err := e.family(cmd, files)
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
	q, err := e.request(cmd, w, link)
	if err != nil {
		return err
	}
	q.Errors.Own = ownSessions(family)
	r, err := curve.Evaluate(family, q)
	if err != nil && len(r.Curves) == 0 {
		return err
	}
	if pictures := e.drawPicture(family, r); pictures != nil {
		return pictures
	}
	if cmd.Flags().Changed("assume-rate") {
		return printOneSheet(p, e, q, r, w)
	}
	met, missed := e.meet(family, r, q)
	err = errors.Join(err, missed)
	if e.asJSON {
		if shown := p.WriteJSON(withAim(r, asAimMet(met))); shown != nil {
			return shown
		}
	} else {
		printCurves(p, e, family, r, w, asAimMet(met))
	}
	if err == nil && e.writeFile != "" {
		err = writeRefinedRecipe(p, e, r, w, met, s, link.Film, files)
	}
	return err
}

// family is the readings of the files, once all that was asked for makes sense.
func (e *curveFlags) family(cmd *cobra.Command, files []string) (curve.Family, curve.Link, error) {
	if err := e.checkPicture(); err != nil {
		return curve.Family{}, curve.Link{}, err
	}
	o, err := e.options(cmd)
	for _, check := range []func(*cobra.Command) error{e.readAim, e.sensible, func(c *cobra.Command) error { return refuseCGATSFlags(c, files) }} {
		if err == nil {
			err = check(cmd)
		}
	}
	if err != nil {
		return curve.Family{}, curve.Link{}, err
	}
	times, err := e.timesOf(files)
	if err != nil {
		return curve.Family{}, curve.Link{}, err
	}
	return ReadFamily(files, o, times...)
}

// The average gradients that anybody could want of a film.
const leastTarget, mostTarget = 0.1, 3

// sensible refuses values that no film could be asked for.
func (e curveFlags) sensible(cmd *cobra.Command) error {
	if cmd.Flags().Changed("target") && !(e.target >= leastTarget && e.target <= mostTarget) {
		return app.Usagef("--target: %g; expected an average gradient from %g to %g, such as 0.58", e.target, leastTarget, float64(mostTarget))
	}
	if !(e.sessionScatter >= 0 && e.sessionScatter <= 0.2) {
		return app.Usagef("--session-scatter: %g; expected 0 to 0.2", e.sessionScatter)
	}
	for name, v := range map[string]float64{"reading-error": e.readingError, "sheet-scatter": e.sheetScatter} {
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
		return app.Usagef("--published-time: %v", err)
	case d < time.Second || d > 24*time.Hour:
		return app.Usagef("--published-time: %s; expected 1 s to 24 h", e.publishedTime)
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
	case e.aim.surface():
		return nil, nil
	case e.target > 0:
		w := curve.PrintConditionsFor(e.target)
		return &w, nil
	case cmd.Flags().Changed("paper"):
		subject, err := subjectRange(e.subject)
		if err != nil {
			return nil, err
		}
		w := curve.PrintConditions{Paper: curve.LogH(e.paper), Subject: curve.LogH(subject), Flare: curve.LogH(e.flare)}
		_, err = w.Gradient()
		return &w, err
	}
	return nil, nil
}

func (e curveFlags) request(cmd *cobra.Command, w *curve.PrintConditions, link curve.Link) (curve.Request, error) {
	r := curve.Request{Smooth: curve.Density(e.smooth), Exact: cmd.Flags().Changed("smooth") && e.smooth == 0,
		Absolute: e.absolute || cmd.Flags().Changed("log-h0"), Induction: e.induction, Intervals: true, Errors: e.errors(cmd)}
	if w != nil {
		r.Target, _ = w.Gradient()
	}
	if exposed := cmp.Or(e.exposedText, link.Metered); exposed != "" && !r.Absolute {
		b, err := curve.ParseExposed(exposed)
		if err != nil {
			return r, app.Usagef("--exposed: %v", err)
		}
		r.SpeedAnchor = &b
	}
	return r, nil
}

// errors is what was said of readings, sheets and sessions.
func (e curveFlags) errors(cmd *cobra.Command) curve.Errors {
	out := curve.Errors{Reading: curve.Density(e.readingError), Scatter: e.sheetScatter}
	if cmd.Flags().Changed("session-scatter") {
		out.Sessions = &e.sessionScatter
	}
	return out
}

// checkPicture refuses a picture that cannot be drawn, before anything is worked out.
func (e curveFlags) checkPicture() error {
	switch ending := strings.ToLower(filepath.Ext(e.pictureFile)); {
	case e.pictureFile == "" || ending == ".svg":
		return nil
	case ending == ".png":
		return app.Usagef("--picture: %q; PNG is no longer written: name the file .svg, which every browser shows", e.pictureFile)
	}
	return app.Usagef("--picture: %q; expected a file that ends in .svg", e.pictureFile)
}

// drawPicture draws the curves, where that was asked for.
func (e curveFlags) drawPicture(f curve.Family, r curve.Results) error {
	if e.pictureFile == "" {
		return nil
	}
	var picture bytes.Buffer
	if err := page.Curves(&picture, f, r); err != nil {
		return fmt.Errorf("%s: %w", e.pictureFile, err)
	}
	return e.out.Write(e.pictureFile, picture.Bytes())
}

// ofSheet names a sheet by its developing time; "" where that is not known.
func ofSheet(r curve.Result) string {
	if r.Time == nil {
		return ""
	}
	return ", of the sheet developed " + sequence.FormatElapsed(app.FromSeconds(*r.Time))
}
