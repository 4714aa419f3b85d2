package chem

// What a vessel takes: the volume of a tray or tank filled to a depth, of a
// tube that stands, and of a drum that lies and turns; and what its walls take of the heat.
//
// Assumed: straight walls, and no film or hand in the bath. A tray's lip and a
// tank's fittings make the true volume a little other: measure it once.

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Centimetres is a length.
type Centimetres float64

// CentimetresPerInch is exact by definition.
const CentimetresPerInch = 2.54

// Depths of a bath. Source of the least: US Army SS0509 p. 18, half an inch;
// of the stack's: common practice, no source.
const (
	MinDepth   Centimetres = 0.5 * CentimetresPerInch
	StackDepth Centimetres = 2.5
)

// ParseLength reads a depth: "12mm", "2.5cm" or "0.5in". It errs for a number
// without a unit, for zero and for anything else.
func ParseLength(text string) (Centimetres, error) {
	s := strings.ToLower(strings.TrimSpace(text))
	for _, unit := range []struct {
		name string
		cm   float64
	}{{"mm", 0.1}, {"cm", 1}, {"in", CentimetresPerInch}} {
		number, found := strings.CutSuffix(s, unit.name)
		v, ok := parseDecimal(strings.TrimSpace(number))
		if !found || !ok {
			continue
		}
		l := Centimetres(v * unit.cm)
		if !(l > 0 && l <= maxLength) {
			return l, fmt.Errorf("length: %q; expected above zero and at most %d cm", text, maxLength)
		}
		return l, nil
	}
	return 0, unread("length", text, "12mm, 2.5cm or 0.5in")
}

const maxLength = 500 // cm

// ParseSides reads two lengths with one unit: "8x10in", "20x25cm", "70x210mm".
func ParseSides(text string) (a, b Centimetres, err error) {
	s := strings.ToLower(strings.TrimSpace(text))
	first, second, ok := strings.Cut(s, "x")
	unit := strings.TrimLeft(second, "0123456789. ")
	if ok {
		a, err = ParseLength(first + unit)
		if err == nil {
			b, err = ParseLength(second)
		}
	}
	if !ok || err != nil {
		return 0, 0, fmt.Errorf("size: cannot read %q; expected two sides above zero such as 8x10in or 20x25cm", text)
	}
	return a, b, nil
}

// RectangularVolume is the volume of a tray or a tank of two inner sides, filled to a depth.
func RectangularVolume(a, b, depth Centimetres) (Millilitres, error) {
	if !(a > 0 && b > 0 && depth > 0) {
		return 0, fmt.Errorf("vessel: %g x %g cm filled to %g cm; expected lengths above zero", float64(a), float64(b), float64(depth))
	}
	return Millilitres(a * b * depth), nil
}

// LyingCylinderVolume is the volume in a drum that lies on its side, filled to a depth: the
// circular segment r^2 acos((r-h)/r) - (r-h) sqrt(2 r h - h^2), times the
// length. It errs for a depth over the diameter.
func LyingCylinderVolume(diameter, length, depth Centimetres) (Millilitres, error) {
	if !(diameter > 0 && length > 0 && depth > 0 && depth <= diameter) {
		return 0, fmt.Errorf("drum: %g cm wide and %g cm long filled to %g cm; expected lengths above zero and a depth within its width",
			float64(diameter), float64(length), float64(depth))
	}
	r, h := float64(diameter)/2, float64(depth)
	segment := r*r*math.Acos((r-h)/r) - (r-h)*math.Sqrt(max(0, 2*r*h-h*h))
	return Millilitres(segment * float64(length)), nil
}

// specificHeats, J/(g K). Aluminium, from memory: 0.90, as against 0.91 in GNU units. Glass and
// steel: as GNU units has silica glass and iron; borosilicate has 0.75, from memory. Plastic, from memory: 1.9
// as polyethylene and polypropylene have; hard ones such as acrylic and PVC have 1.0 to 1.5, and steel
// and glass differ by a tenth or two. Who wants it right measures it: pour w grams of water of a
// temperature W into the vessel at V; they settle at T, and the heat is 4.186 w (W - T)/(T - V)
// over the vessel's mass, which ParseVesselHeat takes as a number.
var specificHeats = map[string]float64{"aluminium": 0.900, "glass": 0.84, "plastic": 1.9, "steel": 0.46}

// maxVesselMass is the mass of a vessel, in grams, beyond which it is taken for a slip.
const maxVesselMass = 1e5

// ParseVesselHeat reads a vessel's mass and what it is made of, "400g plastic" or
// "1.2kg 0.84" (a specific heat in J/(g K)), as a heat capacity in J/K.
func ParseVesselHeat(text string) (float64, error) {
	mass, of, _ := strings.Cut(strings.TrimSpace(text), " ")
	grams, ok := parseMass(mass)
	heat, known := specificHeat(strings.TrimSpace(of))
	if !ok || !known {
		return 0, fmt.Errorf("%q; expected a mass and what it is of, such as \"400g plastic\" (or aluminium, glass, steel, or a specific heat in J/(g K))", text)
	}
	return grams * heat, nil
}

func parseMass(text string) (float64, bool) {
	text, times := strings.ToLower(text), 1.0
	if kilos, ok := strings.CutSuffix(text, "kg"); ok {
		text, times = kilos, 1000
	} else if text, ok = strings.CutSuffix(text, "g"); !ok {
		return 0, false
	}
	v, ok := parseDecimal(text)
	return v * times, ok && v > 0 && v*times <= maxVesselMass
}

// specificHeat is a material's, or one given as a number, in J/(g K): no solid has more
// than water.
func specificHeat(of string) (float64, bool) {
	if heat, known := specificHeats[of]; known {
		return heat, true
	}
	v, err := strconv.ParseFloat(of, 64)
	return v, err == nil && v > 0 && v <= WaterHeat
}
