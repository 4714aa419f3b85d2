package say

import (
	"strings"
	"testing"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/sequence/sessiontest"
)

// The sentence names the plan's own minutes, warmth and handlings, where the estimate begins, and what no
// session had.
func TestWetRisk(t *testing.T) {
	p, err := planning.Resolve(sessiontest.SixInTray(), sequence.Conditions{})
	if err != nil {
		t.Fatal(err)
	}
	if got := WetRisk(&p, nil, sequence.Units{}); got != "" {
		t.Errorf("without notes: %q", got)
	}
	short := notebook.WetTrial{WetTrial: chem.WetTrial{Wet: 5 * time.Minute, Temperature: 26, Handlings: 200}}
	long := notebook.WetTrial{WetTrial: chem.WetTrial{Wet: time.Hour, Temperature: 20, Handlings: 10}}
	got := WetRisk(&p, []notebook.WetTrial{short, long}, sequence.Units{Fahrenheit: true})
	for _, part := range []string{"in trays: " + Elapsed(p.Wet.Total) + " at 68 °F, 78 shuffles and transfers: ", "From 2 sessions with a note (2 sound, 0 damaged)",
		"the recipe's limit of 20:00 as a weak guess", "No session came through sound that was this long, warm and handled at once."} {
		if !strings.Contains(got, part) {
			t.Errorf("%q lacks %q", got, part)
		}
	}
	both := notebook.WetTrial{WetTrial: chem.WetTrial{Wet: time.Hour, Temperature: 26, Handlings: 200}}
	if got := WetRisk(&p, []notebook.WetTrial{both}, sequence.Units{}); strings.Contains(got, "No session") {
		t.Errorf("longer, warmer and more handled: %q", got)
	}
	r := notebook.WetRisk{Plan: chem.WetTrial{Wet: 17*time.Minute + 40*time.Second, Temperature: 24, Handlings: 126}, Risk: 0.08, Low: 0.0004, High: 0.301}
	if got := wetRiskFigures(r, sequence.Units{}); got != "17:40 at 24 °C, 126 shuffles and transfers: 8%, 0–31%" {
		t.Error(got)
	}
}
