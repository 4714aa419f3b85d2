package cue

// From the recordings' rate to this package's: 441 frames for each 160, by a
// windowed sinc (Oppenheim and Schafer, Discrete-Time Signal Processing, on
// changing the sampling rate by a non-integer factor; Hann window).

import (
	"math"
	"sync"
)

const (
	upFactor   = 441 // frames made
	downFactor = 160 // of frames given
	taps       = 16  // frames given that count, on either side
)

// kernel is the weights for each of the 441 places that a frame made can have
// between two given.
var kernel = sync.OnceValue(func() *[upFactor][2 * taps]float32 {
	var k [upFactor][2 * taps]float32
	for phase := range k {
		sum := 0.0
		var row [2 * taps]float64
		for i := range row {
			x := float64(i-taps+1) - float64(phase)/upFactor // distance in given frames
			row[i] = sinc(x) * 0.5 * (1 + math.Cos(math.Pi*x/taps))
			sum += row[i]
		}
		for i := range row {
			k[phase][i] = float32(row[i] / sum)
		}
	}
	return &k
})

func sinc(x float64) float64 {
	if x == 0 {
		return 1
	}
	return math.Sin(math.Pi*x) / (math.Pi * x)
}

// resample is 16 kHz samples at 44.1 kHz.
func resample(given []float32) []float32 {
	k := kernel()
	made := make([]float32, len(given)*upFactor/downFactor)
	for n := range made {
		at, phase := n*downFactor/upFactor, n*downFactor%upFactor
		first := at - taps + 1
		from, to := max(0, -first), min(2*taps, len(given)-first)
		sum := float32(0)
		for i := from; i < to; i++ {
			sum += k[phase][i] * given[first+i]
		}
		made[n] = sum
	}
	return made
}
