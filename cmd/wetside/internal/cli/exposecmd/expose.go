// Package exposecmd is the command wetside expose. Start with NewExposeCommand; the arithmetic
// is in chem, the pages are in tui/page.
package exposecmd

// wetside expose: from the meter to the shutter.

import (
	"fmt"
	"math"
	"time"

	"github.com/spf13/cobra"

	"example.org/wetside/chem"
	"example.org/wetside/chem/curve"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/holders"
	"example.org/wetside/tui/say"
)

// exposeFlags is the flags as typed.
type exposeFlags struct {
	metered                         string
	filter, bellows                 float64
	extension, focal, magnification float64
	reciprocity                     reciprocityFlags
	card                            bool
	html                            string
	out                             flags.Output
	asJSON                          bool
}

// exposureJSON is what expose says to a script.
type exposureJSON struct {
	Exposure chem.Exposure `json:",embed"`
	TooLong  bool          `json:"beyond_longest"`

	Gain    float64        `json:"contrast_gain"` // 1: none
	Develop *time.Duration `json:"develop_s"`     // that makes up for it, by the recipe's film test
	Usual   *time.Duration `json:"develop_usual_s"`
}

func NewExposeCommand(p *app.Env) *cobra.Command {
	var x exposeFlags
	cmd := &cobra.Command{
		Use:   "expose [RECIPE] --metered DURATION",
		Short: "correct a metered time for filter, bellows and reciprocity failure",
		Long: "Corrects a metered time for the filter, then for the bellows (a factor; extension and\n" +
			"focal length; or magnification, which alone holds for a telephoto lens: its bellows are\n" +
			"shorter than its focal length), then for reciprocity failure on the time that results:\n" +
			"by the recipe's table for its film, by --table, or by --exponent. wetside fit\n" +
			"reciprocity finds them from your own tests. --card makes a table of times for the\n" +
			"pocket.",
		Example: "  wetside expose --metered 4s --filter 2 plover-tray\n" +
			"  wetside expose --metered 1/2s --magnification 0.5 --table \"1:1.4,8:40\"\n" +
			"  wetside expose --metered 10s --exponent 0.86\n" +
			"  wetside expose --card plover-tray",
		Args: flags.UsageArgs(cobra.MaximumNArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 1 && x.metered == "" {
				if _, err := chem.ParseExposure(args[0]); err == nil {
					return app.Usagef("%s is a time; expected --metered %[1]s", args[0])
				}
			}
			law, err := x.reciprocity.choose(cmd, args)
			switch {
			case err != nil:
				return err
			case x.card || x.html != "":
				return printCard(p, law, x)
			}
			return runExpose(p, cmd, law, x, args)
		},
	}
	f := cmd.Flags()
	f.StringVar(&x.metered, "metered", "", "`DURATION`: what the meter says")
	f.Float64Var(&x.filter, "filter", 1, "`F`: the filter's factor")
	f.Float64Var(&x.bellows, "bellows", 1, "`F`: the bellows factor")
	f.Float64Var(&x.extension, "extension", 0, "`E`: the bellows' extension, in the unit of --focal; in place of --bellows")
	f.Float64Var(&x.focal, "focal", 0, "`F`: the lens's focal length")
	f.Float64Var(&x.magnification, "magnification", 0, "`M`: image size over subject size; in place of --bellows")
	x.reciprocity.add(f)
	f.BoolVar(&x.card, "card", false, "print a table of times for the pocket")
	f.StringVar(&x.html, "html", "", "`FILE`: with --card: write that table as a page to print")
	x.out.Add(cmd, "html")
	f.BoolVar(&x.asJSON, "json", false, "print JSON")
	bellows := []string{"bellows", "extension", "focal", "magnification"}
	flags.Excludes(cmd, "card", append(bellows, "metered", "json")...)
	flags.Excludes(cmd, "html", append(bellows, "metered", "json")...)
	cmd.MarkFlagsMutuallyExclusive("bellows", "extension", "magnification")
	cmd.MarkFlagsRequiredTogether("extension", "focal")
	cmd.MarkFlagsMutuallyExclusive("table", "exponent")
	return cmd
}

