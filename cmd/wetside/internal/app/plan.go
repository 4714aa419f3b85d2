package app

// From a recipe's name and typed conditions to a plan: the one way that all commands use.

import (
	"fmt"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/bottles"
	"example.org/wetside/sequence/planning"
)

// ResolvePlan reads a recipe and plans it under the conditions typed.
func (p *Env) ResolvePlan(recipe string, w sequence.RawConditions) (sequence.Plan, error) {
	if _, err := p.WithSettings(w).Conditions(); err != nil {
		return sequence.Plan{}, AsUsage(err)
	}
	r, err := FindRecipe(recipe)
	if err != nil {
		return sequence.Plan{}, err
	}
	words := w.Or(r.Conditions)
	today, err := p.WithSettings(words).Conditions()
	if err != nil {
		return sequence.Plan{}, err
	}
	if words.Bottles != sequence.FreshBathsWord {
		if today.OpenBottles, err = bottles.Choose(words, p.BottlesFor(r.Recipe)); err != nil {
			return sequence.Plan{}, AsUsage(err)
		}
	}
	today.Stock = planning.StockUsed(&r.Recipe, p.StockInHand())
	plan, err := planning.Resolve(r.Recipe, today)
	if err != nil {
		return sequence.Plan{}, fmt.Errorf("%s: %w", safetext.Clean(recipe), err)
	}
	return plan, nil
}
