package cue

// How loud all of it is.

import "time"

// Volume is an ear turned down. 100 per cent is full loudness, and so is anything
// that is no per cent from 1 to 100: nothing falls silent by a slip. Half of it is
// 6 dB less.
type Volume struct {
	Ear     *Ear
	Percent int
}

// Pull fills the next frames as the ear does.
func (v Volume) Pull(frames [][2]float64, heard time.Time) {
	v.Ear.Pull(frames, heard)
	if v.Percent < 1 || v.Percent >= 100 {
		return
	}
	gain := float64(v.Percent) / 100
	for i, f := range frames {
		frames[i] = [2]float64{f[0] * gain, f[1] * gain}
	}
}
