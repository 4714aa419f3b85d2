package fitcmd

// wetside fit coefficient: how a developer depends on temperature, from developing times.

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"strings"

	"example.org/wetside/chem"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/plainfile"
)

// runFitCoefficient is the temperature coefficient from developing times of equal result.
func runFitCoefficient(p *app.Env, from string, asJSON bool) error {
	times, err := readDevelopingTimes(p, from)
	if err != nil {
		return err
	}
	k, err := chem.FitCoefficient(times)
	if err != nil {
		return err
	}
	if asJSON {
		return p.WriteJSON(struct {
			K float64 `json:"coefficient"`
		}{k})
	}
	_, err = fmt.Fprintf(p.Out, "coefficient %.3f for 10 °C, from %d times (film developers in use lie between 1.9 and 2.6: common practice, no source)\n", k, len(times))
	return err
}

// readDevelopingTimes are those in a file, or those typed.
func readDevelopingTimes(p *app.Env, from string) ([]chem.Point, error) {
	data, err := plainfile.Read(from, app.MaxTableFile)
	if errors.Is(err, fs.ErrNotExist) && strings.Contains(from, "@") {
		return parseDevelopingTimes(from, p.Settings.Habits)
	}
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("%w; expected a file, or times as typed, such as 10m@18,7m@22", err)
	}
	if err != nil {
		return nil, err
	}
	return parseBathReadings(from, bytes.NewReader(chem.PlainCSV(data)), p.Settings.Habits)
}

// parseDevelopingTimes reads 10m@18,7m@22.
func parseDevelopingTimes(text string, h sequence.Units) ([]chem.Point, error) {
	var list []chem.Point
	for one := range strings.SplitSeq(text, ",") {
		d, at, ok := strings.Cut(strings.TrimSpace(one), "@")
		if !ok {
			return nil, app.Usagef("%q has no temperature; expected TIME@TEMPERATURE, such as 10m@18", safetext.Clean(one))
		}
		time, errTime := chem.ParseDuration(d)
		t, errT := h.ParseTemperature(at)
		if err := errors.Join(errTime, errT); err != nil {
			return nil, app.Usagef("%q: %s", safetext.Clean(one), joinLines(err))
		}
		list = append(list, chem.Point{At: time, T: t})
	}
	return list, nil
}
