package sequence

// What planning and deciding cost. The core is asked several times a second for an
// hour, and a plan is made again for each proposal and each key of a form.

import (
	"cmp"
	"fmt"
	"runtime"
	"testing"
	"time"

	"example.org/wetside/chem"
)

// twelve is a long recipe: twelve steps, six sheets shuffled in a tray.
func twelve() Recipe {
	r := recipeOf(Tray, 6,
		bathFor(Presoak, 2*mins).shuffled(),
		bathFor(Develop, 8*mins+30*sec).at(20, 2.2).shuffled().drained(8*sec),
		bathFor(StopBath, 30*sec).shuffled(),
		bathFor(Rinse, mins).shuffled(),
		bathFor(Fix, 4*mins).shuffled(),
		bathFor(Fix, 4*mins).shuffled().offering(2*mins),
		bathFor(Rinse, mins).shuffled().lit(White),
		bathFor(WashAid, 2*mins).shuffled().lit(White),
		bathFor(Wash, 10*mins).shuffled().lit(White).sparing(5*mins),
		bathFor(Other, mins).shuffled().lit(White).optionally(),
		bathFor(Rinse, mins).shuffled().lit(White),
		bathFor(Wetting, mins).shuffled().lit(White))
	r.Film.WetLimit.ByVessel = map[Vessel]Elapsed{Tray: 90 * mins}
	return r
}

func BenchmarkResolveTwelveSteps(b *testing.B) {
	r, c := twelve(), Conditions{Temp: degrees(22), Towards: degrees(19), Drift: 40 * mins}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Resolve(r, c); err != nil {
			b.Fatal(err)
		}
	}
}

// cued is one step in hangers with about n cues: two for each cycle of 10 s, and
// none of the ticks that longer rests would add.
func cued(n int) Recipe {
	return recipeOf(Hangers, 1, bathFor(Develop, Elapsed(n/2)*10*sec).agitated(periodic(0, 5*sec, 10*sec)))
}

func BenchmarkResolveByCues(b *testing.B) {
	for _, n := range []int{10, 100, 1_000, 10_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			r := cued(n)
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Resolve(r, Conditions{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkWakeWithNothingDue(b *testing.B) {
	n := begun(b, planOf(b, twelve(), Conditions{}), 0)
	n.do(Wake{}, 500*sec)
	due, _ := n.s.Due()
	b.ReportAllocs()
	for b.Loop() {
		if len(Decide(n.s, Wake{}, due-1)) > 0 {
			b.Fatal("something was due")
		}
	}
}

func BenchmarkLook(b *testing.B) {
	n := begun(b, planOf(b, twelve(), Conditions{}), 0)
	n.do(Wake{}, 500*sec)
	b.ReportAllocs()
	for b.Loop() {
		n.s.Look(500 * sec)
	}
}

func BenchmarkAhead(b *testing.B) {
	n := begun(b, planOf(b, twelve(), Conditions{}), 0)
	n.do(Wake{}, 500*sec)
	b.ReportAllocs()
	for b.Loop() {
		n.s.Ahead(497*sec, 503*sec)
	}
}

// hourOfCues is a session of an hour with 10,000 cues, and a reading each minute.
func hourOfCues(tb testing.TB) (*Plan, []Event) {
	each := 720 * time.Millisecond
	r := recipeOf(Hangers, 2, bathFor(Develop, time.Hour).at(20, 2.2).agitated(periodic(0, each/2, each)))
	return lived(tb, r, mins)
}

// hourOfReadings is a session of the twelve-step recipe with a sensor read each second.
func hourOfReadings(tb testing.TB) (*Plan, []Event) { return lived(tb, twelve(), sec) }

// lived is a session that reads its bath every so often.
func lived(tb testing.TB, r Recipe, every Elapsed) (*Plan, []Event) {
	p := planOf(tb, r, Conditions{})
	n := begun(tb, p, 0)
	for at := every; n.s.Over() == ""; at += every {
		n.do(Read{T: 20, Source: BySensor}, at)
	}
	return p, n.events
}

func BenchmarkReplayAnHourOfCues(b *testing.B)     { benchmarkReplay(b, hourOfCues) }
func BenchmarkReplayAnHourOfReadings(b *testing.B) { benchmarkReplay(b, hourOfReadings) }

func benchmarkReplay(b *testing.B, session func(testing.TB) (*Plan, []Event)) {
	p, events := session(b)
	b.ReportAllocs()
	for b.Loop() {
		s, err := Replay(p, events)
		if err != nil {
			b.Fatal(err)
		}
		if s.Over() != SessionDone {
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
		return func() { planOf(t, r, Conditions{}) }
	}
	replay := func(every Elapsed) func() {
		p, events := lived(t, twelve(), every)
		return func() {
			if _, err := Replay(p, events); err != nil {
				t.Fatal(err)
			}
		}
	}
	for name, c := range map[string]struct{ little, much func() }{
		"cues":     {plan(1_000), plan(10_000)},
		"readings": {replay(10 * sec), replay(sec)},
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
	n := begun(t, planOf(t, twelve(), Conditions{}), 0)
	n.do(Wake{}, 500*sec)
	due, ok := n.s.Due()
	if !ok {
		t.Fatal("nothing is due")
	}
	if got := testing.AllocsPerRun(100, func() { Decide(n.s, Wake{}, due-1) }); got != 0 {
		t.Errorf("%v allocations; expected none", got)
	}
}

// BenchmarkShorten is a plan of twelve steps and twelve sheets, in a drift, over its
// limit, with all that could shorten it: to be answered within 20 ms.
func BenchmarkShorten(b *testing.B) {
	r := recipeOf(Tray, 12, bathFor(Presoak, mins).shuffled(), bathFor(Develop, 9*mins).at(20, 2.2).shuffled().drained(5*sec))
	for range 5 {
		r.Steps = append(r.Steps, bathFor(Other, 4*mins).shuffled().sparing(2*mins).optionally())
	}
	r.Steps = append(r.Steps, bathFor(Fix, 6*mins).shuffled().sparing(4*mins))
	for range 4 {
		r.Steps = append(r.Steps, bathFor(Wash, 20*mins).shuffled().lit(White).sparing(5*mins))
	}
	for i := range r.Steps {
		r.Steps[i].Name, r.Steps[i].RoomLight, r.Steps[i].Agitate.Mode = string(rune('a'+i)), cmp.Or(r.Steps[i].RoomLight, Dark), Shuffle
	}
	r.Film.WetLimit.All = 30 * mins
	settle := chem.Celsius(18)
	c := Conditions{Temp: degrees(21), Towards: &settle, Drift: 40 * mins}
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
	n := begun(b, planOf(b, r, Conditions{}), 0)
	at := n.s.plan.Steps[1].Moves + 15*sec
	n.do(Wake{}, at)
	for b.Loop() {
		n.s.Look(at)
	}
}
