package main

// wetside expose: from the meter to the shutter.

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"example.org/wetside/chem"
	"example.org/wetside/recipes"
)

// exposing is the flags as typed.
type exposing struct {
	metered, table  string
	filter, bellows float64
	exponent        float64
	asJSON          bool
}

// exposed is what expose says to a script.
type exposed struct {
	Metered  time.Duration `json:"metered_s"`
	Filtered time.Duration `json:"filtered_s"`
	Extended time.Duration `json:"extended_s"`
	Exposure time.Duration `json:"exposure_s"`
	Stops    float64       `json:"stops"`
	Beyond   bool          `json:"beyond_table"`
	TooLong  bool          `json:"beyond_longest"`
}

func (p *program) expose() *cobra.Command {
	var x exposing
	cmd := &cobra.Command{
		Use:   "expose --metered D [RECIPE]",
		Short: "correct a metered time for filter, bellows and reciprocity failure",
		Long: "Corrects a metered time for the filter's factor, then the bellows factor, then\n" +
			"reciprocity failure on the resulting time: by the recipe's table for its film, by\n" +
			"--table of metered and corrected seconds, or by --exponent.",
		Example: "  wetside expose --metered 4s --filter 2 plover-tray\n" +
			"  wetside expose --metered 8s --table \"1:1.4,8:40\"\n" +
			"  wetside expose --metered 10s --exponent 0.86",
		Args: words(cobra.MaximumNArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error {
			metered, err := chem.ParseDuration(x.metered)
			if err != nil {
				return usage("--metered: %v", err)
			}
			law, longest, err := x.law(cmd, args)
			if err != nil {
				return err
			}
			e, err := chem.Expose(metered, x.filter, x.bellows, law)
			if err != nil {
				return err
			}
			return p.showExposure(exposed{e.Metered, e.Filtered, e.Extended, e.Final, e.Stops, e.Beyond,
				longest > 0 && e.Extended > longest}, longest, x.asJSON)
		},
	}
	f := cmd.Flags()
	f.StringVar(&x.metered, "metered", "", "what the meter says, `D`")
	f.Float64Var(&x.filter, "filter", 1, "the filter's factor, `F`")
	f.Float64Var(&x.bellows, "bellows", 1, "the bellows factor, `F`")
	f.StringVar(&x.table, "table", "", "metered and corrected seconds, `\"1:1.4,8:40\"`")
	f.Float64Var(&x.exponent, "exponent", 0, "exposure = metered^(1/`P`) from one second up")
	f.BoolVar(&x.asJSON, "json", false, "as JSON")
	return cmd
}

// law is the reciprocity law asked for, nil for none, and the longest sensible
// metered time, 0 where none is known.
func (x exposing) law(cmd *cobra.Command, args []string) (chem.Reciprocity, time.Duration, error) {
	ways := len(args)
	for _, flag := range []string{"table", "exponent"} {
		if cmd.Flags().Changed(flag) {
			ways++
		}
	}
	switch {
	case ways > 1:
		return nil, 0, usage("expected one of RECIPE, --table and --exponent")
	case cmd.Flags().Changed("table"):
		entries, err := parseTable(x.table)
		if err != nil {
			return nil, 0, usage("--table: %v", err)
		}
		law, err := chem.NewExposureTable(entries)
		return law, 0, err
	case cmd.Flags().Changed("exponent"):
		return chem.Exponent(x.exponent), 0, nil
	case len(args) == 0:
		return nil, 0, nil
	}
	r, err := recipeOf(args[0])
	if err != nil {
		return nil, 0, err
	}
	table := r.Film.Reciprocity
	if table == nil {
		return nil, 0, fmt.Errorf("%s: the recipe has no reciprocity table for %s; expected --table or --exponent",
			recipes.Clean(args[0]), recipes.Clean(r.Film.Name))
	}
	law, err := chem.NewExposureTable(table.Table)
	return law, table.Longest, err
}

// parseTable reads "1:1.4,8:40": metered and corrected seconds.
func parseTable(text string) ([][2]time.Duration, error) {
	var list [][2]time.Duration
	for _, entry := range strings.Split(text, ",") {
		from, to, ok := strings.Cut(entry, ":")
		a, errA := strconv.ParseFloat(strings.TrimSpace(from), 64)
		b, errB := strconv.ParseFloat(strings.TrimSpace(to), 64)
		if !ok || errA != nil || errB != nil || !(a > 0 && b > 0 && a < 1e6 && b < 1e6) {
			return nil, fmt.Errorf("%q; expected metered:corrected in seconds", entry)
		}
		list = append(list, [2]time.Duration{time.Duration(math.Round(a * 1e9)), time.Duration(math.Round(b * 1e9))})
	}
	return list, nil
}

func (p *program) showExposure(e exposed, longest time.Duration, asJSON bool) error {
	if asJSON {
		return p.json(e)
	}
	row := func(name string, d time.Duration) { fmt.Fprintf(p.out, "%10.4g s  %s\n", d.Seconds(), name) }
	row("metered", e.Metered)
	if e.Filtered != e.Metered {
		row("with the filter", e.Filtered)
	}
	if e.Extended != e.Filtered {
		row("with the bellows", e.Extended)
	}
	row("to expose", e.Exposure)
	fmt.Fprintf(p.out, "%+.1f stops in all\n", e.Stops)
	if e.Beyond {
		fmt.Fprintln(p.out, "care: past the end of the table; this is extrapolated")
	}
	if e.TooLong {
		fmt.Fprintf(p.out, "care: longer than the %s that this film is good for\n", chem.FormatDuration(longest))
	}
	if e.Exposure > e.Extended {
		fmt.Fprintln(p.out, "note: long exposures gain contrast; consider less development (common practice)")
	}
	return nil
}
