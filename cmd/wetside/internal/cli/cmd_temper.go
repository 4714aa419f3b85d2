package cli

// wetside temper: how much of each water makes a bath of the right temperature.

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"example.org/wetside/chem"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
)

// temperFlags is the flags as typed.
type temperFlags struct {
	to, volume, hot, cold, bath string
	vessel                      string
	ice, json                   bool
	units                       sequence.Units
}

// temperJSON is what temper says to a script: what it does not use is left out.
type temperJSON struct {
	Hot  *chem.Millilitres `json:"hot_ml,omitzero"`
	Cold *chem.Millilitres `json:"cold_ml,omitzero"`
	Ice  *float64          `json:"ice_g,omitzero"`
}

func newTemperCommand(p *app.Env) *cobra.Command {
	var t temperFlags
	cmd := &cobra.Command{
		Use:   "temper",
		Short: "how much hot and cold water make a temperature",
		Long: "How much hot and how much cold water make a volume at a temperature; or, with\n" +
			"--bath V@T, how much hot water, cold water or ice brings a standing bath there.",
		Example: "  wetside temper --to 20 --volume 1.5l --hot 45 --cold 12\n" +
			"  wetside temper --to 20 --bath 1.5l@25 --ice --vessel-of \"400g plastic\"",
		Args: flags.UsageArgs(cobra.NoArgs),
		RunE: func(*cobra.Command, []string) error { return runTemper(p, t) },
	}
	f := cmd.Flags()
	f.StringVar(&t.to, "to", "", "the temperature wanted, `TEMPERATURE`")
	f.StringVar(&t.volume, "volume", "", "of the whole, `VOLUME`")
	f.StringVar(&t.hot, "hot", "", "the hot water, `TEMPERATURE`")
	f.StringVar(&t.cold, "cold", "", "the cold water, `TEMPERATURE`")
	f.StringVar(&t.bath, "bath", "", "a standing bath, `V@T`, to be corrected with --hot, --cold or --ice")
	f.StringVar(&t.vessel, "vessel-of", "", "with --bath: what the vessel weighs and is `OF`, \"400g plastic\", so that its heat counts")
	f.BoolVar(&t.ice, "ice", false, "correct with ice")
	f.BoolVar(&t.json, "json", false, "as JSON")
	flags.Excludes(cmd, "bath", "volume")
	flags.Needs(cmd, "ice", "bath")
	flags.Needs(cmd, "vessel-of", "bath")
	return cmd
}

func runTemper(p *app.Env, t temperFlags) error {
	t.units = p.Settings.Habits
	to, err := flags.WaterTemperature("to", t.to, t.units)
	if err != nil {
		return err
	}
	var w temperJSON
	if t.bath != "" {
		w, err = t.correctBath(to)
	} else {
		w, err = t.mixFresh(to)
	}
	if err != nil {
		return err
	}
	if t.json {
		return p.WriteJSON(w)
	}
	for _, part := range []struct {
		of   *chem.Millilitres
		name string
	}{{w.Hot, "hot water"}, {w.Cold, "cold water"}} {
		if part.of != nil {
			fmt.Fprintf(p.Out, "%11s  %s\n", say.Volume(*part.of, t.units), part.name)
		}
	}
	if w.Ice != nil {
		fmt.Fprintf(p.Out, "%11s  ice, in a bag so that it does not dilute the bath\n", fmt.Sprintf("%.0f g", *w.Ice))
	}
	return nil
}

// mixFresh mixes a bath from two waters.
func (t temperFlags) mixFresh(to chem.Celsius) (temperJSON, error) {
	v, err := flags.Volume("volume", t.volume)
	if err != nil {
		return temperJSON{}, err
	}
	hot, err := flags.WaterTemperature("hot", t.hot, t.units)
	if err != nil {
		return temperJSON{}, err
	}
	cold, err := flags.WaterTemperature("cold", t.cold, t.units)
	if err != nil {
		return temperJSON{}, err
	}
	h, c, err := chem.Temper(to, v, hot, cold)
	return temperJSON{Hot: &h, Cold: &c}, err
}

// correctBath brings a standing bath to the temperature with the one thing named.
func (t temperFlags) correctBath(to chem.Celsius) (temperJSON, error) {
	volume, now, ok := strings.Cut(t.bath, "@")
	given := 0
	for _, is := range []bool{t.hot != "", t.cold != "", t.ice} {
		if is {
			given++
		}
	}
	if !ok || given != 1 {
		return temperJSON{}, app.Usagef("--bath takes V@T and one of --hot, --cold and --ice")
	}
	v, err := flags.Volume("bath", volume)
	if err != nil {
		return temperJSON{}, err
	}
	at, err := flags.WaterTemperature("bath", now, t.units)
	if err != nil {
		return temperJSON{}, err
	}
	standing := chem.StandingBath{Volume: v, T: at}
	if t.vessel != "" {
		if standing.Vessel, err = chem.ParseVesselHeat(t.vessel); err != nil {
			return temperJSON{}, app.Usagef("--vessel-of: %v", err)
		}
	}
	if t.ice {
		g, err := standing.IceToReach(to)
		return temperJSON{Ice: &g}, err
	}
	flag, text := "hot", t.hot
	if text == "" {
		flag, text = "cold", t.cold
	}
	water, err := flags.WaterTemperature(flag, text, t.units)
	if err != nil {
		return temperJSON{}, err
	}
	add, err := standing.WaterToReach(to, water)
	if flag == "hot" {
		return temperJSON{Hot: &add}, err
	}
	return temperJSON{Cold: &add}, err
}
