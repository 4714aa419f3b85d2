package main

// The person's units, on every command: from the settings, unless a flag says
// otherwise.

import (
	"strconv"

	"github.com/spf13/cobra"
)

// habits adds the flags to the root, for all commands.
func (p *program) habits(root *cobra.Command) {
	f, h := root.PersistentFlags(), &p.settings.Habits
	f.BoolVar(&h.Fahrenheit, "fahrenheit", h.Fahrenheit, "temperatures in Fahrenheit, shown and typed")
	f.BoolVar(&h.FluidOunces, "floz", h.FluidOunces, "volumes in fluid ounces of the United States, as shown")
	f.BoolVar(&h.TwelveHours, "ampm", h.TwelveHours, "the time of day with am and pm")
}

// habitWords are the flags again, for a command that this program starts.
func (p *program) habitWords() []string {
	h := p.settings.Habits
	return []string{"--fahrenheit=" + strconv.FormatBool(h.Fahrenheit), "--floz=" + strconv.FormatBool(h.FluidOunces),
		"--ampm=" + strconv.FormatBool(h.TwelveHours)}
}
