package engine

// Every command in every state: what is refused, in which words, and that Decide
// agrees; and that no command, however odd, in no state makes it panic.

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

const (
	notBegun  = "not-begun"
	isOver    = "over"
	noUndo    = "nothing-to-undo"
	noGo      = "not-held"
	noTakeOut = "no-test-sheet"
)

// standing is a session brought into one state, and the moment to ask at.
type standing struct {
	name string
	make func(t testing.TB) State
	now  sequence.Elapsed
	why  map[string]string // command -> refusal; "" where it is carried out
}

// commands lists one of each.
func commands(now sequence.Elapsed) map[string]sequence.Command {
	return map[string]sequence.Command{
		"wake": sequence.Wake{}, "begin": sequence.Begin{ID: "saltmarsh"}, "gap": sequence.Gap{From: now, To: now}, "resume": sequence.Resume{From: now},
		"tell": sequence.Report{Kind: sequence.SoundLost, Text: "unplugged"}, "next": sequence.MoveOn{}, "undo": sequence.Undo{}, "hold": sequence.Hold{}, "go": sequence.EndHold{},
		"read": sequence.TakeReading{T: 20, Source: sequence.ByHand}, "take-out": sequence.Pull{}, "late": sequence.MarkLate{Sheet: 1}, "note": sequence.AddNote{Text: "cool"}, "stop": sequence.EndSession{},
	}
}

// all is one answer to every command, with exceptions.
func all(why string, but map[string]string) map[string]string {
	m := map[string]string{}
	for name := range commands(0) {
		m[name] = why
	}
	for name, w := range but {
		m[name] = w
	}
	return m
}

func standings() []standing {
	waits := recipetest.FourInHangers()
	waits.Steps[0].WaitForPerson = true
	brought := func(r sequence.Recipe, lead sequence.Elapsed, list ...ask) func(testing.TB) State {
		return func(t testing.TB) State {
			n, now := begun(t, planOf(t, r, sequence.Conditions{}), -lead), -lead
			for _, a := range list {
				now += a.after
				n.do(a.c, now)
			}
			return n.s
		}
	}
	test := recipetest.Recipe(sequence.Hangers, 2, recipetest.Pulled(recipetest.Bath(sequence.Develop, 0), 5*recipetest.Minute, 7*recipetest.Minute), recipetest.Bath(sequence.StopBath, 30*recipetest.Second))
	const already = "begun-already"
	return []standing{
		{"not begun", func(t testing.TB) State {
			s, err := NewState(planOf(t, recipetest.FourInHangers(), sequence.Conditions{}))
			if err != nil {
				t.Fatal(err)
			}
			return s
		}, 0, all(notBegun, map[string]string{"begin": ""})},
		{"lead", brought(recipetest.FourInHangers(), 10*recipetest.Second, ask{5 * recipetest.Second, sequence.Wake{}}), -5 * recipetest.Second,
			all("", map[string]string{"begin": already, "undo": noUndo, "go": noGo, "take-out": noTakeOut, "late": "not-transferred"})},
		{"running", brought(recipetest.FourInHangers(), 0, ask{60 * recipetest.Second, sequence.Wake{}}), 60 * recipetest.Second,
			all("", map[string]string{"begin": already, "undo": noUndo, "go": noGo, "take-out": noTakeOut})},
		{"just acted", brought(recipetest.FourInHangers(), 0, ask{60 * recipetest.Second, sequence.MoveOn{}}), 65 * recipetest.Second,
			all("", map[string]string{"begin": already, "go": noGo, "take-out": noTakeOut})},
		{"film test", brought(test, 0, ask{60 * recipetest.Second, sequence.Wake{}}), 60 * recipetest.Second,
			all("", map[string]string{"begin": already, "undo": noUndo, "go": noGo})},
		{"held", brought(recipetest.FourInHangers(), 0, ask{60 * recipetest.Second, sequence.Hold{}}, ask{20 * recipetest.Second, sequence.Wake{}}), 80 * recipetest.Second,
			all("", map[string]string{"begin": already, "undo": noUndo, "hold": "held-already", "take-out": noTakeOut})},
		{"overdue", brought(recipetest.FourInHangers(), 0, ask{60 * recipetest.Second, sequence.Hold{}}, ask{80 * recipetest.Second, sequence.Wake{}}), 140 * recipetest.Second,
			all("", map[string]string{"begin": already, "undo": noUndo, "hold": "held-already", "take-out": noTakeOut})},
		{"waiting", brought(waits, 0, ask{140 * recipetest.Second, sequence.Wake{}}), 140 * recipetest.Second,
			all("", map[string]string{"begin": already, "undo": noUndo, "go": noGo, "take-out": noTakeOut})},
		{"told late", brought(recipetest.FourInHangers(), 0, ask{125 * recipetest.Second, sequence.MarkLate{Sheet: 1}}, ask{20 * recipetest.Second, sequence.Wake{}}), 145 * recipetest.Second,
			all("", map[string]string{"begin": already, "undo": noUndo, "hold": "held-already", "take-out": noTakeOut, "late": "not-transferred"})},
		{"done", brought(recipetest.FourInHangers(), 0, ask{time.Hour, sequence.Wake{}}), time.Hour,
			all(isOver, map[string]string{"begin": already})},
		{"stopped", brought(recipetest.FourInHangers(), 0, ask{60 * recipetest.Second, sequence.EndSession{}}), 61 * recipetest.Second,
			all(isOver, map[string]string{"begin": already})},
	}
}

