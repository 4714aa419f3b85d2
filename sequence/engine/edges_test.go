package engine

// Values at the very edge of a rule, each side of it.

import (
	"math"
	"slices"
	"testing"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/chem/estimate"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
	"example.org/wetside/sequence/schedule"
)

// The end of developing is told anew where it has moved by more than ten seconds, the contract's,
// also in the first bath.
func TestTheEndThatMovedIsToldFromTenSecondsOn(t *testing.T) {
	below, above := 0, 0
	for hundredths := 1950; hundredths <= 2050; hundredths++ {
		n := begun(t, planOf(t, recipetest.FourInHangers(), sequence.Conditions{}), 0)
		n.do(sequence.Wake{}, 2*recipetest.Minute)
		planned := n.s.forecastNow.change.at
		events := n.do(sequence.TakeReading{T: chem.Celsius(hundredths) / 100, Source: sequence.ByHand}, 2*recipetest.Minute+time.Second)
		moved := (n.s.forecastNow.change.at - planned).Abs()
		told := false
		for _, e := range events {
			told = told || e.Kind == sequence.CueGiven && e.Cue == sequence.CueReading
		}
		if told != (moved > 10*time.Second) {
			t.Errorf("at %d hundredths of a degree the end moved by %v: told %t", hundredths, moved, told)
		}
		switch {
		case moved > 9*time.Second && moved <= 10*time.Second:
			below++
		case moved > 10*time.Second && moved < 11*time.Second:
			above++
		}
	}
	if below == 0 || above == 0 {
		t.Errorf("%d and %d readings on the two sides", below, above)
	}
}

// It is told once, and not where it is over and the person knows.
func TestTheEndThatMovedIsToldOnce(t *testing.T) {
	p := planOf(t, recipetest.Recipe(sequence.Hangers, 1, recipetest.At(recipetest.Bath(sequence.Develop, 10*recipetest.Minute), 20, 2.2), recipetest.Bath(sequence.Fix, recipetest.Minute)), sequence.Conditions{BathTemperature: recipetest.Degrees(20)})
	n := begun(t, p, 0)
	n.do(sequence.Hold{}, recipetest.Minute)
	for _, c := range []struct {
		at   time.Duration
		t    chem.Celsius
		told bool
	}{{2 * recipetest.Minute, 22, true}, {2*recipetest.Minute + time.Second, 22, false}, {3 * recipetest.Minute, 19, true}, {15 * recipetest.Minute, 24, false}} {
		events := n.do(sequence.TakeReading{T: c.t, Source: sequence.BySensor}, c.at)
		if got := slices.ContainsFunc(events, func(e sequence.Event) bool { return e.Cue == sequence.CueReading }); got != c.told {
			t.Errorf("%v at %v: told %t", c.t, c.at, got)
		}
	}
}

// A number without its decimal point is asked about where a bath can be so warm with it: from
// 0 to 60 C, both included.
func TestAPointLeftOutAtTheEdges(t *testing.T) {
	f := sequence.Units{Fahrenheit: true}
	for _, c := range []struct {
		typed chem.Celsius
		units sequence.Units
		code  string
	}{{600, sequence.Units{}, "point-left-out"}, {601, sequence.Units{}, "no-bath-so-warm"}, {61, sequence.Units{}, "point-left-out"}, {60, sequence.Units{}, ""},
		{0, sequence.Units{}, ""}, {-0.1, sequence.Units{}, "no-bath-so-warm"}, {160, f, "point-left-out"}, {159, f, "no-bath-so-warm"}} { // 320 F for 32.0 F
		n := begun(t, planOf(t, recipetest.Recipe(sequence.Hangers, 1, recipetest.Bath(sequence.Fix, recipetest.Minute)), sequence.Conditions{}), 0)
		if got := refuseReading(n.s, sequence.TakeReading{T: c.typed, Units: c.units, Source: sequence.ByHand}, 0); got.Code != c.code {
			t.Errorf("%v: %q; expected %q", c.typed, got.Code, c.code)
		}
	}
}

