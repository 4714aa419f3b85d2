package main

// wetside clearing: how long the fixer takes to clear a scrap of the film, by a
// stopwatch that is told when it is clear; what follows for fixing, and whether the
// fixer is spent.

import (
	"bufio"
	"fmt"
	"math"
	"os"
	"time"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"example.org/wetside/chem"
	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/tui/cue"
)

// toClear are the words of clearing.
type toClear struct {
	baths           int
	tabular, asJSON bool
	temp, took      string
	heard           aloud
}

// cleared is what clearing says to a script.
type cleared struct {
	Clearing sequence.Elapsed  `json:"clearing_s"`
	Baths    int               `json:"baths"`
	Each     sequence.Elapsed  `json:"each_s"` // in each bath, in the cold as --temp says
	Cold     float64           `json:"cold_factor"`
	Bottle   *string           `json:"bottle"`
	Fresh    *sequence.Elapsed `json:"fresh_clearing_s"` // of that bottle; null where not known
	Spent    bool              `json:"spent"`
}

func (p *program) clearing() *cobra.Command {
	var c toClear
	cmd := &cobra.Command{
		Use:   "clearing [BOTTLE]",
		Short: "a stopwatch for the clearing test, and the fixing time that follows",
		Long: "The clearing test: in the light, put a scrap of the undeveloped film into the fixer and\n" +
			"press enter; press enter again the moment that it is clear. Each minute is told, up to ten.\n" +
			"Fixing takes twice that time, or that time in each of two baths (NAVEDTRA 14209 p. 249).\n" +
			"With a BOTTLE the time goes into the ledger, and is compared with the one measured\n" +
			"before its first film: at twice that it is spent. Exit status 1 then.",
		Example: "  wetside clearing fixer --baths 2\n" +
			"  wetside clearing --took 50s --tabular",
		Args: words(cobra.MaximumNArgs(1)),
		RunE: func(_ *cobra.Command, args []string) error { return p.clearNow(&c, args) },
	}
	f := cmd.Flags()
	f.IntVar(&c.baths, "baths", 1, "fixing baths in a row, `N`")
	f.BoolVar(&c.tabular, "tabular", false, "a tabular emulsion: three times instead of twice (common practice)")
	f.StringVar(&c.temp, "temp", "", "the film is fixed at `T`, colder than the test was")
	f.StringVar(&c.took, "took", "", "it took `D`: measured otherwise")
	f.StringVar(&c.heard.sound, "sound", p.settings.Sound, "auto, pulse, exec, device, wav:FILE or off")
	f.StringVar((*string)(&c.heard.voice), "voice", p.settings.Voice, "off, sparse or full: the minutes are said, or ticked twice")
	f.BoolVar(&c.asJSON, "json", false, "as JSON")
	return cmd
}

func (p *program) clearNow(c *toClear, args []string) error {
	out := cleared{Baths: c.baths, Cold: 1}
	if c.temp != "" {
		t, err := celsius("temp", c.temp, p.settings.Habits)
		if err != nil {
			return err
		}
		out.Cold = chem.ColdFix(t)
	}
	var bottle notebook.Bottle
	if len(args) == 1 {
		b, err := p.readBaths()
		if err != nil {
			return err
		}
		if bottle, err = b.Named(args[0]); err != nil {
			return err
		}
		out.Bottle = &bottle.Name
	}
	if _, _, err := chem.FixTime(time.Second, c.baths, c.tabular); err != nil {
		return usage("--baths: %d; expected one at least", c.baths)
	}
	var err error
	if out.Clearing, err = p.timed(c); err != nil {
		return err
	}
	each, long, err := chem.FixTime(sequence.Elapsed(float64(out.Clearing)*out.Cold), c.baths, c.tabular)
	if err != nil {
		return err
	}
	out.Each, out.Spent = each, long
	if out.Bottle != nil {
		if err := p.keepClearing(&out, bottle); err != nil {
			return err
		}
	}
	if err := p.showClearing(c, out); err != nil {
		return err
	}
	if out.Spent {
		return errFound
	}
	return nil
}

// keepClearing writes the time into the ledger and compares it with the fresh one.
func (p *program) keepClearing(out *cleared, b notebook.Bottle) error {
	err := ledger().Write(notebook.Entry{At: p.source.Read().Wall, Did: notebook.Cleared, Bottle: b.Name, Clearing: out.Clearing})
	if err != nil {
		return err
	}
	fresh := b.Fresh
	if fresh == 0 && b.Area == 0 {
		fresh = out.Clearing
	}
	if fresh > 0 {
		out.Fresh = &fresh
		out.Spent = out.Spent || chem.FixerSpent(fresh, out.Clearing)
	}
	return nil
}

