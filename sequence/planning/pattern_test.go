package planning

// Agitation, draining, reversals and light: every instant worked out by hand from
// the contract's "Meaning of time" and "run".

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

// The example of the contract's plan --json.
func TestContractExample(t *testing.T) {
	r := recipetest.Recipe(sequence.Hangers, 4,
		recipetest.Bath(sequence.Presoak, 2*recipetest.Minute),
		recipetest.Agitated(recipetest.At(recipetest.Bath(sequence.Develop, 8*recipetest.Minute+30*recipetest.Second), 20, 2.2), recipetest.Periodic(60*recipetest.Second, 10*recipetest.Second, 60*recipetest.Second)),
		recipetest.Bath(sequence.Fix, 5*recipetest.Minute))
	p := Resolved(t, r, sequence.Conditions{BathTemperature: recipetest.Degrees(24)})
	sum := Summarise(p).Steps[1]
	if sum.Start != 120*recipetest.Second || sum.Base != 510*recipetest.Second || *sum.Temperature != 24 {
		t.Errorf("start %v base %v at %v; expected 120 s, 510 s, 24 C", sum.Start, sum.Base, *sum.Temperature)
	}
	if got := sum.Time.Seconds(); math.Abs(got-372.05) > 0.005 {
		t.Errorf("time_s %.4f; expected 372.05", got)
	}
	if math.Abs(sum.Factor-0.7295) > 0.00005 {
		t.Errorf("time_factor %.6f; expected 0.7295", sum.Factor)
	}
	if got := sum.Moves.Seconds(); math.Abs(got-492.05) > 0.005 || sum.Moves != sum.End {
		t.Errorf("moves_s %.4f end_s %.4f; expected 492.05 twice", got, sum.End.Seconds())
	}
	first := recipetest.CuesOf(p.Cues, sequence.CueAgitate, "develop")[0]
	if first.At != 120*recipetest.Second || first.For != 60*recipetest.Second || first.Sheet != 0 {
		t.Errorf("first cue %+v; expected at 120 s for 60 s, sheet 0", first)
	}
	recipetest.ExpectInstants(t, "agitate", recipetest.CuesOf(p.Cues, sequence.CueAgitate, "develop"), 120, 180, 240, 300, 360, 420, 480)
	recipetest.ExpectInstants(t, "rest", recipetest.CuesOf(p.Cues, sequence.CueStand, "develop"), 190, 250, 310, 370, 430, 490)
}

// The wet numbers of the same example: 1,170 s of a limit of 1,200.
func TestContractWet(t *testing.T) {
	r := recipetest.Recipe(sequence.Hangers, 4, recipetest.Bath(sequence.Presoak, 2*recipetest.Minute), recipetest.Bath(sequence.Develop, 8*recipetest.Minute), recipetest.Bath(sequence.Fix, 9*recipetest.Minute+30*recipetest.Second))
	r.Film.WetLimit.All, r.Film.WetWarning = 20*recipetest.Minute, 4*recipetest.Minute
	w := Resolved(t, r, sequence.Conditions{}).Wet
	if w.Total != 1170*recipetest.Second || *w.Limit != 1200*recipetest.Second || math.Abs(*w.Used-0.975) > 1e-12 ||
		*w.Margin != 30*recipetest.Second || *w.WarningAt != 960*recipetest.Second || w.Session != 1170*recipetest.Second {
		t.Errorf("wet %+v used %v margin %v warning %v; expected 1170, 1200, 0.975, 30, 960, 1170", w, *w.Used, *w.Margin, *w.WarningAt)
	}
}

