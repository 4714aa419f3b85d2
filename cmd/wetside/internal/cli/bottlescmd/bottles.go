// Package bottlescmd is the command wetside bottles. Start with NewBottlesCommand; the rules are in
// sequence/bottles, the words in tui/say.
package bottlescmd

// wetside bottles: which bottles stand open, what they have done, how long they keep.

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence/bottles"
	"example.org/wetside/sequence/places"
	"example.org/wetside/tui/say"
)

// bottleFlags are the words of baths and what stands under it.
type bottleFlags struct {
	all, asJSON                                    bool
	bath, volume, name, mixedAgo, keeps, sheetSize string
	sheets                                         int
}

// NewBottlesCommand is the command.
func NewBottlesCommand(p *app.Env) *cobra.Command {
	var k bottleFlags
	cmd := &cobra.Command{
		Use:   "bottles",
		Short: "track mixed bottles and stock: how old, what they have done",
		Long: "Lists the open bottles of mixed baths: how old they are, and what they have done. Plans\n" +
			"draw on them: on the bottle mixed last under the bath's name from the same parts. A\n" +
			"session books its sheets when it is over; a rehearsal never does. BOTTLE is a bottle's\n" +
			"name, or enough of its beginning.",
		Example: "  wetside bottles open plover-tray\n" +
			"  wetside bottles use fixer --sheets 4 --size 4x5in",
		Args: flags.UsageArgs(cobra.NoArgs),
		RunE: func(*cobra.Command, []string) error { return printBottles(p, &k) },
	}
	cmd.Flags().BoolVar(&k.all, "all", false, "list retired bottles too")
	cmd.Flags().BoolVar(&k.asJSON, "json", false, "print JSON")
	cmd.AddCommand(newBottlesOpenCommand(p), newBottlesUseCommand(p), newBottlesSwapCommand(p), newBottlesRetireCommand(p), newBottlesStockCommand(p), newBottlesTakeCommand(p), newBottlesClearingCommand(p), newBottlesSilverCommand(p), newBottlesReplenishCommand(p))
	return cmd
}