// timed is the clearing time, typed or taken by the stopwatch.
func (p *program) timed(c *toClear) (time.Duration, error) {
	if c.took == "" {
		return p.stopwatch(c)
	}
	d, err := chem.ParseDuration(c.took)
	if err != nil {
		return 0, usage("--took: %v", err)
	}
	if d <= 0 || d > sequence.LongestClearing {
		return 0, usage("--took: %s; expected above zero and at most %s", chem.FormatDuration(d), chem.FormatDuration(sequence.LongestClearing))
	}
	return d, nil
}

// stopwatch runs from one enter to the next. It is told on stderr, so that stdout
// holds the result alone, and heard: a tick each quarter of a minute; the minutes are
// said, or without a voice ticked twice.
func (p *program) stopwatch(c *toClear) (time.Duration, error) {
	gone := make(chan struct{})
	defer close(gone)
	lines := p.enters(gone)
	if err := c.heard.check(); err != nil {
		return 0, err
	}
	fmt.Fprintln(p.err, "In the light, gloves on, the room aired. Scrap of film into the fixer: press enter as it goes in.")
	if _, ok := <-lines; !ok {
		return 0, usage("the stopwatch is told by enter; nothing came. --took D takes a time measured otherwise")
	}
	watch := clock.New(p.source, 0, 1)
	out, err := p.hearWatch(c.heard, watch)
	if err != nil {
		return 0, err
	}
	defer out.close()
	fmt.Fprintln(p.err, "Move it about. Press enter the moment that it is clear.")
	tick := time.NewTicker(time.Second)
	defer tick.Stop()
	for minutes := 0; ; {
		pressed, ok := false, true
		select {
		case _, ok = <-lines:
			pressed = true
		case <-tick.C:
		}
		now := watch.Mark().Elapsed
		switch {
		case now >= sequence.LongestClearing:
			return 0, fmt.Errorf("not clear after %s: the fixer is spent, too weak or far too cold; mix a fresh one", chem.FormatDuration(sequence.LongestClearing))
		case !ok:
			return 0, usage("the input ended before the film was clear; --took D takes a time measured otherwise")
		case pressed:
			return now, nil
		}
		if whole := int(now / time.Minute); whole > minutes {
			minutes = whole
			fmt.Fprintf(p.err, "%s\n", chem.FormatDuration(time.Duration(whole)*time.Minute))
			out.say(cue.Time(time.Duration(whole) * time.Minute))
		} else if f, ok := p.err.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
			fmt.Fprintf(p.err, "  %s\r", chem.FormatDuration(now.Truncate(time.Second)))
		}
	}
}

// enters gives each line of the input as it comes, until gone, and closes at its end.
// The reader is left where it waits: the program ends soon after.
func (p *program) enters(gone <-chan struct{}) <-chan struct{} {
	lines, in := make(chan struct{}), p.in
	go func() {
		defer close(lines)
		for s := bufio.NewScanner(in); s.Scan(); {
			select {
			case lines <- struct{}{}:
			case <-gone:
				return
			}
		}
	}()
	return lines
}

func (p *program) showClearing(c *toClear, out cleared) error {
	if c.asJSON {
		return p.json(out)
	}
	fmt.Fprintf(p.out, "clear after %s\n", chem.FormatDuration(out.Clearing))
	where := "in one bath"
	if out.Baths > 1 {
		where = fmt.Sprintf("in each of %d baths; when the first is spent the next takes its place: wetside baths rotate", out.Baths)
	}
	source, tabular := "NAVEDTRA 14209 p. 249", ""
	if c.tabular {
		source, tabular = "half as long again as for other emulsions: common practice", ",tabular"
	}
	fmt.Fprintf(p.out, "fix for %s %s (%s)\n", chem.FormatDuration(out.Each), where, source)
	if out.Cold > 1 {
		fmt.Fprintf(p.out, "that is %.3g times as long as at 68 F, for the cold (US Army TM 11-2323 para 33c)\n", out.Cold)
	}
	if out.Each > chem.LongestFixing {
		fmt.Fprintf(p.out, "over %s in one bath: mix a fresh fixer (T.O. 33B-1-1 p. 6-77)\n", chem.FormatDuration(chem.LongestFixing))
	}
	switch {
	case out.Bottle == nil:
	case out.Fresh == nil:
		fmt.Fprintf(p.out, "%s: never tested before its first film, so nothing to compare with\n", recipes.Clean(*out.Bottle))
	case chem.FixerSpent(*out.Fresh, out.Clearing):
		fmt.Fprintf(p.out, "%s: SPENT: fresh it took %s, and twice that is the end\n", recipes.Clean(*out.Bottle), chem.FormatDuration(*out.Fresh))
	default:
		fmt.Fprintf(p.out, "%s: fresh it took %s; spent at %s\n", recipes.Clean(*out.Bottle), chem.FormatDuration(*out.Fresh), chem.FormatDuration(2**out.Fresh))
	}
	in := sequence.Elapsed(math.Ceil(out.Clearing.Seconds()*out.Cold)) * time.Second // as cold as the film is fixed
	_, err := fmt.Fprintf(p.out, "plan with it: --clearing %s%s\n", chem.FormatDuration(in), tabular)
	return err
}
