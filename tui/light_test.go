package tui

// When the screen goes dark by itself, when it may be white, and what a session
// that fails in the dark leaves behind.

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"example.org/wetside/sequence"
)

// begun is a real session, in the light, at its first dip.
func begun(t *testing.T, recipe string) *desk {
	t.Helper()
	d := sit(t, with(recipe)).press("enter")
	for d.m.screen == prepareScreen && !d.m.starting {
		d.big()
	}
	return d.done().wait(10 * time.Second)
}

// A session that fails to begin in the dark leaves it dark: the film is open. Two
// presses try again; the second key, twice, shows what was wrong.
func TestAFailureStaysDark(t *testing.T) {
	d := loading(t, "stack")
	d.h.fails = errNoRoom
	d.twice(" ").done()
	d.isDark()
	if d.h.lit() != sequence.Dark {
		t.Fatalf("the host was told %q", d.h.lit())
	}
	d.now = d.now.Add(5 * time.Second)
	d.twice("esc")
	d.shows("no room left on the disk")
	d = loading(t, "stack")
	d.h.fails = errNoRoom
	d.twice(" ").done()
	d.h.fails = nil
	d.now = d.now.Add(5 * time.Second)
	d.twice(" ").done()
	d.isDark()
	if len(d.h.begun) != 1 || d.m.screen != runScreen {
		t.Errorf("begun %d, screen %d", len(d.h.begun), d.m.screen)
	}
}

// While a session is being begun the second key does not bring the light back.
func TestNoLightWhileBeginning(t *testing.T) {
	d := loading(t, "stack").twice(" ")
	begin := d.cmd
	d.twice("esc")
	d.isDark()
	d.send(begin())
	d.isDark()
}

// A session taken up in a dark step is dark from its first frame; where that fails
// it stays so, two presses try again, and the second key shows why.
func TestTakenUpInTheDark(t *testing.T) {
	d := sit(t, cutOff).press("enter").done()
	d.isDark()
	if d.h.lit() != sequence.Dark {
		t.Errorf("the host was told %q", d.h.lit())
	}
	d = sit(t, func(h *hall, o *Options) { o.Resume, o.Dark, h.fails = "a", true, errNoRoom })
	d.isDark()
	d.press(" ", "enter", "q").isDark()
	d = sit(t, func(h *hall, o *Options) { o.Resume, o.Dark, h.fails = "a", true, errNoRoom }).done()
	d.isDark()
	d.h.fails = nil
	d.twice(" ").done()
	d.isDark()
	if d.m.screen != runScreen || len(d.h.takenUp) != 1 {
		t.Fatalf("screen %d, taken up %v", d.m.screen, d.h.takenUp)
	}
	d = sit(t, func(h *hall, o *Options) { o.Resume, o.Dark, h.fails = "a", true, errNoRoom }).done().twice("esc")
	d.shows("no room left")
}

// A later dark step darkens the screen again, red or white, and light that comes
// back is red.
func TestDarkAgain(t *testing.T) {
	d := inDark(t, "twice").wait(8 * time.Minute)
	d.isDark()
	if d.twice(" "); d.m.dark {
		t.Fatal("no light though it was offered")
	}
	d.wait(90 * time.Second) // into the rinse, in white light
	d.press("w")
	if d.m.palette() != white256 || d.h.lit() != sequence.White {
		t.Fatalf("no white light in a white step; told %q", d.h.lit())
	}
	d.press("n").types("half a no") // a line being typed does not keep it lit
	for range 90 {
		d.wait(time.Second)
		if d.m.run.look.Step == 3 {
			break
		}
	}
	d.isDark()
	if d.h.lit() != sequence.Dark || d.m.run.look.Step != 3 {
		t.Fatalf("told %q in step %d; expected dark in 3", d.h.lit(), d.m.run.look.Step)
	}
	d.wait(2*time.Minute + 10*time.Second)
	d.isDark()
	if !d.m.run.look.LightOffered {
		t.Fatal("light is not offered after the second dark step")
	}
	d.twice(" ")
	if d.m.dark || d.m.palette() != red256 || d.h.lit() != sequence.Safelight {
		t.Errorf("dark %v, told %q; expected red", d.m.dark, d.h.lit())
	}
}

// A touch in the dark before light was offered moves on, and brings no light.
func TestNoLightBeforeItIsOffered(t *testing.T) {
	d := inDark(t, "twice").wait(time.Minute)
	d.twice(" ")
	d.isDark()
	if _, ok := d.session().last().(sequence.MoveOn); !ok {
		t.Errorf("asked %T; expected MoveOn", d.session().last())
	}
}

