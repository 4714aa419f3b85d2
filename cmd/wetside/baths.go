package main

// wetside baths: which bottles stand open, what they have done, how long they keep.

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"example.org/wetside/chem"
	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/notebook"
)

// toldBottle is a bottle as baths tells it to a script.
type toldBottle struct {
	Name       string            `json:"name"`
	Bath       string            `json:"bath"`
	Parts      []chem.Part       `json:"parts"`
	Volume     *chem.Millilitres `json:"volume_ml"`
	Mixed      time.Time         `json:"mixed"`
	Age        sequence.Elapsed  `json:"age_s"` // negative where the clock was set back
	Keeps      *sequence.Elapsed `json:"keeps_s"`
	Stale      *bool             `json:"stale"`
	Area       float64           `json:"square_inches"`
	Sheets     float64           `json:"sheets"` // of 4x5in
	Room       *float64          `json:"room_sheets"`
	OneShot    bool              `json:"one_shot"`
	Fresh      *sequence.Elapsed `json:"fresh_clearing_s"`
	Clearing   *sequence.Elapsed `json:"clearing_s"`
	Sessions   []string          `json:"sessions"`
	ThrownAway *time.Time        `json:"thrown_away"`
}

// toKeep are the words of baths and what stands under it.
type toKeep struct {
	all, asJSON                        bool
	bath, volume, name, ago, keeps, of string
	sheets                             int
}

func (p *program) baths() *cobra.Command {
	var k toKeep
	cmd := &cobra.Command{
		Use:   "baths",
		Short: "the bottles that stand open: how old, what they have done",
		Long: "Lists the bottles that stand open. Plans draw on them: a recipe's bath is served by the\n" +
			"bottle mixed last under the same name from the same parts. A session books itself when\n" +
			"it is over; a rehearsal never does. BOTTLE is a bottle's name, or enough of its beginning.",
		Example: "  wetside baths mix plover-tray\n" +
			"  wetside baths book fixer --sheets 4 --size 4x5in",
		Args: words(cobra.NoArgs),
		RunE: func(*cobra.Command, []string) error { return p.listBaths(&k) },
	}
	cmd.Flags().BoolVar(&k.all, "all", false, "also those that were thrown away")
	cmd.Flags().BoolVar(&k.asJSON, "json", false, "as JSON")
	cmd.AddCommand(p.bathsMix(), p.bathsBook(), p.bathsRotate(), p.bathsThrow(), p.bathsStock(), p.bathsDraw())
	return cmd
}

func (p *program) bathsMix() *cobra.Command {
	var k toKeep
	cmd := &cobra.Command{
		Use:     "mix RECIPE",
		Short:   "open a bottle for each bath of a recipe, or for one",
		Example: "  wetside baths mix plover-tray --bath fixer --volume 2l --keeps 60d",
		Args:    words(cobra.ExactArgs(1)),
		RunE:    func(_ *cobra.Command, args []string) error { return p.openBottles(&k, args[0]) },
	}
	f := cmd.Flags()
	f.StringVar(&k.bath, "bath", "", "only the bath called `ID`")
	f.StringVar(&k.volume, "volume", "", "how much was mixed, `V`; usually the recipe's")
	f.StringVar(&k.name, "name", "", "with --bath: what is written on the bottle")
	f.StringVar(&k.ago, "ago", "", "mixed `D` ago: 30m, 2h, 3d")
	f.StringVar(&k.keeps, "keeps", "", "how long it keeps, `D`: 1h, 60d; usually the recipe's tray_life")
	return cmd
}

func (p *program) bathsBook() *cobra.Command {
	var k toKeep
	cmd := &cobra.Command{
		Use:   "book BOTTLE",
		Short: "film that went through a bottle without a session",
		Args:  words(cobra.ExactArgs(1)),
		RunE: func(_ *cobra.Command, args []string) error {
			area, err := filmArea(k.sheets, k.of)
			if err != nil {
				return err
			}
			return p.note(args[0], notebook.Entry{Did: notebook.Used, Area: area})
		},
	}
	cmd.Flags().IntVar(&k.sheets, "sheets", 0, "how many, `N`")
	cmd.Flags().StringVar(&k.of, "size", "4x5in", "of a sheet, `AxB`")
	return cmd
}

