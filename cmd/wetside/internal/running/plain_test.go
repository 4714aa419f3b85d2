package running

// Lines of a session whose record nobody keeps.

import (
	"testing"
	"testing/synctest"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/live"
	"example.org/wetside/sequence/sessiontest"
)

// A disk that takes nothing is given its time once when the session is over, and no line that
// was not told yet waits for it again: a rehearsal at high speed has all of them before it.
func TestTheEndWaitsForTheDiskOnce(t *testing.T) {
	plan := sessiontest.StarterPlan(t, "tern-hangers", sequence.Conditions{})
	synctest.Test(t, func(t *testing.T) {
		s, err := live.Start(live.Options{Plan: plan, Clock: clock.Virtual(0, 1000),
			FirstCommand: sequence.Begin{ID: "2031-05-04T2110-tern", Version: "test"}, FirstRecord: journal.Record{Plan: plan}})
		if err != nil {
			t.Fatal(err)
		}
		s.Wait()
		began, disk := time.Now(), waitingForDisk{session: s}
		for _, r := range s.Log().Records() {
			if !disk.pending(t.Context(), r) {
				t.Errorf("%s is told as kept", r.Event.Kind)
			}
		}
		if took := time.Since(began); took != waitForTheLast {
			t.Errorf("%d lines waited for %v; expected %v", s.Log().Len(), took, waitForTheLast)
		}
	})
}