// Agitation by period. Each cycle is {start, length} in seconds from the start.
func TestAgitationByPeriod(t *testing.T) {
	for _, c := range []struct {
		name   string
		a      sequence.Agitation
		time   sequence.Elapsed
		drain  sequence.Elapsed
		cycles [][2]float64
	}{
		// NAVEDTRA 14209 (1993) pp. 258, 266: tank, 30 s at first, then 5 s each
		// minute; the last 10 s, the drain, belong to the developing time.
		{"tank by the Navy manual", recipetest.Periodic(30*recipetest.Second, 5*recipetest.Second, 60*recipetest.Second), 6 * recipetest.Minute, 10 * recipetest.Second,
			[][2]float64{{0, 30}, {60, 5}, {120, 5}, {180, 5}, {240, 5}, {300, 5}}},
		{"a cycle cut by the drain", recipetest.Periodic(30*recipetest.Second, 5*recipetest.Second, 60*recipetest.Second), 5*recipetest.Minute + 13*recipetest.Second, 10 * recipetest.Second,
			[][2]float64{{0, 30}, {60, 5}, {120, 5}, {180, 5}, {240, 5}, {300, 3}}},
		{"a cycle that would start with the drain", recipetest.Periodic(30*recipetest.Second, 5*recipetest.Second, 60*recipetest.Second), 5*recipetest.Minute + 10*recipetest.Second, 10 * recipetest.Second,
			[][2]float64{{0, 30}, {60, 5}, {120, 5}, {180, 5}, {240, 5}}},
		{"a cycle that would start in the drain", recipetest.Periodic(30*recipetest.Second, 5*recipetest.Second, 60*recipetest.Second), 5*recipetest.Minute + 5*recipetest.Second, 10 * recipetest.Second,
			[][2]float64{{0, 30}, {60, 5}, {120, 5}, {180, 5}, {240, 5}}},
		{"a cycle at the step's end", recipetest.Periodic(30*recipetest.Second, 5*recipetest.Second, 60*recipetest.Second), 2 * recipetest.Minute, 0,
			[][2]float64{{0, 30}, {60, 5}}},
		{"a multiple at the end of the initial counts", recipetest.Periodic(60*recipetest.Second, 10*recipetest.Second, 60*recipetest.Second), 2*recipetest.Minute + 30*recipetest.Second, 0,
			[][2]float64{{0, 60}, {60, 10}, {120, 10}}},
		{"a multiple before the end of the initial does not", recipetest.Periodic(61*recipetest.Second, 10*recipetest.Second, 60*recipetest.Second), 2*recipetest.Minute + 30*recipetest.Second, 0,
			[][2]float64{{0, 61}, {120, 10}}},
		{"no initial: the first multiple is the start", recipetest.Periodic(0, 10*recipetest.Second, 60*recipetest.Second), 2 * recipetest.Minute, 0,
			[][2]float64{{0, 10}, {60, 10}}},
		{"an initial cut by the drain", recipetest.Periodic(2*recipetest.Minute, 10*recipetest.Second, 60*recipetest.Second), 2 * recipetest.Minute, 15 * recipetest.Second,
			[][2]float64{{0, 105}}},
		// NAVEDTRA 14209 p. 258: tray, constant.
		{"constant", sequence.Agitation{Mode: sequence.Continuous}, 5 * recipetest.Minute, 10 * recipetest.Second, [][2]float64{{0, 290}}},
		{"shuffle where there is no stack", sequence.Agitation{Mode: sequence.Shuffle}, 5 * recipetest.Minute, 0, [][2]float64{{0, 300}}},
		{"none", sequence.Agitation{Mode: sequence.Still}, 5 * recipetest.Minute, 0, nil},
		{"thirds", sequence.Agitation{Mode: sequence.Pattern, Initial: 90 * recipetest.Second, For: 15 * recipetest.Second, At: []float64{1. / 3, 2. / 3}}, 9 * recipetest.Minute, 0,
			[][2]float64{{0, 90}, {180, 15}, {360, 15}}},
		{"a fraction cut by the drain", sequence.Agitation{Mode: sequence.Pattern, For: 60 * recipetest.Second, At: []float64{0.5, 0.9}}, 10 * recipetest.Minute, 30 * recipetest.Second,
			[][2]float64{{300, 60}, {540, 30}}},
		{"a fraction in the drain", sequence.Agitation{Mode: sequence.Pattern, For: 60 * recipetest.Second, At: []float64{0.5, 0.96}}, 10 * recipetest.Minute, 30 * recipetest.Second,
			[][2]float64{{300, 60}}},
		{"fractions in any order", sequence.Agitation{Mode: sequence.Pattern, For: 10 * recipetest.Second, At: []float64{0.75, 0.25}}, 4 * recipetest.Minute, 0,
			[][2]float64{{60, 10}, {180, 10}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := Resolved(t, recipetest.Recipe(sequence.Hangers, 2, recipetest.Bath(sequence.Presoak, recipetest.Minute),
				recipetest.Drained(recipetest.Agitated(recipetest.Bath(sequence.Develop, c.time), c.a), c.drain), recipetest.Bath(sequence.Fix, 5*recipetest.Minute)), sequence.Conditions{})
			expectCycles(t, p, "develop", 60, c.cycles)
		})
	}
}

