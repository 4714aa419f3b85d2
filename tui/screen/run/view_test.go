package run

// The picture: that it fits every window, says what the hands do and which limit there is, and how
// it looks at the moments that matter.

import (
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/sequence/recipetest"
	"example.org/wetside/tui/light/lighttest"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/screen/drive"
	"example.org/wetside/tui/screen/runtest"
	"example.org/wetside/tui/screen/strips"
	"example.org/wetside/tui/widget"
)

func golden(t *testing.T, name string, d *desk, w, h int) {
	t.Helper()
	a := d.m.About()
	var keys []string
	for _, k := range a.Foot {
		keys = append(keys, k.Help().Key+" "+k.Help().Desc)
	}
	got := a.Title + " | " + a.Right + "\n" + d.body(w, h) + "\n" + strings.Join(keys, "   ") + "\n"
	lighttest.Every(t, d.m.View(w, h), w, h)
	drive.Kept(t, name, got)
}

func TestPictures(t *testing.T) {
	real := func(s *runtest.Session, _ *screen.Env) { s.Speed = 1 }
	stack := func(at time.Duration) *desk { return rehearsal(t, "stack").wait(at) }
	golden(t, "countdown", at(t, runtest.Recipe(t, "stack"), false, real).wait(3*time.Second), 76, 18)
	golden(t, "load", stack(22*time.Second), 76, 18)
	golden(t, "shuffle", stack(4*time.Minute+32*time.Second), 76, 18)
	golden(t, "transfer", stack(9*time.Minute+33*time.Second), 76, 18)
	golden(t, "agitate", rehearsal(t, "hangers").wait(3*time.Minute), 76, 18)
	golden(t, "safelight", begun(t, "ortho").wait(30*time.Second), 76, 18)
	golden(t, "offered", stack(14*time.Minute+5*time.Second), 76, 18)
	golden(t, "held", stack(9*time.Minute+15*time.Second).press("h").wait(40*time.Second), 76, 18)
	golden(t, "late", stack(9*time.Minute+33*time.Second).press("l"), 76, 18)
	golden(t, "temperature", stack(4*time.Minute).press("t").types("31").press("enter"), 76, 18)
	golden(t, "end", stack(4*time.Minute).press("s"), 76, 18)
	golden(t, "narrow", stack(4*time.Minute+32*time.Second), 36, 8)
	wide := stack(3 * time.Minute).press("t").types("20.4").press("enter").wait(time.Minute).press("x").press("enter").wait(15 * time.Second)
	golden(t, "wide", wide, 116, 34)
	pulled := rehearsal(t, "test").wait(7 * time.Minute)
	golden(t, "filmtest", pulled, 116, 34)
}

func fits(t interface{ Fatalf(string, ...any) }, view string, w, h int) {
	rows := strings.Split(view, "\n")
	if len(rows) > h {
		t.Fatalf("%d rows of %d:\n%s", len(rows), h, ansi.Strip(view))
	}
	for _, row := range rows {
		if n := ansi.StringWidth(row); n > w {
			t.Fatalf("%d columns of %d:\n%s", n, w, ansi.Strip(view))
		}
	}
}

func TestEveryWindow(t *testing.T) {
	moments := []*desk{
		rehearsal(t, "stack").wait(4 * time.Minute),
		rehearsal(t, "stack").wait(9*time.Minute + 20*time.Second).press("h").wait(time.Hour),
		rehearsal(t, "stack").wait(4*time.Minute).press("x", "enter").wait(time.Second).press("t").types("31").press("enter"),
		rehearsal(t, "test").wait(6 * time.Minute).press("s"),
		rehearsal(t, "tank").wait(time.Minute),
	}
	rapid.Check(t, func(r *rapid.T) {
		d := rapid.SampledFrom(moments).Draw(r, "moment")
		w, h := rapid.IntRange(1, 220).Draw(r, "w"), rapid.IntRange(1, 70).Draw(r, "h")
		view := d.m.View(w, h)
		fits(r, view, w, h)
		if d.m.form.open() && w >= 36 && h >= 8 && !strings.Contains(ansi.Strip(view), d.m.form.label+d.m.form.prompt.Label) {
			r.Fatalf("the form is not shown at %dx%d:\n%s", w, h, ansi.Strip(view))
		}
	})
}

