package cli

// What wash works out, by both bounds: by dilution alone the lower one, with the gelatin the upper.

import (
	"fmt"
	"math"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/tui/say"
)

// washing is film in water: the upper bound's bath, and what the lower one needs of it.
type washing struct {
	bath       chem.WashBath
	fast, slow time.Duration
	known      bool // the temperature is published for
	water      chem.Celsius
	area       float64 // in square inches; 0 where not said
	stand      time.Duration
}

// washing reads what is washed, and in what.
func (w *washFlags) washing(t chem.Celsius) (g washing, err error) {
	carry, err := flags.Volume("carry-over", w.carry)
	if err != nil {
		return g, err
	}
	v, err := flags.Volume("volume", w.volume)
	if err != nil {
		return g, err
	}
	if w.sheets != 0 {
		if g.area, err = flags.FilmArea(w.sheets, w.size); err != nil {
			return g, err
		}
	}
	if g.stand, err = chem.ParseDuration(w.stand); err != nil {
		return g, app.Usagef("--stand: %v", err)
	}
	g.water = t
	g.fast, g.slow, g.known = chem.GelatinHalfTime(t, w.aid)
	g.bath, err = chem.NewWashBath(carry, v, g.area, g.slow)
	return g, err
}

// wanted is the fraction that may be left by the upper bound; false where none was asked for.
func (g *washing) wanted(w *washFlags) (float64, bool) {
	if w.microfilm {
		return g.bath.FractionFor(chem.ResidualLimit, w.strength, g.area), true
	}
	return w.residue, w.residue != 0
}

// inChanges works the changes out, or what they leave.
func (g *washing) inChanges(w *washFlags) (done washJSON, err error) {
	done.Changes, done.Stand = w.changes, g.stand
	if most, ok := g.wanted(w); ok {
		n, can := g.bath.FewestChanges(chem.Unwashed, g.stand, most)
		if !can {
			return done, fmt.Errorf("washing: over 1,000 changes that stand %s; expected longer ones, or more water in each", chem.FormatDuration(g.stand))
		}
		if s, ok := g.bath.Shortest(chem.Unwashed, mostChanges, most); ok {
			done.Shortest = &s
		}
		if done.Changes = n; w.residue != 0 {
			done.UpperChanges = &n
			done.Changes, err = chem.Changes(g.bath.CarryOver, g.bath.Volume, w.residue)
		}
	}
	if err == nil {
		done.Residue, err = chem.Residue(g.bath.CarryOver, g.bath.Volume, done.Changes)
	}
	if err != nil {
		return done, err
	}
	return done, g.bounds(&done, w, g.bath.Changes(chem.Unwashed, done.Changes, g.stand))
}

// mostChanges bounds the wash with the fewest wet minutes: nobody fills and dumps more often.
const mostChanges = 40

// running works out how long running water takes, or what a time of it leaves.
func (g *washing) running(w *washFlags) (done washJSON, err error) {
	flow, err := flags.Volume("flow", w.flow)
	if err != nil {
		return done, err
	}
	renewals := float64(flow / g.bath.Volume)
	if most, ok := g.wanted(w); ok {
		if done.Running, ok = g.bath.RunningTime(chem.Unwashed, renewals, most); !ok {
			return done, fmt.Errorf("washing: over 4 hours at %g ml a minute; expected more water, or a washing aid", float64(flow))
		}
	} else if done.Running, err = chem.ParseDuration(w.runningTime); err != nil {
		return done, app.Usagef("--running: %v", err)
	}
	done.Residue = float64(g.bath.CarryOver/g.bath.Volume) * math.Exp(-renewals*done.Running.Minutes())
	return done, g.bounds(&done, w, g.bath.InRunning(chem.Unwashed, done.Running, renewals))
}

// bounds adds the upper bound, and both as thiosulfate where the film is known.
func (g *washing) bounds(done *washJSON, w *washFlags, l chem.Left) error {
	upper := g.bath.Total(l)
	done.Upper = &upper
	if g.area == 0 {
		return nil
	}
	low, err := chem.ResidualThiosulfate(w.strength, g.bath.CarryOver, done.Residue, g.area)
	if err != nil {
		return err
	}
	high, err := g.bath.Thiosulfate(l, w.strength, g.area)
	done.Left = &residueJSON{low, high, high <= chem.ResidualLimit, chem.SquareMetres(g.area), g.bath.CarryOver, w.strength, chem.ResidualLimit}
	return err
}

