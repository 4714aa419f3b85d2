package app

// A recipe by any of its names: a path, a recipe's name, or the id of a session,
// which stands for its recipe as it was and for what the person chose then. The
// temperature is not among that: it is today's.

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/say"
)

// ResolvedRecipe is a recipe with the conditions that its name brings along.
type ResolvedRecipe struct {
	sequence.Recipe
	Conditions sequence.RawConditions
	Hint       string // what the session's result asks of the next; "" for nothing
}

// FindRecipe finds a recipe, or a session's.
func FindRecipe(name string) (ResolvedRecipe, error) {
	r, err := recipes.Find(name, RecipesFolder())
	if err == nil {
		return ResolvedRecipe{Recipe: r}, nil
	}
	s, broken := notebook.OpenWithLooks(journal.Default(), name)
	if s.Path == "" || s.Plan == nil {
		return ResolvedRecipe{}, err // no session has that name either
	}
	if broken != nil {
		return ResolvedRecipe{}, broken
	}
	return recipeOfSession(&s), nil
}

// recipeOfSession is a session's recipe with what was chosen for it.
func recipeOfSession(s *notebook.Session) ResolvedRecipe {
	n := ResolvedRecipe{Recipe: s.Plan.Recipe, Conditions: s.Plan.Conditions.Retyped()}
	if c, ok := s.Correction(); ok {
		n.Hint = fmt.Sprintf("%s: --factor %s", say.Correction(c), c.Of(s.Plan.Conditions))
	}
	return n
}

// FindPlainRecipe is FindRecipe where what was chosen does not matter.
func FindPlainRecipe(name string) (sequence.Recipe, error) {
	n, err := FindRecipe(name)
	return n.Recipe, err
}

// CheckRecipe reads a recipe, by its path or its name, and plans it as it stands.
func CheckRecipe(name string) error {
	r, err := recipes.Find(name, RecipesFolder())
	if err != nil {
		return err
	}
	if _, err := planning.Resolve(r, sequence.Conditions{}); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	return nil
}

// NewRecipeText is the text that a new recipe begins with.
func (p *Env) NewRecipeText(from string) ([]byte, error) {
	text, err := recipes.Source(from, RecipesFolder())
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
	return WithKeyReference(text), nil
}

// WithKeyReference is a recipe's text with every key explained below it.
func WithKeyReference(text []byte) []byte {
	if strings.Contains(string(text), string(recipes.KeyReference)) {
		return text
	}
	return append(text, recipes.KeyReference...)
}

// CheckedRecipeText is a recipe as a file, once it has been read back without a fault.
func CheckedRecipeText(r sequence.Recipe) ([]byte, error) {
	text := recipes.Write(r, r.Title, "Written by wetside; the recipe that it started from is as it was.")
	if _, err := recipes.Read("the new recipe", text); err != nil {
		return nil, err
	}
	return text, nil
}
