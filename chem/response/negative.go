package response

// A print's negative: how it is made, what is to be expected of it, and what shorter and longer subjects
// ask for.

import "math"

// Negative is how a print's negative is made.
type Negative struct {
	Solution
	Print   Print
	Lands   Landing
	BaseFog float64
	Chance  float64 // that it prints on the grade aimed at
	Near    float64 // that it prints on it or up to half a grade to either side
}

// What is counted as the grade, and with half a grade to either side.
const (
	onGrade   = 0.5
	nearGrade = 1.0
)

// Negative solves for a print. It errs as Solve does.
func (s *Surface) Negative(p Print) (Negative, error) {
	at, err := s.Solve(p)
	if err != nil {
		return Negative{Print: p}, err
	}
	return Negative{
		Solution: at, Print: p, Lands: s.Land(p, at.Time, at.Shadow), BaseFog: s.BaseFog(at.Time),
		Chance: s.Chance(p, at.Time, at.Shadow, onGrade), Near: s.Chance(p, at.Time, at.Shadow, nearGrade),
	}, nil
}

// More is by how many stops a negative needs more exposure than another, both shadows placed so many stops under the
// metered tone: its shadow lies farther up, flare lifts it less, or a long exposure has it fall behind.
func (n Negative) More(than Negative, stopsUnder float64) float64 {
	return (n.Print.Metered(n.Lands.Shadow, stopsUnder) - than.Print.Metered(than.Lands.Shadow, stopsUnder)) / math.Log10(2)
}
