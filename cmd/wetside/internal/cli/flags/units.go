package flags

// The person's units, on every command: from the settings, unless a flag says
// otherwise.

import (
	"github.com/spf13/cobra"

	"example.org/wetside/cmd/wetside/internal/app"
)

// AddUnits adds the flags to the root, for all commands.
func AddUnits(p *app.Env, root *cobra.Command) {
	f, h := root.PersistentFlags(), &p.Settings.Habits
	f.BoolVar(&h.Fahrenheit, "fahrenheit", h.Fahrenheit, "temperatures in Fahrenheit, shown and typed")
	f.BoolVar(&h.FluidOunces, "floz", h.FluidOunces, "volumes shown in US fluid ounces")
	f.BoolVar(&h.TwelveHours, "ampm", h.TwelveHours, "the time of day with am and pm")
}
