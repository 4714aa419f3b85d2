package bottlescmd

// wetside bottles clearing: how long the fixer takes to clear a scrap of the film, by a
// stopwatch that is told when it is clear; what follows for fixing, and whether the
// fixer is spent.

import (
	"bufio"
	"fmt"
	"math"
	"time"

	"github.com/spf13/cobra"

	"example.org/wetside/chem"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/cmd/wetside/internal/running"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/bottles"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/tui/cue"
)

// clearingFlags are the words of clearing.
type clearingFlags struct {
	baths           int
	tabular, asJSON bool
	temp, testTemp  string
	clearedIn       string
	sound           running.SoundOptions
	out             flags.Output
}

// clearingJSON is what clearing says to a script.
type clearingJSON struct {
	Clearing sequence.Elapsed  `json:"clearing_s"`
	Baths    int               `json:"baths"`
	Each     sequence.Elapsed  `json:"each_s"` // in each bath, in the cold as --temp says
	Cold     float64           `json:"cold_factor"`
	Bottle   *string           `json:"bottle"`
	Fresh    *sequence.Elapsed `json:"fresh_clearing_s"` // of that bottle; null where not known
	Spent    bool              `json:"spent"`
}

func newBottlesClearingCommand(p *app.Env) *cobra.Command {
	var c clearingFlags
	cmd := &cobra.Command{
		Use:   "clearing [BOTTLE]",
		Short: "time the clearing test, and say how long to fix",
		Long: "Times the clearing test: in the light, put a scrap of the undeveloped film into the\n" +
			"fixer and press enter; press enter again the moment it is clear. Each minute is\n" +
			"announced, up to ten. Fix for twice that time, or for that time in each of two baths\n" +
			"(NAVEDTRA 14209 p. 249).\n\n" +
			"With a BOTTLE the time is kept, and compared with the one measured before its first\n" +
			"film: at twice that the bottle is spent, and the exit status is 1.",
		Example: "  wetside bottles clearing fixer --baths 2\n" +
			"  wetside bottles clearing --cleared-in 50s --tabular",
		Args: flags.UsageArgs(cobra.MaximumNArgs(1)),
		RunE: func(_ *cobra.Command, args []string) error { return runClearing(p, &c, args) },
	}
	f := cmd.Flags()
	f.IntVar(&c.baths, "baths", 1, "`N`: number of fixing baths in a row")
	f.BoolVar(&c.tabular, "tabular", false, "a tabular emulsion: fix for three times that time (common practice)")
	f.StringVar(&c.temp, "temp", "", "`TEMPERATURE`: the fixer's, for the film (default: as in the test)")
	f.StringVar(&c.testTemp, "test-temp", "", "`TEMPERATURE`: the fixer's, in the test (default: 20C or more)")
	f.StringVar(&c.clearedIn, "cleared-in", "", "`DURATION`: it cleared in this time; no stopwatch")
	f.StringVar(&c.sound.Sink, "sound", p.Settings.Sound, "`OUT`: where sound goes: auto, pulse, exec, device, wav:FILE or off")
	f.StringVar((*string)(&c.sound.Voice), "voice", p.Settings.Voice, "`HOW`: how much is said: off, sparse or full; with off each minute is ticked twice")
	f.BoolVar(&c.asJSON, "json", false, "print JSON")
	c.out.Add(cmd, "sound")
	flags.Excludes(cmd, "cleared-in", "sound", "voice", "force")
	return cmd
}

func runClearing(p *app.Env, c *clearingFlags, args []string) error {
	out := clearingJSON{Baths: c.baths, Cold: 1}
	test, at, err := c.temperatures(p, &out)
	if err != nil {
		return err
	}
	var bottle bottles.Bottle
	if len(args) == 1 {
		b, err := p.ReadBottles()
		if err != nil {
			return err
		}
		if bottle, err = b.OpenBottleNamed(args[0]); err != nil {
			return err
		}
		out.Bottle = &bottle.Name
	}
	if _, _, err := chem.FixTime(time.Second, c.baths, c.tabular); err != nil {
		return app.Usagef("--baths: %d; expected one at least", c.baths)
	}
	if out.Clearing, err = clearingTime(p, c); err != nil {
		return err
	}
	each, long, err := chem.FixTime(sequence.Elapsed(float64(out.Clearing)*out.Cold), c.baths, c.tabular)
	if err != nil {
		return err
	}
	out.Each, out.Spent = each, long
	if out.Bottle != nil {
		if err := recordClearing(p, &out, bottle, test, at); err != nil {
			return err
		}
	}
	if err := printClearing(p, c, out); err != nil {
		return err
	}
	if out.Spent {
		return app.ErrReported
	}
	return nil
}

// warm is where a test is taken to be of which nothing else is said.
const warm chem.Celsius = 20

// temperatures reads at which temperature the test was, nil where it is not said, and by how much longer or
// shorter fixing takes at the film's.
func (c *clearingFlags) temperatures(p *app.Env, out *clearingJSON) (test *chem.Celsius,
	at chem.Celsius, err error) {
	if at = warm; c.testTemp != "" {
		if at, err = flags.WaterTemperature("test-temp", c.testTemp, p.Settings.Habits); err != nil {
			return nil, 0, err
		}
		test = &at
	}
	if c.temp == "" {
		return test, at, nil
	}
	film, err := flags.WaterTemperature("temp", c.temp, p.Settings.Habits)
	out.Cold = chem.ColdFixFactor(film) / chem.ColdFixFactor(at)
	return test, at, err
}

