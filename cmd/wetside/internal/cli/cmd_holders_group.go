package cli

// wetside holders group: waiting sheets put into few sessions.

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"example.org/wetside/chem/curve"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/curvecmd"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/holders"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/page"
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
			"the vessel's number, the wet limit and the stock. Sheets whose gradients are near enough\n" +
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
		}{told, asUnplacedJSON(left, waiting)})
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
			t.Sheets = append(t.Sheets, one)
		}
		told = append(told, t)
	}
	return told
}

func asUnplacedJSON(left []holders.Unplaced, waiting []holders.ExposedSheet) []unplacedJSON {
	told := []unplacedJSON{}
	for _, l := range left {
		e := &waiting[l.Sheet]
		told = append(told, unplacedJSON{e.Name(), e.Film, say.Unplaced(l, e)})
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

// groupsText is the sessions, each with its time line, then what has none.
func groupsText(p *app.Env, list []holders.ProposedSession, told []groupJSON, left []holders.Unplaced, waiting []holders.ExposedSheet) string {
	b := &strings.Builder{}
	for i, s := range list {
		wet := "wet for " + sequence.FormatElapsed(s.Plan.Wet.Total)
		if s.Plan.Wet.Limit != nil {
			wet += " of " + sequence.FormatElapsed(*s.Plan.Wet.Limit)
		}
		number := "1 sheet"
		if s.Plan.Sheets > 1 {
			number = fmt.Sprintf("%d sheets", s.Plan.Sheets)
		}
		fmt.Fprintf(b, "%d. %s, %s %s by %s, %s\n", i+1, s.Plan.Recipe.Film.Name, number, s.Plan.Vessel.In(), told[i].Recipe, wet)
		for _, line := range page.TimeLine(&s.Plan, p.Width()) {
			fmt.Fprintln(b, line)
		}
		for _, w := range told[i].Sheets {
			fmt.Fprintln(b, "  "+groupSheetText(w))
		}
		for _, c := range told[i].Cautions {
			fmt.Fprintf(b, "  %s: %s\n", c.Level, say.Caution(c, &list[i].Plan, p.Settings.Habits))
		}
		if told[i].File != nil {
			line := "  written: " + *told[i].File
			if t := s.Plan.Conditions.BathTemperature; t != nil {
				line += "; its times are for the recipe's temperature: give --temp " + say.Degrees(*t, p.Settings.Habits) + " to plan it as here"
			}
			fmt.Fprintln(b, line)
		}
		fmt.Fprintln(b)
	}
	for _, l := range left {
		fmt.Fprintf(b, "no session for %s: %s\n", waiting[l.Sheet].Name(), say.Unplaced(l, &waiting[l.Sheet]))
	}
	if b.Len() == 0 {
		return "No sheet waits.\n"
	}
	return b.String()
}

// groupSheetText is a sheet in its session.
func groupSheetText(w groupSheetJSON) string {
	line := fmt.Sprintf("sheet %d  %-6s develop %s", w.Sheet, w.Name, sequence.FormatElapsed(w.Time))
	if (w.Time - w.Base).Abs() >= time.Second {
		line += " (" + sequence.FormatElapsed(w.Base) + " in the recipe)"
	}
	if (w.Base - w.Wants).Abs() >= time.Second {
		line += ", wants " + sequence.FormatElapsed(w.Wants)
	}
	if w.Gradient != nil {
		line += fmt.Sprintf(", gradient %.2f", *w.Gradient)
	}
	if w.Index != nil {
		line += fmt.Sprintf(", index %+.1f stops", *w.Index)
	}
	return line
}

// writeGroupRecipe makes a session a recipe of the person's own; one that is there is never
// written over.
func writeGroupRecipe(p *app.Env, b holders.ProposedSession, n int) (string, error) {
	folder := app.RecipesFolder()
	if folder == "" {
		return "", errors.New("there is no home folder for recipes")
	}
	day := p.Clock.Read().Wall.Local().Format(time.DateOnly)
	r := planning.AsChosen(&b.Plan)
	r.Title = fmt.Sprintf("%s, session %d of %s", r.Film.Name, n, day)
	for k := 0; ; k++ {
		name := fmt.Sprintf("sheets-%s-%d.toml", day, n+k)
		path := filepath.Join(folder, name)
		err := app.WriteNewRecipe(path, recipes.Write(r, "Sheets that waited, sorted into a session on "+day+"."))
		if errors.Is(err, fs.ErrExist) || err != nil && fileExists(path) {
			continue
		}
		return path, err
	}
}

func fileExists(path string) bool {
	_, err := os.Lstat(path)
	return err == nil
}
