package cli

// wetside edit: a recipe in the person's editor, checked on return. The file is the
// person's: nothing here writes to it, so no comment of theirs is ever lost.

import (
	"bufio"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/recipes"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/page"
)

func newEditCommand(p *app.Env) *cobra.Command {
	return &cobra.Command{
		Use:   "edit RECIPE",
		Short: "edit a recipe of your own, checked on return",
		Long: "Opens a recipe of your own in your editor ($VISUAL, $EDITOR), checks it on return and\n" +
			"shows its plan. Where it has faults they are shown, and the editor can be opened again\n" +
			"at the first. wetside itself never writes to the file.",
		Example: "  wetside edit plover-at-home",
		Args:    flags.UsageArgs(cobra.ExactArgs(1)),
		RunE: func(_ *cobra.Command, args []string) error {
			path, err := recipes.OwnPath(args[0], app.RecipesFolder())
			if err != nil {
				return app.AsUsage(err)
			}
			if _, err := os.Stat(path); err != nil {
				if _, shipped := recipes.ShippedSource(args[0]); shipped {
					return fmt.Errorf("recipe %q: it is a shipped one, which is not edited; wetside new NAME --from %s makes your own", args[0], args[0])
				}
				return fmt.Errorf("recipe %q: you have none of that name; wetside new %s makes it", args[0], args[0])
			}
			return runEdit(p, path)
		},
	}
}

// runEdit opens the editor, again for as long as the recipe has faults and the person
// wants to see to them. Where nobody can be asked it says them and is done.
func runEdit(p *app.Env, path string) error {
	answers := bufio.NewScanner(p.In)
	for line := 0; ; {
		if err := p.OpenEditor(path, line); err != nil {
			return err
		}
		err := app.CheckRecipe(path)
		if err == nil {
			return printEdited(p, path)
		}
		p.PrintError(err)
		if line = app.FirstFaultLine(err); !p.Confirm("edit it again? (enter: yes, n: leave it as it is) ", answers) {
			return app.ErrReported
		}
	}
}

// printEdited shows the plan of a recipe that was just edited.
func printEdited(p *app.Env, path string) error {
	plan, err := p.ResolvePlan(path, sequence.RawConditions{})
	if err != nil {
		return err
	}
	fmt.Fprint(p.Out, app.CleanPage(page.Plan(&plan, p.Settings.Habits, p.Width())))
	if text := filmTimeText(p, filmOffer(&plan)); text != "" {
		fmt.Fprint(p.Out, app.CleanPage("\n"+text))
	}
	name := strings.TrimSuffix(filepath.Base(path), ".toml")
	if filepath.Dir(path) != app.RecipesFolder() {
		name = path
	}
	_, err = fmt.Fprintf(p.Out, "\nIt is right. Next: wetside run %s --rehearse 30\n", safetext.Clean(name))
	return err
}
