package say

// How figures are written: rounded as a hand can use them, with their sign and unit, the
// same on every surface.

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

// Elapsed is a time of a session to the second: "8:30", "1:02:03", "-0:10".
func Elapsed(d sequence.Elapsed) string { return chem.FormatDuration(d) }

const (
	day        = 24 * time.Hour
	fewDays    = 2 * day         // an age is told in hours up to here
	fewMinutes = 2 * time.Minute // and a time in seconds up to here
	wholeFrom  = 10 * time.Second
)

// Span is an age or a life in words: "0.5 s", "45 s", "90 s", "20 min", "1 h 30 min",
// "5 days". Whole days are those that are over, so that a bath is never called younger
// than a day less than it is.
func Span(d sequence.Elapsed) string {
	switch {
	case d < 0:
		return "−" + Span(-d)
	case d >= fewDays:
		return fmt.Sprintf("%d days", d/day)
	case d < wholeFrom:
		return trimmed(d.Seconds(), 1) + " s"
	}
	d = d.Round(time.Second)
	if d < fewMinutes {
		return fmt.Sprintf("%d s", d/time.Second)
	}
	if d >= time.Hour {
		d = d.Round(time.Minute)
	}
	return inUnits(d)
}

// Shutter is an exposure as a shutter has it or a hand can count it, to less than a tenth of a stop: "1/2 s", "0.7 s",
// "4.3 s", "110 s", "5 min 40 s", "17 min", "2 h 40 min".
func Shutter(d time.Duration) string {
	s := d.Seconds()
	part := math.Round(1 / s)
	switch {
	case s < 1 && math.Abs(part*s-1) < 0.05:
		return fmt.Sprintf("1/%.0f s", part)
	case s < 10:
		return fmt.Sprintf("%.2g s", s)
	case d < fewMinutes:
		return fmt.Sprintf("%.0f s", s)
	case d < 10*time.Minute:
		return Span(d.Round(10 * time.Second))
	}
	return Span(d.Round(time.Minute))
}

// inUnits is a length in hours, minutes and seconds, without those that are none.
func inUnits(d time.Duration) string {
	var parts []string
	for _, unit := range []struct {
		length time.Duration
		name   string
	}{{time.Hour, "h"}, {time.Minute, "min"}, {time.Second, "s"}} {
		if n := d / unit.length; n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, unit.name))
			d -= n * unit.length
		}
	}
	return strings.Join(parts, " ")
}

