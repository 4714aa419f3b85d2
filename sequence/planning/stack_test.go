package planning

// Stacks, film tests and loads that move together: random recipes against the
// second account of account_test.go, and the contract's rules worked by hand.

import (
	"errors"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

func TestPlanAgainstSecondAccount(t *testing.T) {
	planned, refused := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		r, c := recipetest.RandomStack(t)
		a := accountOf(r, c)
		p, err := Resolve(r, c)
		switch {
		case a.failed == "window" || a.failed == "drain":
			refused++
			if why := (sequence.RefusedError{}); !errors.As(err, &why) || !slices.ContainsFunc(why, func(r sequence.Refusal) bool {
				return r.Code == map[string]string{"window": "no-time-to-shuffle", "drain": "drain-between-moves"}[a.failed]
			}) {
				t.Fatalf("%v; expected a refusal (%s)", err, a.failed)
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
	p := Resolved(t, recipetest.Recipe(sequence.Tray, 6,
		recipetest.Shuffled(recipetest.Bath(sequence.Presoak, 2*recipetest.Minute)),
		recipetest.Drained(recipetest.Shuffled(recipetest.Bath(sequence.Develop, 8*recipetest.Minute+30*recipetest.Second)), 8*recipetest.Second),
		recipetest.Continuous(recipetest.Bath(sequence.StopBath, 30*recipetest.Second)),
		recipetest.Into(recipetest.Continuous(recipetest.Bath(sequence.Wash, 5*recipetest.Minute)), sequence.Hangers)), sequence.Conditions{})
	recipetest.ExpectInstants(t, "load", recipetest.CuesOf(p.Cues, sequence.CueLoad, ""), 0, 15, 30, 45, 60, 75)
	// The sixth is in at 75 s and has had 120 s at 195 s; 10 s apart.
	recipetest.ExpectInstants(t, "out of the presoak", recipetest.CuesOf(p.Cues, sequence.CueTransfer, "presoak"), 195, 205, 215, 225, 235, 245)
	// Each has exactly 510 s.
	recipetest.ExpectInstants(t, "out of the developer", recipetest.CuesOf(p.Cues, sequence.CueTransfer, "develop"), 705, 715, 725, 735, 745, 755)
	recipetest.ExpectInstants(t, "drains", recipetest.CuesOf(p.Cues, sequence.CueDrain, "develop"), 697, 707, 717, 727, 737, 747)
	// 755 + 30 s for the last, then one by one into the hangers, where the time
	// counts from the last.
	recipetest.ExpectInstants(t, "out of the stop bath", recipetest.CuesOf(p.Cues, sequence.CueTransfer, "stop"), 785, 795, 805, 815, 825, 835)
	recipetest.ExpectInstants(t, "done", recipetest.CuesOf(p.Cues, sequence.CueDone, ""), 835+300)
	// Presoak: 120 s are 2 rounds of 6 x 10 s. Developer: 705 - 8 - 245 = 452 s,
	// 7.53 rounds, so 8: 48 turns.
	var soak, develop []float64
	for i := range 12 {
		soak = append(soak, 75+10*float64(i))
	}
	for i := range 48 {
		develop = append(develop, 245+452*float64(i)/48)
	}
	recipetest.ExpectInstants(t, "turns in the presoak", recipetest.CuesOf(p.Cues, sequence.CueShuffle, "presoak"), soak...)
	recipetest.ExpectInstants(t, "turns in the developer", recipetest.CuesOf(p.Cues, sequence.CueShuffle, "develop"), develop...)
}

// "Spacing out of a bath is what it was going in where a developer comes first."
func TestDeveloperFirst(t *testing.T) {
	p := Resolved(t, recipetest.Recipe(sequence.Tray, 3, recipetest.Shuffled(recipetest.Bath(sequence.Develop, 8*recipetest.Minute)), recipetest.Bath(sequence.StopBath, 30*recipetest.Second)), sequence.Conditions{})
	recipetest.ExpectInstants(t, "out", recipetest.CuesOf(p.Cues, sequence.CueTransfer, "develop"), 480, 495, 510)
}

// Rounds are rounded to the nearest whole, ties up; at least one.
func TestRounds(t *testing.T) {
	for _, c := range []struct {
		presoak     sequence.Elapsed
		WholePasses int // of 2 sheets, a turn each 10 s: a round is 20 s
	}{{3 * recipetest.Second, 2}, {20 * recipetest.Second, 2}, {29 * recipetest.Second, 2}, {30 * recipetest.Second, 4}, {31 * recipetest.Second, 4}, {49 * recipetest.Second, 4}, {50 * recipetest.Second, 6}} {
		p := Resolved(t, recipetest.Recipe(sequence.Tray, 2, recipetest.Shuffled(recipetest.Bath(sequence.Presoak, c.presoak))), sequence.Conditions{})
		if got := len(recipetest.CuesOf(p.Cues, sequence.CueShuffle, "")); got != c.WholePasses {
			t.Errorf("window of %v: %d turns; expected %d", c.presoak, got, c.WholePasses)
		}
	}
}

// The limits of a stack, at both sides.
func TestStackRefusals(t *testing.T) {
	for _, c := range []struct {
		name    string
		time    sequence.Elapsed // of the developer, which comes first: 2 sheets, 15 s apart
		drain   sequence.Elapsed // while 10 s lie between sheets moving on
		sheets  int
		refused bool
	}{
		{"window of n x 3 s", 21 * recipetest.Second, 0, 2, false},
		{"window a millisecond short", 21*recipetest.Second - 1e6, 0, 2, true},
		{"drain inside the window", 25 * recipetest.Second, 4 * recipetest.Second, 2, false},
		{"drain that eats the window", 25*recipetest.Second - 1e6, 4 * recipetest.Second, 2, true},
		{"drain just shorter than move_every", 5 * recipetest.Minute, 10*recipetest.Second - 1e6, 2, false},
		{"drain as long as move_every", 5 * recipetest.Minute, 10 * recipetest.Second, 2, true},
		{"one sheet is no stack", 21*recipetest.Second - 1e6, 12 * recipetest.Second, 1, false},
		{"last sheet in after the first is due", 2 * recipetest.Minute, 0, 12, true},
	} {
		r := recipetest.Recipe(sequence.Tray, c.sheets, recipetest.Drained(recipetest.Shuffled(recipetest.Bath(sequence.Develop, c.time)), c.drain), recipetest.Bath(sequence.Fix, 5*recipetest.Minute))
		if _, err := Resolve(r, sequence.Conditions{}); (err != nil) != c.refused {
			t.Errorf("%s: %v; expected refused %v", c.name, err, c.refused)
		}
	}
}

// A film test in hangers: all go in together, each comes out at its own time,
// and the next bath lasts until the last has had its own.
func TestFilmTestInHangers(t *testing.T) {
	r := recipetest.Recipe(sequence.Hangers, 4,
		recipetest.Bath(sequence.Presoak, 2*recipetest.Minute),
		recipetest.Pulled(recipetest.Bath(sequence.Develop, 0), 5*recipetest.Minute, 7*recipetest.Minute, 9*recipetest.Minute+30*recipetest.Second, 13*recipetest.Minute),
		recipetest.Bath(sequence.StopBath, 30*recipetest.Second),
		recipetest.Bath(sequence.Fix, 5*recipetest.Minute))
	p := Resolved(t, r, sequence.Conditions{})
	recipetest.ExpectInstants(t, "pulled", recipetest.CuesOf(p.Cues, sequence.CuePull, "develop"), 420, 540, 690, 900)
	for k, c := range recipetest.CuesOf(p.Cues, sequence.CuePull, "develop") {
		if c.Sheet != k+1 {
			t.Errorf("take-out %d calls sheet %d; expected the order of the list", k+1, c.Sheet)
		}
	}
	if d := p.Steps[1]; d.Start != 120*recipetest.Second || d.FirstOut != 420*recipetest.Second || d.End != 900*recipetest.Second || d.Given != 13*recipetest.Minute || d.Base != 13*recipetest.Minute {
		t.Errorf("develop %v %v %v given %v of %v; expected 120 s, 420 s, 900 s, 13 min, 13 min", d.Start, d.FirstOut, d.End, d.Given, d.Base)
	}
	if s := p.Steps[2]; s.Start != 420*recipetest.Second || s.FirstOut != 930*recipetest.Second || s.End != 930*recipetest.Second {
		t.Errorf("stop %v %v %v; expected 420 s and 930 s twice", s.Start, s.FirstOut, s.End)
	}
	if f := p.Steps[3]; f.Start != 930*recipetest.Second || f.End != 1230*recipetest.Second {
		t.Errorf("fix %v to %v; expected 930 to 1230 s", f.Start, f.End)
	}
	// Warmer by 4 K at 2.2: each time shrinks by 2.2^-0.4.
	r.Steps[1].Temperature = recipetest.Coefficient(20, 2.2)
	warm := Resolved(t, r, sequence.Conditions{BathTemperature: recipetest.Degrees(24)})
	const f = 0.729509459 // 2.2^-0.4
	for k, want := range []float64{120 + 300*f, 120 + 420*f, 120 + 570*f, 120 + 780*f} {
		if got := recipetest.CuesOf(warm.Cues, sequence.CuePull, "")[k].At.Seconds(); got < want-0.001 || got > want+0.001 {
			t.Errorf("sheet %d at 24 C is pulled at %.3f; expected %.3f", k+1, got, want)
		}
	}
}

// In a tray the sheets of a film test go in move_every apart and each has its own
// time, whatever the order of the list.
func TestFilmTestInTray(t *testing.T) {
	p := Resolved(t, recipetest.Recipe(sequence.Tray, 3,
		recipetest.Shuffled(recipetest.Bath(sequence.Presoak, 2*recipetest.Minute)),
		recipetest.Shuffled(recipetest.Pulled(recipetest.Bath(sequence.Develop, 0), 13*recipetest.Minute, 5*recipetest.Minute, 7*recipetest.Minute)),
		recipetest.Bath(sequence.StopBath, 30*recipetest.Second),
		recipetest.Bath(sequence.Fix, 5*recipetest.Minute)), sequence.Conditions{})
	// In at 150, 160, 170: the third dry sheet goes in at 30 s and has 120 s.
	recipetest.ExpectInstants(t, "pulled", recipetest.CuesOf(p.Cues, sequence.CuePull, ""), 160+300, 170+420, 150+780)
	if s := p.Steps[2]; s.Start != 460*recipetest.Second || s.FirstOut != 960*recipetest.Second || s.End != 960*recipetest.Second {
		t.Errorf("stop %v %v %v; expected 460 s, then 960 s for all", s.Start, s.FirstOut, s.End)
	}
	// Fix begins with all: last in at 960 s, moving on begins at 1260 s.
	if f := p.Steps[3]; f.Start != 960*recipetest.Second || f.FirstOut != 1260*recipetest.Second || f.End != 1280*recipetest.Second {
		t.Errorf("fix %v %v %v; expected 960, 1260 and 1280 s", f.Start, f.FirstOut, f.End)
	}
}

// Turns never fall on a sheet being pulled: one pair of hands does both.
func TestTurnsKeepClearOfTakingOut(t *testing.T) {
	p := Resolved(t, recipetest.Recipe(sequence.Tray, 4, recipetest.Shuffled(recipetest.Bath(sequence.Presoak, 2*recipetest.Minute)),
		recipetest.Shuffled(recipetest.Pulled(recipetest.Bath(sequence.Develop, 0), 5*recipetest.Minute, 7*recipetest.Minute, 9*recipetest.Minute, 12*recipetest.Minute)), recipetest.Bath(sequence.StopBath, 30*recipetest.Second)), sequence.Conditions{})
	taken := recipetest.CuesOf(p.Cues, sequence.CuePull, "")
	turns := 0
	for _, c := range recipetest.CuesOf(p.Cues, sequence.CueShuffle, "develop") {
		if c.At > taken[0].At {
			turns++
		}
		for _, k := range taken {
			if d := c.At - k.At; d.Abs() < 2*recipetest.Second {
				t.Errorf("a turn at %v, sheet %d is pulled at %v", c.At, k.Sheet, k.At)
			}
		}
	}
	if turns == 0 {
		t.Error("nothing is turned after the first sheet is out")
	}
}

// Nothing can be pulled from a closed vessel, nor without a time for each sheet.
func TestFilmTestRefused(t *testing.T) {
	for _, v := range sequence.Vessels {
		r := recipetest.Recipe(v, 2, recipetest.Pulled(recipetest.Bath(sequence.Develop, 0), 5*recipetest.Minute, 7*recipetest.Minute), recipetest.Bath(sequence.StopBath, 30*recipetest.Second))
		var closed []string
		if v.Closed() {
			closed = []string{"pull-from-closed"}
		}
		_, err := Resolve(r, sequence.Conditions{})
		refusedAs(t, string(v), err, closed...)
		_, err = Resolve(r, sequence.Conditions{Sheets: 3})
		refusedAs(t, string(v)+", three sheets with two times", err, append([]string{"pull-count"}, closed...)...)
		r.Steps = r.Steps[:1]
		_, err = Resolve(r, sequence.Conditions{})
		refusedAs(t, string(v)+", nothing follows", err, append(closed, "pulls-last")...)
	}
}
