package engine

// What advice, the rows of moves and a snapshot are put together from.

import (
	"math"
	"slices"
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
	"example.org/wetside/sequence/schedule"
)

// By shares of the limit where both are known, else by seconds.
func TestImprovement(t *testing.T) {
	share := func(v float64) *float64 { return &v }
	for _, c := range []struct {
		a, b sequence.Wet
		want float64
	}{
		{sequence.Wet{Used: share(0.9), Total: 100 * time.Second}, sequence.Wet{Used: share(0.65), Total: 40 * time.Second}, 0.25},
		{sequence.Wet{Used: share(0.9), Total: 100 * time.Second}, sequence.Wet{Total: 40 * time.Second}, 60},
		{sequence.Wet{Total: 100 * time.Second}, sequence.Wet{Used: share(0.65), Total: 40 * time.Second}, 60},
		{sequence.Wet{Total: 40 * time.Second}, sequence.Wet{Total: 100 * time.Second}, -60},
	} {
		if got := improvement(c.a, c.b); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%+v to %+v: %v; expected %v", c.a, c.b, got, c.want)
		}
	}
}

// Each possibility changes what it says and nothing else, and not the plan that runs.
func TestOptionsChangeWhatTheySay(t *testing.T) {
	n := begun(t, planOf(t, three(), sequence.Conditions{}), 0)
	before := slices.Clone(n.s.plan.Steps)
	hung := inHangersFrom(n.s, 2)
	for i, st := range hung.plan.Steps {
		if apart := i >= 2; st.Stack == apart || (st.Vessel == n.s.plan.SeparateVessel()) != apart {
			t.Errorf("step %d in %s, a stack %v", i, st.Vessel, st.Stack)
		}
	}
	for i := range before {
		if n.s.plan.Steps[i].Vessel != before[i].Vessel || n.s.plan.Steps[i].Stack != before[i].Stack {
			t.Errorf("step %d of the plan was changed", i)
		}
	}
	out, least := withoutStep(n.s, 3), leastTimeOption(n.s, 3, time.Minute)
	for i, d := range n.s.filmState.doses {
		wantOut, wantLeast := d, d
		if i == 3 {
			wantOut, wantLeast = 0, time.Minute
		}
		if out.doses[i] != wantOut || least.doses[i] != wantLeast {
			t.Errorf("step %d: %v left out, %v at least; expected %v and %v", i, out.doses[i], least.doses[i], wantOut, wantLeast)
		}
	}
}

// The last film leaves the last bath with the last sheet that is in one, or with all.
func TestLastSheetOut(t *testing.T) {
	n := begun(t, planOf(t, three(), sequence.Conditions{}), 0)
	for n.s.Over() == "" {
		in := 0
		for k := range 3 {
			if n.s.where(k) < len(n.s.plan.Steps) {
				in++
			}
		}
		if got := lastSheetOut(n.s.filmState, bathChange{sheet: 1}); got != (in == 1) {
			t.Errorf("%d are still to come out: the last %v", in, got)
		}
		if !lastSheetOut(n.s.filmState, bathChange{sheet: 0}) {
			t.Error("all together are not the last")
		}
		at, ok := n.s.Due()
		if !ok {
			break
		}
		n.do(sequence.Wake{}, at)
	}
}

// At every moment of a session the next five cues are shown without the ticks, the limit is the
// alarm's, and a pull is told as one, also out of the first bath.
func TestSnapshotIsPutTogether(t *testing.T) {
	pulled := recipetest.Recipe(sequence.Hangers, 2, recipetest.Pulled(recipetest.Bath(sequence.Develop, 0), 5*recipetest.Minute, 7*recipetest.Minute),
		recipetest.Bath(sequence.StopBath, 30*recipetest.Second), recipetest.Bath(sequence.Fix, 5*recipetest.Minute))
	ticks, pulls := 0, 0
	for _, r := range []sequence.Recipe{three(), recipetest.FourInHangers(), pulled} {
		r.Film.WetLimit.All = 12 * recipetest.Minute
		n := begun(t, planOf(t, r, sequence.Conditions{}), 0)
		for now := sequence.Elapsed(0); n.s.Over() == ""; now += 7 * time.Second {
			n.do(sequence.Wake{}, now)
			l, e := n.s.Snapshot(now), n.s.forecastNow.change
			var want []sequence.Cue
			for _, c := range n.s.forecastNow.cues[n.s.forecastNow.next:] {
				if c.Kind == sequence.CueTick {
					ticks++
				} else if len(want) < 5 {
					want = append(want, c.Cue)
				}
			}
			if !slices.Equal(l.Cues, want) || (l.NextCue == nil) != (len(want) == 0) || l.NextCue != nil && *l.NextCue != want[0] {
				t.Fatalf("at %v: %v; expected %v", now, l.Cues, want)
			}
			if a, b := l.Wet.LimitAt, n.s.LimitAt(); n.s.Over() == "" && (a == nil || b == nil || *a != *b) {
				t.Fatalf("at %v the limit is at %v; expected %v", now, a, b)
			}
			pull := e.from >= 0 && n.s.plan.Steps[e.from].PullsSheets()
			if n.s.Over() == "" && (l.Next != Transfer{At: e.at, Step: e.from + 1, Sheet: e.sheet, Pull: pull}) {
				t.Fatalf("at %v next is %+v", now, l.Next)
			}
			if pull && l.Next.Pull && e.from == 0 {
				pulls++
			}
		}
	}
	if ticks == 0 || pulls == 0 {
		t.Errorf("%d ticks, %d pulls out of the first bath", ticks, pulls)
	}
}

// A sheet of a film test that is pulled, or moves on alone, begins another round in the bath that
// it leaves and in the one that it comes to; in the others the turns so far stay.
func TestOtherRounds(t *testing.T) {
	turned := []schedule.ShuffleCount{{Count: 4}, {Count: 5}, {Count: 6}, {Count: 7}}
	r := recipetest.Recipe(sequence.Tray, 3, recipetest.Shuffled(recipetest.Bath(sequence.Presoak, recipetest.Minute)),
		recipetest.Shuffled(recipetest.Pulled(recipetest.Bath(sequence.Develop, 0), 5*recipetest.Minute, 7*recipetest.Minute, 10*recipetest.Minute)),
		recipetest.Bath(sequence.StopBath, 30*recipetest.Second), recipetest.Shuffled(recipetest.Bath(sequence.Fix, 5*recipetest.Minute)))
	n := begun(t, planOf(t, r, sequence.Conditions{}), 0)
	n.s.shuffles = turned
	for kind, want := range map[sequence.EventKind][]int{sequence.Pulled: {4, 0, 0, 7}, sequence.Held: {4, 5, 6, 7}, sequence.Transferred: {4, 5, 6, 7}} {
		e := sequence.Event{Kind: kind, Step: "develop", Sheet: 1}
		var got []int
		for _, c := range n.s.otherRounds(e) {
			got = append(got, c.Count)
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s: %v; expected %v", kind, got, want)
		}
	}
	if got := n.s.otherRounds(sequence.Event{Kind: sequence.SetAside, Sheet: 1}); got != nil {
		t.Errorf("set aside: %v", got)
	}
	if turned[1].Count != 5 {
		t.Error("what another state holds was changed")
	}
}

// Events tell steps apart by name: a plan with one name twice would never come to its end.
func TestTwoStepsOfOneNameAreRefused(t *testing.T) {
	p := planOf(t, three(), sequence.Conditions{})
	p.Steps[2].Name = p.Steps[0].Name
	if _, err := NewState(p); err == nil {
		t.Error("a session with two steps of one name begins")
	}
}
