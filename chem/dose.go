package chem

// The dose: how much developing a bath has done, as seconds at the reference
// temperature. It is the integral of the rate over time; everything that
// changes a developing time changes it through here.
//
// The course is cut where its formula or the line of ln(time) changes. Where
// the temperature is constant or linear in time the integral has a closed
// form; where it drifts, a ten-point Gauss-Legendre rule is used on panels so
// short (half a time constant, 5 K) that its error is below 1e-12.

import (
	"errors"
	"fmt"
	"math"
	"time"
)

// MaxDuration is the longest time and the greatest dose that are computed: 41
// days. Below it a float64 holds every nanosecond exactly, which additivity
// and the exactness at the reference temperature rest on.
const MaxDuration = 1000 * time.Hour

// ErrTooLong says that a time or a dose is over Longest.
var ErrTooLong = errors.New("time over 1000 h")

// Dose returns the developing done between two times, as time at the reference
// temperature: the integral of rate over c. It is negative where to lies
// before from. With Even it is to - from, whatever the course.
//
// It errs where the rate does (ErrOutsideTable), where the course has no
// reading, and with ErrTooLong.
func Dose(rate Rate, c Course, from, to time.Duration) (time.Duration, error) {
	if to < from {
		d, err := Dose(rate, c, to, from)
		return -d, err
	}
	if to-from > MaxDuration || to-from < 0 {
		return 0, fmt.Errorf("dose: %w: %v to %v", ErrTooLong, from, to)
	}
	if _, even := rate.(ConstantRate); even {
		return to - from, nil
	}
	w, err := newQuadrature(rate, c, from, to-from)
	if err != nil {
		return 0, fmt.Errorf("dose: %w", err)
	}
	sum := 0.0 // nanoseconds
	for w.x < w.end {
		l, err := w.nextSegment()
		if err != nil {
			return 0, fmt.Errorf("dose: %w", err)
		}
		d, err := l.dose(l.to)
		if err != nil {
			return 0, fmt.Errorf("dose: %w", err)
		}
		sum += d
	}
	if !(sum <= float64(MaxDuration)) {
		return 0, fmt.Errorf("dose: %w at the reference temperature", ErrTooLong)
	}
	return time.Duration(math.Round(sum)), nil
}

// Until returns the time at which the dose counted from a time reaches dose:
// the inverse of Dose. The result counts from the same zero as from does.
//
// It errs as Dose does, where the bath leaves the known range before the dose
// is reached, and for a negative dose.
func Until(rate Rate, c Course, from, dose time.Duration) (time.Duration, error) {
	if dose < 0 {
		return 0, fmt.Errorf("developing time: %v; expected zero or more", dose)
	}
	if dose > MaxDuration || from > math.MaxInt64-MaxDuration {
		return 0, fmt.Errorf("developing time: %w: %v from %v", ErrTooLong, dose, from)
	}
	if _, even := rate.(ConstantRate); even {
		return from + dose, nil
	}
	w, err := newQuadrature(rate, c, from, MaxDuration)
	if err != nil {
		return 0, fmt.Errorf("developing time: %w", err)
	}
	left := float64(dose) // nanoseconds; legs are spent until one holds the rest
	for left > 0 && w.x < w.end {
		l, err := w.nextSegment()
		if err != nil {
			return 0, fmt.Errorf("developing time: %w", err)
		}
		d, err := l.dose(l.to)
		if err != nil {
			return 0, fmt.Errorf("developing time: %w", err)
		}
		if d >= left {
			x, err := l.timeOfDose(left)
			return from + time.Duration(math.Round(x)), err
		}
		left -= d
	}
	if left > 0 {
		return 0, fmt.Errorf("developing time: %w for %v at the reference temperature", ErrTooLong, dose)
	}
	return from, nil
}
