package say

// A session as its record last knew it.

import (
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
)

// LastKnown is where film was when a record ends: "film was in the developer for 4:10 at 21:04:10".
func LastKnown(p *sequence.Plan, s engine.Snapshot, wall time.Time) string {
	at := " at " + wall.Format("15:04:05")
	if s.Step < 0 || s.Step >= len(p.Steps) {
		return "film was dry" + at
	}
	st := p.Steps[s.Step]
	bath := StepName(st.Name)
	if st.Bath != "" {
		bath = "the " + st.Bath
	}
	return "film was in " + bath + " for " + Elapsed(s.TimeInStep) + at
}
