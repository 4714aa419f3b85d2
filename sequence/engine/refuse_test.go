package engine

import (
	"testing"

	"example.org/wetside/sequence"
)

// A refusal speaks on the scale on which the reading was typed.
func TestRefusalsInFahrenheit(t *testing.T) {
	if got := (State{}).refuseReading(sequence.TakeReading{T: 80, Units: sequence.Units{Fahrenheit: true}}, 0); got != "176 °F is no temperature of a bath; expected 32 to 140 °F" {
		t.Errorf("%q", got)
	}
}
