package tui

// A row of moves that is paused in the dark, a sheet that is lost, and what can still
// be done about the wet time.

import (
	"testing"
	"time"

	"example.org/wetside/sequence"
)

// Two presses while sheets move on pause the row; the next two move the one that stuck.
func TestTwoPressesPauseARow(t *testing.T) {
	d := inDark(t, "stack")
	s := d.session()
	d.wait(9*time.Minute + 23*time.Second) // sheet 1 left the developer at 9:20, sheet 2 is due at 9:30
	if l := s.Look(); !l.Row || l.Next.Sheet != 2 {
		t.Fatalf("row %v, next sheet %d; expected to be in a row before sheet 2", l.Row, l.Next.Sheet)
	}
	d.twice(" ")
	if _, ok := s.last().(sequence.Hold); !ok {
		t.Fatalf("two presses in a row of moves asked %T; expected Hold", s.last())
	}
	d.wait(30 * time.Second).twice(" ")
	if _, ok := s.last().(sequence.MoveOn); !ok {
		t.Fatalf("two presses while paused asked %T; expected MoveOn", s.last())
	}
	l := s.Look()
	if l.Held || l.Sheets[1].Given < 1.04 || l.Sheets[1].Given > 1.10 {
		t.Errorf("held %v, sheet 2 developed %.3f; it was about half a minute late of 7:30", l.Held, l.Sheets[1].Given)
	}
	d.isDark()
}

func TestALostSheetAndAdvice(t *testing.T) {
	d := rehearsing(t, "stack").wait(3*time.Minute).size(120, 40)
	d.press("x").types("2").press("enter")
	d.shows("sheet 2 is set aside")
	d.wait(time.Minute).shows("2 set aside")
	if !d.session().Look().Sheets[1].Aside {
		t.Error("sheet 2 is not set aside")
	}
	d.press("x").types("9").press("enter")
	d.shows("there is no sheet 9")
	d.press("x").types("two").press("enter")
	d.shows("is no sheet's number")
	d.press("h").wait(14 * time.Minute).press("a")
	d.shows("best now: go on")
	d.press("h").press("a")
	d.shows("best now: wash for 5:00 is enough: move on at")
}