// expectCycles compares agitate and rest in a step that starts at start; where one cycle ends as
// the next begins there is no rest.
func expectCycles(t *testing.T, p *sequence.Plan, step string, start float64, cycles [][2]float64) {
	t.Helper()
	var begins, rests []float64
	for i, c := range cycles {
		begins = append(begins, start+c[0])
		if i+1 == len(cycles) || cycles[i+1][0] > c[0]+c[1] {
			rests = append(rests, start+c[0]+c[1])
		}
	}
	recipetest.ExpectInstants(t, "agitate", recipetest.CuesOf(p.Cues, sequence.CueAgitate, step), begins...)
	recipetest.ExpectInstants(t, "rest", recipetest.CuesOf(p.Cues, sequence.CueStand, step), rests...)
	for i, c := range recipetest.CuesOf(p.Cues, sequence.CueAgitate, step) {
		if i < len(cycles) && math.Abs(c.For.Seconds()-cycles[i][1]) > 1e-6 {
			t.Errorf("cycle %d lasts %v; expected %v s", i+1, c.For, cycles[i][1])
		}
	}
}

// Fractions are of the step's length today: 9 min become 6.5656 at 24 C and 2.2.
func TestFractionsOfTodaysTime(t *testing.T) {
	a := sequence.Agitation{Mode: sequence.Pattern, Initial: 60 * recipetest.Second, For: 10 * recipetest.Second, At: []float64{1. / 3, 2. / 3}}
	p := Resolved(t, recipetest.Recipe(sequence.Hangers, 2, recipetest.Agitated(recipetest.At(recipetest.Bath(sequence.Develop, 9*recipetest.Minute), 20, 2.2), a), recipetest.Bath(sequence.Fix, 5*recipetest.Minute)),
		sequence.Conditions{BathTemperature: recipetest.Degrees(24)})
	long := 540 * math.Pow(2.2, -0.4)
	expectCycles(t, p, "develop", 0, [][2]float64{{0, 60}, {long / 3, 10}, {2 * long / 3, 10}})
}

// From a stack into hangers the step's time counts from the last sheet.
func TestAgitationAfterAStack(t *testing.T) {
	p := Resolved(t, recipetest.Recipe(sequence.Tray, 3, recipetest.Shuffled(recipetest.Bath(sequence.Fix, 2*recipetest.Minute)),
		recipetest.Agitated(recipetest.Into(recipetest.Bath(sequence.Wash, 5*recipetest.Minute), sequence.Hangers), recipetest.Periodic(30*recipetest.Second, 10*recipetest.Second, 60*recipetest.Second))), sequence.Conditions{})
	// In the fixer from 30 s; out at 150, 160, 170.
	expectCycles(t, p, "wash", 170, [][2]float64{{0, 30}, {60, 10}, {120, 10}, {180, 10}, {240, 10}})
}

// Only a drum is reversed, and a step's own interval goes before the load's.
func TestReversals(t *testing.T) {
	for _, c := range []struct {
		v        sequence.Vessel
		load     sequence.Elapsed
		step     sequence.Elapsed
		drain    sequence.Elapsed
		expected []float64
	}{
		{sequence.Drum, 30 * recipetest.Second, 0, 0, []float64{30, 60, 90}},
		{sequence.Drum, 30 * recipetest.Second, 0, 30 * recipetest.Second, []float64{30, 60}},
		{sequence.Drum, 30 * recipetest.Second, 50 * recipetest.Second, 0, []float64{50, 100}},
		{sequence.Drum, 0, 0, 0, nil},
		{sequence.Tube, 30 * recipetest.Second, 0, 0, nil},
		{sequence.Hangers, 30 * recipetest.Second, 30 * recipetest.Second, 0, nil},
	} {
		r := recipetest.Recipe(c.v, 2, recipetest.Drained(recipetest.Reversed(recipetest.Bath(sequence.Develop, 2*recipetest.Minute), c.step), c.drain))
		r.Load.ReverseEvery = c.load
		p := Resolved(t, r, sequence.Conditions{})
		t.Run(fmt.Sprint(c.v, c.load, c.step, c.drain), func(t *testing.T) {
			recipetest.ExpectInstants(t, "reverse", recipetest.CuesOf(p.Cues, sequence.CueReverse, ""), c.expected...)
		})
	}
}

