package cli

// wetside holders group: waiting sheets put into few sessions.

import (
	"fmt"

	"github.com/spf13/cobra"

	"example.org/wetside/chem/curve"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/curvecmd"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/holders"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/say"
)

// recipeWithName is a recipe with the name it was found by.
type recipeWithName struct {
	name string
	sequence.Recipe
}

// groupFlags are the words of sort.
type groupFlags struct {
	flags.ConditionFlags
	with                    []string
	paper, flare, tolerance float64
	most                    int
	readings                string
	write, asJSON           bool
}

// groupJSON is a session proposed, for a script.
type groupJSON struct {
	Recipe string           `json:"recipe"`
	Film   string           `json:"film"`
	Vessel sequence.Vessel  `json:"vessel"`
	Wet    sequence.Wet     `json:"wet"`
	Sheets []groupSheetJSON `json:"sheets"`
	// those that are more than a note
	Cautions []sequence.Caution `json:"cautions"`
	File     *string            `json:"file"`
}

type groupSheetJSON struct {
	Sheet    int              `json:"sheet"`
	Name     string           `json:"name"`
	Wants    sequence.Elapsed `json:"wants_s"` // at the reference temperature
	Time     sequence.Elapsed `json:"time_s"`  // given today
	Base     sequence.Elapsed `json:"base_s"`  // that this is at the reference temperature
	Gradient *float64         `json:"average_gradient"`
	Index    *float64         `json:"index_shift_stops"`
	Gain     *float64         `json:"contrast_gain"` // of a long exposure, which the time makes up for
}

type unplacedJSON struct {
	Name string `json:"name"`
	Film string `json:"film"`
	Why  string `json:"why"`
}

func newHoldersGroupCommand(p *app.Env) *cobra.Command {
	var x groupFlags
	cmd := &cobra.Command{
		Use:   "group",
		Short: "few sessions for the sheets that wait",
		Long: "Sorts the sheets that wait by film and developing time into few sessions, each within\n" +
			"the vessel's number, the wet limit and the stock. A sheet's aim is that of its own subject:\n" +
			"its range from shadow to highlight, and where its shadow was placed (-2: two stops under\n" +
			"the metered tone, a stop and a third over the speed point); without a shadow the range counts\n" +
			"from the speed point. A long exposure noted (\"f/22 40s\") gains contrast by the film's\n" +
			"reciprocity, and is developed less. A development written down stands. Sheets whose gradients are near enough\n" +
			"share a time; others are pulled from one developer at their own. With --write each\n" +
			"session becomes a recipe of your own.",
		Example: "  wetside holders group --with plover-tray --temp 22\n" +
			"  wetside holders group --paper 1.05 --flare 0.4 --write",
		Args: flags.UsageArgs(cobra.NoArgs),
		RunE: func(cmd *cobra.Command, _ []string) error { return runHoldersGroup(p, &x) },
	}
	f := cmd.Flags()
	f.StringSliceVar(&x.with, "with", nil, "the `RECIPE` for its film; several times for several films")
	f.Float64Var(&x.paper, "paper", 1.05, "the paper's log exposure scale, `R`")
	f.Float64Var(&x.flare, "flare", float64(curve.DefaultFlare), "what flare takes from a subject's log range, `R`")
	f.Float64Var(&x.tolerance, "tolerance", planning.DefaultTolerance, "in average gradient, within which sheets share a time, `G`")
	f.IntVar(&x.most, "most", 0, "sheets in one session, `N`; usually the recipe's")
	f.StringVar(&x.readings, "readings", "", "densities of the film, `FILE`: they give how the exposure index shifts with development")
	f.BoolVar(&x.write, "write", false, "write each session as a recipe of your own")
	f.BoolVar(&x.asJSON, "json", false, "as JSON")
	x.AddDay(cmd)
	return cmd
}

