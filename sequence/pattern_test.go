package sequence

// Agitation, draining, reversals and light: every instant worked out by hand from
// the contract's "Meaning of time" and "run".

import (
	"fmt"
	"math"
	"slices"
	"testing"
)

// The example of the contract's plan --json.
func TestContractExample(t *testing.T) {
	r := recipeOf(Hangers, 4,
		bathFor(Presoak, 2*mins),
		bathFor(Develop, 8*mins+30*sec).at(20, 2.2).agitated(periodic(60*sec, 10*sec, 60*sec)),
		bathFor(Fix, 5*mins))
	p := resolved(t, r, Conditions{Temp: degrees(24)})
	sum := p.Summary().Steps[1]
	if sum.Start != 120*sec || sum.Base != 510*sec || *sum.Temperature != 24 {
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
	first := of(p.Cues, CueAgitate, "develop")[0]
	if first.At != 120*sec || first.For != 60*sec || first.Sheet != 0 {
		t.Errorf("first cue %+v; expected at 120 s for 60 s, sheet 0", first)
	}
	expectInstants(t, "agitate", of(p.Cues, CueAgitate, "develop"), 120, 180, 240, 300, 360, 420, 480)
	expectInstants(t, "rest", of(p.Cues, CueRest, "develop"), 180, 190, 250, 310, 370, 430, 490)
}

// The wet numbers of the same example: 1,170 s of a limit of 1,200.
func TestContractWet(t *testing.T) {
	r := recipeOf(Hangers, 4, bathFor(Presoak, 2*mins), bathFor(Develop, 8*mins), bathFor(Fix, 9*mins+30*sec))
	r.Film.WetLimit.All, r.Film.WetWarning = 20*mins, 4*mins
	w := resolved(t, r, Conditions{}).Wet
	if w.Total != 1170*sec || *w.Limit != 1200*sec || math.Abs(*w.Used-0.975) > 1e-12 ||
		*w.Margin != 30*sec || *w.WarningAt != 960*sec || w.Session != 1170*sec {
		t.Errorf("wet %+v used %v margin %v warning %v; expected 1170, 1200, 0.975, 30, 960, 1170", w, *w.Used, *w.Margin, *w.WarningAt)
	}
}

// Agitation by period. Each cycle is {start, length} in seconds from the start.
func TestAgitationByPeriod(t *testing.T) {
	for _, c := range []struct {
		name   string
		a      Agitation
		time   Elapsed
		drain  Elapsed
		cycles [][2]float64
	}{
		// NAVEDTRA 14209 (1993) pp. 258, 266: tank, 30 s at first, then 5 s each
		// minute; the last 10 s, the drain, belong to the developing time.
		{"tank by the Navy manual", periodic(30*sec, 5*sec, 60*sec), 6 * mins, 10 * sec,
			[][2]float64{{0, 30}, {60, 5}, {120, 5}, {180, 5}, {240, 5}, {300, 5}}},
		{"a cycle cut by the drain", periodic(30*sec, 5*sec, 60*sec), 5*mins + 13*sec, 10 * sec,
			[][2]float64{{0, 30}, {60, 5}, {120, 5}, {180, 5}, {240, 5}, {300, 3}}},
		{"a cycle that would start with the drain", periodic(30*sec, 5*sec, 60*sec), 5*mins + 10*sec, 10 * sec,
			[][2]float64{{0, 30}, {60, 5}, {120, 5}, {180, 5}, {240, 5}}},
		{"a cycle that would start in the drain", periodic(30*sec, 5*sec, 60*sec), 5*mins + 5*sec, 10 * sec,
			[][2]float64{{0, 30}, {60, 5}, {120, 5}, {180, 5}, {240, 5}}},
		{"a cycle at the step's end", periodic(30*sec, 5*sec, 60*sec), 2 * mins, 0,
			[][2]float64{{0, 30}, {60, 5}}},
		{"a multiple at the end of the initial counts", periodic(60*sec, 10*sec, 60*sec), 2*mins + 30*sec, 0,
			[][2]float64{{0, 60}, {60, 10}, {120, 10}}},
		{"a multiple before the end of the initial does not", periodic(61*sec, 10*sec, 60*sec), 2*mins + 30*sec, 0,
			[][2]float64{{0, 61}, {120, 10}}},
		{"no initial: the first multiple is the start", periodic(0, 10*sec, 60*sec), 2 * mins, 0,
			[][2]float64{{0, 10}, {60, 10}}},
		{"an initial cut by the drain", periodic(2*mins, 10*sec, 60*sec), 2 * mins, 15 * sec,
			[][2]float64{{0, 105}}},
		// NAVEDTRA 14209 p. 258: tray, constant.
		{"constant", Agitation{Mode: Continuous}, 5 * mins, 10 * sec, [][2]float64{{0, 290}}},
		{"shuffle where there is no stack", Agitation{Mode: Shuffle}, 5 * mins, 0, [][2]float64{{0, 300}}},
		{"none", Agitation{Mode: AtRest}, 5 * mins, 0, nil},
		{"thirds", Agitation{Mode: Pattern, Initial: 90 * sec, For: 15 * sec, At: []float64{1. / 3, 2. / 3}}, 9 * mins, 0,
			[][2]float64{{0, 90}, {180, 15}, {360, 15}}},
		{"a fraction cut by the drain", Agitation{Mode: Pattern, For: 60 * sec, At: []float64{0.5, 0.9}}, 10 * mins, 30 * sec,
			[][2]float64{{300, 60}, {540, 30}}},
		{"a fraction in the drain", Agitation{Mode: Pattern, For: 60 * sec, At: []float64{0.5, 0.96}}, 10 * mins, 30 * sec,
			[][2]float64{{300, 60}}},
		{"fractions in any order", Agitation{Mode: Pattern, For: 10 * sec, At: []float64{0.75, 0.25}}, 4 * mins, 0,
			[][2]float64{{60, 10}, {180, 10}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := resolved(t, recipeOf(Hangers, 2, bathFor(Presoak, mins),
				bathFor(Develop, c.time).agitated(c.a).drained(c.drain), bathFor(Fix, 5*mins)), Conditions{})
			expectCycles(t, p, "develop", 60, c.cycles)
		})
	}
}

// expectCycles compares agitate and rest in a step that starts at start.
func expectCycles(t *testing.T, p *Plan, step string, start float64, cycles [][2]float64) {
	t.Helper()
	var begins, rests []float64
	for _, c := range cycles {
		begins, rests = append(begins, start+c[0]), append(rests, start+c[0]+c[1])
	}
	expectInstants(t, "agitate", of(p.Cues, CueAgitate, step), begins...)
	expectInstants(t, "rest", of(p.Cues, CueRest, step), rests...)
	for i, c := range of(p.Cues, CueAgitate, step) {
		if i < len(cycles) && math.Abs(c.For.Seconds()-cycles[i][1]) > 1e-6 {
			t.Errorf("cycle %d lasts %v; expected %v s", i+1, c.For, cycles[i][1])
		}
	}
}

// Fractions are of the step's length today: 9 min become 6.5656 at 24 C and 2.2.
func TestFractionsOfTodaysTime(t *testing.T) {
	a := Agitation{Mode: Pattern, Initial: 60 * sec, For: 10 * sec, At: []float64{1. / 3, 2. / 3}}
	p := resolved(t, recipeOf(Hangers, 2, bathFor(Develop, 9*mins).at(20, 2.2).agitated(a), bathFor(Fix, 5*mins)),
		Conditions{Temp: degrees(24)})
	long := 540 * math.Pow(2.2, -0.4)
	expectCycles(t, p, "develop", 0, [][2]float64{{0, 60}, {long / 3, 10}, {2 * long / 3, 10}})
}

// From a stack into hangers the step's time counts from the last sheet.
func TestAgitationAfterAStack(t *testing.T) {
	p := resolved(t, recipeOf(Tray, 3, bathFor(Fix, 2*mins).shuffled(),
		bathFor(Wash, 5*mins).into(Hangers).agitated(periodic(30*sec, 10*sec, 60*sec))), Conditions{})
	// In the fixer from 30 s; out at 150, 160, 170.
	expectCycles(t, p, "wash", 170, [][2]float64{{0, 30}, {60, 10}, {120, 10}, {180, 10}, {240, 10}})
}

// Only a drum is reversed, and a step's own interval goes before the load's.
func TestReversals(t *testing.T) {
	for _, c := range []struct {
		v        Vessel
		load     Elapsed
		step     Elapsed
		drain    Elapsed
		expected []float64
	}{
		{Drum, 30 * sec, 0, 0, []float64{30, 60, 90}},
		{Drum, 30 * sec, 0, 30 * sec, []float64{30, 60}},
		{Drum, 30 * sec, 50 * sec, 0, []float64{50, 100}},
		{Drum, 0, 0, 0, nil},
		{Tube, 30 * sec, 0, 0, nil},
		{Hangers, 30 * sec, 30 * sec, 0, nil},
	} {
		r := recipeOf(c.v, 2, bathFor(Develop, 2*mins).reversing(c.step).drained(c.drain))
		r.Load.ReverseEvery = c.load
		p := resolved(t, r, Conditions{})
		t.Run(fmt.Sprint(c.v, c.load, c.step, c.drain), func(t *testing.T) {
			expectInstants(t, "reverse", of(p.Cues, CueReverse, ""), c.expected...)
		})
	}
}

// "Ready comes 20 s before each move or pour", where there are 20 s.
func TestReady(t *testing.T) {
	p := planOf(t, recipeOf(Hangers, 2, bathFor(Develop, 8*mins), bathFor(StopBath, 15*sec), bathFor(Fix, 20*sec)), Conditions{})
	expectInstants(t, "ready", of(p.Cues, CueReady, ""), 460, 495)
	n := begun(t, p, -30*sec)
	n.do(Wake{}, sec)
	if c := only(n.events, CueGiven); len(c) < 2 || c[0].Cue != CueReady || c[0].At != -20*sec {
		t.Errorf("during the lead: %s; expected ready at -20 s", kinds(c))
	}
}

// No long quiet is left without a tick, and no tick stands close before a cue.
func TestTicks(t *testing.T) {
	p := resolved(t, recipeOf(Hangers, 2, bathFor(Develop, 8*mins), bathFor(StopBath, 33*sec)), Conditions{})
	ticks := of(p.Cues, CueTick, "")
	if len(ticks) == 0 {
		t.Fatal("no tick in eight quiet minutes")
	}
	for i, c := range p.Cues[1:] {
		if quiet := c.At - p.Cues[i].At; quiet > 20*sec {
			t.Errorf("quiet for %v before %+v", quiet, c)
		}
	}
}

// Light is offered when the last sheet has had lights_on_after, else when the first
// lighter step has begun with all sheets in it.
func TestLightsOffer(t *testing.T) {
	tray := func(steps ...Step) Recipe { return recipeOf(Tray, 3, steps...) }
	for _, c := range []struct {
		name   string
		r      Recipe
		offers []float64
		out    []float64 // lights-out
	}{
		{"after lights_on_after, for the last sheet", tray(bathFor(Develop, 8*mins).shuffled(),
			bathFor(Fix, 5*mins).shuffled().offering(2*mins), bathFor(Wash, 5*mins).lit(White)),
			[]float64{510 + 120}, nil}, // the third enters the fixer at 480 + 2 x 15
		{"with the first lighter step, all sheets in it", tray(bathFor(Develop, 8*mins).shuffled(),
			bathFor(Fix, 5*mins).shuffled(), bathFor(Wash, 5*mins).lit(White)),
			[]float64{510 + 300 + 20}, nil},
		{"nothing is dark", recipeOf(Drum, 3, bathFor(Develop, 8*mins).lit(White),
			bathFor(Fix, 5*mins).lit(White).offering(2*mins)), nil, nil},
		{"dark to the end", tray(bathFor(Develop, 8*mins).shuffled(), bathFor(Fix, 5*mins).shuffled()), nil, nil},
		{"dark again", recipeOf(Hangers, 3, bathFor(Fix, 5*mins), bathFor(Wash, 5*mins).lit(White),
			bathFor(Other, mins), bathFor(Wetting, mins).lit(White)), []float64{300, 660}, []float64{580}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := resolved(t, c.r, Conditions{})
			expectInstants(t, "lights-offer", of(p.Cues, CueLightsOffer, ""), c.offers...)
			expectInstants(t, "lights-out", of(p.Cues, CueLightsOut, ""), c.out...)
		})
	}
}

