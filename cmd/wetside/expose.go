package main

// wetside expose: from the meter to the shutter.

import (
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"example.org/wetside/chem"
)

// exposing is the flags as typed.
type exposing struct {
	metered                     string
	filter, bellows             float64
	extension, focal, magnified float64
	laws                        lawFlags
	card                        bool
	html                        string
	asJSON                      bool
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
		Long: "Corrects a metered time for the filter's factor, then the bellows (a factor, extension\n" +
			"and focal length, or magnification), then reciprocity failure on the resulting time: by\n" +
			"the recipe's table for its film, by --table of metered and corrected seconds, by\n" +
			"--exponent, or by your own --tests: a file of metered times and what was needed for the\n" +
			"same density (or stops, or density with --gradient). Without --metered, --tests tells\n" +
			"the film's own law; --card makes a table of times for the pocket.",
		Example: "  wetside expose --metered 4s --filter 2 plover-tray\n" +
			"  wetside expose --metered 4s --magnification 0.5 --table \"1:1.4,8:40\"\n" +
			"  wetside expose --metered 10s --exponent 0.86\n" +
			"  wetside expose --card plover-tray",
		Args: words(cobra.MaximumNArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error {
			law, err := x.laws.law(cmd, args)
			switch {
			case err != nil:
				return err
			case x.card || x.html != "":
				return p.showCard(law, x)
			case x.metered == "" && law.fit != nil:
				return p.showLaw(law, x.asJSON)
			}
			return p.exposeOne(cmd, law, x)
		},
	}
	f := cmd.Flags()
	f.StringVar(&x.metered, "metered", "", "what the meter says, `D`")
	f.Float64Var(&x.filter, "filter", 1, "the filter's factor, `F`")
	f.Float64Var(&x.bellows, "bellows", 1, "the bellows factor, `F`")
	f.Float64Var(&x.extension, "extension", 0, "the bellows' extension, `E`, in the unit of --focal; instead of --bellows")
	f.Float64Var(&x.focal, "focal", 0, "the lens's focal length, `F`")
	f.Float64Var(&x.magnified, "magnification", 0, "image size over subject size, `M`; instead of --bellows")
	x.laws.flags(f)
	f.BoolVar(&x.card, "card", false, "a table of times for the pocket")
	f.StringVar(&x.html, "html", "", "write that table as a page to print to `FILE`")
	f.BoolVar(&x.asJSON, "json", false, "as JSON")
	return cmd
}

// exposeOne corrects one metered time.
func (p *program) exposeOne(cmd *cobra.Command, law namedLaw, x exposing) error {
	metered, err := chem.ParseDuration(x.metered)
	if err != nil {
		return usage("--metered: %v", err)
	}
	bellows, err := x.bellowsFactor(cmd)
	if err != nil {
		return err
	}
	e, err := chem.Expose(metered, x.filter, bellows, law.law)
	if err != nil {
		return err
	}
	return p.showExposure(exposed{e.Metered, e.Filtered, e.Extended, e.Final, e.Stops, law.beyond(e),
		law.longest > 0 && e.Extended > law.longest}, law, x.asJSON)
}

// bellowsFactor is the factor in whichever way it was given.
func (x exposing) bellowsFactor(cmd *cobra.Command) (float64, error) {
	given := 0
	for _, flag := range []string{"bellows", "extension", "magnification"} {
		if cmd.Flags().Changed(flag) {
			given++
		}
	}
	switch {
	case given > 1:
		return 0, usage("expected one of --bellows, --extension and --magnification")
	case cmd.Flags().Changed("extension") != cmd.Flags().Changed("focal"):
		return 0, usage("--extension and --focal belong together")
	case cmd.Flags().Changed("extension"):
		return chem.BellowsFactor(x.extension, x.focal)
	case cmd.Flags().Changed("magnification"):
		return chem.MagnificationFactor(x.magnified)
	}
	return x.bellows, nil
}

func (p *program) showExposure(e exposed, law namedLaw, asJSON bool) error {
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
	if law.law == nil {
		row("to expose", e.Exposure)
	} else {
		row("to expose, by "+law.of, e.Exposure)
	}
	fmt.Fprintf(p.out, "%+.1f stops in all\n", e.Stops)
	switch {
	case e.Beyond && law.tested > 0:
		fmt.Fprintf(p.out, "care: longer than the longest test, %s; this is extrapolated\n", chem.FormatDuration(law.tested))
	case e.Beyond:
		fmt.Fprintln(p.out, "care: past the end of the table; this is extrapolated")
	}
	if e.TooLong {
		fmt.Fprintf(p.out, "care: longer than the %s that this film is good for\n", chem.FormatDuration(law.longest))
	}
	if law.note != "" {
		fmt.Fprintln(p.out, "note: "+law.note)
	}
	if e.Exposure > e.Extended {
		fmt.Fprintln(p.out, "note: long exposures gain contrast; consider less development (common practice)")
	}
	return nil
}
