package sequence

// Stacks, film tests and loads that move together: random recipes against the
// second account of account_test.go, and the contract's rules worked by hand.

import (
	"testing"

	"pgregory.net/rapid"
)

// randomStack draws a recipe in a tray, or a film test anywhere it is allowed.
func randomStack(t *rapid.T) (Recipe, Conditions) {
	n := rapid.IntRange(2, 12).Draw(t, "sheets")
	v := rapid.SampledFrom([]Vessel{Tray, Tray, Tray, Hangers, Single, Cradle, Drum}).Draw(t, "vessel")
	r := recipeOf(v, n)
	r.Load.LoadEvery = seconds(t, 1, 30, "load every")
	r.Load.TurnEvery = seconds(t, 1, 20, "turn every")
	r.Load.MoveEvery = seconds(t, 1, 30, "move every")
	var steps []Step
	add := func(k Kind, lo, hi int) *Step {
		st := bathFor(k, seconds(t, lo, hi, string(k)))
		st.Agitate.Mode = rapid.SampledFrom([]AgitationMode{AtRest, Continuous, Shuffle, Shuffle}).Draw(t, "agitation")
		if rapid.Bool().Draw(t, "drains") {
			st.Drain = seconds(t, 1, 12, "drain")
		}
		st.Dry = rapid.IntRange(0, 9).Draw(t, "dry") == 0
		steps = append(steps, st)
		return &steps[len(steps)-1]
	}
	if rapid.Bool().Draw(t, "presoak") {
		add(Presoak, 30, 300)
	}
	dev := add(Develop, 200, 900)
	if rapid.Bool().Draw(t, "temperature") {
		*dev = dev.at(20, rapid.Float64Range(1.5, 3).Draw(t, "coefficient"))
	}
	if !v.Closed() && rapid.IntRange(0, 3).Draw(t, "film test") == 0 {
		times := make([]Elapsed, n)
		for k := range times {
			times[k] = seconds(t, 200, 900, "take out")
		}
		*dev = dev.taking(times...)
		dev.Together = len(steps) > 1 && rapid.Bool().Draw(t, "out together")
	}
	add(StopBath, 20, 60)
	hung := false
	for _, k := range rapid.SliceOfN(rapid.SampledFrom([]Kind{Fix, Rinse, WashAid, Wash}), 0, 3).Draw(t, "baths") {
		st := add(k, 20, 400)
		if !hung && rapid.IntRange(0, 3).Draw(t, "into hangers") == 0 {
			*st, hung = st.into(rapid.SampledFrom([]Vessel{Hangers, Cradle}).Draw(t, "into")), true
		}
	}
	load := r.Load
	r = recipeOf(v, n, steps...)
	r.Load = load
	r.Film.WetWarning = seconds(t, 1, 400, "warning")
	switch rapid.IntRange(0, 3).Draw(t, "limits") {
	case 0:
		r.Film.WetLimit.All = seconds(t, 450, 3000, "limit")
	case 1:
		r.Film.WetLimit.ByVessel = map[Vessel]Elapsed{v: seconds(t, 450, 3000, "limit"), Hangers: seconds(t, 600, 6000, "limit hung")}
	case 2:
		r.Film.WetLimit.ByVessel = map[Vessel]Elapsed{Cradle: seconds(t, 450, 3000, "limit elsewhere")}
	}
	return r, randomConditions(t)
}

func randomConditions(t *rapid.T) Conditions {
	var c Conditions
	if rapid.Bool().Draw(t, "warm") {
		c.Temp = degrees(rapid.Float64Range(17, 26).Draw(t, "temp"))
		c.ReadBefore = seconds(t, 0, 600, "read before")
	}
	if rapid.IntRange(0, 3).Draw(t, "drifts") == 0 {
		c.Towards, c.Drift = degrees(rapid.Float64Range(15, 25).Draw(t, "towards")), seconds(t, 600, 7200, "drift")
	}
	if rapid.IntRange(0, 3).Draw(t, "factored") == 0 {
		c.Factor = rapid.Float64Range(0.7, 1.4).Draw(t, "factor")
	}
	return c
}

func TestPlanAgainstSecondAccount(t *testing.T) {
	planned, refused := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		r, c := randomStack(t)
		a := accountOf(r, c)
		p, err := Resolve(r, c)
		switch {
		case a.failed == "window" || a.failed == "drain":
			refused++
			if err == nil {
				t.Fatalf("planned; expected a refusal (%s)", a.failed)
			}
			return
		case a.failed != "":
			t.Fatal(a.failed)
		case err != nil:
			t.Fatalf("refused: %v", err)
		}
		planned++
		if err := a.compare(&p); err != nil {
			t.Fatal(err)
		}
	})
	if planned < 20 || refused < 3 {
		t.Errorf("%d planned, %d refused: the draw does not cover both", planned, refused)
	}
}

