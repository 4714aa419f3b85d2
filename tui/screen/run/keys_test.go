package run

// The keys in the light, and the forms.

import (
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/screen/runtest"
)

func (d *desk) body(w, h int) string { return ansi.Strip(d.m.View(w, h)) }

func (d *desk) shows(t *testing.T, texts ...string) *desk {
	t.Helper()
	body := d.body(76, 18)
	for _, text := range texts {
		if !strings.Contains(body, text) {
			t.Errorf("no %q on:\n%s", text, body)
		}
	}
	return d
}

func (d *desk) hides(t *testing.T, text string) *desk {
	t.Helper()
	if body := d.body(76, 18); strings.Contains(body, text) {
		t.Errorf("%q on:\n%s", text, body)
	}
	return d
}

// chooses goes right until an answer is shown, and takes it.
func (d *desk) chooses(t *testing.T, text string) *desk {
	t.Helper()
	for range 12 {
		if strings.Contains(d.body(76, 18), "◂ "+text+" ▸") {
			return d.press("enter")
		}
		d.press("right")
	}
	t.Fatalf("%q is never offered:\n%s", text, d.body(76, 18))
	return d
}

func asked[C sequence.Command](t *testing.T, d *desk) C {
	t.Helper()
	c, ok := d.s.Last().(C)
	if !ok {
		t.Fatalf("asked %T; expected %T", d.s.Last(), c)
	}
	return c
}

func TestRunningKeys(t *testing.T) {
	d := rehearsal(t, "stack").wait(4 * time.Minute)
	d.press("h")
	asked[sequence.Hold](t, d)
	if d.wait(time.Second).shows(t, "Held"); d.m.About().Foot[1].Help().Desc != "go on" && d.m.About().Foot[2].Help().Desc != "go on" {
		t.Error("the foot does not say how it goes on")
	}
	d.press("h")
	asked[sequence.EndHold](t, d)
	d.press("t").types("22.5@3m").press("enter")
	if r := asked[sequence.TakeReading](t, d); r.T != 22.5 || r.Ago != 3*time.Minute || r.Source != sequence.ByHand {
		t.Errorf("a temperature asked %+v", r)
	}
	d.press("n").types("hush é").press("enter")
	if c := asked[sequence.AddNote](t, d); c.Text != "hush é" {
		t.Errorf("a note asked %+v", c)
	}
	if d.message.Text != "Noted." {
		t.Errorf("said %q", d.message.Text)
	}
	d.s.Unsaved = "the disk is full"
	if d.press("n").types("tide").press("enter"); !strings.Contains(d.message.Text, "not on disk yet") {
		t.Errorf("with a full disk said %q", d.message.Text)
	}
	asked[sequence.AddNote](t, d)
	d.s.Unsaved = ""
	d.press("l").chooses(t, "sheet 2")
	if c := asked[sequence.MarkLate](t, d); c.Sheet != 2 || !strings.Contains(d.message.Text, "space") {
		t.Errorf("asked %+v, said %q", c, d.message.Text)
	}
	d.press("u")
	asked[sequence.Undo](t, d)
	d.press("x").chooses(t, "sheet 3")
	if c := asked[sequence.SetSheetAside](t, d); c.Sheet != 3 {
		t.Errorf("asked %+v", c)
	}
	d.wait(time.Minute).shows(t, "Sheet 3 set aside in water, wet 4:41")
	if d.press("m"); d.s.Answers != 1 {
		t.Error("the menu's key does not speak in the light")
	}
}

// The session ends after a question that the big key does not answer, nor enter by itself.
func TestEndIsAsked(t *testing.T) {
	d := rehearsal(t, "stack").wait(4*time.Minute).press("s", " ", " ", "enter")
	if d.s.Last() != nil || !strings.Contains(d.message.Text, "Not ended") {
		t.Fatalf("asked %T, said %q", d.s.Last(), d.message.Text)
	}
	if d.press("s", "esc"); d.s.Last() != nil || d.m.form.open() {
		t.Fatalf("esc asked %T", d.s.Last())
	}
	d.press("s").chooses(t, "yes, end it")
	asked[sequence.EndSession](t, d)
	if d.wait(time.Second); d.opened == nil {
		t.Error("no summary when the session was ended in the light")
	}
}

// A key that is held moves on once; while a form is open the big key is typed.
func TestBigKeyInTheLightMovesOnOnce(t *testing.T) {
	d := rehearsal(t, "hangers").wait(time.Minute + 10*time.Second)
	for range 10 {
		d.press(" ").later(30 * time.Millisecond)
	}
	if asked[sequence.MoveOn](t, d); len(d.s.Did) != 1 {
		t.Errorf("%d acts; expected one", len(d.s.Did))
	}
	d.later(3 * time.Second).press("n").types("a b").press("enter")
	if c := asked[sequence.AddNote](t, d); c.Text != "a b" {
		t.Errorf("a note asked %q", c.Text)
	}
}

