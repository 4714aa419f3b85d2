package main

// wetside batches: more sheets than one session takes, as rounds.

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

func (p *program) batches() *cobra.Command {
	var today conditions
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
		Args: words(cobra.ExactArgs(1)),
		RunE: func(_ *cobra.Command, args []string) error {
			o, err := order(today.Sheets, stock, between, atOnce)
			if err != nil {
				return err
			}
			return p.showBatches(args[0], today.Words, o, asJSON)
		},
	}
	today.flags(cmd)
	today.bottles(cmd)
	f := cmd.Flags()
	f.StringVar(&stock, "stock", "", "`V` of the developer's first part in hand")
	f.StringVar(&atOnce, "at-once", "", "most sheets at once, `N` (usual: as many as the recipe loads)")
	f.StringVar(&between, "between", "", "time between two rounds, `D` (usual: 10m)")
	f.BoolVar(&asJSON, "json", false, "as JSON")
	cmd.Flag("sheets").Usage = "number of sheets in all, `N`"
	return cmd
}

// order reads the words of an order.
func order(sheets, stock, between, atOnce string) (o sequence.BatchOrder, err error) {
	o.Between = sequence.BetweenRounds
	if o.Sheets, err = strconv.Atoi(sheets); err != nil || o.Sheets < 1 {
		return o, usage("--sheets: %q; expected how many in all", sheets)
	}
	if atOnce != "" {
		if o.AtOnce, err = strconv.Atoi(atOnce); err != nil || o.AtOnce < 1 {
			return o, usage("--at-once: %q; expected a number of sheets", atOnce)
		}
	}
	if between != "" {
		if o.Between, err = chem.ParseDuration(between); err != nil {
			return o, usage("--between: %v", err)
		}
	}
	if stock != "" {
		if o.Stock, err = chem.ParseMillilitres(stock); err != nil {
			return o, usage("--stock: %v", err)
		}
	}
	return o, nil
}

// showBatches divides the order and shows it. Stock that does not suffice is an error.
func (p *program) showBatches(recipe string, w sequence.Words, o sequence.BatchOrder, asJSON bool) error {
	w.Sheets = ""
	today, err := p.own(w).Conditions()
	if err != nil {
		return usageError{err}
	}
	r, err := findRecipe(recipe)
	if err != nil {
		return err
	}
	if w.Baths != sequence.FreshBaths {
		if today.Kept, err = w.Draw(p.keptFor(r.Recipe)); err != nil {
			return usageError{err}
		}
	}
	b, err := sequence.Batch(r.Recipe, today, o)
	if err != nil {
		return fmt.Errorf("%s: %w", recipe, err)
	}
	if asJSON {
		err = p.json(b)
	} else {
		_, err = fmt.Fprint(p.out, cleaned(batchPage(b)))
	}
	if err == nil && b.Lacking > 0 {
		return fmt.Errorf("%.4g ml of the developer's first part are lacking; expected %.4g ml in hand", float64(b.Lacking), float64(*b.Stock))
	}
	return err
}

// batchPage is the rounds as a table.
func batchPage(b sequence.Batches) string {
	text := &strings.Builder{}
	fmt.Fprintf(text, "%-5s  %6s  %8s  %8s  %8s  %8s  %s\n", "round", "sheets", "starts", "lasts", "wet", "margin", "baths")
	for i, r := range b.Rounds {
		margin := "-"
		if r.Margin != nil {
			margin = sequence.Clock(*r.Margin)
		}
		var baths []string
		for _, bath := range r.Baths {
			baths = append(baths, bathWords(bath))
		}
		fmt.Fprintf(text, "%-5d  %6d  %8s  %8s  %8s  %8s  %s\n", i+1, r.Sheets, sequence.Clock(r.Start), sequence.Clock(r.Time),
			sequence.Clock(r.Wet), margin, strings.Join(baths, ", "))
	}
	fmt.Fprintf(text, "\nAll in %s. A round is no larger because %s.\n", sequence.Clock(b.Total), b.Why)
	if b.Stock != nil {
		fmt.Fprintf(text, "Stock: %.4g ml of the developer's first part in all.\n", float64(*b.Stock))
	}
	return text.String()
}

// bathWords is a bath in a round: "developer fresh", or how many sheets it has had.
func bathWords(b sequence.RoundBath) string {
	if b.Fresh {
		return b.ID + " fresh"
	}
	name := b.ID
	if b.Bottle != "" {
		name += " from " + b.Bottle
	}
	if b.Room > 0 {
		return fmt.Sprintf("%s %d of %d", name, b.Served, b.Room)
	}
	return name + " as it is"
}
