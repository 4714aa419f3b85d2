package chem

// Exposure: filter, then bellows, then what long exposures lose.
//
// Film is slower in weak light: a long exposure needs more than the meter
// says. No one law fits all films (E. Kron, 1914, found exponents from 0.82 to
// 0.90 on three plates), so a film's own table comes first and an exponent
// second. What fails in weak light fails more in the shadows, so long exposures
// raise contrast: by how much follows from the same law (contrastgain.go).

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"sort"
	"time"
)

// Reciprocity is how a film answers to long exposures.
type Reciprocity interface {
	// Correct returns the exposure for a metered time, and beyond where that
	// was extrapolated past what is known of the film. It errs for a metered
	// time that is not above zero and with ErrTooLong.
	Correct(metered time.Duration) (exposure time.Duration, beyond bool, err error)
}

// Exponent is the law of a constant I t^P: from one second up the exposure is
// metered^(1/P) in seconds, below there is no loss. P lies in (0, 1].
//
// Source: K. Schwarzschild, Astrophysical Journal 11 (1900) 89-91, P = 0.86 for his plates (from memory); Kron 1914
// writes P = 1/(1 + a).
type Exponent float64

// Correct implements Reciprocity; beyond is never set.
func (p Exponent) Correct(metered time.Duration) (time.Duration, bool, error) {
	if !(p > 0 && p <= 1) {
		return 0, false, fmt.Errorf("reciprocity exponent: %g; expected above 0 and at most 1", float64(p))
	}
	if err := checkMeteredTime(metered); err != nil {
		return 0, false, err
	}
	if metered <= time.Second {
		return metered, false, nil
	}
	d, err := fromSeconds(math.Pow(metered.Seconds(), 1/float64(p)))
	return d, false, err
}

// ExposureTable is a film's own table of metered times and exposures: exact at
// its entries and linear between them in the logarithms of both. Make one with
// NewExposureTable.
type ExposureTable struct {
	entries [][2]time.Duration // metered and exposure, ascending in both, at least two
}

// NewExposureTable makes a table of pairs of a metered time and its exposure,
// in any order. It errs with fewer than two, for a metered time that is not
// above zero or stands there twice, for an exposure shorter than the metered
// time, and for exposures that do not grow.
func NewExposureTable(entries [][2]time.Duration) (ExposureTable, error) {
	if len(entries) < 2 {
		return ExposureTable{}, fmt.Errorf("reciprocity table: %d entries; expected at least two", len(entries))
	}
	e := slices.Clone(entries)
	sort.Slice(e, func(i, j int) bool { return e[i][0] < e[j][0] })
	for i, pair := range e {
		if err := checkMeteredTime(pair[0]); err != nil {
			return ExposureTable{}, fmt.Errorf("reciprocity table: %w", err)
		}
		switch {
		case pair[1] < pair[0]:
			return ExposureTable{}, fmt.Errorf("reciprocity table: %v for a metered %v; expected no less than metered", pair[1], pair[0])
		case i > 0 && pair[0] == e[i-1][0]:
			return ExposureTable{}, fmt.Errorf("reciprocity table: metered %v stands there twice; expected it once", pair[0])
		case i > 0 && pair[1] <= e[i-1][1]:
			return ExposureTable{}, fmt.Errorf("reciprocity table: %v for %v after %v for %v; expected exposures that grow", pair[1], pair[0], e[i-1][1], e[i-1][0])
		}
	}
	return ExposureTable{entries: e}, nil
}

// Correct implements Reciprocity. Below a first entry that needs no correction
// a time is itself; below another first entry the line goes on down to where
// it meets the metered time, and beyond is set. Past the last entry the last
// line goes on and beyond is set. A line that goes on never lessens the
// correction.
func (x ExposureTable) Correct(metered time.Duration) (time.Duration, bool, error) {
	if len(x.entries) < 2 {
		return 0, false, fmt.Errorf("reciprocity table: no entries; expected one made by NewExposureTable")
	}
	if err := checkMeteredTime(metered); err != nil {
		return 0, false, err
	}
	i, exact := slices.BinarySearchFunc(x.entries, metered, func(e [2]time.Duration, m time.Duration) int { return cmp.Compare(e[0], m) })
	if exact {
		return x.entries[i][1], false, nil
	}
	below, past := i == 0, i == len(x.entries)
	i = min(max(i, 1), len(x.entries)-1)
	a, b := x.entries[i-1], x.entries[i]
	slope := math.Log(float64(b[1])/float64(a[1])) / math.Log(float64(b[0])/float64(a[0]))
	from := a
	if below || past {
		slope = max(slope, 1)
	}
	if past {
		from = b
	}
	// ln E = ln E0 + slope (ln t - ln t0); a slope below 1 would lessen the
	// correction factor, so what is extrapolated keeps at least that of the entry
	s := from[1].Seconds() * math.Pow(float64(metered)/float64(from[0]), slope)
	d, err := fromSeconds(max(s, metered.Seconds()))
	return d, past || (below && d > metered), err
}

