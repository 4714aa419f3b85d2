package engine

// What was heard or moved lately, and how long that counts; what a foreign record says of
// sheets and steps that are not there.

import (
	"math"
	"reflect"
	"slices"
	"testing"
	"time"

	"example.org/wetside/chem/estimate"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
	"example.org/wetside/sequence/schedule"
)

// A cue that was given is told for two seconds more, that instant included.
func TestGivenCuesAreToldForTwoSeconds(t *testing.T) {
	n := begun(t, planOf(t, recipetest.FourInHangers(), sequence.Conditions{}), 0)
	n.s.givenCues = givenCues{at: -sequence.Never, heard: sequence.Never}
	at := 30 * time.Second
	give := func(e sequence.Elapsed) {
		n.s = Apply(n.s, sequence.Event{At: e, Kind: sequence.CueGiven, Cue: sequence.CueAgitate})
	}
	lately := func() (list []sequence.Elapsed) {
		for _, c := range n.s.givenCues.cues {
			list = append(list, c.At)
		}
		return list
	}
	give(at)
	give(at + 2*time.Second)
	if got := lately(); !slices.Equal(got, []sequence.Elapsed{at, at + 2*time.Second}) {
		t.Errorf("two seconds later %v", got)
	}
	if got := n.s.Ahead(at, at+2*time.Second); len(got) != 1 || got[0].At != at {
		t.Errorf("from the first to before the second: %v", got)
	}
	if got := n.s.Ahead(at+1, at+2*time.Second+1); len(got) != 1 || got[0].At != at+2*time.Second {
		t.Errorf("behind the first to the second: %v", got)
	}
	give(at + 2*time.Second + 1)
	if got := lately(); !slices.Equal(got, []sequence.Elapsed{at + 2*time.Second, at + 2*time.Second + 1}) {
		t.Errorf("a moment more: %v", got)
	}
	g := n.s.givenCues.forgetBefore(at + 2*time.Second + 1)
	if len(g.cues) != 1 || g.cues[0].At != at+2*time.Second+1 || g.heard != n.s.givenCues.heard || len(n.s.givenCues.cues) != 2 {
		t.Errorf("forgotten before that: %+v", g)
	}
	if give(at + time.Minute); len(lately()) != 1 {
		t.Errorf("a minute later: %v", lately())
	}
}

// The cues that are to come are told from a moment on, up to before another.
func TestAheadIsFromAMomentToBeforeAnother(t *testing.T) {
	n := begun(t, planOf(t, three(), sequence.Conditions{}), 0)
	all := n.s.Ahead(-sequence.Never, sequence.Never)
	for _, from := range all[len(all)/3:][:5] {
		for _, to := range all[2*len(all)/3:][:5] {
			var want []sequence.Cue
			for _, c := range all {
				if c.At >= from.At && c.At < to.At {
					want = append(want, c)
				}
			}
			if got := n.s.Ahead(from.At, to.At); !slices.Equal(got, want) {
				t.Fatalf("from %v to %v: %v; expected %v", from.At, to.At, got, want)
			}
		}
	}
}

// For five minutes a sheet may still be found where it was, also one that has left the last bath.
func TestLateSheetsForFiveMinutes(t *testing.T) {
	n := begun(t, planOf(t, recipetest.FourInHangers(), sequence.Conditions{}), 0)
	n.do(sequence.Wake{}, 125*recipetest.Second) // all went at 120
	for after, want := range map[time.Duration]int{5 * time.Minute: 1, 5*time.Minute + 1: 0} {
		if got := n.s.LateSheets(120*recipetest.Second + after); len(got) != want {
			t.Errorf("%v after the move: %v", after, got)
		}
	}
	m := begun(t, planOf(t, three(), sequence.Conditions{}), 0)
	for m.s.where(1) < len(m.s.plan.Steps) {
		at, ok := m.s.Due()
		if !ok {
			t.Fatal("nothing is due")
		}
		m.do(sequence.Wake{}, at)
	}
	out := m.s.At()
	if got := m.s.LateSheets(out); len(got) < 2 || got[0].Sheet != 2 || got[1].Sheet != 1 {
		t.Errorf("out of the last bath, the second just now: %v", got)
	}
	first := m.s.filmState.film.Row(m.s.plan, len(m.s.plan.Steps)-1)[0].Out
	if got := m.s.LateSheets(first + 5*time.Minute + 1); slices.ContainsFunc(got, func(l LateSheet) bool { return l.Sheet == 1 }) {
		t.Errorf("more than five minutes after the first: %v", got)
	}
	one := begun(t, planOf(t, recipetest.Recipe(sequence.Tray, 1, recipetest.Bath(sequence.Fix, 2*recipetest.Minute), recipetest.Bath(sequence.Wash, 2*recipetest.Minute)), sequence.Conditions{}), 0)
	one.do(sequence.Wake{}, time.Second)
	if got := one.s.LateSheets(time.Second); !slices.Equal(got, []LateSheet{{1, true}}) {
		t.Errorf("a sheet alone: %v", got)
	}
	bare, err := NewState(one.s.plan)
	if err != nil || bare.LateSheets(0) != nil || bare.SheetsToSetAside(0) != nil || bare.LimitAt() != nil {
		t.Errorf("not begun: %v", err)
	}
	if _, ok := bare.Advise(0); ok {
		t.Error("advice before the beginning")
	}
}