// What was done can be undone for ten seconds, and the foot says so as long.
func TestUndo(t *testing.T) {
	d := rehearsal(t, "hangers").wait(2 * time.Minute).press(" ").wait(9 * time.Second)
	if d.m.About().Foot[1].Help().Key != "u" {
		t.Error("the foot does not name undo")
	}
	if d.wait(2 * time.Second); d.m.About().Foot[1].Help().Key == "u" {
		t.Error("the foot names undo after ten seconds")
	}
	d.press("u")
	if d.message.Fault || !strings.Contains(d.message.Text, "last ten seconds") {
		t.Errorf("said %q", d.message.Text)
	}
	d.press(" ").wait(5 * time.Second)
	step := d.m.look.Step
	if d.press("u").wait(time.Second); d.m.look.Step != step-1 {
		t.Errorf("in step %d after undo; expected %d", d.m.look.Step, step-1)
	}
}

// An unlikely reading is asked for again, beside its field, and enter once more believes it;
// another value is another reading. What is no temperature changes nothing.
func TestOddReading(t *testing.T) {
	d := rehearsal(t, "hangers").wait(2 * time.Minute).press("t").types("31").press("enter")
	if d.s.Last() != nil {
		t.Fatalf("asked %+v", d.s.Last())
	}
	d.shows(t, "Is that right? Enter again takes it.")
	d.press("backspace").types("2").press("enter")
	if d.s.Last() != nil {
		t.Fatalf("32 was taken for a confirmed 31: %+v", d.s.Last())
	}
	d.press("enter")
	if r := asked[sequence.TakeReading](t, d); r.T != 32 || !r.Confirmed {
		t.Errorf("asked %+v", r)
	}
	d = rehearsal(t, "hangers").wait(2*time.Minute).press("t").types("warm").press("enter").shows(t, "no temperature")
	if d.s.Last() != nil || !d.m.form.open() {
		t.Errorf("asked %+v", d.s.Last())
	}
	d.press("esc").hides(t, "no temperature")
}

// A reading shows the old end and the new one; undone, it shows neither.
func TestReadingShowsOldAndNewEnd(t *testing.T) {
	d := rehearsal(t, "hangers").wait(4 * time.Minute)
	before := sequence.FormatElapsed(d.s.Snapshot().Next.At)
	d.press("t").types("24").press("enter").wait(time.Second)
	after := sequence.FormatElapsed(d.s.Snapshot().Next.At)
	if before == after {
		t.Fatalf("24 C moved nothing: %s", before)
	}
	d.shows(t, "at "+after+" instead of "+before)
	d.press("u").wait(time.Second).hides(t, "instead of")
}

// What is wrong stands on the screen, as long as it is so.
func TestWhatIsWrongIsSaid(t *testing.T) {
	d := rehearsal(t, "stack").wait(time.Minute)
	d.s.Unsaved = "journal: kept in memory alone: no space left on device"
	d.wait(time.Second).shows(t, "kept in memory alone")
	if body := d.body(36, 8); !strings.Contains(body, "memory alone") {
		t.Errorf("not on the smallest screen:\n%s", body)
	}
	d.s.Unsaved = ""
	d.wait(time.Second).hides(t, "memory alone")
	d.s.Give(sequence.Report{Kind: sequence.SoundLost, Text: "the loudspeaker is gone"})
	d.wait(time.Second).shows(t, "No sound: the loudspeaker is gone")
	d.s.Give(sequence.Report{Kind: sequence.SoundBack})
	d.wait(time.Second).hides(t, "No sound")
	d.s.SoundState = "NO SOUND: nothing to play on"
	d.wait(time.Second).shows(t, "No sound: nothing to play on.").hides(t, "NO SOUND")
}

// A transfer that fell into a gap is asked for, until the person goes on.
func TestAGapAsksToGoOn(t *testing.T) {
	d := rehearsal(t, "stack").wait(time.Minute)
	d.later(10 * time.Minute)
	d.s.Give(sequence.Gap{From: time.Minute, To: 11 * time.Minute})
	d.wait(0).shows(t, "inside the gap", "h to go on")
	d.press("h").wait(time.Second).hides(t, "gap").hides(t, "Nothing ran")
}

// A rehearsal teaches the gesture of the moment; a session does not.
func TestTheGestureIsTaught(t *testing.T) {
	real := func(s *runtest.Session, _ *screen.Env) { s.Speed = 1 }
	d := at(t, runtest.Recipe(t, "stack"), false, real)
	d.shows(t, "two presses of space in the dark begin")
	d.wait(countdown+3*time.Second).shows(t, "one press of space speaks")
	d.wait(4*time.Minute).shows(t, "two presses of space move on")
	d.press("h").wait(time.Second).shows(t, "u undoes for ten seconds")
	d.press("h").wait(11 * time.Second)
	for range 1200 {
		if !d.m.look.InRow {
			d.wait(time.Second)
		}
	}
	d.shows(t, "two presses pause the row")
	for range 1200 {
		if !d.m.look.LightOffered {
			d.wait(time.Second)
		}
	}
	d.shows(t, "two presses of space bring it back", "Safe to turn on the room light")
	if text := (facts{begun(t, "ortho").m.moment, "space", "m"}).teaching(); text != "" {
		t.Errorf("taught in a session: %q", text)
	}
}
