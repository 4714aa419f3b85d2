package cli

// wetside holders: exposed sheets that wait for their development, and which session
// had which.

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/recipes"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence/holders"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/sequence/plainfile"
	"example.org/wetside/tui/say"
)

// holderJSON is a sheet with what became of it, for a script.
type holderJSON struct {
	Name                 string `json:"name"`
	holders.ExposedSheet `json:",embed"`
	Range                *float64 `json:"range_stops"` // null where it was not noted
	Session              string   `json:"session"`
	Sheet                *int     `json:"sheet"`
	Developed            *float64 `json:"development_percent"` // of what was planned
}

func newHoldersCommand(p *app.Env) *cobra.Command {
	var all, asJSON bool
	cmd := &cobra.Command{
		Use:   "holders",
		Short: "list exposed sheets that wait, and group them into sessions",
		Long: "Lists the exposed sheets that wait for development. They are plain CSV files, which may\n" +
			"be typed by hand, with the columns holder, side, film, exposure, range (of the subject,\n" +
			"in stops), shadow, development (N-1, N, N+1 or a gradient), exposed (a day) and note. A\n" +
			"sheet is off the list once a session with its name has brought it into the fixer.",
		Example: "  wetside holders add 3A --film \"Plover 80\" --range 7\n" +
			"  wetside holders group --with plover-tray\n" +
			"  wetside holders --all",
		Args: flags.UsageArgs(cobra.NoArgs),
		RunE: func(*cobra.Command, []string) error { return printHolders(p, all, asJSON) },
	}
	cmd.Flags().BoolVar(&all, "all", false, "list developed sheets too, with their session")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	cmd.AddCommand(newHoldersAddCommand(p), newHoldersDropCommand(p), newHoldersImportCommand(p), newHoldersGroupCommand(p))
	return cmd
}