// Six sheets, presoak and developer, worked by hand from the contract: sheets go
// in 15 s apart, presoak moves on when the sixth has had its 2:00, and so on.
func TestStackByHand(t *testing.T) {
	p := resolved(t, recipeOf(Tray, 6,
		bathFor(Presoak, 2*mins).shuffled(),
		bathFor(Develop, 8*mins+30*sec).shuffled().drained(8*sec),
		bathFor(StopBath, 30*sec).steadily(),
		bathFor(Wash, 5*mins).steadily().into(Hangers)), Conditions{})
	expectInstants(t, "load", of(p.Cues, CueLoad, ""), 0, 15, 30, 45, 60, 75)
	// The sixth is in at 75 s and has had 120 s at 195 s; 10 s apart.
	expectInstants(t, "out of the presoak", of(p.Cues, CueMove, "presoak"), 195, 205, 215, 225, 235, 245)
	// Each has exactly 510 s.
	expectInstants(t, "out of the developer", of(p.Cues, CueMove, "develop"), 705, 715, 725, 735, 745, 755)
	expectInstants(t, "drains", of(p.Cues, CueDrain, "develop"), 697, 707, 717, 727, 737, 747)
	// 755 + 30 s for the last, then one by one into the hangers, where the time
	// counts from the last.
	expectInstants(t, "out of the stop bath", of(p.Cues, CueMove, "stop"), 785, 795, 805, 815, 825, 835)
	expectInstants(t, "done", of(p.Cues, CueDone, ""), 835+300)
	// Presoak: 120 s are 2 rounds of 6 x 10 s. Developer: 705 - 8 - 245 = 452 s,
	// 7.53 rounds, so 8: 48 turns.
	var soak, develop []float64
	for i := range 12 {
		soak = append(soak, 75+10*float64(i))
	}
	for i := range 48 {
		develop = append(develop, 245+452*float64(i)/48)
	}
	expectInstants(t, "turns in the presoak", of(p.Cues, CueTurn, "presoak"), soak...)
	expectInstants(t, "turns in the developer", of(p.Cues, CueTurn, "develop"), develop...)
}

// "Spacing out of a bath is what it was going in where a developer comes first."
func TestDeveloperFirst(t *testing.T) {
	p := resolved(t, recipeOf(Tray, 3, bathFor(Develop, 8*mins).shuffled(), bathFor(StopBath, 30*sec)), Conditions{})
	expectInstants(t, "out", of(p.Cues, CueMove, "develop"), 480, 495, 510)
}

// Rounds are rounded to the nearest whole, ties up; at least one.
func TestRounds(t *testing.T) {
	for _, c := range []struct {
		presoak Elapsed
		turns   int // of 2 sheets, a turn each 10 s: a round is 20 s
	}{{3 * sec, 2}, {20 * sec, 2}, {29 * sec, 2}, {30 * sec, 4}, {31 * sec, 4}, {49 * sec, 4}, {50 * sec, 6}} {
		p := resolved(t, recipeOf(Tray, 2, bathFor(Presoak, c.presoak).shuffled()), Conditions{})
		if got := len(of(p.Cues, CueTurn, "")); got != c.turns {
			t.Errorf("window of %v: %d turns; expected %d", c.presoak, got, c.turns)
		}
	}
}

// The limits of a stack, at both sides.
func TestStackRefusals(t *testing.T) {
	for _, c := range []struct {
		name    string
		time    Elapsed // of the developer, which comes first: 2 sheets, 15 s apart
		drain   Elapsed // while 10 s lie between sheets moving on
		sheets  int
		refused bool
	}{
		{"window of n x 3 s", 21 * sec, 0, 2, false},
		{"window a millisecond short", 21*sec - 1e6, 0, 2, true},
		{"drain inside the window", 25 * sec, 4 * sec, 2, false},
		{"drain that eats the window", 25*sec - 1e6, 4 * sec, 2, true},
		{"drain just shorter than move_every", 5 * mins, 10*sec - 1e6, 2, false},
		{"drain as long as move_every", 5 * mins, 10 * sec, 2, true},
		{"one sheet is no stack", 21*sec - 1e6, 12 * sec, 1, false},
		{"last sheet in after the first is due", 2 * mins, 0, 12, true},
	} {
		r := recipeOf(Tray, c.sheets, bathFor(Develop, c.time).shuffled().drained(c.drain), bathFor(Fix, 5*mins))
		if _, err := Resolve(r, Conditions{}); (err != nil) != c.refused {
			t.Errorf("%s: %v; expected refused %v", c.name, err, c.refused)
		}
	}
}

