package tui

// The spoken menu of the second key, answered with the big one; what is said where
// there is no session; keys of one's own.

import (
	"slices"
	"testing"
	"time"

	"example.org/wetside/sequence"
)

// later lets so much time go by.
func (d *desk) later(t time.Duration) *desk {
	d.now = d.now.Add(t)
	return d
}

func (d *desk) heard(t *testing.T, want ...Utterance) {
	t.Helper()
	if got := d.session().said; !slices.Equal(got, want) {
		t.Errorf("said %v; expected %v", got, want)
	}
}

// menuAt presses the menu's key until it offers something.
func (d *desk) menuAt(what Utterance) *desk {
	d.t.Helper()
	for range 8 {
		d.press("m").later(time.Second)
		if said := d.session().said; said[len(said)-1] == what {
			return d
		}
	}
	d.t.Fatalf("never offered; said %v", d.session().said)
	return d
}

func TestMenuIsOfferedInTurn(t *testing.T) {
	d := inDark(t, "stack")
	for range 6 {
		d.press("m").later(time.Second)
	}
	d.heard(t, OffersHold, OffersLate, OffersSetAside, OffersAdvice, OffersStop, OffersHold)
	if d.session().last() != nil || d.session().answers != 0 {
		t.Errorf("the menu alone asked %T and answered %d times", d.session().last(), d.session().answers)
	}
	d.press(" ")
	if _, ok := d.session().last().(sequence.Hold); !ok {
		t.Fatalf("one touch asked %T; expected Hold", d.session().last())
	}
	d.later(3 * time.Second).press("m").later(time.Second).press("m").later(time.Second)
	d.heard(t, OffersHold, OffersLate, OffersSetAside, OffersAdvice, OffersStop, OffersHold, OffersUndo, OffersGo)
	d.press(" ")
	if _, ok := d.session().last().(sequence.EndHold); !ok {
		t.Errorf("one touch asked %T; expected Go", d.session().last())
	}
	d.isDark()
}

// A choice once taken is not taken again: the next touch speaks.
func TestMenuClosesBehindAChoice(t *testing.T) {
	d := inDark(t, "stack").press("m").later(time.Second).press(" ").later(700 * time.Millisecond).press(" ")
	if s := d.session(); len(s.did) != 1 || s.answers != 1 {
		t.Errorf("%d acts, %d answers; expected one of each", len(s.did), s.answers)
	}
}

func TestUndoInTheDark(t *testing.T) {
	d := inDark(t, "hangers").later(time.Minute).twice(" ").later(5 * time.Second)
	step := d.session().Snapshot().Step
	d.press("m").later(time.Second).press(" ")
	if _, ok := d.session().last().(sequence.Undo); !ok || d.session().Snapshot().Step != step-1 {
		t.Errorf("asked %T, in step %d; expected Undo and step %d", d.session().last(), d.session().Snapshot().Step, step-1)
	}
	d.later(3 * time.Second).twice(" ").later(9 * time.Second).press("m").later(2 * time.Second).press(" ")
	if got := d.session().said; got[len(got)-1] != SaysNotPossible {
		t.Errorf("said %v; expected no at the end: it was too late", got)
	}
}

// What cannot be taken back takes two touches.
func TestStopTakesTwoTouches(t *testing.T) {
	d := inDark(t, "stack").menuAt(OffersStop).press(" ")
	if d.session().last() != nil {
		t.Fatalf("one touch asked %T", d.session().last())
	}
	d.later(time.Second).press(" ")
	if _, ok := d.session().last().(sequence.EndSession); !ok || d.session().Snapshot().Over != sequence.SessionStopped {
		t.Errorf("two touches asked %T", d.session().last())
	}
	d.isDark()
	d.later(time.Second).press("m") // over: there is nothing to choose
	d.heard(t, OffersHold, OffersLate, OffersSetAside, OffersAdvice, OffersStop)
}

// Advice is spoken when it is asked for, in the dark and in the light, and does nothing.
func TestAdviceIsSpoken(t *testing.T) {
	d := inDark(t, "stack").menuAt(OffersAdvice).press(" ")
	d.heard(t, OffersHold, OffersLate, OffersSetAside, OffersAdvice, SaysAdvice)
	if d.session().last() != nil || d.session().answers != 0 {
		t.Errorf("it asked %T and answered %d times", d.session().last(), d.session().answers)
	}
	d = rehearsing(t, "stack").wait(20 * time.Second).press("a")
	d.heard(t, SaysAdvice)
}

// A choice stands for ten seconds; then a touch of the big key speaks again.
func TestMenuIsForgotten(t *testing.T) {
	d := inDark(t, "stack").press("m").later(menuFor + time.Second).press(" ")
	if s := d.session(); s.last() != nil || s.answers != 1 {
		t.Errorf("asked %T, %d answers; expected an answer alone", s.last(), s.answers)
	}
	d.later(3 * time.Second).press("m")
	d.heard(t, OffersHold, OffersHold)
}

