package sequence

// What a session does when something comes in between: a gap, a hold, a late
// hand, a press too early, a reading. Every instant is worked out by hand from the
// contract and the design's core rule.

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// hung is four sheets in hangers: presoak to 2:00, developer to 10:30, stop to
// 11:00, fix to 16:00.
func hung() Recipe {
	return recipeOf(Hangers, 4,
		bathFor(Presoak, 2*mins),
		bathFor(Develop, 8*mins+30*sec).at(20, 2.2),
		bathFor(StopBath, 30*sec).steadily(),
		bathFor(Fix, 5*mins).steadily().offering(2*mins))
}

// three is three sheets in a tray: in at 0, 15, 30; presoak to 150, developer to
// 630, 640, 650; stop to 680; fix.
func three() Recipe {
	return recipeOf(Tray, 3,
		bathFor(Presoak, 2*mins).shuffled(),
		bathFor(Develop, 8*mins).shuffled(),
		bathFor(StopBath, 30*sec).shuffled(),
		bathFor(Fix, 5*mins).shuffled().offering(2*mins))
}

// moved lists when each sheet (0 for all) entered a step, or left the last ("").
func moved(events []Event, step string) []float64 {
	var list []float64
	for _, e := range events {
		if e.Kind == Moved && e.Step == step {
			list = append(list, e.At.Seconds())
		}
	}
	return list
}

func expectMoved(t *testing.T, n *session, step string, want ...float64) {
	t.Helper()
	got := moved(n.events, step)
	ok := len(got) == len(want)
	for i := 0; ok && i < len(want); i++ {
		ok = math.Abs(got[i]-want[i]) < 1e-6
	}
	if !ok {
		t.Errorf("into %q at %v; expected %v\n%s", step, got, want, kinds(n.events))
	}
}

func TestGap(t *testing.T) {
	for _, c := range []struct {
		name     string
		from, to Elapsed
		held     bool
		moved    []float64 // into the developer
	}{
		{"no edge inside", 30 * sec, 119 * sec, false, nil},
		{"an edge inside", 30 * sec, 130 * sec, true, nil},
		{"an edge at its start fell due", 120 * sec, 300 * sec, false, []float64{120}},
		{"an edge at its end", 30 * sec, 120 * sec, true, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			n := begun(t, planOf(t, hung(), Conditions{}), 0)
			n.do(Gap{From: c.from, To: c.to}, c.to)
			if l := n.s.Look(c.to); l.Held != c.held {
				t.Errorf("held %v; expected %v", l.Held, c.held)
			}
			if got := moved(n.events, "develop"); !slices.Equal(got, c.moved) {
				t.Errorf("into the developer at %v; expected %v", got, c.moved)
			}
			if g := only(n.events, GapFound); len(g) != 1 || *g[0].Since != c.from || g[0].At != c.to {
				t.Errorf("gap told as %v", g)
			}
		})
	}
}

// After a gap with an edge inside, moving on waits for the person; the overrun
// counts from when the move was due, wet time and dose from when they began.
func TestGapHoldsUntilGo(t *testing.T) {
	n := begun(t, planOf(t, hung(), Conditions{}), 0)
	n.do(Gap{From: 600 * sec, To: 700 * sec}, 700*sec) // the developer was over at 630
	l := n.s.Look(705 * sec)
	if !l.Held || l.Overdue != 75*sec || l.Left != -75*sec {
		t.Errorf("held %v, overdue %v, left %v; expected held, 75 s, -75 s", l.Held, l.Overdue, l.Left)
	}
	if l.Sheets[0].Wet != 705*sec || l.Develop.Done != 585*sec {
		t.Errorf("wet %v, developed %v; expected 705 s, 585 s", l.Sheets[0].Wet, l.Develop.Done)
	}
	if o := only(n.events, Overran); len(o) != 1 || o[0].Since == nil || *o[0].Since != 630*sec {
		t.Errorf("overrun told as %s; expected since 630 s", kinds(o))
	}
	n.do(Wake{}, 750*sec)
	expectMoved(t, n, "stop")
	n.do(Go{}, 752*sec)
	expectMoved(t, n, "stop", 752)
	n.do(Wake{}, 783*sec)
	expectMoved(t, n, "fix", 782)
}