// White is refused under a safelight and in the dark, given in a white step and in a
// rehearsal, and taken back where the light turns red again.
func TestWhite(t *testing.T) {
	d := begun(t, "ortho").wait(30 * time.Second).press("w")
	d.shows("the screen stays red")
	if d.m.palette() != dim256 {
		t.Fatal("white under a safelight")
	}
	d = begun(t, "red-again").press("w")
	d.shows("the screen stays red")
	d.wait(5 * time.Minute).press("w")
	if d.m.palette() != white256 {
		t.Fatal("no white in a white step")
	}
	d.press("w")
	if d.m.palette() != red256 {
		t.Fatal("w does not go back to red")
	}
	d.press("w").wait(2 * time.Minute)
	if d.m.palette() != dim256 || d.h.lit() != sequence.Safelight {
		t.Errorf("white under the safelight that came back; told %q", d.h.lit())
	}
	d = rehearsing(t, "stack").press("w")
	if d.m.palette() != white256 {
		t.Error("no white in a rehearsal")
	}
	d.wait(5 * time.Hour).press("enter")
	if d.m.screen != recipeListScreen || d.m.palette() != red256 || d.h.lit() != sequence.Safelight {
		t.Error("white outlives the session")
	}
}

// Light that was offered for a safelight step is no leave for white; after the
// last sheet's least time in the fixer it is.
func TestWhiteAfterTheOffer(t *testing.T) {
	d := inDark(t, "stack").wait(14*time.Minute + 5*time.Second)
	d.twice(" ").wait(time.Second).press("w")
	if d.m.dark || d.m.palette() != white256 {
		t.Error("no white though the last sheet is fixed and light was put on")
	}
	d = inDark(t, "to-safelight").wait(2*time.Minute + 5*time.Second)
	if !d.m.run.look.LightOffered {
		t.Fatal("no light offered in a safelight step")
	}
	d.twice(" ").wait(time.Second).press("w")
	if d.m.dark || d.m.palette() != dim256 {
		t.Error("white in a safelight step")
	}
}

// The second key brings no light while a session is going on.
func TestNoLightByTheSecondKey(t *testing.T) {
	d := inDark(t, "stack").twice("esc")
	d.isDark()
	d.twice("esc").isDark()
}

// Where light was never offered two touches bring it when all is over.
func TestLightWhenAllIsOver(t *testing.T) {
	d := begun(t, "lit-first").wait(2 * time.Minute).wait(20 * time.Minute)
	d.isDark()
	if l := d.m.run.look; l.LightOffered || l.Over != sequence.SessionDone {
		t.Fatalf("offer %v, over %q", l.LightOffered, l.Over)
	}
	if d.twice(" ").wait(time.Second); d.m.screen != summaryScreen {
		t.Errorf("screen %d; expected the last", d.m.screen)
	}
}

// A rehearsal is never dark.
func TestRehearsalIsLit(t *testing.T) {
	d := rehearsing(t, "twice")
	for range 60 {
		d.wait(20 * time.Second)
		if d.m.dark {
			t.Fatal("a rehearsal went dark")
		}
	}
}

// A session that no disk takes says so while it runs, on the smallest screen too, and
// afterwards instead of where it lies.
func TestUnkeptIsTold(t *testing.T) {
	const why = "journal: kept in memory alone: write: no space left on device"
	d := begun(t, "tank")
	d.h.unkept = why
	d.wait(time.Second).size(40, 12).shows("kept in memory alone")
	d.size(80, 24).shows(why)
	d.h.unkept = ""
	d.wait(time.Second).hides("memory alone")
	d.h.unkept = why
	d.wait(3 * time.Hour).shows(why)
	if d.m.screen != summaryScreen {
		t.Errorf("screen %d", d.m.screen)
	}
}

// What another program has is said to be so, once it is known and at every touch of
// either key.
func TestHeldElsewhereIsSaid(t *testing.T) {
	d := sit(t, func(h *hall, o *Options) {
		o.Resume, o.Dark, h.fails = "a", true, fmt.Errorf("%w: by process 7", ErrElsewhere)
	})
	taking := d.cmd
	if d.press(" ", "m"); len(d.h.said) != 0 {
		t.Fatalf("said %v while it was being asked for", d.h.said)
	}
	d.send(taking()).later(3 * time.Second).press(" ").later(3 * time.Second).press("m")
	if want := []Utterance{SaysElsewhere, SaysElsewhere, SaysElsewhere}; !slices.Equal(d.h.said, want) {
		t.Errorf("said %v; expected %v", d.h.said, want)
	}
	d.isDark()
	d.h.fails = errNoRoom
	if d.twice(" ").done(); d.h.said[len(d.h.said)-1] != SaysNotBegun {
		t.Errorf("said %v", d.h.said)
	}
}
