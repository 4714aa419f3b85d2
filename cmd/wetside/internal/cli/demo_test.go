package cli

import (
	"io"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/hometest"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/film"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/tui/page"
)

// The demo's film from a borrowed time through two tests and five sessions. It is invented, so what its page should say
// is known by hand: the slope 1.25 (1 - exp(-0.115 t)) with its toe has the average gradient 0.58 at 5.87 min, and at
// the borrowed 9:00 0.745, which the usual subject prints on grade 0.7 instead of 2.0.
//
// The intervals by hand, in logarithms of time. Borrowed: what is usual (5.92 min, a spread of 0.77) times Student's
// distribution of 0.30 about 9 min, integrated over one dimension: 8.43 (4.63 to 14.05). Dense negatives after as
// much as 9.0 min at 20 °C: times the chance that 0.65 of the logarithm's excess over 0.58, and 0.2 of the eye, pass
// ln 1.2: 6.53 (3.58 to 9.72). A test of four: sessions 5%, sheets 4% and readings 0.0218 over the growth's steepness
// of 0.6, halved by four sheets, are 0.068; with the next session's 5% 0.084, times 1.645 +-14.8%. Two tests: 0.069,
// +-12.1%. Looks that are good hardly say more. So the first test makes the interval narrower by 1 - 0.276 / 0.999, the
// second by 1 - 0.227 / 0.276.
func TestDemoStages(t *testing.T) {
	hometest.New(t)
	now := time.Date(2026, 11, 30, 12, 0, 0, 0, time.UTC)
	d := newDemoNotebook(&app.Env{Out: io.Discard, Err: io.Discard, Clock: clock.NewSimulated(func() time.Time { return now })})
	const right = 5.87
	stages := []struct {
		name             string
		tests, sessions  int
		time, wide, near float64 // minutes; the logarithm of high over low; the share within which the time is expected
		verdict, says    string
		enough           bool
	}{
		{"a borrowed time", 0, 0, 8.43, math.Log(14.05 / 4.63), 0.04, "untested", "not tested yet", false},
		{"a session with it, dense", 0, 1, 6.53, math.Log(9.72 / 3.58), 0.04, "untested", "No test yet", false},
		{"a test", 1, 1, right, 2 * 1.645 * 0.084, 0.084, "far-long", "far too long. A gradient of 0.7", false},
		{"", 0, 0, 0, 0, 0, "", "", false},
		{"a second test", 2, 2, right, 2 * 1.645 * 0.069, 0.048, "far-long", "1.3 paper grades too hard", true},
		{"five sessions", 2, 5, right, 2 * 1.645 * 0.069, 0.048, "far-long", "No more tests needed", true},
	}
	at, lay := chem.Celsius(20), d.stages()
	for i, want := range stages {
		if lay[i](); d.err != nil {
			t.Fatal(d.err)
		}
		if want.name == "" {
			continue
		}
		all := app.Films().Collect(demoFilm)
		p, err := film.Assess(&all[0], all, film.Question{Aim: 0.58, At: &at})
		if err != nil {
			t.Fatal(err)
		}
		if p.Tests != want.tests || p.Sessions != want.sessions || p.Borrowed[0].Verdict != want.verdict || p.Enough != want.enough {
			t.Errorf("%s: %d tests, %d sessions, %s, enough %v", want.name, p.Tests, p.Sessions, p.Borrowed[0].Verdict, p.Enough)
		}
		got, width := *p.Target.Time/60, math.Log(*p.Target.High / *p.Target.Low)
		if math.Abs(math.Log(got/want.time)) > want.near || math.Abs(width/want.wide-1) > 0.1 {
			t.Errorf("%s: %.2f min, %.3f wide; by hand %.2f, %.3f", want.name, got, width, want.time, want.wide)
		}
		if text := strings.Join(strings.Fields(page.Film(&p, sequence.Units{}, 100)), " "); !strings.Contains(text, want.says) {
			t.Errorf("%s: no %q in %s", want.name, want.says, text)
		}
		if assumed := slices.Contains(p.Assumed, film.AssumedGrowth); assumed != (want.tests == 0) {
			t.Errorf("%s: growth assumed %v", want.name, assumed)
		}
	}
	for id, narrower := range map[string]float64{"2026-11-16T1900": 0.72, "2026-11-23T1900": 0.18, "2026-11-27T1900": 0} {
		at := slices.IndexFunc(journal.Default().IDs(), func(s string) bool { return strings.HasPrefix(s, id) })
		if l := app.Learnt(journal.Default().IDs()[at]); l == nil || l.Narrower == nil || math.Abs(*l.Narrower-narrower) > 0.04 {
			t.Errorf("%s: learnt %+v; by hand %.2f narrower", id, l, narrower)
		}
	}
	plan, err := d.p.ResolvePlan("tern-own-time", sequence.RawConditions{Temp: "24"})
	if err != nil {
		t.Fatal(err)
	}
	// 2.2 for ten degrees: 5.87 min at 20 °C are 4.28 min at 24 °C.
	if o := film.OfferTime(app.Films().Collect(demoFilm), &plan, nil); o == nil || math.Abs(*o.Time/60/4.28-1) > 0.05 || o.Tests != 2 || o.Looks != 5 || !o.Fits() {
		t.Errorf("at 24 °C the plan is offered %+v", o)
	}
}
