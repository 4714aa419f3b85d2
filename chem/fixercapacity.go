package chem

// Capacity: how much film a bath can take. The unit is a sheet of 4x5 in, 20
// square inches of one side.

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

// StockIn is how much of its first part a bath of a volume holds.
func StockIn(parts []Part, volume Millilitres) (Millilitres, error) {
	amounts, err := Mix(parts, volume)
	if err != nil {
		return 0, err
	}
	return amounts[0].Volume, nil
}

// VolumeFor is the least volume of a mix that holds so much of its first part.
func VolumeFor(parts []Part, stock Millilitres) (Millilitres, error) {
	total, err := checkParts(parts)
	if err != nil {
		return 0, err
	}
	if err := checkVolume(stock); err != nil {
		return 0, fmt.Errorf("stock: %w", err)
	}
	return stock * Millilitres(total/parts[0].Parts), nil
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
