package run

// In the dark nothing is lit, one touch only answers and two act; light comes only when it
// was offered, and goes as soon as a dark step has begun.

import (
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/light"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/screen/runtest"
)

func TestOneTouchAnswersTwoAct(t *testing.T) {
	d := inDark(t, "stack").press(" ")
	if d.s.Answers != 1 || d.s.Last() != nil {
		t.Fatalf("one touch: %d answers, asked %T; expected an answer alone", d.s.Answers, d.s.Last())
	}
	d.later(time.Second).press(" ")
	if _, ok := d.s.Last().(sequence.MoveOn); !ok {
		t.Errorf("two touches asked %T; expected MoveOn", d.s.Last())
	}
	d.isDark()
}

// There is no triple press: the third of three quick touches is a first one again.
func TestThreeTouchesActOnce(t *testing.T) {
	d := inDark(t, "stack")
	for range 3 {
		d.press(" ").later(700 * time.Millisecond)
	}
	if d.s.Answers != 2 || len(d.s.Did) != 1 {
		t.Errorf("%d answers, %d acts; expected two and one", d.s.Answers, len(d.s.Did))
	}
}

// A key that is held down counts once; touches more than two seconds apart never act.
func TestHeldKeyAndSlowTouches(t *testing.T) {
	d := inDark(t, "stack")
	for range 200 {
		d.press(" ").later(30 * time.Millisecond)
	}
	for range 5 {
		d.later(2100 * time.Millisecond).press(" ")
	}
	if d.s.Answers != 6 || d.s.Last() != nil {
		t.Errorf("%d answers, asked %T; expected six answers", d.s.Answers, d.s.Last())
	}
}

func TestOfferedLightComesByTwoTouches(t *testing.T) {
	d := inDark(t, "stack")
	for d.later(time.Minute); !d.s.Snapshot().LightOffered; d.wait(10 * time.Second) {
		d.isDark()
		if d.s.Snapshot().Over != "" {
			t.Fatal("light was never offered")
		}
	}
	d.wait(time.Minute).isDark().press(" ").isDark().later(time.Second).press(" ")
	if d.m.Light() != light.Red {
		t.Fatalf("the light is %s; expected red", d.m.Light())
	}
	if r, ok := d.s.Last().(sequence.Report); !ok || r.Kind != sequence.LightChanged || r.Text != "on" {
		t.Errorf("asked %+v; expected that light is on", d.s.Last())
	}
	if d.wait(time.Second); d.m.Light() != light.Red {
		t.Errorf("a second later it is %s", d.m.Light())
	}
}

// A touch before light was offered moves on, and brings no light.
func TestNoLightBeforeItIsOffered(t *testing.T) {
	d := inDark(t, "twice").wait(time.Minute).twice(" ").isDark()
	if _, ok := d.s.Last().(sequence.MoveOn); !ok {
		t.Errorf("asked %T; expected MoveOn", d.s.Last())
	}
	inDark(t, "stack").twice("esc").isDark().twice("esc").isDark()
}

// The screen stays dark when the session is over, until two touches; also where light was
// never offered.
func TestDarkOutlivesTheSession(t *testing.T) {
	for _, name := range []string{"stack", "lit-first"} {
		d := begun(t, name).wait(2 * time.Minute).wait(3 * time.Hour).isDark()
		if d.s.Snapshot().Over == "" {
			t.Fatal("the session is not over")
		}
		if d.wait(time.Hour).isDark(); d.opened != nil {
			t.Fatalf("%s: opened %T in the dark", name, d.opened)
		}
		d.twice(" ").wait(time.Second)
		if _, ok := d.opened.(screen.OpenSummary); !ok {
			t.Errorf("%s: opened %T after two touches; expected the summary", name, d.opened)
		}
	}
}

// A later dark step darkens the screen again, whatever is being typed, and light that comes
// back is red.
func TestDarkAgain(t *testing.T) {
	d := inDark(t, "twice").wait(8 * time.Minute).isDark().twice(" ")
	if d.m.Light() != light.Red {
		t.Fatal("no light though it was offered")
	}
	d.wait(90 * time.Second) // into the rinse, in white light
	if d.m.Light() != light.White {
		t.Fatalf("%s in a white step", d.m.Light())
	}
	d.press("n").types("half a no")
	for range 90 {
		if d.wait(time.Second); d.m.look.Step == 3 {
			break
		}
	}
	d.isDark()
	if d.m.look.Step != 3 {
		t.Fatalf("in step %d; expected 3", d.m.look.Step)
	}
	d.wait(2*time.Minute + 10*time.Second).isDark()
	if !d.m.look.LightOffered {
		t.Fatal("light is not offered after the second dark step")
	}
	if d.twice(" "); d.m.Light() != light.Red {
		t.Errorf("the light is %s; expected red", d.m.Light())
	}
}

// A touch of the lit screen is no first of two, should the screen go dark between.
func TestATouchInTheLightIsNoFirstOfTwo(t *testing.T) {
	d := begun(t, "lit-first").wait(58 * time.Second)
	if d.m.dark {
		t.Fatal("dark in a lit step")
	}
	d.press(" ").wait(time.Second).isDark()
	n := len(d.s.Did)
	if d.press(" "); len(d.s.Did) != n || d.s.Answers != 1 {
		t.Errorf("%d acts more, %d answers; expected an answer alone", len(d.s.Did)-n, d.s.Answers)
	}
}

