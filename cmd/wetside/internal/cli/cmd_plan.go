package cli

// wetside plan: what will happen, before film is wet.

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/page"
	"example.org/wetside/tui/say"
)

func newPlanCommand(p *app.Env) *cobra.Command {
	var today flags.ConditionFlags
	var asJSON, strict, watch bool
	var sheet string
	cmd := &cobra.Command{
		Use:   "plan RECIPE",
		Short: "the plan of a recipe under today's conditions",
		Example: "  wetside plan plover-tray --temp 24\n" +
			"  wetside plan plover-tray --temp 22@5m --towards 19 --drift 45m --json",
		Args: flags.UsageArgs(cobra.ExactArgs(1)),
		RunE: func(_ *cobra.Command, args []string) error {
			if watch {
				return runPlanWatch(p, args[0], today.RawConditions)
			}
			plan, err := p.ResolvePlan(args[0], today.RawConditions)
			if err != nil {
				return err
			}
			if sheet != "" {
				err = writeWallSheet(p, &plan, sheet)
			}
			if err == nil && (sheet == "" || asJSON) {
				err = printPlan(p, &plan, asJSON)
			}
			if err != nil {
				return err
			}
			if n, err := app.FindRecipe(args[0]); err == nil && n.Hint != "" && !asJSON {
				fmt.Fprintln(p.Err, "hint: "+n.Hint)
			}
			if strict && len(planning.Dangers(&plan)) > 0 {
				return app.ErrReported
			}
			return nil
		},
	}
	today.Add(cmd)
	today.AddBottles(cmd)
	cmd.Flags().StringVar(&sheet, "sheet", "", "write plan and mixing to `FILE`, .html or .txt, as a sheet for the wall")
	cmd.Flags().BoolVar(&asJSON, "json", false, "as JSON")
	cmd.Flags().BoolVar(&watch, "watch", false, "show it again whenever the recipe's file has changed, beside an editor; ctrl+c ends it")
	cmd.Flags().BoolVar(&strict, "strict", false, "exit with 1 where a caution is a danger")
	return cmd
}

// writeWallSheet writes the sheet for the wall.
func writeWallSheet(p *app.Env, plan *sequence.Plan, file string) error {
	write := page.WallSheet
	switch strings.ToLower(filepath.Ext(file)) {
	case ".html", ".htm":
		write = page.WallSheetHTML
	case ".txt":
	default:
		return app.Usagef("--sheet: %q; expected a file that ends in .html or .txt", file)
	}
	if err := os.WriteFile(file, []byte(write(plan, p.Settings.Habits)), 0o600); err != nil {
		return err
	}
	_, err := fmt.Fprintf(p.Err, "wetside: the sheet is in %s\n", safetext.Clean(file))
	return err
}

func printPlan(p *app.Env, plan *sequence.Plan, asJSON bool) error {
	if !asJSON {
		_, err := fmt.Fprint(p.Out, app.CleanPage(page.Plan(plan, p.Settings.Habits, p.Width())))
		if text := notebook.ObserveLimit(journal.Default(), plan.Recipe.Film.Name, plan.Vessel).Sentence(p.Settings.Habits); err == nil && text != "" {
			_, err = fmt.Fprint(p.Out, app.CleanPage("\n"+text+"\n"))
		}
		return err
	}
	words := say.InWords(*plan)
	summary := planning.Summarise(&words)
	summary.Gentler = say.Shortenings(summary.Gentler, sequence.Units{})
	return p.WriteJSON(summary)
}
