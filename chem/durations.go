package chem

// Lengths of time as people write them.
//
// Go's own parser is not used: it takes signs and units down to nanoseconds,
// and knows no colons. A bare number is refused, since it could be minutes or
// seconds.

import (
	"fmt"
	"math"
	"strings"
	"time"
)

// ParseDuration reads a length of time: "8m30s", "8:30" (minutes and
// seconds), "1:02:03", "90s", "1h10m". Decimals are read in the last number.
// It errs for a number without a unit, a minus sign, anything else, and with
// ErrTooLong.
func ParseDuration(text string) (time.Duration, error) {
	s := strings.TrimSpace(text)
	read := unitTime
	if strings.Contains(s, ":") {
		read = clockTime
	}
	seconds, ok := read(s)
	switch {
	case !ok && strings.Contains(s, "min"):
		return 0, fmt.Errorf("time: cannot read %q; expected minutes as m: %q", text, strings.ReplaceAll(strings.ReplaceAll(s, "min", "m"), " ", ""))
	case !ok:
		return 0, unread("time", text, "8m30s, 8:30, 90s or 1h10m")
	case !(seconds <= MaxDuration.Seconds()):
		return 0, fmt.Errorf("%w: %q", ErrTooLong, text)
	}
	return time.Duration(math.Round(seconds * 1e9)), nil
}

// ParseExposure reads a time as shutters have it too: "1/2s", "1/125".
func ParseExposure(text string) (time.Duration, error) {
	over, under, found := strings.Cut(strings.TrimSuffix(strings.TrimSpace(text), "s"), "/")
	if !found {
		return ParseDuration(text)
	}
	a, okA := parseDecimal(strings.TrimSpace(over))
	b, okB := parseDecimal(strings.TrimSpace(under))
	if !okA || !okB || b == 0 || !(a/b <= MaxDuration.Seconds()) {
		return 0, fmt.Errorf("time: cannot read %q; expected 1/2s, 1/125, 4s or 1m30s", text)
	}
	return time.Duration(math.Round(a / b * 1e9)), nil
}

// clockTime reads M:SS and H:MM:SS; after a colon two digits, below 60.
func clockTime(s string) (seconds float64, ok bool) {
	fields := strings.Split(s, ":")
	if len(fields) > 3 {
		return 0, false
	}
	for i, f := range fields {
		v, ok := parseDecimal(f)
		// decimals only in the last field; two digits below 60 after a colon
		whole, _, fraction := strings.Cut(f, ".")
		switch {
		case !ok, fraction && i < len(fields)-1:
			return 0, false
		case i > 0 && (len(whole) != 2 || v >= 60):
			return 0, false
		}
		seconds = seconds*60 + v
	}
	return seconds, true
}

// unitTime reads numbers with h, m and s, each at most once and in that order.
func unitTime(s string) (seconds float64, ok bool) {
	rest, fraction := s, false
	for _, unit := range []struct {
		name    string
		seconds float64
	}{{"h", 3600}, {"m", 60}, {"s", 1}} {
		number, after, found := strings.Cut(rest, unit.name)
		if !found {
			continue
		}
		v, ok := parseDecimal(number)
		if !ok || fraction {
			return 0, false
		}
		fraction = strings.Contains(number, ".")
		seconds += v * unit.seconds
		rest = after
	}
	return seconds, rest == "" && s != ""
}

// FormatDuration writes a length of time to the nearest second, half a second
// up: "8:30", "1:02:03", "-0:10".
func FormatDuration(d time.Duration) string {
	s := int64(math.Floor(d.Seconds() + 0.5))
	sign := ""
	if s < 0 {
		s, sign = -s, "-"
	}
	if s < 3600 {
		return fmt.Sprintf("%s%d:%02d", sign, s/60, s%60)
	}
	return fmt.Sprintf("%s%d:%02d:%02d", sign, s/3600, s/60%60, s%60)
}
