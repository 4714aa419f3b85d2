package cli

// wetside wash: what fill and dump leaves of the fixer, what running water does,
// and which way of washing keeps the film wet the shortest.

import (
	"fmt"

	"github.com/spf13/cobra"

	"example.org/wetside/chem"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/tui/say"
)

// washJSON is what wash says to a script.
type washJSON struct {
	Changes int               `json:"changes"`
	Residue float64           `json:"residue"`
	Left    *residueJSON      `json:"left,omitzero"`
	Ways    []chem.WashMethod `json:"ways,omitzero"`
}

// residueJSON is what a residue comes to on film, against the microfilm's limit.
type residueJSON struct {
	GramsPerM2 float64          `json:"g_per_m2"`
	AreaM2     float64          `json:"area_m2"`
	CarryOver  chem.Millilitres `json:"carry_over_ml"`
	Strength   float64          `json:"strength_g_per_l"`
	Limit      float64          `json:"microfilm_limit_g_per_m2"`
}

// washFlags are the words of wash.
type washFlags struct {
	carry, volume, temp, runningTime string
	changes                          int
	residue, strength                float64
	sheets                           int
	size                             string
	compare, microfilm, asJSON       bool
}

func newWashCommand(p *app.Env) *cobra.Command {
	var w washFlags
	cmd := &cobra.Command{
		Use:   "wash",
		Short: "what is left after so many changes of water, or how many it takes",
		Long: "Fill and dump: what --changes leave of the fixer carried over, or how many changes a\n" +
			"--residue takes; a lower bound, for gelatin gives its fixer up in minutes. With\n" +
			"--strength and --sheets also what that is on the film, in g/m2 of one side; --microfilm\n" +
			"asks for the changes that reach the limit of 36 CFR 1238.14(c). --running says what a\n" +
			"time in running water leaves; --compare compares the ways of washing by wet time.",
		Example: "  wetside wash --carry-over 10ml --volume 500ml --changes 3\n" +
			"  wetside wash --carry-over 10ml --volume 500ml --residue 0.0001\n" +
			"  wetside wash --carry-over 30ml --volume 1.5l --microfilm --strength 160 --sheets 6\n" +
			"  wetside wash --compare --temp 14C",
		Args: flags.UsageArgs(cobra.NoArgs),
		RunE: func(cmd *cobra.Command, _ []string) error { return runWash(p, &w, cmd.Flags().Changed) },
	}
	f := cmd.Flags()
	f.StringVar(&w.carry, "carry-over", "", "what stays in film and vessel at a change, `VOLUME`")
	f.StringVar(&w.volume, "volume", "", "of one filling, with the carry-over in it, `VOLUME`")
	f.IntVar(&w.changes, "changes", 0, "how many fillings, `N`")
	f.Float64Var(&w.residue, "residue", 0, "the fraction of the fixer that may be left, `X`")
	f.BoolVar(&w.microfilm, "microfilm", false, "as many fillings as the microfilm's limit takes")
	f.Float64Var(&w.strength, "strength", 0, "thiosulfate in the fixer carried over, `G` g/l")
	f.IntVar(&w.sheets, "sheets", 0, "`N` sheets carry it over")
	f.StringVar(&w.size, "size", "4x5in", "of a sheet, `AxB`")
	f.StringVar(&w.runningTime, "running", "", "a time in running water, `DURATION`")
	f.BoolVar(&w.compare, "compare", false, "the ways of washing, the shortest first")
	f.StringVar(&w.temp, "temp", "20C", "with --compare: of the water, `TEMPERATURE`")
	f.BoolVar(&w.asJSON, "json", false, "as JSON")
	const changes, residue, microfilm = "changes", "residue", "microfilm"
	flags.Excludes(cmd, "running", changes, residue, microfilm, "carry-over", "volume", "strength", "sheets", "size", "compare", "temp")
	cmd.MarkFlagsMutuallyExclusive(changes, residue, microfilm)
	cmd.MarkFlagsRequiredTogether("strength", "sheets")
	for _, flag := range []string{"carry-over", "volume", "strength"} {
		flags.Needs(cmd, flag, changes, residue, microfilm)
	}
	flags.Needs(cmd, "size", "sheets")
	flags.Needs(cmd, "temp", "compare")
	return cmd
}

