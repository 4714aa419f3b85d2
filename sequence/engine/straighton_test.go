package engine

// A film test whose sheets go straight on: each is pulled at its own time, has the acid stop
// bath's time, and goes into the fixer by itself.

import (
	"slices"
	"testing"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

// straightOn is three sheets in hangers. By hand: into the developer at 1:00, pulled at 3:00, 4:00
// and 6:00, into the fixer at 3:30, 4:30 and 6:30, all out of it at 10:30.
func straightOn() sequence.Recipe {
	develop := recipetest.Pulled(recipetest.Bath(sequence.Develop, 0), 2*recipetest.Minute, 3*recipetest.Minute, 5*recipetest.Minute)
	develop.StraightOn = true
	stop := recipetest.Continuous(recipetest.Bath(sequence.StopBath, 30*recipetest.Second))
	stop.Bath = "stop"
	r := recipetest.Recipe(sequence.Hangers, 3, recipetest.Bath(sequence.Presoak, recipetest.Minute), develop, stop,
		recipetest.Agitated(recipetest.Bath(sequence.Fix, 4*recipetest.Minute), recipetest.Periodic(20*recipetest.Second, 5*recipetest.Second, recipetest.Minute)))
	r.Baths = []sequence.Bath{recipetest.AcidStop()}
	return r
}

// places is in which step each sheet is.
func places(s State, now sequence.Elapsed) (list []int) {
	for _, sheet := range s.Snapshot(now).Sheets {
		list = append(list, sheet.Step)
	}
	return list
}

func TestEachSheetGoesStraightOn(t *testing.T) {
	p := planOf(t, straightOn(), sequence.Conditions{})
	n := begun(t, p, 0)
	n.do(sequence.Wake{}, 5*recipetest.Minute)
	if got := places(n.s, 5*recipetest.Minute); !slices.Equal(got, []int{3, 3, 1}) {
		t.Errorf("at 5:00 in %v; expected two sheets in the fixer, one in the developer", got)
	}
	n.do(sequence.Wake{}, 11*recipetest.Minute)
	expectMoved(t, n, "fix", 210, 270, 390)
	if got := recipetest.EventsOf(n.events, sequence.SetAside); len(got) != 0 {
		t.Errorf("set aside in water: %s", recipetest.KindsOf(got))
	}
	began := map[string]int{}
	for _, e := range recipetest.EventsOf(n.events, sequence.StepBegan) {
		began[e.Step]++
	}
	ended := map[string]float64{}
	for _, e := range recipetest.EventsOf(n.events, sequence.StepEnded) {
		ended[e.Step] += e.At.Seconds()
	}
	if began["stop"] != 1 || began["fix"] != 1 || ended["stop"] != 390 || ended["fix"] != 630 || n.s.Over() != sequence.SessionDone {
		t.Errorf("began %v, ended %v, %s; expected each once, stop to 6:30, fix to 10:30", began, ended, n.s.Over())
	}
	for k, sheet := range n.s.Snapshot(11 * recipetest.Minute).Sheets {
		if sheet.Wet != 630*recipetest.Second {
			t.Errorf("sheet %d wet for %v; expected 10:30", k+1, sheet.Wet)
		}
	}
	// The fixer is agitated from the first sheet in: 20 s, then at each whole minute from 3:30.
	recipetest.ExpectInstants(t, "agitation of the fixer", recipetest.CuesOf(p.Cues, sequence.CueAgitate, "fix"), 210, 270, 330, 390, 450, 510, 570)
	recipetest.ExpectInstants(t, "each called into the fixer", recipetest.CuesOf(p.Cues, sequence.CueTransfer, "stop"), 210, 270, 390)
}

// A hold keeps a sheet in the stop bath, whose agitation is over; those in the fixer are agitated
// still, and the developer too. A hand that was late, and a press taken back, move one sheet alone.
func TestStraightOnWithWetHands(t *testing.T) {
	n := begun(t, planOf(t, straightOn(), sequence.Conditions{}), 0)
	n.do(sequence.Hold{}, 245*recipetest.Second) // sheet 1 in the fixer, sheet 2 in the stop bath
	n.do(sequence.Wake{}, 285*recipetest.Second)
	if got := places(n.s, 285*recipetest.Second); !slices.Equal(got, []int{3, 2, 1}) {
		t.Errorf("held, in %v", got)
	}
	if h, _ := n.s.Hands(272 * recipetest.Second); h.Do != sequence.Agitating || h.Step != "fix" {
		t.Errorf("while sheet 2 is held %+v; expected the agitation of sheet 1 in the fixer", h)
	}
	n.do(sequence.EndHold{}, 290*recipetest.Second)
	expectMoved(t, n, "fix", 210, 290)
	n.do(sequence.MarkLate{Sheet: 2}, 295*recipetest.Second)
	if got := places(n.s, 295*recipetest.Second); !slices.Equal(got, []int{3, 2, 1}) {
		t.Errorf("after a late hand in %v", got)
	}
	n.do(sequence.MoveOn{}, 300*recipetest.Second)
	n.do(sequence.Wake{}, 11*recipetest.Minute)
	expectMoved(t, n, "fix", 210, 290, 300, 390)

	n = begun(t, planOf(t, straightOn(), sequence.Conditions{}), 0)
	n.do(sequence.MoveOn{}, 200*recipetest.Second) // ten seconds early out of the stop bath
	n.do(sequence.Undo{}, 203*recipetest.Second)
	if got := places(n.s, 203*recipetest.Second); !slices.Equal(got, []int{2, 1, 1}) {
		t.Errorf("taken back, in %v", got)
	}
	n.do(sequence.Wake{}, 11*recipetest.Minute)
	expectMoved(t, n, "fix", 200, 210, 270, 390)
}
