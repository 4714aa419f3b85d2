package engine

// What advice, the rows of moves and a snapshot are put together from.

import (
	"math"
	"slices"
	"strings"
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

// At every moment of a session the next three cues are shown without the ticks, and the next two behind
// them that are no part of the bath's rhythm; the limit is the
// alarm's, and a pull is told as one, also out of the first bath.
func TestSnapshotIsPutTogether(t *testing.T) {
	pulled := recipetest.Recipe(sequence.Hangers, 2, recipetest.Pulled(recipetest.Bath(sequence.Develop, 0), 5*recipetest.Minute, 7*recipetest.Minute),
		recipetest.Bath(sequence.StopBath, 30*recipetest.Second), recipetest.Bath(sequence.Fix, 5*recipetest.Minute))
	ticks, pulls := 0, 0
	lit := recipetest.Recipe(sequence.Tray, 3, recipetest.Shuffled(recipetest.Bath(sequence.Fix, 2*recipetest.Minute)), recipetest.Lit(recipetest.Shuffled(recipetest.Bath(sequence.Wash, 2*recipetest.Minute)), sequence.White))
	for i, r := range []sequence.Recipe{three(), recipetest.FourInHangers(), pulled, lit} {
		r.Film.WetLimit.All = 12 * recipetest.Minute * sequence.Elapsed(i%3) // the first and the last have none
		n := begun(t, planOf(t, r, sequence.Conditions{}), -10*time.Second)
		for now := -9 * time.Second; n.s.Over() == ""; now += 7 * time.Second {
			n.do(sequence.Wake{}, now)
			l, e := n.s.Snapshot(now), n.s.forecastNow.change
			expectPlaces(t, l, n.s.plan)
			if n.s.Over() == "" && l.Left != l.Next.At-now {
				t.Fatalf("at %v %v are left until %v", now, l.Left, l.Next.At)
			}
			var want []sequence.Cue
			for _, c := range n.s.forecastNow.cues[n.s.forecastNow.next:] {
				if c.Kind == sequence.CueTick {
					ticks++
				} else if len(want) < 3 || len(want) < 5 && !strings.Contains("turn agitate rest reverse", string(c.Kind)) {
					want = append(want, c.Cue)
				}
			}
			if !slices.Equal(l.Cues, want) || (l.NextCue == nil) != (len(want) == 0) || l.NextCue != nil && *l.NextCue != want[0] {
				t.Fatalf("at %v: %v; expected %v", now, l.Cues, want)
			}
			if a, b := l.Wet.LimitAt, n.s.LimitAt(); n.s.Over() == "" && ((a == nil) != (r.Film.WetLimit.All == 0) || (a == nil) != (b == nil) || a != nil && *a != *b) {
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

// expectPlaces wants the light of the last step that a sheet has come to, and the first of the sheets
// whose wet time is longest by its limit, then by itself.
func expectPlaces(t *testing.T, l Snapshot, p *sequence.Plan) {
	t.Helper()
	step, worst := -1, 0
	for _, y := range l.Passages {
		if y.In <= l.Now {
			step = max(step, y.Step)
		}
	}
	for k, s := range l.Sheets {
		if w := l.Sheets[worst]; s.Used > w.Used || s.Used == w.Used && s.Wet > w.Wet {
			worst = k
		}
	}
	if l.Step != step || l.Light != p.Steps[max(0, step)].RoomLight || l.Wettest != worst {
		t.Fatalf("at %v in step %d, light %s, the wettest sheet %d; expected %d, %s, %d", l.Now, l.Step, l.Light, l.Wettest+1, step, p.Steps[max(0, step)].RoomLight, worst+1)
	}
}

// Where no limit is known the wettest sheet is the one that is wet longest: not the first, when that
// is out and the second is kept.
func TestTheWettestWithoutALimit(t *testing.T) {
	r := three()
	r.Load.LoadEvery = 30 * time.Second
	n := begun(t, planOf(t, r, sequence.Conditions{}), 0)
	for n.s.where(0) < len(n.s.plan.Steps) {
		at, _ := n.s.Due()
		n.do(sequence.Wake{}, at)
	}
	out := n.s.At()
	n.do(sequence.Hold{}, out)
	for now := out; now < out+5*time.Minute; now += time.Minute {
		n.do(sequence.Wake{}, now)
		expectPlaces(t, n.s.Snapshot(now), n.s.plan)
	}
	if n.s.Snapshot(out+5*time.Minute).Wettest != 1 {
		t.Errorf("%+v", n.s.Snapshot(out+5*time.Minute).Sheets)
	}
}

// Light is as it was said to be; a cue for dark takes both light and the offer of it back.
func TestLightIsAsItWasSaid(t *testing.T) {
	n := begun(t, planOf(t, three(), sequence.Conditions{}), 0)
	cue := func(k sequence.CueKind) sequence.Event { return sequence.Event{Kind: sequence.CueGiven, Cue: k} }
	said := func(text string) sequence.Event { return sequence.Event{Kind: sequence.LightChanged, Text: text} }
	for i, c := range []struct {
		e           sequence.Event
		offered, on bool
	}{{cue(sequence.CueLightsOffer), true, false}, {said("on"), true, true}, {said("off"), true, false}, {said("on"), true, true}, {cue(sequence.CueTick), true, true}, {cue(sequence.CueLightsOut), false, false}} {
		c.e.At = sequence.Elapsed(i+1) * time.Second
		n.s = Apply(n.s, c.e)
		if l := n.s.Snapshot(c.e.At); l.LightOffered != c.offered || l.LightOn != c.on {
			t.Errorf("after %s %s %q: offered %t, on %t", c.e.Kind, c.e.Cue, c.e.Text, l.LightOffered, l.LightOn)
		}
	}
}

// A sign of life, or that something is due, is no event of the session: it is as it was.
func TestASignOfLifeChangesNothing(t *testing.T) {
	n := begun(t, planOf(t, three(), sequence.Conditions{}), 0)
	for _, k := range []sequence.EventKind{sequence.Heartbeat, sequence.TransferDue} {
		if got := Apply(n.s, sequence.Event{At: time.Minute, Kind: k}).At(); got != 0 {
			t.Errorf("after %s the last event is of %v", k, got)
		}
	}
}

// How far a sheet developed is told by the developer that it left by itself, whatever bath comes after
// it, and also where it was set aside later; not where it was set aside out of the developer, nor of
// sheets that all have one time.
func TestDevelopedShareByWhereItWent(t *testing.T) {
	dev := recipetest.Shuffled(recipetest.Bath(sequence.Develop, 5*recipetest.Minute))
	bath := func(k sequence.Kind) sequence.Step {
		return recipetest.Shuffled(recipetest.Bath(k, 2*recipetest.Minute))
	}
	one := func(baths ...sequence.Step) sequence.Recipe { return recipetest.Recipe(sequence.Tray, 3, baths...) }
	straight := straightOn()
	for _, c := range []struct {
		name   string
		recipe sequence.Recipe
		step   int  // sheet 1 is brought to
		early  bool // and goes on at once
		aside  bool
		want   float64
	}{
		{"the developer is last", one(bath(sequence.Presoak), dev), 2, false, false, 1},
		{"in the developer", one(bath(sequence.Presoak), dev, bath(sequence.Fix)), 1, false, false, 0},
		{"aside out of the last, a developer", one(bath(sequence.Presoak), dev), 1, false, true, 0},
		{"aside out of the developer", one(bath(sequence.Presoak), dev, bath(sequence.Fix)), 1, false, true, 0},
		{"aside out of the last", one(dev, bath(sequence.Fix)), 1, false, true, 1},
		{"aside out of the next", one(dev, bath(sequence.StopBath), bath(sequence.Fix)), 1, false, true, 1},
		{"between two developers", one(dev, bath(sequence.Rinse), dev), 1, false, false, 1},
		{"not in the second of two developers yet, the first left", one(bath(sequence.Presoak), dev, bath(sequence.Rinse), dev, bath(sequence.Fix)), 2, false, false, 1},
		{"all of one time", recipetest.FourInHangers(), 2, false, false, 0},
		{"straight on, early out of the stop bath", straight, 2, true, false, 1},
	} {
		n := begun(t, planOf(t, c.recipe, sequence.Conditions{}), 0)
		for n.s.where(0) < c.step {
			at, ok := n.s.Due()
			if !ok {
				t.Fatalf("%s: nothing is due", c.name)
			}
			n.do(sequence.Wake{}, at)
		}
		now := n.s.At() + time.Second
		if c.early {
			n.do(sequence.MoveOn{}, now)
		}
		if c.aside {
			n.do(sequence.SetSheetAside{Sheet: 1}, now)
		}
		if got := n.s.Snapshot(now).Sheets[0].DevelopedShare; math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: %v; expected %v", c.name, got, c.want)
		}
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
