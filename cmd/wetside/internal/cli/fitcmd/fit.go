// Package fitcmd is wetside fit: constants for the plan from what a person measured, of a
// bath, of a developer, of a film in long exposures.
package fitcmd

import (
	"strings"

	"github.com/spf13/cobra"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
)

// How many lines are fitted: more take longer than anybody waits, and tell no more.
const (
	maxBathReadings     = 5000
	maxReciprocityTests = 500
)

// NewFitCommand is fit with what stands under it.
func NewFitCommand(p *app.Env) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "fit",
		Short: "find constants from your own measurements",
		Long: "Finds constants from what you measured: how a bath drifts, how a developer depends on\n" +
			"temperature, what a film loses in long exposures. Each file is a table (CSV); # begins a\n" +
			"comment.",
		Example: "  wetside fit coefficient 10m@18,7m@22",
		Args:    flags.UsageArgs(cobra.NoArgs),
		RunE: func(*cobra.Command, []string) error {
			return app.Usagef("what is fitted is missing; expected bath, coefficient or reciprocity")
		},
	}
	cmd.AddCommand(newBathCommand(p), newCoefficientCommand(p), newReciprocityCommand(p))
	return cmd
}

func newBathCommand(p *app.Env) *cobra.Command {
	var asJSON bool
	var tau string
	cmd := &cobra.Command{
		Use:   "bath FILE",
		Short: "find where a bath settles, and how fast",
		Long: "Finds where a bath settles, and how fast, from at least five readings: lines of a time\n" +
			"and a temperature. FILE may also be a session in which the bath was read. Hands in a tray\n" +
			"warm it: read it while you work as in a session. With the time constant of a bath left\n" +
			"alone two readings are enough. The result is typed as --settles-at and --time-constant\n" +
			"of a plan.",
		Example: "  wetside fit bath readings.csv\n" +
			"  wetside fit bath readings.csv --time-constant 45m",
		Args: flags.UsageArgs(cobra.ExactArgs(1)),
		RunE: func(_ *cobra.Command, args []string) error { return runFitBath(p, args[0], tau, asJSON) },
	}
	cmd.Flags().StringVar(&tau, "time-constant", "", "`DURATION`: known already; find only where it settles")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	return cmd
}

func newCoefficientCommand(p *app.Env) *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "coefficient FILE",
		Short: "find how much faster a developer works when it is warmer",
		Long: "Finds the temperature coefficient, the ratio of rates for 10 °C, from developing times\n" +
			"that gave the same result: lines of a time and a temperature, two at least. In place of\n" +
			"a FILE they may be typed, each TIME@TEMPERATURE with commas between.",
		Example: "  wetside fit coefficient times.csv\n" +
			"  wetside fit coefficient 10m@18,7m@22",
		Args: flags.UsageArgs(cobra.MinimumNArgs(1)), // typed times may be parted by blanks too
		RunE: func(_ *cobra.Command, args []string) error {
			return runFitCoefficient(p, strings.Join(args, ","), asJSON)
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	return cmd
}

func newReciprocityCommand(p *app.Env) *cobra.Command {
	var asJSON bool
	var gradient float64
	cmd := &cobra.Command{
		Use:   "reciprocity FILE",
		Short: "find what a film loses in long exposures",
		Long: "Finds which of two laws of long exposures your own tests follow: lines of a metered time\n" +
			"and what was needed for the same density (heading metered,needed), or the stops needed\n" +
			"more (metered,stops), or the density that the metered time gave (metered,density, with\n" +
			"the film's --gradient). The result is typed in wetside expose, or put into a recipe.",
		Example: "  wetside fit reciprocity tests.csv",
		Args:    flags.UsageArgs(cobra.ExactArgs(1)),
		RunE: func(c *cobra.Command, args []string) error {
			return runFitReciprocity(p, args[0], gradient, c.Flags().Changed("gradient"), asJSON)
		},
	}
	cmd.Flags().Float64Var(&gradient, "gradient", 0, "`G`: for tests with densities: the film's average gradient there")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	return cmd
}
