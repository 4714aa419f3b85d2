package live

// The loop in virtual time: commands in order, gaps, wall steps, and an ear
// that is told in time.

import (
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/planning"
)

// ear remembers what it was told, and when.
type ear struct {
	clock clock.Clock
	mu    sync.Mutex
	first map[sequence.Cue]time.Duration // how long before its instant a cue was first told
}

func (e *ear) Schedule(cues []sequence.Cue) {
	e.mu.Lock()
	defer e.mu.Unlock()
	for _, c := range cues {
		if _, told := e.first[c]; !told {
			e.first[c] = e.clock.Until(c.At)
		}
	}
}

// tank is four sheets in hangers: a minute in the developer, a minute in the
// fixer, two minutes in the wash.
func tank(t testing.TB) *sequence.Plan {
	t.Helper()
	step := func(k sequence.Kind, minutes time.Duration) sequence.Step {
		return sequence.Step{Kind: k, Name: string(k), Time: minutes * time.Minute, RoomLight: sequence.Dark}
	}
	r := sequence.Recipe{Title: "Tern 125 in hangers",
		Film:  sequence.Film{Name: "Tern 125", Sensitivity: sequence.Pan},
		Load:  sequence.Load{Vessel: sequence.Hangers, Sheets: 4, Size: sequence.Size{Name: "4x5in"}},
		Steps: []sequence.Step{step(sequence.Develop, 1), step(sequence.Fix, 1), step(sequence.Wash, 2)}}
	p, err := planning.Resolve(r, sequence.Conditions{})
	if err != nil {
		t.Fatal(err)
	}
	return &p
}

// bench is a session of the tank on a simulated laptop.
type bench struct {
	*Session
	laptop *clock.Simulated
	ear    *ear
}

// keepIn has the session's journal kept in a store.
func (b bench) keepIn(t *testing.T, store journal.Store) {
	t.Helper()
	w, err := store.ReserveID("tern")
	if err != nil {
		t.Fatal(err)
	}
	b.KeepJournal(w)
}

func begin(t *testing.T) bench {
	t.Helper()
	laptop := clock.NewSimulated(nil)
	watch := clock.New(laptop, 0, 1)
	b := bench{laptop: laptop, ear: &ear{clock: watch, first: map[sequence.Cue]time.Duration{}}}
	plan := tank(t)
	var err error
	b.Session, err = Start(Options{Plan: plan, Clock: watch, Ear: b.ear,
		FirstCommand: sequence.Begin{ID: "tern", Version: "test"}, FirstRecord: journal.Record{Plan: plan}})
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// events are the session's so far, heartbeats left out.
func (b bench) events() []journal.Record {
	b.log.mu.Lock()
	defer b.log.mu.Unlock()
	return slices.DeleteFunc(slices.Clone(b.log.records), func(r journal.Record) bool { return r.Event.Kind == sequence.Heartbeat })
}

// when lists the moments of the events of one kind in a step ("" for any).
func (b bench) when(k sequence.EventKind, step string) []time.Duration {
	var list []time.Duration
	for _, r := range b.events() {
		if r.Event.Kind == k && (step == "" || r.Event.Step == step) {
			list = append(list, r.Event.At)
		}
	}
	return list
}

func (b bench) want(t *testing.T, k sequence.EventKind, step string, at ...time.Duration) {
	t.Helper()
	if got := b.when(k, step); !slices.Equal(got, at) {
		t.Errorf("%s %s at %v; want %v", k, step, got, at)
	}
}

const minute = time.Minute

func TestASessionRunsOnTime(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		b := begin(t)
		b.Wait()
		b.want(t, sequence.StepBegan, "", 0, minute, 2*minute)
		b.want(t, sequence.StepEnded, "", minute, 2*minute, 4*minute)
		b.want(t, sequence.SessionDone, "", 4*minute)
		var due []time.Duration
		for _, r := range b.log.records {
			if r.Event.Kind == sequence.TransferDue {
				due = append(due, r.Event.At)
			}
		}
		if !slices.Equal(due, []time.Duration{minute, 2 * minute}) {
			t.Errorf("transfers are on record as due at %v; want each once", due)
		}
		for i, r := range b.log.records {
			if r.Seq != i || r.V != journal.Version {
				t.Errorf("record %d has seq %d, v %d", i, r.Seq, r.V)
			}
			if r.Event.Kind == sequence.TransferDue {
				if ahead := r.Event.At - r.Clock.Elapsed; ahead < time.Second || ahead > intendAhead {
					t.Errorf("the transfer at %v is on record %v ahead", r.Event.At, ahead)
				}
				continue
			}
			if late := r.Clock.Elapsed - r.Event.At; late < 0 || late > time.Millisecond {
				t.Errorf("%s, due at %v, was noticed %v later", r.Event.Kind, r.Event.At, late)
			}
		}
	})
}

