package densities

// How a person's own sessions differ, from the readings that are kept: of each film in one
// developer, vessel and agitation, which sessions came out denser than others.

import (
	"math"
	"slices"
	"time"

	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/sequence/planning"
)

// How much is looked at, and how well gradients are known from it.
const (
	mostCompared   = 40 // readings: the newest
	comparedRounds = 30 // of the bootstrap, for what readings leave of a gradient
	commonAt       = 20 // C: the temperature that all times are taken to
)

// ScatterOfSessions is what the sessions whose negatives were read tell of the scatter between
// sessions; nil where they are too few. Those named are left out: what is evaluated does not
// count twice.
func (d Store) ScatterOfSessions(sessions journal.Store, except ...string) *curve.OwnSessions {
	films := map[string][]curve.SessionSheet{}
	var names []string
	compared := 0
	for _, r := range d.List() {
		id := r.Readings.Session
		if r.Err != nil || id == "" || slices.Contains(except, id) || compared == mostCompared {
			continue
		}
		s, err := notebook.Open(sessions, id)
		if err != nil || s.Plan == nil || s.Rehearsal {
			continue
		}
		film, sheets := sheetsOf(&s, r)
		if len(sheets) == 0 {
			continue
		}
		if compared++; films[film] == nil {
			names = append(names, film)
		}
		films[film] = append(films[film], sheets...)
	}
	var list [][]curve.SessionSheet
	for _, name := range names { // in the order of the readings: the same every time
		list = append(list, films[name])
	}
	return curve.ScatterOfSessions(list)
}

// sheetsOf are the sheets of a session that were read, their times as they really were at 20 C, and
// what they may be compared with.
func sheetsOf(s *notebook.Session, r ReadingsFile) (film string, sheets []curve.SessionSheet) {
	of, ok := TestConditionsOf(s.Plan)
	if !ok {
		return "", nil
	}
	family, columns := r.Readings.Family(r.Name)
	if UseActualTimes(&family, linkOf(&r.Readings, columns), s) != nil {
		return "", nil
	}
	warm := toCommon(s.Plan)
	for i := range family.Curves {
		family.Curves[i].Time = time.Duration(float64(family.Curves[i].Time) * warm)
	}
	out, err := curve.Evaluate(family, curve.Request{Rounds: comparedRounds})
	if err != nil {
		return "", nil
	}
	return of.Key(), out.SessionSheets(s.ID)
}

// toCommon is how many times as long a developing time at the recipe's own temperature is at 20 C.
func toCommon(p *sequence.Plan) float64 {
	by := p.Steps[notebook.FilmDeveloper(p)].TimeByTemperature
	if by == nil {
		return 1
	}
	c := by.Coefficient
	if c <= 1 {
		c = planning.DefaultCoefficient
	}
	return math.Pow(c, float64(by.At-commonAt)/10)
}
