package engine

// The three laws of the core, over random recipes and random commands: replaying
// equals living; the same now twice adds nothing; one late wake-up gives the same
// events as many early ones. And what must hold whatever happens: the record never
// runs backwards, no cue is given twice, no sheet is lost, Apply changes nothing
// that it was given.

import (
	"cmp"
	"fmt"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/sequence/recipetest"
)

// anyPlan draws a plan of any kind.
func anyPlan(t *rapid.T) *sequence.Plan {
	p, err := planning.Resolve(recipetest.AnyRecipe(t), recipetest.RandomConditions(t))
	if err != nil {
		t.Skip(err)
	}
	return &p
}

// ask is one command after a pause.
type ask struct {
	after sequence.Elapsed
	c     sequence.Command
}

// anyCommands draws a session's commands, none of them a gap.
func anyCommands(t *rapid.T) []ask {
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) ask {
		after := sequence.Elapsed(rapid.IntRange(0, 120_000).Draw(t, "pause ms")) * 1e6
		if rapid.IntRange(0, 2).Draw(t, "quick") == 0 {
			after %= 12 * recipetest.Second
		}
		var c sequence.Command
		switch rapid.IntRange(0, 12).Draw(t, "command") {
		case 0, 1:
			c = sequence.MoveOn{}
		case 2, 3:
			c = sequence.Undo{}
		case 4:
			c = sequence.Hold{}
		case 5, 6:
			c = sequence.EndHold{}
		case 7:
			c = sequence.TakeReading{T: *recipetest.Degrees(rapid.Float64Range(16, 26).Draw(t, "read")), Ago: recipetest.Seconds(t, 0, 60, "ago"), Source: "hand"}
		case 8:
			c = sequence.Pull{}
		case 9:
			c = sequence.MarkLate{Sheet: rapid.IntRange(1, 5).Draw(t, "late")}
		case 12:
			c = sequence.SetSheetAside{Sheet: rapid.IntRange(1, 5).Draw(t, "aside")}
		case 10:
			c = sequence.AddNote{Text: "tray 2 is cool"}
		default:
			c = sequence.Report{Kind: sequence.SoundLost, Text: "unplugged"}
		}
		return ask{after, c}
	}), 0, 14).Draw(t, "commands")
}

// live carries commands out, woken up in between at the moments that wake lists.
func live(t testing.TB, p *sequence.Plan, list []ask, lead sequence.Elapsed, wakes func(from, to sequence.Elapsed) []sequence.Elapsed) *session {
	n, now := begun(t, p, -lead), -lead
	for _, a := range append(slices.Clone(list), ask{20 * recipetest.Minute, sequence.Wake{}}) {
		for _, w := range wakes(now, now+a.after) {
			n.do(sequence.Wake{}, w)
		}
		now += a.after
		n.do(a.c, now)
	}
	return n
}

func asleep(sequence.Elapsed, sequence.Elapsed) []sequence.Elapsed { return nil }

func every(d sequence.Elapsed) func(from, to sequence.Elapsed) []sequence.Elapsed {
	return func(from, to sequence.Elapsed) []sequence.Elapsed {
		var list []sequence.Elapsed
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
		n := live(t, p, anyCommands(r), 10*recipetest.Second, asleep)
		frozen, err := sequence.Marshal(p)
		if err != nil {
			r.Fatal(err)
		}
		var thawed sequence.Plan
		if err := sequence.Unmarshal(frozen, &thawed); err != nil {
			r.Fatal(err)
		}
		s, err := NewState(&thawed)
		if err != nil {
			r.Fatal(err)
		}
		for _, e := range n.events {
			line, err := sequence.Marshal(e)
			if err != nil {
				r.Fatal(err)
			}
			var back sequence.Event
			if err := sequence.Unmarshal(line, &back); err != nil {
				r.Fatal(err)
			}
			s = Apply(s, back)
		}
		expectSame(r, s, n.s, n.s.At()+recipetest.Second)
	})
}

