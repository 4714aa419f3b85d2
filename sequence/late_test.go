package sequence

// Late hands and film tests: sheets that are elsewhere than the rest of the load.

import (
	"slices"
	"strings"
	"testing"
)

// Late says that a sheet is still where it was: it goes on there, and is held.
func TestLate(t *testing.T) {
	n := begun(t, planOf(t, three(), Conditions{}), 0)
	n.do(Wake{}, 645*sec) // sheets 1 and 2 went at 630 and 640
	n.do(Late{Sheet: 2}, 645*sec)
	l := n.s.Look(645 * sec)
	if got := []int{l.Sheets[0].Step, l.Sheets[1].Step, l.Sheets[2].Step}; !slices.Equal(got, []int{2, 1, 1}) {
		t.Errorf("sheets are in %v; expected 2, 1, 1", got)
	}
	if !l.Held {
		t.Error("not held; expected to wait for the person")
	}
	n.do(Wake{}, 655*sec)
	if why := n.s.Refuse(Late{Sheet: 2}, 655*sec); why == "" {
		t.Error("a second late for the same sheet would throw it back another bath")
	}
	n.do(Late{Sheet: 2}, 655*sec)
	n.do(Go{}, 656*sec)
	n.do(Wake{}, 700*sec)
	expectMoved(t, n, "stop", 630, 640, 656, 666)
	if why := n.s.Refuse(Late{Sheet: 2}, 690*sec); why != "" {
		t.Errorf("late once more, after it has moved: %q", why)
	}
	// The stop bath's 30 s count from the sheet that came last.
	n.do(Wake{}, 697*sec)
	expectMoved(t, n, "fix", 696)
}

// In a load that moves together late brings all of it back.
func TestLateTogether(t *testing.T) {
	n := begun(t, planOf(t, hung(), Conditions{}), 0)
	n.do(Wake{}, 125*sec)
	n.do(Late{Sheet: 3}, 125*sec)
	for k, s := range n.s.Look(125 * sec).Sheets {
		if s.Step != 0 {
			t.Errorf("sheet %d in step %d; expected 0", k+1, s.Step)
		}
	}
	n.do(Go{}, 140*sec)
	n.do(Wake{}, 660*sec)
	expectMoved(t, n, "stop", 650) // 140 + 510
}

// In a film test late concerns the sheet taken out, nobody in the developer.
func TestLateInFilmTest(t *testing.T) {
	r := recipeOf(Hangers, 3, bathFor(Presoak, 2*mins),
		bathFor(Develop, 0).taking(5*mins, 7*mins, 9*mins), bathFor(StopBath, 30*sec), bathFor(Fix, 5*mins))
	n := begun(t, planOf(t, r, Conditions{}), 0)
	n.do(Wake{}, 425*sec) // sheet 1 out at 420
	n.do(Late{Sheet: 1}, 425*sec)
	for k, s := range n.s.Look(425 * sec).Sheets {
		if s.Step != 1 {
			t.Errorf("sheet %d in step %d; expected the developer", k+1, s.Step)
		}
	}

	// And the other way round: sheet 1 in the stop bath stays there while those in
	// the developer, which came together, go back to the presoak.
	n = begun(t, planOf(t, r, Conditions{}), 0)
	n.do(Wake{}, 425*sec)
	n.do(Late{Sheet: 2}, 425*sec)
	var at []int
	for _, s := range n.s.Look(425 * sec).Sheets {
		at = append(at, s.Step)
	}
	if err := whole(n.s); err != nil || !slices.Equal(at, []int{2, 0, 0}) {
		t.Errorf("sheets in %v, %v; expected 2, 0, 0", at, err)
	}
}

// A gap in the middle of turning: nobody turned, so what is left of the window gets
// the rhythm that it had, and still ends with whole rounds.
func TestTurnsAfterAGap(t *testing.T) {
	n := begun(t, planOf(t, three(), Conditions{}), 0)
	// Developer: last in at 170, first out at 630: 460 s are 15.3 rounds, so 45 turns.
	n.do(Gap{From: 300 * sec, To: 500 * sec}, 500*sec)
	n.do(Wake{}, 630*sec)
	var turns []Event
	for _, e := range only(n.events, CueGiven) {
		if e.Cue == CueTurn && e.Step == "develop" {
			turns = append(turns, e)
		}
	}
	if len(turns)%3 != 0 {
		t.Errorf("%d turns; expected whole rounds of 3", len(turns))
	}
	for i := range turns[1:] {
		d := turns[i+1].At - turns[i].At
		if apart := d.Seconds(); turns[i].At >= 500*sec && (apart < 460./45*0.75 || apart > 460./45*1.25) {
			t.Errorf("after the gap turns come %.2f s apart; expected about 10.2", apart)
		}
	}
}

