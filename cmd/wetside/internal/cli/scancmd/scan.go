// Package scancmd is the command wetside scan. Start with NewScanCommand; the pictures are read in
// chem/scan, the words are in tui/say.
package scancmd

// wetside scan: densities read off pictures of negatives beside a step tablet.

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"example.org/wetside/chem/curve"
	"example.org/wetside/chem/scan"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/sequence/densities"
)

// scanFlags is the flags as typed.
type scanFlags struct {
	tablet, flat, tabletAt string
	baseAt                 string
	strips                 []string
	steps                  int
	step                   float64
	across                 float64
	times, film, session   string
	channel                string
	writeName              string
	keepSpotted, asJSON    bool
}

// NewScanCommand is the command.
func NewScanCommand(p *app.Env) *cobra.Command {
	var e scanFlags
	cmd := &cobra.Command{
		Use:   "scan PICTURE...",
		Short: "read densities off a picture of negatives beside a step tablet",
		Long: "Reads densities off a picture (PNG, TIFF, JPEG) of test negatives that lie beside a step\n" +
			"tablet on a light panel or a scanner. The tablet calibrates lamp, lens and sensor;\n" +
			"nothing is believed beyond its steps. Tablet and strips are found by themselves where\n" +
			"they lie along the picture or down it, turned by at most 5 degrees; else say where they\n" +
			"are. --write keeps the readings for wetside curve. wetside help scan says how to take\n" +
			"such a picture.",
		Example: "  wetside scan negatives.png --tablet tablet.csv\n" +
			"  wetside scan negatives.png --steps 11 --step 0.2 --flat panel.png\n" +
			"  wetside scan negatives.png --tablet tablet.csv --film \"Plover 80\" --times 5m,10m --write plover-test",
		Args: flags.UsageArgs(cobra.MinimumNArgs(1)),
		RunE: func(_ *cobra.Command, pictures []string) error { return runScan(p, e, pictures) },
	}
	f := cmd.Flags()
	f.StringVar(&e.tablet, "tablet", "", "`FILE`: the step tablet's densities, step by step: CSV or CGATS text")
	f.IntVar(&e.steps, "steps", curve.DefaultSteps, "`N`: without --tablet: number of its steps")
	f.Float64Var(&e.step, "step", curve.DefaultStep, "`D`: without --tablet: density from step to step, the first 0.05; real steps may differ by 0.02")
	f.StringVar(&e.flat, "flat", "", "`PICTURE`: the panel alone, taken in the same way")
	f.StringVar(&e.tabletAt, "tablet-at", "", "`X,Y,X,Y`: where the tablet lies: the ends of its middle line, in pixels")
	f.StringArrayVar(&e.strips, "strip", nil, "`X,Y,X,Y`: where a strip lies; give it once for each")
	f.StringVar(&e.baseAt, "base-at", "", "`X,Y`: a place on unexposed film, for base plus fog (default: a sheet's margin beside a strip)")
	f.Float64Var(&e.across, "across", 0, "`PIXELS`: with --tablet-at and --strip: how wide the strips are (default: as a step is long)")
	f.StringVar(&e.times, "times", "", "`DURATION,...`: developing times of the strips, left to right or top to bottom")
	f.StringVar(&e.film, "film", "", "`NAME`: the film's")
	f.StringVar(&e.session, "session", "", "`ID`: the session that developed the strips: their times as they really were, sheets and film")
	f.StringVar(&e.channel, "channel", "vis", "`CHANNEL`: vis, blue (as the paper sees a stain), green or red")
	f.StringVar(&e.writeName, "write", "", "`NAME`: keep the readings under this name, beside those that you typed")
	f.BoolVar(&e.keepSpotted, "keep-spotted", false, "with --write: keep readings of patches with dust or an edge in them too")
	f.BoolVar(&e.asJSON, "json", false, "print JSON")
	flags.Excludes(cmd, "tablet", "steps", "step")
	flags.Needs(cmd, "across", "tablet-at", "strip")
	flags.Needs(cmd, "write", "times", "session")
	for _, flag := range []string{"times", "film", "session"} {
		flags.Needs(cmd, flag, "write")
	}
	flags.Needs(cmd, "keep-spotted", "write")
	return cmd
}

