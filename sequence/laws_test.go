package sequence

// The three laws of the core, over random recipes and random commands: replaying
// equals living; the same now twice adds nothing; one late wake-up gives the same
// events as many early ones. And what must hold whatever happens: the record never
// runs backwards, no cue is given twice, no sheet is lost, Apply changes nothing
// that it was given.

import (
	"fmt"
	"reflect"
	"slices"
	"testing"

	"example.org/wetside/chem"
	"pgregory.net/rapid"
)

// anyAgitation draws every form of agitation.
func anyAgitation(t *rapid.T) Agitation {
	switch rapid.IntRange(0, 4).Draw(t, "agitation") {
	case 0:
		return Agitation{Mode: AtRest}
	case 1:
		return Agitation{Mode: Continuous}
	case 2:
		return periodic(seconds(t, 0, 60, "initial"), seconds(t, 1, 10, "for"), seconds(t, 15, 90, "every"))
	case 3:
		return Agitation{Mode: Pattern, Initial: seconds(t, 0, 60, "initial"), For: seconds(t, 1, 10, "for"), At: []float64{1. / 3, 2. / 3}}
	}
	return Agitation{Mode: Shuffle}
}

// anyRecipe draws a recipe of any kind: all vessels, agitations, lights, waits, film tests.
func anyRecipe(t *rapid.T) Recipe {
	v := rapid.SampledFrom(append(slices.Clone(Vessels), Tray, Tray)).Draw(t, "vessel")
	n := rapid.IntRange(1, 5).Draw(t, "sheets")
	var steps []Step
	fixed := false
	add := func(k Kind, lo, hi int) *Step {
		st := bathFor(k, seconds(t, lo, hi, string(k))).agitated(anyAgitation(t))
		st.Wait = rapid.IntRange(0, 5).Draw(t, "waits") == 0
		if fixed && rapid.Bool().Draw(t, "lit") {
			st.RoomLight = White
		}
		if rapid.IntRange(0, 2).Draw(t, "drains") == 0 {
			st.Drain = seconds(t, 1, 8, "drain")
		}
		fixed = fixed || k == Fix
		steps = append(steps, st)
		return &steps[len(steps)-1]
	}
	if rapid.Bool().Draw(t, "presoak") {
		add(Presoak, 20, 90)
	}
	dev := add(Develop, 120, 400)
	if rapid.Bool().Draw(t, "temperature") {
		*dev = dev.at(20, 2.2)
	}
	if !v.Closed() && rapid.IntRange(0, 2).Draw(t, "film test") == 0 {
		times := make([]Elapsed, n)
		for k := range times {
			times[k] = seconds(t, 120, 400, "take out")
		}
		*dev = dev.taking(times...)
		dev.Together = len(steps) > 1 && rapid.IntRange(0, 2).Draw(t, "together") == 0
	}
	add(StopBath, 10, 60)
	if rapid.Bool().Draw(t, "goes on") {
		fix := add(Fix, 60, 200)
		fix.LightsOnAfter = min(fix.Time, seconds(t, 0, 60, "light after"))
		wash := add(Wash, 20, 200)
		if rapid.Bool().Draw(t, "hangs") {
			wash.Vessel = Hangers
		}
	}
	r := recipeOf(v, n, steps...)
	r.Load.ReverseEvery = seconds(t, 0, 60, "reverse")
	r.Load.MoveEvery, r.Load.LoadEvery = seconds(t, 9, 15, "move every"), seconds(t, 5, 20, "load every")
	r.Film.WetWarning = seconds(t, 10, 200, "warning")
	if rapid.Bool().Draw(t, "limited") {
		r.Film.WetLimit.All = seconds(t, 200, 1500, "limit")
	}
	return r
}

// anyPlan draws a plan of any kind.
func anyPlan(t *rapid.T) *Plan {
	p, err := Resolve(anyRecipe(t), randomConditions(t))
	if err != nil {
		t.Skip(err)
	}
	return &p
}