// A hold stops moving on and nothing else.
func TestHoldSilencesOnlyMoves(t *testing.T) {
	r := hung()
	r.Steps[1] = r.Steps[1].agitated(periodic(60*sec, 10*sec, 60*sec)).drained(8 * sec)
	n := begun(t, planOf(t, r, Conditions{}), 0)
	n.do(Hold{}, 550*sec)
	at := len(n.events)
	n.do(Wake{}, 665*sec)
	var cues []Cue
	for _, e := range only(n.events[at:], CueGiven) {
		cues = append(cues, Cue{At: e.At, Kind: e.Cue, Step: e.Step, Sheet: e.Sheet})
	}
	// Developer from 120 to 630: agitated at 600 and on after the time is up.
	expectInstants(t, "agitate", of(cues, CueAgitate, "develop"), 600, 660)
	expectInstants(t, "drain", of(cues, CueDrain, "develop"), 622)
	expectInstants(t, "overdue", of(cues, CueOverdue, ""), 640, 650, 660)
	expectInstants(t, "move", of(cues, CueMove, ""))
	if o := only(n.events, Overran); len(o) != 1 || o[0].At != 630*sec || o[0].Step != "develop" {
		t.Errorf("overrun told as %s; expected once, at 630 s", kinds(o))
	}
	n.do(Go{}, 665*sec)
	expectMoved(t, n, "stop", 665)
	if h := only(n.events, WentOn); len(h) != 1 {
		t.Errorf("went on %d times; expected once", len(h))
	}
}

// Held in the middle of a row: what is late goes at once, the rest of the row
// after it, never nearer than a hand can serve.
func TestHoldInARowOfMoves(t *testing.T) {
	n := begun(t, planOf(t, three(), Conditions{}), 0)
	n.do(Wake{}, 151*sec)
	expectMoved(t, n, "develop", 150)
	n.do(Hold{}, 152*sec)
	n.do(Wake{}, 200*sec)
	expectMoved(t, n, "develop", 150)
	n.do(Go{}, 200*sec)
	n.do(Wake{}, 300*sec)
	expectMoved(t, n, "develop", 150, 200, 210)
	// Each still gets its own 480 s.
	n.do(Wake{}, 700*sec)
	expectMoved(t, n, "stop", 630, 680, 690)
}

// A step that waits: time up, said every ten seconds, moved by a press.
func TestAdvanceWaits(t *testing.T) {
	r := three()
	r.Steps[0].Wait = true
	n := begun(t, planOf(t, r, Conditions{}), 0)
	n.do(Wake{}, 185*sec)
	expectMoved(t, n, "develop")
	if l := n.s.Look(185 * sec); !l.Waiting || l.Overdue != 35*sec || l.Held {
		t.Errorf("waiting %v, overdue %v, held %v; expected waiting, 35 s, not held", l.Waiting, l.Overdue, l.Held)
	}
	if why := n.s.Refuse(Go{}, 185*sec); why == "" {
		t.Error("go is not refused; nothing is held")
	}
	n.do(Go{}, 185*sec)
	n.do(MoveOn{}, 190*sec)
	n.do(Wake{}, 230*sec)
	expectMoved(t, n, "develop", 190, 200, 210)
}

