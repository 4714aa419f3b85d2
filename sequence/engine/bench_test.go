package engine

// What planning and deciding cost. The core is asked several times a second for an
// hour, and a plan is made again for each proposal and each key of a form.

import (
	"cmp"
	"fmt"
	"runtime"
	"testing"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/sequence/recipetest"
)

// twelve is a long recipe: twelve steps, six sheets shuffled in a tray.
func twelve() sequence.Recipe {
	r := recipetest.Recipe(sequence.Tray, 6,
		recipetest.Shuffled(recipetest.Bath(sequence.Presoak, 2*recipetest.Minute)),
		recipetest.Drained(recipetest.Shuffled(recipetest.At(recipetest.Bath(sequence.Develop, 8*recipetest.Minute+30*recipetest.Second), 20, 2.2)), 8*recipetest.Second),
		recipetest.Shuffled(recipetest.Bath(sequence.StopBath, 30*recipetest.Second)),
		recipetest.Shuffled(recipetest.Bath(sequence.Rinse, recipetest.Minute)),
		recipetest.Shuffled(recipetest.Bath(sequence.Fix, 4*recipetest.Minute)),
		recipetest.LightsOnAfter(recipetest.Shuffled(recipetest.Bath(sequence.Fix, 4*recipetest.Minute)), 2*recipetest.Minute),
		recipetest.Lit(recipetest.Shuffled(recipetest.Bath(sequence.Rinse, recipetest.Minute)), sequence.White),
		recipetest.Lit(recipetest.Shuffled(recipetest.Bath(sequence.WashingAid, 2*recipetest.Minute)), sequence.White),
		recipetest.AtLeast(recipetest.Lit(recipetest.Shuffled(recipetest.Bath(sequence.Wash, 10*recipetest.Minute)), sequence.White), 5*recipetest.Minute),
		recipetest.Optional(recipetest.Lit(recipetest.Shuffled(recipetest.Bath(sequence.Other, recipetest.Minute)), sequence.White)),
		recipetest.Lit(recipetest.Shuffled(recipetest.Bath(sequence.Rinse, recipetest.Minute)), sequence.White),
		recipetest.Lit(recipetest.Shuffled(recipetest.Bath(sequence.WettingAgent, recipetest.Minute)), sequence.White))
	r.Film.WetLimit.ByVessel = map[sequence.Vessel]sequence.Elapsed{sequence.Tray: 90 * recipetest.Minute}
	return r
}

func BenchmarkResolveTwelveSteps(b *testing.B) {
	r, c := twelve(), sequence.Conditions{BathTemperature: recipetest.Degrees(22), SettlesAt: recipetest.Degrees(19), TimeConstant: 40 * recipetest.Minute}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := planning.Resolve(r, c); err != nil {
			b.Fatal(err)
		}
	}
}

// cued is one step in hangers with about n cues: two for each cycle of 10 s, and
// none of the ticks that longer rests would add.
func cued(n int) sequence.Recipe {
	return recipetest.Recipe(sequence.Hangers, 1, recipetest.Agitated(recipetest.Bath(sequence.Develop, sequence.Elapsed(n/2)*10*recipetest.Second), recipetest.Periodic(0, 5*recipetest.Second, 10*recipetest.Second)))
}