// The word on the screen is what the hands do by the session's own account, the limit the
// moment of the alarm, and elapsed and left add up to the transfer that both are about.
func TestTheScreenSaysWhatTheSessionKnows(t *testing.T) {
	seen := map[sequence.Doing]bool{}
	rapid.Check(t, func(r *rapid.T) {
		rec := recipetest.AnyRecipe(r)
		if _, err := planning.Resolve(rec, sequence.Conditions{}); err != nil {
			r.Skip(err)
		}
		d := at(t, rec, false, func(s *runtest.Session, _ *screen.Env) { s.Speed = 1 })
		for range rapid.IntRange(1, 6).Draw(r, "moments") {
			d.wait(time.Duration(rapid.IntRange(1, 300_000).Draw(r, "ms")) * time.Millisecond)
			if rapid.IntRange(0, 5).Draw(r, "press") == 0 {
				d.press(rapid.SampledFrom([]string{" ", "h", "u"}).Draw(r, "key")).wait(0)
			}
			if d.opened != nil {
				return
			}
			now := d.now.Sub(d.s.Start) - d.s.Lead
			hand, ok := d.s.State.Hands(now)
			word := "READY"
			if ok {
				word, seen[hand.Do] = say.Doing(d.s.Plan(), hand), true
			}
			if first := strings.Fields(rowOf(d.body(50, 12), 3))[0]; word == "" || first != word {
				r.Fatalf("%q on the screen at %v; the hands %q:\n%s", first, now, word, d.body(50, 12))
			}
			limited(r, d)
			l := d.s.State.Snapshot(now)
			if n := l.Next; n.At != sequence.Never && l.Overdue == 0 {
				left, shown := leftOf(l, l.Now+l.Left), strips.ShownSecond(now)
				if left+shown != n.At.Round(time.Second) || !strings.Contains(clock(l), sequence.FormatElapsed(left)) {
					r.Fatalf("%v shown, %v left; expected %v together", shown, left, n.At)
				}
			}
		}
	})
	if len(seen) < 5 {
		t.Errorf("only %v were met", seen)
	}
}

// A high window says where each sheet is and how wet, what is heard next, the baths to come and what the
// record holds; none of it pushes off what the small one says.
func TestAHighWindowSaysMore(t *testing.T) {
	d := rehearsal(t, "stack").wait(3 * time.Minute)
	facts := regexp.MustCompile(`(?m)^(next|wet|developed) .*[^ ]`)
	for _, size := range [][2]int{{196, 54}, {116, 54}, {76, 54}} {
		body := d.body(size[0], size[1])
		// the first of six went in at 0:00, the others ten seconds apart, and leave the presoak at 1:50 and on
		said := []string{"stack, from the bottom", "next to be heard", "the record so far", "2:40  Transfer sheet 6 out of presoak"}
		if size[0] > 76 {
			said = append(said, "then  ", "1:50  Transfer sheet 1 out of presoak")
		}
		for _, want := range said {
			if !strings.Contains(body, want) {
				t.Errorf("%v: no %q in\n%s", size, want, body)
			}
		}
		if size[0] == 196 && !regexp.MustCompile(`sheet 6 +develop +10:10 +2:10 `).MatchString(body) {
			t.Errorf("sheet 6, in at 0:50, is not 2:10 wet in\n%s", body)
		}
		if n := len(facts.FindAllString(body, -1)); n != 3 {
			t.Errorf("%v: %d of the three lines in\n%s", size, n, body)
		}
	}
}

func rowOf(body string, n int) string { return strings.Split(body, "\n")[n] }

// limited checks the limit on the strip against the snapshot's.
func limited(t *rapid.T, d *desk) {
	at := d.m.look.Wet.LimitAt
	body := d.body(120, 18)
	l := d.m.look
	switch {
	case at != nil && l.Overdue > 0 && !strings.Contains(rowOf(body, 4), "limit"):
		if left := "the wet limit is at " + sequence.FormatElapsed(max(time.Second, *at)); !strings.Contains(d.body(160, 40), left) {
			t.Fatalf("the limit of a bath that nobody ends is %v:\n%s", *at, d.body(160, 40))
		}
	case at == nil && strings.Contains(body, "limit 0") || at == nil && strings.Contains(rowOf(body, 4), "limit"):
		t.Fatalf("a limit is shown where none is known:\n%s", body)
	case at != nil && !strings.Contains(rowOf(body, 4), "limit "+sequence.FormatElapsed(max(time.Second, *at))):
		t.Fatalf("the limit is %v:\n%s", *at, body)
	}
}

// The stack is followed: with each shuffle the bottom sheet goes to the top, and one that is set
// aside lies there no more.
func TestStackOrder(t *testing.T) {
	d := rehearsal(t, "stack").wait(2*time.Minute + 45*time.Second) // the last went into the developer at 2:40
	before := (film{d.m.moment}).stack()
	shuffles := 0
	for _, e := range d.m.events {
		if e.Kind == sequence.CueGiven && e.Cue == sequence.CueShuffle && e.Step == "develop" {
			shuffles++
		}
	}
	for range 60 {
		d.wait(time.Second)
		n := 0
		for _, e := range d.m.events {
			if e.Kind == sequence.CueGiven && e.Cue == sequence.CueShuffle && e.Step == "develop" {
				n++
			}
		}
		if n > shuffles {
			break
		}
	}
	after := (film{d.m.moment}).stack()
	if len(before) != 6 || after[5] != before[0] || after[0] != before[1] {
		t.Errorf("%v, after a shuffle %v", before, after)
	}
	d.press("x").chooses(t, "sheet 4").wait(time.Second)
	for _, n := range (film{d.m.moment}).stack() {
		if n == 4 {
			t.Errorf("set aside, and still in the stack: %v", (film{d.m.moment}).stack())
		}
	}
	// Whole passes: when the first sheet goes on, it lies at the bottom.
	d = rehearsal(t, "stack").wait(9*time.Minute + 19*time.Second)
	if got := (film{d.m.moment}).stack(); got[0] != 1 {
		t.Errorf("before sheet 1 leaves the stack is %v", got)
	}
}

