package bottlescmd

// wetside bottles stock, bottles take: bottles of the parts that baths are mixed from.

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence/bottles"
	"example.org/wetside/tui/say"
)

func newBottlesStockCommand(p *app.Env) *cobra.Command {
	var name string
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "stock [PART VOLUME]",
		Short: "list the stock in hand, or add a bottle to it",
		Long: "Lists the bottles of the parts that baths are mixed from, or puts one more on the shelf.\n" +
			"Each bath that is mixed draws on the bottle opened first: when bottles are opened, and\n" +
			"when a session that mixed it fresh is over. A plan says before film is wet what is\n" +
			"short. A part of which no bottle is on the shelf is not counted.",
		Example: "  wetside bottles stock A 500ml\n" +
			"  wetside bottles stock --json",
		Args: flags.UsageArgs(cobra.MaximumNArgs(2)),
		RunE: func(_ *cobra.Command, args []string) error {
			switch {
			case len(args) == 1:
				return app.Usagef("VOLUME is missing; expected wetside bottles stock PART VOLUME")
			case len(args) == 0 && name != "":
				return app.Usagef("--name goes with PART and VOLUME: one bottle")
			case len(args) == 0:
				return printStock(p, asJSON)
			case asJSON:
				return app.Usagef("--json is of the list; expected no PART")
			}
			return runBottlesStock(p, args[0], args[1], name)
		},
	}
	cmd.Flags().StringVar(&name, "name", "", "`NAME`: what is written on the bottle")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	return cmd
}

func newBottlesTakeCommand(p *app.Env) *cobra.Command {
	return &cobra.Command{
		Use:   "take BOTTLE VOLUME",
		Short: "note what was taken from stock without a session",
		Long: "Notes what was taken from a bottle of stock for something else than a session or a\n" +
			"bottle.",
		Example: "  wetside bottles take a-2026-11-25 30ml",
		Args:    flags.UsageArgs(cobra.ExactArgs(2)),
		RunE: func(_ *cobra.Command, args []string) error {
			v, err := flags.VolumeArg(args[1])
			if err != nil {
				return err
			}
			b, err := p.ReadBottles()
			if err != nil {
				return err
			}
			s, err := b.StockNamed(args[0])
			if err != nil {
				return err
			}
			if v > s.Left {
				return fmt.Errorf("%s: %s wanted; %s are left", safetext.Clean(s.Name), say.Volume(v, p.Settings.Habits), say.Volume(s.Left, p.Settings.Habits))
			}
			e := bottles.Entry{At: p.Clock.Read().Wall, Action: bottles.Drawn, Bottle: s.Name, Volume: v}
			if err := app.BottleLedger().Write(e); err != nil {
				return err
			}
			return printStock(p, false)
		},
	}
}

// runBottlesStock puts a bottle on the shelf.
func runBottlesStock(p *app.Env, part, volume, name string) error {
	v, err := flags.VolumeArg(volume)
	if err != nil {
		return err
	}
	if part = strings.TrimSpace(safetext.Clean(part)); part == "" || strings.EqualFold(part, "water") {
		return app.Usagef("PART: %q; expected one that is kept in a bottle", part)
	}
	if _, err := app.BottleLedger().OpenStock(part, v, safetext.Clean(name), p.Clock.Read().Wall); err != nil {
		return err
	}
	return printStock(p, false)
}

func printStock(p *app.Env, asJSON bool) error {
	b, err := p.ReadBottles()
	if err != nil {
		return err
	}
	stock := b.StockOpen()
	if asJSON {
		return p.WriteJSON(stock)
	}
	if len(stock) == 0 {
		_, err := fmt.Fprintln(p.Out, "No stock is counted. wetside bottles stock PART VOLUME puts a bottle on the shelf")
		return err
	}
	for _, s := range stock {
		if _, err := fmt.Fprintf(p.Out, "%-26s %s: %s of %s left\n", safetext.Clean(s.Bottle), safetext.Clean(s.Part),
			say.Volume(s.Left, p.Settings.Habits), say.Volume(s.Opened, p.Settings.Habits)); err != nil {
			return err
		}
	}
	return nil
}
