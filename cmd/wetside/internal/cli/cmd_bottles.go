package cli

// wetside bottles: which bottles stand open, what they have done, how long they keep.

import (
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"example.org/wetside/chem"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/recipes"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/bottles"
	"example.org/wetside/sequence/places"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/say"
)

// bottleJSON is a bottle as baths tells it to a script.
type bottleJSON struct {
	Name     string            `json:"name"`
	Bath     string            `json:"bath"`
	Parts    []chem.Part       `json:"parts"`
	Volume   *chem.Millilitres `json:"volume_ml"`
	Mixed    time.Time         `json:"mixed"`
	Age      sequence.Elapsed  `json:"age_s"` // negative where the clock was set back
	Life     *sequence.Elapsed `json:"working_life_s"`
	Stale    *bool             `json:"stale"`
	Area     float64           `json:"square_inches"`
	Sheets   float64           `json:"sheets"` // of 4x5in
	Room     *float64          `json:"room_sheets"`
	OneShot  bool              `json:"one_shot"`
	Fresh    *sequence.Elapsed `json:"fresh_clearing_s"`
	Clearing *sequence.Elapsed `json:"clearing_s"`
	Sessions []string          `json:"sessions"`
	Retired  *time.Time        `json:"retired"`
}

// bottleFlags are the words of baths and what stands under it.
type bottleFlags struct {
	all, asJSON                                    bool
	bath, volume, name, mixedAgo, keeps, sheetSize string
	sheets                                         int
}

func newBottlesCommand(p *app.Env) *cobra.Command {
	var k bottleFlags
	cmd := &cobra.Command{
		Use:   "bottles",
		Short: "track mixed bottles and stock: how old, what they have done",
		Long: "Lists the open bottles. Plans draw on them: a recipe's bath is served by the\n" +
			"bottle mixed last under the same name from the same parts. A session books itself when\n" +
			"it is over; a rehearsal never does. BOTTLE is a bottle's name, or enough of its beginning.",
		Example: "  wetside bottles open plover-tray\n" +
			"  wetside bottles use fixer --sheets 4 --size 4x5in",
		Args: flags.UsageArgs(cobra.NoArgs),
		RunE: func(*cobra.Command, []string) error { return printBottles(p, &k) },
	}
	cmd.Flags().BoolVar(&k.all, "all", false, "also those that were retired")
	cmd.Flags().BoolVar(&k.asJSON, "json", false, "as JSON")
	cmd.AddCommand(newBottlesOpenCommand(p), newBottlesUseCommand(p), newBottlesSwapCommand(p), newBottlesRetireCommand(p), newBottlesStockCommand(p), newBottlesTakeCommand(p), newBottlesClearingCommand(p))
	return cmd
}

func newBottlesOpenCommand(p *app.Env) *cobra.Command {
	var k bottleFlags
	cmd := &cobra.Command{
		Use:     "open RECIPE",
		Short:   "open a bottle for each bath of a recipe, or for one",
		Example: "  wetside bottles open plover-tray --bath fixer --volume 2l --keeps 60d",
		Args:    flags.UsageArgs(cobra.ExactArgs(1)),
		RunE:    func(_ *cobra.Command, args []string) error { return runBottlesOpen(p, &k, args[0]) },
	}
	f := cmd.Flags()
	f.StringVar(&k.bath, "bath", "", "only the bath called `ID`")
	f.StringVar(&k.volume, "volume", "", "how much was mixed, `VOLUME`; usually the recipe's")
	f.StringVar(&k.name, "name", "", "with --bath: the `NAME` written on the bottle")
	f.StringVar(&k.mixedAgo, "ago", "", "mixed `DURATION` ago: 30m, 2h, 3d")
	f.StringVar(&k.keeps, "keeps", "", "how long it keeps, `DURATION`: 1h, 60d; usually the recipe's working_life")
	flags.Needs(cmd, "name", "bath")
	flags.Needs(cmd, "volume", "bath")
	return cmd
}

func newBottlesUseCommand(p *app.Env) *cobra.Command {
	var k bottleFlags
	cmd := &cobra.Command{
		Use:   "use BOTTLE",
		Short: "film that went through a bottle without a session",
		Args:  flags.UsageArgs(cobra.ExactArgs(1)),
		RunE: func(_ *cobra.Command, args []string) error {
			area, err := flags.FilmArea(k.sheets, k.sheetSize)
			if err != nil {
				return err
			}
			return writeBottleEntry(p, args[0], bottles.Entry{Action: bottles.Used, Area: area})
		},
	}
	cmd.Flags().IntVar(&k.sheets, "sheets", 0, "how many, `N`")
	cmd.Flags().StringVar(&k.sheetSize, "size", "4x5in", "of a sheet, `AxB`")
	return cmd
}

