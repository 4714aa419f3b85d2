package engine

// The one thing that can still be done: followed to the second, it comes to what it
// was said to come to.

import (
	"reflect"
	"slices"
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/sequence/recipetest"
	"example.org/wetside/sequence/schedule"
)

// advised is a session of slow() brought to a moment of its fixing.
func advised(t *testing.T, limit sequence.Elapsed, until sequence.Elapsed) *session {
	t.Helper()
	r := recipetest.SixInTray()
	r.Steps[4].Vessel = sequence.Hangers
	r.Film.WetLimit = sequence.WetLimit{All: limit}
	n := begun(t, planOf(t, r, sequence.Conditions{}), 0)
	n.do(sequence.Wake{}, until)
	return n
}

func TestAdviceFollowedKeepsItsWord(t *testing.T) {
	n := advised(t, 48*recipetest.Minute, 20*recipetest.Minute)
	a, ok := n.s.Advise(20 * recipetest.Minute)
	if !ok || a.Action != LeastTime || a.Step != 4 || a.For != 6*recipetest.Minute {
		t.Fatalf("advised %+v; expected the shorter wash, which alone keeps the limit", a)
	}
	for n.s.where(n.s.plan.Sheets-1) < 4 { // until the last sheet hangs in the wash
		at, _ := n.s.Due()
		n.do(sequence.Wake{}, at)
	}
	_, last, _, _ := schedule.Bounds(n.s.filmState.film.Row(n.s.plan, 4))
	n.do(sequence.MoveOn{}, last+6*recipetest.Minute)
	if a.At != last+6*recipetest.Minute {
		t.Errorf("until %v, it was said; six minutes are over at %v", a.At, last+6*recipetest.Minute)
	}
	if w := n.s.Snapshot(last + 6*recipetest.Minute).Wet; n.s.Over() != sequence.SessionDone || *w.Margin != *a.Margin {
		t.Errorf("followed, %v is left; %v was said", *w.Margin, *a.Margin)
	}
}

// What the row is held for counts first; where nothing helps nothing is said; the
// kindest that suffices goes before one that saves more.
func TestWhatIsAdvised(t *testing.T) {
	n := advised(t, 48*recipetest.Minute, 20*recipetest.Minute)
	n.do(sequence.Hold{}, 20*recipetest.Minute)
	n.do(sequence.Wake{}, 28*recipetest.Minute)
	due := n.s.forecastNow.change
	for now, over := range map[time.Duration]time.Duration{28 * recipetest.Minute: 28*recipetest.Minute - n.s.filmState.since, n.s.filmState.since: 0, n.s.filmState.since - 1: 0} {
		if a, ok := n.s.Advise(now); !ok || a.Action != MoveOnNow || a.For != over || n.s.plan.Steps[a.Step].Name != "fix" || a.Step != due.from {
			t.Errorf("held: %+v; expected to be told to go on, %v late", a, over)
		}
	}
	n = advised(t, 48*recipetest.Minute, 59*recipetest.Minute)
	if a, ok := n.s.Advise(59 * recipetest.Minute); ok && n.s.plan.Steps[a.Step].Name == "fix" {
		t.Errorf("after fixing: %+v", a)
	}
	r := recipetest.Recipe(sequence.Hangers, 1, recipetest.Bath(sequence.Develop, 8*recipetest.Minute), recipetest.Bath(sequence.Fix, 5*recipetest.Minute))
	m := begun(t, planOf(t, r, sequence.Conditions{}), 0)
	if a, ok := m.s.Advise(recipetest.Minute); ok {
		t.Errorf("nothing can be shortened, but: %+v", a)
	}
}

// A film whose limit is known for trays and for single trays goes into these.
func TestIntoSingleTrays(t *testing.T) {
	r := recipetest.Recipe(sequence.Tray, 4, recipetest.Shuffled(recipetest.Bath(sequence.Develop, 8*recipetest.Minute)), recipetest.Shuffled(recipetest.Bath(sequence.Fix, 5*recipetest.Minute)), recipetest.Lit(recipetest.Shuffled(recipetest.Bath(sequence.Wash, 10*recipetest.Minute)), sequence.White))
	for other, want := range map[sequence.Vessel]sequence.Vessel{sequence.SingleTrays: sequence.SingleTrays, sequence.Hangers: sequence.Hangers, sequence.Cradle: sequence.Hangers} {
		r.Film.WetLimit = sequence.WetLimit{ByVessel: map[sequence.Vessel]sequence.Elapsed{sequence.Tray: 18 * recipetest.Minute, other: 60 * recipetest.Minute}}
		p := planOf(t, r, sequence.Conditions{})
		c, ok := planning.FindChange(p, "vessel", "wash")
		if !ok {
			t.Fatalf("%s: not proposed", other)
		}
		changed, _ := c.Applied()
		if got := changed.Steps[2].Vessel; got != want {
			t.Errorf("a limit for %s: into %s; expected %s", other, got, want)
		}
		n := begun(t, p, 0)
		n.do(sequence.Wake{}, 10*recipetest.Minute)
		if a, ok := n.s.Advise(10 * recipetest.Minute); other != sequence.Cradle && (!ok || a.Action != IntoHangers || a.In != want) {
			t.Errorf("a limit for %s: advised %+v", other, a)
		}
	}
}

