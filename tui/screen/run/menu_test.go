package run

// The menu of the second key, answered with the big one.

import (
	"slices"
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/screen/runtest"
)

func (d *desk) heard(t *testing.T, want ...screen.Utterance) {
	t.Helper()
	if !slices.Equal(d.s.Said, want) {
		t.Errorf("said %v; expected %v", d.s.Said, want)
	}
}

// menuAt presses the menu's key until it offers something.
func (d *desk) menuAt(what screen.Utterance) *desk {
	d.t.Helper()
	for range 8 {
		d.press("m").later(time.Second)
		if d.s.Said[len(d.s.Said)-1] == what {
			return d
		}
	}
	d.t.Fatalf("never offered; said %v", d.s.Said)
	return d
}

func TestMenuIsOfferedInTurn(t *testing.T) {
	d := inDark(t, "stack")
	for range 6 {
		d.press("m").later(time.Second)
	}
	round := []screen.Utterance{screen.OffersHold, screen.OffersLate, screen.OffersSetAside, screen.OffersAdvice, screen.OffersStop, screen.OffersHold}
	d.heard(t, round...)
	if d.s.Last() != nil || d.s.Answers != 0 {
		t.Errorf("the menu alone asked %T and answered %d times", d.s.Last(), d.s.Answers)
	}
	d.press(" ")
	if _, ok := d.s.Last().(sequence.Hold); !ok {
		t.Fatalf("one touch asked %T; expected Hold", d.s.Last())
	}
	d.later(3 * time.Second).press("m").later(time.Second).press("m").later(time.Second)
	d.heard(t, append(round, screen.OffersUndo, screen.OffersGo)...)
	d.press(" ")
	if _, ok := d.s.Last().(sequence.EndHold); !ok {
		t.Errorf("one touch asked %T; expected EndHold", d.s.Last())
	}
	d.isDark()
}

// A choice once taken is not taken again: the next touch is a first one, and speaks.
func TestMenuClosesBehindAChoice(t *testing.T) {
	d := inDark(t, "stack").press("m").later(time.Second).press(" ").later(700 * time.Millisecond).press(" ")
	if len(d.s.Did) != 1 || d.s.Answers != 1 {
		t.Errorf("%d acts, %d answers; expected one of each", len(d.s.Did), d.s.Answers)
	}
}

func TestUndoInTheDark(t *testing.T) {
	d := inDark(t, "hangers").later(time.Minute).twice(" ").later(5 * time.Second)
	step := d.s.Snapshot().Step
	d.press("m").later(time.Second).press(" ")
	if _, ok := d.s.Last().(sequence.Undo); !ok || d.s.Snapshot().Step != step-1 {
		t.Errorf("asked %T, in step %d; expected Undo and step %d", d.s.Last(), d.s.Snapshot().Step, step-1)
	}
	d.later(3 * time.Second).twice(" ").later(9 * time.Second).press("m").later(2 * time.Second).press(" ")
	if d.s.Said[len(d.s.Said)-1] != screen.SaysNotPossible {
		t.Errorf("said %v; expected no at the end: it was too late", d.s.Said)
	}
}

// What cannot be undone takes two touches.
func TestStopTakesTwoTouches(t *testing.T) {
	d := inDark(t, "stack").menuAt(screen.OffersStop).press(" ")
	if d.s.Last() != nil {
		t.Fatalf("one touch asked %T", d.s.Last())
	}
	d.later(time.Second).press(" ")
	if _, ok := d.s.Last().(sequence.EndSession); !ok || d.s.Snapshot().Over != sequence.SessionStopped {
		t.Errorf("two touches asked %T", d.s.Last())
	}
	n := len(d.s.Said)
	if d.isDark().later(time.Second).press("m"); len(d.s.Said) != n || d.s.Answers != 1 {
		t.Errorf("over: said %v, %d answers; expected nothing to choose", d.s.Said[n:], d.s.Answers)
	}
}