func (p *program) bathsRotate() *cobra.Command {
	return &cobra.Command{
		Use:   "rotate FIRST SECOND",
		Short: "two-bath fixing: FIRST is thrown away, SECOND takes its place",
		Long: "Two-bath fixing: the first bath is spent first. It is thrown away (its silver collected),\n" +
			"the second takes its place, and a new second is mixed: wetside baths mix RECIPE --bath ID.",
		Args: words(cobra.ExactArgs(2)),
		RunE: func(_ *cobra.Command, args []string) error { return p.rotate(args[0], args[1]) },
	}
}

func (p *program) bathsThrow() *cobra.Command {
	return &cobra.Command{
		Use:   "throw-away BOTTLE",
		Short: "a bottle that is used up, or handed in",
		Args:  words(cobra.ExactArgs(1)),
		RunE: func(_ *cobra.Command, args []string) error {
			return p.note(args[0], notebook.Entry{Did: notebook.ThrownAway})
		},
	}
}

// note writes what was done with an open bottle, and says how it stands then.
func (p *program) note(name string, e notebook.Entry) error {
	b, err := p.readBaths()
	if err != nil {
		return err
	}
	e.At = p.source.Read().Wall
	if s, err := b.StockNamed(name); err == nil && e.Did == notebook.ThrownAway && !b.Stands(name) {
		e.Bottle = s.Name
		if err := ledger().Write(e); err != nil {
			return err
		}
		return p.listStock(false)
	}
	c, err := b.Named(name)
	if err != nil {
		return err
	}
	e.Bottle = c.Name
	if err := ledger().Write(e); err != nil {
		return err
	}
	return p.tellBottle(c.Name)
}

// tellBottle says how a bottle stands now.
func (p *program) tellBottle(name string) error {
	b, err := ledger().Read()
	if err != nil {
		return err
	}
	for _, c := range b.Bottles {
		if c.Name == name {
			_, err = fmt.Fprint(p.out, cleaned(p.bottleLine(c)))
		}
	}
	return err
}

// openBottles writes a bottle for each bath that a recipe says parts for.
func (p *program) openBottles(k *toKeep, recipe string) error {
	r, err := recipes.Find(recipe, ownRecipes())
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
	at := p.source.Read().Wall
	ago, err := longTime("ago", k.ago)
	if err != nil {
		return err
	}
	keeps, err := longTime("keeps", k.keeps)
	if err != nil {
		return err
	}
	if err := keepsThatLong(baths, keeps); err != nil {
		return err
	}
	for i := range baths {
		if onlyWater(baths[i]) {
			continue
		}
		if keeps > 0 {
			baths[i].TrayLife = keeps
		}
		if k.volume != "" {
			if baths[i].Volume, err = millilitres("volume", k.volume); err != nil {
				return err
			}
			if baths[i].Volume == 0 {
				return usage("--volume: 0 ml; expected above zero")
			}
		}
		if err := p.openBottle(r, baths[i], k.name, at.Add(-ago)); err != nil {
			return err
		}
	}
	return nil
}

// keepsThatLong refuses a life that a bath for one session does not have: an old developer
// fails film that cannot be exposed again.
func keepsThatLong(baths []sequence.Bath, keeps time.Duration) error {
	for i := range baths {
		if most := baths[i].MostLife(); most > 0 && keeps > most {
			return fmt.Errorf("--keeps: %s is mixed for one session and keeps %s, says the recipe; expected at most that (--bath ID opens another bath alone)",
				recipes.Clean(baths[i].ID), sequence.LongTime(most))
		}
	}
	return nil
}

// onlyWater reports whether a bath is not worth a bottle.
func onlyWater(b sequence.Bath) bool {
	return len(b.Parts) == 0 || len(b.Parts) == 1 && strings.EqualFold(b.Parts[0].Name, "water")
}

// openBottle says the bath's dangers, then writes the bottle into the ledger.
func (p *program) openBottle(r sequence.Recipe, b sequence.Bath, name string, at time.Time) error {
	for _, h := range r.Hazards(&b) {
		fmt.Fprintf(p.out, "caution: %s: %s\n", recipes.Clean(b.ID), recipes.Clean(h))
	}
	name, err := ledger().Open(b, recipes.Clean(name), at)
	if err != nil {
		return err
	}
	return p.tellBottle(name)
}

