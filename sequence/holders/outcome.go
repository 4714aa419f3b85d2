package holders

// What became of a sheet that waited.

import (
	"slices"

	"example.org/wetside/sequence/notebook"
)

// Outcome is what became of a sheet: the session that developed it, and its number there.
type Outcome struct {
	Session string
	Sheet   int
}

// DevelopedShares is how far each sheet was developed, of what was planned for it, by its
// session's temperatures; nil where it waits or that is not known. Each session is
// opened once, by open.
func DevelopedShares(fates []Outcome, open func(id string) (notebook.Session, error)) []*float64 {
	shares := make([]*float64, len(fates))
	known := map[string]notebook.Session{}
	for i, f := range fates {
		if f.Session == "" {
			continue
		}
		s, ok := known[f.Session]
		if !ok {
			s, _ = open(f.Session)
			known[f.Session] = s
		}
		for _, d := range s.Developed() {
			if d.Sheet == f.Sheet && d.Planned > 0 {
				shares[i] = new(float64(d.Actual) / float64(d.Planned))
			}
		}
	}
	return shares
}

// Outcomes finds for each sheet the first real session after its exposure that brought a
// sheet of that name and film into the fixer; an empty one where it waits.
func Outcomes(sheets []ExposedSheet, sessions []notebook.Summary) []Outcome {
	fates := make([]Outcome, len(sheets))
	oldest := slices.Clone(sessions)
	slices.Reverse(oldest)
	taken := map[Outcome]bool{}
	for i := range sheets {
		e := &sheets[i]
		for _, s := range oldest {
			n := slices.Index(s.Names, e.Name()) + 1
			f := Outcome{s.ID, n}
			if n == 0 || s.Rehearsal || !SameFilm(s.Film, e.Film) || s.Began().Before(e.Exposed) || taken[f] {
				continue
			}
			fates[i], taken[f] = f, true
			break
		}
	}
	return fates
}