// recordClearing writes the time into the ledger and compares it with the fresh one.
func recordClearing(p *app.Env, out *clearingJSON, b bottles.Bottle, test *chem.Celsius,
	at chem.Celsius) error {
	err := app.BottleLedger().Write(bottles.Entry{At: p.Clock.Read().Wall, Action: bottles.Cleared, Bottle: b.Name, Clearing: out.Clearing, Test: test})
	if err != nil {
		return err
	}
	fresh := chem.ClearingAt(b.FreshClearing, warm, at) // as cold as this test
	if fresh == 0 && b.IsFresh() {
		fresh = out.Clearing
	}
	if fresh > 0 {
		out.Fresh = &fresh
		out.Spent = out.Spent || chem.FixerExhausted(fresh, out.Clearing)
	}
	return nil
}

// clearingTime is the clearing time, typed or taken by the stopwatch.
func clearingTime(p *app.Env, c *clearingFlags) (time.Duration, error) {
	if c.clearedIn == "" {
		return runStopwatch(p, c)
	}
	d, err := chem.ParseDuration(c.clearedIn)
	if err != nil {
		return 0, app.Usagef("--cleared-in: %v", err)
	}
	if d <= 0 || d > sequence.LongestClearing {
		return 0, app.Usagef("--cleared-in: %s; expected above zero and at most %s", chem.FormatDuration(d), chem.FormatDuration(sequence.LongestClearing))
	}
	return d, nil
}

// runStopwatch runs from one enter to the next. It is told on stderr, so that stdout
// holds the result alone, and heard: a tick each quarter of a minute; the minutes are
// said, or without a voice ticked twice.
func runStopwatch(p *app.Env, c *clearingFlags) (time.Duration, error) {
	gone := make(chan struct{})
	defer close(gone)
	lines := readEnters(p, gone)
	if err := c.sound.Check(); err != nil {
		return 0, err
	}
	if err := c.out.MakeWay(running.SoundFile(c.sound.Sink)); err != nil {
		return 0, err
	}
	fmt.Fprintln(p.Err, "In the light, gloves on, the room aired. Scrap of film into the fixer: press enter as it goes in.")
	if _, ok := <-lines; !ok {
		return 0, app.Usagef("enter stops the stopwatch, and none came. --cleared-in D takes a time measured otherwise")
	}
	watch := clock.New(p.Clock, 0, 1)
	out, err := running.OpenStopwatchSound(p, c.sound, watch)
	if err != nil {
		return 0, err
	}
	defer out.Close()
	fmt.Fprintln(p.Err, "Move it about. Press enter the moment that it is clear.")
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
			return 0, app.Usagef("the input ended before the film was clear; --cleared-in D takes a time measured otherwise")
		case pressed:
			return now, nil
		}
		if whole := int(now / time.Minute); whole > minutes {
			minutes = whole
			fmt.Fprintf(p.Err, "%s\n", chem.FormatDuration(time.Duration(whole)*time.Minute))
			out.SayText(cue.DurationPhrase(time.Duration(whole) * time.Minute))
		} else if _, shown := app.TerminalOf(p.Err); shown {
			fmt.Fprintf(p.Err, "  %s\r", chem.FormatDuration(now.Truncate(time.Second)))
		}
	}
}

// readEnters gives each line of the input as it comes, until gone, and closes at its end.
// The reader is left where it waits: the program ends soon after.
func readEnters(p *app.Env, gone <-chan struct{}) <-chan struct{} {
	lines, in := make(chan struct{}), p.In
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

func printClearing(p *app.Env, c *clearingFlags, out clearingJSON) error {
	if c.asJSON {
		return p.WriteJSON(out)
	}
	fmt.Fprintf(p.Out, "clear after %s\n", chem.FormatDuration(out.Clearing))
	where := "in one bath"
	if out.Baths > 1 {
		where = fmt.Sprintf("in each of %d baths; when the first is spent the next takes its place: wetside bottles swap", out.Baths)
	}
	source, tabular := "NAVEDTRA 14209 p. 249", ""
	if c.tabular {
		source, tabular = "half as long again as for other emulsions: common practice", ",tabular"
	}
	fmt.Fprintf(p.Out, "fix for %s %s (%s)\n", chem.FormatDuration(out.Each), where, source)
	if out.Cold != 1 {
		fmt.Fprintf(p.Out, "that is %.3g times as long as at the test's temperature (US Army TM 11-2323 para 33c)\n", out.Cold)
	}
	if out.Each > chem.MaxFixing {
		fmt.Fprintf(p.Out, "over %s in one bath: mix a fresh fixer (T.O. 33B-1-1 p. 6-77)\n", chem.FormatDuration(chem.MaxFixing))
	}
	switch {
	case out.Bottle == nil:
	case out.Fresh == nil:
		fmt.Fprintf(p.Out, "%s: never tested before its first film, so nothing to compare with\n", safetext.Clean(*out.Bottle))
	case chem.FixerExhausted(*out.Fresh, out.Clearing):
		fmt.Fprintf(p.Out, "%s: SPENT: it took %s when fresh, and twice that is the end\n", safetext.Clean(*out.Bottle), chem.FormatDuration(*out.Fresh))
	default:
		fmt.Fprintf(p.Out, "%s: it took %s when fresh; spent at %s\n", safetext.Clean(*out.Bottle), chem.FormatDuration(*out.Fresh), chem.FormatDuration(2**out.Fresh))
	}
	in := sequence.Elapsed(math.Ceil(out.Clearing.Seconds()*out.Cold)) * time.Second // as cold as the film is fixed
	_, err := fmt.Fprintf(p.Out, "plan with it: --clearing %s%s\n", chem.FormatDuration(in), tabular)
	return err
}