// Advice is spoken when it is asked for, in the dark and in the light, and does nothing.
func TestAdviceIsSpoken(t *testing.T) {
	d := inDark(t, "stack").menuAt(screen.OffersAdvice).press(" ")
	if d.s.Said[len(d.s.Said)-1] != screen.SaysAdvice || d.s.Last() != nil || d.s.Answers != 0 {
		t.Errorf("said %v, asked %T, answered %d times", d.s.Said, d.s.Last(), d.s.Answers)
	}
	d = rehearsal(t, "stack").wait(20 * time.Second).press("a")
	if d.heard(t, screen.SaysAdvice); d.message.Text == "" {
		t.Error("the advice is not shown")
	}
}

// A choice stands for ten seconds; a held menu key offers once; a touch before the menu is no
// first of two.
func TestMenuIsForgotten(t *testing.T) {
	d := inDark(t, "stack").press("m").later(menuFor + time.Second).press(" ")
	if d.s.Last() != nil || d.s.Answers != 1 {
		t.Errorf("asked %T, %d answers; expected an answer alone", d.s.Last(), d.s.Answers)
	}
	d.later(3 * time.Second).press("m")
	d.heard(t, screen.OffersHold, screen.OffersHold)
	d = inDark(t, "stack").press(" ").later(500 * time.Millisecond)
	for range 50 {
		d.press("m").later(30 * time.Millisecond)
	}
	d.heard(t, screen.OffersHold)
}

// Without a voice the menu is the same, by tones, and what was chosen is heard to be done; a
// transfer has its own tone. A refused act is heard.
func TestMenuWithoutAVoice(t *testing.T) {
	mute := func(s *runtest.Session, _ *screen.Env) { s.Mute = true }
	d := inDark(t, "stack", mute).press("m").later(time.Second).press(" ").later(3 * time.Second).press("m").later(time.Second)
	for range 4 {
		d.press("m").later(time.Second)
	}
	d.heard(t, screen.OffersHold, screen.SaysDone, screen.OffersUndo, screen.OffersGo, screen.OffersLate, screen.OffersSetAside, screen.OffersStop)
	d = inDark(t, "hangers", mute).later(time.Minute).twice(" ")
	if _, ok := d.s.Last().(sequence.MoveOn); !ok {
		t.Errorf("asked %T; expected MoveOn", d.s.Last())
	}
	d.heard(t)
	d = inDark(t, "stack")
	d.s.Refuses = sequence.Refusal{Code: "not-now"}
	d.twice(" ").heard(t, screen.SaysNotPossible)
}

// Keys of one's own do what the big one and the menu's do, and the usual ones then nothing.
func TestOwnKeys(t *testing.T) {
	own := func(_ *runtest.Session, e *screen.Env) {
		e.Keys = screen.Keys{Big: []string{"b", "f5"}, Menu: []string{"."}}
	}
	d := inDark(t, "stack", own).press("b")
	if d.s.Answers != 1 {
		t.Error("b did not speak")
	}
	d.later(time.Second).press("f5")
	if _, ok := d.s.Last().(sequence.MoveOn); !ok {
		t.Errorf("b and f5 asked %T; expected MoveOn", d.s.Last())
	}
	d.later(3*time.Second).press(".").heard(t, screen.OffersUndo)
	n := len(d.s.Did) + d.s.Answers
	if d.later(20 * time.Second).twice(" ").press("m"); len(d.s.Did)+d.s.Answers != n || len(d.s.Said) != 1 {
		t.Error("the usual keys act although others were chosen")
	}
}

// Two touches while sheets go on one by one pause the row; the next two move the one that
// stuck.
func TestTwoPressesPauseARow(t *testing.T) {
	d := inDark(t, "stack").wait(9*time.Minute + 23*time.Second) // sheet 1 left the developer at 9:20, sheet 2 is due at 9:30
	if l := d.s.Snapshot(); !l.InRow || l.Next.Sheet != 2 {
		t.Fatalf("row %v, next sheet %d; expected to be in a row before sheet 2", l.InRow, l.Next.Sheet)
	}
	d.twice(" ")
	if _, ok := d.s.Last().(sequence.Hold); !ok {
		t.Fatalf("two touches in a row of transfers asked %T; expected Hold", d.s.Last())
	}
	d.wait(30 * time.Second).twice(" ")
	if _, ok := d.s.Last().(sequence.MoveOn); !ok || d.s.Snapshot().Held {
		t.Fatalf("two touches while paused asked %T; expected MoveOn", d.s.Last())
	}
	d.isDark()
}

