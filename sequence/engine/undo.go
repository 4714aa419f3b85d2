package engine

// The person's last act, taken back: film, readings and baths are again as they were before it.

import (
	"time"

	"example.org/wetside/sequence"
)

// undoFor is how long an act can be taken back, in the time of the person's hands.
const undoFor = 10 * time.Second

// lastAct is what undo needs to know of the person's last act.
type lastAct struct {
	filmBeforeAct *filmState // nil where nothing can be taken back
	act           int        // its number
	actAt         sequence.Elapsed
}

// canUndo says whether the act can be taken back at now, in a session or in a rehearsal so
// many times as fast.
func (a lastAct) canUndo(now sequence.Elapsed, speed float64) bool {
	lasts := time.Duration(max(1, speed) * float64(undoFor))
	return a.filmBeforeAct != nil && now-a.actAt <= lasts
}

// undone is the state without the act.
func undone(s State) State {
	if s.filmBeforeAct != nil {
		s.filmState, s.filmBeforeAct = *s.filmBeforeAct, nil
	}
	return s
}