// runExpose corrects one metered time.
func runExpose(p *app.Env, cmd *cobra.Command, law reciprocity, x exposeFlags, recipe []string) error {
	if x.metered == "" {
		return flags.Missing(cmd, "metered")
	}
	metered, err := chem.ParseExposure(x.metered)
	if err != nil {
		return app.Usagef("--metered: %v", err)
	}
	bellows, err := x.bellowsFactor(cmd)
	if err != nil {
		return err
	}
	e, err := chem.Expose(metered, x.filter, bellows, law.law)
	if err != nil {
		return err
	}
	out := exposureJSON{Exposure: e, TooLong: law.longest > 0 && e.Extended > law.longest}
	if out.Gain, err = chem.ContrastGain(law.law, e.Extended, usualImage); err != nil {
		return err
	}
	if out.Gain > 1 && len(recipe) == 1 {
		out.Usual, out.Develop = developed(recipe[0], e.Final)
	}
	if err := printExposure(p, out, law, x.asJSON); err != nil || x.asJSON || !cmd.Flags().Changed("extension") {
		return err
	}
	_, err = fmt.Fprintln(p.Out, "note: of a telephoto lens the extension says too little; take --magnification")
	return err
}

// usualImage is the usual subject's log range on film.
const usualImage = float64(curve.DefaultSubject - curve.DefaultFlare)

// developed is the recipe's usual time and the one that makes up for a long exposure; nil where its film was not
// tested.
func developed(recipe string, exposed time.Duration) (usual, less *time.Duration) {
	r, err := app.FindPlainRecipe(recipe)
	if err != nil {
		return nil, nil
	}
	by := holders.Grouper{Printing: holders.UsualPrinting, Response: holders.ResponsesFrom(app.Densities().List(), app.Session)}
	n, err := by.Wanted(&holders.ExposedSheet{Holder: "1"}, &r)
	if err != nil {
		return nil, nil
	}
	w, err := by.Wanted(&holders.ExposedSheet{Holder: "1", Exposure: chem.FormatDuration(exposed.Round(time.Second))}, &r)
	if err != nil || w.Gradient == 0 && w.Print == nil {
		return nil, nil
	}
	return &n.Time, &w.Time
}

// bellowsFactor is the factor in whichever way it was given.
func (x exposeFlags) bellowsFactor(cmd *cobra.Command) (float64, error) {
	switch {
	case cmd.Flags().Changed("extension"):
		return chem.BellowsFactor(x.extension, x.focal)
	case cmd.Flags().Changed("magnification"):
		return chem.MagnificationFactor(x.magnification)
	}
	return x.bellows, nil
}

func printExposure(p *app.Env, told exposureJSON, law reciprocity, asJSON bool) error {
	if asJSON {
		return p.WriteJSON(told)
	}
	e := told.Exposure
	row := func(name string, d time.Duration) { fmt.Fprintf(p.Out, "%14s  %s\n", say.Shutter(d), name) }
	fmt.Fprintf(p.Out, "Expose %s: %s\n", say.Shutter(e.Final), more(e.Stops))
	row("metered", e.Metered)
	if e.Filtered != e.Metered {
		row("with the filter", e.Filtered)
	}
	if e.Extended != e.Filtered {
		row("with the bellows", e.Extended)
	}
	if law.law == nil {
		row("to expose", e.Final)
	} else {
		row("to expose, by "+law.source, e.Final)
	}
	if e.OutsideTests {
		fmt.Fprintln(p.Out, "care: past the end of the table; this is extrapolated")
	}
	if told.TooLong {
		fmt.Fprintf(p.Out, "care: longer than the %s that this film is good for\n", say.Shutter(law.longest))
	}
	if text := gainText(told); text != "" {
		fmt.Fprintln(p.Out, text)
	}
	return nil
}

// more says by how many stops an exposure is longer than metered.
func more(stops float64) string {
	switch {
	case math.Abs(stops) < 0.05:
		return "as metered"
	case stops < 0:
		return fmt.Sprintf("%.1f stops less than metered", -stops)
	}
	return fmt.Sprintf("%.1f stops more than metered", stops)
}

// leastGain is the gain of contrast that is worth a word.
const leastGain = 1.02

// gainText says what the long exposure does to contrast, and the development that makes up for it.
func gainText(e exposureJSON) string {
	if e.Gain < leastGain {
		return ""
	}
	text := fmt.Sprintf("So long an exposure raises contrast by %.0f%%, as if the subject were %.1f stops longer", 100*(e.Gain-1), (e.Gain-1)*curve.LogH(usualImage).Stops())
	if e.Develop == nil {
		return text + "; develop less by as much"
	}
	return text + fmt.Sprintf("; develop %s instead of %s: plan with --factor %.2f",
		sequence.FormatElapsed(*e.Develop), sequence.FormatElapsed(*e.Usual), e.Develop.Seconds()/e.Usual.Seconds())
}