// Replay leaves out what nobody asks for on the way; what it comes to is the same,
// but for the turns and ticks that are reckoned on from the last one given.
func TestReplayIsApplyingOneByOne(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		p := anyPlan(r)
		n := live(t, p, anyCommands(r), 10*recipetest.Second, asleep)
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
			expectNearlySame(r, got, want, want.At()+recipetest.Second)
		}
	})
}

// expectNearlySame compares by all but turns and ticks, which are reckoned on from
// the last one given and so depend on when that was done.
func expectNearlySame(r failing, a, b State, now sequence.Elapsed) {
	r.Helper()
	x, y := a.Snapshot(now), b.Snapshot(now)
	x.NextCue, y.NextCue, x.Cues, y.Cues, x.CuesGoOn, y.CuesGoOn = nil, nil, nil, nil, 0, 0 // those ahead are compared beneath
	if !reflect.DeepEqual(x, y) || a.At() != b.At() || a.announced != b.announced || a.stale || a.muted {
		r.Fatalf("Look differs:\n%+v\n%+v", x, y)
	}
	ahead := func(s State) []sequence.Cue {
		return slices.DeleteFunc(s.Ahead(-recipetest.Minute, now+15*recipetest.Second), func(c sequence.Cue) bool { return c.Kind == sequence.CueShuffle || c.Kind == sequence.CueTick })
	}
	if i, j := ahead(a), ahead(b); !slices.Equal(i, j) {
		r.Fatalf("Ahead differs:\n%v\n%v", i, j)
	}
}

// What a reading changes is known to the act behind it, also where a replay puts it off: a bath that was
// found colder is not left late but early, and the others get what the first had. What was told of the
// end is told against.
func TestReplayAfterAReading(t *testing.T) {
	drained := three()
	drained.Steps[1].Drain, drained.Steps[1].WaitForPerson = 5*recipetest.Second, true
	for name, r := range map[string]sequence.Recipe{"a row": three(), "what waits for the press": drained} {
		r.Steps[1] = recipetest.At(r.Steps[1], 20, 2.2)
		p := planOf(t, r, sequence.Conditions{BathTemperature: recipetest.Degrees(20)})
		n := begun(t, p, 0)
		cut := func(when string) {
			t.Helper()
			s, err := Replay(p, n.events)
			if err != nil {
				t.Fatal(err)
			}
			expectNearlySame(t, s, n.s, n.s.At()+recipetest.Second)
			if !slices.Equal(s.filmState.doses, n.s.filmState.doses) {
				t.Errorf("%s, %s: replayed, it is to have %v; lived, %v", name, when, s.filmState.doses, n.s.filmState.doses)
			}
		}
		n.do(sequence.Wake{}, 300*recipetest.Second)
		m := *n
		n.do(sequence.TakeReading{T: 17, Source: sequence.BySensor}, 300*recipetest.Second) // the end was at 630
		cut("read")
		due := n.s.forecastNow.change.at
		n.do(sequence.MoveOn{}, 640*recipetest.Second)
		cut("pressed")
		n.do(sequence.Wake{}, 700*recipetest.Second)
		if told := recipetest.EventsOf(n.events, sequence.CueGiven); due < 650*recipetest.Second || !slices.ContainsFunc(told, func(e sequence.Event) bool { return e.Cue == sequence.CueReading }) {
			t.Errorf("%s: it ends at %v, and that was not told", name, due)
		}
		cut("gone on")
		just := 626 * recipetest.Second // read, and pressed before anything is heard: what drains would leave at 631.5
		m.do(sequence.Wake{}, just)
		m.do(sequence.TakeReading{T: 19.85, Source: sequence.BySensor}, just)
		if end := m.s.forecastNow.change.at; end <= 631*recipetest.Second || end >= 640*recipetest.Second {
			t.Errorf("%s: a little colder, it ends at %v; expected within ten seconds of 630, which is not told", name, end)
		}
		m.do(sequence.MoveOn{}, just+recipetest.Second/2)
		*n = m
		cut("pressed after what was not told")
	}
}

