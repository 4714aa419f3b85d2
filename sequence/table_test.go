package sequence

// Every command in every state: what is refused, in which words, and that Decide
// agrees; and that no command, however odd, in no state makes it panic.

import (
	"math"
	"testing"
	"time"

	"example.org/wetside/chem"
	"pgregory.net/rapid"
)

const (
	notBegun  = "the session has not begun"
	isOver    = "the session is over"
	noUndo    = "nothing was done in the last ten seconds"
	noGo      = "nothing is held"
	noTakeOut = "no sheet of a film test is in the developer"
)

// standing is a session brought into one state, and the moment to ask at.
type standing struct {
	name string
	make func(t testing.TB) State
	now  Elapsed
	why  map[string]string // command -> refusal; "" where it is carried out
}

// commands lists one of each.
func commands(now Elapsed) map[string]Command {
	return map[string]Command{
		"wake": Wake{}, "begin": Begin{ID: "saltmarsh"}, "gap": Gap{From: now, To: now}, "resume": Resume{From: now},
		"tell": Tell{Kind: SoundLost, Text: "unplugged"}, "next": MoveOn{}, "undo": Undo{}, "hold": Hold{}, "go": Go{},
		"read": Read{T: 20, Source: ByHand}, "take-out": TakeOut{}, "late": Late{Sheet: 1}, "note": Remark{Text: "cool"}, "stop": Stop{},
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
	waits := hung()
	waits.Steps[0].Wait = true
	brought := func(r Recipe, lead Elapsed, list ...ask) func(testing.TB) State {
		return func(t testing.TB) State {
			n, now := begun(t, planOf(t, r, Conditions{}), -lead), -lead
			for _, a := range list {
				now += a.after
				n.do(a.c, now)
			}
			return n.s
		}
	}
	test := recipeOf(Hangers, 2, bathFor(Develop, 0).taking(5*mins, 7*mins), bathFor(StopBath, 30*sec))
	const already = "the session has begun already"
	return []standing{
		{"not begun", func(t testing.TB) State {
			s, err := NewState(planOf(t, hung(), Conditions{}))
			if err != nil {
				t.Fatal(err)
			}
			return s
		}, 0, all(notBegun, map[string]string{"begin": ""})},
		{"lead", brought(hung(), 10*sec, ask{5 * sec, Wake{}}), -5 * sec,
			all("", map[string]string{"begin": already, "undo": noUndo, "go": noGo, "take-out": noTakeOut, "late": "sheet 1 has not been moved"})},
		{"running", brought(hung(), 0, ask{60 * sec, Wake{}}), 60 * sec,
			all("", map[string]string{"begin": already, "undo": noUndo, "go": noGo, "take-out": noTakeOut})},
		{"just acted", brought(hung(), 0, ask{60 * sec, MoveOn{}}), 65 * sec,
			all("", map[string]string{"begin": already, "go": noGo, "take-out": noTakeOut})},
		{"film test", brought(test, 0, ask{60 * sec, Wake{}}), 60 * sec,
			all("", map[string]string{"begin": already, "undo": noUndo, "go": noGo})},
		{"held", brought(hung(), 0, ask{60 * sec, Hold{}}, ask{20 * sec, Wake{}}), 80 * sec,
			all("", map[string]string{"begin": already, "undo": noUndo, "hold": "held already", "take-out": noTakeOut})},
		{"overdue", brought(hung(), 0, ask{60 * sec, Hold{}}, ask{80 * sec, Wake{}}), 140 * sec,
			all("", map[string]string{"begin": already, "undo": noUndo, "hold": "held already", "take-out": noTakeOut})},
		{"waiting", brought(waits, 0, ask{140 * sec, Wake{}}), 140 * sec,
			all("", map[string]string{"begin": already, "undo": noUndo, "go": noGo, "take-out": noTakeOut})},
		{"told late", brought(hung(), 0, ask{125 * sec, Late{Sheet: 1}}, ask{20 * sec, Wake{}}), 145 * sec,
			all("", map[string]string{"begin": already, "undo": noUndo, "hold": "held already", "take-out": noTakeOut, "late": "sheet 1 has not been moved"})},
		{"done", brought(hung(), 0, ask{time.Hour, Wake{}}), time.Hour,
			all(isOver, map[string]string{"begin": already})},
		{"stopped", brought(hung(), 0, ask{60 * sec, Stop{}}), 61 * sec,
			all(isOver, map[string]string{"begin": already})},
	}
}

func TestEveryCommandInEveryState(t *testing.T) {
	for _, st := range standings() {
		t.Run(st.name, func(t *testing.T) {
			s := st.make(t)
			for name, c := range commands(st.now) {
				why := s.Refuse(c, st.now)
				if why != st.why[name] {
					t.Errorf("%s: %q; expected %q", name, why, st.why[name])
				}
				events := Decide(s, c, st.now)
				if _, wake := c.(Wake); wake {
					if len(events) > 0 {
						t.Errorf("wake: %s; expected nothing due", kinds(events))
					}
					continue
				}
				if refused := why != ""; refused != (len(events) == 0) {
					t.Errorf("%s: refused %q, and yet:\n%s", name, why, kinds(events))
				}
			}
		})
	}
}

// What a command says is judged too, at both sides of each limit.
func TestRefusedByWhatTheySay(t *testing.T) {
	p := planOf(t, three(), Conditions{})
	n := begun(t, p, 0)
	n.do(Wake{}, 20*sec)
	table := planOf(t, recipeOf(Hangers, 1, bathFor(Develop, 8*mins).at(20, 2.2)), Conditions{})
	h := begun(t, table, 0)
	for _, c := range []struct {
		s       State
		c       Command
		refused bool
	}{
		{n.s, Late{Sheet: 0}, true}, {n.s, Late{Sheet: -1}, true}, {n.s, Late{Sheet: 201}, true}, {n.s, Late{Sheet: 4}, true},
		{n.s, Late{Sheet: 2}, false}, {n.s, Late{Sheet: 3}, true}, // the third is dry until 30 s
		{n.s, Read{T: chem.Celsius(math.NaN())}, true}, {n.s, Read{T: chem.Celsius(math.Inf(1))}, true},
		{n.s, Read{T: chem.Celsius(math.Inf(-1)), Sure: true}, true}, {n.s, Read{T: chem.Celsius(math.NaN()), Sure: true}, true},
		{n.s, Read{T: -0.01, Sure: true}, true}, {n.s, Read{T: 0, Sure: true}, false},
		{n.s, Read{T: 60, Sure: true}, false}, {n.s, Read{T: 60.01, Sure: true}, true},
		{n.s, Read{T: 20, Ago: -1}, true}, {n.s, Read{T: 20, Ago: 24 * time.Hour}, false}, {n.s, Read{T: 20, Ago: 24*time.Hour + 1}, true},
		{h.s, Read{T: 26, Source: ByHand}, false}, {h.s, Read{T: 26.01, Source: ByHand}, true},
		{h.s, Read{T: 13.99, Source: ByHand}, true}, {h.s, Read{T: 26.01, Source: ByHand, Sure: true}, false},
		{h.s, Read{T: 26.01, Source: BySensor}, false},
	} {
		if why := c.s.Refuse(c.c, 20*sec); (why != "") != c.refused {
			t.Errorf("%#v: %q; expected refused %v", c.c, why, c.refused)
		}
	}
}

// oddCommand draws commands with numbers that nobody would type.
func oddCommand(t *rapid.T) Command {
	long := rapid.SampledFrom([]Elapsed{0, 1, -1, sec, -mins, 1000 * time.Hour, math.MaxInt64, math.MinInt64})
	degree := rapid.SampledFrom([]float64{20, 0, 60, -1, 61, 1e300, math.NaN(), math.Inf(1), math.Inf(-1)})
	switch rapid.IntRange(0, 13).Draw(t, "odd") {
	case 0:
		return Begin{}
	case 1:
		return Gap{From: long.Draw(t, "from"), To: long.Draw(t, "to")}
	case 2:
		return Resume{From: long.Draw(t, "from"), Gap: rapid.Bool().Draw(t, "gap"), Ask: rapid.Bool().Draw(t, "ask")}
	case 3:
		return Tell{Kind: rapid.SampledFrom([]EventKind{SoundLost, SoundBack, ClockJumped, Trouble, LightChanged, HandedOver}).Draw(t, "kind")}
	case 4, 5:
		return MoveOn{}
	case 6:
		return Undo{}
	case 7:
		return Hold{}
	case 8:
		return Go{}
	case 9:
		return Read{T: chem.Celsius(degree.Draw(t, "T")), Ago: long.Draw(t, "ago"), Source: BySensor, Sure: true}
	case 10:
		return TakeOut{}
	case 11:
		return Late{Sheet: rapid.SampledFrom([]int{0, 1, 2, 5, 201, -1, math.MaxInt, math.MinInt}).Draw(t, "sheet")}
	case 12:
		return Remark{Text: rapid.String().Draw(t, "text")}
	}
	return Wake{}
}

func TestNoCommandPanics(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		s, err := NewState(anyPlan(r))
		if err != nil {
			r.Fatal(err)
		}
		now := -10 * sec
		for _, e := range Decide(s, rapid.SampledFrom([]Command{Begin{}, Begin{}, Begin{}, Wake{}}).Draw(r, "first"), now) {
			s = Apply(s, e)
		}
		for range rapid.IntRange(1, 20).Draw(r, "length") {
			now += Elapsed(rapid.IntRange(-5_000, 200_000).Draw(r, "pause ms")) * 1e6
			c := oddCommand(r)
			s.Refuse(c, now)
			for _, e := range Decide(s, c, now) {
				s = Apply(s, e)
			}
			if err := whole(s); s.began && err != nil {
				r.Fatal(err)
			}
			s.Look(now)
			s.Ahead(now-mins, now+mins)
			s.Due()
		}
	})
}