// What was read a while ago is compared with what was expected then.
func TestAReadingIsExpectedForItsMoment(t *testing.T) {
	p := planOf(t, recipetest.Recipe(sequence.Hangers, 1, recipetest.At(recipetest.Bath(sequence.Develop, 20*recipetest.Minute), 20, 2.2)), sequence.Conditions{BathTemperature: recipetest.Degrees(20)})
	n := begun(t, p, 0)
	n.do(sequence.TakeReading{T: 25, Source: sequence.ByHand}, 5*recipetest.Minute)
	for ago, code := range map[time.Duration]string{0: "not-expected", 5 * recipetest.Minute: "not-expected", 10 * recipetest.Minute: ""} { // 25, 25 and 20 C
		if got := n.s.Refuse(sequence.TakeReading{T: 16, Ago: ago, Source: sequence.ByHand}, 10*recipetest.Minute); got.Code != code {
			t.Errorf("16 C %v ago: %q; expected %q", ago, got.Code, code)
		}
	}
	// The first bath that works by temperature is meant: not a second developer at 38 C.
	p = planOf(t, recipetest.Recipe(sequence.Hangers, 1, recipetest.At(recipetest.Bath(sequence.Develop, 20*recipetest.Minute), 20, 2.2), recipetest.At(recipetest.Bath(sequence.Develop, 5*recipetest.Minute), 38, 2.2)), sequence.Conditions{})
	if why := begun(t, p, 0).s.Refuse(sequence.TakeReading{T: 21, Source: sequence.ByHand}, recipetest.Minute); why.Refused() {
		t.Errorf("21 C in a first developer at 20 C: %q", why.Code)
	}
}

// A quiet of ten seconds is passed over, less is not.
func TestTheLeastQuiet(t *testing.T) {
	s := quietState(t)
	to, ok := s.QuietUntil(recipetest.Minute)
	if !ok {
		t.Fatal("no quiet")
	}
	for short, want := range map[time.Duration]bool{0: true, time.Millisecond: false, 1900 * time.Millisecond: false} {
		if _, ok := s.QuietUntil(to - 10*time.Second + short); ok != want {
			t.Errorf("%v less than ten seconds: %t", short, ok)
		}
	}
}

// Three sheets leave the developer at 630, 640 and 650 s: they are in a row between the first
// and the last. The time in the step counts from the first sheet in, at 150 s.
func TestARowOfMoves(t *testing.T) {
	n := begun(t, planOf(t, three(), sequence.Conditions{}), 0)
	for _, c := range []struct {
		at     time.Duration
		inRow  bool
		step   int
		inStep time.Duration
	}{{100 * time.Second, false, 0, 100 * time.Second}, {151 * time.Second, true, 1, time.Second}, {629 * time.Second, false, 1, 479 * time.Second}, {631 * time.Second, true, 2, time.Second}, {649 * time.Second, true, 2, 19 * time.Second}, {651 * time.Second, false, 2, 21 * time.Second}} {
		n.do(sequence.Wake{}, c.at)
		if l := n.s.Snapshot(c.at); l.InRow != c.inRow || l.Step != c.step || l.TimeInStep != c.inStep {
			t.Errorf("at %v in a row %t, in step %d for %v; expected %+v", c.at, l.InRow, l.Step, l.TimeInStep, c)
		}
	}
}

// What moves together is in no row, nor are sheets that are being loaded, those of a film test
// that each have a time of their own, and film whose session is over.
func TestNoRowOfMoves(t *testing.T) {
	for _, c := range []struct {
		recipe sequence.Recipe
		at     time.Duration
	}{{straightOn(), 220 * time.Second}, {straightOn(), 235 * time.Second}, {straightOn(), 245 * time.Second}, {three(), time.Hour}} {
		n := begun(t, planOf(t, c.recipe, sequence.Conditions{}), 0)
		n.do(sequence.Wake{}, c.at)
		if n.s.Snapshot(c.at).InRow {
			t.Errorf("in a row at %v", c.at)
		}
	}
	n := begun(t, planOf(t, recipetest.FourInHangers(), sequence.Conditions{}), 0)
	m := begun(t, planOf(t, three(), sequence.Conditions{}), 0)
	n.do(sequence.Wake{}, 100*time.Second)
	m.do(sequence.Wake{}, 20*time.Second)
	if n.s.Snapshot(100*time.Second).InRow || m.s.Snapshot(20*time.Second).InRow {
		t.Error("in a row")
	}
}

