package chem

// Temperatures and volumes as people write them, and the conversions. Times
// are in durations.go.
//
// Exact by definition: 0 C = 32 F, 1 K = 1.8 F; one US fluid ounce is 1/128 of
// a US gallon of 231 cubic inches of 2.54 cm: 29.5735295625 ml.

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// MillilitresPerFluidOunce converts US fluid ounces.
const MillilitresPerFluidOunce = 231 * 2.54 * 2.54 * 2.54 / 128

// Scale is a scale of temperature: what a number without a letter means.
type Scale byte

// The scales of temperature.
const (
	ScaleC Scale = 'C' // Celsius
	ScaleF Scale = 'F' // Fahrenheit
)

// FromFahrenheit converts degrees Fahrenheit.
func FromFahrenheit(f float64) Celsius { return Celsius((f - 32) * 5 / 9) }

// Fahrenheit is the temperature in degrees Fahrenheit.
func (t Celsius) Fahrenheit() float64 { return float64(t)*9/5 + 32 }

// FluidOunces is the volume in US fluid ounces.
func (v Millilitres) FluidOunces() float64 { return float64(v) / MillilitresPerFluidOunce }

// ParseCelsius reads a temperature: "20", "20C", "20 °C" or "68F"; a number without a
// letter is Celsius. It errs for anything else and below freezing.
func ParseCelsius(text string) (Celsius, error) { return ParseTemperature(text, ScaleC) }

// ParseTemperature is ParseCelsius for a person whose plain numbers are on
// another scale.
func ParseTemperature(text string, plain Scale) (Celsius, error) {
	t, err := parseDegrees(text, plain)
	if err == nil && t < 0 {
		err = fmt.Errorf("temperature: %q is below freezing; expected 0C (32F) or more", text)
	}
	return t, err
}

// ParseIceTemperature reads how cold ice is, a sign before it where the scale wants one: "-18", "0F".
func ParseIceTemperature(text string, plain Scale) (Celsius, error) {
	const coldest = -60 // of any freezer
	number, below := strings.CutPrefix(strings.TrimSpace(text), "-")
	t, err := parseDegrees(number, plain)
	if below && err == nil {
		zero, _ := parseDegrees("0", plain)
		if strings.HasSuffix(strings.ToLower(number), "f") {
			zero = FromFahrenheit(0)
		} else if strings.HasSuffix(strings.ToLower(number), "c") {
			zero = 0
		}
		t = 2*zero - t
	}
	if err == nil && !(t >= coldest && t <= 0) {
		err = fmt.Errorf("ice: %q; expected %s to %s", text, Celsius(coldest).InBoth(), Celsius(0).InBoth())
	}
	return t, err
}

func parseDegrees(text string, plain Scale) (Celsius, error) {
	number, scale := strings.TrimSpace(text), plain
	if n := len(number); n > 0 {
		switch number[n-1] {
		case 'C', 'c':
			number, scale = number[:n-1], ScaleC
		case 'F', 'f':
			number, scale = number[:n-1], ScaleF
		}
	}
	if number != strings.TrimSpace(text) {
		number = strings.TrimRight(strings.TrimSuffix(strings.TrimRight(number, " "), "°"), " ")
	}
	v, ok := parseDecimal(number)
	if !ok {
		return 0, unread("temperature", text, "20, 20C or 68F")
	}
	t := Celsius(v)
	if scale == ScaleF {
		t = FromFahrenheit(v)
	}
	return t, t.check()
}

// unread says why a quantity cannot be read: a decimal comma, a unit that is not there, or else.
func unread(kind, text, expected string) error {
	_, number := parseDecimal(strings.TrimSpace(text))
	_, withPoint := parseDecimal(strings.TrimRight(strings.Replace(text, ",", ".", 1), "CFcflmsxino "))
	switch {
	case strings.Count(text, ",") == 1 && withPoint:
		return fmt.Errorf("%s: %q has a decimal comma; expected a point, %q", kind, text, strings.Replace(text, ",", ".", 1))
	case number:
		return fmt.Errorf("%s: %q has no unit; expected %s", kind, text, expected)
	}
	return fmt.Errorf("%s: cannot read %q; expected %s", kind, text, expected)
}

// ParseMillilitres reads a volume: "1l", "250ml" or "8floz" (US). A number
// without a unit is refused. It errs for anything else.
func ParseMillilitres(text string) (Millilitres, error) {
	s := strings.ToLower(strings.TrimSpace(text))
	for _, unit := range []struct {
		name string
		ml   float64
	}{{"floz", MillilitresPerFluidOunce}, {"ml", 1}, {"l", 1000}} {
		number, found := strings.CutSuffix(s, unit.name)
		if !found {
			continue
		}
		if v, ok := parseDecimal(number); ok {
			return Millilitres(v * unit.ml), nil
		}
		break
	}
	return 0, unread("volume", text, "1l, 250ml or 8floz")
}

// InBoth is the temperature on both scales, to a hundredth, for errors: whoever
// reads one may think on either. "20 °C (68 °F)".
func (t Celsius) InBoth() string {
	hundredths := func(v float64) string { return strconv.FormatFloat(math.Round(v*100)/100+0, 'f', -1, 64) }
	return hundredths(float64(t)) + " °C (" + hundredths(t.Fahrenheit()) + " °F)"
}

// FormatMillilitres writes a volume as ParseMillilitres reads it: tenths of a
// millilitre below 10 ml, whole millilitres below a litre, then litres to the
// millilitre.
func FormatMillilitres(v Millilitres) string {
	switch f := float64(v); {
	case f < 9.95:
		return tenths(f) + "ml"
	case f < 999.5:
		return strconv.FormatFloat(math.Round(f), 'f', 0, 64) + "ml"
	default:
		return strconv.FormatFloat(math.Round(f)/1000, 'f', -1, 64) + "l"
	}
}

// FormatFluidOunces writes a volume in US fluid ounces to a tenth: "8floz".
func FormatFluidOunces(v Millilitres) string { return tenths(v.FluidOunces()) + "floz" }

// tenths writes a number rounded to a tenth, without a trailing zero.
func tenths(v float64) string {
	return strconv.FormatFloat(math.Round(v*10)/10+0, 'f', -1, 64) // + 0: never "-0"
}

// parseDecimal reads digits with at most one point, and nothing else: no sign, no
// exponent, no infinity.
func parseDecimal(s string) (float64, bool) {
	// strconv alone would take signs, exponents, hexadecimals and "inf"; a
	// second point and a point alone it refuses itself.
	if len(s) > 30 || strings.Trim(s, "0123456789.") != "" {
		return 0, false
	}
	v, err := strconv.ParseFloat(s, 64)
	return v, err == nil
}

// Millilitres is a volume of liquid.
type Millilitres float64
