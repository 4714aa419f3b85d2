package sequence

// The film test in which sheets go in one after the other and leave together.

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// joining is a film test of 5, 7 and 10 minutes, all out together.
func joining(v Vessel) Recipe {
	dev := bathFor(Develop, 0).taking(5*mins, 7*mins, 10*mins)
	dev.Together = true
	return recipeOf(v, 3, bathFor(Presoak, mins).steadily(), dev.agitated(periodic(30*sec, 5*sec, 60*sec)), bathFor(StopBath, 30*sec), bathFor(Fix, 5*mins))
}

// In hangers, by hand: the ten minutes go in at 1:00 and end at 11:00; the seven follow
// at 4:00, the five at 6:00; each is called by its number twenty seconds ahead.
func TestJoiningByHand(t *testing.T) {
	p := planOf(t, joining(Hangers), Conditions{})
	moves := of(p.Cues, CueMove, "presoak")
	expectInstants(t, "into the developer", moves, 60, 240, 360)
	for i, sheet := range []int{3, 2, 1} {
		if moves[i].Sheet != sheet {
			t.Errorf("move %d calls sheet %d; expected %d", i+1, moves[i].Sheet, sheet)
		}
	}
	var ready []int
	for _, c := range of(p.Cues, CueReady, "presoak") {
		ready = append(ready, c.Sheet)
	}
	if !slices.Equal(ready, []int{3, 2, 1}) {
		t.Errorf("called: %v", ready)
	}
	expectInstants(t, "called", of(p.Cues, CueReady, "presoak"), 40, 220, 340)
	expectInstants(t, "out of the developer", of(p.Cues, CueMove, "develop"), 660)
	expectInstants(t, "taken out", of(p.Cues, CueTakeOut, ""))
	expectInstants(t, "agitated", of(p.Cues, CueAgitate, "develop"), 60, 120, 180, 240, 300, 360, 420, 480, 540, 600)
	if p.Wet.Total != 990*sec || p.Steps[1].Given != 10*mins {
		t.Errorf("wet %v, given %v", p.Wet.Total, p.Steps[1].Given)
	}
	n := begun(t, p, 0)
	n.do(Wake{}, 20*mins)
	if n.s.Over() != SessionDone || len(only(n.events, SetAside)) != 0 {
		t.Errorf("the session does not end as planned:\n%s", kinds(n.events))
	}
	for _, d := range n.s.Developments() {
		if math.Abs(d.Share()-1) > 1e-9 {
			t.Errorf("sheet %d developed %.6f of its time", d.Sheet, d.Share())
		}
	}
}

// The longest is set aside in the bath before: the next longest leads, at once.
func TestJoiningWithoutTheLongest(t *testing.T) {
	for _, v := range []Vessel{Hangers, Tray} {
		n := begun(t, planOf(t, joining(v), Conditions{}), 0)
		n.do(Aside{Sheet: 3}, 40*sec)
		if at, ok := n.s.Due(); !ok || at > 2*mins {
			t.Fatalf("%s: the next is due at %v, %v", v, at, ok)
		}
		n.do(Wake{}, 20*mins)
		if n.s.Over() != SessionDone {
			t.Errorf("%s: the session does not end:\n%s", v, kinds(n.events))
		}
		for _, d := range n.s.Developments() {
			if d.Sheet < 3 && math.Abs(d.Share()-1) > 1e-9 {
				t.Errorf("%s: sheet %d developed %.6f of its time", v, d.Sheet, d.Share())
			}
		}
	}
}

func TestJoiningRefused(t *testing.T) {
	r := joining(Hangers)
	r.Steps = r.Steps[1:]
	if _, err := Resolve(r, Conditions{}); err == nil {
		t.Error("no bath to wait in, and not refused")
	}
	r = joining(Drum)
	if _, err := Resolve(r, Conditions{}); err == nil {
		t.Error("sheets join one after the other in a drum")
	}
}