func TestEveryCommandInEveryState(t *testing.T) {
	for _, st := range standings() {
		t.Run(st.name, func(t *testing.T) {
			s := st.make(t)
			for name, c := range commands(st.now) {
				why := s.Refuse(c, st.now).Code
				if why != st.why[name] {
					t.Errorf("%s: %q; expected %q", name, why, st.why[name])
				}
				events := Decide(s, c, st.now)
				if _, wake := c.(sequence.Wake); wake {
					if len(events) > 0 {
						t.Errorf("wake: %s; expected nothing due", recipetest.KindsOf(events))
					}
					continue
				}
				if refused := why != ""; refused != (len(events) == 0) {
					t.Errorf("%s: refused %q, and yet:\n%s", name, why, recipetest.KindsOf(events))
				}
			}
		})
	}
}

// What a command says is judged too, at both sides of each limit.
func TestRefusedByWhatTheySay(t *testing.T) {
	p := planOf(t, three(), sequence.Conditions{})
	n := begun(t, p, 0)
	n.do(sequence.Wake{}, 20*recipetest.Second)
	table := planOf(t, recipetest.Recipe(sequence.Hangers, 1, recipetest.At(recipetest.Bath(sequence.Develop, 8*recipetest.Minute), 20, 2.2)), sequence.Conditions{})
	h := begun(t, table, 0)
	for _, c := range []struct {
		s       State
		c       sequence.Command
		refused bool
	}{
		{n.s, sequence.MarkLate{Sheet: 0}, true}, {n.s, sequence.MarkLate{Sheet: -1}, true}, {n.s, sequence.MarkLate{Sheet: 201}, true}, {n.s, sequence.MarkLate{Sheet: 4}, true},
		{n.s, sequence.MarkLate{Sheet: 2}, false}, {n.s, sequence.MarkLate{Sheet: 3}, true}, // the third is dry until 30 s
		{n.s, sequence.TakeReading{T: chem.Celsius(math.NaN())}, true}, {n.s, sequence.TakeReading{T: chem.Celsius(math.Inf(1))}, true},
		{n.s, sequence.TakeReading{T: chem.Celsius(math.Inf(-1)), Confirmed: true}, true}, {n.s, sequence.TakeReading{T: chem.Celsius(math.NaN()), Confirmed: true}, true},
		{n.s, sequence.TakeReading{T: -0.01, Confirmed: true}, true}, {n.s, sequence.TakeReading{T: 0, Confirmed: true}, false},
		{n.s, sequence.TakeReading{T: 60, Confirmed: true}, false}, {n.s, sequence.TakeReading{T: 60.01, Confirmed: true}, true},
		{n.s, sequence.TakeReading{T: 20, Ago: -1}, true}, {n.s, sequence.TakeReading{T: 20, Ago: 24 * time.Hour}, false}, {n.s, sequence.TakeReading{T: 20, Ago: 24*time.Hour + 1}, true},
		{h.s, sequence.TakeReading{T: 26, Source: sequence.ByHand}, false}, {h.s, sequence.TakeReading{T: 26.01, Source: sequence.ByHand}, true},
		{h.s, sequence.TakeReading{T: 14, Source: sequence.ByHand}, false}, {h.s, sequence.TakeReading{T: 13.99, Source: sequence.ByHand}, true}, {h.s, sequence.TakeReading{T: 26.01, Source: sequence.ByHand, Confirmed: true}, false},
		{h.s, sequence.TakeReading{T: 26.01, Source: sequence.BySensor}, false},
	} {
		if why := c.s.Refuse(c.c, 20*recipetest.Second).Code; (why != "") != c.refused {
			t.Errorf("%#v: %q; expected refused %v", c.c, why, c.refused)
		}
	}
}

