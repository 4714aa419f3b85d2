package notebook

// How far each sheet of a session was developed.

import (
	"sort"

	"example.org/wetside/sequence"
)

// SheetDevelopment is how long one sheet was developed, as at the reference temperature in a fresh bath.
type SheetDevelopment struct {
	Sheet           int
	Actual, Planned sequence.Elapsed
}

// Developed lists the sheets by number. Where several baths develop, the film test's
// step counts, else the first. A sheet that has not left it is not listed.
func (s *Session) Developed() (list []SheetDevelopment) {
	if s.Plan == nil {
		return nil
	}
	if i := FilmDeveloper(s.Plan); i >= 0 {
		for _, y := range s.Steps[i].Sheets {
			if st := &s.Plan.Steps[i]; y.Developed != nil && y.Out != sequence.Never {
				list = append(list, SheetDevelopment{y.Sheet, st.Fresh(y.Developed.Done), st.Fresh(y.Developed.Of)})
			}
		}
	}
	sort.Slice(list, func(i, j int) bool { return list[i].Sheet < list[j].Sheet })
	return list
}

// FilmDeveloper is the step whose times are the film's; -1 for none.
func FilmDeveloper(p *sequence.Plan) int {
	first := -1
	for i := range p.Steps {
		if p.Steps[i].Kind != sequence.Develop {
			continue
		}
		if len(p.Steps[i].Doses) > 0 {
			return i
		}
		if first < 0 {
			first = i
		}
	}
	return first
}