// No long quiet is left without a tick, and no tick stands close before a cue.
func TestTicks(t *testing.T) {
	p := Resolved(t, recipetest.Recipe(sequence.Hangers, 2, recipetest.Bath(sequence.Develop, 8*recipetest.Minute), recipetest.Bath(sequence.StopBath, 33*recipetest.Second)), sequence.Conditions{})
	ticks := recipetest.CuesOf(p.Cues, sequence.CueTick, "")
	if len(ticks) == 0 {
		t.Fatal("no tick in eight quiet minutes")
	}
	for i, c := range p.Cues[1:] {
		if quiet := c.At - p.Cues[i].At; quiet > 20*recipetest.Second {
			t.Errorf("quiet for %v before %+v", quiet, c)
		}
	}
}

// Light is offered when the last sheet has had lights_on_after, else when the first
// lighter step has begun with all sheets in it.
func TestLightsOffer(t *testing.T) {
	tray := func(steps ...sequence.Step) sequence.Recipe { return recipetest.Recipe(sequence.Tray, 3, steps...) }
	for _, c := range []struct {
		name   string
		r      sequence.Recipe
		offers []float64
		out    []float64 // lights-out
	}{
		{"after lights_on_after, for the last sheet", tray(recipetest.Shuffled(recipetest.Bath(sequence.Develop, 8*recipetest.Minute)),
			recipetest.LightsOnAfter(recipetest.Shuffled(recipetest.Bath(sequence.Fix, 5*recipetest.Minute)), 2*recipetest.Minute), recipetest.Lit(recipetest.Bath(sequence.Wash, 5*recipetest.Minute), sequence.White)),
			[]float64{510 + 120}, nil}, // the third enters the fixer at 480 + 2 x 15
		{"with the first lighter step, all sheets in it", tray(recipetest.Shuffled(recipetest.Bath(sequence.Develop, 8*recipetest.Minute)),
			recipetest.Shuffled(recipetest.Bath(sequence.Fix, 5*recipetest.Minute)), recipetest.Lit(recipetest.Bath(sequence.Wash, 5*recipetest.Minute), sequence.White)),
			[]float64{510 + 300 + 20}, nil},
		{"nothing is dark", recipetest.Recipe(sequence.Drum, 3, recipetest.Lit(recipetest.Bath(sequence.Develop, 8*recipetest.Minute), sequence.White),
			recipetest.LightsOnAfter(recipetest.Lit(recipetest.Bath(sequence.Fix, 5*recipetest.Minute), sequence.White), 2*recipetest.Minute)), nil, nil},
		{"dark to the end", tray(recipetest.Shuffled(recipetest.Bath(sequence.Develop, 8*recipetest.Minute)), recipetest.Shuffled(recipetest.Bath(sequence.Fix, 5*recipetest.Minute))), nil, nil},
		{"dark again", recipetest.Recipe(sequence.Hangers, 3, recipetest.Bath(sequence.Fix, 5*recipetest.Minute), recipetest.Lit(recipetest.Bath(sequence.Wash, 5*recipetest.Minute), sequence.White),
			recipetest.Bath(sequence.Other, recipetest.Minute), recipetest.Lit(recipetest.Bath(sequence.WettingAgent, recipetest.Minute), sequence.White)), []float64{300, 660}, []float64{580}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := Resolved(t, c.r, sequence.Conditions{})
			recipetest.ExpectInstants(t, "lights-offer", recipetest.CuesOf(p.Cues, sequence.CueLightsOffer, ""), c.offers...)
			recipetest.ExpectInstants(t, "lights-out", recipetest.CuesOf(p.Cues, sequence.CueLightsOut, ""), c.out...)
		})
	}
}

// A stack's pattern, and everything else but shuffling in its developer, is a danger.
func TestStackAtRest(t *testing.T) {
	for _, a := range []sequence.Agitation{{Mode: sequence.Still}, {Mode: sequence.Continuous}, recipetest.Periodic(30*recipetest.Second, 5*recipetest.Second, 60*recipetest.Second), {Mode: sequence.Shuffle}} {
		p := Resolved(t, recipetest.Recipe(sequence.Tray, 2, recipetest.Agitated(recipetest.Bath(sequence.Develop, 8*recipetest.Minute), a), recipetest.Bath(sequence.Fix, 5*recipetest.Minute)), sequence.Conditions{})
		got := slices.ContainsFunc(p.Cautions, func(c sequence.Caution) bool { return c.Code == "stack-at-rest" && c.Level == sequence.Danger })
		if got != (a.Mode != sequence.Shuffle) {
			t.Errorf("%s: stack-at-rest %v", a.Mode, got)
		}
	}
}
