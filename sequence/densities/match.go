package densities

// Columns of readings matched with the sheets of the session that made them.

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/notebook"
)

// plannedWithin is how near a column's time must come to a sheet's planned one to be
// taken for it.
const plannedWithin = time.Second

// Match finds each developing time's sheet: by the numbers given, else by the time
// that was planned for it, else, where none was planned and there are as many, in
// the order of the sheets.
func Match(times []time.Duration, sheets []int, list []notebook.SheetDevelopment) ([]notebook.SheetDevelopment, error) {
	if len(list) == 0 {
		return nil, errors.New("the session developed nothing to the end")
	}
	found := make([]notebook.SheetDevelopment, len(times))
	used := map[int]bool{}
	for k, t := range times {
		i := slices.IndexFunc(list, func(d notebook.SheetDevelopment) bool {
			if len(sheets) == len(times) && sheets[k] > 0 {
				return d.Sheet == sheets[k]
			}
			return !used[d.Sheet] && (d.Planned-t).Abs() < plannedWithin
		})
		if i < 0 {
			if k == 0 && len(times) == len(list) && len(sheets) == 0 && !anyPlanned(times, list) {
				return list, nil
			}
			return nil, fmt.Errorf("no sheet of the session was to be developed for %s; expected one of %s", sequence.FormatElapsed(t), plannedOf(list))
		}
		found[k], used[list[i].Sheet] = list[i], true
	}
	return found, nil
}

// anyPlanned reports whether one of the times is one that was planned.
func anyPlanned(times []time.Duration, list []notebook.SheetDevelopment) bool {
	return slices.ContainsFunc(times, func(t time.Duration) bool {
		return slices.ContainsFunc(list, func(d notebook.SheetDevelopment) bool { return (d.Planned - t).Abs() < plannedWithin })
	})
}

func plannedOf(list []notebook.SheetDevelopment) string {
	var all []string
	for _, d := range list {
		all = append(all, sequence.FormatElapsed(d.Planned))
	}
	return strings.Join(slices.Compact(all), ", ")
}

// UseActualTimes gives the curves of a family the times that their sheets really had, and
// says where that differs from what was planned.
func UseActualTimes(f *curve.Family, link curve.Link, s *notebook.Session) error {
	times := make([]time.Duration, len(f.Curves))
	for i, c := range f.Curves {
		times[i] = c.Time
	}
	found, err := Match(times, link.Sheets, s.Developed())
	if err != nil {
		return fmt.Errorf("session %s: %w", s.ID, err)
	}
	for i, d := range found {
		f.Curves[i].Time = d.Actual.Round(time.Millisecond)
		text := fmt.Sprintf("sheet %d of session %s developed %s by its temperatures", d.Sheet, s.ID, sequence.FormatElapsed(d.Actual))
		if (d.Actual - d.Planned).Abs() >= plannedWithin {
			text += ", planned " + sequence.FormatElapsed(d.Planned)
		}
		f.Notes = append(f.Notes, text)
	}
	return nil
}

// Opener finds a session by its name.
type Opener func(id string) (notebook.Session, error)

// FamilyBySession is the sheets of readings that can be drawn, each by the time that it really had where the session
// that they name is found and tells it, else by the time that stands in the file. At says which sheet each curve is. The
// session is nil where none is found; the error says why its times could not be taken.
func (k ReadingsFile) FamilyBySession(open Opener) (f curve.Family, at []int, s *notebook.Session, err error) {
	f, at = k.Readings.Family(k.Name)
	id := k.Readings.Session
	if id == "" || open == nil {
		return f, at, nil, nil
	}
	for i := range f.Curves {
		f.Curves[i].Session = id
	}
	found, _ := open(id)
	if found.Plan == nil {
		return f, at, nil, nil
	}
	return f, at, &found, UseActualTimes(&f, linkOf(&k.Readings, at), &found)
}

// linkOf is which sheet of its session each curve is.
func linkOf(r *curve.Readings, at []int) (l curve.Link) {
	for _, k := range at {
		if n := r.Sheets[k].Sheet; n > 0 || l.Sheets != nil {
			l.Sheets = append(l.Sheets, n)
		}
	}
	return l
}