// Nothing moves after the end, whatever a record says.
func TestNothingMovesAfterTheEnd(t *testing.T) {
	n := begun(t, planOf(t, three(), Conditions{}), 0)
	n.do(Wake{}, 100*sec)
	n.do(Stop{}, 100*sec)
	s := Apply(n.s, Event{At: 101 * sec, Kind: Moved, Step: "develop", Sheet: 1})
	if got := s.Look(101 * sec).Sheets[0].Step; got != 0 {
		t.Errorf("sheet 1 in step %d after the end; expected 0", got)
	}
}

// Apply takes whatever a damaged or foreign record may hold.
func TestNoEventPanics(t *testing.T) {
	every := []EventKind{SessionBegan, StepBegan, StepEnded, Moved, TakenOut, SetAside, CueGiven, ReadingTaken, Overran, Held,
		WentOn, Resumed, WetWarned, WetPassed, SoundLost, SoundBack, ClockJumped, Noted, GapFound, Undone, LateTold,
		LightChanged, HandedOver, SessionDone, SessionStopped, Alive, Trouble, "of a newer version"}
	rapid.Check(t, func(r *rapid.T) {
		s, err := NewState(anyPlan(r))
		if err != nil {
			r.Fatal(err)
		}
		s = Apply(s, Event{Kind: SessionBegan})
		for range 12 {
			e := Event{At: Elapsed(rapid.IntRange(-20, 2000).Draw(r, "at")) * sec, Kind: rapid.SampledFrom(every).Draw(r, "kind"),
				Step:  rapid.SampledFrom([]string{"", "presoak", "develop", "stop", "fix", "nowhere"}).Draw(r, "step"),
				Sheet: rapid.SampledFrom([]int{0, 1, 2, 9, -1}).Draw(r, "sheet"), Act: rapid.IntRange(0, 3).Draw(r, "act"),
				Cue: rapid.SampledFrom(append([]CueKind{"", "unheard of"}, CueKinds...)).Draw(r, "cue")}
			if rapid.Bool().Draw(r, "temperature") {
				e.Temperature = degrees(rapid.SampledFrom([]float64{20, 0, 60}).Draw(r, "T"))
			}
			s = Apply(s, e)
			s.Look(e.At)
			s.Ahead(0, 2000*sec)
		}
	})
}
