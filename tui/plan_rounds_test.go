package tui

// Many sheets as rounds, each started from the last.

import (
	"strings"
	"testing"
	"time"

	"example.org/wetside/sequence"
)

func TestRoundsStartFromTheLast(t *testing.T) {
	d := on(t, "stack", "in all").types("13").size(120, 40)
	d.shows("round 1 of 3: 5 sheets, fresh: developer, fixer") // six at once: 5 + 4 + 4
	if n := d.m.plan.plan.Sheets; n != 5 {
		t.Fatalf("%d sheets are planned; expected 5", n)
	}
	if shown := d.m.plan.usual(fields[3]); fields[3].label != "sheets" || shown != "5" {
		t.Errorf("the field %s shows %q; expected the round's 5", fields[3].label, shown)
	}
	for round, sheets := range []int{5, 4, 4} {
		if n := d.m.plan.plan.Sheets; n != sheets {
			t.Errorf("round %d: %d sheets; expected %d", round+1, n, sheets)
		}
		d.press("f5").done()
		for d.session().Snapshot().Over == "" {
			d.wait(30 * time.Minute)
		}
		d.wait(time.Second).press("a")
	}
	d.shows("there is no further round")
}

// What makes no rounds is said; a number at once that is typed is the most of one.
func TestRoundsTyped(t *testing.T) {
	d := on(t, "stack", "in all").types("x")
	d.shows("expected a number of sheets")
	d.press("backspace").types("8").press("up").types("2").size(120, 40)
	d.shows("round 1 of 4: 2 sheets")
	if d.m.plan.conditions != (sequence.RawConditions{TotalSheets: "8", Sheets: "2"}) {
		t.Errorf("%+v", d.m.plan.conditions)
	}
}

// What notes on the emulsion speak for stands beside the limit.
func TestWhatTheFilmStandsIsTold(t *testing.T) {
	d := sit(t, with("stack"), func(h *hall, _ *Options) { h.stands = "Your notes: a wet limit of 17:00" }).size(120, 40)
	d.shows("Your notes: a wet limit of 17:00")
}

// Beside a field in error nothing stands of the plan before it: neither figures nor what
// follows from them.
func TestNoFiguresBesideAFault(t *testing.T) {
	d := on(t, "stack", "in all").types("13").size(120, 40)
	d.shows("Wet time")
	d.shows("round 1 of 3")
	d.types("x")
	for _, old := range []string{"Wet time", "round 1 of", "drying"} {
		if strings.Contains(d.look().text(), old) {
			t.Errorf("%q of the plan before is still shown", old)
		}
	}
	if got := d.m.plan.usual(fields[3]); got != "" {
		t.Errorf("the sheets of the plan before are shown: %q", got)
	}
}
