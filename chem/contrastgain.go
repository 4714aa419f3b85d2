package chem

// How much contrast a long exposure gains. A point of the image that would need t by the meter needs N(t) by the film's
// law, and one weaker by d log I needs more by d log N: so in one exposure log densities' exposures lie d log N / d log t
// apart for each log of light. With E. Kron's law (1914) that is 1 + a u / sqrt(u^2 + 1), with a constant exponent 1/P.

import (
	"errors"
	"math"
	"time"
)

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
