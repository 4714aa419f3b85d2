package main

// Rehearsals of the moves: all that happens, in its order and at its process time, in
// little real time.

import (
	"bytes"
	"io"
	"os"
	"testing"
	"testing/synctest"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/journal"
)

func TestRehearsalOfTheMoves(t *testing.T) {
	for _, name := range []string{"tern-hangers", "plover-tray"} {
		t.Run(name, func(t *testing.T) {
			home(t)
			plan := planned(t, name)
			var out, errs bytes.Buffer
			var took time.Duration
			status := -1
			synctest.Test(t, func(t *testing.T) {
				in, typed := io.Pipe()
				typed.Close()
				p := &program{in: in, out: &out, err: &errs, source: clock.NewSimulated(nil),
					stop: func() <-chan os.Signal { return make(chan os.Signal) }}
				began := time.Now()
				status = p.run([]string{"run", name, "--plain", "--json", "--rehearse", "moves", "--sound", "off"})
				took = time.Since(began)
			})
			events := eventsOf(t, out.Bytes())
			if status != fine || len(events) == 0 || events[len(events)-1].Kind != sequence.SessionDone {
				t.Fatalf("status %d, stderr %q", status, &errs)
			}
			if late := events[len(events)-1].At - plan.Steps[len(plan.Steps)-1].End; late != 0 {
				t.Errorf("the last lift is %v off its plan", late)
			}
			if whole := plan.Steps[len(plan.Steps)-1].End; took > whole/2 || took < time.Minute {
				t.Errorf("took %v of %v; expected the hands' part of it", took, whole)
			}
			sameCues(t, cuesOf(events), pause{}.cues(plan))
			for _, e := range journal.Default().List() {
				if !e.First.Moves || e.First.Rehearsal != 1 || e.First.Dark {
					t.Errorf("kept as rehearsal %v, moves %v, dark %v", e.First.Rehearsal, e.First.Moves, e.First.Dark)
				}
			}
		})
	}
}

// What can be typed of rehearsing, and what cannot.
func TestRehearsalWords(t *testing.T) {
	full := aloud{"auto", "full"}
	for _, c := range []struct {
		words manner
		want  rehearsal
		wrong bool
	}{
		{manner{aloud: full}, rehearsal{}, false},
		{manner{aloud: full, rehearse: "30"}, rehearsal{factor: 30}, false},
		{manner{aloud: full, rehearse: "30", dark: true}, rehearsal{factor: 30, dark: true}, false},
		{manner{aloud: full, rehearse: "moves"}, rehearsal{factor: 1, moves: true}, false},
		{manner{aloud: full, rehearse: "moves", dark: true}, rehearsal{factor: 1, moves: true, dark: true}, false},
		{manner{aloud: full, rehearse: "slowly"}, rehearsal{}, true},
		{manner{aloud: aloud{"auto", "loud"}}, rehearsal{}, true},
	} {
		got, _, err := c.words.read(10 * time.Second)
		if (err != nil) != c.wrong || got != c.want {
			t.Errorf("%+v: %+v, %v", c.words, got, err)
		}
	}
	if (rehearsal{factor: 30}).lit() != true || (rehearsal{factor: 30, dark: true}).lit() || (rehearsal{}).lit() {
		t.Error("which rehearsals may have light")
	}
}
