package chem

// What a vessel's walls take of the heat when the bath in it is corrected.

import (
	"fmt"
	"strconv"
	"strings"
)

// specificHeats, J/(g K). Aluminium: the figure of the worked problem that the tests
// name. The others from memory; a kind of glass, steel or plastic differs from another
// by a tenth or two.
var specificHeats = []struct {
	material string
	heat     float64
}{{"aluminium", 0.900}, {"glass", 0.84}, {"plastic", 1.9}, {"steel", 0.46}}

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
	for _, s := range specificHeats {
		if s.material == of {
			return s.heat, true
		}
	}
	v, err := strconv.ParseFloat(of, 64)
	return v, err == nil && v > 0 && v <= WaterHeat
}
