package tui

// A row of moves that is paused in the dark, a sheet that is lost, and what can still
// be done about the wet time.

import (
	"slices"
	"testing"
	"time"

	"example.org/wetside/sequence"
)

// Two presses while sheets move on pause the row; the next two move the one that stuck.
func TestTwoPressesPauseARow(t *testing.T) {
	d := inDark(t, "stack")
	s := d.session()
	d.wait(9*time.Minute + 23*time.Second) // sheet 1 left the developer at 9:20, sheet 2 is due at 9:30
	if l := s.Snapshot(); !l.InRow || l.Next.Sheet != 2 {
		t.Fatalf("row %v, next sheet %d; expected to be in a row before sheet 2", l.InRow, l.Next.Sheet)
	}
	d.twice(" ")
	if _, ok := s.last().(sequence.Hold); !ok {
		t.Fatalf("two presses in a row of moves asked %T; expected Hold", s.last())
	}
	d.wait(30 * time.Second).twice(" ")
	if _, ok := s.last().(sequence.MoveOn); !ok {
		t.Fatalf("two presses while paused asked %T; expected MoveOn", s.last())
	}
	l := s.Snapshot()
	if l.Held || l.Sheets[1].DevelopedShare < 1.04 || l.Sheets[1].DevelopedShare > 1.10 {
		t.Errorf("held %v, sheet 2 developed %.3f; it was about half a minute late of 7:30", l.Held, l.Sheets[1].DevelopedShare)
	}
	d.isDark()
}

func TestALostSheetAndAdvice(t *testing.T) {
	d := rehearsing(t, "stack").wait(3*time.Minute).size(120, 40)
	d.press("x").types("2").press("enter")
	d.shows("sheet 2 is set aside")
	d.wait(time.Minute).shows("2 set aside")
	if !d.session().Snapshot().Sheets[1].Aside {
		t.Error("sheet 2 is not set aside")
	}
	d.press("x").types("9").press("enter")
	d.shows("There is no sheet 9")
	d.press("x").types("two").press("enter")
	d.shows("is no sheet's number")
	d.press("h").wait(14 * time.Minute).press("a")
	d.shows("Best now: go on")
	d.press("h").press("a")
	d.shows("Best now: wash for 5:00 is enough: transfer at")
}

// A sheet that is still where it was is named by ear: the menu's key goes from the sheet
// moved last to the one before it, one touch says it again, two take it, and it is
// taken back like any act.
func TestALateSheetIsNamedInTheDark(t *testing.T) {
	d := inDark(t, "stack")
	s := d.session()
	d.wait(9*time.Minute + 33*time.Second) // sheets 1 and 2 left the developer at 9:20 and 9:30
	d.menuAt(OffersLate).press(" ").later(time.Second)
	if s.last() != nil || !slices.Equal(s.named, []int{2}) {
		t.Fatalf("named %v and asked %T; expected sheet 2 and nothing", s.named, s.last())
	}
	d.press("m").later(time.Second).press("m").later(time.Second).press("m").later(3 * time.Second).press(" ").later(3 * time.Second)
	if s.last() != nil || !slices.Equal(s.named, []int{2, 1, 2, 1, 1}) {
		t.Fatalf("named %v and asked %T", s.named, s.last())
	}
	d.twice(" ")
	if c, ok := s.last().(sequence.MarkLate); !ok || c.Sheet != 1 || len(s.did) != 1 {
		t.Fatalf("two touches asked %T of %v", s.last(), s.named)
	}
	l := s.Snapshot()
	if !l.Held || l.Next.Sheet != 1 {
		t.Errorf("held %v, next sheet %d", l.Held, l.Next.Sheet)
	}
	d.later(2 * time.Second).menuAt(OffersUndo).press(" ")
	if _, ok := s.last().(sequence.Undo); !ok || s.Snapshot().Held {
		t.Errorf("asked %T, held %v; expected it to be taken back", s.last(), s.Snapshot().Held)
	}
	d.isDark()
}

// A load that moves together is late as a whole, by one touch; it moves by two.
func TestLateTogetherInTheDark(t *testing.T) {
	d := inDark(t, "hangers").later(time.Minute).twice(" ").later(15 * time.Second)
	s := d.session()
	was := s.Snapshot().Step
	d.menuAt(OffersFilm).press(" ")
	if _, ok := s.last().(sequence.MarkLate); !ok || s.Snapshot().Sheets[0].Step != was-1 {
		t.Fatalf("asked %T; sheet 1 in step %d, expected %d", s.last(), s.Snapshot().Sheets[0].Step, was-1)
	}
	d.later(3 * time.Second).twice(" ")
	if l := s.Snapshot(); l.Held || l.Sheets[0].Step != was {
		t.Errorf("held %v, sheet 1 in step %d", l.Held, l.Sheets[0].Step)
	}
}

// A lost sheet is named the same way; what stands for no choice any more closes it.
func TestALostSheetIsNamedInTheDark(t *testing.T) {
	d := inDark(t, "stack").wait(3 * time.Minute)
	s := d.session()
	d.menuAt(OffersSetAside).press(" ").later(time.Second).press("m").later(time.Second).twice(" ")
	if c, ok := s.last().(sequence.SetSheetAside); !ok || c.Sheet != 2 || !s.Snapshot().Sheets[1].Aside {
		t.Fatalf("asked %+v; named %v", s.last(), s.named)
	}
	d.later(3 * time.Second).menuAt(OffersSetAside).press(" ").later(menuFor + time.Second).press(" ")
	if s.answers != 1 || len(s.did) != 1 {
		t.Errorf("%d answers, %d acts; expected the menu to be closed after ten seconds", s.answers, len(s.did))
	}
}
