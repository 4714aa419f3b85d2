package cue

// Ears for the tests: onsets and fundamentals found in samples, with nothing
// taken from the code that made them.

import (
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/dsp/fourier"
)

const (
	threshold = 0.01 // a sample that is heard
	quiet     = 2205 // frames of quiet before an onset: 50 ms
)

// listener finds onsets in samples that come in portions.
type listener struct {
	frame  int64
	silent int64 // frames since the last audible one
	onsets []int64
}

func newListener() *listener { return &listener{silent: quiet} }

func (l *listener) hear(left float64) {
	if math.Abs(left) > threshold {
		if l.silent >= quiet {
			l.onsets = append(l.onsets, l.frame)
		}
		l.silent = 0
	} else {
		l.silent++
	}
	l.frame++
}

// rest is so many frames of nothing.
func (l *listener) rest(frames int) {
	l.silent += int64(frames)
	l.frame += int64(frames)
}

func onsets(samples [][2]float64) []int64 {
	l := newListener()
	for _, s := range samples {
		l.hear(s[0])
	}
	return l.onsets
}

const window = 4096

// spectrum is the magnitude of 4096 samples under a Hann window.
func spectrum(samples [][2]float64) []float64 {
	x := make([]float64, window)
	for i := range x {
		x[i] = samples[i][0] * 0.5 * (1 - math.Cos(2*math.Pi*float64(i)/window))
	}
	magnitudes := make([]float64, window/2+1)
	for i, c := range fourier.NewFFT(window).Coefficients(nil, x) {
		magnitudes[i] = cmplx.Abs(c)
	}
	return magnitudes
}

// fundamental is the frequency in Hz of the lowest peak that reaches a third of
// the highest. Between two bins of a Hann window the peak lies at
// (2a - 1)/(a + 1), a the ratio of the greater neighbour to the peak.
func fundamental(samples [][2]float64) float64 {
	s := spectrum(samples)
	highest := 0.0
	for _, m := range s {
		highest = max(highest, m)
	}
	for k := 2; k < len(s)-1; k++ {
		if s[k] < highest/3 || s[k] < s[k-1] || s[k] < s[k+1] {
			continue
		}
		side, sign := s[k+1], 1.0
		if s[k-1] > side {
			side, sign = s[k-1], -1
		}
		a := side / s[k]
		return (float64(k) + sign*(2*a-1)/(a+1)) * 44100 / window
	}
	return 0
}
