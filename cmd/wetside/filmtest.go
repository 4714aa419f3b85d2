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
	"example.org/wetside/sequence/notebook"
)

// testPlan is the flags as typed.
type testPlan struct {
	sheets           int
	guess            string
	target           float64
	scatter, reading float64
	write            string
	asJSON           bool
}

// filmTest is what film-test says to a script.
type filmTest struct {
	Times    []time.Duration   `json:"times_s"`
	Vessel   sequence.Vessel   `json:"vessel"`
	Expected curve.Expectation `json:"expected"`
	Wet      sequence.Wet      `json:"wet"`
}

func (p *program) filmTest() *cobra.Command {
	var x testPlan
	cmd := &cobra.Command{
		Use:   "film-test RECIPE --sheets N",
		Short: "which developing times to spend test sheets on",
		Long: "Chooses developing times for so many test sheets, a geometric series round the\n" +
			"recipe's own time (or --guess), says by simulation how well they will tell the time\n" +
			"for a target, and with --write makes a recipe that takes the sheets out one by one.",
		Example: "  wetside film-test plover-tray --sheets 4 --write plover-test.toml",
		Args:    words(cobra.ExactArgs(1)),
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
	f.Float64Var(&x.target, "target", 0.58, "the average gradient that will be looked for")
	f.Float64Var(&x.reading, "reading-error", 0, "of one density (0.02)")
	f.Float64Var(&x.scatter, "scatter", 0, "from sheet to sheet, as a fraction of the gradient (0.04)")
	f.StringVar(&x.write, "write", "", "write the test as a recipe to `FILE`")
	f.BoolVar(&x.asJSON, "json", false, "as JSON")
	return cmd
}

func (p *program) planTest(r sequence.Recipe, x testPlan) error {
	at := slices.IndexFunc(r.Steps, func(s sequence.Step) bool { return s.Kind == sequence.Develop })
	if at < 0 {
		return fmt.Errorf("the recipe does not develop; expected one that does")
	}
	if x.sheets < 2 || x.sheets > 12 {
		return usage("--sheets: %d; expected 2 to 12", x.sheets)
	}
	guess := usualTime(r.Steps[at])
	if x.guess != "" {
		var err error
		if guess, err = chem.ParseDuration(x.guess); err != nil {
			return usage("--guess: %v", err)
		}
	}
	times, err := curve.Series(guess, x.sheets)
	if err != nil {
		return err
	}
	expected, err := curve.Expect(times, guess, x.target, curve.Errors{Reading: curve.Density(x.reading), Scatter: x.scatter})
	if err != nil {
		return err
	}
	test := testRecipe(r, at, times)
	plan, err := sequence.Resolve(test, sequence.Conditions{})
	if err != nil {
		return err
	}
	if x.write != "" {
		if err := writeNew(x.write, recipes.Write(test, "A film test: "+r.Title, "Taken out at times chosen round "+sequence.Clock(guess)+".")); err != nil {
			return err
		}
	}
	if x.asJSON {
		return p.json(filmTest{times, plan.Vessel, expected, plan.Wet})
	}
	p.showTest(&plan, times, expected, x)
	return nil
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

// testRecipe is a recipe made into a film test: one sheet a time, taken out of the
// developer, in hangers, where a soft film stands its wet time best and each sheet
// can be lifted by itself.
func testRecipe(r sequence.Recipe, at int, times []time.Duration) sequence.Recipe {
	r.Title = trimTitle(notebook.FilmTestTitle + r.Title)
	r.Load.Vessel, r.Load.Sheets, r.Load.ReverseEvery = sequence.Hangers, len(times), 0
	r.Steps = slices.Clone(r.Steps)
	fixed := false
	for i := range r.Steps {
		st := &r.Steps[i]
		st.Vessel, st.ReverseEvery = "", 0
		if st.Agitate.Mode == sequence.Shuffle {
			st.Agitate = sequence.Agitation{Mode: sequence.Pattern, Initial: 30 * time.Second, For: 10 * time.Second, Every: time.Minute}
		}
		if !fixed && r.Film.Sensitivity == sequence.Pan {
			st.RoomLight = sequence.Dark
		}
		fixed = fixed || st.Kind == sequence.Fix
	}
	st := &r.Steps[at]
	st.Time, st.Times, st.TakeOut, st.AtLeast = 0, nil, times, 0
	return r
}

func trimTitle(s string) string {
	if r := []rune(s); len(r) > 120 {
		return string(r[:120])
	}
	return s
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

func (p *program) showTest(plan *sequence.Plan, times []time.Duration, e curve.Expectation, x testPlan) {
	list := make([]string, len(times))
	for i, t := range times {
		list[i] = sequence.Clock(t)
	}
	fmt.Fprintf(p.out, "%d sheets in hangers, out after %s\n", len(times), strings.Join(list, ", "))
	if e.Low != nil && e.High != nil {
		fmt.Fprintf(p.out, "To be expected: the time for a gradient of %.2f to within %s to %s, in nine tests of ten.\n",
			x.target, sequence.Clock(seconds(*e.Low)), sequence.Clock(seconds(*e.High)))
	}
	for _, note := range e.Notes {
		fmt.Fprintf(p.out, "note: %s\n", recipes.Clean(note))
	}
	fmt.Fprint(p.out, `
Expose each sheet through the step tablet alike, in contact, or through the camera at
a fixed light; cover one edge: it gives base plus fog. Clip corners to know the sheets
by touch: none from the first out, one from the second, and so on.
`)
	for _, c := range plan.Cautions {
		if c.Level != sequence.Note {
			fmt.Fprintf(p.out, "%s: %s\n", c.Level, recipes.Clean(c.Text))
		}
	}
	if x.write != "" {
		fmt.Fprintf(p.out, "written to %s\n", recipes.Clean(x.write))
	}
}