func (g *washing) print(p *app.Env, w *washFlags, done washJSON) error {
	h := p.Settings.Habits
	what, water := fmt.Sprintf("%d changes leave", done.Changes), chem.Millilitres(done.Changes)*g.bath.Volume
	how := "each standing " + chem.FormatDuration(done.Stand)
	if done.Changes == 1 {
		what, how = "1 change leaves", "standing "+chem.FormatDuration(done.Stand)
	}
	if w.flow != "" {
		flow, _ := flags.Volume("flow", w.flow)
		what, water = chem.FormatDuration(done.Running)+" in running water leave", flow*chem.Millilitres(done.Running.Minutes())
		how = "at " + say.Volume(flow, h) + " a minute through " + say.Volume(g.bath.Volume, h)
	}
	fmt.Fprintf(p.Out, "%s %s of the fixer by dilution alone (a lower bound)\nand %s with the gelatin (an upper bound), %s, with %s of water\n",
		what, say.FractionLeft(done.Residue), say.FractionLeft(*done.Upper), how, say.Volume(water, h))
	half := fmt.Sprintf("%.2g min at %s", g.slow.Minutes(), say.Temperature(g.water, h))
	if g.fast < g.slow {
		half = fmt.Sprintf("%.2g to %s; the slowest is taken", g.fast.Minutes(), half)
	}
	fmt.Fprintf(p.Out, "Gelatin gives up half of its fixer in %s (wetside help wash).\n", half)
	if !g.known {
		fmt.Fprintln(p.Out, "Nothing is published below 50 °F: warm the water.")
	}
	if done.UpperChanges != nil {
		fmt.Fprintf(p.Out, "The upper bound takes %s that stand %s.\n", say.Count(*done.UpperChanges, "change"), chem.FormatDuration(g.stand))
	}
	if l := done.Left; l != nil {
		printResidual(p, l)
	}
	if s := done.Shortest; s != nil {
		fmt.Fprintf(p.Out, "Fewest wet minutes for it: %s.\n", say.WashSchedule(*s, h))
	}
	return nil
}

// printResidual says what is left on the film, and for what that is enough.
func printResidual(p *app.Env, l *residueJSON) {
	verdict := "within"
	if !l.Within {
		verdict = "over"
	}
	fmt.Fprintf(p.Out, "%s to %s g of thiosulfate a square metre (%.3g m2 of one side; %s carried over with %.4g g/l): %s the\n"+
		"microfilm's limit of %.3g g/m2 (36 CFR 1238.14(c)), which is strict for camera film; by the upper bound\n%s\n",
		say.ResidualGrams(l.GramsPerM2), say.ResidualGrams(l.Upper), l.AreaM2, say.Volume(l.CarryOver, p.Settings.Habits), l.Strength, verdict, l.Limit, say.WashVerdict(l.Upper))
}

// printRunningWater says what a time in direct contact with running water leaves.
func printRunningWater(p *app.Env, text string, asJSON bool) error {
	d, err := chem.ParseDuration(text)
	if err != nil {
		return app.Usagef("--running: %v", err)
	}
	left := chem.RunningWaterResidue(d)
	if asJSON {
		return p.WriteJSON(washJSON{Residue: left})
	}
	_, err = fmt.Fprintf(p.Out, "%s in direct contact with running water leave %.3g of the fixer: half goes each minute (NAVEDTRA 14209 p. 250)\n"+
		"Wash for 20 minutes at least all the same, with a full change each %s (same page).\n",
		chem.FormatDuration(d), left, chem.FormatDuration(chem.MinChange))
	return err
}

// printWashWays compares the ways of washing.
func printWashWays(p *app.Env, t chem.Celsius, changes int, asJSON bool) error {
	ways, known := chem.WashMethods(t, changes)
	if asJSON {
		return p.WriteJSON(washJSON{Changes: changes, Ways: ways})
	}
	fmt.Fprintf(p.Out, "Washing at %s, the least wet time first\n", say.Temperature(t, p.Settings.Habits))
	for _, way := range ways {
		name, text := say.WashMethod(way)
		fmt.Fprintf(p.Out, "%8s  %s: %s (%s)\n", chem.FormatDuration(way.WetTime), name, text, way.Source)
	}
	if factor, _ := chem.ColdWashFactor(t); factor > 1.01 {
		fmt.Fprintf(p.Out, "in the cold %.2g times as long as at 70 °F (T.O. 33B-1-1 6.7.10.1)\n", factor)
	}
	if !known {
		fmt.Fprintln(p.Out, "nothing is published below 50 °F: warm the water")
	}
	return nil
}
