package cue

// How loud all of it is.

import "time"

// Volume is an ear turned down. 100 per cent is full loudness, and so is anything
// that is no per cent from 1 to 100: nothing falls silent by a slip. Half of it is
// 6 dB less.
type Volume struct {
	Ear     *Ear
	PerCent int
}

// Pull fills the next frames as the ear does.
func (v Volume) Pull(frames [][2]float64, heard time.Time) (quiet time.Duration) {
	quiet = v.Ear.Pull(frames, heard)
	if v.PerCent < 1 || v.PerCent >= 100 {
		return quiet
	}
	gain := float64(v.PerCent) / 100
	for i, f := range frames {
		frames[i] = [2]float64{f[0] * gain, f[1] * gain}
	}
	return quiet
}

// Sooner is the ear's.
func (v Volume) Sooner() <-chan struct{} { return v.Ear.Sooner() }

// Back is the ear's.
func (v Volume) Back(frames int64) int64 { return v.Ear.Back(frames) }

// Reach is the ear's.
func (v Volume) Reach(lead time.Duration) { v.Ear.Reach(lead) }