// ask is one command after a pause.
type ask struct {
	after Elapsed
	c     Command
}

// anyCommands draws a session's commands, none of them a gap.
func anyCommands(t *rapid.T) []ask {
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) ask {
		after := Elapsed(rapid.IntRange(0, 120_000).Draw(t, "pause ms")) * 1e6
		if rapid.IntRange(0, 2).Draw(t, "quick") == 0 {
			after %= 12 * sec
		}
		var c Command
		switch rapid.IntRange(0, 12).Draw(t, "command") {
		case 0, 1:
			c = MoveOn{}
		case 2, 3:
			c = Undo{}
		case 4:
			c = Hold{}
		case 5, 6:
			c = Go{}
		case 7:
			c = Read{T: *degrees(rapid.Float64Range(16, 26).Draw(t, "read")), Ago: seconds(t, 0, 60, "ago"), Source: "hand"}
		case 8:
			c = TakeOut{}
		case 9:
			c = Late{Sheet: rapid.IntRange(1, 5).Draw(t, "late")}
		case 12:
			c = Aside{Sheet: rapid.IntRange(1, 5).Draw(t, "aside")}
		case 10:
			c = Remark{Text: "tray 2 is cool"}
		default:
			c = Tell{Kind: SoundLost, Text: "unplugged"}
		}
		return ask{after, c}
	}), 0, 14).Draw(t, "commands")
}

// live carries commands out, woken up in between at the moments that wake lists.
func live(t testing.TB, p *Plan, list []ask, lead Elapsed, wakes func(from, to Elapsed) []Elapsed) *session {
	n, now := begun(t, p, -lead), -lead
	for _, a := range append(slices.Clone(list), ask{20 * mins, Wake{}}) {
		for _, w := range wakes(now, now+a.after) {
			n.do(Wake{}, w)
		}
		now += a.after
		n.do(a.c, now)
	}
	return n
}

func asleep(Elapsed, Elapsed) []Elapsed { return nil }

func every(d Elapsed) func(from, to Elapsed) []Elapsed {
	return func(from, to Elapsed) []Elapsed {
		var list []Elapsed
		for at := from + d; at < to; at += d {
			list = append(list, at)
		}
		return list
	}
}

// Law one: replaying what was recorded, through its JSON, gives the state lived.
func TestReplayingEqualsLiving(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		p := anyPlan(r)
		n := live(t, p, anyCommands(r), 10*sec, asleep)
		frozen, err := Marshal(p)
		if err != nil {
			r.Fatal(err)
		}
		var thawed Plan
		if err := Unmarshal(frozen, &thawed); err != nil {
			r.Fatal(err)
		}
		s, err := NewState(&thawed)
		if err != nil {
			r.Fatal(err)
		}
		for _, e := range n.events {
			line, err := Marshal(e)
			if err != nil {
				r.Fatal(err)
			}
			var back Event
			if err := Unmarshal(line, &back); err != nil {
				r.Fatal(err)
			}
			s = Apply(s, back)
		}
		expectSame(r, s, n.s, n.s.At()+sec)
	})
}

// Replay leaves out what nobody asks for on the way; what it comes to is the same,
// but for the turns and ticks that are reckoned on from the last one given.
func TestReplayIsApplyingOneByOne(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		p := anyPlan(r)
		n := live(t, p, anyCommands(r), 10*sec, asleep)
		for _, cut := range []int{len(n.events) / 3, rapid.IntRange(0, len(n.events)).Draw(r, "cut"), len(n.events)} {
			want, err := NewState(p)
			if err != nil {
				r.Fatal(err)
			}
			for _, e := range n.events[:cut] {
				want = Apply(want, e)
			}
			got, err := Replay(p, n.events[:cut])
			if err != nil {
				r.Fatal(err)
			}
			expectNearlySame(r, got, want, want.At()+sec)
		}
	})
}

