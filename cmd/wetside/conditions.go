package main

// Today's conditions, as flags that plan and run share.

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"example.org/wetside/chem"
	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
)

// conditions are the flags as they were typed.
type conditions struct {
	temp, towards, drift, wetLimit, clearing string
	vessel, development                      string
	sheets                                   int
	factor                                   float64
}

// flags adds the conditions to a command.
func (c *conditions) flags(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringVar(&c.temp, "temp", "", "the developer read `T[@D]`: T, D before the first dip (22, 72F, 22@3m)")
	f.StringVar(&c.towards, "towards", "", "where the developer settles, `T`; with --drift")
	f.StringVar(&c.drift, "drift", "", "time constant of that, `D`")
	f.IntVar(&c.sheets, "sheets", 0, "number of sheets")
	f.StringVar(&c.vessel, "vessel", "", "tray, single, cradle, hangers, daylight-tank, drum or tube")
	f.StringVar(&c.wetLimit, "wet-limit", "", "longest wet time the film stands, `D`")
	f.Float64Var(&c.factor, "factor", 0, "multiplies developing time")
	f.StringVar(&c.development, "development", "", "one of the recipe's developments (N-1, N, N+1)")
	f.StringVar(&c.clearing, "clearing", "", "measured clearing time in the fixer, `D`")
}

// read turns the words into conditions; what is wrong with them is wrong usage.
func (c *conditions) read(cmd *cobra.Command) (sequence.Conditions, error) {
	out := sequence.Conditions{Sheets: c.sheets, Vessel: sequence.Vessel(c.vessel), Factor: c.factor, Development: c.development}
	var errs []error
	celsius := func(flag, text string) *chem.Celsius {
		t, err := chem.ParseCelsius(text)
		if err != nil {
			errs = append(errs, fmt.Errorf("--%s: %w", flag, err))
		}
		return &t
	}
	span := func(flag, text string, to *time.Duration) {
		if text == "" {
			return
		}
		d, err := chem.ParseDuration(text)
		if err != nil {
			errs = append(errs, fmt.Errorf("--%s: %w", flag, err))
		}
		*to = d
	}
	if c.temp != "" {
		t, ago, _ := strings.Cut(c.temp, "@")
		out.Temp = celsius("temp", t)
		span("temp", ago, &out.ReadBefore)
	}
	if c.towards != "" {
		out.Towards = celsius("towards", c.towards)
	}
	span("drift", c.drift, &out.Drift)
	span("wet-limit", c.wetLimit, &out.WetLimit)
	span("clearing", c.clearing, &out.Clearing)
	if (c.towards == "") != (c.drift == "") {
		errs = append(errs, errors.New("--towards and --drift belong together: where the bath settles, and its time constant"))
	}
	if cmd.Flags().Changed("sheets") && c.sheets < 1 {
		errs = append(errs, fmt.Errorf("--sheets: %d; expected 1 to 200", c.sheets))
	}
	if cmd.Flags().Changed("factor") && !(c.factor > 0) {
		errs = append(errs, fmt.Errorf("--factor: %g; expected 0.1 to 10", c.factor))
	}
	if len(errs) > 0 {
		return out, usageError{errors.Join(errs...)}
	}
	return out, nil
}

// resolve reads a recipe and plans it under the conditions typed.
func (c *conditions) resolve(cmd *cobra.Command, recipe string) (sequence.Plan, error) {
	today, err := c.read(cmd)
	if err != nil {
		return sequence.Plan{}, err
	}
	r, err := recipes.Find(recipe, ownRecipes())
	if err != nil {
		return sequence.Plan{}, err
	}
	plan, err := sequence.Resolve(r, today)
	if err != nil {
		return sequence.Plan{}, fmt.Errorf("%s: %w", recipes.Clean(recipe), err)
	}
	return plan, nil
}
