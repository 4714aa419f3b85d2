package engine

// What a rehearsal of the moves passes over: never a change of bath, a cue that
// matters, or the seconds around them.

import (
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/sequence/schedule"
)

// Lived through with every quiet passed over, a session has the same changes of bath
// as without, and its hands were never hurried.
func TestQuietPassesOverNothingThatMatters(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		p := anyPlan(r)
		whole, skipped := rehearsed(r, p, false), rehearsed(r, p, true)
		if !slices.EqualFunc(whole.changes, skipped.changes, func(a, b sequence.Event) bool {
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
				if c.At > j[1]-stillHeard && c.At <= j[1] {
					r.Fatalf("passed over to %v, so that %s of %v would be heard late", j[1], c.Cue, c.At)
				}
			}
		}
	})
}

// livedThrough is a session with what happened in it.
type livedThrough struct {
	changes, cues []sequence.Event
	jumps         [][2]sequence.Elapsed
}

func rehearsed(r *rapid.T, p *sequence.Plan, skip bool) livedThrough {
	s, err := NewState(p)
	if err != nil {
		r.Fatal(err)
	}
	var n livedThrough
	do := func(c sequence.Command, now sequence.Elapsed) {
		for _, e := range Decide(s, c, now) {
			s = Apply(s, e)
			switch e.Kind {
			case sequence.Transferred, sequence.Pulled:
				n.changes = append(n.changes, e)
			case sequence.CueGiven:
				n.cues = append(n.cues, e)
			}
		}
	}
	do(sequence.Begin{ID: "tern"}, -10*time.Second)
	for now := -10 * time.Second; s.Over() == "" && now < 40*time.Hour; now += 500 * time.Millisecond {
		if answer := s.filmState.since + 2*time.Second; s.filmState.overdue && now >= answer {
			do(sequence.MoveOn{}, answer)
		}
		do(sequence.Wake{}, now)
		if to, ok := s.QuietUntil(now); skip && ok {
			n.jumps = append(n.jumps, [2]sequence.Elapsed{now, to})
			now = to
			do(sequence.Wake{}, now)
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
		{20 * time.Second, 9*time.Minute + 30*time.Second, true},
		{21 * time.Second, 9*time.Minute + 30*time.Second, true},
		{9*time.Minute + 25*time.Second, 0, false},
	} {
		if to, ok := s.QuietUntil(c.now); ok != c.quiet || ok && (to > c.to || to < c.to-4*time.Second) {
			t.Errorf("at %v quiet to %v, %v; expected %v, %v", c.now, to, ok, c.to, c.quiet)
		}
	}
	for _, e := range Decide(s, sequence.Hold{}, time.Minute) {
		s = Apply(s, e)
	}
	if _, ok := s.QuietUntil(2 * time.Minute); ok {
		t.Error("quiet while held")
	}
	n := session{s: quietState(t)}
	n.do(sequence.Wake{}, 10*time.Minute)
	for after, want := range map[time.Duration]bool{0: false, 19 * time.Second: false, 59 * time.Second: false, time.Minute: true} { // it is agitated, which is done for a minute
		if _, ok := n.s.QuietUntil(10*time.Minute + after); ok != want {
			t.Errorf("%v after film went on: quiet %t", after, ok)
		}
	}
}

// Twenty seconds are left to whoever hears a cue that is not routine.
func TestNoQuietBehindACueThatMatters(t *testing.T) {
	s := quietState(t)
	for cue, want := range map[sequence.CueKind]bool{sequence.CueWetWarning: false, sequence.CueTick: true} {
		n := session{s: Apply(s, sequence.Event{At: 5 * time.Minute, Kind: sequence.CueGiven, Cue: cue, Step: "fix"})}
		for after, quiet := range map[time.Duration]bool{time.Second: want, 19 * time.Second: want, 20 * time.Second: true} {
			if _, ok := n.s.QuietUntil(5*time.Minute + after); ok != quiet {
				t.Errorf("%v after %s: quiet %t", after, cue, ok)
			}
		}
	}
}

// Of a stack's turns the first round is done by hand: from its first turn on until each sheet was
// turned once.
func TestARoundIsDoneByHand(t *testing.T) {
	s := quietState(t)
	for count, quiet := range map[int]bool{0: true, 1: false, 2: true, 3: true} { // of two sheets
		s.shuffles = []schedule.ShuffleCount{{Count: count}, {}}
		if _, ok := s.QuietUntil(time.Minute); ok != quiet {
			t.Errorf("%d turns: quiet %t", count, ok)
		}
	}
}

// What a bath's agitation begins with is done with the hands, a minute of it at most;
// of a stack's turns one whole round.
func TestTheFirstOfTheRoutineIsPractised(t *testing.T) {
	for _, c := range []struct {
		name    string
		vessel  sequence.Vessel
		sheets  int
		agitate sequence.Agitation
		quiet   time.Duration // not before
	}{
		{"forty seconds at first", sequence.Hangers, 2, sequence.Agitation{Mode: sequence.Pattern, Initial: 40 * time.Second, For: 5 * time.Second, Every: 2 * time.Minute}, 40 * time.Second},
		{"without an end", sequence.Hangers, 2, sequence.Agitation{Mode: sequence.Continuous}, time.Minute},
		{"six sheets turned", sequence.Tray, 6, sequence.Agitation{Mode: sequence.Shuffle}, 75*time.Second + 50*time.Second},
	} {
		s := quietIn(t, c.vessel, c.sheets, c.agitate)
		for now := time.Duration(0); now < 5*time.Minute; now += time.Second {
			for _, e := range Decide(s, sequence.Wake{}, now) {
				s = Apply(s, e)
			}
			if _, ok := s.QuietUntil(now); ok {
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
	return quietIn(t, sequence.Hangers, 2, sequence.Agitation{Mode: sequence.Still})
}

// quietIn is film in its first bath of ten minutes.
func quietIn(t *testing.T, v sequence.Vessel, sheets int, a sequence.Agitation) State {
	t.Helper()
	p, err := planning.Resolve(sequence.Recipe{Title: "Tern 125", Film: sequence.Film{Name: "Tern 125", Sensitivity: sequence.Pan},
		Load: sequence.Load{Vessel: v, Sheets: sheets, Size: sequence.Size{Name: "4x5in"}, LoadEvery: 15 * time.Second, ShuffleEvery: 10 * time.Second, TransferEvery: 10 * time.Second},
		Steps: []sequence.Step{{Kind: sequence.Fix, Name: "fix", Time: 10 * time.Minute, RoomLight: sequence.Dark, Agitate: a},
			{Kind: sequence.Wash, Name: "wash", Time: 10 * time.Minute, RoomLight: sequence.Dark}}}, sequence.Conditions{})
	if err != nil {
		t.Fatal(err)
	}
	s, err := NewState(&p)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range Decide(s, sequence.Begin{ID: "tern"}, 0) {
		s = Apply(s, e)
	}
	return s
}

// A cue is passed over neither when it would still be heard, 2.2 s late at most, nor when it
// could not be told in time, less than a second ahead.
func TestNothingIsHeardLateAfterAQuiet(t *testing.T) {
	s := quietState(t)
	s.forecastNow.cues, s.forecastNow.next = s.forecastNow.cues[:1], 0
	s.forecastNow.cues[0].At = time.Minute
	for _, c := range []struct{ to, want time.Duration }{{59 * time.Second, 59 * time.Second}, {59*time.Second + time.Millisecond, 59 * time.Second},
		{62*time.Second + 199*time.Millisecond, 59 * time.Second}, {62*time.Second + 200*time.Millisecond, 62*time.Second + 200*time.Millisecond}} {
		for _, least := range []time.Duration{0, c.to} { // which leaves it no quiet where it is moved
			if got := unheard(s, c.to, least); got != c.want {
				t.Errorf("to %v, at least %v: %v; expected %v", c.to, least, got, c.want)
			}
		}
	}
}
