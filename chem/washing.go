package chem

// Washing: what fixer is left after changes of water, in running water, and
// how long to wash.
//
// Fill and dump assumes that all fixer in the gelatin comes out into each
// change: the fraction left is a lower bound, and each change must stand for
// some minutes (M. Torzynski, Univ. Louis Pasteur, 2004).

import (
	"fmt"
	"math"
	"time"
)

// mostChanges bounds the number of changes that are computed.
const mostChanges = 1000

// Residue returns the fraction of the fixer left after a number of changes:
// (carryOver/volume)^changes, where the volume of a fill holds the carry-over.
// It errs where the carry-over is not less than the volume.
//
// Source: Torzynski 2004, with 10 ml in 500 ml: 1/50 a change.
func Residue(carryOver, volume Millilitres, changes int) (float64, error) {
	left, err := leftEachChange(carryOver, volume)
	if err != nil {
		return 0, err
	}
	if changes < 0 || changes > mostChanges {
		return 0, fmt.Errorf("washing: %d changes; expected 0 to %d", changes, mostChanges)
	}
	return math.Pow(left, float64(changes)), nil
}

// Changes returns how many changes leave no more than a residue: the inverse
// of Residue, rounded up. It errs as Residue does, for a residue outside (0, 1)
// and where it takes over 1,000 changes.
func Changes(carryOver, volume Millilitres, residue float64) (int, error) {
	left, err := leftEachChange(carryOver, volume)
	if err != nil {
		return 0, err
	}
	if !(residue > 0 && residue < 1) {
		return 0, fmt.Errorf("washing: residue %g; expected a fraction between 0 and 1", residue)
	}
	n := math.Log(residue) / math.Log(left)
	if !(n <= mostChanges) {
		return 0, fmt.Errorf("washing: over %d changes for a residue of %g; expected more water in each change", mostChanges, residue)
	}
	return max(1, int(math.Ceil(n-1e-9))), nil // 1e-9: a residue of exactly n changes takes n
}

func leftEachChange(carryOver, volume Millilitres) (float64, error) {
	if !(carryOver > 0 && carryOver < volume) || math.IsInf(float64(volume), 0) {
		return 0, fmt.Errorf("washing: carry-over %g ml in %g ml; expected above zero and less than the volume, which holds it", float64(carryOver), float64(volume))
	}
	return float64(carryOver / volume), nil
}

// RunningWater returns the fraction of the fixer left after a time in direct
// contact with running water: half goes each minute.
//
// Source: NAVEDTRA 14209 (1993) p. 250.
func RunningWater(t time.Duration) float64 { return math.Exp2(-max(0, t.Minutes())) }

// RunningWaterUntil is the time in running water that leaves a residue: the
// inverse of RunningWater. It errs for a residue outside (0, 1].
func RunningWaterUntil(residue float64) (time.Duration, error) {
	if !(residue > 0 && residue <= 1) {
		return 0, fmt.Errorf("washing: residue %g; expected a fraction above 0 and at most 1", residue)
	}
	return time.Duration(math.Round(-math.Log2(residue) * float64(time.Minute))), nil
}

// ColdWash is how many times as long a wash takes in cold water: 3 at 50 to
// 60 F, 1 from 70 F up. Between 60 and 70 F its logarithm is taken as linear
// (our own rule); below 50 F nothing is published and known is false.
//
// Source: USAF T.O. 33B-1-1, 6.7.10.1.
func ColdWash(t Celsius) (factor float64, known bool) {
	f := t.Fahrenheit()
	part := min(1, max(0, (70-f)/10))
	return math.Pow(3, part), f >= 50-1e-9
}

// Washing is how long to rinse, to stay in a clearing aid, and to wash.
type Washing struct {
	Rinse, Aid, Wash time.Duration
}

// WashTimes returns the times of washing with or without a clearing aid, the
// last wash lengthened in cold water as ColdWash says.
//
// Source: US Army subcourse SS0509 pp. 18, 24: rinse 30 s, aid 2 min, wash
// 5 min; without the aid 30 min.
func WashTimes(aid bool, t Celsius) (w Washing, known bool) {
	factor, known := ColdWash(t)
	w = Washing{Wash: 30 * time.Minute}
	if aid {
		w = Washing{Rinse: 30 * time.Second, Aid: 2 * time.Minute, Wash: 5 * time.Minute}
	}
	w.Wash = time.Duration(math.Round(float64(w.Wash) * factor))
	return w, known
}