// Next, early, in a stack's developer: every sheet gets the dose that the first had.
func TestNextEarlyInStackDeveloper(t *testing.T) {
	r := three()
	r.Steps[1] = r.Steps[1].at(20, 2.2)
	warm := Conditions{Temp: degrees(22), Towards: degrees(18), Drift: 30 * mins}
	n := begun(t, planOf(t, r, warm), 0)
	n.do(MoveOn{}, 400*sec) // sheet 1 has been in since 150
	n.do(Wake{}, 460*sec)
	out := moved(n.events, "stop")
	if len(out) != 3 || out[0] != 400 {
		t.Fatalf("out of the developer at %v; expected three, the first at 400 s", out)
	}
	// The integral of 2.2^((T-20)/10) with T = 18 + 4 exp(-t/1800), by Simpson's rule.
	dose := func(from, to float64) float64 {
		const parts = 2000
		h, sum := (to-from)/parts, 0.0
		for i := 0; i <= parts; i++ {
			w := 2.0
			switch {
			case i == 0 || i == parts:
				w = 1
			case i%2 == 1:
				w = 4
			}
			sum += w * math.Pow(2.2, (-2+4*math.Exp(-(from+float64(i)*h)/1800))/10)
		}
		return sum * h / 3
	}
	want := dose(150, 400)
	for k, in := range []float64{150, 160, 170} {
		if got := dose(in, out[k]); math.Abs(got-want) > 1e-3 {
			t.Errorf("sheet %d: dose %.4f; expected %.4f as sheet 1", k+1, got, want)
		}
	}
}

// Next, early, in any other bath of a stack: moving on begins, move_every apart.
func TestNextEarlyInStack(t *testing.T) {
	n := begun(t, planOf(t, three(), Conditions{}), 0)
	n.do(MoveOn{}, 100*sec)
	n.do(Wake{}, 200*sec)
	expectMoved(t, n, "develop", 100, 110, 120)
	n.do(Wake{}, 605*sec)
	expectMoved(t, n, "stop", 580, 590, 600)
}

// Undo takes back what was done, within ten seconds and not after.
func TestUndo(t *testing.T) {
	for _, c := range []struct {
		after Elapsed
		works bool
	}{{0, true}, {10 * sec, true}, {10*sec + 1, false}} {
		n := begun(t, planOf(t, hung(), Conditions{}), 0)
		n.do(MoveOn{}, 60*sec)
		if why := n.s.Refuse(Undo{}, 60*sec+c.after); (why == "") != c.works {
			t.Errorf("undo after %v: %q; expected to work: %v", c.after, why, c.works)
		}
		n.do(Undo{}, 60*sec+c.after)
		n.do(Wake{}, 200*sec)
		want := []float64{60}
		if c.works {
			want = []float64{60, 120} // back in the presoak until its time is up
		}
		expectMoved(t, n, "develop", want...)
		if why := n.s.Refuse(Undo{}, 200*sec); why == "" {
			t.Error("undo works a second time")
		}
	}
}

// What moved by itself since is not taken back with it.
func TestUndoLeavesWhatMovedByItself(t *testing.T) {
	n := begun(t, planOf(t, three(), Conditions{}), 0)
	n.do(Wake{}, 140*sec)
	n.do(Read{T: 20, Source: ByHand}, 145*sec)
	n.do(Wake{}, 151*sec)
	n.do(Undo{}, 153*sec) // the reading is taken back, sheet 1 stays in the developer
	n.do(Wake{}, 640*sec)
	expectMoved(t, n, "develop", 150, 160, 170)
	expectMoved(t, n, "stop", 630, 640)

	n = begun(t, planOf(t, three(), Conditions{}), 0)
	n.do(Wake{}, 155*sec)
	n.do(Hold{}, 155*sec)
	n.do(Wake{}, 162*sec) // sheet 2 was due at 160
	n.do(Undo{}, 163*sec)
	n.do(Wake{}, 200*sec)
	expectMoved(t, n, "develop", 150, 163, 173)

	r := three()
	r.Load.MoveEvery = 4 * sec
	n = begun(t, planOf(t, r, Conditions{}), 0)
	n.do(MoveOn{}, 100*sec)
	n.do(Wake{}, 106*sec) // sheet 2 followed at 104
	n.do(Undo{}, 107*sec)
	if got := []int{n.s.Look(107 * sec).Sheets[0].Step, n.s.Look(107 * sec).Sheets[1].Step}; !slices.Equal(got, []int{0, 1}) {
		t.Errorf("sheets 1 and 2 are in %v; expected the press undone, sheet 2 where it went", got)
	}
}