func runScan(p *app.Env, e scanFlags, pictures []string) error {
	tablet, err := e.tabletDensities()
	if err != nil {
		return err
	}
	o := scan.Options{Tablet: tablet}
	if err := e.places(&o); err != nil {
		return err
	}
	channel, err := channelNamed(e.channel)
	if err != nil {
		return err
	}
	var all []densities.ReadPicture
	for _, name := range pictures {
		one, err := e.read(name, o)
		if err != nil {
			return err
		}
		all = append(all, one)
	}
	if e.writeName != "" {
		if err := e.write(p, all, tablet, channel); err != nil {
			return err
		}
	}
	if e.asJSON {
		return p.WriteJSON(asJSON(all, tablet))
	}
	return e.print(p, all, tablet, channel)
}

// tabletDensities is the tablet's, calibrated or of equal steps.
func (e scanFlags) tabletDensities() ([]float64, error) {
	if e.tablet == "" {
		steps, err := curve.NominalTablet(e.steps, e.step)
		if err != nil {
			return nil, app.Usagef("%v", err)
		}
		return steps, nil
	}
	return app.ReadTablet(e.tablet)
}

// places is where the person says that tablet, strips and unexposed film are.
func (e scanFlags) places(o *scan.Options) error {
	at := func(flag, text string) (scan.Strip, error) {
		s := scan.Strip{Steps: len(o.Tablet), Across: e.across}
		v, err := pixels(flag, text, "four numbers in pixels, such as 120,340,1810,352", 4)
		if err != nil {
			return s, err
		}
		s.X1, s.Y1, s.X2, s.Y2 = v[0], v[1], v[2], v[3]
		if s.Across == 0 {
			s.Across = s.Pitch()
		}
		return s, nil
	}
	if e.tabletAt != "" {
		s, err := at("tablet-at", e.tabletAt)
		if err != nil {
			return err
		}
		o.TabletAt = &s
	}
	for _, text := range e.strips {
		s, err := at("strip", text)
		if err != nil {
			return err
		}
		o.Strips = append(o.Strips, s)
	}
	if e.baseAt == "" {
		return nil
	}
	v, err := pixels("base-at", e.baseAt, "two numbers in pixels, such as 120,340", 2)
	if err == nil {
		o.BaseAt = &scan.Place{X: v[0], Y: v[1]}
	}
	return err
}

// pixels are so many numbers of a flag.
func pixels(flag, text, expected string, n int) (list []float64, err error) {
	words := strings.Split(text, ",")
	if len(words) != n {
		return nil, app.Usagef("--%s: %q; expected %s", flag, text, expected)
	}
	for _, word := range words {
		v, err := strconv.ParseFloat(strings.TrimSpace(word), 64)
		if err != nil || v != v {
			return nil, app.Usagef("--%s: %q is not a number of pixels; expected %s", flag, word, expected)
		}
		list = append(list, v)
	}
	return list, nil
}

// channelNamed is the channel of a name, as curve has them.
func channelNamed(name string) (scan.Channel, error) {
	list := map[string]scan.Channel{"vis": scan.Luminance, "blue": scan.Blue, "green": scan.Green, "red": scan.Red}
	c, ok := list[name]
	if !ok {
		return 0, app.Usagef("--channel: %q; expected vis, blue, green or red", name)
	}
	return c, nil
}

// read is one picture and its panel.
func (e scanFlags) read(name string, o scan.Options) (densities.ReadPicture, error) {
	picture, of, err := app.OpenPicture(name)
	if err != nil {
		return densities.ReadPicture{}, err
	}
	if e.flat != "" {
		if o.Flat, _, err = app.OpenPicture(e.flat); err != nil {
			return densities.ReadPicture{}, err
		}
	}
	result, err := scan.Read(picture, o)
	switch {
	case errors.Is(err, scan.ErrNoTablet):
		return densities.ReadPicture{}, fmt.Errorf("%s: %w; say where it lies with --tablet-at X,Y,X,Y, and the strips with --strip", name, err)
	case errors.Is(err, scan.ErrNoStrips):
		return densities.ReadPicture{}, fmt.Errorf("%s: %w; say where one lies with --strip X,Y,X,Y", name, err)
	case errors.Is(err, scan.ErrFlatSize):
		return densities.ReadPicture{}, fmt.Errorf("%s: %w", e.flat, err)
	case err != nil:
		return densities.ReadPicture{}, fmt.Errorf("%s: %w", name, err)
	}
	return densities.ReadPicture{Of: of, Result: result}, nil
}