// Three sheets come into hangers one by one, and leave them together.
func TestLateSheetsByTheBathTheyCameFrom(t *testing.T) {
	r := recipetest.Recipe(sequence.Tray, 3, recipetest.Shuffled(recipetest.Bath(sequence.Fix, 2*recipetest.Minute)),
		recipetest.Into(recipetest.Bath(sequence.Wash, 4*recipetest.Minute), sequence.Hangers), recipetest.Bath(sequence.WettingAgent, recipetest.Minute))
	r.Steps[2].Vessel = sequence.Hangers
	n := begun(t, planOf(t, r, sequence.Conditions{}), 0)
	for i, together := range []bool{false, true} {
		step := i + 1
		for n.s.where(2) < step {
			at, ok := n.s.Due()
			if !ok {
				t.Fatal("nothing is due")
			}
			n.do(sequence.Wake{}, at)
		}
		list := n.s.LateSheets(n.s.At() + time.Second)
		if len(list) == 0 || list[0].Together != together {
			t.Errorf("in step %d: %v; together %t", step, list, together)
		}
		if !together && len(list) != 3 {
			t.Errorf("in step %d: %v", step, list)
		}
	}
}

// Where no cue is to be heard none of the routine is done first.
func TestQuietWithoutCues(t *testing.T) {
	s := quietState(t)
	s.forecastNow.cues = s.forecastNow.cues[:s.forecastNow.next]
	if to, ok := s.QuietUntil(recipetest.Minute); !ok || to != 9*recipetest.Minute+50*time.Second {
		t.Errorf("quiet until %v, %t; expected ten seconds before the next bath", to, ok)
	}
}

// How well development is known counts from when film came in, whatever is read before and
// after: by the estimate's own steps, one after the other.
func TestDevelopmentsErrorCountsFromFilmIn(t *testing.T) {
	r := recipetest.Recipe(sequence.Hangers, 1, recipetest.Bath(sequence.Presoak, 5*recipetest.Minute), recipetest.At(recipetest.Bath(sequence.Develop, 10*recipetest.Minute), 20, 2.2))
	p := planOf(t, r, sequence.Conditions{Thermometers: &sequence.Thermometers{Hand: sequence.Thermometer{Within: 0.5}}, BathTemperature: recipetest.Degrees(20)})
	n := begun(t, p, 0)
	b := schedule.EstimatedBath(p, 1)
	s := b.Begin(schedule.PlannedReading(p, 1))
	for i, minute := range []time.Duration{2, 4, 7, 9} {
		at, reading := minute*recipetest.Minute, chem.Celsius(20+0.3*float64(i))
		n.do(sequence.TakeReading{T: reading, Source: sequence.ByHand, Confirmed: true}, at)
		if minute == 7 {
			s = b.Until(s, 5*recipetest.Minute).Counting()
		}
		s = b.Take(s, estimate.Reading{At: at, T: reading})
	}
	s = b.Until(s, 10*recipetest.Minute)
	mean, deviation := s.Mean()
	want := schedule.DoseError(n.s.filmState.rates[1], mean, deviation)
	if d := n.s.Snapshot(10 * recipetest.Minute).Develop; d == nil || math.Abs(d.Error-want) > 1e-12 {
		t.Errorf("%+v; expected ±%v", d, want)
	}
}

// What the last press did can be taken back for as long as the command itself is carried out.
func TestWhatCanBeTakenBackIsShown(t *testing.T) {
	n := begun(t, planOf(t, recipetest.FourInHangers(), sequence.Conditions{}), 0)
	if n.s.Snapshot(time.Second).CanUndo {
		t.Error("the begin can be taken back")
	}
	n.do(sequence.MoveOn{}, recipetest.Minute)
	for after := time.Duration(0); after < 2*recipetest.Minute; after += 5 * time.Second {
		now := recipetest.Minute + after
		undone := false
		for _, e := range Decide(n.s, sequence.Undo{}, now) {
			undone = undone || e.Kind == sequence.Undone
		}
		if shown := n.s.Snapshot(now).CanUndo; shown != undone {
			t.Errorf("%v after the press: shown %t, done %t", after, shown, undone)
		}
	}
}

