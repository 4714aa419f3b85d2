package running

import (
	"testing"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
)

// Where film could be open and nobody rehearses, a bell that flashes would fog it.
func TestTheBellRingsOnlyWhereNothingCanFog(t *testing.T) {
	given := sequence.Event{Kind: sequence.CueGiven, Cue: sequence.CueTransfer}
	for _, c := range []struct {
		event         sequence.Event
		ScreenOptions engine.Snapshot
		Rehearsal     bool
		want          bool
	}{
		{given, engine.Snapshot{Light: sequence.Dark}, false, false},
		{given, engine.Snapshot{Light: sequence.Safelight}, false, false},
		{given, engine.Snapshot{Light: sequence.White}, false, true},
		{given, engine.Snapshot{Light: sequence.Dark, LightOn: true}, false, true},
		{given, engine.Snapshot{Light: sequence.Dark}, true, true},
		{sequence.Event{Kind: sequence.CueGiven, Cue: sequence.CueTick}, engine.Snapshot{Light: sequence.White}, false, false},
		{sequence.Event{Kind: sequence.StepBegan}, engine.Snapshot{Light: sequence.White}, false, false},
	} {
		if got := ringsBell(c.event, c.ScreenOptions, c.Rehearsal); got != c.want {
			t.Errorf("%+v: rings %v", c, got)
		}
	}
}
