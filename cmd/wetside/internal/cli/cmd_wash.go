package cli

// wetside wash: what fill and dump leaves of the fixer, what running water does,
// and which way of washing keeps the film wet the shortest.

import (
	"time"

	"github.com/spf13/cobra"

	"example.org/wetside/chem"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
)

// washJSON is what wash says to a script. The residue is a lower bound, by dilution alone; upper adds the
// gelatin, and every verdict goes by it.
type washJSON struct {
	Changes      int                `json:"changes"`
	Residue      float64            `json:"residue"`
	Upper        *float64           `json:"upper,omitzero"`
	Stand        time.Duration      `json:"stand_s,omitzero"`          // of each change
	Running      time.Duration      `json:"running_s,omitzero"`        // with --flow
	UpperChanges *int               `json:"changes_by_upper,omitzero"` // with --residue: that the upper bound takes
	Shortest     *chem.WashSchedule `json:"shortest,omitzero"`
	Left         *residueJSON       `json:"left,omitzero"`
	Ways         []chem.WashMethod  `json:"ways,omitzero"`
}

// residueJSON is what a residue comes to on film, against the microfilm's limit.
type residueJSON struct {
	GramsPerM2 float64          `json:"g_per_m2"`
	Upper      float64          `json:"upper_g_per_m2"`
	Within     bool             `json:"within"` // the upper bound
	AreaM2     float64          `json:"area_m2"`
	CarryOver  chem.Millilitres `json:"carry_over_ml"`
	Strength   float64          `json:"strength_g_per_l"`
	Limit      float64          `json:"microfilm_limit_g_per_m2"`
}

// washFlags are the words of wash.
type washFlags struct {
	carry, volume, temp, runningTime, stand, flow string
	changes                                       int
	residue, strength                             float64
	sheets                                        int
	size                                          string
	compare, microfilm, aid, asJSON               bool
}

func newWashCommand(p *app.Env) *cobra.Command {
	var w washFlags
	cmd := &cobra.Command{
		Use:   "wash",
		Short: "say what a wash leaves of the fixer, or how long it takes",
		Long: "Says what a wash leaves of the fixer, or how long a wash it takes. --changes N says what\n" +
			"is left after N fillings; --residue X, or --microfilm for the limit of 36 CFR\n" +
			"1238.14(c), how many it takes and which wash has the fewest wet minutes. With --flow the\n" +
			"water runs: how long it takes, or what --running leaves; --running alone is direct\n" +
			"contact with running water. --compare lists the ways of washing by their wet time.\n\n" +
			"Two figures are given: by dilution alone, a lower bound, and with the gelatin, which\n" +
			"gives up its fixer in minutes, an upper one. With --strength and --sheets also what that\n" +
			"is on the film, in g/m2 of one side. wetside help wash works an example by hand.",
		Example: "  wetside wash --carry-over 10ml --volume 500ml --changes 3\n" +
			"  wetside wash --carry-over 10ml --volume 500ml --residue 0.0001 --aid\n" +
			"  wetside wash --carry-over 30ml --volume 1.5l --microfilm --strength 160 --sheets 6\n" +
			"  wetside wash --carry-over 30ml --volume 1.5l --flow 1l --residue 0.001 --temp 18C\n" +
			"  wetside wash --compare --temp 14C",
		Args: flags.UsageArgs(cobra.NoArgs),
		RunE: func(cmd *cobra.Command, _ []string) error { return runWash(p, &w, cmd.Flags().Changed) },
	}
	w.add(cmd)
	return cmd
}

