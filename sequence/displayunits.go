package sequence

// How a person writes and reads temperatures, volumes and the time of day. Recipes,
// journals and JSON know nothing of it: they stay in Celsius, millilitres and UTC.

import (
	"math"

	"example.org/wetside/chem"
)

// Units are the units of a person. The zero value is Celsius, millilitres and
// 24 hours.
type Units struct {
	Fahrenheit  bool
	FluidOunces bool // of the United States
	TwelveHours bool // am and pm
}

// Scale is what a temperature typed without a letter is on.
func (h Units) Scale() chem.Scale {
	if h.Fahrenheit {
		return chem.ScaleF
	}
	return chem.ScaleC
}

// ParseTemperature reads a temperature as the person types it.
func (h Units) ParseTemperature(text string) (chem.Celsius, error) {
	return chem.ParseTemperature(text, h.Scale())
}

// Number is a temperature on the person's scale.
func (h Units) Number(t chem.Celsius) float64 {
	if h.Fahrenheit {
		return t.Fahrenheit()
	}
	return float64(t)
}

// Off is by how much a temperature may be off on the person's scale, in tenths, to the careful side.
func (h Units) Off(band chem.Celsius) float64 {
	if h.Fahrenheit {
		band *= 9. / 5
	}
	return math.Ceil(10*float64(band)-1e-9) / 10
}
