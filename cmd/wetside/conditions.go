package main

// Today's conditions, as flags that plan and run share.

import (
	"fmt"

	"github.com/spf13/cobra"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
)

// conditions are the flags as they were typed.
type conditions struct{ sequence.Words }

// flags adds the conditions to a command.
func (c *conditions) flags(cmd *cobra.Command) {
	c.room(cmd)
	f := cmd.Flags()
	f.StringVar(&c.Sheets, "sheets", "", "number of sheets, `N`")
	f.StringVar(&c.Development, "development", "", "one of the recipe's developments (N-1, N, N+1)")
}

// bottles adds on which bottles a plan draws.
func (c *conditions) bottles(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringVar(&c.Baths, "baths", "", "kept: draw on the bottles that stand open, of each bath the newest (usual); fresh: on none; `NAME,...`: on these")
}

// room adds those that are the same for every session of a day.
func (c *conditions) room(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringVar(&c.Temp, "temp", "", "the developer read `T[@D]`: T, D before the first dip (22, 72F, 22@3m); proposed[@D]: what it should read for the recipe's time in a drift")
	f.StringVar(&c.Towards, "towards", "", "where the developer settles, `T`; with --drift")
	f.StringVar(&c.Drift, "drift", "", "time constant of that, `D`")
	f.StringVar(&c.Vessel, "vessel", "", "tray, single, cradle, hangers, daylight-tank, drum or tube")
	f.StringVar(&c.WetLimit, "wet-limit", "", "longest wet time the film stands, `D`")
	f.StringVar(&c.Factor, "factor", "", "multiplies developing time by `X`")
	f.StringVar(&c.Clearing, "clearing", "", "measured clearing time in the fixer, `D`, or D,tabular: fixed for three times it instead of twice")
}

// own adds to the words what the settings say.
func (p *program) own(w sequence.Words) sequence.Words {
	w.Habits, w.OwnLimit = p.settings.Habits, p.settings.Limit()
	return w
}

// resolve reads a recipe and plans it under the conditions typed.
func (p *program) resolve(recipe string, w sequence.Words) (sequence.Plan, error) {
	if _, err := p.own(w).Conditions(); err != nil {
		return sequence.Plan{}, usageError{err}
	}
	r, err := findRecipe(recipe)
	if err != nil {
		return sequence.Plan{}, err
	}
	words := w.Or(r.words)
	today, err := p.own(words).Conditions()
	if err != nil {
		return sequence.Plan{}, err
	}
	if words.Baths != sequence.FreshBaths {
		if today.Kept, err = words.Draw(p.keptFor(r.Recipe)); err != nil {
			return sequence.Plan{}, usageError{err}
		}
	}
	today.InHand = r.Recipe.Uses(p.inHand())
	plan, err := sequence.Resolve(r.Recipe, today)
	if err != nil {
		return sequence.Plan{}, fmt.Errorf("%s: %w", recipes.Clean(recipe), err)
	}
	return plan, nil
}