// At one instant what is heard comes before what is recorded: the alarms of the wet limit.
func TestAnAlarmIsHeardBeforeItIsRecorded(t *testing.T) {
	r := recipetest.Recipe(sequence.Hangers, 4, recipetest.Agitated(recipetest.Bath(sequence.Fix, 16*recipetest.Minute), recipetest.Periodic(0, 5*recipetest.Second, 30*recipetest.Second))) // also at the instants of the alarms
	r.Film.WetLimit.All = 20 * recipetest.Minute
	n := begun(t, planOf(t, r, sequence.Conditions{}), 0)
	n.do(sequence.Hold{}, 950*recipetest.Second)
	n.do(sequence.Wake{}, 40*recipetest.Minute)
	heard := map[sequence.EventKind]sequence.CueKind{sequence.WetWarned: sequence.CueWetWarning, sequence.WetPassed: sequence.CueWetLimit}
	for i, e := range n.events {
		cue, is := heard[e.Kind]
		if !is {
			continue
		}
		delete(heard, e.Kind)
		if before := n.events[i-1]; before.Kind != sequence.CueGiven || before.Cue != cue || before.At != e.At {
			t.Errorf("before %s at %v: %+v", e.Kind, e.At, before)
		}
	}
	if len(heard) > 0 {
		t.Errorf("never came: %v", heard)
	}
}

// A warning that was given for a sheet is not given again when that sheet is set aside, and
// another would have been warned of later.
func TestAWarningIsGivenOnce(t *testing.T) {
	r := recipetest.Recipe(sequence.Tray, 3, recipetest.Shuffled(recipetest.Bath(sequence.Presoak, 2*recipetest.Minute)), recipetest.Shuffled(recipetest.Bath(sequence.Fix, 10*recipetest.Minute)))
	r.Film.WetLimit.All, r.Film.WetWarning = 10*recipetest.Minute, 2*recipetest.Minute
	n := begun(t, planOf(t, r, sequence.Conditions{}), 0)
	warning := func() (list []sequence.Elapsed) {
		for _, e := range n.events {
			if e.Kind == sequence.CueGiven && e.Cue == sequence.CueWetWarning {
				list = append(list, e.At)
			}
		}
		return list
	}
	n.do(sequence.Wake{}, 8*recipetest.Minute+time.Second)
	if got := warning(); len(got) != 1 || got[0] != 8*recipetest.Minute {
		t.Fatalf("warned at %v; expected 8:00, of the first sheet", got)
	}
	n.do(sequence.SetSheetAside{Sheet: 1}, 8*recipetest.Minute+2*time.Second)
	n.do(sequence.Wake{}, 9*recipetest.Minute)
	if got := warning(); len(got) != 1 {
		t.Errorf("warned at %v", got)
	}
}

// The limit's alarm comes once, and the worst is the first of those in play.
func TestTheWorstIsInPlay(t *testing.T) {
	r := recipetest.Recipe(sequence.Tray, 3, recipetest.Shuffled(recipetest.Bath(sequence.Presoak, 2*recipetest.Minute)), recipetest.Shuffled(recipetest.Bath(sequence.Fix, 10*recipetest.Minute)))
	r.Film.WetLimit.All = 8 * recipetest.Minute
	n := begun(t, planOf(t, r, sequence.Conditions{}), 0)
	n.do(sequence.Wake{}, 8*recipetest.Minute+time.Second)
	if l := n.s.Snapshot(8*recipetest.Minute + time.Second); l.Wettest != 0 {
		t.Errorf("the worst is sheet %d", l.Wettest+1)
	}
	n.do(sequence.SetSheetAside{Sheet: 1}, 8*recipetest.Minute+2*time.Second)
	n.do(sequence.Wake{}, 9*recipetest.Minute)
	if l := n.s.Snapshot(9 * recipetest.Minute); l.Wettest != 1 {
		t.Errorf("without the first the worst is sheet %d", l.Wettest+1)
	}
	alarms := 0
	for _, e := range n.events {
		if e.Kind == sequence.CueGiven && e.Cue == sequence.CueWetLimit {
			alarms++
		}
	}
	if alarms != 1 {
		t.Errorf("%d alarms", alarms)
	}
}