// A sensor's readings are not the person's acts: they do not stand in the way of undo.
func TestSensorDoesNotTakeUndoAway(t *testing.T) {
	n := begun(t, planOf(t, hung(), Conditions{}), 0)
	n.do(MoveOn{}, 60*sec)
	n.do(Read{T: 20.5, Source: BySensor}, 62*sec)
	n.do(Undo{}, 64*sec)
	n.do(Wake{}, 130*sec)
	if got := moved(n.events, "develop"); len(got) != 2 || got[1] != 120 {
		t.Errorf("into the developer at %v; expected 60, undone, 120", got)
	}
	if c := n.s.Look(130 * sec); c.Develop == nil || *c.Develop.Temperature != 20.5 {
		t.Error("the sensor's reading was undone with the press")
	}
}

// A reading moves the end by the integral of the rate, and not the past.
func TestReadingMovesTheEnd(t *testing.T) {
	n := begun(t, planOf(t, hung(), Conditions{}), 0) // in the developer at 120, at 20 C
	n.do(Wake{}, 300*sec)
	n.do(Read{T: 22, Source: ByHand}, 300*sec)
	// From 0 to 300 s the bath went from 20 to 22 in a straight line (the readings
	// there are), then stayed: a(t) = 2.2^(t/1500) has the integral 1500/ln 2.2 a.
	k := 1500 / math.Log(2.2)
	had := k * (math.Pow(2.2, 300./1500) - math.Pow(2.2, 120./1500))
	end := 300 + (510-had)/math.Pow(2.2, 0.2)
	if got := n.s.Look(300 * sec).Next.At.Seconds(); math.Abs(got-end) > 1e-3 {
		t.Errorf("out at %.4f; expected %.4f", got, end)
	}
	n.do(Undo{}, 305*sec)
	if got := n.s.Look(305 * sec).Next.At; got != 630*sec {
		t.Errorf("after undo out at %v; expected 630 s", got)
	}
}

// What an act makes due at once belongs to it, and is taken back with it.
func TestUndoTakesBackWhatTheActMadeDue(t *testing.T) {
	n := begun(t, planOf(t, hung(), Conditions{}), 0)
	n.do(Read{T: 26, Ago: 8 * mins, Source: ByHand}, 620*sec) // so warm for so long: done already
	expectMoved(t, n, "stop", 620)
	n.do(Undo{}, 625*sec)
	n.do(Wake{}, 640*sec)
	expectMoved(t, n, "stop", 620, 630)
}

// An alarm that a gap or an overrun brought on is given once.
func TestWetAlarms(t *testing.T) {
	r := hung()
	r.Film.WetLimit.All = 20*mins + 3*sec // the session is 16 min wet: never within the plan
	n := begun(t, planOf(t, r, Conditions{}), 0)
	n.do(Hold{}, 950*sec)
	n.do(Wake{}, 40*mins)
	warned, passed := only(n.events, WetWarned), only(n.events, WetPassed)
	if len(warned) != 1 || warned[0].At != 17*mins+3*sec || len(passed) != 1 || passed[0].At != 20*mins+3*sec {
		t.Errorf("warned %s passed %s; expected once at 17:03, once at 20:03", kinds(warned), kinds(passed))
	}
	n = begun(t, planOf(t, r, Conditions{}), 0)
	n.do(Gap{From: 950 * sec, To: 25 * mins}, 25*mins)
	n.do(Wake{}, 30*mins)
	warned, passed = only(n.events, WetWarned), only(n.events, WetPassed)
	if len(warned) != 1 || warned[0].At != 25*mins || *warned[0].Since != 17*mins+3*sec || len(passed) != 1 || *passed[0].Since != 20*mins+3*sec {
		t.Errorf("warned %s passed %s; expected once each, told at 25:00", kinds(warned), kinds(passed))
	}
}

