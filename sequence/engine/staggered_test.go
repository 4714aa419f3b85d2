package engine

// The film test in which sheets go in one after the other and leave together.

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/sequence/recipetest"
)

// In hangers, by hand: the ten minutes go in at 1:00 and end at 11:00; the seven follow
// at 4:00, the five at 6:00; each is called by its number twenty seconds ahead.
func TestJoiningByHand(t *testing.T) {
	p := planOf(t, recipetest.Staggered(sequence.Hangers), sequence.Conditions{})
	moves := recipetest.CuesOf(p.Cues, sequence.CueTransfer, "presoak")
	recipetest.ExpectInstants(t, "into the developer", moves, 60, 240, 360)
	for i, sheet := range []int{3, 2, 1} {
		if moves[i].Sheet != sheet {
			t.Errorf("move %d calls sheet %d; expected %d", i+1, moves[i].Sheet, sheet)
		}
	}
	var ready []int
	for _, c := range recipetest.CuesOf(p.Cues, sequence.CueReady, "presoak") {
		ready = append(ready, c.Sheet)
	}
	if !slices.Equal(ready, []int{3, 2, 1}) {
		t.Errorf("called: %v", ready)
	}
	recipetest.ExpectInstants(t, "called", recipetest.CuesOf(p.Cues, sequence.CueReady, "presoak"), 40, 220, 340)
	recipetest.ExpectInstants(t, "out of the developer", recipetest.CuesOf(p.Cues, sequence.CueTransfer, "develop"), 660)
	recipetest.ExpectInstants(t, "pulled", recipetest.CuesOf(p.Cues, sequence.CuePull, ""))
	recipetest.ExpectInstants(t, "agitated", recipetest.CuesOf(p.Cues, sequence.CueAgitate, "develop"), 60, 120, 180, 240, 300, 360, 420, 480, 540, 600)
	if p.Wet.Total != 990*recipetest.Second || p.Steps[1].Given != 10*recipetest.Minute {
		t.Errorf("wet %v, given %v", p.Wet.Total, p.Steps[1].Given)
	}
	n := begun(t, p, 0)
	n.do(sequence.Wake{}, 20*recipetest.Minute)
	if n.s.Over() != sequence.SessionDone || len(recipetest.EventsOf(n.events, sequence.SetAside)) != 0 {
		t.Errorf("the session does not end as planned:\n%s", recipetest.KindsOf(n.events))
	}
	list := n.s.Developments()
	for _, d := range list {
		if math.Abs(d.Share()-1) > 1e-9 {
			t.Errorf("sheet %d developed %.6f of its time", d.Sheet, d.Share())
		}
	}
	if len(list) != 3 {
		t.Errorf("%d sheets were developed", len(list))
	}
	n = begun(t, p, 0)
	n.do(sequence.Wake{}, 2*recipetest.Minute) // the third alone is in
	if l := n.s.Snapshot(2 * recipetest.Minute); l.Step != 1 || l.Develop == nil || l.Develop.Done != recipetest.Minute {
		t.Errorf("in step %d, developed %+v", l.Step, l.Develop)
	}
}

// The longest is set aside in the bath before: the next longest leads, at once.
func TestJoiningWithoutTheLongest(t *testing.T) {
	for _, v := range []sequence.Vessel{sequence.Hangers, sequence.Tray} {
		n := begun(t, planOf(t, recipetest.Staggered(v), sequence.Conditions{}), 0)
		n.do(sequence.SetSheetAside{Sheet: 3}, 40*recipetest.Second)
		if at, ok := n.s.Due(); !ok || at > 2*recipetest.Minute {
			t.Fatalf("%s: the next is due at %v, %v", v, at, ok)
		}
		n.do(sequence.Wake{}, 20*recipetest.Minute)
		if n.s.Over() != sequence.SessionDone {
			t.Errorf("%s: the session does not end:\n%s", v, recipetest.KindsOf(n.events))
		}
		for _, d := range n.s.Developments() {
			if d.Sheet < 3 && math.Abs(d.Share()-1) > 1e-9 {
				t.Errorf("%s: sheet %d developed %.6f of its time", v, d.Sheet, d.Share())
			}
		}
	}
}

func TestJoiningRefused(t *testing.T) {
	r := recipetest.Staggered(sequence.Hangers)
	r.Steps = r.Steps[1:]
	if _, err := planning.Resolve(r, sequence.Conditions{}); err == nil {
		t.Error("no bath to wait in, and not refused")
	}
	r = recipetest.Staggered(sequence.Drum)
	if _, err := planning.Resolve(r, sequence.Conditions{}); err == nil {
		t.Error("sheets join one after the other in a drum")
	}
}

// Two sheets of one time: in hangers they go in at one moment; in a tray one hand needs
// ten seconds for the second, which the plan tells: 10 of 300 s are 3.3 %.
func TestJoiningSheetsOfOneTime(t *testing.T) {
	for v, apart := range map[sequence.Vessel]float64{sequence.Hangers: 0, sequence.Tray: 10} {
		r := recipetest.Staggered(v)
		r.Steps[1].PullTimes = []sequence.Elapsed{5 * recipetest.Minute, 5 * recipetest.Minute, 10 * recipetest.Minute}
		p := planOf(t, r, sequence.Conditions{})
		moves := recipetest.CuesOf(p.Cues, sequence.CueTransfer, "presoak")
		if got := (moves[2].At - moves[1].At).Seconds(); got != apart {
			t.Errorf("%s: the two go in %v s apart; expected %v", v, got, apart)
		}
		var told []sequence.SheetShare
		for _, c := range p.Cautions {
			if c.Code == "test-share" {
				told = c.Shares
			}
		}
		if (len(told) == 1 && told[0].Sheet == 2 && math.Abs(told[0].Share+10./300) < 1e-3) != (v == sequence.Tray) {
			t.Errorf("%s: told %+v", v, told)
		}
	}
}

