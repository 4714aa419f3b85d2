package main

// wetside baths stock, baths draw: bottles of the parts that baths are mixed from.

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"example.org/wetside/chem"
	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/notebook"
)

// toldStock is a bottle of stock for a script.
type toldStock struct {
	Name string           `json:"name"`
	Part string           `json:"part"`
	Left chem.Millilitres `json:"left_ml"`
	Of   chem.Millilitres `json:"of_ml"`
}

func (p *program) bathsStock() *cobra.Command {
	var name string
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "stock [PART VOLUME]",
		Short: "stock in hand: what is left of each part, or a bottle more",
		Long: "Lists the bottles of the parts that baths are mixed from, or puts one more on the shelf.\n" +
			"Each bath that is mixed draws on them, the bottle opened first first: with baths mix, and\n" +
			"where a session that is over had it mixed fresh. A plan says before film is wet what is\n" +
			"lacking. A part of which no bottle is on the shelf is not counted.",
		Example: "  wetside baths stock A 500ml\n" +
			"  wetside baths stock --json",
		Args: words(cobra.MaximumNArgs(2)),
		RunE: func(_ *cobra.Command, args []string) error {
			switch {
			case len(args) == 1:
				return usage("baths stock %s: expected a VOLUME too", recipes.Clean(args[0]))
			case len(args) == 0 && name != "":
				return usage("--name goes with PART and VOLUME: one bottle")
			case len(args) == 0:
				return p.listStock(asJSON)
			case asJSON:
				return usage("--json is of the list; expected no PART")
			}
			return p.putStock(args[0], args[1], name)
		},
	}
	cmd.Flags().StringVar(&name, "name", "", "what is written on the bottle")
	cmd.Flags().BoolVar(&asJSON, "json", false, "as JSON")
	return cmd
}

func (p *program) bathsDraw() *cobra.Command {
	return &cobra.Command{
		Use:     "draw BOTTLE VOLUME",
		Short:   "what was taken from a bottle of stock without a session",
		Example: "  wetside baths draw a-2026-11-25 30ml",
		Args:    words(cobra.ExactArgs(2)),
		RunE: func(_ *cobra.Command, args []string) error {
			v, err := someVolume(args[1])
			if err != nil {
				return err
			}
			b, err := p.readBaths()
			if err != nil {
				return err
			}
			s, err := b.StockNamed(args[0])
			if err != nil {
				return err
			}
			if v > s.Left {
				return fmt.Errorf("%s: %s wanted; %s are left", recipes.Clean(s.Name), p.settings.Habits.Short(v), p.settings.Habits.Short(s.Left))
			}
			e := notebook.Entry{At: p.source.Read().Wall, Did: notebook.Drawn, Bottle: s.Name, Volume: v}
			if err := ledger().Write(e); err != nil {
				return err
			}
			return p.listStock(false)
		},
	}
}

// someVolume is a volume above zero.
func someVolume(text string) (chem.Millilitres, error) {
	v, err := chem.ParseMillilitres(text)
	if err == nil && v <= 0 {
		err = fmt.Errorf("%q; expected above zero", text)
	}
	if err != nil {
		return 0, usage("VOLUME: %v", err)
	}
	return v, nil
}

// putStock puts a bottle on the shelf.
func (p *program) putStock(part, volume, name string) error {
	v, err := someVolume(volume)
	if err != nil {
		return err
	}
	if part = strings.TrimSpace(recipes.Clean(part)); part == "" || strings.EqualFold(part, "water") {
		return usage("PART: %q; expected one that is kept in a bottle", part)
	}
	if _, err := ledger().Put(part, v, recipes.Clean(name), p.source.Read().Wall); err != nil {
		return err
	}
	return p.listStock(false)
}

func (p *program) listStock(asJSON bool) error {
	b, err := p.readBaths()
	if err != nil {
		return err
	}
	told := []toldStock{}
	for _, s := range b.InHand() {
		told = append(told, toldStock{s.Bottle, s.Part, s.Left, s.Of})
	}
	if asJSON {
		return p.json(told)
	}
	if len(told) == 0 {
		_, err := fmt.Fprintln(p.out, "no stock is counted; wetside baths stock PART VOLUME puts a bottle on the shelf")
		return err
	}
	for _, s := range told {
		if _, err := fmt.Fprintf(p.out, "%-26s %s: %s of %s left\n", recipes.Clean(s.Name), recipes.Clean(s.Part),
			p.settings.Habits.Short(s.Left), p.settings.Habits.Short(s.Of)); err != nil {
			return err
		}
	}
	return nil
}

// inHand is the stock; none where the ledger cannot be read, which is said.
func (p *program) inHand() []sequence.InHand {
	b, err := p.readBaths()
	if err != nil {
		p.complain(err)
		return nil
	}
	return b.InHand()
}
