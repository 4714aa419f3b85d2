package cli

// wetside plan --total: more sheets than one session takes, as rounds.

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"example.org/wetside/chem"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/bottles"
	"example.org/wetside/sequence/film"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/say"
)

// roundFlags say how many sheets are divided, and by what.
type roundFlags struct{ total, stock, between, atOnce string }

func (r *roundFlags) add(f *pflag.FlagSet) {
	f.StringVar(&r.total, "total", "", "`N`: divide N sheets into rounds")
	f.StringVar(&r.stock, "stock", "", "`VOLUME`: with --total: how much of the developer's first part is in hand")
	f.StringVar(&r.atOnce, "at-once", "", "`N`: with --total: most sheets at once (default: the recipe's number)")
	f.StringVar(&r.between, "between", "", "`DURATION`: with --total: time between two rounds (default 10m)")
}

// order reads the words.
func (r *roundFlags) order() (o planning.RoundsOrder, err error) {
	o.Between = planning.BetweenRounds
	if o.Sheets, err = strconv.Atoi(r.total); err != nil || o.Sheets < 1 {
		return o, app.Usagef("--total: %q; expected the total number of sheets", r.total)
	}
	if r.atOnce != "" {
		if o.MostInRound, err = strconv.Atoi(r.atOnce); err != nil || o.MostInRound < 1 {
			return o, app.Usagef("--at-once: %q; expected a number of sheets", r.atOnce)
		}
	}
	if r.between != "" {
		if o.Between, err = chem.ParseDuration(r.between); err != nil {
			return o, app.Usagef("--between: %v", err)
		}
	}
	if r.stock != "" {
		if o.Stock, err = chem.ParseMillilitres(r.stock); err != nil {
			return o, app.Usagef("--stock: %v", err)
		}
	}
	return o, nil
}

// roundsJSON is the rounds for a script, with what is known of the film.
type roundsJSON struct {
	Rounds   planning.RoundsPlan `json:",embed"`
	FilmTime *film.Offer         `json:"film_time"` // null where nothing is known
}

// runPlanRounds divides the sheets and shows the rounds. Stock that does not suffice is an error.
func runPlanRounds(p *app.Env, recipe string, x *planFlags) error {
	o, err := x.rounds.order()
	if err != nil {
		return err
	}
	today, err := p.WithSettings(x.RawConditions).Conditions()
	if err != nil {
		return app.AsUsage(err)
	}
	r, err := app.FindRecipe(recipe)
	if err != nil {
		return err
	}
	if x.Bottles != sequence.FreshBathsWord {
		if today.OpenBottles, err = bottles.Choose(x.RawConditions, p.BottlesFor(r.Recipe)); err != nil {
			return app.AsUsage(err)
		}
	}
	b, err := planning.DivideIntoRounds(r.Recipe, today, o)
	if err != nil {
		return fmt.Errorf("%s: %w", safetext.Clean(recipe), err)
	}
	today.Sheets = b.Rounds[0].Sheets // of rounds that a weakening bath lengthens, the film's time is beside the first
	first, err := planning.Resolve(r.Recipe, today)
	if err != nil {
		return fmt.Errorf("%s: %w", safetext.Clean(recipe), err)
	}
	offer := filmOffer(&first)
	if x.asJSON {
		err = p.WriteJSON(roundsJSON{say.Rounds(b, p.Settings.Habits), offer})
	} else {
		text := roundsText(b, p.Settings.Habits)
		if known := filmTimeText(p, offer); known != "" {
			text += "\n" + known
		}
		_, err = fmt.Fprint(p.Out, app.CleanPage(text))
	}
	if err == nil && b.Short > 0 {
		return fmt.Errorf("short by %.4g ml of the developer's first part; expected %.4g ml in hand", float64(b.Short), float64(*b.Stock))
	}
	return err
}

// roundsText is the rounds as a table.
func roundsText(b planning.RoundsPlan, h sequence.Units) string {
	text := &strings.Builder{}
	fmt.Fprintf(text, "%-5s  %6s  %8s  %8s  %8s  %8s  %s\n", "round", "sheets", "starts", "lasts", "wet", "in hand", "baths")
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
		fmt.Fprintf(text, "Stock: %.4g ml of the developer's first part in total.\n", float64(*b.Stock))
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