// What a record says of a sheet that is in no bath, or of a step that is not there, changes no film.
func TestAForeignRecordMovesNothing(t *testing.T) {
	n := begun(t, planOf(t, three(), sequence.Conditions{}), 0)
	n.do(sequence.Wake{}, 16*recipetest.Second) // sheet 3 is dry
	for _, e := range []sequence.Event{
		{At: 17 * recipetest.Second, Kind: sequence.SetAside, Sheet: 3, Source: sequence.ByHand},
		{At: 17 * recipetest.Second, Kind: sequence.CueGiven, Cue: sequence.CueShuffle, Step: "nowhere"},
		{At: 17 * recipetest.Second, Kind: sequence.Transferred, Step: "develop", Sheet: 3},
		{At: 17 * recipetest.Second, Kind: sequence.Transferred, Step: "develop", Sheet: 4},
		{At: 17 * recipetest.Second, Kind: sequence.Pulled, Step: "nowhere", Sheet: 1},
		{At: 17 * recipetest.Second, Kind: sequence.ReadingTaken},
		{At: 17 * recipetest.Second, Kind: sequence.LateReported},
		{At: 17 * recipetest.Second, Kind: sequence.LateReported, Sheet: 3},
		{At: 17 * recipetest.Second, Kind: sequence.LateReported, Sheet: -1},
		{At: 17 * recipetest.Second, Kind: sequence.LateReported, Sheet: 4},
	} {
		s := Apply(n.s, e)
		if !reflect.DeepEqual(s.filmState.film, n.s.filmState.film) || s.filmState.readings != nil {
			t.Errorf("%+v moved film: %v", e, s.filmState.film)
		}
	}
	for n.s.where(0) < len(n.s.plan.Steps) {
		at, _ := n.s.Due()
		n.do(sequence.Wake{}, at)
	}
	for _, e := range []sequence.Event{{Kind: sequence.SetAside, Sheet: 1, Source: sequence.ByHand}, {Kind: sequence.Pulled, Step: "nowhere", Sheet: 1}} {
		e.At = n.s.At()
		if s := Apply(n.s, e); !reflect.DeepEqual(s.filmState.film, n.s.filmState.film) {
			t.Errorf("a sheet that is out was moved by %s", e.Kind)
		}
	}
	all := Apply(begun(t, planOf(t, recipetest.Recipe(sequence.Hangers, 1, recipetest.Bath(sequence.Fix, recipetest.Minute)), sequence.Conditions{}), 0).s, sequence.Event{Kind: sequence.Transferred, Step: "fix"})
	if l := Apply(all, sequence.Event{Kind: sequence.SetAside, Sheet: 1, Source: sequence.ByHand}).Snapshot(0); !l.Sheets[0].Aside || l.Wettest != 0 {
		t.Errorf("the only sheet is aside: the wettest is %d of %+v", l.Wettest, l.Sheets)
	}
}

// A sensor's readings count for how well the bath is known once in five seconds, and the last of
// them always: by the estimate's own steps.
func TestASensorsReadingsCountOnceInFiveSeconds(t *testing.T) {
	p := developing(t, &sequence.Thermometers{Sensor: sequence.Thermometer{Within: 0.2}, Hand: sequence.Thermometer{Within: 0.3}})
	n := begun(t, p, 0)
	b := schedule.EstimatedBath(p, 0)
	s := b.Until(b.Begin(schedule.PlannedReading(p, 0)), 0).Counting()
	second := func(i int) sequence.Elapsed { return sequence.Elapsed(i) * time.Second }
	for _, c := range []struct {
		at     int
		hand   bool
		counts bool
	}{{5, false, true}, {7, false, false}, {9, true, true}, {13, false, false}, {14, false, true}, {18, false, false}, {19, false, true}, {21, false, false}, {23, false, true}} {
		source, by := sequence.BySensor, estimate.Reading{}.By
		if c.hand {
			source = sequence.ByHand
		} else {
			by = estimate.Sensor
		}
		n.do(sequence.TakeReading{T: 20.2, Source: source, Confirmed: true}, second(c.at))
		if c.counts {
			s = b.Take(s, estimate.Reading{At: second(c.at), T: 20.2, By: by})
		}
	}
	s = b.Until(s, second(60))
	mean, deviation := s.Mean()
	want := schedule.DoseError(n.s.filmState.rates[0], mean, deviation)
	d := n.s.Snapshot(second(60)).Develop
	if d == nil || math.Abs(d.Error-want) > 1e-12 {
		t.Errorf("%+v; expected ±%v", d, want)
	}
}

// When its time is up nothing that is read helps any more: how well development is known stays.
func TestErrorWhenTheTimeIsUp(t *testing.T) {
	n := begun(t, developing(t, &sequence.Thermometers{Hand: sequence.Thermometer{Within: 0.1}}), 0)
	n.do(sequence.Hold{}, 9*recipetest.Minute)
	n.do(sequence.Wake{}, 12*recipetest.Minute)
	if d := n.s.Snapshot(12 * recipetest.Minute).Develop; d == nil || d.Error <= 0 || d.AtEnd != d.Error || d.ReadBy != nil || d.AtEndIf != 0 {
		t.Errorf("%+v", d)
	}
	n = begun(t, developing(t, &sequence.Thermometers{Hand: sequence.Thermometer{Within: 0.1}}), 0)
	n.do(sequence.EndSession{}, 5*recipetest.Minute) // nor when the session was stopped
	if d := n.s.Snapshot(5 * recipetest.Minute).Develop; d == nil || d.Error <= 0 || d.AtEnd != d.Error || d.ReadBy != nil {
		t.Errorf("stopped: %+v", d)
	}
}
