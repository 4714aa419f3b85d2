package cue

import (
	"math"
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
)

func TestVolumeTurnsDownAndNeverOff(t *testing.T) {
	heights := map[int]float64{}
	for _, perCent := range []int{100, 50, 10, 1, 0, -3, 1000} {
		ear := NewEar(clock.New(clock.System(), 0, 1))
		ear.Play(sequence.CueTransfer)
		frames := make([][2]float64, Rate)
		Volume{ear, perCent}.Pull(frames, time.Now())
		for _, f := range frames {
			heights[perCent] = max(heights[perCent], math.Abs(f[0]), math.Abs(f[1]))
		}
	}
	full := heights[100]
	if full < 0.1 {
		t.Fatalf("full loudness is %.3f", full)
	}
	for perCent, want := range map[int]float64{50: 0.5, 10: 0.1, 1: 0.01, 0: 1, -3: 1, 1000: 1} {
		if got := heights[perCent] / full; math.Abs(got-want) > 1e-9 {
			t.Errorf("%d per cent: %.4f of full loudness, want %v", perCent, got, want)
		}
	}
}