// A film test in hangers: all go in together, each comes out at its own time,
// and the next bath lasts until the last has had its own.
func TestFilmTestInHangers(t *testing.T) {
	r := recipeOf(Hangers, 4,
		bathFor(Presoak, 2*mins),
		bathFor(Develop, 0).taking(5*mins, 7*mins, 9*mins+30*sec, 13*mins),
		bathFor(StopBath, 30*sec),
		bathFor(Fix, 5*mins))
	p := resolved(t, r, Conditions{})
	expectInstants(t, "taken out", of(p.Cues, CueTakeOut, "develop"), 420, 540, 690, 900)
	for k, c := range of(p.Cues, CueTakeOut, "develop") {
		if c.Sheet != k+1 {
			t.Errorf("take-out %d calls sheet %d; expected the order of the list", k+1, c.Sheet)
		}
	}
	if d := p.Steps[1]; d.Start != 120*sec || d.Moves != 420*sec || d.End != 900*sec || d.Given != 13*mins || d.Base != 13*mins {
		t.Errorf("develop %v %v %v given %v of %v; expected 120 s, 420 s, 900 s, 13 min, 13 min", d.Start, d.Moves, d.End, d.Given, d.Base)
	}
	if s := p.Steps[2]; s.Start != 420*sec || s.Moves != 930*sec || s.End != 930*sec {
		t.Errorf("stop %v %v %v; expected 420 s and 930 s twice", s.Start, s.Moves, s.End)
	}
	if f := p.Steps[3]; f.Start != 930*sec || f.End != 1230*sec {
		t.Errorf("fix %v to %v; expected 930 to 1230 s", f.Start, f.End)
	}
	// Warmer by 4 K at 2.2: each time shrinks by 2.2^-0.4.
	r.Steps[1].Temperature = coefficient(20, 2.2)
	warm := resolved(t, r, Conditions{Temp: degrees(24)})
	const f = 0.729509459 // 2.2^-0.4
	for k, want := range []float64{120 + 300*f, 120 + 420*f, 120 + 570*f, 120 + 780*f} {
		if got := of(warm.Cues, CueTakeOut, "")[k].At.Seconds(); got < want-0.001 || got > want+0.001 {
			t.Errorf("sheet %d at 24 C is taken out at %.3f; expected %.3f", k+1, got, want)
		}
	}
}

// In a tray the sheets of a film test go in move_every apart and each has its own
// time, whatever the order of the list.
func TestFilmTestInTray(t *testing.T) {
	p := resolved(t, recipeOf(Tray, 3,
		bathFor(Presoak, 2*mins).shuffled(),
		bathFor(Develop, 0).taking(13*mins, 5*mins, 7*mins).shuffled(),
		bathFor(StopBath, 30*sec),
		bathFor(Fix, 5*mins)), Conditions{})
	// In at 150, 160, 170: the third dry sheet goes in at 30 s and has 120 s.
	expectInstants(t, "taken out", of(p.Cues, CueTakeOut, ""), 160+300, 170+420, 150+780)
	if s := p.Steps[2]; s.Start != 460*sec || s.Moves != 960*sec || s.End != 960*sec {
		t.Errorf("stop %v %v %v; expected 460 s, then 960 s for all", s.Start, s.Moves, s.End)
	}
	// Fix begins with all: last in at 960 s, moving on begins at 1260 s.
	if f := p.Steps[3]; f.Start != 960*sec || f.Moves != 1260*sec || f.End != 1280*sec {
		t.Errorf("fix %v %v %v; expected 960, 1260 and 1280 s", f.Start, f.Moves, f.End)
	}
}

// Turns never fall on a sheet being taken out: one pair of hands does both.
func TestTurnsKeepClearOfTakingOut(t *testing.T) {
	p := resolved(t, recipeOf(Tray, 4, bathFor(Presoak, 2*mins).shuffled(),
		bathFor(Develop, 0).taking(5*mins, 7*mins, 9*mins, 12*mins).shuffled(), bathFor(StopBath, 30*sec)), Conditions{})
	taken := of(p.Cues, CueTakeOut, "")
	turns := 0
	for _, c := range of(p.Cues, CueTurn, "develop") {
		if c.At > taken[0].At {
			turns++
		}
		for _, k := range taken {
			if d := c.At - k.At; d.Abs() < 2*sec {
				t.Errorf("a turn at %v, sheet %d is taken out at %v", c.At, k.Sheet, k.At)
			}
		}
	}
	if turns == 0 {
		t.Error("nothing is turned after the first sheet is out")
	}
}

// Nothing can be taken out of a closed vessel, nor without a time for each sheet.
func TestFilmTestRefused(t *testing.T) {
	for _, v := range Vessels {
		r := recipeOf(v, 2, bathFor(Develop, 0).taking(5*mins, 7*mins), bathFor(StopBath, 30*sec))
		if _, err := Resolve(r, Conditions{}); (err != nil) != v.Closed() {
			t.Errorf("%s: %v; expected refused %v", v, err, v.Closed())
		}
		if _, err := Resolve(r, Conditions{Sheets: 3}); err == nil {
			t.Errorf("%s: three sheets with two times; expected a refusal", v)
		}
	}
}
