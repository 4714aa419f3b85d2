package engine

// Late hands and film tests: sheets that are elsewhere than the rest of the load.

import (
	"slices"
	"testing"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

// Late says that a sheet is still where it was: it goes on there, and is held.
func TestLate(t *testing.T) {
	n := begun(t, planOf(t, three(), sequence.Conditions{}), 0)
	n.do(sequence.Wake{}, 645*recipetest.Second) // sheets 1 and 2 went at 630 and 640
	n.do(sequence.MarkLate{Sheet: 2}, 645*recipetest.Second)
	l := n.s.Snapshot(645 * recipetest.Second)
	if got := []int{l.Sheets[0].Step, l.Sheets[1].Step, l.Sheets[2].Step}; !slices.Equal(got, []int{2, 1, 1}) {
		t.Errorf("sheets are in %v; expected 2, 1, 1", got)
	}
	if !l.Held {
		t.Error("not held; expected to wait for the person")
	}
	n.do(sequence.Wake{}, 655*recipetest.Second)
	if why := n.s.Refuse(sequence.MarkLate{Sheet: 2}, 655*recipetest.Second).Code; why == "" {
		t.Error("a second late for the same sheet would throw it back another bath")
	}
	n.do(sequence.MarkLate{Sheet: 2}, 655*recipetest.Second)
	n.do(sequence.EndHold{}, 656*recipetest.Second)
	n.do(sequence.Wake{}, 700*recipetest.Second)
	expectMoved(t, n, "stop", 630, 640, 656, 666)
	if why := n.s.Refuse(sequence.MarkLate{Sheet: 2}, 690*recipetest.Second).Code; why != "" {
		t.Errorf("late once more, after it has moved: %q", why)
	}
	// The stop bath's 30 s count from the sheet that came last.
	n.do(sequence.Wake{}, 697*recipetest.Second)
	expectMoved(t, n, "fix", 696)
}

// In a load that moves together late brings all of it back.
func TestLateTogether(t *testing.T) {
	n := begun(t, planOf(t, recipetest.FourInHangers(), sequence.Conditions{}), 0)
	n.do(sequence.Wake{}, 125*recipetest.Second)
	n.do(sequence.MarkLate{Sheet: 3}, 125*recipetest.Second)
	for k, s := range n.s.Snapshot(125 * recipetest.Second).Sheets {
		if s.Step != 0 {
			t.Errorf("sheet %d in step %d; expected 0", k+1, s.Step)
		}
	}
	n.do(sequence.EndHold{}, 140*recipetest.Second)
	n.do(sequence.Wake{}, 660*recipetest.Second)
	expectMoved(t, n, "stop", 650) // 140 + 510
}

// In a film test late concerns the sheet pulled, nobody in the developer.
func TestLateInFilmTest(t *testing.T) {
	r := recipetest.Recipe(sequence.Hangers, 3, recipetest.Bath(sequence.Presoak, 2*recipetest.Minute),
		recipetest.Pulled(recipetest.Bath(sequence.Develop, 0), 5*recipetest.Minute, 7*recipetest.Minute, 9*recipetest.Minute), recipetest.Bath(sequence.StopBath, 30*recipetest.Second), recipetest.Bath(sequence.Fix, 5*recipetest.Minute))
	n := begun(t, planOf(t, r, sequence.Conditions{}), 0)
	n.do(sequence.Wake{}, 425*recipetest.Second) // sheet 1 out at 420
	n.do(sequence.MarkLate{Sheet: 1}, 425*recipetest.Second)
	for k, s := range n.s.Snapshot(425 * recipetest.Second).Sheets {
		if s.Step != 1 {
			t.Errorf("sheet %d in step %d; expected the developer", k+1, s.Step)
		}
	}

	// And the other way round: sheet 1 in the stop bath stays there while those in
	// the developer, which came together, go back to the presoak.
	n = begun(t, planOf(t, r, sequence.Conditions{}), 0)
	n.do(sequence.Wake{}, 425*recipetest.Second)
	n.do(sequence.MarkLate{Sheet: 2}, 425*recipetest.Second)
	var at []int
	for _, s := range n.s.Snapshot(425 * recipetest.Second).Sheets {
		at = append(at, s.Step)
	}
	if err := whole(n.s); err != nil || !slices.Equal(at, []int{2, 0, 0}) {
		t.Errorf("sheets in %v, %v; expected 2, 0, 0", at, err)
	}
}

// A gap in the middle of turning: nobody turned, so what is left of the window gets
// the rhythm that it had, and still ends with whole rounds.
func TestTurnsAfterAGap(t *testing.T) {
	n := begun(t, planOf(t, three(), sequence.Conditions{}), 0)
	// Developer: last in at 170, first out at 630: 460 s are 15.3 rounds, so 45 turns.
	n.do(sequence.Gap{From: 300 * recipetest.Second, To: 500 * recipetest.Second}, 500*recipetest.Second)
	n.do(sequence.Wake{}, 630*recipetest.Second)
	var turns []sequence.Event
	for _, e := range recipetest.EventsOf(n.events, sequence.CueGiven) {
		if e.Cue == sequence.CueShuffle && e.Step == "develop" {
			turns = append(turns, e)
		}
	}
	if len(turns)%3 != 0 {
		t.Errorf("%d turns; expected whole rounds of 3", len(turns))
	}
	for i := range turns[1:] {
		d := turns[i+1].At - turns[i].At
		if apart := d.Seconds(); turns[i].At >= 500*recipetest.Second && (apart < 460./45*0.75 || apart > 460./45*1.25) {
			t.Errorf("after the gap turns come %.2f s apart; expected about 10.2", apart)
		}
	}
}

// A sheet pulled has its time in the next bath and is then set aside.
func TestSetAside(t *testing.T) {
	r := recipetest.Recipe(sequence.Hangers, 3, recipetest.Bath(sequence.Presoak, 2*recipetest.Minute),
		recipetest.Pulled(recipetest.Bath(sequence.Develop, 0), 5*recipetest.Minute, 7*recipetest.Minute, 9*recipetest.Minute), recipetest.Bath(sequence.StopBath, 30*recipetest.Second), recipetest.Bath(sequence.Fix, 5*recipetest.Minute))
	n := begun(t, planOf(t, r, sequence.Conditions{}), 0)
	n.do(sequence.Wake{}, 20*recipetest.Minute)
	want := []struct {
		sheet int
		at    sequence.Elapsed
	}{{1, 450 * recipetest.Second}, {2, 570 * recipetest.Second}} // the last needs no wait
	got := recipetest.EventsOf(n.events, sequence.SetAside)
	if len(got) != len(want) {
		t.Fatalf("set aside: %s; expected two", recipetest.KindsOf(got))
	}
	m := begun(t, n.s.plan, 0) // the first is taken out of the session before the second comes
	m.do(sequence.Wake{}, 430*recipetest.Second)
	m.do(sequence.SetSheetAside{Sheet: 1}, 430*recipetest.Second)
	m.do(sequence.Wake{}, 20*recipetest.Minute)
	for _, n := range []*session{n, m} {
		if began := slices.DeleteFunc(recipetest.EventsOf(n.events, sequence.StepBegan), func(e sequence.Event) bool { return e.Step != "stop" }); len(began) != 1 {
			t.Errorf("the stop bath began %d times", len(began))
		}
	}
	for i, w := range want {
		if got[i].Sheet != w.sheet || got[i].At != w.at || got[i].Step != "stop" {
			t.Errorf("set aside %s; expected sheet %d at %v", recipetest.KindsOf(got[i:i+1]), w.sheet, w.at)
		}
	}
}

// While moving on is held in a film test, the sheets pulled already are still
// agitated, and set aside when they have had their time.
func TestHoldInFilmTest(t *testing.T) {
	r := recipetest.Recipe(sequence.Hangers, 3, recipetest.Bath(sequence.Presoak, 2*recipetest.Minute),
		recipetest.Pulled(recipetest.Bath(sequence.Develop, 0), 5*recipetest.Minute, 5*recipetest.Minute+10*recipetest.Second, 9*recipetest.Minute), recipetest.Continuous(recipetest.Bath(sequence.StopBath, 60*recipetest.Second)), recipetest.Bath(sequence.Fix, 5*recipetest.Minute))
	n := begun(t, planOf(t, r, sequence.Conditions{}), 0)
	n.do(sequence.Hold{}, 425*recipetest.Second) // sheet 1 out at 420, sheet 2 due at 430
	n.do(sequence.Wake{}, 490*recipetest.Second)
	var rests []sequence.Event
	for _, e := range recipetest.EventsOf(n.events, sequence.CueGiven) {
		if e.Cue == sequence.CueStand && e.Step == "stop" && e.Sheet == 1 {
			rests = append(rests, e)
		}
	}
	if len(rests) != 1 || rests[0].At != 480*recipetest.Second {
		t.Errorf("rest for sheet 1: %s; expected at 480 s", recipetest.KindsOf(rests))
	}
}

// A film test in a tray that breaks its film's limit says so, proposes hangers, and
// says how the sheets are told apart; those that wait are turned once a minute from when
// there are two.
func TestFilmTestKindly(t *testing.T) {
	r := recipetest.Recipe(sequence.Tray, 3, recipetest.Shuffled(recipetest.Bath(sequence.Presoak, recipetest.Minute)), recipetest.Shuffled(recipetest.Pulled(recipetest.Bath(sequence.Develop, 0), 5*recipetest.Minute, 7*recipetest.Minute, 10*recipetest.Minute)),
		recipetest.Bath(sequence.StopBath, 30*recipetest.Second), recipetest.Shuffled(recipetest.Bath(sequence.Fix, 5*recipetest.Minute)))
	r.Film.WetLimit.ByVessel = map[sequence.Vessel]sequence.Elapsed{sequence.Tray: 15 * recipetest.Minute, sequence.Hangers: 60 * recipetest.Minute}
	p := planOf(t, r, sequence.Conditions{})
	codes := map[string]sequence.Caution{}
	for _, c := range p.Cautions {
		codes[c.Code] = c
	}
	if codes["test-limit"].Vessel != sequence.Hangers || codes["clip-corners"].Sheets != 3 {
		t.Errorf("cautions: %v", codes)
	}
	if s := p.Shorten[0]; s.Code != "vessel" || s.Step != "" {
		t.Errorf("proposed first: %+v; expected hangers", s)
	}
	// Loaded at 0, 15, 30 s; into the developer at 1:30, 1:40, 1:50; out at 6:30, 8:40,
	// 11:50; in plain water the first is from 7:00, the second from 9:10; all go on at 12:20.
	recipetest.ExpectInstants(t, "turns in plain water", recipetest.CuesOf(p.Cues, sequence.CueShuffle, "stop"), 610, 670, 730)
	var ready []int
	for _, c := range recipetest.CuesOf(p.Cues, sequence.CueReady, "develop") {
		ready = append(ready, c.Sheet)
	}
	if !slices.Equal(ready, []int{1, 2, 3}) {
		t.Errorf("called by number: %v", ready)
	}
	recipetest.ExpectInstants(t, "called twenty seconds ahead", recipetest.CuesOf(p.Cues, sequence.CueReady, "develop"), 370, 500, 690)
}
