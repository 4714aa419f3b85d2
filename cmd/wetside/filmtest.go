package main

// wetside film-test: which developing times to spend test sheets on, and a recipe
// that does it.

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"example.org/wetside/chem"
	"example.org/wetside/chem/curve"
	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
)

// usualTarget is the average gradient that a test looks for until another is told.
const usualTarget = 0.58

// testPlan is the flags as typed.
type testPlan struct {
	sheets           int
	guess            string
	target           float64
	scatter, reading float64
	metered, vessel  string
	write            string
	asJSON           bool
}

// filmTest is what film-test says to a script.
type filmTest struct {
	Times    []time.Duration   `json:"times_s"`
	Vessel   sequence.Vessel   `json:"vessel"`
	Expected curve.Expectation `json:"expected"`
	Wet      sequence.Wet      `json:"wet"`
	Exposure *curve.Exposed    `json:"exposure"` // null where the tablet is printed in contact
	Notes    []string          `json:"notes"`    // what became of the vessel and the baths
}

func (p *program) filmTest() *cobra.Command {
	var x testPlan
	cmd := &cobra.Command{
		Use:   "film-test RECIPE --sheets N",
		Short: "which developing times to spend test sheets on",
		Long: "Chooses developing times for so many test sheets, a geometric series round the\n" +
			"recipe's own time (or --guess), says by simulation how well they will tell the time\n" +
			"for a target, and with --write makes a recipe with a sheet for each time,\n" +
			"in a vessel that keeps the film under its limit. Where a step comes before developing\n" +
			"the sheets go in one by one, the longest time first, and leave together.",
		Example: "  wetside film-test plover-tray --sheets 4 --write plover-test.toml\n" +
			"  wetside film-test plover-tray --sheets 4 --metered \"EI 50 +4\"",
		Args: words(cobra.ExactArgs(1)),
		RunE: func(_ *cobra.Command, args []string) error {
			r, err := recipeOf(args[0])
			if err != nil {
				return err
			}
			return p.planTest(r, x)
		},
	}
	f := cmd.Flags()
	f.IntVar(&x.sheets, "sheets", 0, "sheets to spend, `N`")
	f.StringVar(&x.guess, "guess", "", "a developing time to start from, `D`")
	f.Float64Var(&x.target, "target", usualTarget, "the average gradient that will be looked for")
	f.Float64Var(&x.reading, "reading-error", 0, "of one density (0.02)")
	f.Float64Var(&x.scatter, "scatter", 0, "from sheet to sheet, as a fraction of the gradient (0.04)")
	f.StringVar(&x.metered, "metered", "", "expose the tablet through a camera: `TEXT` is the meter's index and the stops given over it, \"EI 50 +4\"")
	f.StringVar(&x.vessel, "vessel", "", "hangers, single, cradle or tray; without it the recipe's own where that is open and no stack, else the kindest that keeps the film under its limit")
	f.StringVar(&x.write, "write", "", "write the test as a recipe to `FILE`")
	f.BoolVar(&x.asJSON, "json", false, "as JSON")
	return cmd
}

func (p *program) planTest(r sequence.Recipe, x testPlan) error {
	at, guess, times, err := x.series(r)
	if err != nil {
		return err
	}
	expected, err := curve.Expect(times, guess, x.target, curve.Errors{Reading: curve.Density(x.reading), Scatter: x.scatter})
	if err != nil {
		return err
	}
	exposed, err := x.exposed()
	if err != nil {
		return err
	}
	t, err := x.inVessel(r, at, times)
	if err != nil {
		return err
	}
	plan := &t.plan
	if m := plan.Wet.Margin; m != nil && *m < 0 && x.write != "" {
		return fmt.Errorf("wet for %s %s, %s over its limit, and longer in other open vessels; expected shorter times, fewer sheets or a shorter wash",
			sequence.Clock(plan.Wet.Total), plan.Vessel.In(), sequence.Clock(-*m))
	}
	if x.write != "" {
		text, err := recipeText(t.recipe)
		if err != nil {
			return err
		}
		if err := writeNew(x.write, text); err != nil {
			return err
		}
	}
	if x.asJSON {
		return p.json(filmTest{times, plan.Vessel, expected, plan.Wet, exposed, t.notes})
	}
	p.showTest(t, times, expected, x, exposed)
	return nil
}

// series is the step that develops, the time that is thought right, and the times to
// spend sheets on.
func (x testPlan) series(r sequence.Recipe) (at int, guess time.Duration, times []time.Duration, err error) {
	at = slices.IndexFunc(r.Steps, func(s sequence.Step) bool { return s.Kind == sequence.Develop })
	if at < 0 {
		return at, 0, nil, fmt.Errorf("the recipe does not develop; expected one that does")
	}
	if x.sheets < 2 || x.sheets > 12 {
		return at, 0, nil, usage("--sheets: %d; expected 2 to 12", x.sheets)
	}
	guess = usualTime(r.Steps[at])
	if x.guess != "" {
		if guess, err = chem.ParseDuration(x.guess); err != nil {
			return at, 0, nil, usage("--guess: %v", err)
		}
	}
	times, err = curve.Series(guess, x.sheets)
	return at, guess, times, err
}

