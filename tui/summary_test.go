package tui

// After a session: what comes next is named, and what the notebook can do with it is
// done from here.

import (
	"strings"
	"testing"
	"time"

	"example.org/wetside/sequence"
)

// over is the screen after a session that the notebook has.
func over(t *testing.T, id, recipe string) *desk {
	t.Helper()
	d := rehearsing(t, recipe).wait(5 * time.Hour)
	if d.m.screen != summaryScreen {
		t.Fatalf("screen %d", d.m.screen)
	}
	d.session().id = id
	return d
}

func TestNotedRightAfterASession(t *testing.T) {
	const id = "2024-05-02T2000-tern-125"
	d := over(t, id, "hangers")
	d.size(80, 40).shows("n, l and e note what came of it")
	keptAlone(t)(d.h, nil)
	d.press("e").types("so").press("enter", "esc")
	if d.m.screen != summaryScreen {
		t.Fatalf("esc led to screen %d; expected back after the session", d.m.screen)
	}
	d.press("l").types("th").press("enter", "esc", "n").types("hung by the harbour wall").press("enter")
	d.shows("noted")
	s, err := d.h.Read(id)
	if err != nil || len(s.NotesAfter.List) != 3 || s.Emulsion != "sound" || s.NotesAfter.Appearances()[0] != "thin" {
		t.Errorf("%v, %+v", err, s.NotesAfter)
	}
	d.press("esc", "esc")
	if d.m.screen != recipeListScreen {
		t.Errorf("screen %d", d.m.screen)
	}
	d.press("n").done().press("esc")
	if d.m.screen != recipeListScreen {
		t.Errorf("the notebook was left for screen %d", d.m.screen)
	}
}

func TestAFilmTestLeadsToItsDensities(t *testing.T) {
	d := over(t, "", "plover-200")
	d.shows("d reads their densities")
	atDesk(t)(d.h, nil)
	d.session().id = d.h.Sessions()[0].ID
	d.press("d")
	d.shows("sheet 4: planned 13:00, developed 13:14")
	d.press("enter")
	if r := d.reading().r; r.Session != d.session().id || len(r.Sheets) != 4 {
		t.Errorf("%+v", r)
	}
}

// A session that was kept nowhere is no page of the notebook.
func TestNothingIsNotedOnASessionThatIsNotKept(t *testing.T) {
	d := over(t, "2024-01-01T0000-nowhere", "hangers")
	keptAlone(t)(d.h, nil)
	d.press("n")
	if d.m.screen != summaryScreen || !d.m.messageIsError {
		t.Errorf("screen %d, %q", d.m.screen, d.m.message)
	}
	if d.session().state.Over() != sequence.SessionDone {
		t.Error("not over")
	}
}

// Preparation and summary say the same of a step's time: what each sheet is given, and
// how long it is in the bath with the moving of the others.
func TestStepTimesAgree(t *testing.T) {
	for _, recipe := range []string{"stack", "hangers"} {
		p := sit(t, with(recipe)).m.plan.plan
		lines := setOut(p, sequence.Units{})
		moved := 0
		for i, s := range stays(p, p.Passages) {
			given := s.planned
			if s.given > 0 {
				given, moved = s.given, moved+1
			}
			found := false
			for _, l := range lines {
				with := strings.Contains(l.text, "("+sequence.FormatElapsed(s.planned)+" with moving)")
				found = found || strings.Contains(l.text, p.Steps[i].Name) && strings.Contains(l.text, " "+sequence.FormatElapsed(given)) && with == (s.given > 0)
			}
			if !found || given != p.Steps[i].Given {
				t.Errorf("%s: %s, given %v, planned %v: preparation says otherwise: %v", recipe, s.name, given, s.planned, lines)
			}
		}
		if stack := recipe == "stack"; stack != (moved > 0) {
			t.Errorf("%s: %d steps with moving", recipe, moved)
		}
	}
}