// Two sheets of one time: in hangers they go in at one moment; in a tray one hand needs
// ten seconds for the second, which the plan tells: 10 of 300 s are 3.3 %.
func TestJoiningSheetsOfOneTime(t *testing.T) {
	for v, apart := range map[Vessel]float64{Hangers: 0, Tray: 10} {
		r := joining(v)
		r.Steps[1].TakeOut = []Elapsed{5 * mins, 5 * mins, 10 * mins}
		p := planOf(t, r, Conditions{})
		moves := of(p.Cues, CueMove, "presoak")
		if got := (moves[2].At - moves[1].At).Seconds(); got != apart {
			t.Errorf("%s: the two go in %v s apart; expected %v", v, got, apart)
		}
		told := ""
		for _, c := range p.Cautions {
			if c.Code == "test-share" {
				told = c.Text
			}
		}
		if strings.HasSuffix(told, "sheet 2 -3.3 %") != (v == Tray) {
			t.Errorf("%s: told %q", v, told)
		}
	}
}

// A reading of the future changes nothing for the sheets that are in, beside the end; one
// that corrects the past does, and it is told while they are in: by Simpson's rule.
func TestJoiningTellsWhatAReadingChanges(t *testing.T) {
	r := joining(Hangers)
	r.Steps[1].Temperature = coefficient(20, 2.2)
	n := begun(t, planOf(t, r, Conditions{}), 0)
	n.do(Wake{}, 5*mins) // the seven minutes are in since 4:00
	n.do(Read{T: 24, Source: BySensor}, 5*mins)
	early := n.s.Look(5 * mins)
	n.do(Wake{}, 60*mins)
	taken := []reading{{0, 20}, {300, 24}}
	for _, y := range n.s.Passages() {
		if y.Step != 1 {
			continue
		}
		dose := []float64{300, 420, 600}[y.Sheet-1]
		share := integral(taken, 0, 0, 2.2, y.In.Seconds(), y.Out.Seconds()) / dose
		if y.Sheet != 1 { // which was dry of developer, and is planned anew
			if got := early.Sheets[y.Sheet-1].Given; math.Abs(got-share) > 1e-6 {
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
		r := joining(Hangers)
		r.Steps[1].Temperature = coefficient(20, k)
		p, err := Resolve(r, Conditions{Temp: degrees(start), Towards: degrees(settle), Drift: Elapsed(tau) * sec})
		if err != nil {
			t.Fatal(err)
		}
		s, err := NewState(&p)
		if err != nil {
			t.Fatal(err)
		}
		n := &session{s: s}
		n.do(Begin{}, 0)
		now := Elapsed(rapid.IntRange(1, 59).Draw(t, "read again at")) * sec
		again := rapid.Float64Range(17, 25).Draw(t, "reads")
		n.do(Read{T: *degrees(again), Source: BySensor}, now)
		n.do(Wake{}, 60*mins)
		taken := []reading{{0, start}, {now.Seconds(), again}}
		var out Elapsed
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
	dev := bathFor(Develop, 0).shuffled().taking(2*mins, 290*sec)
	dev.Together = true
	r := recipeOf(Tray, 2, bathFor(Presoak, 20*sec).shuffled(), dev, bathFor(StopBath, 20*sec))
	r.Film.WetLimit.All, r.Film.WetWarning = 200*sec, 10*sec
	r.Load.LoadEvery, r.Load.MoveEvery = 10*sec, 9*sec
	p := resolved(t, r, Conditions{})
	n := begun(t, p, 0)
	n.do(Wake{}, 10*mins)
	warned := only(n.events, WetWarned)
	if len(warned) != 1 || warned[0].At != 190*sec {
		t.Fatalf("warned %v; expected once, at 3:10", kinds(warned))
	}
	for _, step := range []string{"presoak", "develop"} {
		var given []float64
		for _, e := range only(n.events, CueGiven) {
			if e.Cue == CueTurn && e.Step == step {
				given = append(given, e.At.Seconds())
			}
		}
		expectInstants(t, "turns in the "+step, of(p.Cues, CueTurn, step), given...)
		if len(given) == 0 {
			t.Errorf("no turn in the %s", step)
		}
	}
}
