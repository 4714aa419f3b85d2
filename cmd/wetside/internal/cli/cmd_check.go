package cli

// wetside check: are these recipes right?

import (
	"errors"

	"github.com/spf13/cobra"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/recipes"
)

func newCheckCommand(p *app.Env) *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "check RECIPE|FILE...",
		Short: "check recipes, and say every fault with its line",
		Long: "Reads each recipe and plans it, as after you have edited it. Silent where all is well;\n" +
			"otherwise every fault is named with its line, and the exit status is 1.",
		Example: "  wetside check my-recipe.toml\n  wetside check plover-tray --json",
		Args:    flags.UsageArgs(cobra.MinimumNArgs(1)),
		RunE:    func(_ *cobra.Command, names []string) error { return runCheck(p, names, asJSON) },
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the faults as JSON")
	return cmd
}

func runCheck(p *app.Env, names []string, asJSON bool) error {
	found := recipes.Faults{}
	for _, name := range names {
		err := app.CheckRecipe(name)
		if err == nil {
			continue
		}
		if !asJSON {
			p.PrintError(err)
		}
		var faults recipes.Faults
		if !errors.As(err, &faults) {
			faults = recipes.Faults{{File: name, What: p.Words(err)}}
		}
		found = append(found, faults...)
	}
	if asJSON {
		if err := p.WriteJSON(found); err != nil {
			return err
		}
	}
	if len(found) > 0 {
		return app.ErrReported
	}
	return nil
}
