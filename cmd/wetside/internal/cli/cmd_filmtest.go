package cli

// wetside film-test: which developing times to spend test sheets on, and a recipe
// that does it.

import (
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"example.org/wetside/chem/curve"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/cmd/wetside/internal/filmtest"
	"example.org/wetside/recipes"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/film"
	"example.org/wetside/tui/say"
)

// filmTestJSON is what film-test says to a script.
type filmTestJSON struct {
	Times    []time.Duration      `json:"times_s"`
	Vessel   sequence.Vessel      `json:"vessel"`
	Expected curve.TestForecast   `json:"expected"`
	Wet      sequence.Wet         `json:"wet"`
	Exposure *curve.ExposedTablet `json:"exposure"` // null where the tablet is printed in contact
	Notes    []string             `json:"notes"`    // what became of the vessel and the baths
	Advice   film.Proposal        `json:"advice"`   // which sheets would say most
}

func newFilmTestCommand(p *app.Env) *cobra.Command {
	var x filmtest.Options
	cmd := &cobra.Command{
		Use:   "film-test RECIPE --sheets N",
		Short: "choose developing times for test sheets",
		Long: "Chooses developing times for test sheets: even ratios round the recipe's own time (or\n" +
			"--guess), and says by simulation how well they will tell the time for a target. --write\n" +
			"makes a recipe with a sheet for each time, in a vessel that keeps the film under its\n" +
			"limit. Which sheets would say most by all that the notebook knows of the film stands\n" +
			"beside it; --proposed takes those.\n\n" +
			"Where a step comes before developing the sheets go in one by one, the longest time\n" +
			"first, and leave together. With --straight-on each is pulled at its own time, has the\n" +
			"acid stop bath's, and goes on to the fixer by itself.",
		Example: "  wetside film-test plover-tray --sheets 4 --write plover-test.toml\n" +
			"  wetside film-test plover-tray --sheets 4 --exposed \"EI 50 +4\"",
		Args: flags.UsageArgs(cobra.ExactArgs(1)),
		RunE: func(_ *cobra.Command, args []string) error {
			r, err := app.FindPlainRecipe(args[0])
			if err != nil {
				return err
			}
			return runFilmTest(p, r, x)
		},
	}
	f := cmd.Flags()
	f.IntVar(&x.Sheets, "sheets", 0, "`N`: number of sheets to spend")
	f.StringVar(&x.Guess, "guess", "", "`DURATION`: a developing time to start from (default: the recipe's)")
	f.Float64Var(&x.Target, "target", filmtest.DefaultTarget, "`G`: average gradient wanted")
	f.Float64Var(&x.ReadingError, "reading-error", 0, "`E`: how far one density may be off (default 0.02)")
	f.Float64Var(&x.Scatter, "sheet-scatter", 0, "`E`: how far sheets differ, as a fraction of the gradient (default 0.04)")
	f.StringVar(&x.Exposed, "exposed", "", "`TEXT`: the tablet is exposed through a camera: the meter's index and the stops given over it, \"EI 50 +4\"")
	f.StringVar(&x.Vessel, "vessel", "", "`VESSEL`: hangers, single, cradle or tray (default: the recipe's where single sheets can be reached in it, else the kindest within the wet limit)")
	f.BoolVar(&x.StraightOn, "straight-on", false, "each sheet goes on by itself through the acid stop bath to the fixer; else all leave together")
	f.BoolVar(&x.Proposed, "proposed", false, "take the times that would say most by what the notebook knows of the film")
	f.StringVar(&x.WriteFile, "write", "", "`NAME`: make the test a recipe of your own, or write it to a file that ends in .toml")
	f.BoolVar(&x.AsJSON, "json", false, "print JSON")
	return cmd
}