// A held menu key offers once, and a touch before the menu is no first of two.
func TestMenuKeyIsDebounced(t *testing.T) {
	d := inDark(t, "stack").press(" ").later(500 * time.Millisecond)
	for range 50 {
		d.press("m").later(30 * time.Millisecond)
	}
	d.heard(t, OffersHold)
	d = inDark(t, "stack").press(" ").later(500 * time.Millisecond).press("m").later(menuFor + time.Second).press(" ")
	if d.session().last() != nil {
		t.Errorf("asked %T", d.session().last())
	}
}

// Without a voice the menu is the same, by tones, and what was chosen is heard to be
// done; a move has its own tone.
func TestMenuWithoutAVoice(t *testing.T) {
	mute := func(h *hall, _ *Options) { h.mute = true }
	d := inDark(t, "stack", mute).press("m").later(time.Second).press(" ").later(3 * time.Second).press("m").later(time.Second)
	for range 4 {
		d.press("m").later(time.Second)
	}
	d.heard(t, OffersHold, SaysDone, OffersUndo, OffersGo, OffersLate, OffersSetAside, OffersStop) // and no advice, which takes words
	if _, ok := d.session().last().(sequence.Hold); !ok {
		t.Errorf("asked %T; expected Hold", d.session().last())
	}
	d = inDark(t, "hangers", mute).later(time.Minute).twice(" ")
	if _, ok := d.session().last().(sequence.MoveOn); !ok {
		t.Errorf("asked %T; expected MoveOn", d.session().last())
	}
	d.heard(t)
}

// A refused act is heard in the dark.
func TestRefusalIsHeard(t *testing.T) {
	d := inDark(t, "stack")
	d.session().refuses = "not now"
	d.twice(" ")
	d.heard(t, SaysNotPossible)
}

// While film is loaded a touch says how to begin; a session that cannot begin says so.
func TestBeforeASessionWordsAreHeard(t *testing.T) {
	d := loading(t, "stack").press(" ").later(3 * time.Second).press("m")
	if !slices.Equal(d.h.said, []Utterance{SaysLoading, SaysLoading}) {
		t.Errorf("said %v", d.h.said)
	}
	d.h.fails = errNoRoom
	d.later(3 * time.Second).twice(" ").done()
	if got := d.h.said; got[len(got)-1] != SaysNotBegun {
		t.Errorf("said %v; expected at the end that it could not begin", got)
	}
	d.isDark()
	d = sit(t, with("tank"), func(h *hall, _ *Options) { h.fails = errNoRoom }).press("enter", " ").done()
	if len(d.h.said) != 0 {
		t.Errorf("in the light it said %v", d.h.said)
	}
}

// Keys of one's own do what the big one and the menu's do, in the light and the dark.
func TestOwnKeys(t *testing.T) {
	own := func(_ *hall, o *Options) { o.BigKeys, o.MenuKeys = []string{"b", "f5", " "}, []string{"."} }
	d := inDark(t, "stack", own).press("b")
	if d.session().answers != 1 {
		t.Error("b did not speak")
	}
	d.later(time.Second).press("f5")
	if _, ok := d.session().last().(sequence.MoveOn); !ok {
		t.Errorf("b and f5 asked %T; expected MoveOn", d.session().last())
	}
	d.later(3 * time.Second).press(".")
	d.heard(t, OffersUndo)
	d = sit(t, with("hangers"), own).press("enter", "b")
	if len(d.m.prep.answers) != 1 {
		t.Error("b answered no question")
	}
	if d = inDark(t, "stack").press("b"); d.session().answers != 0 {
		t.Error("b speaks without having been chosen")
	}
}

// A rehearsal asked for in the dark is prepared, darkened and begun like a session
// with film, and keeps the dark.
func TestDarkRehearsal(t *testing.T) {
	d := inDark(t, "stack", func(_ *hall, o *Options) { o.RehearsalSpeed, o.SkipQuiet, o.RehearseDark = 1, true, true })
	if s := d.h.begun[0]; s.RehearsalSpeed != 1 || !s.SkipQuiet || !s.Dark || s.Countdown != 10*time.Second {
		t.Errorf("begun %+v", s)
	}
	d.wait(time.Minute).isDark()
	d = rehearsing(t, "stack", func(_ *hall, o *Options) { o.SkipQuiet = true }).wait(20 * time.Second)
	d.shows("REHEARSAL of the moves")
	if s := d.h.begun[0]; s.Countdown != 10*time.Second || s.Dark {
		t.Errorf("begun %+v", s)
	}
}
