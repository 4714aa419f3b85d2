package engine

// What a session does when something comes in between: a gap, a hold, a late
// hand, a press too early, a reading. Every instant is worked out by hand from the
// contract and the design's core rule.

import (
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

// three is three sheets in a tray: in at 0, 15, 30; presoak to 150, developer to
// 630, 640, 650; stop to 680; fix.
func three() sequence.Recipe {
	return recipetest.Recipe(sequence.Tray, 3,
		recipetest.Shuffled(recipetest.Bath(sequence.Presoak, 2*recipetest.Minute)),
		recipetest.Shuffled(recipetest.Bath(sequence.Develop, 8*recipetest.Minute)),
		recipetest.Shuffled(recipetest.Bath(sequence.StopBath, 30*recipetest.Second)),
		recipetest.LightsOnAfter(recipetest.Shuffled(recipetest.Bath(sequence.Fix, 5*recipetest.Minute)), 2*recipetest.Minute))
}

// moved lists when each sheet (0 for all) entered a step, or left the last ("").
func moved(events []sequence.Event, step string) []float64 {
	var list []float64
	for _, e := range events {
		if e.Kind == sequence.Transferred && e.Step == step {
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
		t.Errorf("into %q at %v; expected %v\n%s", step, got, want, recipetest.KindsOf(n.events))
	}
}

func TestGap(t *testing.T) {
	for _, c := range []struct {
		name     string
		from, to sequence.Elapsed
		held     bool
		moved    []float64 // into the developer
	}{
		{"no edge inside", 30 * recipetest.Second, 119 * recipetest.Second, false, nil},
		{"an edge inside", 30 * recipetest.Second, 130 * recipetest.Second, true, nil},
		{"an edge at its start fell due", 120 * recipetest.Second, 300 * recipetest.Second, false, []float64{120}},
		{"an edge at its end", 30 * recipetest.Second, 120 * recipetest.Second, true, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			n := begun(t, planOf(t, recipetest.FourInHangers(), sequence.Conditions{}), 0)
			n.do(sequence.Gap{From: c.from, To: c.to}, c.to)
			if l := n.s.Snapshot(c.to); l.Held != c.held {
				t.Errorf("held %v; expected %v", l.Held, c.held)
			}
			if got := moved(n.events, "develop"); !slices.Equal(got, c.moved) {
				t.Errorf("into the developer at %v; expected %v", got, c.moved)
			}
			if g := recipetest.EventsOf(n.events, sequence.GapFound); len(g) != 1 || *g[0].Since != c.from || g[0].At != c.to {
				t.Errorf("gap told as %v", g)
			}
		})
	}
}

// After a gap with an edge inside, moving on waits for the person; the overrun
// counts from when the move was due, wet time and dose from when they began.
func TestGapHoldsUntilGo(t *testing.T) {
	n := begun(t, planOf(t, recipetest.FourInHangers(), sequence.Conditions{}), 0)
	n.do(sequence.Gap{From: 600 * recipetest.Second, To: 700 * recipetest.Second}, 700*recipetest.Second) // the developer was over at 630
	l := n.s.Snapshot(705 * recipetest.Second)
	if !l.Held || l.Overdue != 75*recipetest.Second || l.Left != -75*recipetest.Second {
		t.Errorf("held %v, overdue %v, left %v; expected held, 75 s, -75 s", l.Held, l.Overdue, l.Left)
	}
	if l.Sheets[0].Wet != 705*recipetest.Second || l.Develop.Done != 585*recipetest.Second {
		t.Errorf("wet %v, developed %v; expected 705 s, 585 s", l.Sheets[0].Wet, l.Develop.Done)
	}
	if o := recipetest.EventsOf(n.events, sequence.Overran); len(o) != 1 || o[0].Since == nil || *o[0].Since != 630*recipetest.Second {
		t.Errorf("overrun told as %s; expected since 630 s", recipetest.KindsOf(o))
	}
	n.do(sequence.Wake{}, 750*recipetest.Second)
	expectMoved(t, n, "stop")
	n.do(sequence.EndHold{}, 752*recipetest.Second)
	expectMoved(t, n, "stop", 752)
	n.do(sequence.Wake{}, 783*recipetest.Second)
	expectMoved(t, n, "fix", 782)
}

// A hold stops moving on and nothing else.
func TestHoldSilencesOnlyMoves(t *testing.T) {
	r := recipetest.FourInHangers()
	r.Steps[1] = recipetest.Drained(recipetest.Agitated(r.Steps[1], recipetest.Periodic(60*recipetest.Second, 10*recipetest.Second, 60*recipetest.Second)), 8*recipetest.Second)
	n := begun(t, planOf(t, r, sequence.Conditions{}), 0)
	n.do(sequence.Hold{}, 550*recipetest.Second)
	at := len(n.events)
	n.do(sequence.Wake{}, 665*recipetest.Second)
	var cues []sequence.Cue
	for _, e := range recipetest.EventsOf(n.events[at:], sequence.CueGiven) {
		cues = append(cues, sequence.Cue{At: e.At, Kind: e.Cue, Step: e.Step, Sheet: e.Sheet})
	}
	// Developer from 120 to 630: agitated at 600 and on after the time is up.
	recipetest.ExpectInstants(t, "agitate", recipetest.CuesOf(cues, sequence.CueAgitate, "develop"), 600, 660)
	recipetest.ExpectInstants(t, "drain", recipetest.CuesOf(cues, sequence.CueDrain, "develop"), 622)
	recipetest.ExpectInstants(t, "overdue", recipetest.CuesOf(cues, sequence.CueOverdue, ""), 640, 650, 660)
	recipetest.ExpectInstants(t, "move", recipetest.CuesOf(cues, sequence.CueTransfer, ""))
	if o := recipetest.EventsOf(n.events, sequence.Overran); len(o) != 1 || o[0].At != 630*recipetest.Second || o[0].Step != "develop" {
		t.Errorf("overrun told as %s; expected once, at 630 s", recipetest.KindsOf(o))
	}
	n.do(sequence.EndHold{}, 665*recipetest.Second)
	expectMoved(t, n, "stop", 665)
	if h := recipetest.EventsOf(n.events, sequence.HoldEnded); len(h) != 1 {
		t.Errorf("went on %d times; expected once", len(h))
	}
}

// Held in the middle of a row: what is late goes at once, the rest of the row
// after it, never nearer than a hand can serve.
func TestHoldInARowOfMoves(t *testing.T) {
	n := begun(t, planOf(t, three(), sequence.Conditions{}), 0)
	n.do(sequence.Wake{}, 151*recipetest.Second)
	expectMoved(t, n, "develop", 150)
	n.do(sequence.Hold{}, 152*recipetest.Second)
	n.do(sequence.Wake{}, 200*recipetest.Second)
	expectMoved(t, n, "develop", 150)
	n.do(sequence.EndHold{}, 200*recipetest.Second)
	n.do(sequence.Wake{}, 300*recipetest.Second)
	expectMoved(t, n, "develop", 150, 200, 210)
	// Each still gets its own 480 s.
	n.do(sequence.Wake{}, 700*recipetest.Second)
	expectMoved(t, n, "stop", 630, 680, 690)
}

// A step that waits: time up, said every ten seconds, moved by a press.
func TestAdvanceWaits(t *testing.T) {
	r := three()
	r.Steps[0].WaitForPerson = true
	n := begun(t, planOf(t, r, sequence.Conditions{}), 0)
	n.do(sequence.Wake{}, 185*recipetest.Second)
	expectMoved(t, n, "develop")
	if l := n.s.Snapshot(185 * recipetest.Second); !l.Waiting || l.Overdue != 35*recipetest.Second || l.Held {
		t.Errorf("waiting %v, overdue %v, held %v; expected waiting, 35 s, not held", l.Waiting, l.Overdue, l.Held)
	}
	if why := n.s.Refuse(sequence.EndHold{}, 185*recipetest.Second).Code; why == "" {
		t.Error("go is not refused; nothing is held")
	}
	n.do(sequence.EndHold{}, 185*recipetest.Second)
	n.do(sequence.MoveOn{}, 190*recipetest.Second)
	n.do(sequence.Wake{}, 230*recipetest.Second)
	expectMoved(t, n, "develop", 190, 200, 210)
}

// Next, early, in a stack's developer: every sheet gets the dose that the first had.
func TestNextEarlyInStackDeveloper(t *testing.T) {
	r := three()
	r.Steps[1] = recipetest.At(r.Steps[1], 20, 2.2)
	warm := sequence.Conditions{BathTemperature: recipetest.Degrees(22), SettlesAt: recipetest.Degrees(18), TimeConstant: 30 * recipetest.Minute}
	n := begun(t, planOf(t, r, warm), 0)
	n.do(sequence.MoveOn{}, 400*recipetest.Second) // sheet 1 has been in since 150
	n.do(sequence.Wake{}, 460*recipetest.Second)
	out := moved(n.events, "stop")
	if len(out) != 3 || out[0] != 400 {
		t.Fatalf("out of the developer at %v; expected three, the first at 400 s", out)
	}
	// The integral of 2.2^((T-20)/10) with T = 18 + 4 exp(-t/1800), by Simpson's rule.
	dose := func(from, to float64) float64 {
		return simpson(from, to, 2000, func(t float64) float64 { return math.Pow(2.2, (-2+4*math.Exp(-t/1800))/10) })
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
	n := begun(t, planOf(t, three(), sequence.Conditions{}), 0)
	n.do(sequence.MoveOn{}, 100*recipetest.Second)
	n.do(sequence.Wake{}, 200*recipetest.Second)
	expectMoved(t, n, "develop", 100, 110, 120)
	n.do(sequence.Wake{}, 605*recipetest.Second)
	expectMoved(t, n, "stop", 580, 590, 600)
}

// In a rehearsal the ten seconds are those of the hands: at thirty times the pace 300 of the session.
func TestUndoInARehearsal(t *testing.T) {
	n := begun(t, planOf(t, recipetest.FourInHangers(), sequence.Conditions{}), 0)
	n.s = Rehearsed(n.s, 30)
	n.do(sequence.MoveOn{}, 60*recipetest.Second)
	for after, works := range map[sequence.Elapsed]bool{300 * recipetest.Second: true, 301 * recipetest.Second: false} {
		if why := n.s.Refuse(sequence.Undo{}, 60*recipetest.Second+after).Code; (why == "") != works {
			t.Errorf("after %v: %q", after, why)
		}
	}
}

// Undo takes back what was done, within ten seconds and not after.
func TestUndo(t *testing.T) {
	for _, c := range []struct {
		after sequence.Elapsed
		works bool
	}{{0, true}, {10 * recipetest.Second, true}, {10*recipetest.Second + 1, false}} {
		n := begun(t, planOf(t, recipetest.FourInHangers(), sequence.Conditions{}), 0)
		n.do(sequence.MoveOn{}, 60*recipetest.Second)
		if why := n.s.Refuse(sequence.Undo{}, 60*recipetest.Second+c.after).Code; (why == "") != c.works {
			t.Errorf("undo after %v: %q; expected to work: %v", c.after, why, c.works)
		}
		n.do(sequence.Undo{}, 60*recipetest.Second+c.after)
		n.do(sequence.Wake{}, 200*recipetest.Second)
		want := []float64{60}
		if c.works {
			want = []float64{60, 120} // back in the presoak until its time is up
		}
		expectMoved(t, n, "develop", want...)
		if why := n.s.Refuse(sequence.Undo{}, 200*recipetest.Second).Code; why == "" {
			t.Error("undo works a second time")
		}
	}
}

// What moved by itself since is not taken back with it.
func TestUndoLeavesWhatMovedByItself(t *testing.T) {
	n := begun(t, planOf(t, three(), sequence.Conditions{}), 0)
	n.do(sequence.Wake{}, 140*recipetest.Second)
	n.do(sequence.TakeReading{T: 20, Source: sequence.ByHand}, 145*recipetest.Second)
	n.do(sequence.Wake{}, 151*recipetest.Second)
	n.do(sequence.Undo{}, 153*recipetest.Second) // the reading is taken back, sheet 1 stays in the developer
	n.do(sequence.Wake{}, 640*recipetest.Second)
	expectMoved(t, n, "develop", 150, 160, 170)
	expectMoved(t, n, "stop", 630, 640)

	n = begun(t, planOf(t, three(), sequence.Conditions{}), 0)
	n.do(sequence.Wake{}, 155*recipetest.Second)
	n.do(sequence.Hold{}, 155*recipetest.Second)
	n.do(sequence.Wake{}, 162*recipetest.Second) // sheet 2 was due at 160
	n.do(sequence.Undo{}, 163*recipetest.Second)
	n.do(sequence.Wake{}, 200*recipetest.Second)
	expectMoved(t, n, "develop", 150, 163, 173)

	r := three()
	r.Load.TransferEvery = 4 * recipetest.Second
	n = begun(t, planOf(t, r, sequence.Conditions{}), 0)
	n.do(sequence.MoveOn{}, 100*recipetest.Second)
	n.do(sequence.Wake{}, 106*recipetest.Second) // sheet 2 followed at 104
	n.do(sequence.Undo{}, 107*recipetest.Second)
	if got := []int{n.s.Snapshot(107 * recipetest.Second).Sheets[0].Step, n.s.Snapshot(107 * recipetest.Second).Sheets[1].Step}; !slices.Equal(got, []int{0, 1}) {
		t.Errorf("sheets 1 and 2 are in %v; expected the press undone, sheet 2 where it went", got)
	}
}

// A sensor's readings are not the person's acts: they do not stand in the way of undo.
func TestSensorDoesNotTakeUndoAway(t *testing.T) {
	n := begun(t, planOf(t, recipetest.FourInHangers(), sequence.Conditions{}), 0)
	n.do(sequence.MoveOn{}, 60*recipetest.Second)
	n.do(sequence.TakeReading{T: 20.5, Source: sequence.BySensor}, 62*recipetest.Second)
	n.do(sequence.Undo{}, 64*recipetest.Second)
	n.do(sequence.Wake{}, 130*recipetest.Second)
	if got := moved(n.events, "develop"); len(got) != 2 || got[1] != 120 {
		t.Errorf("into the developer at %v; expected 60, undone, 120", got)
	}
	if c := n.s.Snapshot(130 * recipetest.Second); c.Develop == nil || *c.Develop.Temperature != 20.5 {
		t.Error("the sensor's reading was undone with the press")
	}
}

// A reading moves the end by the integral of the rate, and not the past.
func TestReadingMovesTheEnd(t *testing.T) {
	n := begun(t, planOf(t, recipetest.FourInHangers(), sequence.Conditions{}), 0) // in the developer at 120, at 20 C
	n.do(sequence.Wake{}, 300*recipetest.Second)
	n.do(sequence.TakeReading{T: 22, Source: sequence.ByHand}, 300*recipetest.Second)
	// From 0 to 300 s the bath went from 20 to 22 in a straight line (the readings
	// there are), then stayed: a(t) = 2.2^(t/1500) has the integral 1500/ln 2.2 a.
	k := 1500 / math.Log(2.2)
	had := k * (math.Pow(2.2, 300./1500) - math.Pow(2.2, 120./1500))
	end := 300 + (510-had)/math.Pow(2.2, 0.2)
	if got := n.s.Snapshot(300 * recipetest.Second).Next.At.Seconds(); math.Abs(got-end) > 1e-3 {
		t.Errorf("out at %.4f; expected %.4f", got, end)
	}
	n.do(sequence.Undo{}, 305*recipetest.Second)
	if got := n.s.Snapshot(305 * recipetest.Second).Next.At; got != 630*recipetest.Second {
		t.Errorf("after undo out at %v; expected 630 s", got)
	}
}

// What an act makes due at once belongs to it, and is taken back with it.
func TestUndoTakesBackWhatTheActMadeDue(t *testing.T) {
	n := begun(t, planOf(t, recipetest.FourInHangers(), sequence.Conditions{}), 0)
	n.do(sequence.TakeReading{T: 26, Ago: 8 * recipetest.Minute, Source: sequence.ByHand}, 620*recipetest.Second) // so warm for so long: done already
	expectMoved(t, n, "stop", 620)
	n.do(sequence.Undo{}, 625*recipetest.Second)
	n.do(sequence.Wake{}, 640*recipetest.Second)
	expectMoved(t, n, "stop", 620, 630)
}

// An alarm that a gap or an overrun brought on is given once.
func TestWetAlarms(t *testing.T) {
	r := recipetest.FourInHangers()
	r.Film.WetLimit.All = 20*recipetest.Minute + 3*recipetest.Second // the session is 16 min wet: never within the plan
	n := begun(t, planOf(t, r, sequence.Conditions{}), 0)
	n.do(sequence.Hold{}, 950*recipetest.Second)
	n.do(sequence.Wake{}, 1000*recipetest.Second) // the last bath was over at 960
	if at := n.s.Snapshot(1000 * recipetest.Second).Wet.LimitAt; at == nil || *at != 20*recipetest.Minute+3*recipetest.Second {
		t.Errorf("overdue, the limit is at %v; expected 20:03, when the alarm comes", at)
	}
	n.do(sequence.Wake{}, 40*recipetest.Minute)
	warned, passed := recipetest.EventsOf(n.events, sequence.WetWarned), recipetest.EventsOf(n.events, sequence.WetPassed)
	if len(warned) != 1 || warned[0].At != 17*recipetest.Minute+3*recipetest.Second || len(passed) != 1 || passed[0].At != 20*recipetest.Minute+3*recipetest.Second {
		t.Errorf("warned %s passed %s; expected once at 17:03, once at 20:03", recipetest.KindsOf(warned), recipetest.KindsOf(passed))
	}
	n = begun(t, planOf(t, r, sequence.Conditions{}), 0)
	n.do(sequence.Gap{From: 950 * recipetest.Second, To: 25 * recipetest.Minute}, 25*recipetest.Minute)
	n.do(sequence.Wake{}, 30*recipetest.Minute)
	warned, passed = recipetest.EventsOf(n.events, sequence.WetWarned), recipetest.EventsOf(n.events, sequence.WetPassed)
	if len(warned) != 1 || warned[0].At != 25*recipetest.Minute || *warned[0].Since != 17*recipetest.Minute+3*recipetest.Second || len(passed) != 1 || *passed[0].Since != 20*recipetest.Minute+3*recipetest.Second {
		t.Errorf("warned %s passed %s; expected once each, told at 25:00", recipetest.KindsOf(warned), recipetest.KindsOf(passed))
	}
}

// Taken up without a gap it goes on by itself; with a missed edge it asks.
func TestResume(t *testing.T) {
	for _, c := range []struct {
		name string
		r    sequence.Resume
		now  sequence.Elapsed
		held bool
	}{
		{"exact, no edge missed", sequence.Resume{From: 30 * recipetest.Second, Gap: true}, 100 * recipetest.Second, false},
		{"exact, an edge missed", sequence.Resume{From: 30 * recipetest.Second, Gap: true}, 130 * recipetest.Second, true},
		{"uncertain", sequence.Resume{From: 30 * recipetest.Second, Gap: true, Ask: true}, 100 * recipetest.Second, true},
	} {
		n := begun(t, planOf(t, recipetest.FourInHangers(), sequence.Conditions{}), 0)
		n.do(sequence.Wake{}, 30*recipetest.Second)
		events := n.do(c.r, c.now)
		if len(events) == 0 || events[0].Kind != sequence.Resumed || events[0].At != c.now {
			t.Errorf("%s: %s; expected resumed first, at %v", c.name, recipetest.KindsOf(events), c.now)
		}
		if got := n.s.Snapshot(c.now).Held; got != c.held {
			t.Errorf("%s: held %v; expected %v", c.name, got, c.held)
		}
	}
}

// Stop ends it, and everything after is refused.
func TestStop(t *testing.T) {
	n := begun(t, planOf(t, recipetest.FourInHangers(), sequence.Conditions{}), 0)
	events := n.do(sequence.EndSession{}, 200*recipetest.Second)
	if last := events[len(events)-1]; last.Kind != sequence.SessionStopped || n.s.Over() != sequence.SessionStopped {
		t.Errorf("ends with %s", describe(last))
	}
	if _, due := n.s.Due(); due {
		t.Error("something is due after the end")
	}
	if more := n.do(sequence.MoveOn{}, 201*recipetest.Second); len(more) > 0 || !strings.Contains(n.s.Refuse(sequence.MoveOn{}, 201*recipetest.Second).Code, "over") {
		t.Errorf("moves on after the end: %s", recipetest.KindsOf(more))
	}
}

// A slip of the finger is refused with a question, changes nothing, and can be insisted
// on where it may be true; a wrong reading is taken back, or read again.
func TestASlipIsAsked(t *testing.T) {
	n := begun(t, planOf(t, recipetest.Recipe(sequence.Hangers, 1, recipetest.At(recipetest.Bath(sequence.Develop, 10*recipetest.Minute), 20, 2.2), recipetest.Bath(sequence.StopBath, recipetest.Minute)), sequence.Conditions{}), 0)
	for typed, want := range map[sequence.TakeReading]string{
		{T: 215, Source: sequence.ByHand}:   "point-left-out",
		{T: 31.5, Source: sequence.ByHand}:  "not-expected",
		{T: -4, Source: sequence.ByHand}:    "no-bath-so-warm",
		{T: 905, Source: sequence.BySensor}: "no-bath-so-warm",
	} {
		if why := n.s.Refuse(typed, recipetest.Minute).Code; !strings.Contains(why, want) {
			t.Errorf("%v: %q; expected %q", typed.T, why, want)
		}
		if events := n.do(typed, recipetest.Minute); len(recipetest.EventsOf(events, sequence.ReadingTaken)) != 0 {
			t.Errorf("%v was taken", typed.T)
		}
	}
	for typed, h := range map[string]sequence.Units{"215": {}, "215@3m": {}, "707": {Fahrenheit: true}} { // the point left out
		r, err := h.ParseReading(typed)
		why := n.s.Refuse(r, recipetest.Minute).Code
		if err != nil || why != "point-left-out" {
			t.Errorf("%s typed: %v, %q; expected a question", typed, err, why)
		}
	}
	end := func() sequence.Elapsed { return n.s.Snapshot(n.s.At()).Next.At }
	before := end()
	n.do(sequence.TakeReading{T: 23, Source: sequence.ByHand}, 2*recipetest.Minute)
	if end() >= before {
		t.Fatal("23 C does not shorten the time")
	}
	n.do(sequence.Undo{}, 2*recipetest.Minute+5*recipetest.Second)
	if end() != before {
		t.Errorf("taken back, it ends at %v; expected %v", end(), before)
	}
	n.do(sequence.TakeReading{T: 23, Source: sequence.ByHand}, 3*recipetest.Minute)
	n.do(sequence.TakeReading{T: 20, Ago: recipetest.Minute, Source: sequence.ByHand}, 4*recipetest.Minute) // read again for the same moment
	if !recipetest.Near(end(), before) {
		t.Errorf("corrected, it ends at %v; expected %v", end(), before)
	}
}