// add declares the flags and which go together.
func (w *washFlags) add(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringVar(&w.carry, "carry-over", "", "`VOLUME`: what stays in film and vessel when it is emptied")
	f.StringVar(&w.volume, "volume", "", "`VOLUME`: one filling, the carry-over included")
	f.IntVar(&w.changes, "changes", 0, "`N`: number of fillings")
	f.Float64Var(&w.residue, "residue", 0, "`X`: the fraction of the fixer that may be left")
	f.BoolVar(&w.microfilm, "microfilm", false, "as many fillings as the limit for microfilm takes")
	f.Float64Var(&w.strength, "strength", 0, "`G`: grams of thiosulfate in a litre of the fixer carried over")
	f.IntVar(&w.sheets, "sheets", 0, "`N`: number of sheets that carry it over")
	f.StringVar(&w.size, "size", "4x5in", "`AxB`: size of a sheet")
	f.StringVar(&w.stand, "stand", "3m", "`DURATION`: how long each filling stands")
	f.StringVar(&w.flow, "flow", "", "`VOLUME`: running water in place of fillings, a minute")
	f.StringVar(&w.runningTime, "running", "", "`DURATION`: time in running water")
	f.BoolVar(&w.aid, "aid", false, "the film comes from a washing aid")
	f.BoolVar(&w.compare, "compare", false, "list the ways of washing, the shortest first")
	f.StringVar(&w.temp, "temp", "20C", "`TEMPERATURE`: the water's")
	f.BoolVar(&w.asJSON, "json", false, "print JSON")
	const changes, residue, microfilm, running, flow = "changes", "residue", "microfilm", "running", "flow"
	flags.Excludes(cmd, running, "compare")
	flags.Excludes(cmd, flow, changes, "stand", "compare")
	cmd.MarkFlagsMutuallyExclusive(changes, residue, microfilm, running)
	cmd.MarkFlagsRequiredTogether("strength", "sheets")
	for _, flag := range []string{"carry-over", "volume"} {
		flags.Needs(cmd, flag, changes, residue, microfilm, flow)
	}
	flags.Needs(cmd, "strength", changes, residue, microfilm, flow)
	flags.Needs(cmd, flow, residue, microfilm, running)
	flags.Needs(cmd, "aid", changes, residue, microfilm, flow)
	flags.Needs(cmd, "stand", changes, residue, microfilm)
	flags.Needs(cmd, "size", "sheets")
	flags.Needs(cmd, "temp", "compare", changes, residue, microfilm, flow)
}

func runWash(p *app.Env, w *washFlags, typed func(string) bool) error {
	asked := typed("changes") || typed("residue") || typed("microfilm")
	switch {
	case typed("running") && !typed("flow"):
		return printRunningWater(p, w.runningTime, w.asJSON)
	case !asked && !w.compare && !typed("running"):
		return app.Usagef("expected one of --changes, --residue, --microfilm, --running and --compare")
	case w.microfilm && !typed("sheets"):
		return app.Usagef("--microfilm: expected --strength and --sheets too: what is carried over, and onto how much film")
	case typed("sheets") && (w.sheets < 1 || !(w.strength > 0)):
		return app.Usagef("--strength: %g, --sheets: %d; expected both above zero", w.strength, w.sheets)
	case typed("residue") && !(w.residue > 0):
		return app.Usagef("--residue: %g; expected a fraction above zero", w.residue)
	case w.compare && typed("sheets") && !w.microfilm:
		return app.Usagef("--compare and --strength do not go together: what is left on the film is worked out for one way")
	case w.compare && (typed("aid") || typed("stand")):
		return app.Usagef("--compare does not go with --aid and --stand: it lists the ways with the times that are published")
	}
	t, err := flags.WaterTemperature("temp", w.temp, p.Settings.Habits)
	if err != nil {
		return err
	}
	if !asked && w.compare {
		return printWashWays(p, t, 0, w.asJSON)
	}
	g, err := w.washing(t)
	if err != nil {
		return err
	}
	done := g.inChanges
	if typed("flow") {
		done = g.running
	}
	out, err := done(w)
	switch {
	case err != nil:
		return err
	case w.compare:
		return printWashWays(p, t, out.Changes, w.asJSON)
	case w.asJSON:
		return p.WriteJSON(out)
	}
	return g.print(p, w, out)
}
