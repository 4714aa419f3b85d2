package main

// wetside temper: how much of each water makes a bath of the right temperature.

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

// tempering is the flags as typed.
type tempering struct {
	to, volume, hot, cold, bath string
	trial, two, vessel          string
	ice, json                   bool
	h                           sequence.Habits
}

// waters is what temper says to a script: what it does not use is left out.
type waters struct {
	Hot  *chem.Millilitres `json:"hot_ml,omitzero"`
	Cold *chem.Millilitres `json:"cold_ml,omitzero"`
	Ice  *float64          `json:"ice_g,omitzero"`
}

func (p *program) temper() *cobra.Command {
	var t tempering
	cmd := &cobra.Command{
		Use:   "temper",
		Short: "how much hot and cold water make a temperature",
		Long: "How much hot and how much cold water make a volume at a temperature; or, with\n" +
			"--bath V@T, how much hot water, cold water or ice brings a standing bath there.\n" +
			"--trial fits where a bath settles, and how fast, to readings of it; --two gives the\n" +
			"temperature coefficient from two developing times.",
		Example: "  wetside temper --to 20 --volume 1.5l --hot 45 --cold 12\n" +
			"  wetside temper --to 20 --bath 1.5l@25 --ice --vessel-of \"400g plastic\"\n" +
			"  wetside temper --two 10m@18,7m@22",
		Args: words(cobra.NoArgs),
		RunE: func(*cobra.Command, []string) error { return p.temperNow(t) },
	}
	f := cmd.Flags()
	f.StringVar(&t.to, "to", "", "the temperature wanted, `T`")
	f.StringVar(&t.volume, "volume", "", "of the whole, `V`")
	f.StringVar(&t.hot, "hot", "", "the hot water, `T`")
	f.StringVar(&t.cold, "cold", "", "the cold water, `T`")
	f.StringVar(&t.bath, "bath", "", "a standing bath, `V@T`, to be corrected with --hot, --cold or --ice")
	f.StringVar(&t.vessel, "vessel-of", "", "with --bath: what the vessel weighs and is `OF`, \"400g plastic\", so that its heat counts")
	f.StringVar(&t.trial, "trial", "", "a `FILE` of times and temperatures of a bath left alone, or a session in which the bath was read")
	f.StringVar(&t.two, "two", "", "two developing times, `D@T,D@T`")
	f.BoolVar(&t.ice, "ice", false, "correct with ice")
	f.BoolVar(&t.json, "json", false, "as JSON")
	return cmd
}

func (p *program) temperNow(t tempering) error {
	t.h = p.settings.Habits
	switch {
	case t.trial != "":
		return p.trial(t.trial, t.json)
	case t.two != "":
		return p.coefficient(t.two, t.json)
	}
	to, err := celsius("to", t.to, t.h)
	if err != nil {
		return err
	}
	var w waters
	if t.bath != "" {
		w, err = t.correct(to)
	} else {
		w, err = t.fresh(to)
	}
	if err != nil {
		return err
	}
	if t.json {
		return p.json(w)
	}
	for _, part := range []struct {
		of   *chem.Millilitres
		name string
	}{{w.Hot, "hot water"}, {w.Cold, "cold water"}} {
		if part.of != nil {
			fmt.Fprintf(p.out, "%11s  %s\n", t.h.Volume(*part.of), part.name)
		}
	}
	if w.Ice != nil {
		fmt.Fprintf(p.out, "%11s  ice, in a bag so that it does not dilute the bath\n", fmt.Sprintf("%.0f g", *w.Ice))
	}
	return nil
}

// fresh mixes a bath from two waters.
func (t tempering) fresh(to chem.Celsius) (waters, error) {
	if t.vessel != "" {
		return waters{}, usage("--vessel-of is the vessel of a standing bath; expected --bath V@T")
	}
	if t.ice {
		return waters{}, usage("--ice corrects a standing bath; expected --bath V@T")
	}
	v, err := millilitres("volume", t.volume)
	if err != nil {
		return waters{}, err
	}
	hot, err := celsius("hot", t.hot, t.h)
	if err != nil {
		return waters{}, err
	}
	cold, err := celsius("cold", t.cold, t.h)
	if err != nil {
		return waters{}, err
	}
	h, c, err := chem.Temper(to, v, hot, cold)
	return waters{Hot: &h, Cold: &c}, err
}

// correct brings a standing bath to the temperature with the one thing named.
func (t tempering) correct(to chem.Celsius) (waters, error) {
	volume, now, ok := strings.Cut(t.bath, "@")
	given := 0
	for _, is := range []bool{t.hot != "", t.cold != "", t.ice} {
		if is {
			given++
		}
	}
	if !ok || given != 1 {
		return waters{}, usage("--bath takes V@T and one of --hot, --cold and --ice")
	}
	v, err := millilitres("bath", volume)
	if err != nil {
		return waters{}, err
	}
	at, err := celsius("bath", now, t.h)
	if err != nil {
		return waters{}, err
	}
	standing := chem.Standing{Volume: v, T: at}
	if t.vessel != "" {
		if standing.Vessel, err = chem.ParseVesselHeat(t.vessel); err != nil {
			return waters{}, usage("--vessel-of: %v", err)
		}
	}
	if t.ice {
		g, err := standing.Ice(to)
		return waters{Ice: &g}, err
	}
	flag, text := "hot", t.hot
	if text == "" {
		flag, text = "cold", t.cold
	}
	water, err := celsius(flag, text, t.h)
	if err != nil {
		return waters{}, err
	}
	add, err := standing.Add(to, water)
	if flag == "hot" {
		return waters{Hot: &add}, err
	}
	return waters{Cold: &add}, err
}

// celsius reads a flag that must be there.
func celsius(flag, text string, h sequence.Habits) (chem.Celsius, error) {
	t, err := h.ParseTemperature(text)
	if err == nil && !(t >= 0 && t <= 100) {
		err = fmt.Errorf("%s is no water; expected %s to %s", t.InBoth(), chem.Celsius(0).InBoth(), chem.Celsius(100).InBoth())
	}
	if err != nil {
		return 0, usage("--%s: %v", flag, err)
	}
	return t, nil
}

// millilitres reads a flag that must be there.
func millilitres(flag, text string) (chem.Millilitres, error) {
	v, err := chem.ParseMillilitres(text)
	if err != nil {
		return 0, usage("--%s: %v", flag, err)
	}
	return v, nil
}