// expectNearlySame compares by all but turns and ticks, which are reckoned on from
// the last one given and so depend on when that was done.
func expectNearlySame(r *rapid.T, a, b State, now Elapsed) {
	r.Helper()
	x, y := a.Look(now), b.Look(now)
	x.Coming, y.Coming = nil, nil
	if !reflect.DeepEqual(x, y) {
		r.Fatalf("Look differs:\n%+v\n%+v", x, y)
	}
	ahead := func(s State) []Cue {
		return slices.DeleteFunc(s.Ahead(-mins, now+15*sec), func(c Cue) bool { return c.Kind == CueTurn || c.Kind == CueTick })
	}
	if i, j := ahead(a), ahead(b); !slices.Equal(i, j) {
		r.Fatalf("Ahead differs:\n%v\n%v", i, j)
	}
}

// expectSame compares two states by all that can be asked of them.
func expectSame(r *rapid.T, a, b State, now Elapsed) {
	r.Helper()
	if x, y := a.Look(now), b.Look(now); !reflect.DeepEqual(x, y) {
		r.Fatalf("Look differs:\n%+v\n%+v", x, y)
	}
	da, oka := a.Due()
	db, okb := b.Due()
	if da != db || oka != okb {
		r.Fatalf("Due %v %v; %v %v", da, oka, db, okb)
	}
	if x, y := a.Ahead(-mins, 24*60*mins), b.Ahead(-mins, 24*60*mins); !slices.Equal(x, y) {
		r.Fatalf("Ahead differs:\n%v\n%v", x, y)
	}
}

// Law two: the same now twice adds nothing.
func TestSameNowTwiceAddsNothing(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		p := anyPlan(r)
		n, now := begun(t, p, 0), Elapsed(0)
		for _, a := range anyCommands(r) {
			now += a.after
			n.do(a.c, now)
			if more := Decide(n.s, Wake{}, now); len(more) > 0 {
				r.Fatalf("%T at %v, and again:\n%s", a.c, now, kinds(more))
			}
		}
	})
}

// Law three: as long as nothing was missed, one late wake-up gives the same events
// as a thousand early ones.
func TestOneLateWakeEqualsManyEarly(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		p, list := anyPlan(r), anyCommands(r)
		late := live(t, p, list, 10*sec, asleep)
		early := live(t, p, list, 10*sec, every(Elapsed(rapid.IntRange(300, 40_000).Draw(r, "wake every ms"))*1e6))
		for i := range min(len(late.events), len(early.events)) {
			if a, b := late.events[i], early.events[i]; !reflect.DeepEqual(a, b) {
				r.Fatalf("event %d:\nlate  %s\nearly %s", i, describe(a), describe(b))
			}
		}
		if len(late.events) != len(early.events) {
			r.Fatalf("%d events late, %d early", len(late.events), len(early.events))
		}
		expectSame(r, late.s, early.s, late.s.At()+sec)
	})
}

func describe(e Event) string {
	line, err := Marshal(e)
	if err != nil {
		return err.Error()
	}
	return string(line)
}

// A session that nobody touches gives the plan's cues, whatever the recipe.
func TestUntouchedSessionGivesThePlan(t *testing.T) {
	done := 0
	rapid.Check(t, func(r *rapid.T) {
		p := anyPlan(r)
		for i := range p.Steps { // a step that waits is touched
			p.Steps[i].Wait = false
		}
		n := begun(t, p, 0)
		n.do(Wake{}, 24*60*mins)
		given := only(n.events, CueGiven)
		for i := range min(len(given), len(p.Cues)) {
			g, c := given[i], p.Cues[i]
			if !near(g.At, c.At) || g.Cue != c.Kind || g.Step != c.Step || g.Sheet != c.Sheet || !near(g.For, c.For) {
				r.Fatalf("cue %d: %s; expected %+v", i, describe(g), c)
			}
		}
		if len(given) != len(p.Cues) {
			r.Fatalf("%d cues given; %d planned", len(given), len(p.Cues))
		}
		if last := n.events[len(n.events)-1]; last.Kind != SessionDone {
			r.Fatalf("ends with %s", describe(last))
		}
		if l := n.s.Look(n.s.At()); !slices.Equal(l.Film, p.Passages) {
			r.Fatalf("film went\n%v; planned\n%v", l.Film, p.Passages)
		}
		done++
	})
	if done == 0 {
		t.Error("no session was carried out")
	}
}

