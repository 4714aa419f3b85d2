package engine

import (
	"testing"

	"pgregory.net/rapid"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
	"example.org/wetside/sequence/schedule"
)

// A session that nobody touches does what the plan says, at every moment.
func TestHandsOfAnUntouchedSession(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		p := anyPlan(r)
		n, list := begun(t, p, 0), schedule.PlannedHands(p)
		for now := 137 * recipetest.Second / 1000; now < p.Steps[len(p.Steps)-1].End; now += recipetest.Seconds(r, 1, 40, "pause") {
			n.pressWhenAsked(now)
			want, _ := handDue(list, now)
			if got, _ := n.s.Hands(now); got.Do != want.Do || got.Step != want.Step {
				r.Fatalf("at %v %s in %s; planned %s in %s", now, got.Do, got.Step, want.Do, want.Step)
			}
		}
	})
}

// Whatever is done, as long as film is wet the hands have something to do or to leave.
func TestHandsWhateverHappens(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		p := anyPlan(r)
		n, now := begun(t, p, -10*recipetest.Second), -10*recipetest.Second
		for _, a := range anyCommands(r) {
			now += a.after
			n.do(a.c, now)
			in := false
			for k := range p.Sheets {
				at := n.s.where(k)
				in = in || at >= 0 && at < len(p.Steps)
			}
			if _, ok := n.s.Hands(now); ok != in && n.s.Over() == "" {
				r.Fatalf("at %v film in a bath %v, hands %v", now, in, ok)
			}
		}
	})
}

// Chemistry does not stop while moving on is held, and neither do the hands.
func TestHandsWhileHeld(t *testing.T) {
	doing := func(n *session, now sequence.Elapsed, want sequence.Doing) {
		t.Helper()
		n.do(sequence.Wake{}, now)
		if h, ok := n.s.Hands(now); !ok || h.Do != want {
			t.Errorf("at %v %q in %q; expected %s", now, h.Do, h.Step, want)
		}
	}
	r := recipetest.Recipe(sequence.Hangers, 4, recipetest.Drained(recipetest.Continuous(recipetest.Bath(sequence.Develop, 5*recipetest.Minute)), 10*recipetest.Second), recipetest.Bath(sequence.StopBath, recipetest.Minute))
	n := begun(t, planOf(t, r, sequence.Conditions{}), 0)
	doing(n, 295*recipetest.Second, sequence.Draining)
	n.do(sequence.Hold{}, 296*recipetest.Second)
	doing(n, 301*recipetest.Second, sequence.Agitating)
	doing(n, 20*recipetest.Minute, sequence.Agitating)
	if h, _ := n.s.Hands(21 * recipetest.Minute); h.Do != sequence.Agitating || h.Until != 22*recipetest.Minute {
		t.Errorf("held, %+v; expected a minute more of agitation, whenever that is asked", h)
	}
	n.do(sequence.MoveOn{}, 20*recipetest.Minute)
	doing(n, 20*recipetest.Minute+recipetest.Second, sequence.Standing)

	// A cycle each minute goes on as the minutes do.
	r = recipetest.Recipe(sequence.Hangers, 4, recipetest.Agitated(recipetest.Bath(sequence.Develop, 5*recipetest.Minute), recipetest.Periodic(recipetest.Minute, 10*recipetest.Second, recipetest.Minute)), recipetest.Bath(sequence.StopBath, recipetest.Minute))
	n = begun(t, planOf(t, r, sequence.Conditions{}), 0)
	n.do(sequence.Hold{}, 296*recipetest.Second)
	doing(n, 305*recipetest.Second, sequence.Agitating)
	doing(n, 320*recipetest.Second, sequence.Standing)
	doing(n, 665*recipetest.Second, sequence.Agitating)
	doing(n, 695*recipetest.Second, sequence.Standing)

	// In a stack held in the middle of its row the rest are turned, not carried.
	n = begun(t, planOf(t, three(), sequence.Conditions{}), 0)
	n.do(sequence.Wake{}, 635*recipetest.Second)
	doing(n, 635*recipetest.Second, sequence.Transfer) // sheet 1 went at 630, 2 goes at 640
	n.do(sequence.Hold{}, 636*recipetest.Second)
	doing(n, 700*recipetest.Second, sequence.Shuffling)
}

