package cli

// wetside batches: more sheets than one session takes, as rounds.

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"example.org/wetside/chem"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/bottles"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/say"
)

func newPlanRoundsCommand(p *app.Env) *cobra.Command {
	var today flags.ConditionFlags
	var stock, between, atOnce string
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "batches RECIPE --sheets N",
		Short: "many sheets as rounds: how many at once, how long, which baths fresh",
		Long: "Divides many sheets into rounds: as many at once as the vessel, the film's wet limit, the\n" +
			"baths' volume and capacity allow, all rounds as even as can be. A bath is mixed fresh where\n" +
			"it would have had its sheets, or be older than it keeps.",
		Example: "  wetside batches plover-tray --sheets 24 --stock 500ml\n" +
			"  wetside batches tern-hangers --sheets 30 --temp 22 --json",
		Args: flags.UsageArgs(cobra.ExactArgs(1)),
		RunE: func(_ *cobra.Command, args []string) error {
			o, err := parseRoundFlags(today.Sheets, stock, between, atOnce)
			if err != nil {
				return err
			}
			return runPlanRounds(p, args[0], today.RawConditions, o, asJSON)
		},
	}
	today.Add(cmd)
	today.AddBottles(cmd)
	f := cmd.Flags()
	f.StringVar(&stock, "stock", "", "`V` of the developer's first part in hand")
	f.StringVar(&atOnce, "at-once", "", "most sheets at once, `N` (usual: as many as the recipe loads)")
	f.StringVar(&between, "between", "", "time between two rounds, `D` (usual: 10m)")
	f.BoolVar(&asJSON, "json", false, "as JSON")
	cmd.Flag("sheets").Usage = "number of sheets in all, `N`"
	return cmd
}

// parseRoundFlags reads the words of an order.
func parseRoundFlags(sheets, stock, between, atOnce string) (o planning.RoundsOrder, err error) {
	o.Between = planning.BetweenRounds
	if o.Sheets, err = strconv.Atoi(sheets); err != nil || o.Sheets < 1 {
		return o, app.Usagef("--sheets: %q; expected how many in all", sheets)
	}
	if atOnce != "" {
		if o.MostInRound, err = strconv.Atoi(atOnce); err != nil || o.MostInRound < 1 {
			return o, app.Usagef("--at-once: %q; expected a number of sheets", atOnce)
		}
	}
	if between != "" {
		if o.Between, err = chem.ParseDuration(between); err != nil {
			return o, app.Usagef("--between: %v", err)
		}
	}
	if stock != "" {
		if o.Stock, err = chem.ParseMillilitres(stock); err != nil {
			return o, app.Usagef("--stock: %v", err)
		}
	}
	return o, nil
}

// runPlanRounds divides the order and shows it. Stock that does not suffice is an error.
func runPlanRounds(p *app.Env, recipe string, w sequence.RawConditions, o planning.RoundsOrder, asJSON bool) error {
	w.Sheets = ""
	today, err := p.WithSettings(w).Conditions()
	if err != nil {
		return app.AsUsage(err)
	}
	r, err := app.FindRecipe(recipe)
	if err != nil {
		return err
	}
	if w.Bottles != sequence.FreshBathsWord {
		if today.OpenBottles, err = bottles.Choose(w, p.BottlesFor(r.Recipe)); err != nil {
			return app.AsUsage(err)
		}
	}
	b, err := planning.DivideIntoRounds(r.Recipe, today, o)
	if err != nil {
		return fmt.Errorf("%s: %w", recipe, err)
	}
	if asJSON {
		err = p.WriteJSON(say.Rounds(b, p.Settings.Habits))
	} else {
		_, err = fmt.Fprint(p.Out, app.CleanPage(roundsText(b, p.Settings.Habits)))
	}
	if err == nil && b.Short > 0 {
		return fmt.Errorf("%.4g ml of the developer's first part are lacking; expected %.4g ml in hand", float64(b.Short), float64(*b.Stock))
	}
	return err
}

// roundsText is the rounds as a table.
func roundsText(b planning.RoundsPlan, h sequence.Units) string {
	text := &strings.Builder{}
	fmt.Fprintf(text, "%-5s  %6s  %8s  %8s  %8s  %8s  %s\n", "round", "sheets", "starts", "lasts", "wet", "margin", "baths")
	for i, r := range b.Rounds {
		margin := "-"
		if r.Margin != nil {
			margin = sequence.FormatElapsed(*r.Margin)
		}
		var baths []string
		for _, bath := range r.Baths {
			baths = append(baths, roundBathText(bath))
		}
		fmt.Fprintf(text, "%-5d  %6d  %8s  %8s  %8s  %8s  %s\n", i+1, r.Sheets, sequence.FormatElapsed(r.Start), sequence.FormatElapsed(r.Time),
			sequence.FormatElapsed(r.Wet), margin, strings.Join(baths, ", "))
	}
	fmt.Fprintf(text, "\nAll in %s. A round is no larger because %s.\n", sequence.FormatElapsed(b.Total), say.RoundLimit(b.Limit, h))
	if b.Stock != nil {
		fmt.Fprintf(text, "Stock: %.4g ml of the developer's first part in all.\n", float64(*b.Stock))
	}
	return text.String()
}

// roundBathText is a bath in a round: "developer fresh", or how many sheets it has had.
func roundBathText(b planning.RoundBath) string {
	if b.Fresh {
		return b.ID + " fresh"
	}
	name := b.ID
	if b.Bottle != "" {
		name += " from " + b.Bottle
	}
	if b.Capacity > 0 {
		return fmt.Sprintf("%s %d of %d", name, b.Served, b.Capacity)
	}
	return name + " as it is"
}