// rotate throws the first fixer away and puts the second in its place.
func (p *program) rotate(first, second string) error {
	b, err := p.readBaths()
	if err != nil {
		return err
	}
	one, err := b.Named(first)
	if err != nil {
		return err
	}
	two, err := b.Named(second)
	if err != nil {
		return err
	}
	if one.Name == two.Name {
		return usage("rotate: %q twice; expected the first fixer and the second", one.Name)
	}
	if err := p.exchange(one, two); err != nil {
		return err
	}
	fmt.Fprintf(p.out, "%s is thrown away: its silver is to be collected\n", recipes.Clean(one.Name))
	return p.tellBottle(two.Name)
}

// exchange writes that the first is thrown away and the second serves in its place.
func (p *program) exchange(first, second notebook.Bottle) error {
	at := p.source.Read().Wall
	return ledger().Write(notebook.Entry{At: at, Did: notebook.ThrownAway, Bottle: first.Name},
		notebook.Entry{At: at, Did: notebook.Serves, Bottle: second.Name, Serves: first.Bath.ID})
}

// listBaths tells all bottles, or those that stand open.
func (p *program) listBaths(k *toKeep) error {
	b, err := p.readBaths()
	if err != nil {
		return err
	}
	list := b.Bottles
	if !k.all {
		list = b.Open()
	}
	if b.Bad > 0 {
		fmt.Fprintf(p.err, "wetside: baths: %d lines of %s cannot be read, or belong to no bottle\n", b.Bad, dataFolder("baths"))
	}
	if k.asJSON {
		told := make([]toldBottle, len(list))
		for i, c := range list {
			told[i] = p.told(c)
		}
		return p.json(told)
	}
	if len(list) == 0 {
		_, err := fmt.Fprintln(p.out, "no bottle stands open; wetside baths mix RECIPE opens them")
		return err
	}
	for _, c := range list {
		if _, err := fmt.Fprint(p.out, cleaned(p.bottleLine(c))); err != nil {
			return err
		}
	}
	return nil
}

// bottleLine is a bottle on a line or two.
func (p *program) bottleLine(c notebook.Bottle) string {
	now := p.source.Read().Wall
	serves := "for " + c.Bath.ID
	if v := c.Kept(now).Volume; v > 0 {
		serves += ", " + p.settings.Habits.Short(v)
	}
	return fmt.Sprintf("%-26s %s\n", c.Name, strings.Join(append([]string{serves, "mixed " + p.settings.Habits.Moment(c.Mixed.Local())}, c.Facts(now)...), "; "))
}

// told is a bottle for a script.
func (p *program) told(c notebook.Bottle) toldBottle {
	now := p.source.Read().Wall
	k := c.Kept(now)
	t := toldBottle{Name: c.Name, Bath: c.Bath.ID, Parts: c.Bath.Parts, Mixed: c.Mixed, Age: k.Age, Area: c.Area, Sheets: c.Sheets(),
		OneShot: c.Bath.OneShot, Sessions: append([]string{}, c.Sessions...), ThrownAway: c.ThrownAway}
	if k.Volume > 0 {
		t.Volume = &k.Volume
	}
	if room, ok := k.Room(); ok {
		t.Room = &room
	}
	if k.Keeps > 0 {
		t.Keeps = &k.Keeps
		if k.Age >= 0 {
			stale := k.Age > k.Keeps
			t.Stale = &stale
		}
	}
	if c.Fresh > 0 {
		t.Fresh = &c.Fresh
	}
	if c.Clearing > 0 {
		t.Clearing = &c.Clearing
	}
	return t
}

// longTime reads a length of time that may be days: "60d"; 0 for none.
func longTime(flag, text string) (time.Duration, error) {
	if text == "" {
		return 0, nil
	}
	const mostDays = 3650
	if days, found := strings.CutSuffix(text, "d"); found {
		n, err := strconv.Atoi(days)
		if err != nil || n < 1 || n > mostDays {
			return 0, usage("--%s: %q; expected 1d to %dd, or a time such as 2h", flag, text, mostDays)
		}
		return time.Duration(n) * 24 * time.Hour, nil
	}
	d, err := chem.ParseDuration(text)
	if err != nil {
		return 0, usage("--%s: %v", flag, err)
	}
	return d, nil
}