// whole reports what is wrong with where the film is: each sheet is in one place,
// has been in every bath before it, in order, without a gap between two.
func whole(s State) error {
	for k := range s.plan.Sheets {
		at := s.where(k)
		for i := range s.plan.Steps {
			y := s.moves.film.row(s.plan, i)[k]
			if s.moves.film.aside(s.plan, k) {
				if (y.in == Never) != (y.out == Never) || y.out < y.in {
					return fmt.Errorf("sheet %d is set aside, but was in step %d with %v", k+1, i, y)
				}
				continue
			}
			switch {
			case i < at && (y.in == Never || y.out == Never || y.out < y.in):
				return fmt.Errorf("sheet %d is in step %d, but step %d has %v", k+1, at, i, y)
			case i == at && (y.in == Never || y.out != Never):
				return fmt.Errorf("sheet %d is in step %d with %v", k+1, at, y)
			case i > at && (y.in != Never || y.out != Never):
				return fmt.Errorf("sheet %d is in step %d, but has been in step %d: %v", k+1, at, i, y)
			}
			if i > 0 && i <= at && s.moves.film.row(s.plan, i-1)[k].out != y.in {
				return fmt.Errorf("sheet %d left step %d and entered the next at another moment", k+1, i-1)
			}
		}
	}
	return nil
}

// all copies every row.
func (r *taken) all() [][]chem.Point {
	if r == nil {
		return nil
	}
	list := make([][]chem.Point, len(r.rows))
	for i := range r.rows {
		list[i] = slices.Clone(r.rows[i])
	}
	return list
}

// frozen copies the slices that a state shares with those made from it.
func frozen(s State) []any {
	list := []any{slices.Clone(s.moves.film), slices.Clone(s.moves.doses), s.moves.readings.all(), slices.Clone(s.moves.given),
		slices.Clone(s.given.cues), slices.Clone(s.ahead.film), slices.Clone(s.ahead.cues)}
	if s.before != nil {
		list = append(list, slices.Clone(s.before.film), slices.Clone(s.before.doses), s.before.readings.all(), s.before.held, s.before.overdue)
	}
	return append(list, s.at, s.act, s.actAt, s.ahead.next, s.ahead.wake, slices.Clone(s.turned))
}

// What must hold after every single event.
func TestWhateverHappens(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		p := anyPlan(r)
		s, err := NewState(p)
		if err != nil {
			r.Fatal(err)
		}
		now, heard := -10*sec, map[Cue]bool{}
		for _, a := range append([]ask{{0, Begin{}}}, anyCommands(r)...) {
			now += a.after
			for _, e := range Decide(s, a.c, now) {
				if s.began && e.At < s.at {
					r.Fatalf("after %v: %s", s.at, describe(e))
				}
				if e.At > now {
					r.Fatalf("at %v, of the future: %s", now, describe(e))
				}
				if c := (Cue{At: e.At, Kind: e.Cue, Step: e.Step, Sheet: e.Sheet}); e.Kind == CueGiven && e.Act == 0 {
					if heard[c] {
						r.Fatalf("given twice: %s", describe(e))
					}
					heard[c] = true
				}
				was, old := frozen(s), s
				s = Apply(s, e)
				if !reflect.DeepEqual(was, frozen(old)) {
					r.Fatalf("Apply changed the state it was given: %s", describe(e))
				}
				branch := frozen(s)
				Apply(old, Event{At: old.at, Kind: CueGiven, Cue: CueReading})
				if !reflect.DeepEqual(branch, frozen(s)) {
					r.Fatalf("another event applied to the same state changed what came of %s", describe(e))
				}
				if err := whole(s); err != nil {
					r.Fatalf("%s: %v", describe(e), err)
				}
			}
		}
	})
}
