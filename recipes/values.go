package recipes

// Values with a unit: times, temperatures, volumes, sheet sizes, fractions;
// and the bounds within which each is believed.

import (
	"cmp"
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

// limits are the least and the greatest value believed, and how an error says
// so.
type limits[T cmp.Ordered] struct {
	min, max T
	text     string
}

// contain tells whether v is believed; NaN is not.
func (b limits[T]) contain(v T) bool { return v >= b.min && v <= b.max }

var (
	timeLimits = limits[sequence.Elapsed]{time.Second, 24 * time.Hour, `1 s to 24 h, such as "8m30s"`}
	timeOrNone = limits[sequence.Elapsed]{0, 24 * time.Hour, `0 s to 24 h, such as "8s"`}
	// exposures are shorter than anything done by hand
	exposure   = limits[sequence.Elapsed]{time.Millisecond, 24 * time.Hour, `0.001 s to 24 h, such as "1.4s"`}
	bathLimits = limits[chem.Celsius]{0, 60, `0 to 60 C, such as 20 or "68F"`}
	fillLimits = limits[chem.Millilitres]{1, 200_000, `1 ml to 200 l, such as "1.5l"`}
)

// duration reads a time.
func (f field) duration(b limits[sequence.Elapsed]) (sequence.Elapsed, bool) {
	return measure(f, chem.ParseDuration, b, "a time")
}

// replace reads a time into d, which keeps its value where the field is absent
// or faulty.
func (f field) replace(d *sequence.Elapsed, b limits[sequence.Elapsed]) {
	if v, ok := f.duration(b); ok {
		*d = v
	}
}

// volume reads an amount of liquid.
func (f field) volume() (chem.Millilitres, bool) {
	return measure(f, chem.ParseMillilitres, fillLimits, "a volume")
}

// temperature reads a number, in degrees Celsius, or a text with its unit.
func (f field) temperature() (chem.Celsius, bool) {
	var t chem.Celsius
	switch v := f.value.(type) {
	case int64:
		t = chem.Celsius(v)
	case float64:
		t = chem.Celsius(v)
	default:
		return measure(f, chem.ParseCelsius, bathLimits, "a temperature")
	}
	if !bathLimits.contain(t) {
		f.addFault(typeOf(f.value), bathLimits.text, "")
		return 0, false
	}
	return t, true
}

// measure reads a text with parse and checks its bounds; noun says what the
// text should be.
func measure[T cmp.Ordered](f field, parse func(string) (T, error), b limits[T], noun string) (T, bool) {
	var none T
	if !f.isSet() {
		return none, false
	}
	s, ok := f.value.(string)
	if !ok {
		f.wrongType(b.text, "written in quotes, with its unit")
		return none, false
	}
	v, err := parse(s)
	if err != nil {
		hint := ""
		if _, bare := parseDecimal(s); bare {
			hint = "the unit is missing"
		}
		f.addFault(quote(s)+" is not "+noun, b.text, hint)
		return none, false
	}
	if !b.contain(v) {
		f.addFault(quote(s)+" is out of bounds", b.text, "")
		return none, false
	}
	return v, true
}

// size reads a sheet format such as "4x5in" or "9x12cm".
func (f field) size() sequence.Size {
	const expected = `a sheet size such as "4x5in" or "9x12cm", sides from 1 to 60 in`
	s, ok := f.require(expected).text(20, false)
	if !ok {
		return sequence.Size{}
	}
	size, ok := ParseSize(s)
	if !ok {
		f.addFault(quote(s)+" is not a sheet size", expected, "")
	}
	return size
}

// ParseSize reads a sheet format, two sides and their unit, in or cm: "4x5in". It
// is false for anything else and for sides outside 1 to 60 in.
func ParseSize(s string) (sequence.Size, bool) {
	inch := 1.0
	sides, ok := strings.CutSuffix(s, "in")
	if !ok {
		inch = 2.54 // cm; exact by definition
		if sides, ok = strings.CutSuffix(s, "cm"); !ok {
			return sequence.Size{}, false
		}
	}
	w, h, _ := strings.Cut(strings.TrimSpace(sides), "x")
	width, ok1 := parseDecimal(w)
	height, ok2 := parseDecimal(h)
	size := sequence.Size{Name: s, Width: width / inch, Height: height / inch}
	sane := func(side float64) bool { return side >= 1 && side <= 60 }
	return size, ok1 && ok2 && sane(size.Width) && sane(size.Height)
}

// parseDecimal reads digits with at most one point; no sign, no exponent.
func parseDecimal(s string) (float64, bool) {
	if s == "" || strings.Trim(s, "0123456789.") != "" {
		return 0, false
	}
	x, err := strconv.ParseFloat(s, 64)
	return x, err == nil && !math.IsInf(x, 0)
}

// fraction reads a number between 0 and 1, or a text such as "1/3".
func (f field) fraction() (float64, bool) {
	const expected = `a fraction of the time, more than 0 and less than 1, such as "1/3" or 0.5`
	x, ok := 0.0, false
	switch v := f.value.(type) {
	case float64:
		x, ok = v, true
	case int64:
		x, ok = float64(v), true
	case string:
		a, b, _ := strings.Cut(v, "/")
		above, ok1 := parseDecimal(a)
		below, ok2 := parseDecimal(b)
		x, ok = above/below, ok1 && ok2
	default:
		f.wrongType(expected, "")
		return 0, false
	}
	if !ok || !(x > 0 && x < 1) {
		f.addFault(fmt.Sprintf("%s is no such fraction", typeOf(f.value)), expected, "")
		return 0, false
	}
	return x, true
}
