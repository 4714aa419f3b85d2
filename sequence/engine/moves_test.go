package engine

// Film that moves early, late, held or aside: what the others in its bath get, and since when
// what did not move is overdue. Every instant is worked out by hand.

import (
	"reflect"
	"slices"
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

// Whatever lies between, an overrun is counted from when the move was due by the film's own time.
func TestOverdueSinceItWasDue(t *testing.T) {
	for _, c := range []struct {
		name     string
		recipe   sequence.Recipe
		aside    int
		from, to time.Duration // nobody was there
		since    time.Duration
	}{
		{"the first sheet goes in at 0", three(), 0, -5 * time.Second, 30 * time.Second, 0},
		{"the second at 15 s", three(), 0, 5 * time.Second, 40 * time.Second, 15 * time.Second},
		{"all at 2:00", recipetest.FourInHangers(), 0, 100 * time.Second, 130 * time.Second, 2 * time.Minute},
		{"the rest at 2:00, one being aside", recipetest.FourInHangers(), 1, 100 * time.Second, 130 * time.Second, 2 * time.Minute},
		{"what drains after the press is asked for at 2:00", waiting(), 0, 100 * time.Second, 150 * time.Second, 2 * time.Minute},
	} {
		n := begun(t, planOf(t, c.recipe, sequence.Conditions{}), -10*time.Second)
		if c.aside > 0 {
			n.do(sequence.SetSheetAside{Sheet: c.aside}, time.Minute)
		}
		n.do(sequence.Gap{From: c.from, To: c.to}, c.to)
		if got := n.s.Snapshot(c.to).Overdue; got != c.to-c.since {
			t.Errorf("%s: overdue by %v at %v; expected %v", c.name, got, c.to, c.to-c.since)
		}
	}
}

// A sheet that is late, or set aside, while moving on is held: nothing is overdue before its time
// is up, and what is late is from when it should have gone.
func TestOverdueWhileHeld(t *testing.T) {
	n := begun(t, planOf(t, recipetest.FourInHangers(), sequence.Conditions{}), 0)
	n.do(sequence.Hold{}, 121*time.Second)
	n.do(sequence.SetSheetAside{Sheet: 2}, 123*time.Second)
	if l := n.s.Snapshot(123 * time.Second); l.Overdue != 0 {
		t.Errorf("one set aside: overdue by %v", l.Overdue)
	}
	n.do(sequence.MarkLate{Sheet: 1}, 125*time.Second)
	if l := n.s.Snapshot(125 * time.Second); l.Overdue != 5*time.Second {
		t.Errorf("late: overdue by %v; expected 5 s, from 2:00", l.Overdue)
	}
}

// A press in a row that is held moves the next sheet at once: what drains has done so by then.
func TestAPressInARowThatIsHeld(t *testing.T) {
	for _, waits := range []bool{true, false} {
		soak := recipetest.Drained(recipetest.Shuffled(recipetest.Bath(sequence.Presoak, 2*recipetest.Minute)), 5*recipetest.Second)
		soak.WaitForPerson = waits
		n := begun(t, planOf(t, recipetest.Recipe(sequence.Tray, 3, soak, recipetest.Shuffled(recipetest.Bath(sequence.Develop, 8*recipetest.Minute))), sequence.Conditions{}), 0)
		first := 150.0 // by itself
		if waits {
			n.do(sequence.MoveOn{}, 150*recipetest.Second)
			first = 155
		}
		n.do(sequence.Wake{}, 156*recipetest.Second)
		n.do(sequence.Hold{}, 156*recipetest.Second)
		n.do(sequence.MoveOn{}, 158*recipetest.Second)
		expectMoved(t, n, "develop", first, 158)
	}
}

// A row's first sheet that leaves early gives its time to the others, also where it drains first,
// and where one of them was set aside; the second gives its own to nobody. Taken back, all have
// their own again.
func TestWhoGivesItsTimeToTheRow(t *testing.T) {
	drained := three()
	drained.Steps[1].Drain, drained.Steps[1].WaitForPerson = 5*time.Second, true
	for _, c := range []struct {
		name   string
		recipe sequence.Recipe
		aside  int
		press  time.Duration
		want   []float64 // out of the developer
	}{ // in at 150, 160, 170 s
		{"the first", three(), 0, 400 * time.Second, []float64{400, 410, 420}},
		{"the first, when it has dripped", drained, 0, 400 * time.Second, []float64{405, 415, 425}},
		{"the first of two", three(), 3, 400 * time.Second, []float64{400, 410}},
		{"the second", three(), 0, 633 * time.Second, []float64{630, 633, 650}},
	} {
		n := begun(t, planOf(t, c.recipe, sequence.Conditions{}), 0)
		n.do(sequence.Wake{}, 200*time.Second)
		if c.aside > 0 {
			n.do(sequence.SetSheetAside{Sheet: c.aside}, 200*time.Second)
		}
		n.do(sequence.Wake{}, c.press)
		before := n.s
		n.do(sequence.MoveOn{}, c.press)
		back := slices.Clone(n.events)
		n.do(sequence.Wake{}, 700*time.Second)
		expectMoved(t, n, "stop", c.want...)
		m := &session{s: before, events: back}
		m.do(sequence.MoveOn{}, c.press)
		m.do(sequence.Undo{}, c.press+time.Second)
		if got := m.s.Snapshot(c.press + time.Second).Next.At; c.want[0] != 630 && got != 630*time.Second {
			t.Errorf("%s: taken back, the first leaves at %v", c.name, got)
		}
	}
}

// What the first has had when it has dripped counts whole: sheets that came in half a minute later
// leave half a minute later.
func TestTheTimeThatIsGivenEndsWithTheDrain(t *testing.T) {
	r := three()
	r.Steps[1].Drain, r.Steps[1].WaitForPerson = 5*time.Second, true
	n := begun(t, planOf(t, r, sequence.Conditions{}), 0)
	n.do(sequence.Wake{}, 151*time.Second)
	n.do(sequence.Hold{}, 151*time.Second)
	n.do(sequence.EndHold{}, 180*time.Second) // the others go in at 180 and 190 s, not at 160 and 170
	n.do(sequence.MoveOn{}, 400*time.Second)
	n.do(sequence.Wake{}, 500*time.Second)
	expectMoved(t, n, "stop", 405, 435, 445)
}

// A sheet that is still dry goes back to being dry, those that moved together go back together,
// and none that was thrown back is thrown back again because of another.
func TestLateOnesAreWhereTheyWere(t *testing.T) {
	n := begun(t, planOf(t, three(), sequence.Conditions{}), 0)
	n.do(sequence.Wake{}, 16*recipetest.Second)
	n.do(sequence.MarkLate{Sheet: 2}, 16*recipetest.Second)
	if got := places(n.s, 16*recipetest.Second); !slices.Equal(got, []int{0, -1, -1}) {
		t.Errorf("the second is not in yet: %v", got)
	}

	n = begun(t, planOf(t, three(), sequence.Conditions{}), 0)
	n.do(sequence.Wake{}, 655*recipetest.Second) // out of the developer at 630, 640, 650
	n.do(sequence.MarkLate{Sheet: 1}, 655*recipetest.Second)
	if l := n.s.Snapshot(655 * recipetest.Second); !l.InRow || l.Next.Sheet != 1 {
		t.Errorf("the first alone is still to come: in a row %t, next %+v", l.InRow, l.Next)
	}
	n.do(sequence.MarkLate{Sheet: 3}, 656*recipetest.Second)
	for sheet, refused := range map[int]bool{1: true, 2: false, 3: true} {
		if got := n.s.Refuse(sequence.MarkLate{Sheet: sheet}, 657*recipetest.Second).Refused(); got != refused {
			t.Errorf("sheet %d late once more: refused %t", sheet, got)
		}
	}

	r := recipetest.Recipe(sequence.Tray, 3, recipetest.Shuffled(recipetest.Bath(sequence.Fix, 2*recipetest.Minute)),
		recipetest.Into(recipetest.Bath(sequence.Wash, 4*recipetest.Minute), sequence.Hangers), recipetest.Into(recipetest.Bath(sequence.WettingAgent, recipetest.Minute), sequence.Hangers))
	n = begun(t, planOf(t, r, sequence.Conditions{}), 0)
	for n.s.where(2) < 2 {
		at, _ := n.s.Due()
		n.do(sequence.Wake{}, at)
	}
	n.do(sequence.MarkLate{Sheet: 2}, n.s.At()+time.Second)
	if got := places(n.s, n.s.At()); !slices.Equal(got, []int{1, 1, 1}) {
		t.Errorf("out of hangers all come back: %v", got)
	}
}

// Setting aside the last sheet of a bath ends that bath, from the first one on.
func TestABathEndsWithWhatIsSetAside(t *testing.T) {
	n := begun(t, planOf(t, three(), sequence.Conditions{}), 0)
	n.do(sequence.Wake{}, 645*recipetest.Second)
	n.do(sequence.SetSheetAside{Sheet: 3}, 645*recipetest.Second) // 1 and 2 left the developer at 630, 640
	if ended := recipetest.EventsOf(n.events, sequence.StepEnded); len(ended) != 2 || ended[1].Step != "develop" || ended[1].At != 645*recipetest.Second {
		t.Errorf("ended: %s", recipetest.KindsOf(ended))
	}
	n = begun(t, planOf(t, recipetest.FourInHangers(), sequence.Conditions{}), 0)
	n.do(sequence.SetSheetAside{Sheet: 2}, 60*recipetest.Second)
	n.do(sequence.Wake{}, 130*recipetest.Second)
	if got := places(n.s, 130*recipetest.Second); !slices.Equal(got, []int{1, 4, 1, 1}) {
		t.Errorf("aside out of the first bath: %v", got)
	}
}

// At the end what waits in plain water is lifted; the state before knows nothing of it.
func TestTheEndLiftsWhatIsSetAside(t *testing.T) {
	n := begun(t, planOf(t, recipetest.FourInHangers(), sequence.Conditions{}), 0)
	n.do(sequence.SetSheetAside{Sheet: 2}, 60*recipetest.Second)
	for n.s.Over() == "" {
		at, _ := n.s.Due()
		for _, e := range Decide(n.s, sequence.Wake{}, at) {
			before, kept := n.s, slices.Clone(n.s.filmState.film)
			n.s = Apply(n.s, e)
			if !reflect.DeepEqual(before.filmState.film, kept) {
				t.Errorf("%s changed the state that it was applied to", e.Kind)
			}
		}
	}
	if list := n.s.StaysSetAside(); len(list) != 1 || list[0].Out != n.s.At() {
		t.Errorf("%+v; expected out at the end", list)
	}
}

// At one moment sheets move in the order of their numbers, and a pull out of the first bath is
// recorded as one.
func TestPulledAtOneMoment(t *testing.T) {
	r := recipetest.Recipe(sequence.Hangers, 2, recipetest.Pulled(recipetest.Bath(sequence.Develop, 0), 5*recipetest.Minute, 5*recipetest.Minute), recipetest.Bath(sequence.Fix, 5*recipetest.Minute))
	n := begun(t, planOf(t, r, sequence.Conditions{}), 0)
	n.do(sequence.Wake{}, 5*recipetest.Minute)
	if p := recipetest.EventsOf(n.events, sequence.Pulled); len(p) != 2 || p[0].Sheet != 1 || p[1].Sheet != 2 {
		t.Errorf("pulled: %s", recipetest.KindsOf(p))
	}
}

// A word for a moment before the last event is recorded at that event's, with the moment that it
// was said for; a reading keeps the one at which it was taken, and a cue has no other.
func TestAWordForAMomentBefore(t *testing.T) {
	n := begun(t, planOf(t, recipetest.FourInHangers(), sequence.Conditions{}), 0)
	n.do(sequence.AddNote{Text: "tide is in"}, 30*time.Second)
	read := n.do(sequence.TakeReading{T: 20, Ago: 10 * time.Second, Source: sequence.ByHand}, 29*time.Second)
	if len(read) != 1 || read[0].At != 30*time.Second || *read[0].Since != 19*time.Second {
		t.Errorf("read: %+v", read)
	}
	for _, e := range n.do(sequence.MoveOn{}, 28*time.Second) {
		since := sequence.Elapsed(0)
		if e.Since != nil {
			since = *e.Since
		}
		if cue := e.Kind == sequence.CueGiven; e.At != 30*time.Second || cue != (e.Since == nil) || !cue && since != 28*time.Second {
			t.Errorf("%s at %v since %v", e.Kind, e.At, since)
		}
	}
}

// The person's acts are numbered on, whatever they are: no two alike, and none 0, which is no act.
func TestActsAreNumberedOn(t *testing.T) {
	n := begun(t, planOf(t, recipetest.FourInHangers(), sequence.Conditions{}), 0)
	var acts []int
	for i, c := range []sequence.Command{sequence.Hold{}, sequence.TakeReading{T: 20, Source: sequence.ByHand}, sequence.EndHold{}, sequence.TakeReading{T: 20.1, Source: sequence.ByHand}} {
		acts = append(acts, n.do(c, sequence.Elapsed(i+1)*time.Second)[0].Act)
	}
	if !slices.Equal(acts, []int{1, 2, 3, 4}) {
		t.Errorf("numbered %v", acts)
	}
}

// A reading by hand that is taken back is gone, though a sensor has read since.
func TestAReadingIsTakenBackBeneathASensors(t *testing.T) {
	n := begun(t, planOf(t, recipetest.FourInHangers(), sequence.Conditions{}), 0)
	n.do(sequence.TakeReading{T: 24, Source: sequence.ByHand}, 60*time.Second)
	n.do(sequence.TakeReading{T: 20, Source: sequence.BySensor}, 62*time.Second)
	n.do(sequence.Undo{}, 64*time.Second)
	if got, _, _ := n.s.Reckoned(60 * time.Second); got != 20 {
		t.Errorf("at the moment of the reading the bath is reckoned to be at %v; expected 20", got)
	}
}

// An undo gives none of the cues that fell due while film was elsewhere, and neither does a gap.
func TestNoCueOfATimeThatIsOver(t *testing.T) {
	r := recipetest.FourInHangers()
	r.Steps[0] = recipetest.Agitated(r.Steps[0], recipetest.Periodic(0, 5*recipetest.Second, 30*recipetest.Second))
	for name, list := range map[string][]ask{
		"undo":   {{55 * time.Second, sequence.MoveOn{}}, {63 * time.Second, sequence.Undo{}}},
		"gap":    {{63 * time.Second, sequence.Gap{From: 55 * time.Second, To: 63 * time.Second}}},
		"resume": {{63 * time.Second, sequence.Resume{From: 55 * time.Second}}},
	} {
		n := begun(t, planOf(t, r, sequence.Conditions{}), 0)
		n.do(sequence.Wake{}, 55*time.Second)
		for _, a := range list {
			n.do(a.c, a.after)
		}
		if told := n.s.Ahead(0, 63*time.Second); len(told) > 0 || n.s.Snapshot(63*time.Second).LastCue != nil {
			t.Errorf("%s: still told %v", name, told)
		}
		n.do(sequence.Wake{}, 100*time.Second)
		var given []float64
		for _, e := range recipetest.EventsOf(n.events, sequence.CueGiven) {
			if e.Cue == sequence.CueAgitate && e.Step == "presoak" {
				given = append(given, e.At.Seconds())
			}
		}
		if !slices.Equal(given, []float64{0, 30, 90}) {
			t.Errorf("%s: agitated at %v; expected 0, 30 and 90 s, and nothing of 60 s", name, given)
		}
	}
}
