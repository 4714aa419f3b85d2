package sequence

// When the wet limit is used up, one moment for everything that shows it, and whose:
// of the sheets still in play.

import (
	"testing"

	"pgregory.net/rapid"
)

// Six sheets hung after the tray: the alarm comes when the shares of both limits are
// used, and the plan says that moment, not the plan's end and the tray's margin.
func TestLimitIsTheAlarms(t *testing.T) {
	r := recipeOf(Tray, 1, bathFor(Presoak, 12*mins), bathFor(Wash, 40*mins).into(Hangers))
	r.Film.WetLimit.ByVessel = map[Vessel]Elapsed{Tray: 24 * mins, Hangers: 60 * mins}
	p := resolved(t, r, Conditions{})
	// 12 of 24 minutes are a half; the other half is 30 of 60 in hangers.
	if at := p.Wet.LimitAt; at == nil || *at != 42*mins {
		t.Errorf("limit at %v; expected 42:00", at)
	}
	expectInstants(t, "alarm", of(p.Cues, CueWetLimit, ""), 42*60)
}

// Beyond the end: as if the last wet bath went on. Drying is no bath.
func TestLimitBeyondTheEnd(t *testing.T) {
	r := recipeOf(Tray, 1, bathFor(Presoak, 12*mins), bathFor(Wash, 10*mins).into(Hangers), bathFor(Other, 60*mins).outsideWet())
	r.Film.WetLimit.ByVessel = map[Vessel]Elapsed{Tray: 24 * mins, Hangers: 60 * mins}
	if at := resolved(t, r, Conditions{}).Wet.LimitAt; at == nil || *at != 42*mins {
		t.Errorf("limit at %v; expected 42:00", at)
	}
	r.Film.WetLimit = WetLimit{}
	if at := resolved(t, r, Conditions{}).Wet.LimitAt; at != nil {
		t.Errorf("limit at %v where none is known", *at)
	}
}

// The moment that a running session shows is that of its alarm, whatever is done, if
// nothing more is done.
func TestTheLimitShownIsWhereTheAlarmComes(t *testing.T) {
	compared := 0
	rapid.Check(t, func(r *rapid.T) {
		p := anyPlan(r)
		n, now := begun(t, p, 0), Elapsed(0)
		for _, a := range anyCommands(r) {
			now += a.after
			n.do(a.c, now)
			if n.s.Over() != "" || n.s.passed != Never {
				return
			}
			m := session{s: n.s}
			shown := m.s.Look(now).Wet.LimitAt
			m.do(Wake{}, now+30*mins)
			overrun := len(only(m.events, Overran)) > 0 // it changes what is to come
			for _, e := range only(m.events, WetPassed) {
				if compared++; !overrun && (shown == nil || !near(*shown, e.At)) {
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
func lostTest(t *testing.T, limit Elapsed) *session {
	t.Helper()
	r := recipeOf(Hangers, 3, bathFor(Presoak, 2*mins), bathFor(Develop, 8*mins), bathFor(Fix, 5*mins), bathFor(Wash, 10*mins).sparing(5*mins))
	r.Film.WetLimit.All = limit
	n := begun(t, resolved(t, r, Conditions{}), 0)
	n.do(Wake{}, 3*mins)
	return n
}

// What lies in water is lost: its wet time is told, and is nobody's limit any more.
func TestALostSheetIsNotTheSessions(t *testing.T) {
	n := lostTest(t, 30*mins)
	n.do(MoveOn{}, 3*mins) // all into the fixer; sheet 2 was still in the developer
	n.do(Late{Sheet: 2}, 3*mins+sec)
	n.do(Undo{}, 3*mins+2*sec)
	n.do(Aside{Sheet: 2}, 4*mins)
	n.do(Hold{}, 5*mins)
	n.do(Wake{}, 9*mins)
	l := n.s.Look(9 * mins)
	if l.Worst == 1 || !l.Sheets[1].Aside || l.Sheets[1].Wet != 9*mins {
		t.Errorf("the worst is sheet %d, sheet 2 %+v", l.Worst+1, l.Sheets[1])
	}
	if l.Wet.LimitAt == nil || *l.Wet.LimitAt != 30*mins {
		t.Errorf("limit at %v; expected 30:00", l.Wet.LimitAt)
	}
}

// Only a lost sheet is over its limit: no alarm, no share, no advice for it.
func TestALostSheetRaisesNoAlarm(t *testing.T) {
	r := recipeOf(Tray, 2, bathFor(Presoak, mins).shuffled(), bathFor(Wash, 20*mins).into(Hangers))
	r.Film.WetLimit.ByVessel = map[Vessel]Elapsed{Tray: 4 * mins, Hangers: 60 * mins}
	n := begun(t, resolved(t, r, Conditions{}), 0)
	n.do(Wake{}, 2*mins)
	n.do(Aside{Sheet: 1}, 2*mins) // water counts as the load's tray, over its 4:00 soon
	n.do(Wake{}, 15*mins)
	l := n.s.Look(15 * mins)
	if got := only(n.events, WetPassed); len(got) > 0 {
		t.Errorf("alarm at %v for a sheet that is lost", got[0].At)
	}
	if l.Sheets[0].Used <= 1 || *l.Wet.Used >= 1 || *l.Wet.Margin < 0 {
		t.Errorf("used %v of the lost sheet, %v of the session, margin %v", l.Sheets[0].Used, *l.Wet.Used, *l.Wet.Margin)
	}
	if a, ok := n.s.Advise(15 * mins); ok {
		t.Errorf("advice for what is lost: %+v", a)
	}
}
