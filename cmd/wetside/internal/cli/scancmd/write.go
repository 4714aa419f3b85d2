package scancmd

// Readings of a picture, kept beside those that were typed.

import (
	"fmt"
	"os"
	"strings"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/chem/curve"
	"example.org/wetside/chem/scan"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/sequence/journal"
)

// write keeps the readings under a name that is not taken.
func (e scanFlags) write(p *app.Env, all []taken, tablet []float64, channel scan.Channel) error {
	var strips []scan.StripReading
	for _, t := range all {
		strips = append(strips, t.result.Strips...)
	}
	times, err := e.stripTimes(len(strips))
	if err != nil {
		return err
	}
	r := curve.Readings{Film: e.film, Session: e.session, Tablet: tablet, Remarks: origin(all, time.Now())}
	if channel != scan.Luminance {
		r.Channel = curve.Channel(e.channel)
	}
	left := 0
	for i, s := range strips {
		sheet := 0
		if e.session != "" {
			sheet = i + 1
		}
		r.Add(times[i], sheet)
		for k, patch := range s.Patches {
			if patch.Known(channel) && (e.keepSpotted || patch.Doubt[channel] == scan.NoDoubt) {
				d := curve.Density(float64(int(patch.Density[channel]*1000+0.5)) / 1000)
				r.Sheets[i].Steps[k] = &d
			} else {
				left++
			}
		}
	}
	store := app.Densities()
	if !journal.IsID(e.writeName) {
		return app.Usagef("--write: %q; expected a name of letters, digits and hyphens", e.writeName)
	}
	if _, err := os.Lstat(store.Path(e.writeName)); err == nil {
		return fmt.Errorf("%s is there already; choose another name", store.Path(e.writeName))
	}
	if err := store.Save(e.writeName, &r); err != nil {
		return err
	}
	if !e.asJSON {
		fmt.Fprintf(p.Out, "Kept as %s; %d of %d patches left out\n\n", store.Path(e.writeName), left, len(strips)*len(tablet))
	}
	return nil
}

// stripTimes are the developing times, one for each strip.
func (e scanFlags) stripTimes(strips int) (list []time.Duration, err error) {
	words := strings.Split(e.times, ",")
	if len(words) != strips {
		return nil, app.Usagef("--times: %d times for %d strips; expected one for each, left to right or top to bottom", len(words), strips)
	}
	for _, w := range words {
		d, err := chem.ParseDuration(strings.TrimSpace(w))
		if err != nil {
			return nil, app.Usagef("--times: %v", err)
		}
		list = append(list, d)
	}
	return list, nil
}

// origin is where readings come from, for whoever opens their file later.
func origin(all []taken, now time.Time) (lines []string) {
	for _, t := range all {
		lines = append(lines, fmt.Sprintf("# read off a picture: %s, sha256 %s, %s", t.name, t.hash, now.Format(time.DateOnly)))
		worst := 0.0
		for _, s := range t.result.Strips {
			for _, p := range s.Patches {
				worst = max(worst, p.Error[scan.Luminance])
			}
		}
		lines = append(lines, fmt.Sprintf("# largest standard error: %.3f", worst))
	}
	return lines
}