// A session with film that begins dark is dark from its first frame, before any tick.
func TestDarkFromTheFirstFrame(t *testing.T) {
	at(t, runtest.Recipe(t, "stack"), false).isDark()
	if d := at(t, runtest.Recipe(t, "ortho"), false); d.m.Light() != light.Safelight {
		t.Errorf("by safelight the light is %s", d.m.Light())
	}
}

// White is refused under a safelight and in the dark, comes in a white step and can be taken
// away there, and goes where the light turns red again.
func TestWhite(t *testing.T) {
	d := begun(t, "ortho").wait(30 * time.Second).press("w")
	if d.m.Light() != light.Safelight || !d.message.Fault {
		t.Fatalf("%s under a safelight, said %q", d.m.Light(), d.message.Text)
	}
	d = begun(t, "red-again").press("w")
	if d.m.Light() != light.Safelight {
		t.Fatalf("%s by w under a safelight", d.m.Light())
	}
	if d.wait(5 * time.Minute); d.m.Light() != light.White {
		t.Fatalf("%s in a white step", d.m.Light())
	}
	if d.press("w").wait(time.Second); d.m.Light() != light.Red {
		t.Fatalf("w gives %s; expected red, and that it stays", d.m.Light())
	}
	if d.press("w").wait(2 * time.Minute); d.m.Light() != light.Safelight {
		t.Errorf("%s under the safelight that came back", d.m.Light())
	}
}

// Light that was offered for a safelight step is no leave for white; after the last
// sheet's least time in the fixer it is, when w asks.
func TestWhiteAfterTheOffer(t *testing.T) {
	d := inDark(t, "stack").wait(14*time.Minute + 5*time.Second).twice(" ").wait(time.Second)
	if d.m.Light() != light.Red {
		t.Fatalf("light that comes back is %s", d.m.Light())
	}
	if d.press("w"); d.m.Light() != light.White {
		t.Error("no white though the last sheet is fixed and light was put on")
	}
	d = inDark(t, "to-safelight").wait(2*time.Minute + 5*time.Second)
	if !d.m.look.LightOffered {
		t.Fatal("no light offered in a safelight step")
	}
	if d.twice(" ").wait(time.Second).press("w"); d.m.Light() != light.Safelight {
		t.Errorf("%s in a safelight step", d.m.Light())
	}
}

// A rehearsal keeps its light, unless it is one in the dark.
func TestRehearsalIsLit(t *testing.T) {
	d := rehearsal(t, "twice")
	for range 60 {
		if d.wait(20 * time.Second); d.m.Light() != light.White {
			t.Fatalf("a rehearsal went %s", d.m.Light())
		}
	}
	dark := func(s *runtest.Session, _ *screen.Env) { s.Speed, s.InDark = 1, true }
	begun(t, "stack", dark).isDark().wait(time.Minute).isDark()
}

// Whatever comes, no cell is lit while the screen is dark, and it leaves the dark on the
// second touch of the big key alone, where light was offered or all is over.
func TestNothingLightsTheDark(t *testing.T) {
	keys := []string{" ", " ", "pgdown", "esc", "enter", "q", "up", "down", "left", "h", "u", "l", "t", "n", "s", "w", "m", "m", "5", "?", "tab", "f1", "f5"}
	rapid.Check(t, func(r *rapid.T) {
		d := inDark(t, rapid.SampledFrom([]string{"stack", "hangers", "test", "twice"}).Draw(r, "recipe"))
		for range rapid.IntRange(1, 60).Draw(r, "messages") {
			key, offered, answers := "", false, d.s.Answers
			if rapid.IntRange(0, 3).Draw(r, "kind") == 0 {
				d.wait(time.Duration(rapid.IntRange(0, 200).Draw(r, "seconds")) * time.Second)
			} else {
				key = rapid.SampledFrom(keys).Draw(r, "key")
				d.later(time.Duration(rapid.IntRange(0, 2500).Draw(r, "ms")) * time.Millisecond)
				l := d.s.Snapshot() // light may be offered between two touches: the second is what counts
				offered = l.LightOffered || l.Over != ""
				acts := len(d.s.Did)
				if d.took(d.m.Update(keyMsg(key))); len(d.s.Did) != acts || d.m.form.open() {
					r.Fatalf("%q by itself does something in the dark", key)
				}
				d.press(key)
			}
			if d.m.Light() == light.Dark {
				continue
			}
			if (key != " " && key != "pgdown") || !offered || d.s.Answers != answers {
				r.Fatalf("the screen left the dark by %q", key)
			}
			return
		}
	})
}

// A tick that is not awaited any more does nothing; the one that is asks for the next.
func TestStaleTicksAreDropped(t *testing.T) {
	d := rehearsal(t, "hangers").later(time.Minute)
	before := d.m.look.Now
	d.took(d.m.Update(tickMsg{d.m.generation - 1}))
	if d.m.look.Now != before || d.cmd != nil {
		t.Error("a stale tick was followed")
	}
	if d.wait(0); d.m.look.Now == before || d.cmd == nil {
		t.Error("the tick that was awaited was dropped")
	}
	if d = inDark(t, "stack"); d.cmd == nil {
		t.Error("no tick follows in the dark")
	}
}
