package sequence

// What a rehearsal of the moves passes over: never a change of bath, a cue that
// matters, or the seconds around them.

import (
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// Lived through with every quiet passed over, a session has the same changes of bath
// as without, and its hands were never hurried.
func TestQuietPassesOverNothingThatMatters(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		p := anyPlan(r)
		whole, skipped := rehearsed(r, p, false), rehearsed(r, p, true)
		if !slices.EqualFunc(whole.changes, skipped.changes, func(a, b Event) bool {
			return a.At == b.At && a.Kind == b.Kind && a.Step == b.Step && a.Sheet == b.Sheet
		}) {
			r.Fatalf("changes %v; expected %v", skipped.changes, whole.changes)
		}
		for _, j := range skipped.jumps {
			for _, e := range skipped.changes {
				if e.At > j[0]-handsAfter && e.At < j[1]+handsBefore {
					r.Fatalf("passed over %v to %v, and film changes baths at %v", j[0], j[1], e.At)
				}
			}
			for _, c := range skipped.cues {
				if !slices.Contains(routine, c.Cue) && c.At > j[0] && c.At < j[1]+handsBefore {
					r.Fatalf("passed over %v to %v, and %s is due at %v", j[0], j[1], c.Cue, c.At)
				}
				if c.At > j[1]-fading && c.At <= j[1] {
					r.Fatalf("passed over to %v, so that %s of %v would be heard late", j[1], c.Cue, c.At)
				}
			}
		}
	})
}

// livedThrough is a session with what happened in it.
type livedThrough struct {
	changes, cues []Event
	jumps         [][2]Elapsed
}

func rehearsed(r *rapid.T, p *Plan, skip bool) livedThrough {
	s, err := NewState(p)
	if err != nil {
		r.Fatal(err)
	}
	var n livedThrough
	do := func(c Command, now Elapsed) {
		for _, e := range Decide(s, c, now) {
			s = Apply(s, e)
			switch e.Kind {
			case Moved, TakenOut:
				n.changes = append(n.changes, e)
			case CueGiven:
				n.cues = append(n.cues, e)
			}
		}
	}
	do(Begin{ID: "tern"}, -10*time.Second)
	for now := -10 * time.Second; s.Over() == "" && now < 40*time.Hour; now += 500 * time.Millisecond {
		if answer := s.moves.since + 2*time.Second; s.moves.overdue && now >= answer {
			do(MoveOn{}, answer)
		}
		do(Wake{}, now)
		if to, ok := s.Quiet(now); skip && ok {
			n.jumps = append(n.jumps, [2]Elapsed{now, to})
			now = to
			do(Wake{}, now)
		}
	}
	return n
}

// Hangers with ten minutes of fixing: the quiet begins twenty seconds after the
// hands and ends ten before the ready.
func TestQuietBetweenTwoMoves(t *testing.T) {
	s := quietState(t)
	for _, c := range []struct {
		now, to time.Duration
		quiet   bool
	}{
		{5 * time.Second, 0, false},
		{19 * time.Second, 0, false},
		{21 * time.Second, 9*time.Minute + 30*time.Second, true},
		{9*time.Minute + 25*time.Second, 0, false},
	} {
		if to, ok := s.Quiet(c.now); ok != c.quiet || ok && (to > c.to || to < c.to-4*time.Second) {
			t.Errorf("at %v quiet to %v, %v; expected %v, %v", c.now, to, ok, c.to, c.quiet)
		}
	}
	for _, e := range Decide(s, Hold{}, time.Minute) {
		s = Apply(s, e)
	}
	if _, ok := s.Quiet(2 * time.Minute); ok {
		t.Error("quiet while held")
	}
}

// What a bath's agitation begins with is done with the hands, a minute of it at most;
// of a stack's turns one whole round.
func TestTheFirstOfTheRoutineIsPractised(t *testing.T) {
	for _, c := range []struct {
		name    string
		vessel  Vessel
		sheets  int
		agitate Agitation
		quiet   time.Duration // not before
	}{
		{"forty seconds at first", Hangers, 2, Agitation{Mode: Pattern, Initial: 40 * time.Second, For: 5 * time.Second, Every: 2 * time.Minute}, 40 * time.Second},
		{"without an end", Hangers, 2, Agitation{Mode: Continuous}, time.Minute},
		{"six sheets turned", Tray, 6, Agitation{Mode: Shuffle}, 75*time.Second + 50*time.Second},
	} {
		s := quietIn(t, c.vessel, c.sheets, c.agitate)
		for now := time.Duration(0); now < 5*time.Minute; now += time.Second {
			for _, e := range Decide(s, Wake{}, now) {
				s = Apply(s, e)
			}
			if _, ok := s.Quiet(now); ok {
				if now < c.quiet || now > c.quiet+12*time.Second {
					t.Errorf("%s: quiet from %v; expected from %v", c.name, now, c.quiet)
				}
				break
			}
		}
	}
}

// quietState is a tank in its first bath of ten minutes.
func quietState(t *testing.T) State {
	return quietIn(t, Hangers, 2, Agitation{Mode: AtRest})
}

// quietIn is film in its first bath of ten minutes.
func quietIn(t *testing.T, v Vessel, sheets int, a Agitation) State {
	t.Helper()
	p, err := Resolve(Recipe{Title: "Tern 125", Film: Film{Name: "Tern 125", Sensitivity: Pan},
		Load: Load{Vessel: v, Sheets: sheets, Size: Size{Name: "4x5in"}, LoadEvery: 15 * time.Second, TurnEvery: 10 * time.Second, MoveEvery: 10 * time.Second},
		Steps: []Step{{Kind: Fix, Name: "fix", Time: 10 * time.Minute, RoomLight: Dark, Agitate: a},
			{Kind: Wash, Name: "wash", Time: 10 * time.Minute, RoomLight: Dark}}}, Conditions{})
	if err != nil {
		t.Fatal(err)
	}
	s, err := NewState(&p)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range Decide(s, Begin{ID: "tern"}, 0) {
		s = Apply(s, e)
	}
	return s
}
