package engine

import (
	"testing"

	"example.org/wetside/sequence"
)

// What no bath has is refused with what one may have: the contract's 0 to 60 C.
func TestImpossibleReadings(t *testing.T) {
	if got := refuseReading(State{}, sequence.TakeReading{T: 80, Units: sequence.Units{Fahrenheit: true}}, 0); got.Code != "no-bath-so-warm" || got.Temperature != 80 || got.Low != 0 || got.High != 60 {
		t.Errorf("%+v", got)
	}
}
