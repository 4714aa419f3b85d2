package tui

// Where a newcomer's cursor stands.

import (
	"testing"
	"time"

	"example.org/wetside/recipes"
)

// One key rehearses a session that is over within a minute and asks for no other key.
func TestFirstRehearsalTakesUnderAMinute(t *testing.T) {
	for _, speed := range []float64{0, 30, 120} {
		d := sit(t, func(h *hall, o *Options) { h.newcomer, o.DefaultSpeed = true, speed }, shipped).press("r").done()
		if len(d.h.begun) != 1 {
			t.Fatalf("speed %g: begun %d: %s", speed, len(d.h.begun), d.m.message)
		}
		d.wait(time.Minute)
		if d.m.screen != summaryScreen {
			t.Errorf("speed %g: %s is not over: %+v", speed, d.h.begun[0].Plan.Recipe.Title, d.m.run.look.Step)
		}
	}
}

// A recipe that waits for a key is not the one.
func TestFirstRehearsalGoesByItself(t *testing.T) {
	d := sit(t, func(h *hall, _ *Options) { h.newcomer, h.only = true, []string{"dunlin-ortho", "plover-cradle"} })
	if e, _ := d.m.list.recipe(); e.Name != "plover-cradle" {
		t.Errorf("the cursor is on %q", e.Name)
	}
}

// Who is no newcomer begins at the top.
func TestCursorBeginsAtTheTop(t *testing.T) {
	if d := sit(t, shipped); d.m.list.at != 0 {
		t.Errorf("at %d", d.m.list.at)
	}
}

// shipped has the hall show the recipes that wetside brings.
func shipped(h *hall, _ *Options) {
	for _, e := range recipes.ShippedEntries() {
		h.only = append(h.only, e.Name)
	}
}
