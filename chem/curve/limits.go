package curve

// Numbers in files: what is a number, and within which bounds.

import (
	"fmt"
	"strconv"
	"strings"
)

// Bounds of files and of what stands in them.
const (
	maxFileSize = 64 << 10 // bytes, as for recipes
	maxRows     = 1000
	maxCurves   = 200  // sheets of a recipe
	minStep     = 1e-6 // log H between readings
)

// limits are the least and the greatest value of a kind of number.
type limits struct {
	what     string
	min, max float64
}

var (
	// densityLimits: below zero, since an instrument may be set to zero on a
	// piece of film; 6 is more than any instrument reads.
	densityLimits = limits{"a density", -0.2, 6}
	tabletLimits  = limits{"a tablet density", 0, 6}
	logHLimits    = limits{"a log exposure", -10, 10}
)

func (b limits) holds(v float64) bool { return v >= b.min && v <= b.max }

// String is how an error says what was expected.
func (b limits) String() string { return fmt.Sprintf("%s from %g to %g", b.what, b.min, b.max) }

// read takes a number from text. Where it cannot, it says what is wrong and
// what was expected.
func (b limits) read(text string) (v float64, what, expected string) {
	v, ok := parseDecimal(text)
	switch {
	case !ok && strings.Contains(text, ","):
		return 0, quoted(text) + " has a decimal comma", b.what + " with a point, such as 0.56"
	case !ok:
		return 0, quoted(text) + " is not a number", b.String()
	case !b.holds(v):
		return 0, quoted(text) + " is out of range", b.String()
	}
	return v, "", ""
}

// parseDecimal reads digits with at most one point, a sign and an exponent, and
// nothing else: no hexadecimal, no NaN, no Inf, no underscores.
func parseDecimal(text string) (v float64, ok bool) {
	digits := false
	for i, r := range text {
		switch {
		case r >= '0' && r <= '9':
			digits = true
		case r == '.', (r == '+' || r == '-') && (i == 0 || text[i-1] == 'e' || text[i-1] == 'E'):
		case (r == 'e' || r == 'E') && digits:
		default:
			return 0, false
		}
	}
	v, err := strconv.ParseFloat(text, 64)
	return v, err == nil
}

// parseCount reads a whole number from 0 to 999999.
func parseCount(text string) (n int, ok bool) {
	if text == "" || len(text) > 6 {
		return 0, false
	}
	for _, r := range text {
		if r < '0' || r > '9' {
			return 0, false
		}
		n = n*10 + int(r-'0')
	}
	return n, true
}