// A late sheet is named as late until it is transferred, or that is undone.
func TestLateIsShown(t *testing.T) {
	d := rehearsal(t, "stack").wait(9*time.Minute+33*time.Second).press("l").chooses(t, "sheet 2").wait(time.Second)
	if body := d.body(116, 34); !strings.Contains(body, "develop, late") {
		t.Fatalf("late is not said:\n%s", body)
	}
	late := d.press("u").wait(time.Second).body(116, 34)
	if strings.Contains(late, ", late") {
		t.Errorf("late though undone:\n%s", late)
	}
	d.press("l").chooses(t, "sheet 2").wait(5 * time.Second).press(" ").wait(time.Second)
	if body := d.body(116, 34); strings.Contains(body, ", late") {
		t.Errorf("late though transferred:\n%s", body)
	}
}

var _ screen.Touched = Model{}
var _ screen.Lit = Model{}
var _ screen.Started = Model{}

// The large word keeps the sheet's number in an ordinary window, in large letters or, where
// the clock leaves no room for them, in the sentence.
func TestTransferKeepsItsSheet(t *testing.T) {
	number := func(n now, w int) bool {
		plain := n
		plain.more = ""
		with, without := ansi.Strip(strings.Join(sideBySide(n, w), "\n")), ansi.Strip(strings.Join(sideBySide(plain, w), "\n"))
		return with != without
	}
	for _, clock := range []string{"0:07", "12:40", "1:02:40"} {
		n := now{word: "TRANSFER", more: " 3", plain: "Lift and let drip.", clock: clock, counted: []string{"until stop bath"}}
		if !number(n, 76) {
			t.Errorf("no number beside %s:\n%s", clock, ansi.Strip(strings.Join(sideBySide(n, 76), "\n")))
		}
		for w := narrow; w < wide; w++ {
			fits(t, strings.Join(sideBySide(n, w), "\n"), w, large+1)
		}
	}
}

// Beside a long title the head drops the sound first, then the time; never all at once.
func TestHeadDropsTheSoundFirst(t *testing.T) {
	d := rehearsal(t, "hangers").wait(3 * time.Minute)
	if r := d.m.right(); r != "bath 20.0 °C   at 3:00   sound: loudspeaker" {
		t.Errorf("%q", r)
	}
	d.s.SoundState = "sound: exec, 40 ms through the second loudspeaker of the house"
	if r := d.wait(0).m.right(); r != "bath 20.0 °C   at 3:00" {
		t.Errorf("%q", r)
	}
	d.s.SoundState = "NO SOUND: pulse: no sound server: /run/user/1000/pulse/native"
	if r := d.wait(0).m.right(); r != "bath 20.0 °C   at 3:00   no sound" {
		t.Errorf("%q", r)
	}
}

// In an ordinary window the foot says how a session ends, also while something can be undone.
func TestFootKeepsTheEnd(t *testing.T) {
	d := rehearsal(t, "hangers").wait(3 * time.Minute)
	for range 2 {
		if foot := ansi.Strip(widget.Keys(76, d.m.About().Foot...)); !strings.Contains(foot, "s end session") {
			t.Errorf("%q", foot)
		}
		d.press("h").wait(time.Second)
	}
}

// That the laptop may fall asleep is never cut off, however much else there is to say.
func TestSleeplessIsWhole(t *testing.T) {
	d := rehearsal(t, "stack").wait(4 * time.Minute)
	d.s.SleepState = "sleep NOT blocked: set it to never, leave the lid open (no system bus: dial unix /run/dbus/system_bus_socket: connect: no such file or directory)"
	d.wait(time.Second)
	if body := d.body(76, 18); !strings.Contains(body, "Sleep is not blocked: set it to never, leave the lid open\n") {
		t.Error(body)
	}
}

// A bath that keeps its temperature and was not read has no curve to show.
func TestSteadyBathHasNoCurve(t *testing.T) {
	d := rehearsal(t, "stack").wait(3 * time.Minute)
	if body := d.body(116, 40); strings.Contains(body, "developer's temperature") {
		t.Error(body)
	}
	d.press("t").types("20").press("enter").wait(time.Second)
	if body := d.body(116, 40); !strings.Contains(body, "developer's temperature") {
		t.Error(body)
	}
}

// In an ordinary window what the clock counts to is whole, also where sheets have names.
func TestWhatIsCountedToIsWhole(t *testing.T) {
	r := runtest.Recipe(t, "test")
	r.Load.Names = []string{"no clip", "top left", "bottom right", "both corners"}[:r.Load.Sheets]
	d := at(t, r, false, func(s *runtest.Session, _ *screen.Env) { s.Speed = 1 }).wait(countdown)
	for range 60 {
		d.wait(15 * time.Second)
		for row := range strings.SplitSeq(d.body(76, 18), "\n") {
			if strings.Contains(row, "until ") && strings.Contains(row, "…") {
				t.Fatal(d.body(76, 18))
			}
		}
	}
}
