package main

// A recipe by any of its names: a path, a recipe's name, or the id of a session,
// which stands for its recipe as it was and for what the person chose then. The
// temperature is not among that: it is today's.

import (
	"fmt"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
)

// named is a recipe with the conditions that its name brings along.
type named struct {
	sequence.Recipe
	words sequence.Words
	hint  string // what the session's result asks of the next; "" for nothing
}

// findRecipe finds a recipe, or a session's.
func findRecipe(name string) (named, error) {
	r, err := recipes.Find(name, ownRecipes())
	if err == nil {
		return named{Recipe: r}, nil
	}
	s, broken := notebook.Open(journal.Default(), name)
	if s.Path == "" || s.Plan == nil {
		return named{}, err // no session has that name either
	}
	if broken != nil {
		return named{}, broken
	}
	return again(&s), nil
}

// again is a session's recipe with what was chosen for it.
func again(s *notebook.Session) named {
	n := named{Recipe: s.Plan.Recipe, words: s.Plan.Conditions.Chosen()}
	if c, ok := s.Correction(); ok {
		n.hint = fmt.Sprintf("%s: --factor %s", c.Why, c.Of(s.Plan.Conditions))
	}
	return n
}

// recipeOf is findRecipe where what was chosen does not matter.
func recipeOf(name string) (sequence.Recipe, error) {
	n, err := findRecipe(name)
	return n.Recipe, err
}