// groupingOf is what the words ask for.
func groupingOf(p *app.Env, x *groupFlags, waiting []holders.ExposedSheet) (holders.Grouper, []recipeWithName, error) {
	if !(x.tolerance > 0 && x.tolerance < 1) || x.most < 0 {
		return holders.Grouper{}, nil, app.Usagef("--tolerance: %g, --most: %d; expected a tolerance between 0 and 1 and a number of sheets", x.tolerance, x.most)
	}
	if !(x.paper > 0 && x.paper <= 3) || !(x.flare >= 0 && x.flare < 2) {
		return holders.Grouper{}, nil, app.Usagef("--paper: %g, --flare: %g; expected log ranges such as 1.05 and 0.4", x.paper, x.flare)
	}
	today, err := p.WithSettings(x.RawConditions).Conditions()
	if err != nil {
		return holders.Grouper{}, nil, app.AsUsage(err)
	}
	with, err := filmRecipes(x.with, waiting)
	s := holders.Grouper{Conditions: today, Printing: holders.PaperAndFlare{Paper: curve.LogH(x.paper), Flare: curve.LogH(x.flare)},
		Grouping: planning.Grouping{Tolerance: x.tolerance, Most: x.most}}
	for _, r := range with {
		s.Recipes = append(s.Recipes, r.Recipe)
	}
	return s, with, err
}

func runHoldersGroup(p *app.Env, x *groupFlags) error {
	waiting, err := p.WaitingSheets()
	if err != nil {
		return err
	}
	s, with, err := groupingOf(p, x, waiting)
	if err != nil {
		return err
	}
	shift, err := indexShift(x.readings)
	if err != nil {
		return err
	}
	list, left := s.Propose(waiting)
	told := asGroupsJSON(list, with, shift)
	if x.write {
		for i := range list {
			file, err := writeGroupRecipe(p, list[i], i+1)
			if err != nil {
				return err
			}
			told[i].File = &file
		}
	}
	if x.asJSON {
		return p.WriteJSON(struct {
			Sessions []groupJSON    `json:"sessions"`
			Left     []unplacedJSON `json:"left"`
		}{told, asUnplacedJSON(left, waiting, p.Settings.Habits)})
	}
	_, err = fmt.Fprint(p.Out, app.CleanPage(groupsText(p, list, told, left, waiting)))
	return err
}

// asGroupsJSON tells sessions.
func asGroupsJSON(list []holders.ProposedSession, with []recipeWithName, shift func(wanted, usual sequence.Elapsed) *float64) []groupJSON {
	told := []groupJSON{}
	for _, b := range list {
		t := groupJSON{Film: b.Plan.Recipe.Film.Name, Vessel: b.Plan.Vessel, Wet: b.Plan.Wet, Cautions: []sequence.Caution{}}
		for _, c := range say.Cautions(&b.Plan, sequence.Units{}) {
			if c.Level != sequence.Note {
				t.Cautions = append(t.Cautions, c)
			}
		}
		for _, r := range with {
			if r.Film.Name == t.Film && t.Recipe == "" {
				t.Recipe = r.name
			}
		}
		usual, _ := (&holders.ExposedSheet{Holder: "0"}).DevelopmentWanted(&b.Recipe, holders.PaperAndFlare{})
		for k, w := range b.Sheets {
			one := groupSheetJSON{Sheet: k + 1, Name: w.Name, Wants: w.Time, Time: planning.TimeOf(&b.Plan, k), Base: b.Given(k), Index: shift(w.Time, usual.Time)}
			if w.Gradient > 0 {
				one.Gradient = &w.Gradient
			}
			if w.Gain > 1 {
				one.Gain = &w.Gain
			}
			t.Sheets = append(t.Sheets, one)
		}
		told = append(told, t)
	}
	return told
}

func asUnplacedJSON(left []holders.Unplaced, waiting []holders.ExposedSheet, h sequence.Units) []unplacedJSON {
	told := []unplacedJSON{}
	for _, l := range left {
		e := &waiting[l.Sheet]
		told = append(told, unplacedJSON{e.Name(), e.Film, say.Unplaced(l, e, h)})
	}
	return told
}

// indexShift tells by how many stops the exposure index moves from the usual time to
// another, from readings of the film; nil where they do not tell.
func indexShift(file string) (func(wanted, usual sequence.Elapsed) *float64, error) {
	none := func(_, _ sequence.Elapsed) *float64 { return nil }
	if file == "" {
		return none, nil
	}
	family, _, err := curvecmd.ReadFamily([]string{file}, curve.Options{})
	if err != nil {
		return none, err
	}
	r, err := curve.Evaluate(family, curve.Request{})
	if err != nil {
		return none, fmt.Errorf("%s: %w", file, err)
	}
	return func(wanted, usual sequence.Elapsed) *float64 {
		if usual == 0 {
			return nil
		}
		return r.IndexShift(wanted, usual)
	}, nil
}
