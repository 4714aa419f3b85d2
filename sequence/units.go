package sequence

// How a person writes and reads temperatures, volumes and the time of day. Recipes,
// journals and JSON know nothing of it: they stay in Celsius, millilitres and UTC.

import (
	"fmt"
	"math"
	"strconv"
	"strings"
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

// Temperature writes a temperature to a tenth of a degree, without a trailing
// zero: "22.5 °C", "68 °F".
func (h Units) Temperature(t chem.Celsius) string {
	return h.Degrees(t) + " °" + string(rune(h.Scale()))
}

// ToTenth writes a temperature always with its tenth, for what changes while it is
// looked at: "22.0 °C".
func (h Units) ToTenth(t chem.Celsius) string {
	return fmt.Sprintf("%.1f °%c", h.Number(t), h.Scale())
}

// Degrees is Temperature without its letter, for lists and for fields to type in.
func (h Units) Degrees(t chem.Celsius) string {
	s := strconv.FormatFloat(h.Number(t), 'f', 1, 64)
	if s = strings.TrimSuffix(s, ".0"); s == "-0" {
		return "0"
	}
	return s
}

// AsTyped writes a temperature to a hundredth, as a person would type it: "22", "71.6".
func (h Units) AsTyped(t chem.Celsius) string {
	return strconv.FormatFloat(math.Round(h.Number(t)*100)/100, 'f', -1, 64)
}

// Difference writes a difference of temperatures, in K, to a tenth: "2.8 °C", "5 °F".
func (h Units) Difference(kelvin float64) string {
	if h.Fahrenheit {
		return strings.TrimSuffix(fmt.Sprintf("%.1f", kelvin*9/5), ".0") + " °F"
	}
	return strings.TrimSuffix(fmt.Sprintf("%.1f", kelvin), ".0") + " °C"
}

// Volume writes an amount as finely as a cylinder for it is marked: "1.5 L", "24.2 ml";
// "50.7 fl oz", "0.17 fl oz".
func (h Units) Volume(v chem.Millilitres) string {
	if h.FluidOunces {
		return withDecimals(v.FluidOunces(), 1000, 10) + " fl oz"
	}
	if v >= 999.5 {
		return strconv.FormatFloat(math.Round(float64(v)/10)/100, 'f', -1, 64) + " L"
	}
	return withDecimals(float64(v), 100, 1) + " ml"
}

// VolumeInColumn writes a volume with as many decimals for all, for columns: "24.2 ml",
// "0.82 fl oz".
func (h Units) VolumeInColumn(v chem.Millilitres) string {
	if h.FluidOunces {
		return fmt.Sprintf("%.2f fl oz", v.FluidOunces())
	}
	return fmt.Sprintf("%.1f ml", float64(v))
}

// GraduateMark writes a graduate's mark: "24 ml", "0.8 fl oz".
func (h Units) GraduateMark(v chem.Millilitres) string {
	if h.FluidOunces {
		return fmt.Sprintf("%.4g fl oz", v.FluidOunces())
	}
	return fmt.Sprintf("%.4g ml", float64(v))
}

// VolumeAsTyped writes a volume as it is typed: "250ml", "1.5l", "8floz".
func (h Units) VolumeAsTyped(v chem.Millilitres) string {
	if h.FluidOunces {
		return chem.FormatFluidOunces(v)
	}
	return chem.FormatMillilitres(v)
}

// withDecimals writes a number whole from whole up, with a tenth from tenth up, else with
// hundredths.
func withDecimals(v, whole, tenth float64) string {
	places := 100.
	switch {
	case v >= whole:
		places = 1
	case v >= tenth:
		places = 10
	}
	return strconv.FormatFloat(math.Round(v*places)/places, 'f', -1, 64)
}

// TimeOfDay writes the time of day: "15:04", "3:04 pm".
func (h Units) TimeOfDay(t time.Time) string {
	if h.TwelveHours {
		return t.Format("3:04 pm")
	}
	return t.Format("15:04")
}

// DayAndTime writes a day and the time of day: "2 Jan 15:04".
func (h Units) DayAndTime(t time.Time) string { return t.Format("2 Jan ") + h.TimeOfDay(t) }

// DateAndTime writes a whole date and the time of day: "2 January 2006 15:04".
func (h Units) DateAndTime(t time.Time) string { return t.Format("2 January 2006 ") + h.TimeOfDay(t) }