// The ear is told of every cue at least a second and a half ahead, but for those
// that fall due before that from the start.
func TestTheEarIsToldInTime(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		b := begin(t)
		b.Wait()
		cues := b.State().Plan().Cues
		if len(cues) < 10 {
			t.Fatalf("the plan has %d cues only", len(cues))
		}
		for _, c := range cues {
			ahead, told := b.ear.first[c]
			if !told || ahead < min(c.At, 1500*time.Millisecond) || ahead > cueHorizon {
				t.Errorf("%s at %v: told %v ahead (%t)", c.Kind, c.At, ahead, told)
			}
		}
	})
}

func TestCommandsAreJudgedInTheirOrder(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		b := begin(t)
		time.Sleep(10 * time.Second)
		for i, step := range []struct {
			c    sequence.Command
			want string
		}{
			{sequence.EndHold{}, "refused: not-held"}, {sequence.Hold{}, ""}, {sequence.Hold{}, "refused: held-already"},
			{sequence.EndHold{}, ""}, {sequence.EndHold{}, "refused: not-held"}, {sequence.MarkLate{Sheet: 5}, "refused: no-such-sheet"},
			{sequence.EndSession{}, ""}, {sequence.EndSession{}, "refused: over"},
		} {
			got := ""
			if err := b.Ask(step.c); err != nil {
				got = err.Error()
			}
			if got != step.want {
				t.Errorf("%d: %T: %q; want %q", i, step.c, got, step.want)
			}
		}
		b.Wait()
		b.want(t, sequence.Held, "", 10*time.Second)
		b.want(t, sequence.HoldEnded, "", 10*time.Second)
	})
}

// Do returns though the loop is not running at all.
func TestDoNeverBlocks(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		b := begin(t)
		b.Close()
		before := time.Now()
		for range 10000 {
			b.Do(sequence.AddNote{Text: "tide is in"})
		}
		if d := time.Since(before); d != 0 {
			t.Errorf("10,000 requests took %v of virtual time", d)
		}
	})
}

// Many hands at once; meant for the race detector.
func TestManyHands(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		b := begin(t)
		var hands sync.WaitGroup
		for h := range 8 {
			hands.Go(func() {
				for i := range 20 {
					b.Do(sequence.AddNote{Text: fmt.Sprint(h, i)})
					_ = b.Snapshot()
					_ = b.State().At()
					time.Sleep(time.Duration(h+1) * 37 * time.Millisecond)
				}
			})
		}
		hands.Wait()
		synctest.Wait()
		if n := len(b.when(sequence.Noted, "")); n != 160 {
			t.Errorf("%d of 160 notes were taken", n)
		}
		b.Close()
	})
}

// The laptop sleeps across the end of the developer: found within one tick of
// waking, nothing moves in the gap, and moving on is held until the person says so.
func TestSleepIsFoundWithinATick(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		b := begin(t)
		time.Sleep(30*time.Second + 20*time.Millisecond)
		b.laptop.Sleep(50 * time.Second)
		time.Sleep(poll)
		synctest.Wait()
		gaps := b.when(sequence.GapFound, "")
		if len(gaps) != 1 || gaps[0] < 80*time.Second || gaps[0] > 80*time.Second+20*time.Millisecond+poll {
			t.Fatalf("gaps at %v; want one within %v of 1:20.02", gaps, poll)
		}
		for _, r := range b.events() {
			if since := r.Event.Since; r.Event.Kind == sequence.GapFound && (*since < 30*time.Second-poll || *since > 30*time.Second+20*time.Millisecond) {
				t.Errorf("the gap began at %v; want 30 s", *since)
			}
			if at := r.Event.At; at > 30*time.Second+20*time.Millisecond && at < gaps[0] {
				t.Errorf("%s at %v, inside the gap", r.Event.Kind, at)
			}
		}
		b.want(t, sequence.Held, "", gaps[0])
		b.want(t, sequence.StepEnded, "")
		if l := b.Snapshot(); !l.Held || l.Step != 0 || l.Now < 80*time.Second {
			t.Errorf("held %t in step %d at %v; want held in the developer", l.Held, l.Step, l.Now)
		}
		time.Sleep(9*time.Second + 980*time.Millisecond - poll) // to 1:30
		if err := b.Ask(sequence.MoveOn{}); err != nil {
			t.Error(err)
		}
		b.Wait()
		moved := b.when(sequence.StepEnded, "develop")
		b.want(t, sequence.SessionDone, "", moved[0]+3*minute)
	})
}

