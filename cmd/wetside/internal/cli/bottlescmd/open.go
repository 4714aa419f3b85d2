package bottlescmd

// wetside bottles open: a bottle for each bath that a recipe says parts for.

import (
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/recipes"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/say"
)

func newBottlesOpenCommand(p *app.Env) *cobra.Command {
	var k bottleFlags
	cmd := &cobra.Command{
		Use:   "open RECIPE",
		Short: "open a bottle for each bath of a recipe, or for one",
		Long: "Puts a bottle on the list for each bath of a recipe, or for one, mixed now or some time\n" +
			"ago. Plans draw on it, and stock is taken for it.",
		Example: "  wetside bottles open plover-tray --bath fixer --volume 2l --keeps 60d --name shelf-two",
		Args:    flags.UsageArgs(cobra.ExactArgs(1)),
		RunE:    func(_ *cobra.Command, args []string) error { return runBottlesOpen(p, &k, args[0]) },
	}
	f := cmd.Flags()
	f.StringVar(&k.bath, "bath", "", "`ID`: only this bath of the recipe")
	f.StringVar(&k.volume, "volume", "", "`VOLUME`: how much was mixed (default: the recipe's)")
	f.StringVar(&k.name, "name", "", "`NAME`: with --bath: what is written on the bottle")
	f.StringVar(&k.mixedAgo, "ago", "", "`DURATION`: mixed so long ago: 30m, 2h, 3d")
	f.StringVar(&k.keeps, "keeps", "", "`DURATION`: how long it keeps: 1h, 60d (default: the recipe's working_life)")
	flags.Needs(cmd, "name", "bath")
	flags.Needs(cmd, "volume", "bath")
	return cmd
}

// runBottlesOpen writes a bottle for each bath that a recipe says parts for.
func runBottlesOpen(p *app.Env, k *bottleFlags, recipe string) error {
	r, err := recipes.Find(recipe, app.RecipesFolder())
	if err != nil {
		return err
	}
	baths := r.Baths
	if k.bath != "" {
		b, err := flags.BathOf(r, k.bath)
		if err != nil {
			return err
		}
		baths = []sequence.Bath{b}
	}
	at := p.Clock.Read().Wall
	ago, err := flags.LongTime("ago", k.mixedAgo)
	if err != nil {
		return err
	}
	keeps, err := flags.LongTime("keeps", k.keeps)
	if err != nil {
		return err
	}
	if err := keepsThatLong(baths, keeps); err != nil {
		return err
	}
	for i := range baths {
		if app.IsPlainWater(baths[i]) {
			continue
		}
		if keeps > 0 {
			baths[i].WorkingLife = keeps
		}
		if k.volume != "" {
			if baths[i].Volume, err = flags.Volume("volume", k.volume); err != nil {
				return err
			}
			if baths[i].Volume == 0 {
				return app.Usagef("--volume: 0 ml; expected above zero")
			}
		}
		if err := openOneBottle(p, r, baths[i], k.name, at.Add(-ago)); err != nil {
			return err
		}
	}
	return nil
}

// keepsThatLong refuses a life that a bath for one session does not have: an old developer
// fails film that cannot be exposed again.
func keepsThatLong(baths []sequence.Bath, keeps time.Duration) error {
	for i := range baths {
		if most := planning.MostLife(&baths[i]); most > 0 && keeps > most {
			return fmt.Errorf("--keeps: %s is mixed for one session and keeps %s, says the recipe; expected at most that (--bath ID opens another bath alone)",
				safetext.Clean(baths[i].ID), say.Span(most))
		}
	}
	return nil
}

// openOneBottle says the bath's dangers, then writes the bottle into the ledger.
func openOneBottle(p *app.Env, r sequence.Recipe, b sequence.Bath, name string, at time.Time) error {
	for _, h := range say.HazardsIn(&r, &b) {
		fmt.Fprintf(p.Out, "caution: %s: %s\n", safetext.Clean(b.ID), safetext.Clean(h))
	}
	name, err := app.BottleLedger().OpenBottle(b, safetext.Clean(name), at)
	if err != nil {
		return err
	}
	return printBottle(p, name)
}
