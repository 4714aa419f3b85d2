package tui

// A plan with a danger is not begun with film before the person has said yes to it.

import (
	"strings"
	"testing"
	"time"

	"example.org/wetside/sequence"
)

// The big key, which wet hands find without looking, is no answer to a danger, however
// often it is pressed; the key of the question is.
func TestDangerIsAskedWithAKeyOfItsOwn(t *testing.T) {
	short := func(_ *hall, o *Options) { o.Words = sequence.Words{WetLimit: "5m"} }
	d := sit(t, with("stack"), short).press("enter")
	for range 6 {
		d.big()
	}
	if d.m.screen != preparing || d.m.dark || len(d.h.begun) != 0 {
		t.Fatal("the big key went past a danger")
	}
	if !strings.HasPrefix(d.m.prep.question(), "Danger: ") {
		t.Fatalf("asked %q; expected the danger first", d.m.prep.question())
	}
	d.press("y").big().big() // the panel, then the room
	d.isDark()
	d.now = d.now.Add(3 * time.Second)
	d.twice(" ").done()
	if len(d.h.begun) != 1 || !strings.HasPrefix(d.h.begun[0].Notes[0], "danger accepted; ") {
		t.Errorf("begun: %+v; expected the accepted danger among its notes", d.h.begun)
	}
}

// A rehearsal wets no film, and is not asked about it.
func TestNoDangerInARehearsal(t *testing.T) {
	d := sit(t, with("stack"), func(_ *hall, o *Options) {
		o.Words, o.Rehearse, o.DarkToo = sequence.Words{WetLimit: "5m"}, 60, true
	}).press("enter")
	if strings.HasPrefix(d.m.prep.question(), "Danger: ") {
		t.Error("a rehearsal is asked about a danger")
	}
}

// A vessel for which the time was not found is said as it is chosen, not only in the plan.
func TestAnotherVesselIsSaidAtOnce(t *testing.T) {
	d := on(t, "stack", "vessel").press("right", "right")
	if d.m.plan.plan.Vessel == sequence.Tray || d.m.message == "" || d.m.wrong {
		t.Errorf("%s chosen, said %q; expected that the time was found in trays", d.m.plan.plan.Vessel, d.m.message)
	}
	if d.press("left", "left"); d.m.message != "" {
		t.Errorf("back in the recipe's vessel, said %q", d.m.message)
	}
}