// A sheet that is still where it was is named by ear: the menu's key goes from the sheet
// transferred last to the one before it, one touch says it again, two take it.
func TestALateSheetIsNamedInTheDark(t *testing.T) {
	d := inDark(t, "stack").wait(9*time.Minute + 33*time.Second) // sheets 1 and 2 left the developer at 9:20 and 9:30
	d.menuAt(screen.OffersLate).press(" ").later(time.Second)
	if d.s.Last() != nil || !slices.Equal(d.s.Named, []int{2}) {
		t.Fatalf("named %v and asked %T; expected sheet 2 and nothing", d.s.Named, d.s.Last())
	}
	d.press("m").later(time.Second).press("m").later(time.Second).press("m").later(3 * time.Second).press(" ").later(3 * time.Second)
	if d.s.Last() != nil || !slices.Equal(d.s.Named, []int{2, 1, 2, 1, 1}) {
		t.Fatalf("named %v and asked %T", d.s.Named, d.s.Last())
	}
	d.twice(" ")
	if c, ok := d.s.Last().(sequence.MarkLate); !ok || c.Sheet != 1 || len(d.s.Did) != 1 {
		t.Fatalf("two touches asked %T of %v", d.s.Last(), d.s.Named)
	}
	d.later(2 * time.Second).menuAt(screen.OffersUndo).press(" ")
	if _, ok := d.s.Last().(sequence.Undo); !ok || d.s.Snapshot().Held {
		t.Errorf("asked %T, held %v; expected it to be undone", d.s.Last(), d.s.Snapshot().Held)
	}
}

// A load that goes together is late as a whole, by one touch; a lost sheet is named, and
// what stands for no choice any more closes the menu.
func TestTheFilmIsLateAndASheetIsLost(t *testing.T) {
	d := inDark(t, "hangers").later(time.Minute).twice(" ").later(15 * time.Second)
	was := d.s.Snapshot().Step
	d.menuAt(screen.OffersFilm).press(" ")
	if _, ok := d.s.Last().(sequence.MarkLate); !ok || d.s.Snapshot().Sheets[0].Step != was-1 {
		t.Fatalf("asked %T; sheet 1 in step %d, expected %d", d.s.Last(), d.s.Snapshot().Sheets[0].Step, was-1)
	}
	d = inDark(t, "stack").wait(3 * time.Minute)
	d.menuAt(screen.OffersSetAside).press(" ").later(time.Second).press("m").later(time.Second).twice(" ")
	if c, ok := d.s.Last().(sequence.SetSheetAside); !ok || c.Sheet != 2 || !d.s.Snapshot().Sheets[1].Aside {
		t.Fatalf("asked %+v; named %v", d.s.Last(), d.s.Named)
	}
	d.later(3 * time.Second).menuAt(screen.OffersSetAside).press(" ").later(menuFor + time.Second).press(" ")
	if d.s.Answers != 1 || len(d.s.Did) != 1 {
		t.Errorf("%d answers, %d acts; expected the menu to be closed after ten seconds", d.s.Answers, len(d.s.Did))
	}
}

// The touch that opens the naming of sheets is no first of two: the next says the sheet again.
func TestNamingSpendsTheTouch(t *testing.T) {
	d := inDark(t, "stack").wait(9*time.Minute + 33*time.Second)
	d.menuAt(screen.OffersLate).press(" ").later(700 * time.Millisecond).press(" ")
	if d.s.Last() != nil || !slices.Equal(d.s.Named, []int{2, 2}) {
		t.Errorf("named %v, asked %T", d.s.Named, d.s.Last())
	}
}