// exposed is how the tablet lies on the film's scale when it is exposed by a meter;
// nil where it is printed in contact.
func (x testPlan) exposed() (*curve.Exposed, error) {
	if x.metered == "" {
		return nil, nil
	}
	e, err := curve.Expose(x.metered)
	if err != nil {
		return nil, usage("--metered: %v", err)
	}
	return &e, nil
}

// usualTime is a step's time, or its usual development's.
func usualTime(st sequence.Step) time.Duration {
	switch {
	case st.Time > 0:
		return st.Time
	case len(st.TakeOut) > 0:
		return st.TakeOut[len(st.TakeOut)/2]
	}
	for _, t := range st.Times {
		if t.Name == "N" {
			return t.Time
		}
	}
	return st.Times[0].Time
}

// writeNew writes a file that is not there yet.
func writeNew(name string, text []byte) error {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	_, err = f.Write(text)
	if closed := f.Close(); err == nil {
		err = closed
	}
	return err
}

func (p *program) showTest(t madeTest, times []time.Duration, e curve.Expectation, x testPlan, exposed *curve.Exposed) {
	plan := &t.plan
	fmt.Fprintln(p.out, outAfter(plan, times))
	for _, note := range t.notes {
		fmt.Fprintln(p.out, recipes.Clean(note))
	}
	if text := expectation(e, x.target); text != "" {
		fmt.Fprintln(p.out, text)
	}
	for _, note := range e.Notes {
		fmt.Fprintf(p.out, "note: %s\n", recipes.Clean(note))
	}
	p.showExposing(x, exposed, &plan.Recipe)
	for _, c := range plan.Cautions {
		if c.Level != sequence.Note {
			fmt.Fprintf(p.out, "%s: %s\n", c.Level, recipes.Clean(c.Text))
		}
	}
	if x.write != "" {
		fmt.Fprintf(p.out, "written to %s\n", recipes.Clean(x.write))
	}
}

// outAfter says which sheets come out when.
func outAfter(plan *sequence.Plan, times []time.Duration) string {
	list := make([]string, len(times))
	for i, t := range times {
		list[i] = sequence.Clock(t)
	}
	how := "out after "
	if slices.ContainsFunc(plan.Steps, func(st sequence.PlanStep) bool { return st.Together }) {
		how = "in for (the longest first, all out together) "
	}
	return fmt.Sprintf("%d sheets %s, %s%s", len(times), plan.Vessel.In(), how, strings.Join(list, ", "))
}

// expectation says how well a test will tell the time; "" where it will not.
func expectation(e curve.Expectation, target float64) string {
	if e.Low == nil || e.High == nil {
		return ""
	}
	return fmt.Sprintf("To be expected: the time for a gradient of %.2f to within %s to %s, in nine tests of ten.",
		target, sequence.Clock(seconds(*e.Low)), sequence.Clock(seconds(*e.High)))
}

// How the sheets are made ready: common practice, no source.
const (
	inContact = `
Expose each sheet alike, in contact: tablet on the emulsion under clean glass, one small
light far enough away to be even, the same time for each.
`
	throughCamera = `
Expose each sheet alike, through the camera: tablet on the emulsion in the holder, lens
at infinity (nearer, its bellows take light: see wetside expose --bellows), an evenly lit card that fills the picture. Set the meter to %.4g, meter the
card and give %+.4g stops. Tablet density %.2f then gets what the meter asks for, and a
film of that index has its speed point near density %.2f.
`
	handled = "Mask the corner across from the notch with black tape: unexposed, it gives base plus fog.\n"
)

func (p *program) showExposing(x testPlan, e *curve.Exposed, of *sequence.Recipe) {
	r, handled := of.Film.Reciprocity, handled+sequence.HowToClip(of.Load.Sheets)+"\n"
	if e == nil {
		fmt.Fprint(p.out, inContact+handled)
		return
	}
	fmt.Fprintf(p.out, throughCamera, e.Index, e.Stops, float64(e.MeteredAt), float64(e.SpeedPointAt))
	if r != nil {
		fmt.Fprintf(p.out, "Keep the exposure under %s: from there on the film loses speed and gains contrast.\n", r.Table[0][0])
	}
	fmt.Fprint(p.out, handled)
	for _, note := range e.Notes {
		fmt.Fprintf(p.out, "care: %s\n", note)
	}
	fmt.Fprintf(p.out, "Evaluate it with --metered %q.\n", recipes.Clean(x.metered))
}