// What is set aside is told with the bath that it was taken from.
func TestWhatIsSetAsideIsTold(t *testing.T) {
	n := begun(t, planOf(t, recipetest.FourInHangers(), sequence.Conditions{}), 0)
	n.do(sequence.Wake{}, 3*recipetest.Minute)
	n.do(sequence.SetSheetAside{Sheet: 2}, 3*recipetest.Minute)
	want := sequence.Passage{Step: 1, Sheet: 2, In: 3 * recipetest.Minute, Out: sequence.Never}
	if list := n.s.filmState.StaysSetAside(); len(list) != 1 || list[0] != want {
		t.Errorf("%+v; expected %+v", list, want)
	}
}

// Half of the development is a half; what was said of the sound is shown until it is back.
func TestWhatIsShownOfDevelopmentAndSound(t *testing.T) {
	n := begun(t, planOf(t, recipetest.Recipe(sequence.Hangers, 1, recipetest.Bath(sequence.Develop, 8*recipetest.Minute), recipetest.Bath(sequence.Fix, recipetest.Minute)), sequence.Conditions{}), 0)
	if d := n.s.Snapshot(4 * recipetest.Minute).Develop; d == nil || d.Share() != 0.5 {
		t.Errorf("%+v", d)
	}
	n.do(sequence.Report{Kind: sequence.SoundLost, Text: "unplugged"}, time.Minute)
	if got := n.s.Snapshot(time.Minute).SoundLost; got != "unplugged" {
		t.Errorf("lost: %q", got)
	}
	n.do(sequence.Report{Kind: sequence.SoundBack}, 2*time.Minute)
	if got := n.s.Snapshot(2 * time.Minute).SoundLost; got != "" {
		t.Errorf("back: %q", got)
	}
}

// The moment of the limit is known by the plan before anything is wet, and what is to come
// counts while the session runs.
func TestTheLimitCountsWhatIsToCome(t *testing.T) {
	r := recipetest.Recipe(sequence.Tray, 1, recipetest.Bath(sequence.Presoak, 12*recipetest.Minute), recipetest.Into(recipetest.Bath(sequence.Wash, 40*recipetest.Minute), sequence.Hangers))
	r.Film.WetLimit.ByVessel = map[sequence.Vessel]sequence.Elapsed{sequence.Tray: 24 * recipetest.Minute, sequence.Hangers: 60 * recipetest.Minute}
	n := begun(t, planOf(t, r, sequence.Conditions{}), 0)
	n.do(sequence.Wake{}, recipetest.Minute)
	// 12 of 24 minutes in the tray are a half; the other half is 30 of 60 in hangers.
	if at := n.s.LimitAt(); at == nil || *at != 42*recipetest.Minute {
		t.Errorf("limit at %v; expected 42:00", at)
	}
	held := &session{s: n.s}
	held.do(sequence.Hold{}, 11*recipetest.Minute)
	held.do(sequence.Wake{}, 14*recipetest.Minute)
	if at, shown := held.s.LimitAt(), held.s.Snapshot(14*recipetest.Minute).Wet.LimitAt; at == nil || shown == nil || *at != 24*recipetest.Minute || *shown != *at {
		t.Errorf("overdue in the tray: limit at %v, shown %v; expected 24:00", at, shown)
	}
	n.do(sequence.EndSession{}, 2*recipetest.Minute) // who stops may leave film where it is
	if at, shown := n.s.LimitAt(), n.s.Snapshot(2*recipetest.Minute).Wet.LimitAt; at == nil || shown == nil || *at != 24*recipetest.Minute || *shown != *at {
		t.Errorf("stopped: limit at %v, shown %v; expected 24:00, in the tray", at, shown)
	}
	if s, err := NewState(n.s.plan); err != nil || s.LimitAt() != nil {
		t.Errorf("not begun: %v, a limit at %v", err, s.LimitAt())
	}
}