func newBottlesSwapCommand(p *app.Env) *cobra.Command {
	return &cobra.Command{
		Use:   "swap FIRST SECOND",
		Short: "two-bath fixing: FIRST is retired, SECOND takes its place",
		Long: "Two-bath fixing: the first bath is spent first. It is retired (collect the silver),\n" +
			"the second takes its place, and a new second is mixed: wetside bottles open RECIPE --bath ID.",
		Args: flags.UsageArgs(cobra.ExactArgs(2)),
		RunE: func(_ *cobra.Command, args []string) error { return runBottlesSwap(p, args[0], args[1]) },
	}
}

func newBottlesRetireCommand(p *app.Env) *cobra.Command {
	return &cobra.Command{
		Use:   "retire BOTTLE",
		Short: "a bottle that is used up, or handed in: collect its silver",
		Args:  flags.UsageArgs(cobra.ExactArgs(1)),
		RunE: func(_ *cobra.Command, args []string) error {
			return writeBottleEntry(p, args[0], bottles.Entry{Action: bottles.Retired})
		},
	}
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
			_, err = fmt.Fprint(p.Out, app.CleanPage(bottleText(p, c)))
		}
	}
	return err
}

// runBottlesOpen writes a bottle for each bath that a recipe says parts for.
func runBottlesOpen(p *app.Env, k *bottleFlags, recipe string) error {
	r, err := recipes.Find(recipe, app.RecipesFolder())
	if err != nil {
		return err
	}
	baths := r.Baths
	if k.bath != "" {
		b, err := bathOf(r, k.bath)
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
		fmt.Fprintf(p.Err, "wetside: bottles: %d lines of %s cannot be read, or belong to no bottle\n", b.Unreadable, places.Data("baths"))
	}
	if k.asJSON {
		told := make([]bottleJSON, len(list))
		for i, c := range list {
			told[i] = asBottleJSON(p, c)
		}
		return p.WriteJSON(told)
	}
	if len(list) == 0 {
		_, err := fmt.Fprintln(p.Out, "No open bottle. wetside bottles open RECIPE opens one for each bath.")
		return err
	}
	for _, c := range list {
		if _, err := fmt.Fprint(p.Out, app.CleanPage(bottleText(p, c))); err != nil {
			return err
		}
	}
	return nil
}

// bottleText is a bottle on a line or two.
func bottleText(p *app.Env, c bottles.Bottle) string {
	now := p.Clock.Read().Wall
	serves := "for " + c.Bath.ID
	if v := c.OpenBottle(now).Volume; v > 0 {
		serves += ", " + say.Volume(v, p.Settings.Habits)
	}
	return fmt.Sprintf("%-26s %s\n", c.Name, strings.Join(append([]string{serves, "mixed " + say.DayAndTime(c.Mixed.Local(), p.Settings.Habits)}, say.BottleCondition(&c, now)...), "; "))
}

// asBottleJSON is a bottle for a script.
func asBottleJSON(p *app.Env, c bottles.Bottle) bottleJSON {
	now := p.Clock.Read().Wall
	k := c.OpenBottle(now)
	t := bottleJSON{Name: c.Name, Bath: c.Bath.ID, Parts: c.Bath.Parts, Mixed: c.Mixed, Age: k.Age, Area: c.Area, Sheets: c.Sheets(),
		OneShot: c.Bath.OneShot, Sessions: append([]string{}, c.Sessions...), Retired: c.Retired}
	if k.Volume > 0 {
		t.Volume = &k.Volume
	}
	if room, ok := k.Capacity(); ok {
		t.Room = &room
	}
	if k.WorkingLife > 0 {
		t.Life = &k.WorkingLife
		if k.Age >= 0 {
			stale := k.Age > k.WorkingLife
			t.Stale = &stale
		}
	}
	if c.FreshClearing > 0 {
		t.Fresh = &c.FreshClearing
	}
	if c.Clearing > 0 {
		t.Clearing = &c.Clearing
	}
	return t
}
