package chem

// What a graduate can measure: rounding to its divisions, and how large a mix
// must be for its smallest part to be measured well.
//
// Assumed: a graduate is read at its marks, so that rounding is the whole
// error, half a division at most. Between marks a careful eye does better.

import (
	"fmt"
	"math"
)

// Graduate is a measuring vessel, told by the volume between two of its marks.
type Graduate Millilitres

// Round returns the nearest mark and the error that this makes, as a fraction
// of the volume wanted (negative where the mark is short). It errs for a
// division or a volume that is not above zero.
func (g Graduate) Round(v Millilitres) (mark Millilitres, off float64, err error) {
	if err := checkVolume(Millilitres(g)); err != nil {
		return 0, 0, fmt.Errorf("division of the graduate: %w", err)
	}
	if err := checkVolume(v); err != nil {
		return 0, 0, err
	}
	mark = Millilitres(math.Round(float64(v)/float64(g)) * float64(g))
	return mark, float64((mark - v) / v), nil
}

// MinVolume is the least volume that the graduate measures to within a fraction
// (0.05 for 5 %): rounding is off by up to half a division.
func (g Graduate) MinVolume(within float64) (Millilitres, error) {
	if err := checkVolume(Millilitres(g)); err != nil {
		return 0, fmt.Errorf("division of the graduate: %w", err)
	}
	if !(within > 0 && within < 1) {
		return 0, fmt.Errorf("error of measuring: %g; expected a fraction between 0 and 1", within)
	}
	return Millilitres(float64(g) / 2 / within), nil
}

// OnMarks is the least mix of at least a volume in which every part lands on a mark; 0 where the
// parts stand in no ratio of whole numbers below a thousand.
func (g Graduate) OnMarks(parts []Part, wanted Millilitres) Millilitres {
	total, err := checkParts(parts)
	if err != nil || !(g > 0) || !(wanted > 0) {
		return 0
	}
	for scale := 1.0; scale < 1000; scale++ {
		divisor, whole := 0, true
		for _, p := range parts {
			n := math.Round(p.Parts * scale)
			whole = whole && n < 1e6 && math.Abs(p.Parts*scale-n) < 1e-9*n
			divisor = greatestDivisor(divisor, int(n))
		}
		if whole && divisor > 0 {
			step := float64(g) * total * scale / float64(divisor)
			return Millilitres(step * math.Ceil(float64(wanted)/step-1e-9))
		}
	}
	return 0
}

func greatestDivisor(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// MinMix is the least volume of a mix in which the graduate measures every
// part to within a fraction, and the smallest part, which sets it.
func (g Graduate) MinMix(parts []Part, within float64) (Millilitres, string, error) {
	total, err := checkParts(parts)
	if err != nil {
		return 0, "", err
	}
	least, err := g.MinVolume(within)
	if err != nil {
		return 0, "", err
	}
	smallest := parts[0]
	for _, p := range parts {
		if p.Parts < smallest.Parts {
			smallest = p
		}
	}
	return least * Millilitres(total/smallest.Parts), smallest.Name, nil
}