// Taken up without a gap it goes on by itself; with a missed edge it asks.
func TestResume(t *testing.T) {
	for _, c := range []struct {
		name string
		r    Resume
		now  Elapsed
		held bool
	}{
		{"exact, no edge missed", Resume{From: 30 * sec, Gap: true}, 100 * sec, false},
		{"exact, an edge missed", Resume{From: 30 * sec, Gap: true}, 130 * sec, true},
		{"uncertain", Resume{From: 30 * sec, Gap: true, Ask: true}, 100 * sec, true},
	} {
		n := begun(t, planOf(t, hung(), Conditions{}), 0)
		n.do(Wake{}, 30*sec)
		events := n.do(c.r, c.now)
		if len(events) == 0 || events[0].Kind != Resumed || events[0].At != c.now {
			t.Errorf("%s: %s; expected resumed first, at %v", c.name, kinds(events), c.now)
		}
		if got := n.s.Look(c.now).Held; got != c.held {
			t.Errorf("%s: held %v; expected %v", c.name, got, c.held)
		}
	}
}

// Stop ends it, and everything after is refused.
func TestStop(t *testing.T) {
	n := begun(t, planOf(t, hung(), Conditions{}), 0)
	events := n.do(Stop{}, 200*sec)
	if last := events[len(events)-1]; last.Kind != SessionStopped || n.s.Over() != SessionStopped {
		t.Errorf("ends with %s", describe(last))
	}
	if _, due := n.s.Due(); due {
		t.Error("something is due after the end")
	}
	if more := n.do(MoveOn{}, 201*sec); len(more) > 0 || !strings.Contains(n.s.Refuse(MoveOn{}, 201*sec), "over") {
		t.Errorf("moves on after the end: %s", kinds(more))
	}
}

// A slip of the finger is refused with a question, changes nothing, and can be insisted
// on where it may be true; a wrong reading is taken back, or read again.
func TestASlipIsAsked(t *testing.T) {
	n := begun(t, planOf(t, recipeOf(Hangers, 1, bathFor(Develop, 10*mins).at(20, 2.2), bathFor(StopBath, mins)), Conditions{}), 0)
	for typed, want := range map[Read]string{
		{T: 215, Source: ByHand}:   "is it 21.5 C?",
		{T: 31.5, Source: ByHand}:  "is that right?",
		{T: -4, Source: ByHand}:    "is no temperature of a bath",
		{T: 905, Source: BySensor}: "is no temperature of a bath",
	} {
		if why := n.s.Refuse(typed, mins); !strings.Contains(why, want) {
			t.Errorf("%v: %q; expected %q", typed.T, why, want)
		}
		if events := n.do(typed, mins); len(only(events, ReadingTaken)) != 0 {
			t.Errorf("%v was taken", typed.T)
		}
	}
	for typed, h := range map[string]Habits{"215": {}, "215@3m": {}, "707": {Fahrenheit: true}} { // the point left out
		r, err := h.ParseReading(typed)
		why := n.s.Refuse(r, mins)
		if err != nil || !strings.HasSuffix(why, map[bool]string{false: "is it 21.5 C?", true: "is it 70.7 F?"}[h.Fahrenheit]) {
			t.Errorf("%s typed: %v, %q; expected a question", typed, err, why)
		}
	}
	end := func() Elapsed { return n.s.Look(n.s.At()).Next.At }
	before := end()
	n.do(Read{T: 23, Source: ByHand}, 2*mins)
	if end() >= before {
		t.Fatal("23 C does not shorten the time")
	}
	n.do(Undo{}, 2*mins+5*sec)
	if end() != before {
		t.Errorf("taken back, it ends at %v; expected %v", end(), before)
	}
	n.do(Read{T: 23, Source: ByHand}, 3*mins)
	n.do(Read{T: 20, Ago: mins, Source: ByHand}, 4*mins) // read again for the same moment
	if !near(end(), before) {
		t.Errorf("corrected, it ends at %v; expected %v", end(), before)
	}
}