func runWash(p *app.Env, w *washFlags, typed func(string) bool) error {
	if typed("running") {
		return printRunningWater(p, w.runningTime, w.asJSON)
	}
	asked := typed("changes") || typed("residue") || typed("microfilm")
	switch {
	case !asked && !w.compare:
		return app.Usagef("expected one of --changes, --residue, --microfilm, --running and --compare")
	case w.microfilm && !typed("sheets"):
		return app.Usagef("--microfilm: expected --strength and --sheets too: what is carried over, and onto how much film")
	case typed("sheets") && (w.sheets < 1 || !(w.strength > 0)):
		return app.Usagef("--strength: %g, --sheets: %d; expected both above zero", w.strength, w.sheets)
	case typed("residue") && !(w.residue > 0):
		return app.Usagef("--residue: %g; expected a fraction above zero", w.residue)
	case w.compare && typed("sheets") && !w.microfilm:
		return app.Usagef("--compare and --strength do not go together: what is left on the film is worked out for one way")
	case !asked:
		return printWashWays(p, w, 0)
	}
	done, v, err := w.fillAndDump()
	if err != nil {
		return err
	}
	if w.compare {
		return printWashWays(p, w, done.Changes)
	}
	return printWash(p, done, v, w.asJSON)
}

// fillAndDump works the changes out, or what they leave.
func (w *washFlags) fillAndDump() (done washJSON, v chem.Millilitres, err error) {
	carry, err := flags.Volume("carry-over", w.carry)
	if err != nil {
		return done, 0, err
	}
	if v, err = flags.Volume("volume", w.volume); err != nil {
		return done, 0, err
	}
	area := 0.0
	if w.sheets != 0 {
		if area, err = flags.FilmArea(w.sheets, w.size); err != nil {
			return done, 0, err
		}
	}
	done.Changes = w.changes
	switch {
	case w.microfilm:
		done.Changes, err = chem.ChangesFor(w.strength, carry, v, area)
	case w.residue != 0:
		done.Changes, err = chem.Changes(carry, v, w.residue)
	}
	if err == nil {
		done.Residue, err = chem.Residue(carry, v, done.Changes)
	}
	if err != nil || area == 0 {
		return done, v, err
	}
	left, err := chem.ResidualThiosulfate(w.strength, carry, done.Residue, area)
	done.Left = &residueJSON{left, chem.SquareMetres(area), carry, w.strength, chem.ResidualLimit}
	return done, v, err
}

func printWash(p *app.Env, w washJSON, v chem.Millilitres, asJSON bool) error {
	if asJSON {
		return p.WriteJSON(w)
	}
	fmt.Fprintf(p.Out, "%d changes leave %.3g of the fixer, with %s of water\n"+
		"A lower bound: the gelatin gives up its fixer in minutes, not at once; let each change stand for %s.\n",
		w.Changes, w.Residue, say.Volume(chem.Millilitres(w.Changes)*v, p.Settings.Habits), chem.FormatDuration(chem.MinChange))
	if l := w.Left; l != nil {
		verdict := "within"
		if l.GramsPerM2 > l.Limit {
			verdict = "over"
		}
		fmt.Fprintf(p.Out, "%.3g g of thiosulfate a square metre, at least (%.3g m2 of one side; %s carried over with %.4g g/l): %s the\n"+
			"microfilm's limit of %.3g g/m2 (36 CFR 1238.14(c)), which is strict for camera film\n",
			l.GramsPerM2, l.AreaM2, say.Volume(l.CarryOver, p.Settings.Habits), l.Strength, verdict, l.Limit)
	}
	return nil
}

// printRunningWater says what a time in direct contact with running water leaves.
func printRunningWater(p *app.Env, text string, asJSON bool) error {
	d, err := chem.ParseDuration(text)
	if err != nil {
		return app.Usagef("--running: %v", err)
	}
	left := chem.RunningWaterResidue(d)
	if asJSON {
		return p.WriteJSON(washJSON{Residue: left})
	}
	_, err = fmt.Fprintf(p.Out, "%s in direct contact with running water leave %.3g of the fixer: half goes each minute (NAVEDTRA 14209 p. 250)\n"+
		"Wash for 20 minutes at least all the same, with a full change each %s (same page).\n",
		chem.FormatDuration(d), left, chem.FormatDuration(chem.MinChange))
	return err
}

// printWashWays compares the ways of washing.
func printWashWays(p *app.Env, w *washFlags, changes int) error {
	t, err := flags.WaterTemperature("temp", w.temp, p.Settings.Habits)
	if err != nil {
		return err
	}
	ways, known := chem.WashMethods(t, changes)
	if w.asJSON {
		return p.WriteJSON(washJSON{Changes: changes, Ways: ways})
	}
	fmt.Fprintf(p.Out, "Washing at %s, the least wet time first\n", say.Temperature(t, p.Settings.Habits))
	for _, way := range ways {
		name, text := say.WashMethod(way)
		fmt.Fprintf(p.Out, "%8s  %s: %s (%s)\n", chem.FormatDuration(way.WetTime), name, text, way.Source)
	}
	if factor, _ := chem.ColdWashFactor(t); factor > 1.01 {
		fmt.Fprintf(p.Out, "in the cold %.2g times as long as at 70 °F (T.O. 33B-1-1 6.7.10.1)\n", factor)
	}
	if !known {
		fmt.Fprintln(p.Out, "nothing is published below 50 °F: warm the water")
	}
	return nil
}
