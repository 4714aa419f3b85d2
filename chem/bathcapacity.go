package chem

// Capacity: how much film a bath can take, and how a developer that is used again weakens. The unit is a
// sheet of 4x5 in, 20 square inches of one side.
//
// How much longer a developer takes is its maker's figure, or the person's own; nothing general is published.

import (
	"fmt"
	"math"
)

// SheetArea is the area of one 4x5 in sheet in square inches: the unit in
// which stock per sheet and sheets per litre are given.
const SheetArea = 20

// Sheets converts a load of sheets of so many square inches each to sheets of
// SheetArea. It errs for no sheets and for an area that is not above zero.
func Sheets(number int, squareInches float64) (float64, error) {
	if number < 1 {
		return 0, fmt.Errorf("load: %d sheets; expected at least one", number)
	}
	if !(squareInches > 0) || math.IsInf(squareInches, 0) {
		return 0, fmt.Errorf("load: sheets of %g square inches; expected above zero", squareInches)
	}
	return float64(number) * squareInches / SheetArea, nil
}

// StockFor is the least stock for a load, where each sheet of SheetArea needs
// perSheet of it.
func StockFor(number int, squareInches float64, perSheet Millilitres) (Millilitres, error) {
	sheets, err := Sheets(number, squareInches)
	if err != nil {
		return 0, err
	}
	if err := checkVolume(perSheet); err != nil {
		return 0, fmt.Errorf("stock for each sheet: %w", err)
	}
	return perSheet * Millilitres(sheets), nil
}

// Reuse is how developing takes longer as a bath is used again.
type Reuse struct {
	Longer    float64      `json:"longer,omitzero"`       // share of the time for each sheet of SheetArea that a litre has served
	Table     [][2]float64 `json:"table,omitzero"`        // instead: sheets that a litre has served, times as long; ascending
	Replenish Millilitres  `json:"replenish_ml,omitzero"` // of replenisher for each sheet: those it was added for count as not served
}

// MostLonger is how many times as long a bath may take before it counts as spent (our own rule).
const MostLonger = 2.0

// Factor is how many times as long as in a fresh bath developing takes after a litre has served so many sheets:
// 1 at none, linear between the entries of a table. Known is false past a table's end, where its last entry is
// given, and past MostLonger, which is given then.
func (r Reuse) Factor(perLitre float64) (factor float64, known bool) {
	if !(perLitre > 0) {
		return 1, true
	}
	factor, known = 1+r.Longer*perLitre, true
	if len(r.Table) > 0 {
		factor, known = r.tableFactor(perLitre)
	}
	if factor > MostLonger {
		return MostLonger, false
	}
	return factor, known
}

func (r Reuse) tableFactor(perLitre float64) (float64, bool) {
	last := [2]float64{0, 1}
	for _, e := range r.Table {
		if perLitre <= e[0] {
			return last[1] + (e[1]-last[1])*(perLitre-last[0])/(e[0]-last[0]), true
		}
		last = e
	}
	return last[1], perLitre <= last[0]+1e-9
}

// Unmade is how many of the sheets that a bath has served no replenisher was added for.
func (r Reuse) Unmade(served float64, added Millilitres) float64 {
	if r.Replenish > 0 {
		served -= float64(added / r.Replenish)
	}
	return max(0, served)
}

// Owed is the replenisher that is to be added, as much of the bath poured off for it.
func (r Reuse) Owed(served float64, added Millilitres) Millilitres {
	const grain = 1e-6 // ml that adding up may be off
	if owed := r.Replenish*Millilitres(served) - added; owed > grain {
		return owed
	}
	return 0
}

// StockIn is how much of its first part a bath of a volume holds.
func StockIn(parts []Part, volume Millilitres) (Millilitres, error) {
	amounts, err := Mix(parts, volume)
	if err != nil {
		return 0, err
	}
	return amounts[0].Volume, nil
}

// Capacity is how many sheets of so many square inches a volume takes at
// perLitre sheets of SheetArea to the litre, whole sheets only.
func Capacity(volume Millilitres, perLitre, squareInches float64) (int, error) {
	one, err := Sheets(1, squareInches)
	if err != nil {
		return 0, err
	}
	if err := checkVolume(volume); err != nil {
		return 0, err
	}
	if !(perLitre > 0 && perLitre <= maxParts) {
		return 0, fmt.Errorf("capacity: %g sheets a litre; expected above zero", perLitre)
	}
	// litres x sheets a litre / area of one; 1e-9 forgives 0.3 l x 10 = 2.999...
	n := math.Floor(float64(volume)/1000*perLitre/one + 1e-9)
	return int(min(n, math.MaxInt32)), nil
}
