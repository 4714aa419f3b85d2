package cli

// wetside check: are these recipes right?

import (
	"github.com/spf13/cobra"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
)

func newCheckCommand(p *app.Env) *cobra.Command {
	return &cobra.Command{
		Use:     "check FILE...",
		Short:   "check recipes: silent where all is well",
		Example: "  wetside check my-recipe.toml",
		Args:    flags.UsageArgs(cobra.MinimumNArgs(1)),
		RunE: func(_ *cobra.Command, files []string) error {
			found := false
			for _, file := range files {
				if err := app.CheckRecipeFile(file); err != nil {
					found = true
					p.PrintError(err)
				}
			}
			if found {
				return app.ErrReported
			}
			return nil
		},
	}
}
