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
	vessel, vesselAt, iceAt     string
	readyIn, settlesAt, tau     string
	ice, json                   bool
	units                       sequence.Units
}

// temperJSON is what temper says to a script: what it does not use is left out.
type temperJSON struct {
	Hot  *chem.Millilitres `json:"hot_ml,omitzero"`
	Cold *chem.Millilitres `json:"cold_ml,omitzero"`
	Ice  *float64          `json:"ice_g,omitzero"`
	Make *chem.Celsius     `json:"make_c,omitzero"` // what the bath is made, where it is to be at its temperature later
	Pour *chem.Celsius     `json:"pour_c,omitzero"` // what is poured, where the vessel takes or brings heat
}

func newTemperCommand(p *app.Env) *cobra.Command {
	var t temperFlags
	cmd := &cobra.Command{
		Use:   "temper",
		Short: "say how much hot and cold water make a temperature",
		Long: "Says how much hot and how much cold water make a volume at a temperature; or, with\n" +
			"--bath V@T, how much hot water, cold water or ice brings a standing bath there. With\n" +
			"--ready-in the bath is made so warm that it has its temperature when the film goes in.",
		Example: "  wetside temper --to 20 --volume 1.5l --hot 45 --cold 12\n" +
			"  wetside temper --to 20 --bath 1.5l@25 --ice --vessel-of \"400g plastic\"\n" +
			"  wetside temper --to 20 --volume 1.5l --hot 45 --cold 12 --ready-in 15m --settles-at 17 --time-constant 45m",
		Args: flags.UsageArgs(cobra.NoArgs),
		RunE: func(*cobra.Command, []string) error { return runTemper(p, t) },
	}
	f := cmd.Flags()
	f.StringVar(&t.to, "to", "", "`TEMPERATURE`: the one wanted")
	f.StringVar(&t.volume, "volume", "", "`VOLUME`: hot and cold water together")
	f.StringVar(&t.hot, "hot", "", "`TEMPERATURE`: the hot water's")
	f.StringVar(&t.cold, "cold", "", "`TEMPERATURE`: the cold water's")
	f.StringVar(&t.bath, "bath", "", "`V@T`: volume and temperature of a standing bath, corrected by --hot, --cold or --ice")
	f.StringVar(&t.vessel, "vessel-of", "", "`OF`: weight and material of the vessel, \"400g plastic\", so that its heat counts; with --bath, or with --vessel-at")
	f.StringVar(&t.vesselAt, "vessel-at", "", "`TEMPERATURE`: without --bath: that of the vessel into which the water is poured")
	f.BoolVar(&t.ice, "ice", false, "correct the bath with ice")
	f.StringVar(&t.iceAt, "ice-at", "", "`TEMPERATURE`: the ice's, such as -18 (default: melting)")
	f.StringVar(&t.readyIn, "ready-in", "", "`DURATION`: the first sheet goes in after this time: be at --to then")
	f.StringVar(&t.settlesAt, "settles-at", "", "`TEMPERATURE`: with --ready-in: where the bath drifts to (wetside fit bath finds it)")
	f.StringVar(&t.tau, "time-constant", "", "`DURATION`: with --ready-in: how fast it drifts: 63% of the way in this time")
	f.BoolVar(&t.json, "json", false, "print JSON")
	flags.Excludes(cmd, "bath", "volume")
	flags.Needs(cmd, "ice", "bath")
	flags.Needs(cmd, "ice-at", "ice")
	flags.Needs(cmd, "vessel-of", "bath", "vessel-at")
	flags.Needs(cmd, "vessel-at", "vessel-of")
	flags.Excludes(cmd, "vessel-at", "bath")
	cmd.MarkFlagsRequiredTogether("ready-in", "settles-at", "time-constant")
	return cmd
}

func runTemper(p *app.Env, t temperFlags) error {
	t.units = p.Settings.Habits
	to, err := flags.WaterTemperature("to", t.to, t.units)
	if err != nil {
		return err
	}
	start, err := t.start(to)
	if err != nil {
		return err
	}
	var w temperJSON
	if t.bath != "" {
		w, err = t.correctBath(start)
	} else {
		w, err = t.mixFresh(start)
	}
	if err != nil {
		return err
	}
	if t.readyIn != "" {
		w.Make = &start
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
	if w.Pour != nil {
		fmt.Fprintf(p.Out, "%11s  poured: the vessel brings it to %s\n", say.Reading(*w.Pour, t.units), say.Reading(start, t.units))
	}
	if w.Make != nil {
		fmt.Fprintf(p.Out, "%11s  now, to be %s in %s\n", say.Reading(start, t.units), say.Reading(to, t.units), t.readyIn)
	}
	return nil
}

// start is what the bath is to be at now, for its temperature when the film goes in.
func (t temperFlags) start(to chem.Celsius) (chem.Celsius, error) {
	if t.readyIn == "" {
		return to, nil
	}
	after, err := chem.ParseDuration(t.readyIn)
	if err != nil {
		return 0, app.Usagef("--ready-in: %v", err)
	}
	d := chem.Drift{}
	if d.Settle, err = flags.WaterTemperature("settles-at", t.settlesAt, t.units); err != nil {
		return 0, err
	}
	if d.Tau, err = chem.ParseDuration(t.tau); err != nil {
		return 0, app.Usagef("--time-constant: %v", err)
	}
	return d.StartFor(to, after)
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
	w := temperJSON{}
	if t.vessel != "" {
		if to, err = t.pouredInto(to, v); err != nil {
			return w, err
		}
		w.Pour = &to
	}
	h, c, err := chem.Temper(to, v, hot, cold)
	w.Hot, w.Cold = &h, &c
	return w, err
}

// pouredInto is what water is to be at that is poured into a vessel of another temperature.
func (t temperFlags) pouredInto(to chem.Celsius, v chem.Millilitres) (chem.Celsius, error) {
	heat, err := chem.ParseVesselHeat(t.vessel)
	if err != nil {
		return 0, app.Usagef("--vessel-of: %v", err)
	}
	at, err := flags.WaterTemperature("vessel-at", t.vesselAt, t.units)
	if err != nil {
		return 0, err
	}
	return chem.PouredFor(to, chem.StandingBath{Volume: v, T: at, Vessel: heat})
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
		ice := chem.Celsius(0)
		if t.iceAt != "" {
			if ice, err = chem.ParseIceTemperature(t.iceAt, t.units.Scale()); err != nil {
				return temperJSON{}, app.Usagef("--ice-at: %v", err)
			}
		}
		g, err := standing.IceToReach(to, ice)
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