// trimmed is a number with so many decimals at most, without trailing zeros.
func trimmed(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

func scaleSign(h sequence.Units) string { return " °" + string(rune(h.Scale())) }

// Temperature is a temperature that someone set, to a tenth of a degree without a trailing
// zero: "22.5 °C", "68 °F".
func Temperature(t chem.Celsius, h sequence.Units) string { return Degrees(t, h) + scaleSign(h) }

// TemperatureRange is the temperatures between two: "18–24 °C".
func TemperatureRange(low, high chem.Celsius, h sequence.Units) string {
	return Degrees(low, h) + "–" + Temperature(high, h)
}

// Reading is a temperature that changes while it is looked at, always with its tenth:
// "22.0 °C".
func Reading(t chem.Celsius, h sequence.Units) string {
	return fmt.Sprintf("%.1f", math.Round(10*h.Number(t))/10+0) + scaleSign(h)
}

// Degrees is Temperature without its sign, for lists.
func Degrees(t chem.Celsius, h sequence.Units) string { return trimmed(h.Number(t), 1) }

// TypedTemperature is a temperature to a hundredth, as a person types it: "22", "71.6".
func TypedTemperature(t chem.Celsius, h sequence.Units) string { return trimmed(h.Number(t), 2) }

// Difference is a difference of temperatures: "2.8 °C", "5 °F".
func Difference(by chem.Celsius, h sequence.Units) string {
	if h.Fahrenheit {
		by *= 9. / 5
	}
	return trimmed(float64(by), 1) + scaleSign(h)
}

// Volume is an amount as finely as what measures it is marked: "1.5 L", "250 ml",
// "24.2 ml", "0.25 ml"; "50.7 fl oz", "0.17 fl oz".
func Volume(v chem.Millilitres, h sequence.Units) string {
	const litre = 999.5 // what would read 1000 ml is 1 L
	if h.FluidOunces {
		return trimmed(v.FluidOunces(), decimals(v.FluidOunces(), 1000, 10)) + " fl oz"
	}
	if v >= litre {
		return trimmed(float64(v)/1000, 2) + " L"
	}
	return trimmed(float64(v), decimals(float64(v), 100, 1)) + " ml"
}

// decimals is none from whole up, one from tenth up, else two.
func decimals(v, whole, tenth float64) int {
	switch {
	case v >= whole:
		return 0
	case v >= tenth:
		return 1
	}
	return 2
}

// Percent is a share: "76%"; under 10% with its tenth, "4.3%".
func Percent(share float64) string {
	if p := 100 * share; math.Abs(p) < 9.95 {
		return trimmed(p, 1) + "%"
	}
	return fmt.Sprintf("%.0f%%", 100*share)
}

// Share is how much of a limit is used, rounded up: what is over it never reads 100%.
func Share(used float64) string { return strconv.Itoa(sequence.PercentUsed(used)) + "%" }

// PercentChange is a share more or less: "+4.2%", "−1.3%".
func PercentChange(share float64) string {
	sign := "+"
	if share < 0 {
		sign = "−"
	}
	return fmt.Sprintf("%s%.1f%%", sign, math.Abs(100*share))
}

// Count is so many of a thing: "1 sheet", "6 sheets".
func Count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

// SheetsDone is film counted in sheets of 4x5in, part of one as a whole: "7 sheets of 4x5in".
func SheetsDone(n float64) string { return Count(wholeUp(n), "sheet") + " of 4x5in" }

// SheetsLeft is SheetsDone of what can still be done: part of a sheet is none.
func SheetsLeft(n float64) string { return Count(wholeDown(n), "sheet") + " of 4x5in" }

const grainOfSheet = 1e-9 // what arithmetic may add

func wholeUp(n float64) int   { return int(math.Ceil(n - grainOfSheet)) }
func wholeDown(n float64) int { return int(math.Floor(n + grainOfSheet)) }

// TimeOfDay is the time of day: "15:04", "3:04 pm".
func TimeOfDay(t time.Time, h sequence.Units) string {
	if h.TwelveHours {
		return t.Format("3:04 pm")
	}
	return t.Format("15:04")
}

// DayAndTime is a day and the time of day: "2 Jan 15:04".
func DayAndTime(t time.Time, h sequence.Units) string { return t.Format("2 Jan ") + TimeOfDay(t, h) }

// DateAndTime is a whole date and the time of day: "2 January 2006 15:04".
func DateAndTime(t time.Time, h sequence.Units) string {
	return t.Format("2 January 2006 ") + TimeOfDay(t, h)
}

// filled is texts without those that say nothing.
func filled(texts ...string) []string {
	return slices.DeleteFunc(texts, func(s string) bool { return s == "" })
}

// sentence begins with a capital and ends with a full stop.
func sentence(text string) string {
	text = strings.TrimSpace(text)
	if text == "" || strings.HasSuffix(text, ".") || strings.HasSuffix(text, "?") {
		return Capital(text)
	}
	return Capital(text) + "."
}

// Minus writes true minuses.
func Minus(s string) string { return strings.ReplaceAll(s, "-", "−") }

// Capital is a text whose first letter is a capital.
func Capital(text string) string {
	for i, r := range text {
		return text[:i] + strings.ToUpper(string(r)) + text[i+len(string(r)):]
	}
	return text
}

// SheetNames are sheets together, those of a row as a span: "sheet 3", "sheets 1–8", "sheets 1, 3 (12B), 4".
func SheetNames(load *sequence.Load, list []int) string {
	if len(list) == 1 {
		return load.SheetName(list[0])
	}
	var parts []string
	for i := 0; i < len(list); {
		n := i + 1
		for len(load.Names) == 0 && n < len(list) && list[n] == list[n-1]+1 {
			n++
		}
		part := strings.TrimPrefix(load.SheetName(list[i]), "sheet ")
		if n > i+1 {
			part += "–" + strconv.Itoa(list[n-1])
		}
		parts, i = append(parts, part), n
	}
	return "sheets " + strings.Join(parts, ", ")
}