func BenchmarkResolveByCues(b *testing.B) {
	for _, n := range []int{10, 100, 1_000, 10_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			r := cued(n)
			b.ReportAllocs()
			for b.Loop() {
				if _, err := planning.Resolve(r, sequence.Conditions{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkWakeWithNothingDue(b *testing.B) {
	n := begun(b, planOf(b, twelve(), sequence.Conditions{}), 0)
	n.do(sequence.Wake{}, 500*recipetest.Second)
	due, _ := n.s.Due()
	b.ReportAllocs()
	for b.Loop() {
		if len(Decide(n.s, sequence.Wake{}, due-1)) > 0 {
			b.Fatal("something was due")
		}
	}
}

func BenchmarkLook(b *testing.B) {
	n := begun(b, planOf(b, twelve(), sequence.Conditions{}), 0)
	n.do(sequence.Wake{}, 500*recipetest.Second)
	b.ReportAllocs()
	for b.Loop() {
		n.s.Snapshot(500 * recipetest.Second)
	}
}

func BenchmarkAhead(b *testing.B) {
	n := begun(b, planOf(b, twelve(), sequence.Conditions{}), 0)
	n.do(sequence.Wake{}, 500*recipetest.Second)
	b.ReportAllocs()
	for b.Loop() {
		n.s.Ahead(497*recipetest.Second, 503*recipetest.Second)
	}
}

// hourOfCues is a session of an hour with 10,000 cues, and a reading each minute.
func hourOfCues(tb testing.TB) (*sequence.Plan, []sequence.Event) {
	each := 720 * time.Millisecond
	r := recipetest.Recipe(sequence.Hangers, 2, recipetest.Agitated(recipetest.At(recipetest.Bath(sequence.Develop, time.Hour), 20, 2.2), recipetest.Periodic(0, each/2, each)))
	return lived(tb, r, recipetest.Minute)
}

// hourOfReadings is a session of the twelve-step recipe with a sensor read each second.
func hourOfReadings(tb testing.TB) (*sequence.Plan, []sequence.Event) {
	return lived(tb, twelve(), recipetest.Second)
}

// lived is a session that reads its bath every so often.
func lived(tb testing.TB, r sequence.Recipe, every sequence.Elapsed) (*sequence.Plan, []sequence.Event) {
	p := planOf(tb, r, sequence.Conditions{})
	n := begun(tb, p, 0)
	for at := every; n.s.Over() == ""; at += every {
		n.do(sequence.TakeReading{T: 20, Source: sequence.BySensor}, at)
	}
	return p, n.events
}

func BenchmarkReplayAnHourOfCues(b *testing.B)     { benchmarkReplay(b, hourOfCues) }
func BenchmarkReplayAnHourOfReadings(b *testing.B) { benchmarkReplay(b, hourOfReadings) }

func benchmarkReplay(b *testing.B, session func(testing.TB) (*sequence.Plan, []sequence.Event)) {
	p, events := session(b)
	b.ReportAllocs()
	for b.Loop() {
		s, err := Replay(p, events)
		if err != nil {
			b.Fatal(err)
		}
		if s.Over() != sequence.SessionDone {
			b.Fatal("not over")
		}
	}
	b.ReportMetric(float64(len(events)), "events")
}

// What a plan and a replay take of the heap grows as their cues and readings do: ten
// times as many cost about ten times as much, and no list is copied for each.
func TestCostIsLinear(t *testing.T) {
	plan := func(n int) func() {
		r := cued(n)
		return func() { planOf(t, r, sequence.Conditions{}) }
	}
	replay := func(every sequence.Elapsed) func() {
		p, events := lived(t, twelve(), every)
		return func() {
			if _, err := Replay(p, events); err != nil {
				t.Fatal(err)
			}
		}
	}
	for name, c := range map[string]struct{ little, much func() }{
		"cues":     {plan(1_000), plan(10_000)},
		"readings": {replay(10 * recipetest.Second), replay(recipetest.Second)},
	} {
		if little, much := heap(c.little), heap(c.much); much > 13*little {
			t.Errorf("ten times the %s: %d bytes and %d; expected about ten times as many", name, little, much)
		}
	}
}

// heap is how many bytes f allocates.
func heap(f func()) uint64 {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	f()
	runtime.ReadMemStats(&after)
	return after.TotalAlloc - before.TotalAlloc
}

// Asking whether anything is due costs nothing on the heap.
func TestWakeAllocatesNothing(t *testing.T) {
	n := begun(t, planOf(t, twelve(), sequence.Conditions{}), 0)
	n.do(sequence.Wake{}, 500*recipetest.Second)
	due, ok := n.s.Due()
	if !ok {
		t.Fatal("nothing is due")
	}
	if got := testing.AllocsPerRun(100, func() { Decide(n.s, sequence.Wake{}, due-1) }); got != 0 {
		t.Errorf("%v allocations; expected none", got)
	}
}

// BenchmarkShorten is a plan of twelve steps and twelve sheets, in a drift, over its
// limit, with all that could shorten it: to be answered within 20 ms.
func BenchmarkShorten(b *testing.B) {
	r := recipetest.Recipe(sequence.Tray, 12, recipetest.Shuffled(recipetest.Bath(sequence.Presoak, recipetest.Minute)), recipetest.Drained(recipetest.Shuffled(recipetest.At(recipetest.Bath(sequence.Develop, 9*recipetest.Minute), 20, 2.2)), 5*recipetest.Second))
	for range 5 {
		r.Steps = append(r.Steps, recipetest.Optional(recipetest.AtLeast(recipetest.Shuffled(recipetest.Bath(sequence.Other, 4*recipetest.Minute)), 2*recipetest.Minute)))
	}
	r.Steps = append(r.Steps, recipetest.AtLeast(recipetest.Shuffled(recipetest.Bath(sequence.Fix, 6*recipetest.Minute)), 4*recipetest.Minute))
	for range 4 {
		r.Steps = append(r.Steps, recipetest.AtLeast(recipetest.Lit(recipetest.Shuffled(recipetest.Bath(sequence.Wash, 20*recipetest.Minute)), sequence.White), 5*recipetest.Minute))
	}
	for i := range r.Steps {
		r.Steps[i].Name, r.Steps[i].RoomLight, r.Steps[i].Agitate.Mode = string(rune('a'+i)), cmp.Or(r.Steps[i].RoomLight, sequence.Dark), sequence.Shuffle
	}
	r.Film.WetLimit.All = 30 * recipetest.Minute
	settle := chem.Celsius(18)
	c := sequence.Conditions{BathTemperature: recipetest.Degrees(21), SettlesAt: &settle, TimeConstant: 40 * recipetest.Minute}
	for b.Loop() {
		if p := planOf(b, r, c); len(p.Shorten) < 10 {
			b.Fatalf("%d proposals", len(p.Shorten))
		}
	}
}

// BenchmarkLookTwelveInAStack is what the run screen asks for, with twelve sheets in a
// stack that is moving on.
func BenchmarkLookTwelveInAStack(b *testing.B) {
	r := twelve()
	r.Load.Sheets = 12
	n := begun(b, planOf(b, r, sequence.Conditions{}), 0)
	at := n.s.plan.Steps[1].FirstOut + 15*recipetest.Second
	n.do(sequence.Wake{}, at)
	for b.Loop() {
		n.s.Snapshot(at)
	}
}
