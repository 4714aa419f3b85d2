package say

import (
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

// Who cannot hear a cue can read it in plain mode: in its own line, or in that of the
// event that comes with it. A tick asks for nothing; when to rest is said by the line
// that says for how long to agitate.
func TestEveryCueHasALine(t *testing.T) {
	with := map[sequence.CueKind]sequence.EventKind{sequence.CueWetWarning: sequence.WetWarned,
		sequence.CueWetLimit: sequence.WetPassed, sequence.CueDone: sequence.SessionDone}
	plan := planOf(t, recipetest.SixInTray(), sequence.Conditions{})
	seen := map[string]sequence.CueKind{}
	for _, kind := range sequence.CueKinds {
		e := sequence.Event{At: time.Minute, Kind: sequence.CueGiven, Cue: kind, For: 10 * time.Second, Step: plan.Steps[0].Name}
		if other, elsewhere := with[kind]; elsewhere {
			e.Kind = other
		}
		line := EventLine(plan, e, sequence.Units{})
		if silent := kind == sequence.CueTick || kind == sequence.CueStand; silent != (line == "") {
			t.Errorf("%s: the line is %q", kind, line)
		}
		if other, taken := seen[line]; taken && line != "" {
			t.Errorf("%s and %s have one line: %q", kind, other, line)
		}
		seen[line] = kind
	}
}
