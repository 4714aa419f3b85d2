package cue

// Signals: heard at once, one in place of the one before, whatever is scheduled.

import (
	"testing"
	"time"
)

func TestASignalTakesThePlaceOfTheOneBefore(t *testing.T) {
	const ms = time.Millisecond
	inBubble(t, 100*ms, func(t *testing.T, p *player, start time.Time) {
		p.play(second)
		p.ear.Signal(SignalStop)
		p.play(800 * ms) // into its second double note
		p.ear.Signal(SignalUndo)
		p.play(2 * second)
		p.ear.Signal(SignalStop)
		p.ear.Signal(SignalHold) // in place of one that nobody has heard
		p.play(2 * second)
		p.want(t, start, 1100*ms, 1800*ms, 2600*ms, 3900*ms) // the first of undo's meets the end of stop's second
	})
}
