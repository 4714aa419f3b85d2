package curvecmd

// Files of readings, read for the curve commands.

import (
	"errors"
	"io/fs"
	"slices"
	"time"

	"github.com/spf13/cobra"

	"example.org/wetside/chem"
	"example.org/wetside/chem/curve"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/plainfile"
)

// readFile is a file, or kept readings by their name.
func readFile(name string) ([]byte, error) {
	data, err := plainfile.Read(name, app.MaxTableFile)
	if errors.Is(err, fs.ErrNotExist) && journal.IsID(name) {
		if kept, keptErr := plainfile.Read(app.Densities().Path(name), app.MaxTableFile); keptErr == nil {
			return kept, nil
		}
	}
	return data, err
}

// ReadFamily reads the files, and what the only one says of its session. The times are those of
// the files, where they do not say them themselves.
func ReadFamily(files []string, o curve.Options, times ...time.Duration) (curve.Family, curve.Link, error) {
	var all []curve.Family
	var link curve.Link
	var errs []error
	for i, name := range files {
		data, err := readFile(name)
		if err != nil {
			errs = append(errs, err)
			continue
		}
		if o.Time = 0; i < len(times) {
			o.Time = times[i]
		}
		f, err := curve.Read(name, data, o)
		if err != nil {
			errs = append(errs, err)
			continue
		}
		said := curve.ReadLink(data)
		for k := range f.Curves {
			f.Curves[k].Session = said.Session
		}
		all = append(all, f)
		if len(files) == 1 {
			link = said
		}
	}
	if len(errs) > 0 {
		return curve.Family{}, link, errors.Join(errs...)
	}
	return curve.Join(all...), link, nil
}

// timesOf is the developing time of each file: CGATS text says none. One time is that of all.
func (e curveFlags) timesOf(files []string) ([]time.Duration, error) {
	if len(e.times) == 0 {
		return nil, nil
	}
	list := make([]time.Duration, len(files))
	n := 0
	for i, name := range files {
		if data, err := readFile(name); err != nil || !curve.IsCGATS(data) {
			continue
		}
		k := n
		if len(e.times) == 1 {
			k = 0
		}
		if n++; k < len(e.times) {
			d, err := chem.ParseDuration(e.times[k])
			if err != nil {
				return nil, app.Usagef("--time: %v", err)
			}
			list[i] = d
		}
	}
	if len(e.times) > 1 && len(e.times) != n {
		return nil, app.Usagef("--time: %d times for %d files of CGATS text; expected one for each", len(e.times), n)
	}
	return list, nil
}

// refuseCGATSFlags refuses flags that tell of CGATS text what CSV says itself, where all is CSV.
func refuseCGATSFlags(cmd *cobra.Command, files []string) error {
	for _, name := range files {
		if data, err := readFile(name); err != nil || curve.IsCGATS(data) {
			return nil // what cannot be read is said when it is read
		}
	}
	for _, flag := range []string{"channel", "step", "time", "tablet"} {
		if cmd.Flags().Changed(flag) {
			return app.Usagef("--%s is for CGATS text; a CSV file says it itself", flag)
		}
	}
	return nil
}

// ownSessions is how the notebook's sessions differ. Where the family is of several itself, they are
// left out, for they are compared with each other here.
func ownSessions(f curve.Family) *curve.OwnSessions {
	var here []string
	for _, c := range f.Curves {
		if c.Session != "" && !slices.Contains(here, c.Session) {
			here = append(here, c.Session)
		}
	}
	if len(here) < 2 {
		here = nil
	}
	return app.OwnSessions(here...)
}