// oddCommand draws commands with numbers that nobody would type.
func oddCommand(t *rapid.T) sequence.Command {
	long := rapid.SampledFrom([]sequence.Elapsed{0, 1, -1, recipetest.Second, -recipetest.Minute, 1000 * time.Hour, math.MaxInt64, math.MinInt64})
	degree := rapid.SampledFrom([]float64{20, 0, 60, -1, 61, 1e300, math.NaN(), math.Inf(1), math.Inf(-1)})
	switch rapid.IntRange(0, 13).Draw(t, "odd") {
	case 0:
		return sequence.Begin{}
	case 1:
		return sequence.Gap{From: long.Draw(t, "from"), To: long.Draw(t, "to")}
	case 2:
		return sequence.Resume{From: long.Draw(t, "from"), Gap: rapid.Bool().Draw(t, "gap"), Ask: rapid.Bool().Draw(t, "ask")}
	case 3:
		return sequence.Report{Kind: rapid.SampledFrom([]sequence.EventKind{sequence.SoundLost, sequence.SoundBack, sequence.ClockJumped, sequence.FollowerFailed, sequence.LightChanged, sequence.HandedOver}).Draw(t, "kind")}
	case 4, 5:
		return sequence.MoveOn{}
	case 6:
		return sequence.Undo{}
	case 7:
		return sequence.Hold{}
	case 8:
		return sequence.EndHold{}
	case 9:
		return sequence.TakeReading{T: chem.Celsius(degree.Draw(t, "T")), Ago: long.Draw(t, "ago"), Source: sequence.BySensor, Confirmed: true}
	case 10:
		return sequence.Pull{}
	case 11:
		return sequence.MarkLate{Sheet: rapid.SampledFrom([]int{0, 1, 2, 5, 201, -1, math.MaxInt, math.MinInt}).Draw(t, "sheet")}
	case 12:
		return sequence.AddNote{Text: rapid.String().Draw(t, "text")}
	}
	return sequence.Wake{}
}

func TestNoCommandPanics(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		s, err := NewState(anyPlan(r))
		if err != nil {
			r.Fatal(err)
		}
		now := -10 * recipetest.Second
		for _, e := range Decide(s, rapid.SampledFrom([]sequence.Command{sequence.Begin{}, sequence.Begin{}, sequence.Begin{}, sequence.Wake{}}).Draw(r, "first"), now) {
			s = Apply(s, e)
		}
		for range rapid.IntRange(1, 20).Draw(r, "length") {
			now += sequence.Elapsed(rapid.IntRange(-5_000, 200_000).Draw(r, "pause ms")) * 1e6
			c := oddCommand(r)
			s.Refuse(c, now)
			for _, e := range Decide(s, c, now) {
				s = Apply(s, e)
			}
			if err := whole(s); s.began && err != nil {
				r.Fatal(err)
			}
			s.Snapshot(now)
			s.Ahead(now-recipetest.Minute, now+recipetest.Minute)
			s.Due()
		}
	})
}

// Nothing moves after the end, whatever a record says.
func TestNothingMovesAfterTheEnd(t *testing.T) {
	n := begun(t, planOf(t, three(), sequence.Conditions{}), 0)
	n.do(sequence.Wake{}, 100*recipetest.Second)
	n.do(sequence.EndSession{}, 100*recipetest.Second)
	s := Apply(n.s, sequence.Event{At: 101 * recipetest.Second, Kind: sequence.Transferred, Step: "develop", Sheet: 1})
	if got := s.Snapshot(101 * recipetest.Second).Sheets[0].Step; got != 0 {
		t.Errorf("sheet 1 in step %d after the end; expected 0", got)
	}
}

// Apply takes whatever a damaged or foreign record may hold.
func TestNoEventPanics(t *testing.T) {
	every := []sequence.EventKind{sequence.SessionBegan, sequence.StepBegan, sequence.StepEnded, sequence.Transferred, sequence.Pulled, sequence.SetAside, sequence.CueGiven, sequence.ReadingTaken, sequence.Overran, sequence.Held,
		sequence.HoldEnded, sequence.Resumed, sequence.WetWarned, sequence.WetPassed, sequence.SoundLost, sequence.SoundBack, sequence.ClockJumped, sequence.Noted, sequence.GapFound, sequence.Undone, sequence.LateReported,
		sequence.LightChanged, sequence.HandedOver, sequence.SessionDone, sequence.SessionStopped, sequence.Heartbeat, sequence.FollowerFailed, "of a newer version"}
	rapid.Check(t, func(r *rapid.T) {
		s, err := NewState(anyPlan(r))
		if err != nil {
			r.Fatal(err)
		}
		s = Apply(s, sequence.Event{Kind: sequence.SessionBegan})
		for range 12 {
			e := sequence.Event{At: sequence.Elapsed(rapid.IntRange(-20, 2000).Draw(r, "at")) * recipetest.Second, Kind: rapid.SampledFrom(every).Draw(r, "kind"),
				Step:  rapid.SampledFrom([]string{"", "presoak", "develop", "stop", "fix", "nowhere"}).Draw(r, "step"),
				Sheet: rapid.SampledFrom([]int{0, 1, 2, 9, -1}).Draw(r, "sheet"), Act: rapid.IntRange(0, 3).Draw(r, "act"),
				Cue: rapid.SampledFrom(append([]sequence.CueKind{"", "unheard of"}, sequence.CueKinds...)).Draw(r, "cue")}
			if rapid.Bool().Draw(r, "temperature") {
				e.Temperature = recipetest.Degrees(rapid.SampledFrom([]float64{20, 0, 60}).Draw(r, "T"))
			}
			s = Apply(s, e)
			s.Snapshot(e.At)
			s.Ahead(0, 2000*recipetest.Second)
		}
	})
}