// A reading of the future changes nothing for the sheets that are in, beside the end; one
// that corrects the past does, and it is told while they are in: by Simpson's rule.
func TestJoiningTellsWhatAReadingChanges(t *testing.T) {
	r := recipetest.Staggered(sequence.Hangers)
	r.Steps[1].Temperature = recipetest.Coefficient(20, 2.2)
	n := begun(t, planOf(t, r, sequence.Conditions{}), 0)
	n.do(sequence.Wake{}, 5*recipetest.Minute) // the seven minutes are in since 4:00
	n.do(sequence.TakeReading{T: 24, Source: sequence.BySensor}, 5*recipetest.Minute)
	early := n.s.Snapshot(5 * recipetest.Minute)
	n.do(sequence.Wake{}, 60*recipetest.Minute)
	taken := []reading{{0, 20}, {300, 24}}
	for _, y := range n.s.Passages() {
		if y.Step != 1 {
			continue
		}
		dose := []float64{300, 420, 600}[y.Sheet-1]
		share := integral(taken, 0, 0, 2.2, y.In.Seconds(), y.Out.Seconds()) / dose
		if y.Sheet != 1 { // which was dry of developer, and is planned anew
			if got := early.Sheets[y.Sheet-1].DevelopedShare; math.Abs(got-share) > 1e-6 {
				t.Errorf("sheet %d will have %.6f, it was told; by Simpson's rule %.6f", y.Sheet, got, share)
			}
		}
		if y.Sheet != 2 && math.Abs(share-1) > 1e-6 {
			t.Errorf("sheet %d had %.6f; expected its own time", y.Sheet, share)
		}
		if y.Sheet == 2 && share > 0.99 {
			t.Errorf("sheet 2 had %.6f: it came in too late for a bath that warmed unseen", share)
		}
	}
}

// In any bath, read at any moment before the first sheet goes in, each sheet has had its
// own time when all leave: by Simpson's rule.
func TestJoiningInADriftingBath(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.Float64Range(1.5, 3).Draw(t, "coefficient")
		start, settle := rapid.Float64Range(18, 24).Draw(t, "read"), rapid.Float64Range(15, 25).Draw(t, "settles")
		tau := rapid.IntRange(600, 4000).Draw(t, "tau")
		r := recipetest.Staggered(sequence.Hangers)
		r.Steps[1].Temperature = recipetest.Coefficient(20, k)
		p, err := planning.Resolve(r, sequence.Conditions{BathTemperature: recipetest.Degrees(start), SettlesAt: recipetest.Degrees(settle), TimeConstant: sequence.Elapsed(tau) * recipetest.Second})
		if err != nil {
			t.Fatal(err)
		}
		n := begun(t, &p, 0)
		now := sequence.Elapsed(rapid.IntRange(1, 59).Draw(t, "read again at")) * recipetest.Second
		again := rapid.Float64Range(17, 25).Draw(t, "reads")
		n.do(sequence.TakeReading{T: *recipetest.Degrees(again), Source: sequence.BySensor}, now)
		n.do(sequence.Wake{}, 60*recipetest.Minute)
		taken := []reading{{0, start}, {now.Seconds(), again}}
		var out sequence.Elapsed
		for _, y := range n.s.Passages() {
			if y.Step != 1 {
				continue
			}
			if out == 0 {
				out = y.Out
			}
			dose := []float64{300, 420, 600}[y.Sheet-1]
			if got := integral(taken, settle, float64(tau), k, y.In.Seconds(), y.Out.Seconds()); math.Abs(got-dose) > 1e-5 || y.Out != out {
				t.Errorf("sheet %d: %.7f s of %.0f, out at %v", y.Sheet, got, dose, y.Out)
			}
		}
	})
}

// Two stacks are turned at once while a film test that leaves together parts: the sheet
// that waits in the presoak, and the one in the developer. A warning changes no turn of
// either, now or later.
func TestJoinTurnsOutlastAWarning(t *testing.T) {
	dev := recipetest.Pulled(recipetest.Shuffled(recipetest.Bath(sequence.Develop, 0)), 2*recipetest.Minute, 290*recipetest.Second)
	dev.LeaveTogether = true
	r := recipetest.Recipe(sequence.Tray, 2, recipetest.Shuffled(recipetest.Bath(sequence.Presoak, 20*recipetest.Second)), dev, recipetest.Bath(sequence.StopBath, 20*recipetest.Second))
	r.Film.WetLimit.All, r.Film.WetWarning = 200*recipetest.Second, 10*recipetest.Second
	r.Load.LoadEvery, r.Load.TransferEvery = 10*recipetest.Second, 9*recipetest.Second
	p := planOf(t, r, sequence.Conditions{})
	n := begun(t, p, 0)
	n.do(sequence.Wake{}, 10*recipetest.Minute)
	warned := recipetest.EventsOf(n.events, sequence.WetWarned)
	if len(warned) != 1 || warned[0].At != 190*recipetest.Second {
		t.Fatalf("warned %v; expected once, at 3:10", recipetest.KindsOf(warned))
	}
	for _, step := range []string{"presoak", "develop"} {
		var given []float64
		for _, e := range recipetest.EventsOf(n.events, sequence.CueGiven) {
			if e.Cue == sequence.CueShuffle && e.Step == step {
				given = append(given, e.At.Seconds())
			}
		}
		recipetest.ExpectInstants(t, "turns in the "+step, recipetest.CuesOf(p.Cues, sequence.CueShuffle, step), given...)
		if len(given) == 0 {
			t.Errorf("no turn in the %s", step)
		}
	}
}
