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

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli"
	"example.org/wetside/cmd/wetside/internal/hometest"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/journal"
)

func TestRehearsalOfTheMoves(t *testing.T) {
	if ownProcess(t) {
		return
	}
	for _, name := range []string{"tern-hangers", "plover-tray"} {
		t.Run(name, func(t *testing.T) {
			hometest.New(t)
			plan := planned(t, name)
			var out, errs bytes.Buffer
			var took time.Duration
			status := -1
			synctest.Test(t, func(t *testing.T) {
				in, typed := io.Pipe()
				typed.Close()
				p := &app.Env{In: in, Out: &out, Err: &errs, Clock: clock.NewSimulated(nil),
					Signals: func() <-chan os.Signal { return make(chan os.Signal) }}
				began := time.Now()
				status = cli.Run(p, []string{"run", name, "--plain", "--json", "--rehearse", "moves", "--sound", "off"})
				took = time.Since(began)
			})
			events := eventsOf(t, out.Bytes())
			if status != app.ExitOK || len(events) == 0 || events[len(events)-1].Kind != sequence.SessionDone {
				t.Fatalf("status %d, stderr %q", status, &errs)
			}
			if late := events[len(events)-1].At - plan.Steps[len(plan.Steps)-1].End; late != 0 {
				t.Errorf("the last sheet out is %v off its plan", late)
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
