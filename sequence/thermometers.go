package sequence

// How far the person's thermometers are off, as their settings say it once.

import "example.org/wetside/chem"

// Thermometers are the two that a session may have. Without errors, or nil, readings are believed as they are.
type Thermometers struct {
	Hand   Thermometer `json:"hand,omitzero"`
	Sensor Thermometer `json:"sensor,omitzero"`
}

// Thermometer is how far one is off.
type Thermometer struct {
	Within chem.Celsius `json:"within_c,omitzero"` // at most, by its class; 0 for not at all
	Shift  chem.Celsius `json:"shift_c,omitzero"`  // to be added to what it says, by a comparison with a better one
}

// ThermometerClasses are the tolerances of platinum sensors at 20 °C, by class (IEC 60751, from memory: 0.10 + 0.0017 t,
// 0.15 + 0.002 t, 0.30 + 0.005 t and 0.60 + 0.01 t).
var ThermometerClasses = []struct {
	Name   string
	Within chem.Celsius
}{{"AA", 0.134}, {"A", 0.19}, {"B", 0.4}, {"C", 0.8}}

// Of is the thermometer that a reading is from.
func (t *Thermometers) Of(source string) Thermometer {
	switch {
	case t == nil:
		return Thermometer{}
	case source == BySensor:
		return t.Sensor
	}
	return t.Hand
}
