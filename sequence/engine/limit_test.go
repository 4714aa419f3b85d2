package engine

// When the wet limit is used up, one moment for everything that shows it, and whose:
// of the sheets still in play.

import (
	"testing"

	"pgregory.net/rapid"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

// Six sheets hung after the tray: the alarm comes when the shares of both limits are
// used, and the plan says that moment, not the plan's end and the tray's margin.
func TestLimitIsTheAlarms(t *testing.T) {
	r := recipetest.Recipe(sequence.Tray, 1, recipetest.Bath(sequence.Presoak, 12*recipetest.Minute), recipetest.Into(recipetest.Bath(sequence.Wash, 40*recipetest.Minute), sequence.Hangers))
	r.Film.WetLimit.ByVessel = map[sequence.Vessel]sequence.Elapsed{sequence.Tray: 24 * recipetest.Minute, sequence.Hangers: 60 * recipetest.Minute}
	p := planOf(t, r, sequence.Conditions{})
	// 12 of 24 minutes are a half; the other half is 30 of 60 in hangers.
	if at := p.Wet.LimitAt; at == nil || *at != 42*recipetest.Minute {
		t.Errorf("limit at %v; expected 42:00", at)
	}
	recipetest.ExpectInstants(t, "alarm", recipetest.CuesOf(p.Cues, sequence.CueWetLimit, ""), 42*60)
}

// Beyond the end: as if the last wet bath went on. Drying is no bath.
func TestLimitBeyondTheEnd(t *testing.T) {
	r := recipetest.Recipe(sequence.Tray, 1, recipetest.Bath(sequence.Presoak, 12*recipetest.Minute), recipetest.Into(recipetest.Bath(sequence.Wash, 10*recipetest.Minute), sequence.Hangers), recipetest.OutsideWetTime(recipetest.Bath(sequence.Other, 60*recipetest.Minute)))
	r.Film.WetLimit.ByVessel = map[sequence.Vessel]sequence.Elapsed{sequence.Tray: 24 * recipetest.Minute, sequence.Hangers: 60 * recipetest.Minute}
	if at := planOf(t, r, sequence.Conditions{}).Wet.LimitAt; at == nil || *at != 42*recipetest.Minute {
		t.Errorf("limit at %v; expected 42:00", at)
	}
	r.Film.WetLimit = sequence.WetLimit{}
	if at := planOf(t, r, sequence.Conditions{}).Wet.LimitAt; at != nil {
		t.Errorf("limit at %v where none is known", *at)
	}
}

// The moment that a running session shows is that of its alarm, whatever is done, if
// nothing more is done.
func TestTheLimitShownIsWhereTheAlarmComes(t *testing.T) {
	compared := 0
	rapid.Check(t, func(r *rapid.T) {
		p := anyPlan(r)
		n, now := begun(t, p, 0), sequence.Elapsed(0)
		for _, a := range anyCommands(r) {
			now += a.after
			n.do(a.c, now)
			if n.s.Over() != "" || n.s.passed != sequence.Never {
				return
			}
			m := session{s: n.s}
			shown := m.s.Snapshot(now).Wet.LimitAt
			m.do(sequence.Wake{}, now+30*recipetest.Minute)
			overrun := len(recipetest.EventsOf(m.events, sequence.Overran)) > 0 // it changes what is to come
			for _, e := range recipetest.EventsOf(m.events, sequence.WetPassed) {
				if compared++; !overrun && (shown == nil || !recipetest.Near(*shown, e.At)) {
					r.Fatalf("shown %v at %v; the alarm came at %v", shown, now, e.At)
				}
			}
		}
	})
	if compared == 0 {
		t.Error("no alarm came")
	}
}

// lostTest is a load of three whose sheet 2 is lost in the developer, and lies in water.
func lostTest(t *testing.T, limit sequence.Elapsed) *session {
	t.Helper()
	r := recipetest.Recipe(sequence.Hangers, 3, recipetest.Bath(sequence.Presoak, 2*recipetest.Minute), recipetest.Bath(sequence.Develop, 8*recipetest.Minute), recipetest.Bath(sequence.Fix, 5*recipetest.Minute), recipetest.AtLeast(recipetest.Bath(sequence.Wash, 10*recipetest.Minute), 5*recipetest.Minute))
	r.Film.WetLimit.All = limit
	n := begun(t, planOf(t, r, sequence.Conditions{}), 0)
	n.do(sequence.Wake{}, 3*recipetest.Minute)
	return n
}

// What lies in water is lost: its wet time is told, and is nobody's limit any more.
func TestALostSheetIsNotTheSessions(t *testing.T) {
	n := lostTest(t, 30*recipetest.Minute)
	n.do(sequence.MoveOn{}, 3*recipetest.Minute) // all into the fixer; sheet 2 was still in the developer
	n.do(sequence.MarkLate{Sheet: 2}, 3*recipetest.Minute+recipetest.Second)
	n.do(sequence.Undo{}, 3*recipetest.Minute+2*recipetest.Second)
	n.do(sequence.SetSheetAside{Sheet: 2}, 4*recipetest.Minute)
	n.do(sequence.Hold{}, 5*recipetest.Minute)
	n.do(sequence.Wake{}, 9*recipetest.Minute)
	l := n.s.Snapshot(9 * recipetest.Minute)
	if l.Wettest == 1 || !l.Sheets[1].Aside || l.Sheets[1].Wet != 9*recipetest.Minute {
		t.Errorf("the worst is sheet %d, sheet 2 %+v", l.Wettest+1, l.Sheets[1])
	}
	if l.Wet.LimitAt == nil || *l.Wet.LimitAt != 30*recipetest.Minute {
		t.Errorf("limit at %v; expected 30:00", l.Wet.LimitAt)
	}
}

// Only a lost sheet is over its limit: no alarm, no share, no advice for it.
func TestALostSheetRaisesNoAlarm(t *testing.T) {
	r := recipetest.Recipe(sequence.Tray, 2, recipetest.Shuffled(recipetest.Bath(sequence.Presoak, recipetest.Minute)), recipetest.Into(recipetest.Bath(sequence.Wash, 20*recipetest.Minute), sequence.Hangers))
	r.Film.WetLimit.ByVessel = map[sequence.Vessel]sequence.Elapsed{sequence.Tray: 4 * recipetest.Minute, sequence.Hangers: 60 * recipetest.Minute}
	n := begun(t, planOf(t, r, sequence.Conditions{}), 0)
	n.do(sequence.Wake{}, 2*recipetest.Minute)
	n.do(sequence.SetSheetAside{Sheet: 1}, 2*recipetest.Minute) // water counts as the load's tray, over its 4:00 soon
	n.do(sequence.Wake{}, 15*recipetest.Minute)
	l := n.s.Snapshot(15 * recipetest.Minute)
	if got := recipetest.EventsOf(n.events, sequence.WetPassed); len(got) > 0 {
		t.Errorf("alarm at %v for a sheet that is lost", got[0].At)
	}
	if l.Sheets[0].Used <= 1 || *l.Wet.Used >= 1 || *l.Wet.Margin < 0 {
		t.Errorf("used %v of the lost sheet, %v of the session, margin %v", l.Sheets[0].Used, *l.Wet.Used, *l.Wet.Margin)
	}
	if a, ok := n.s.Advise(15 * recipetest.Minute); ok {
		t.Errorf("advice for what is lost: %+v", a)
	}
}