// What changes neither film nor time changes no cue that is to come.
func TestANoteChangesNoCue(t *testing.T) {
	n := begun(t, planOf(t, three(), sequence.Conditions{}), 0)
	for now := sequence.Elapsed(0); now < 12*recipetest.Minute; now += 7 * recipetest.Second {
		n.do(sequence.Wake{}, now)
		before := n.s.Ahead(now, sequence.Never)
		n.do(sequence.AddNote{Text: "tide is in"}, now)
		if got := n.s.Ahead(now, sequence.Never); !slices.Equal(got, before) {
			t.Fatalf("at %v:\n%v\nexpected\n%v", now, got, before)
		}
	}
}

// Out of a bath that waits for the person nothing is called before the person's word.
func TestNothingIsCalledOutOfABathThatWaits(t *testing.T) {
	for step := range 2 {
		r := recipetest.FourInHangers()
		r.Steps[step].WaitForPerson = true
		n := begun(t, planOf(t, r, sequence.Conditions{}), 0)
		now := sequence.Elapsed(step*125+1) * recipetest.Second // in that bath
		n.do(sequence.Wake{}, now)
		for _, c := range n.s.Ahead(now, sequence.Never) {
			if c.Kind == sequence.CueTransfer {
				t.Errorf("in step %d: %+v", step, c)
			}
		}
	}
}

// expectSame compares two states by all that can be asked of them.
func expectSame(r *rapid.T, a, b State, now sequence.Elapsed) {
	r.Helper()
	if x, y := a.Snapshot(now), b.Snapshot(now); !reflect.DeepEqual(x, y) {
		r.Fatalf("Look differs:\n%+v\n%+v", x, y)
	}
	da, oka := a.Due()
	db, okb := b.Due()
	if da != db || oka != okb {
		r.Fatalf("Due %v %v; %v %v", da, oka, db, okb)
	}
	if x, y := a.Ahead(-recipetest.Minute, 24*60*recipetest.Minute), b.Ahead(-recipetest.Minute, 24*60*recipetest.Minute); !slices.Equal(x, y) {
		r.Fatalf("Ahead differs:\n%v\n%v", x, y)
	}
}

// Law two: the same now twice adds nothing.
func TestSameNowTwiceAddsNothing(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		p := anyPlan(r)
		n, now := begun(t, p, 0), sequence.Elapsed(0)
		for _, a := range anyCommands(r) {
			now += a.after
			n.do(a.c, now)
			if more := Decide(n.s, sequence.Wake{}, now); len(more) > 0 {
				r.Fatalf("%T at %v, and again:\n%s", a.c, now, recipetest.KindsOf(more))
			}
		}
	})
}

// Law three: as long as nothing was missed, one late wake-up gives the same events
// as a thousand early ones.
func TestOneLateWakeEqualsManyEarly(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		p, list := anyPlan(r), anyCommands(r)
		late := live(t, p, list, 10*recipetest.Second, asleep)
		early := live(t, p, list, 10*recipetest.Second, every(sequence.Elapsed(rapid.IntRange(300, 40_000).Draw(r, "wake every ms"))*1e6))
		for i := range min(len(late.events), len(early.events)) {
			if a, b := late.events[i], early.events[i]; !reflect.DeepEqual(a, b) {
				r.Fatalf("event %d:\nlate  %s\nearly %s", i, describe(a), describe(b))
			}
		}
		if len(late.events) != len(early.events) {
			r.Fatalf("%d events late, %d early", len(late.events), len(early.events))
		}
		expectSame(r, late.s, early.s, late.s.At()+recipetest.Second)
	})
}

func describe(e sequence.Event) string {
	line, err := sequence.Marshal(e)
	if err != nil {
		return err.Error()
	}
	return string(line)
}

// pressWhenAsked goes on to a moment, and all that is done is to press when that is asked for.
func (n *session) pressWhenAsked(until sequence.Elapsed) {
	for at, more := n.s.Due(); more && at <= until && n.s.Over() == ""; at, more = n.s.Due() {
		before := len(n.events)
		n.do(sequence.Wake{}, at)
		for _, e := range recipetest.EventsOf(n.events[before:], sequence.Overran) {
			n.do(sequence.MoveOn{}, e.At)
		}
	}
	n.do(sequence.Wake{}, until)
}