// Moved on early out of the fixer, before lights_on_after: the last sheet has not
// had its least time there, so nothing is offered until the next lighter step.
func TestNoLightAfterAFixCutShort(t *testing.T) {
	r := recipeOf(Hangers, 2, bathFor(Develop, 8*mins), bathFor(Fix, 5*mins).offering(2*mins),
		bathFor(Rinse, 5*mins), bathFor(Wash, 5*mins).lit(White))
	n := begun(t, planOf(t, r, Conditions{}), 0)
	n.do(Wake{}, 500*sec)
	n.do(MoveOn{}, 510*sec) // 30 s in the fixer
	n.do(Wake{}, 20*mins)
	var offers []Elapsed
	for _, e := range only(n.events, CueGiven) {
		if e.Cue == CueLightsOffer {
			offers = append(offers, e.At)
		}
	}
	if !slices.Equal(offers, []Elapsed{810 * sec}) {
		t.Errorf("light offered at %v; expected at 810 s, with the wash", offers)
	}
}

// A stack's pattern, and everything else but shuffling in its developer, is a danger.
func TestStackAtRest(t *testing.T) {
	for _, a := range []Agitation{{Mode: AtRest}, {Mode: Continuous}, periodic(30*sec, 5*sec, 60*sec), {Mode: Shuffle}} {
		p := resolved(t, recipeOf(Tray, 2, bathFor(Develop, 8*mins).agitated(a), bathFor(Fix, 5*mins)), Conditions{})
		got := slices.ContainsFunc(p.Cautions, func(c Caution) bool { return c.Code == "stack-at-rest" && c.Level == Danger })
		if got != (a.Mode != Shuffle) {
			t.Errorf("%s: stack-at-rest %v", a.Mode, got)
		}
	}
}
