package main

// wetside new: a recipe of one's own, from a shipped one or from a session.

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence/journal"
)

// usualStarter is what a new recipe starts from where nothing is said.
const usualStarter = "tern-hangers"

func (p *program) newRecipe() *cobra.Command {
	var from string
	var unopened bool
	cmd := &cobra.Command{
		Use:   "new NAME",
		Short: "a recipe of your own, from a shipped one or from a session",
		Long: "Makes a recipe of your own: a copy of another, byte for byte, or what a session was\n" +
			"begun with; every key is explained in comments below it. Then it is opened in your\n" +
			"editor ($VISUAL, $EDITOR), checked, and its plan shown. A recipe that is there is\n" +
			"never written over.",
		Example: "  wetside new plover-at-home --from plover-tray --unopened\n" +
			"  wetside new harbour --unopened",
		Args: words(cobra.ExactArgs(1)),
		RunE: func(_ *cobra.Command, args []string) error {
			path, err := recipes.FileOf(args[0], ownRecipes())
			if err != nil {
				return usageError{err}
			}
			text, err := p.startFrom(from)
			if err != nil {
				return err
			}
			if err := writeRecipe(path, text); err != nil {
				return err
			}
			fmt.Fprintln(p.out, recipes.Clean(path))
			if unopened {
				return nil
			}
			return p.edit(path)
		},
	}
	cmd.Flags().StringVar(&from, "from", usualStarter, "`RECIPE` or session to start from")
	cmd.Flags().BoolVar(&unopened, "unopened", false, "make it, and open no editor")
	_ = cmd.RegisterFlagCompletionFunc("from", func(_ *cobra.Command, _ []string, typed string) ([]cobra.Completion, cobra.ShellCompDirective) {
		return beginning(slices.Concat(recipeNames(), sessionNames()), typed), cobra.ShellCompDirectiveDefault
	})
	return cmd
}

// startFrom is the text that a new recipe begins with.
func (p *program) startFrom(from string) ([]byte, error) {
	text, err := recipes.SourceOf(from, ownRecipes())
	if err != nil {
		kept, broken := journal.Default().Read(from)
		plan := kept.First().Plan
		switch {
		case plan != nil:
			text = recipes.Write(plan.Recipe, plan.Recipe.Title, "As session "+from+" was begun with it.")
		case broken != nil && !errors.Is(broken, fs.ErrNotExist) && kept.Path != "":
			return nil, broken
		default:
			return nil, err
		}
	}
	if !strings.Contains(string(text), string(recipes.Explained)) {
		text = append(text, recipes.Explained...)
	}
	return text, nil
}

func writeRecipe(path string, text []byte) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return err
	}
	err := writeNew(path, text)
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%s: is there already, and stays as it is (wetside edit opens it)", recipes.Clean(path))
	}
	return err
}