// What no clock says: a tick in a long agitation does not end it.
func TestHandsOutlastTheCues(t *testing.T) {
	r := recipetest.Recipe(sequence.Hangers, 4, recipetest.Agitated(recipetest.Bath(sequence.Develop, 5*recipetest.Minute), recipetest.Periodic(recipetest.Minute, 10*recipetest.Second, recipetest.Minute)), recipetest.Bath(sequence.StopBath, recipetest.Minute))
	n := begun(t, planOf(t, r, sequence.Conditions{}), 0)
	n.do(sequence.Wake{}, 31*recipetest.Second)
	if l := n.s.Snapshot(31 * recipetest.Second); l.Hands == nil || l.Hands.Do != sequence.Agitating || l.Hands.Until != 70*recipetest.Second || l.LastCue.Kind != sequence.CueTick {
		t.Errorf("hands %+v, last heard %+v; expected agitation until 1:10 and a tick", l.Hands, l.LastCue)
	}
}

// The hands have nothing to do while no film is in a bath: where loading is held, also when the
// first sheet was set aside, nor when the session was stopped.
func TestHandsWithoutFilm(t *testing.T) {
	for name, list := range map[string][]ask{
		"held before loading": {{-5 * recipetest.Second, sequence.Hold{}}},
		"held, one aside":     {{5 * recipetest.Second, sequence.SetSheetAside{Sheet: 1}}, {6 * recipetest.Second, sequence.Hold{}}},
		"stopped":             {{25 * recipetest.Second, sequence.EndSession{}}},
	} {
		n := begun(t, planOf(t, three(), sequence.Conditions{}), -10*recipetest.Second)
		for _, a := range list {
			n.do(a.c, a.after)
		}
		n.do(sequence.Wake{}, 30*recipetest.Second)
		if h, ok := n.s.Hands(30 * recipetest.Second); ok {
			t.Errorf("%s: %+v", name, h)
		}
	}
}

// handDue is what a plan's hands do at a moment.
func handDue(list []sequence.Hand, t sequence.Elapsed) (sequence.Hand, bool) {
	for _, h := range list {
		if h.At <= t && t < h.Until {
			return h, true
		}
	}
	return sequence.Hand{}, false
}

// A bath that waits for a press: at the instant at which its time is up the hands go on with its
// rhythm, as just after it. Nothing is lifted before the press.
func TestHandsAtTheInstantOfWaiting(t *testing.T) {
	develop := recipetest.Agitated(recipetest.Pulled(recipetest.Bath(sequence.Develop, 0), 121*recipetest.Second), sequence.Agitation{Mode: sequence.Pattern, For: recipetest.Second, Every: 15 * recipetest.Second})
	develop.WaitForPerson = true
	r := recipetest.Recipe(sequence.Tray, 1, develop, recipetest.Bath(sequence.StopBath, 30*recipetest.Second), recipetest.Bath(sequence.Fix, 5*recipetest.Minute))
	n := begun(t, planOf(t, r, sequence.Conditions{}), 0)
	due := 121 * recipetest.Second
	n.do(sequence.Wake{}, due)
	if len(recipetest.EventsOf(n.events, sequence.Overran)) != 1 {
		t.Fatal("it does not wait")
	}
	for _, now := range []sequence.Elapsed{due, due + 1, due + recipetest.Second} {
		if h, ok := n.s.Hands(now); !ok || h.Do != sequence.Standing {
			t.Errorf("%v after its time: %s", now-due, h.Do)
		}
	}
}
