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
	short := func(_ *hall, o *Options) { o.RawConditions = sequence.RawConditions{WetLimit: "5m"} }
	d := sit(t, with("stack"), short).press("enter")
	for range 6 {
		d.big()
	}
	if d.m.screen != prepareScreen || d.m.dark || len(d.h.begun) != 0 {
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
		o.RawConditions, o.RehearsalSpeed, o.RehearseDark = sequence.RawConditions{WetLimit: "5m"}, 60, true
	}).press("enter")
	if strings.HasPrefix(d.m.prep.question(), "Danger: ") {
		t.Error("a rehearsal is asked about a danger")
	}
}

// A vessel for which the time was not found is said as it is chosen, not only in the plan.
func TestAnotherVesselIsSaidAtOnce(t *testing.T) {
	d := on(t, "stack", "vessel").press("right", "right")
	if d.m.plan.plan.Vessel == sequence.Tray || d.m.message == "" || d.m.messageIsError {
		t.Errorf("%s chosen, said %q; expected that the time was found in trays", d.m.plan.plan.Vessel, d.m.message)
	}
	if d.press("left", "left"); d.m.message != "" {
		t.Errorf("back in the recipe's vessel, said %q", d.m.message)
	}
}

// A session that goes on elsewhere, or may, is not said to be cut off, and is taken over
// only after a question with a key of its own.
func TestNoTakingOverWithoutAQuestion(t *testing.T) {
	for _, mark := range []func(*Unfinished){func(u *Unfinished) { u.Running = true }, func(u *Unfinished) { u.Elsewhere = true }} {
		d := sit(t, cutOff, func(h *hall, _ *Options) { mark(&h.unfinished[0]) })
		d.hides("cut off")
		d.press("enter", "enter", "y") // the second enter says no
		d.press("down", "up", "enter", "down", "y")
		if d.m.starting {
			t.Fatal("taken over without a yes to the question")
		}
		if d.press("up", "enter", "y"); !d.m.starting {
			t.Error("not taken over after a yes")
		}
	}
	if d := sit(t, cutOff).press("enter"); !d.m.starting {
		t.Error("a session that was cut off is not taken up")
	}
}
