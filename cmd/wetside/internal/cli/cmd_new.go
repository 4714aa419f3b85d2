package cli

// wetside new: a recipe of one's own, from a shipped one or from a session.

import (
	"fmt"

	"github.com/spf13/cobra"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/recipes"
	"example.org/wetside/recipes/safetext"
)

// defaultStarter is what a new recipe starts from where nothing is said.
const defaultStarter = "tern-hangers"

func newNewCommand(p *app.Env) *cobra.Command {
	var from string
	var noEdit bool
	cmd := &cobra.Command{
		Use:   "new NAME",
		Short: "make a recipe of your own, from another or from a session",
		Long: "Makes a recipe of your own: a copy of another, or what a session was begun with, every\n" +
			"key explained in comments below it. Then it is opened in your editor ($VISUAL, $EDITOR),\n" +
			"checked, and its plan shown. An existing recipe is never written over.",
		Example: "  wetside new plover-at-home --from plover-tray --no-edit\n" +
			"  wetside new harbour --no-edit",
		Args: flags.UsageArgs(cobra.ExactArgs(1)),
		RunE: func(c *cobra.Command, args []string) error {
			if _, shipped := recipes.ShippedSource(args[0]); shipped && !c.Flags().Changed("from") {
				from = args[0] // it will stand in for that one
			}
			path, err := recipes.OwnPath(args[0], app.RecipesFolder())
			if err != nil {
				return app.AsUsage(err)
			}
			text, err := p.NewRecipeText(from)
			if err != nil {
				return err
			}
			if err := app.WriteNewRecipe(path, text); err != nil {
				return err
			}
			fmt.Fprintln(p.Out, safetext.Clean(path))
			if noEdit {
				return nil
			}
			return runEdit(p, path)
		},
	}
	cmd.Flags().StringVar(&from, "from", defaultStarter, "`RECIPE`: recipe or session to start from")
	cmd.Flags().BoolVar(&noEdit, "no-edit", false, "do not open an editor")
	return cmd
}