func runFilmTest(p *app.Env, r sequence.Recipe, x filmtest.Options) error {
	t, err := x.Make(r, app.Films().Collect(r.Film.Name))
	if err != nil {
		return err
	}
	expected, err := curve.ForecastTest(t.Times, t.Guess, x.Target, curve.Errors{Reading: curve.Density(x.ReadingError), Scatter: x.Scatter})
	if err != nil {
		return err
	}
	exposed, err := x.Exposure()
	if err != nil {
		return err
	}
	plan := &t.Plan
	if m := plan.Wet.Margin; m != nil && *m < 0 && x.WriteFile != "" {
		return fmt.Errorf("wet for %s %s, %s over its limit, and longer in other open vessels; expected shorter times, fewer sheets or a shorter wash",
			sequence.FormatElapsed(plan.Wet.Total), plan.Vessel.In(), sequence.FormatElapsed(-*m))
	}
	if x.WriteFile != "" {
		if x.WriteFile, err = writeFilmTest(t.Recipe, x.WriteFile); err != nil {
			return err
		}
	}
	if x.AsJSON {
		return p.WriteJSON(filmTestJSON{t.Times, plan.Vessel, expected, plan.Wet, exposed, t.Notes, t.Advice})
	}
	printFilmTest(p, t, expected, x, exposed)
	return nil
}

// writeFilmTest writes the test under a name among the person's own recipes, or to a file.
func writeFilmTest(r sequence.Recipe, name string) (path string, err error) {
	if path, err = recipes.OwnPath(name, app.RecipesFolder()); err != nil {
		return "", app.AsUsage(err)
	}
	text, err := app.CheckedRecipeText(r)
	if err != nil {
		return "", err
	}
	if path == name {
		return path, app.WriteNewFile(path, text)
	}
	return path, app.WriteNewRecipe(path, text)
}

func printFilmTest(p *app.Env, t filmtest.MadeTest, e curve.TestForecast, x filmtest.Options, exposed *curve.ExposedTablet) {
	plan := &t.Plan
	fmt.Fprintln(p.Out, filmtest.PullTimesText(plan, t.Times))
	for _, note := range t.Notes {
		fmt.Fprintln(p.Out, safetext.Clean(note))
	}
	if text := filmtest.ExpectationText(e, x.Target); text != "" {
		fmt.Fprintln(p.Out, text)
	}
	for _, note := range e.Notes {
		fmt.Fprintf(p.Out, "note: %s\n", safetext.Clean(note))
	}
	for _, line := range say.NextSheets(&t.Advice, p.Settings.Habits) {
		fmt.Fprintln(p.Out, say.Sentence(line))
	}
	printExposing(p, x, exposed, &plan.Recipe)
	for _, c := range plan.Cautions {
		if c.Level != sequence.Note {
			fmt.Fprintf(p.Out, "%s: %s\n", c.Level, safetext.Clean(say.Caution(c, plan, p.Settings.Habits)))
		}
	}
	if x.WriteFile != "" {
		fmt.Fprintf(p.Out, "written to %s\n", safetext.Clean(x.WriteFile))
	}
}

func printExposing(p *app.Env, x filmtest.Options, e *curve.ExposedTablet, of *sequence.Recipe) {
	r, handled := of.Film.Reciprocity, filmtest.MarkingText+say.HowToClip(of.Load.Sheets)+"\n"
	if e == nil {
		fmt.Fprint(p.Out, filmtest.ContactPrintText+handled)
		return
	}
	fmt.Fprintf(p.Out, filmtest.ThroughCameraText, e.Index, e.Stops, float64(e.MeteredAt), float64(e.SpeedPointAt))
	if r != nil {
		fmt.Fprintf(p.Out, "Keep the exposure under %s: from there on the film loses speed and gains contrast.\n", r.Table[0][0])
	}
	fmt.Fprint(p.Out, handled)
	for _, note := range e.Notes {
		fmt.Fprintf(p.Out, "care: %s\n", note)
	}
	fmt.Fprintf(p.Out, "Evaluate it with --exposed %q.\n", safetext.Clean(x.Exposed))
}
