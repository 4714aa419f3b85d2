package cli

// wetside holders group: waiting sheets put into few sessions.

import (
	"fmt"
	"math"

	"github.com/spf13/cobra"

	"example.org/wetside/chem/curve"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/curvecmd"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/densities"
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
	stated                  bool // paper or flare were
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
	Print    *groupPrintJSON  `json:"print"`         // null where no readings of the film told the time
}

// groupPrintJSON is the print that a sheet's time was found for.
type groupPrintJSON struct {
	Subject float64          `json:"subject_stops"` // from where the shadow stands
	Paper   float64          `json:"paper_range"`
	Low     sequence.Elapsed `json:"low_s"`
	High    sequence.Elapsed `json:"high_s"`
	More    *float64         `json:"more_exposure_stops"` // than N
	Chance  float64          `json:"chance"`
	Near    float64          `json:"chance_half_grade"`
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
		Short: "group the sheets that wait into few sessions",
		Long: "Groups the sheets that wait into few sessions, by film and developing time, each within\n" +
			"the vessel's number, the wet limit and the stock. --write makes each session a recipe of\n" +
			"your own.\n\n" +
			"A sheet's aim is that of its own subject: its range from shadow to highlight, and where\n" +
			"its shadow was placed (-2: two stops under the metered tone, a stop and a third over the\n" +
			"speed point); without a shadow the range counts from the speed point. A long exposure\n" +
			"noted (\"f/22 40s\") gains contrast by the film's reciprocity, and is developed less. A\n" +
			"development written down stands.\n\n" +
			"Where the readings are kept that a recipe's times were found by (or are given), each\n" +
			"sheet's time is that of its print, with the exposure it needs over N (wetside help\n" +
			"print); else it goes by the average gradient. Sheets whose gradients are near enough\n" +
			"share a time; others are pulled from one developer at their own.",
		Example: "  wetside holders group --with plover-tray --temp 22\n" +
			"  wetside holders group --paper 1.05 --flare 0.4 --write",
		Args: flags.UsageArgs(cobra.NoArgs),
		RunE: func(cmd *cobra.Command, _ []string) error {
			x.stated = cmd.Flags().Changed("paper") || cmd.Flags().Changed("flare")
			return runHoldersGroup(p, &x)
		},
	}
	f := cmd.Flags()
	f.StringSliceVar(&x.with, "with", nil, "`RECIPE`: for its film; give it once for each film")
	f.Float64Var(&x.paper, "paper", 1.05, "`R`: the paper's log exposure range (default: that of the print which the recipe's times were found for, else 1.05)")
	f.Float64Var(&x.flare, "flare", float64(curve.DefaultFlare), "`F`: what flare takes from a subject of 2.2")
	f.Float64Var(&x.tolerance, "tolerance", planning.DefaultTolerance, "`G`: sheets whose average gradients differ by no more share a time")
	f.IntVar(&x.most, "most", 0, "`N`: most sheets in one session (default: the recipe's number)")
	f.StringVar(&x.readings, "readings", "", "`FILE`: densities of the film, in place of those kept; they give each sheet's time for its print, and its exposure index")
	f.BoolVar(&x.write, "write", false, "make each session a recipe of your own")
	f.BoolVar(&x.asJSON, "json", false, "print JSON")
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
	s := holders.Grouper{Conditions: today, Printing: holders.PaperAndFlare{Paper: curve.LogH(x.paper), Flare: curve.LogH(x.flare), Stated: x.stated},
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
	var shift indexShift
	if s.Response, shift, err = filmResponses(x.readings); err != nil {
		return err
	}
	list, left := s.Propose(waiting)
	told := asGroupsJSON(&s, list, with, shift)
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
func asGroupsJSON(by *holders.Grouper, list []holders.ProposedSession, with []recipeWithName, shift indexShift) []groupJSON {
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
		usual, _ := by.Wanted(&holders.ExposedSheet{Holder: "0"}, &b.Recipe)
		for k, w := range b.Sheets {
			one := groupSheetJSON{Sheet: k + 1, Name: w.Name, Wants: w.Time, Time: planning.TimeOf(&b.Plan, k),
				Base: b.Given(k), Gradient: app.OrNull(w.Gradient), Index: shift(w.Time, usual.Time)}
			if w.Gain > 1 {
				one.Gain = &w.Gain
			}
			if x := w.Print; x != nil {
				one.Print = &groupPrintJSON{x.Subject / math.Log10(2), x.Paper, x.Low, x.High, x.More, x.Chance, x.Near}
				if x.More != nil {
					less := -*x.More
					one.Index = &less
				}
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

// indexShift tells by how many stops the exposure index moves from the usual time to another; nil where readings do not tell.
type indexShift func(wanted, usual sequence.Elapsed) *float64

// filmResponses are the responses of films: by the readings given for their film, else by those that are kept. The
// readings given tell how the index shifts too.
func filmResponses(file string) (func(*sequence.Recipe) *holders.FilmResponse, indexShift, error) {
	if file == "" {
		return holders.ResponsesFrom(app.Densities().List(), app.Session), func(_, _ sequence.Elapsed) *float64 { return nil }, nil
	}
	family, link, err := curvecmd.ReadFamily([]string{file}, curve.Options{})
	if err != nil {
		return nil, nil, err
	}
	q := curve.Request{}
	if anchor, err := curve.ParseExposed(link.Metered); err == nil {
		q.SpeedAnchor = &anchor
	}
	r, err := curve.Evaluate(family, q)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", file, err)
	}
	s, err := densities.ResponseOf(family, r, q)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", file, err)
	}
	film := holders.NewFilmResponse(s)
	return func(recipe *sequence.Recipe) *holders.FilmResponse {
			if link.Film != "" && !holders.SameFilm(link.Film, recipe.Film.Name) {
				return nil
			}
			return film
		}, func(wanted, usual sequence.Elapsed) *float64 {
			if usual == 0 {
				return nil
			}
			return r.IndexShift(wanted, usual)
		}, nil
}