func checkMeteredTime(metered time.Duration) error {
	if metered <= 0 || metered > MaxDuration {
		return fmt.Errorf("metered time: %v; expected above zero and at most 1000 h", metered)
	}
	return nil
}

// fromSeconds rounds to a nanosecond; it errs with ErrTooLong.
func fromSeconds(s float64) (time.Duration, error) {
	if !(s <= MaxDuration.Seconds()) {
		return 0, fmt.Errorf("exposure: %w", ErrTooLong)
	}
	return time.Duration(math.Round(s * 1e9)), nil
}

// Exposure shows each step from the meter to the shutter.
type Exposure struct {
	Metered      time.Duration `json:"metered_s"`    // what the meter said
	Filtered     time.Duration `json:"filtered_s"`   // times the filter's factor
	Extended     time.Duration `json:"extended_s"`   // times the bellows factor
	Final        time.Duration `json:"exposure_s"`   // with reciprocity failure: the time to expose
	Stops        float64       `json:"stops"`        // log2(Final/Metered)
	OutsideTests bool          `json:"beyond_table"` // past what is known of the film
}

// Expose applies a filter factor, a bellows factor (1 where there is none) and
// reciprocity failure (nil where there is none), in this order: filter and
// bellows dim the light, and the film answers to the dimmed light. It errs for
// factors below 1 and where the law does.
func Expose(metered time.Duration, filter, bellows float64, law Reciprocity) (Exposure, error) {
	if err := checkMeteredTime(metered); err != nil {
		return Exposure{}, err
	}
	for _, f := range []struct {
		name  string
		value float64
	}{{"filter", filter}, {"bellows", bellows}} {
		if !(f.value >= 1 && f.value <= 1e6) {
			return Exposure{}, fmt.Errorf("%s factor: %g; expected 1 or more", f.name, f.value)
		}
	}
	e := Exposure{Metered: metered}
	var err error
	if e.Filtered, err = fromSeconds(metered.Seconds() * filter); err != nil {
		return Exposure{}, err
	}
	if e.Extended, err = fromSeconds(metered.Seconds() * filter * bellows); err != nil {
		return Exposure{}, err
	}
	e.Final = e.Extended
	if law != nil {
		if e.Final, e.OutsideTests, err = law.Correct(e.Extended); err != nil {
			return Exposure{}, err
		}
	}
	e.Stops = math.Log2(float64(e.Final) / float64(metered))
	return e, nil
}

// BellowsFactor is what a lens racked out needs: the square of extension over
// focal length, both in the same unit, and 1 where the extension is not the
// longer (inverse square law). It errs for lengths that are not above zero. The extension counts from the lens's
// rear principal plane, which lies near the diaphragm of usual lenses; that of a telephoto lens lies in
// front of it, so that the extension measured there is too short: MagnificationFactor is for those, and
// exact where entrance and exit pupil are alike.
func BellowsFactor(extension, focal float64) (float64, error) {
	if !(extension > 0 && focal > 0) || math.IsInf(extension, 0) || math.IsInf(focal, 0) {
		return 0, fmt.Errorf("bellows factor: extension %g, focal length %g; expected both above zero", extension, focal)
	}
	return max(1, math.Pow(extension/focal, 2)), nil
}

// MagnificationFactor is what a lens needs for an image so many times as large as its
// subject: (1 + m)^2 (thin lens, inverse square law). It errs below zero.
func MagnificationFactor(m float64) (float64, error) {
	if !(m >= 0 && m <= 100) {
		return 0, fmt.Errorf("magnification: %g; expected 0 to 100", m)
	}
	return (1 + m) * (1 + m), nil
}

// ContrastGain is that slope over an image's log range of light with the metered tone in its middle: 1 for an image
// that loses nothing, 1.18 where contrast rises by 18 %. A law of nil loses nothing. It errs as the law does, and for
// a range not above zero.
func ContrastGain(law Reciprocity, metered time.Duration, logRange float64) (float64, error) {
	if law == nil {
		return 1, nil
	}
	if !(logRange > 0 && logRange <= 10) {
		return 1, errors.New("contrast of a long exposure: expected a log range above 0, up to 10")
	}
	half := math.Pow(10, logRange/2)
	brightest, weakest := float64(metered)/half, float64(metered)*half
	least, _, err := law.Correct(max(1, time.Duration(brightest)))
	if err != nil {
		return 1, err
	}
	most, _, err := law.Correct(time.Duration(weakest))
	if err != nil {
		return 1, err
	}
	return math.Log10(float64(most)/float64(least)) / logRange, nil
}

// MeteredFor is the metered time for which a law asks for an exposure: the law backwards, by halving. It errs as the law
// does.
func MeteredFor(law Reciprocity, exposure time.Duration) (time.Duration, error) {
	if err := checkMeteredTime(exposure); err != nil || law == nil {
		return exposure, err
	}
	low, high := 0.0, float64(exposure)
	for range 60 {
		middle := (low + high) / 2
		needed, _, err := law.Correct(max(1, time.Duration(middle)))
		if err != nil {
			return 0, err
		}
		if needed < exposure {
			low = middle
		} else {
			high = middle
		}
	}
	return time.Duration(high), nil
}