// A sheet taken out has its time in the next bath and is then set aside.
func TestSetAside(t *testing.T) {
	r := recipeOf(Hangers, 3, bathFor(Presoak, 2*mins),
		bathFor(Develop, 0).taking(5*mins, 7*mins, 9*mins), bathFor(StopBath, 30*sec), bathFor(Fix, 5*mins))
	n := begun(t, planOf(t, r, Conditions{}), 0)
	n.do(Wake{}, 20*mins)
	want := []struct {
		sheet int
		at    Elapsed
	}{{1, 450 * sec}, {2, 570 * sec}} // the last needs no wait
	got := only(n.events, SetAside)
	if len(got) != len(want) {
		t.Fatalf("set aside: %s; expected two", kinds(got))
	}
	for i, w := range want {
		if got[i].Sheet != w.sheet || got[i].At != w.at || got[i].Step != "stop" {
			t.Errorf("set aside %s; expected sheet %d at %v", kinds(got[i:i+1]), w.sheet, w.at)
		}
	}
}

// While moving on is held in a film test, the sheets taken out already are still
// agitated, and set aside when they have had their time.
func TestHoldInFilmTest(t *testing.T) {
	r := recipeOf(Hangers, 3, bathFor(Presoak, 2*mins),
		bathFor(Develop, 0).taking(5*mins, 5*mins+10*sec, 9*mins), bathFor(StopBath, 60*sec).steadily(), bathFor(Fix, 5*mins))
	n := begun(t, planOf(t, r, Conditions{}), 0)
	n.do(Hold{}, 425*sec) // sheet 1 out at 420, sheet 2 due at 430
	n.do(Wake{}, 490*sec)
	var rests []Event
	for _, e := range only(n.events, CueGiven) {
		if e.Cue == CueRest && e.Step == "stop" && e.Sheet == 1 {
			rests = append(rests, e)
		}
	}
	if len(rests) != 1 || rests[0].At != 480*sec {
		t.Errorf("rest for sheet 1: %s; expected at 480 s", kinds(rests))
	}
}

// A film test in a tray that breaks its film's limit says so, proposes hangers, and
// says how the sheets are told apart; those that wait are turned once a minute.
func TestFilmTestKindly(t *testing.T) {
	r := recipeOf(Tray, 3, bathFor(Presoak, mins).shuffled(), bathFor(Develop, 0).taking(5*mins, 7*mins, 10*mins).shuffled(),
		bathFor(StopBath, 30*sec), bathFor(Fix, 5*mins).shuffled())
	r.Film.WetLimit.ByVessel = map[Vessel]Elapsed{Tray: 15 * mins, Hangers: 60 * mins}
	p := planOf(t, r, Conditions{})
	codes := map[string]string{}
	for _, c := range p.Cautions {
		codes[c.Code] = c.Text
	}
	if !strings.Contains(codes["test-limit"], "hangers") || !strings.Contains(codes["clip-corners"], "sheet 1 no clip; sheet 2 top left; sheet 3 bottom right.") {
		t.Errorf("cautions: %v", codes)
	}
	if s := p.Shorten[0]; s.Code != "vessel" || s.Step != "" {
		t.Errorf("proposed first: %+v; expected hangers", s)
	}
	// Loaded at 0, 15, 30 s; into the developer at 1:30, 1:40, 1:50; out at 6:30, 8:40,
	// 11:50; the first is in plain water from 7:00, all go on at 12:20.
	expectInstants(t, "turns in plain water", of(p.Cues, CueTurn, "stop"), 480, 540, 600, 660, 720)
	var ready []int
	for _, c := range of(p.Cues, CueReady, "develop") {
		ready = append(ready, c.Sheet)
	}
	if !slices.Equal(ready, []int{1, 2, 3}) {
		t.Errorf("called by number: %v", ready)
	}
	expectInstants(t, "called twenty seconds ahead", of(p.Cues, CueReady, "develop"), 370, 500, 690)
}
