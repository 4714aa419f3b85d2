package cue

// How much time is left, said where nothing is to be done.

import (
	"slices"
	"time"

	"example.org/wetside/sequence"
)

// sayTimeLeft says how much time is left, where nothing is to be done: at whole
// minutes, or at the half where a cue takes the whole.
func (w *scheduler) sayTimeLeft() {
	next := w.Look.Next.At
	if next == sequence.Never || w.Look.Overdue > 0 || w.Look.Over != "" || w.Look.Step < 0 {
		return
	}
	for m := max(1, (next-w.Until)/(30*time.Second)); ; m++ {
		at := next - m*30*time.Second
		if at < w.Look.Now-w.toProcessTime(timeLeftSlack) {
			return
		}
		if half := m%2 == 1; at+30*time.Second+minCueDistance > w.Until || !w.isClear(at) || half && w.isClear(at+30*time.Second) {
			continue
		}
		long := timeLeftSlack + Phrase{leftWords(next - at)}.Length()
		w.placeAfter(sequence.Cue{At: at, Kind: aboutMinutes, Step: w.Plan.Steps[w.Look.Step].Name}, long, false, Phrase{leftWords(next - at)})
	}
}

// isClear says whether nothing but ticks is near an instant.
func (w *scheduler) isClear(at sequence.Elapsed) bool {
	near := func(c sequence.Cue) bool { return c.Kind != sequence.CueTick && (c.At-at).Abs() < minCueDistance }
	return !slices.ContainsFunc(w.Cues, near) && (w.Look.LastCue == nil || !near(*w.Look.LastCue))
}

func leftWords(d time.Duration) Clause { return append(durationWords(d), "left") }