// hung is advised at three minutes of a session in trays.
func hung(t *testing.T, change func(*sequence.Recipe)) (Advice, bool) {
	t.Helper()
	r := recipetest.Recipe(sequence.Tray, 4, recipetest.Shuffled(recipetest.Bath(sequence.Fix, 5*recipetest.Minute)), recipetest.Lit(recipetest.Shuffled(recipetest.Bath(sequence.Wash, 10*recipetest.Minute)), sequence.White))
	r.Film.WetLimit.ByVessel = map[sequence.Vessel]sequence.Elapsed{sequence.Tray: 10 * recipetest.Minute, sequence.Hangers: 60 * recipetest.Minute}
	change(&r)
	n := begun(t, planOf(t, r, sequence.Conditions{}), 0)
	n.do(sequence.Wake{}, 3*recipetest.Minute)
	before := slices.Clone(n.s.plan.Steps)
	a, ok := n.s.Advise(3 * recipetest.Minute)
	if !reflect.DeepEqual(n.s.plan.Steps, before) {
		t.Error("the plan was changed")
	}
	return a, ok
}

// What is optional can be left out from the second bath on; where nothing suffices the most
// that helps is said, and a stack in the dark stays one.
func TestWhichAdviceOfSeveral(t *testing.T) {
	if a, ok := hung(t, func(r *sequence.Recipe) { r.Steps[1].RoomLight = sequence.Dark }); ok {
		t.Errorf("in the dark: %+v", a)
	}
	if a, ok := hung(t, func(r *sequence.Recipe) { r.Steps[1].RoomLight, r.Steps[1].Optional = sequence.Dark, true }); !ok || a.Action != LeaveOut || a.Step != 1 {
		t.Errorf("optional: %+v", a)
	}
	least := func(minutes time.Duration) func(*sequence.Recipe) {
		return func(r *sequence.Recipe) {
			r.Film.WetLimit = sequence.WetLimit{All: 5 * recipetest.Minute}
			rinse := recipetest.Optional(recipetest.Shuffled(recipetest.Bath(sequence.Rinse, 3*recipetest.Minute)))
			rinse.Name, rinse.RoomLight = "rinse", sequence.Dark
			r.Steps[1].RoomLight, r.Steps[1].LeastTime = sequence.Dark, minutes*recipetest.Minute
			r.Steps = append(r.Steps, rinse)
		}
	}
	if a, ok := hung(t, least(9)); !ok || a.At != 0 || a.Action != LeaveOut || a.Step != 2 {
		t.Errorf("one minute less, or three: %+v", a)
	}
	for minutes, what := range map[time.Duration]string{5: "five minutes less, or three", 7: "three either way: what is kinder"} {
		if a, ok := hung(t, least(minutes)); !ok || a.Action != LeastTime || a.Step != 1 {
			t.Errorf("%s: %+v", what, a)
		}
	}
	if a, ok := hung(t, func(r *sequence.Recipe) {
		least(9)(r)
		r.Steps[1].LeastTime = 0
		again := r.Steps[2]
		again.Name = "rinse again"
		r.Steps = append(r.Steps, again)
	}); !ok || a.Action != LeaveOut || a.Step != 2 {
		t.Errorf("either rinse: %+v; expected the first", a)
	}
	nothing := func(r *sequence.Recipe) { // a shorter wash gains nothing where washing is outside the wet time
		least(5)(r)
		r.Steps[1].OutsideWetTime = true
	}
	if a, ok := hung(t, nothing); !ok || a.Action != LeaveOut || a.Step != 2 {
		t.Errorf("the wash does not count: %+v", a)
	}
}

// The kindest that keeps the limit is enough, be it to the second, though another would save more.
func TestTheKindestThatKeepsTheLimit(t *testing.T) {
	for spare, want := range map[time.Duration]Action{0: LeastTime, time.Second: LeastTime, -time.Nanosecond: LeaveOut} {
		a, ok := hung(t, func(r *sequence.Recipe) {
			rinse := recipetest.Optional(recipetest.Shuffled(recipetest.Bath(sequence.Rinse, 3*recipetest.Minute)))
			rinse.RoomLight, r.Steps[1].RoomLight = sequence.Dark, sequence.Dark
			r.Steps = append(r.Steps, rinse)
			r.Film.WetLimit = sequence.WetLimit{All: time.Hour}
			whole := planOf(t, *r, sequence.Conditions{}).Wet.Total
			r.Steps[1].LeastTime, r.Film.WetLimit.All = 9*recipetest.Minute, whole-recipetest.Minute+spare
		})
		if !ok || a.Action != want {
			t.Errorf("%v to spare with one minute less: %+v; expected %s", spare, a, want)
		}
	}
}

// Before its second bath begins a stack that will stand in the light may still be hung.
func TestHangersFromTheSecondBath(t *testing.T) {
	if a, ok := hung(t, func(*sequence.Recipe) {}); !ok || a.Action != IntoHangers || a.Step != 1 {
		t.Errorf("advised %+v, %t", a, ok)
	}
}

// The film goes into the first bath whatever is advised before.
func TestTheFirstBathIsNotLeftOut(t *testing.T) {
	r := recipetest.Recipe(sequence.Hangers, 1, recipetest.Optional(recipetest.Bath(sequence.Rinse, 5*recipetest.Minute)), recipetest.Bath(sequence.Fix, 5*recipetest.Minute))
	r.Film.WetLimit.All = 6 * recipetest.Minute
	lit := recipetest.Recipe(sequence.Tray, 4, recipetest.Lit(recipetest.Shuffled(recipetest.Bath(sequence.Wash, 15*recipetest.Minute)), sequence.White))
	lit.Film.Sensitivity = sequence.Ortho
	lit.Film.WetLimit.ByVessel = map[sequence.Vessel]sequence.Elapsed{sequence.Tray: 10 * recipetest.Minute, sequence.Hangers: 60 * recipetest.Minute}
	for _, r := range []sequence.Recipe{r, lit} {
		n := begun(t, planOf(t, r, sequence.Conditions{}), -30*recipetest.Second)
		if a, ok := n.s.Advise(-10 * recipetest.Second); ok {
			t.Errorf("advised %+v", a)
		}
	}
}
