package sequence

// How a person writes and reads temperatures, volumes and the time of day. Recipes,
// journals and JSON know nothing of it: they stay in Celsius, millilitres and UTC.

import (
	"fmt"
	"time"

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

// ToTenth writes a temperature with its tenth: "22.0 °C". The notebook alone uses it, as
// TimeOfDay, until its words are in tui/say too.
func (h Units) ToTenth(t chem.Celsius) string {
	return fmt.Sprintf("%.1f °%c", h.Number(t), h.Scale())
}

// TimeOfDay writes the time of day: "15:04", "3:04 pm".
func (h Units) TimeOfDay(t time.Time) string {
	if h.TwelveHours {
		return t.Format("3:04 pm")
	}
	return t.Format("15:04")
}
