package response

// How densities count in printing, and what papers hold.

import (
	"fmt"
	"math"
)

// Enlarger is how a negative's density counts in printing.
type Enlarger int

// The enlargers. Contact printing is as Diffuse.
const (
	Diffuse Enlarger = iota
	Condenser
)

// printing is the density that paper sees. Directed light is scattered out of its way by silver: the Callier
// factor, greatest in thin parts. The power law is ours, put so that a range of 1.05 prints
// about a grade harder (common practice, no source).
func (e Enlarger) printing(d float64) float64 {
	if e == Condenser && d > 0 {
		return 1.25 * math.Pow(d, 0.9)
	}
	return d
}

// Grades are the log exposure ranges of printing papers: grade g holds from Grades[g] down to
// Grades[g+1]. Source: ANSI PH2.2-1966, appendix, which divides 0.50 to 1.70 into six grades; the limits
// between them are from memory.
var Grades = [7]float64{1.70, 1.40, 1.15, 0.95, 0.80, 0.65, 0.50}

// The grades there are.
const hardest = len(Grades) - 2

// GradeRange is the log exposure range of a grade: in the middle of grade 2 for 2, at the limit to grade 3
// for 2.5. It errs outside 0 to 5.
func GradeRange(grade float64) (float64, error) {
	if !(grade >= 0 && grade <= float64(hardest)) {
		return 0, fmt.Errorf("paper grade %g; expected 0 to %d", grade, hardest)
	}
	return rangeOf(grade), nil
}

// rangeOf goes on beyond the grades as it ends.
func rangeOf(grade float64) float64 {
	g := min(max(int(math.Floor(grade+0.5)), 0), hardest)
	return Grades[g] + (Grades[g+1]-Grades[g])*(grade+0.5-float64(g))
}

// GradeOf is the grade that a range is printed on, with its fraction: 2 in the middle of grade 2, 2.5 at its
// limit to grade 3; below -0.5 and above 5.5 outside all.
func GradeOf(logRange float64) float64 {
	g := 0
	for g < hardest && logRange <= Grades[g+1] {
		g++
	}
	return float64(g) - 0.5 + (Grades[g]-logRange)/(Grades[g]-Grades[g+1])
}
