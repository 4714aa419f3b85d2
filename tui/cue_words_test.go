package tui

// Who cannot hear a cue can read it: on a lit screen each kind has a word.

import (
	"testing"
	"time"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/planning"
)

// inWords is the large word at the moment of each kind of cue.
var inWords = map[sequence.CueKind]string{
	"ready": "READY 2", "load": "LOAD 2", "move": "MOVE 2", "take-out": "TAKE OUT 2", "turn": "TURN", "agitate": "AGITATE 2",
	"rest": "REST", "reverse": "REVERSE", "drain": "DRAIN 2", "tick": "REST", "overdue": "HELD", "wet-warning": "WET",
	"wet-limit": "WET", "lights-out": "DARK", "lights-offer": "LIGHT", "reading": "READ", "done": "DONE",
}

func TestEveryCueHasAWordOnTheScreen(t *testing.T) {
	r, err := recipes.Find("plover-cradle", "")
	if err != nil {
		t.Fatal(err)
	}
	plan, err := planning.Resolve(r, sequence.Conditions{})
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]sequence.CueKind{}
	for _, kind := range sequence.CueKinds {
		c := &sequence.Cue{At: 5 * time.Minute, Kind: kind, For: 10 * time.Second, Step: plan.Steps[0].Name, Sheet: 2}
		l := engine.Snapshot{Now: c.At + time.Second, Step: 0, Left: time.Minute, LastCue: c, Next: engine.Transfer{Step: 1, Sheet: 2}}
		switch kind { // what is heard because of how the session stands
		case sequence.CueReady:
			l.Left = readyTime - time.Second
		case sequence.CueOverdue:
			l.Held, l.Overdue = true, 10*time.Second
		case sequence.CueDone:
			l.Over = sequence.SessionDone
		}
		word, plain := instruction(&plan, l)
		if word != inWords[kind] {
			t.Errorf("%s: the screen says %q, want %q", kind, word, inWords[kind])
		}
		if other, taken := seen[plain]; plain == "" || taken && word != "REST" {
			t.Errorf("%s: %q in plain letters, as for %s", kind, plain, other)
		}
		seen[plain] = kind
	}
}