// heldUp reports whether two sheets of a film test are pulled at one moment, because the one waited
// for a press and drained.
func heldUp(p *sequence.Plan) bool {
	for i := range p.Steps {
		if st := &p.Steps[i]; st.PullsSheets() && st.WaitForPerson && st.Drain > 0 {
			out := map[sequence.Elapsed]int{}
			for _, y := range p.Passages {
				if y.Step == i {
					out[y.Out]++
				}
			}
			return out[st.FirstOut] > 1
		}
	}
	return false
}

// withoutOverdue leaves out what a bath that waits asks for between its time and a press at once,
// where the plan does not ask for it too, and says where agitation went on there instead of coming
// to a rest.
func withoutOverdue(p *sequence.Plan, events []sequence.Event) (list []sequence.Event, goesOn []sequence.Elapsed) {
	waits := false
	for _, e := range events {
		waits = e.Kind == sequence.Overran || waits && e.Act == 0
		begins := e.Cue == sequence.CueAgitate || e.Cue == sequence.CueShuffle || e.Cue == sequence.CueReverse
		planned := slices.ContainsFunc(p.Cues, func(c sequence.Cue) bool { return c.Kind == e.Cue && c.Step == e.Step && recipetest.Near(c.At, e.At) })
		if !waits || !begins || planned {
			list = append(list, e)
		} else if e.Cue == sequence.CueAgitate {
			goesOn = append(goesOn, e.At)
		}
	}
	return list, goesOn
}

