package main

// wetside check: are these recipes right?

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
)

func (p *program) check() *cobra.Command {
	return &cobra.Command{
		Use:     "check FILE...",
		Short:   "check recipes: silent where all is well",
		Example: "  wetside check my-recipe.toml",
		Args:    words(cobra.MinimumNArgs(1)),
		RunE: func(_ *cobra.Command, files []string) error {
			found := false
			for _, file := range files {
				if err := checkFile(file); err != nil {
					found = true
					p.complain(err)
				}
			}
			if found {
				return errFound
			}
			return nil
		},
	}
}

// checkFile reads a recipe and plans it as it stands.
func checkFile(file string) error {
	r, err := recipes.ReadFile(file)
	if err != nil {
		return err
	}
	if _, err := sequence.Resolve(r, sequence.Conditions{}); err != nil {
		return fmt.Errorf("%s: %w", file, err)
	}
	return nil
}

// complain writes an error, each of a recipe's faults on a line of its own.
func (p *program) complain(err error) {
	var faults recipes.Faults
	if !errors.As(err, &faults) {
		fmt.Fprintf(p.err, "wetside: %v\n", err)
		return
	}
	for _, f := range faults {
		fmt.Fprintf(p.err, "wetside: %v\n", f)
	}
}