func newBottlesUseCommand(p *app.Env) *cobra.Command {
	var k bottleFlags
	cmd := &cobra.Command{
		Use:   "use BOTTLE",
		Short: "note film that went through a bottle without a session",
		Long: "Notes film that went through a bottle without a session, so that plans know what the\n" +
			"bottle still does.",
		Example: "  wetside bottles use fixer --sheets 4",
		Args:    flags.UsageArgs(cobra.ExactArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error {
			if !cmd.Flags().Changed("sheets") {
				return flags.Missing(cmd, "sheets")
			}
			area, err := flags.FilmArea(k.sheets, k.sheetSize)
			if err != nil {
				return err
			}
			return writeBottleEntry(p, args[0], bottles.Entry{Action: bottles.Used, Area: area})
		},
	}
	cmd.Flags().IntVar(&k.sheets, "sheets", 0, "`N`: number of sheets")
	cmd.Flags().StringVar(&k.sheetSize, "size", "4x5in", "`AxB`: size of a sheet")
	return cmd
}

func newBottlesSwapCommand(p *app.Env) *cobra.Command {
	return &cobra.Command{
		Use:   "swap FIRST SECOND",
		Short: "retire the first of two fixing baths: the second takes its place",
		Long: "Retires the first of two fixing baths, on which film counts and which is spent first, by\n" +
			"its sheets or its clearing time (collect the silver). The second takes its place and counts\n" +
			"from there. Mix a new second then: wetside bottles open RECIPE --bath ID.",
		Example: "  wetside bottles swap first-fixer second-fixer",
		Args:    flags.UsageArgs(cobra.ExactArgs(2)),
		RunE:    func(_ *cobra.Command, args []string) error { return runBottlesSwap(p, args[0], args[1]) },
	}
}

func newBottlesRetireCommand(p *app.Env) *cobra.Command {
	return &cobra.Command{
		Use:   "retire BOTTLE",
		Short: "take a used bottle off the list: collect its silver",
		Long: "Takes a bottle off the list that is used up, or was handed in. Collect the silver of a\n" +
			"fixer.",
		Example: "  wetside bottles retire wash-aid",
		Args:    flags.UsageArgs(cobra.ExactArgs(1)),
		RunE: func(_ *cobra.Command, args []string) error {
			return writeBottleEntry(p, args[0], bottles.Entry{Action: bottles.Retired})
		},
	}
}

func newBottlesSilverCommand(p *app.Env) *cobra.Command {
	return &cobra.Command{
		Use:   "silver BOTTLE passed|failed",
		Short: "note a test for residual silver",
		Long: "Notes a test for residual silver: a drop of a weak sulfide solution on a washed, clear\n" +
			"margin of the film; more than a cream tint is silver that was not fixed out (from\n" +
			"memory: the test solution's maker comes first; with acid sulfide gives off a poisonous\n" +
			"gas). After a test that failed plans ask for care until one passes. Two fixing baths in\n" +
			"a row leave the least.",
		Example:   "  wetside bottles silver fixer passed",
		ValidArgs: []cobra.Completion{"passed", "failed"},
		Args:      flags.UsageArgs(cobra.ExactArgs(2)),
		RunE: func(_ *cobra.Command, args []string) error {
			if args[1] != "passed" && args[1] != "failed" {
				return app.Usagef("%q; expected passed or failed", args[1])
			}
			return writeBottleEntry(p, args[0], bottles.Entry{Action: bottles.Silver, Passed: args[1] == "passed"})
		},
	}
}

func newBottlesReplenishCommand(p *app.Env) *cobra.Command {
	var k bottleFlags
	cmd := &cobra.Command{
		Use:   "replenish BOTTLE",
		Short: "note replenisher that was added to a developer",
		Long: "Notes replenisher that was added to a developer. Sheets that it was added for no longer\n" +
			"lengthen the developing time, where the recipe's reuse says how much is added for each;\n" +
			"the plan says how much is wanted.",
		Example: "  wetside bottles replenish developer --volume 80ml",
		Args:    flags.UsageArgs(cobra.ExactArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error {
			if !cmd.Flags().Changed("volume") {
				return flags.Missing(cmd, "volume")
			}
			v, err := bottles.ParseReplenisher(k.volume)
			if err != nil {
				return app.Usagef("--volume: %v", err)
			}
			return writeBottleEntry(p, args[0], bottles.Entry{Action: bottles.Replenished, Volume: v})
		},
	}
	cmd.Flags().StringVar(&k.volume, "volume", "", "`VOLUME`: how much was added")
	return cmd
}

// writeBottleEntry writes what was done with an open bottle, and says how it stands then.
func writeBottleEntry(p *app.Env, name string, e bottles.Entry) error {
	b, err := p.ReadBottles()
	if err != nil {
		return err
	}
	e.At = p.Clock.Read().Wall
	if s, err := b.StockNamed(name); err == nil && e.Action == bottles.Retired && !b.IsOpen(name) {
		e.Bottle = s.Name
		if err := app.BottleLedger().Write(e); err != nil {
			return err
		}
		return printStock(p, false)
	}
	c, err := b.OpenBottleNamed(name)
	if err != nil {
		return err
	}
	e.Bottle = c.Name
	if err := app.BottleLedger().Write(e); err != nil {
		return err
	}
	return printBottle(p, c.Name)
}

// printBottle says how a bottle stands now.
func printBottle(p *app.Env, name string) error {
	b, err := app.BottleLedger().Read()
	if err != nil {
		return err
	}
	for _, c := range b.Bottles {
		if c.Name == name {
			_, err = fmt.Fprint(p.Out, app.CleanPage(bottleText(p, b, c)))
		}
	}
	return err
}

// runBottlesSwap throws the first fixer away and puts the second in its place.
func runBottlesSwap(p *app.Env, first, second string) error {
	b, err := p.ReadBottles()
	if err != nil {
		return err
	}
	one, err := b.OpenBottleNamed(first)
	if err != nil {
		return err
	}
	two, err := b.OpenBottleNamed(second)
	if err != nil {
		return err
	}
	if one.Name == two.Name {
		return app.Usagef("bottles swap: %q twice; expected the first fixer and the second", one.Name)
	}
	if err := p.SwapBottles(one, two); err != nil {
		return err
	}
	fmt.Fprintf(p.Out, "%s is retired: collect its silver\n", safetext.Clean(one.Name))
	return printBottle(p, two.Name)
}

// printBottles tells all bottles, or those that stand open.
func printBottles(p *app.Env, k *bottleFlags) error {
	b, err := p.ReadBottles()
	if err != nil {
		return err
	}
	list := b.Bottles
	if !k.all {
		list = b.OpenBottles()
	}
	if b.Unreadable > 0 {
		p.Complain("bottles: %d lines of %s cannot be read, or belong to no bottle", b.Unreadable, places.Data("baths"))
	}
	if k.asJSON {
		told := make([]bottleJSON, len(list))
		for i, c := range list {
			told[i] = asBottleJSON(p, b, c)
		}
		return p.WriteJSON(told)
	}
	if len(list) == 0 {
		_, err := fmt.Fprintln(p.Out, "No open bottle. wetside bottles open RECIPE opens one for each bath.")
		return err
	}
	for _, c := range list {
		if _, err := fmt.Fprint(p.Out, app.CleanPage(bottleText(p, b, c))); err != nil {
			return err
		}
	}
	return nil
}

// bottleText is a bottle on a line or two.
func bottleText(p *app.Env, all bottles.Inventory, c bottles.Bottle) string {
	now := p.Clock.Read().Wall
	serves := "for " + c.Bath.ID
	if v := c.OpenBottle(now).Volume; v > 0 {
		serves += ", " + say.Volume(v, p.Settings.Habits)
	}
	facts := append([]string{serves, "mixed " + say.DayAndTime(c.Mixed.Local(), p.Settings.Habits)}, say.BottleCondition(&c, now, p.Settings.Habits)...)
	if next := say.BottleFollower(&c, all, now); next != "" {
		facts = append(facts, next)
	}
	return fmt.Sprintf("%-26s %s\n", c.Name, strings.Join(facts, "; "))
}