// A session that nobody touches but where that is asked for gives the plan's cues, whatever the
// recipe: what waits for a press drains behind it, in the plan as well.
func TestUntouchedSessionGivesThePlan(t *testing.T) {
	done := 0
	rapid.Check(t, func(r *rapid.T) {
		p := anyPlan(r)
		if heldUp(p) {
			r.Skip("a sheet is pulled while another, that was pressed for, drains: it is called as if it were not")
		}
		n := begun(t, p, 0)
		n.pressWhenAsked(24 * 60 * recipetest.Minute)
		events, goesOn := withoutOverdue(p, n.events)
		wentOn := func(kind sequence.CueKind, rest sequence.Elapsed) bool {
			return kind == sequence.CueStand && slices.ContainsFunc(goesOn, func(at sequence.Elapsed) bool { return recipetest.Near(at, rest) })
		}
		given := slices.DeleteFunc(recipetest.EventsOf(events, sequence.CueGiven), func(e sequence.Event) bool { return wentOn(e.Cue, e.At) })
		planned := slices.DeleteFunc(slices.Clone(p.Cues), func(c sequence.Cue) bool { return wentOn(c.Kind, c.At) })
		if len(recipetest.EventsOf(n.events, sequence.Overran)) > 0 { // what follows a press comes last at its instant, and ticks count from what was heard while it waited
			given = slices.DeleteFunc(given, func(e sequence.Event) bool { return e.Cue == sequence.CueTick })
			planned = slices.DeleteFunc(planned, func(c sequence.Cue) bool { return c.Kind == sequence.CueTick })
			slices.SortStableFunc(given, func(a, b sequence.Event) int {
				return cmp.Or(cmp.Compare(a.At.Round(recipetest.Second/1000), b.At.Round(recipetest.Second/1000)), cmp.Compare(a.Cue, b.Cue))
			})
			slices.SortStableFunc(planned, func(a, b sequence.Cue) int {
				return cmp.Or(cmp.Compare(a.At.Round(recipetest.Second/1000), b.At.Round(recipetest.Second/1000)), cmp.Compare(a.Kind, b.Kind))
			})
		}
		for i := range min(len(given), len(planned)) {
			g, c := given[i], planned[i]
			if !recipetest.Near(g.At, c.At) || g.Cue != c.Kind || g.Step != c.Step || g.Sheet != c.Sheet || !recipetest.Near(g.For, c.For) {
				r.Fatalf("cue %d: %s; expected %+v", i, describe(g), c)
			}
		}
		if len(given) != len(planned) {
			r.Fatalf("%d cues given; %d planned", len(given), len(planned))
		}
		if last := n.events[len(n.events)-1]; last.Kind != sequence.SessionDone {
			r.Fatalf("ends with %s", describe(last))
		}
		for i := range p.Steps {
			for _, k := range []sequence.EventKind{sequence.StepBegan, sequence.StepEnded} {
				if of := slices.DeleteFunc(recipetest.EventsOf(n.events, k), func(e sequence.Event) bool { return e.Step != p.Steps[i].Name }); len(of) != 1 {
					r.Fatalf("%s %d times: %s", k, len(of), p.Steps[i].Name)
				}
			}
		}
		if l := n.s.Snapshot(n.s.At()); !slices.Equal(l.Passages, p.Passages) {
			r.Fatalf("film went\n%v; planned\n%v", l.Passages, p.Passages)
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
			y := s.filmState.film.Row(s.plan, i)[k]
			if s.filmState.film.IsSetAside(s.plan, k) {
				if (y.In == sequence.Never) != (y.Out == sequence.Never) || y.Out < y.In {
					return fmt.Errorf("sheet %d is set aside, but was in step %d with %v", k+1, i, y)
				}
				continue
			}
			switch {
			case i < at && (y.In == sequence.Never || y.Out == sequence.Never || y.Out < y.In):
				return fmt.Errorf("sheet %d is in step %d, but step %d has %v", k+1, at, i, y)
			case i == at && (y.In == sequence.Never || y.Out != sequence.Never):
				return fmt.Errorf("sheet %d is in step %d with %v", k+1, at, y)
			case i > at && (y.In != sequence.Never || y.Out != sequence.Never):
				return fmt.Errorf("sheet %d is in step %d, but has been in step %d: %v", k+1, at, i, y)
			}
			if i > 0 && i <= at && s.filmState.film.Row(s.plan, i-1)[k].Out != y.In {
				return fmt.Errorf("sheet %d left step %d and entered the next at another moment", k+1, i-1)
			}
		}
	}
	return nil
}

// all copies every row.
func (r *bathReadings) all() [][]chem.Point {
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
	list := []any{slices.Clone(s.filmState.film), slices.Clone(s.filmState.doses), s.filmState.readings.all(),
		slices.Clone(s.givenCues.cues), slices.Clone(s.forecastNow.film), slices.Clone(s.forecastNow.cues)}
	if s.filmBeforeAct != nil {
		list = append(list, slices.Clone(s.filmBeforeAct.film), slices.Clone(s.filmBeforeAct.doses), s.filmBeforeAct.readings.all(), s.filmBeforeAct.held, s.filmBeforeAct.overdue)
	}
	return append(list, s.at, s.act, s.actAt, s.forecastNow.next, s.forecastNow.wake, slices.Clone(s.shuffles))
}

// What must hold after every single event.
func TestWhateverHappens(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		p := anyPlan(r)
		s, err := NewState(p)
		if err != nil {
			r.Fatal(err)
		}
		now, heard := -10*recipetest.Second, map[sequence.Cue]bool{}
		for _, a := range append([]ask{{0, sequence.Begin{}}}, anyCommands(r)...) {
			now += a.after
			for _, e := range Decide(s, a.c, now) {
				if s.began && e.At < s.at {
					r.Fatalf("after %v: %s", s.at, describe(e))
				}
				if e.At > now {
					r.Fatalf("at %v, of the future: %s", now, describe(e))
				}
				if c := (sequence.Cue{At: e.At, Kind: e.Cue, Step: e.Step, Sheet: e.Sheet}); e.Kind == sequence.CueGiven && e.Act == 0 {
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
				Apply(old, sequence.Event{At: old.at, Kind: sequence.CueGiven, Cue: sequence.CueReading})
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