// A stall that is no gap is only lateness: the same events, at the same moments.
func TestAShortStallMovesNothing(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		b := begin(t)
		time.Sleep(55 * time.Second)
		b.laptop.Sleep(9 * time.Second)
		b.Wait()
		b.want(t, sequence.GapFound, "")
		b.want(t, sequence.Held, "")
		b.want(t, sequence.StepBegan, "fix", minute)
		b.want(t, sequence.SessionDone, "", 4*minute)
	})
}

// The wall clock is set by hours, both ways: recorded, and no edge moves.
func TestTheWallClockIsSet(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		b := begin(t)
		steps := []time.Duration{3 * time.Hour, -7 * time.Hour, 300 * time.Millisecond}
		for _, by := range steps {
			time.Sleep(40 * time.Second)
			b.laptop.StepWall(by)
		}
		time.Sleep(time.Second)
		b.laptop.StepWall(100 * time.Millisecond) // below what is told
		b.Wait()
		var told []string
		for _, r := range b.events() {
			if r.Event.Kind == sequence.ClockJumped {
				told = append(told, r.Event.Text)
			}
		}
		if len(told) != 3 || !strings.Contains(told[0], "3h0m0s") || !strings.Contains(told[1], "-7h0m0s") || !strings.Contains(told[2], "300ms") {
			t.Errorf("told %q; want the steps %v", told, steps)
		}
		b.want(t, sequence.StepBegan, "", 0, minute, 2*minute)
		b.want(t, sequence.SessionDone, "", 4*minute)
	})
}

// A record comes every five seconds, also when nothing happens, so that a session that
// is cut off can be taken up; where something does, no other is needed.
func TestHeartbeat(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		b := begin(t)
		time.Sleep(minute)
		last, widest, needless, beats := time.Duration(0), time.Duration(0), 0, 0
		b.log.mu.Lock()
		for _, r := range b.log.records {
			if r.Event.Kind == sequence.Heartbeat {
				if beats++; r.Clock.Elapsed-last < heartbeat {
					needless++
				}
			}
			widest, last = max(widest, r.Clock.Elapsed-last), r.Clock.Elapsed
		}
		b.log.mu.Unlock()
		if widest > heartbeat+poll || last < minute-heartbeat-poll {
			t.Errorf("records up to %v apart, the last at %v", widest, last)
		}
		if beats == 0 || needless > 0 {
			t.Errorf("%d heartbeats, %d of them less than %v after another record", beats, needless, heartbeat)
		}
		b.Close()
	})
}

// A session taken up from its records goes on as if it had never been cut off.
func TestTakenUpFromRecords(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		b := begin(t)
		time.Sleep(70 * time.Second)
		b.Close()
		records := slices.Clone(b.log.records)
		anchor := records[len(records)-1].Clock
		time.Sleep(4 * time.Second)
		watch, res := clock.Resume(b.laptop, anchor, 1)
		plan := b.State().Plan()
		again, err := Start(Options{Plan: plan, Clock: watch, Records: records, At: watch.Mark().Elapsed,
			FirstCommand: sequence.Resume{From: anchor.Elapsed, Gap: res.Gap > gapAfter}})
		if err != nil {
			t.Fatal(err)
		}
		b.Session = again
		b.Wait()
		b.want(t, sequence.Resumed, "", 74*time.Second)
		b.want(t, sequence.StepBegan, "", 0, minute, 2*minute)
		b.want(t, sequence.SessionDone, "", 4*minute)
		if again.log.records[len(records)].Seq != len(records) {
			t.Errorf("the first record after %d has seq %d", len(records), again.log.records[len(records)].Seq)
		}
	})
}

// A rehearsal that is taken up goes on at its pace: a minute of the session after a press, at
// thirty times the pace two seconds of the hands, that press can still be taken back.
func TestARehearsalTakenUpKeepsItsPace(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		b := begin(t)
		time.Sleep(10 * time.Second)
		b.Close()
		for pace, undone := range map[float64]bool{0: false, 30: true} {
			records := slices.Clone(b.log.records)
			records[0].Rehearsal = pace
			anchor := records[len(records)-1].Clock
			watch, _ := clock.Resume(b.laptop, anchor, 1)
			again, err := Start(Options{Plan: b.State().Plan(), Clock: watch, Records: records, At: watch.Mark().Elapsed,
				FirstCommand: sequence.Resume{From: anchor.Elapsed}})
			if err != nil {
				t.Fatal(err)
			}
			if err := again.Ask(sequence.MoveOn{}); err != nil {
				t.Fatal(err)
			}
			time.Sleep(50 * time.Second)
			if err := again.Ask(sequence.Undo{}); (err == nil) != undone {
				t.Errorf("at %g times the pace: %v", pace, err)
			}
			again.Close()
		}
	})
}