func newHoldersAddCommand(p *app.Env) *cobra.Command {
	var e holders.ExposedSheet
	var day string
	cmd := &cobra.Command{
		Use:   "add HOLDER --film NAME",
		Short: "put a sheet on the list",
		Long: "Puts an exposed sheet on the list, by its holder's number and side: 3A. What you noted\n" +
			"at the camera decides how it is developed: the subject's --range, or the --development\n" +
			"that you want.",
		Example: "  wetside holders add 4B --film \"Tern 125\" --development N+1 --note \"the breakwater\"",
		Args:    flags.UsageArgs(cobra.ExactArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error {
			e.Holder, e.Side = splitHolder(args[0])
			e.Exposed = p.Clock.Read().Wall.Truncate(time.Second)
			if day != "" {
				var err error
				if e.Exposed, err = time.ParseInLocation(time.DateOnly, day, time.Local); err != nil {
					return app.Usagef("--exposed: %q; expected a day such as 2026-11-25", day)
				}
			}
			if e.Film == "" {
				return flags.Missing(cmd, "film")
			}
			if err := e.Check(); err != nil {
				return app.AsUsage(err)
			}
			said := knownFilm(&e.Film)
			if err := app.ExposedSheetLists().Add(e); err != nil {
				return err
			}
			if said != "" {
				p.Complain("note: %s", said)
			}
			return nil
		},
	}
	f := cmd.Flags()
	f.StringVar(&e.Film, "film", "", "`NAME`: the film's, as its recipe has it")
	f.StringVar(&e.Exposure, "exposure", "", "`TEXT`: how it was exposed, such as \"f/22 40s\"")
	f.Float64Var(&e.Range, "range", 0, "`STOPS`: the subject's range, shadow to highlight")
	f.StringVar(&e.Shadow, "shadow", "", "`TEXT`: where the shadow was placed, such as -2")
	f.StringVar(&e.Development, "development", "", "`DEVELOPMENT`: N-1, N, N+1 or an average gradient, in place of what the range asks for")
	f.StringVar(&day, "exposed", "", "`DATE`: the day of the exposure (default: today)")
	f.StringVar(&e.Note, "note", "", "`TEXT`: a note")
	return cmd
}

// knownFilm writes a film's name as its recipe or a sheet on the list has it, without regard to
// case; of one that nothing names it says so, with what was probably meant.
func knownFilm(film *string) string {
	var known []string
	for _, r := range recipes.OwnFirst(recipes.Usable(recipes.List(app.RecipesFolder()))) {
		known = append(known, r.Film)
	}
	for _, name := range known {
		if holders.SameFilm(name, *film) {
			*film = name
			return ""
		}
	}
	said := fmt.Sprintf("no recipe is for %q", safetext.Clean(*film))
	if near := recipes.NearestWord(*film, known); near != "" {
		said += fmt.Sprintf("; did you mean %q?", near)
	}
	return said + " (the sheet is on the list; wetside holders drop takes it off)"
}

// splitHolder parts "3A" into holder and side.
func splitHolder(name string) (holder, side string) {
	holder = strings.TrimRightFunc(name, func(r rune) bool { return r < '0' || r > '9' })
	if holder == "" {
		return name, ""
	}
	return holder, name[len(holder):]
}

func newHoldersDropCommand(p *app.Env) *cobra.Command {
	var film string
	cmd := &cobra.Command{
		Use:     "drop HOLDER",
		Short:   "take a sheet off the list",
		Long:    "Takes a sheet off the list that will not be developed, or was put there by mistake.",
		Example: "  wetside holders drop 4B",
		Args:    flags.UsageArgs(cobra.ExactArgs(1)),
		RunE: func(_ *cobra.Command, args []string) error {
			waiting, err := p.WaitingSheets()
			if err != nil {
				return err
			}
			waiting = slices.DeleteFunc(waiting, func(e holders.ExposedSheet) bool {
				return e.Name() != args[0] || film != "" && !holders.SameFilm(e.Film, film)
			})
			switch len(waiting) {
			case 0:
				return fmt.Errorf("no sheet %q waits", safetext.Clean(args[0]))
			case 1:
				return app.ExposedSheetLists().Replace(waiting[0], nil)
			}
			return fmt.Errorf("%q: %d sheets of that name wait; expected --film", safetext.Clean(args[0]), len(waiting))
		},
	}
	cmd.Flags().StringVar(&film, "film", "", "`NAME`: the film's, where several sheets have that holder")
	return cmd
}

func newHoldersImportCommand(p *app.Env) *cobra.Command {
	return &cobra.Command{
		Use:   "import FILE",
		Short: "put the sheets of a CSV file on the list",
		Long: "Puts the sheets of a CSV file on the list; all of them, or none where a line is wrong.\n" +
			"Its heading names the columns: holder, side and film at least (wetside help files shows\n" +
			"one).",
		Example: "  wetside holders import waiting.csv",
		Args:    flags.UsageArgs(cobra.ExactArgs(1)),
		RunE: func(_ *cobra.Command, args []string) error {
			data, err := plainfile.Read(args[0], app.MaxTableFile)
			if err != nil {
				return err
			}
			list, err := holders.ReadCSV(args[0], data)
			if err != nil {
				return err
			}
			if err := app.ExposedSheetLists().Add(list...); err != nil {
				return err
			}
			fmt.Fprintf(p.Err, "put %s on the list\n", say.Count(len(list), "sheet"))
			return nil
		},
	}
}

func printHolders(p *app.Env, all, asJSON bool) error {
	list, fates, err := p.ExposedSheets()
	if err != nil {
		return err
	}
	shares := make([]*float64, len(list))
	if all {
		shares = holders.DevelopedShares(fates, func(id string) (notebook.Session, error) { return notebook.Open(journal.Default(), id) })
	}
	told := []holderJSON{}
	var lines []string
	for i := range list {
		if f := fates[i]; all || f.Session == "" {
			told = append(told, asHolderJSON(&list[i], f, shares[i]))
			lines = append(lines, holderText(&list[i], f, shares[i]))
		}
	}
	if asJSON {
		return p.WriteJSON(told)
	}
	if len(lines) == 0 {
		lines = []string{"No sheet waits."}
	}
	_, err = fmt.Fprintln(p.Out, app.CleanPage(strings.Join(lines, "\n")))
	return err
}

func asHolderJSON(e *holders.ExposedSheet, f holders.Outcome, share *float64) holderJSON {
	t := holderJSON{Name: e.Name(), ExposedSheet: *e, Range: app.OrNull(e.Range), Session: f.Session}
	if f.Session != "" {
		t.Sheet = &f.Sheet
	}
	if share != nil {
		percent := 100 * *share
		t.Developed = &percent
	}
	return t
}

// holderText is a sheet on one line.
func holderText(e *holders.ExposedSheet, f holders.Outcome, share *float64) string {
	wants := e.Development
	if e.Range != 0 {
		wants = strings.TrimSpace(fmt.Sprintf("%s %g stops", wants, e.Range))
	}
	line := fmt.Sprintf("%-6s %-16s %-12s", e.Name(), e.Film, cmp.Or(wants, "N"))
	if !e.Exposed.IsZero() {
		line += " " + e.Exposed.Format(time.DateOnly)
	}
	for _, text := range []string{e.Exposure, e.Shadow, e.Note} {
		if text != "" {
			line += "  " + text
		}
	}
	if f.Session != "" {
		line += fmt.Sprintf("  sheet %d of %s", f.Sheet, f.Session)
	}
	if share != nil {
		line += fmt.Sprintf(", developed %.0f%% of the plan", 100**share)
	}
	return line
}

// filmRecipes are the recipes asked for; else one for each film that waits: the
// person's own before the shipped.
func filmRecipes(names []string, waiting []holders.ExposedSheet) ([]recipeWithName, error) {
	var list []recipeWithName
	var errs []error
	for _, name := range names {
		r, err := app.FindPlainRecipe(name)
		list, errs = append(list, recipeWithName{name, r}), append(errs, err)
	}
	if len(names) > 0 {
		return list, errors.Join(errs...)
	}
	entries := recipes.OwnFirst(recipes.Usable(recipes.List(app.RecipesFolder())))
	for _, e := range waiting {
		i := slices.IndexFunc(entries, func(r recipes.Entry) bool { return holders.SameFilm(r.Film, e.Film) })
		if i < 0 || slices.ContainsFunc(list, func(n recipeWithName) bool { return holders.SameFilm(n.Film.Name, e.Film) }) {
			continue
		}
		r, err := recipes.Find(entries[i].Name, app.RecipesFolder())
		if err != nil {
			return nil, err
		}
		list = append(list, recipeWithName{entries[i].Name, r})
	}
	return list, nil
}
