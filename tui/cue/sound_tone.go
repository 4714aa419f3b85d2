package cue

// One tone: a fundamental with harmonics up to 3 kHz, brought to a common
// loudness by the A-weighting of IEC 61672-1.

import (
	"math"

	"github.com/faiface/beep"
)

const (
	maxFrequency = 3000.0 // Hz, of any harmonic
	harmonics    = 8      // at most
	loudness     = 0.2    // A-weighted root mean square of a tone at level 1
	rise         = 20     // ms
	fall         = 30     // ms
)

// partial is one harmonic of a tone.
type partial struct{ turns, phase, amplitude float64 } // turns: cycles for each frame

// tone streams a tone of so many frames.
func tone(pitch float64, length int) beep.Streamer {
	parts := partials(pitch)
	at := 0
	return beep.StreamerFunc(func(samples [][2]float64) (int, bool) {
		n := min(len(samples), length-at)
		for i := range n {
			x := envelope(at+i, length) * wave(parts, at+i)
			samples[i] = [2]float64{x, x}
		}
		at += n
		return n, n > 0
	})
}

// wave is the steady tone at one frame. It is computed from the frame's number
// alone, so that it does not matter in which portions a tone is pulled.
func wave(parts []partial, frame int) float64 {
	sum := 0.0
	for _, p := range parts {
		sum += p.amplitude * math.Sin(2*math.Pi*(p.turns*float64(frame)+p.phase))
	}
	return sum
}

// partials are the harmonics of a pitch, falling by 3 dB an octave, at the
// common loudness. Their phases (Schroeder, IEEE Trans. Inf. Theory 16, 1970)
// keep the peaks low.
func partials(pitch float64) []partial {
	count := min(harmonics, int(maxFrequency/pitch))
	parts := make([]partial, count)
	power := 0.0
	for i := range parts {
		h := float64(i + 1)
		a := 1 / math.Sqrt(h)
		parts[i] = partial{h * pitch / float64(Rate), -h * (h - 1) / (2 * float64(count)), a}
		power += math.Pow(a*aWeight(h*pitch), 2) / 2
	}
	for i := range parts {
		parts[i].amplitude *= loudness / math.Sqrt(power)
	}
	return parts
}

// envelope opens fast at first and levels off, so that the ear has its onset
// at once and no click; and closes evenly.
func envelope(frame, length int) float64 {
	up, down := float64(frame)/float64(frames(rise)), float64(length-frame)/float64(frames(fall))
	e := 1.0
	if up < 1 {
		e = 1 - (1-up)*(1-up)
	}
	return e * min(1, down)
}

// aWeight is the A-weighting of a frequency in Hz, as a factor; 1 at 1 kHz.
// IEC 61672-1, annex E, with its rounded pole frequencies.
func aWeight(f float64) float64 {
	f2 := f * f
	ra := 12194 * 12194 * f2 * f2 /
		((f2 + 20.6*20.6) * math.Sqrt((f2+107.7*107.7)*(f2+737.9*737.9)) * (f2 + 12194*12194))
	return ra * math.Pow(10, 2.0/20)
}
