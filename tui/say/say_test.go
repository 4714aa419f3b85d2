package say

// The words, on recipes that are shipped; times are worked out by hand beside them.

import (
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/sessiontest"
)

func plan(t *testing.T, name string, c sequence.Conditions) *sequence.Plan {
	t.Helper()
	return sessiontest.StarterPlan(t, name, c)
}

func TestHands(t *testing.T) {
	trays, hangers := plan(t, "plover-tray", sequence.Conditions{}), plan(t, "tern-hangers", sequence.Conditions{})
	for _, c := range []struct {
		p    *sequence.Plan
		step string
		want string
	}{
		{trays, "develop", "shuffle every 10 s, drain 8 s"},
		{trays, "fix", "shuffle every 10 s, drain 5 s; light after 2:00"},
		{trays, "rinse", "in hangers, agitate continuously"},
		{trays, "wash", "10 s each minute"},
		{trays, "wetting", "stand"},
		{hangers, "develop", "first 1 min, then 10 s each minute, drain 10 s"},
		{hangers, "fix", "first 30 s, then 10 s every 30 s; light after 2:00"},
		{hangers, "stop", "agitate continuously"},
		{plan(t, "plover-tray", sequence.Conditions{Vessel: sequence.Hangers}), "stop", "agitate continuously, drain 5 s"},
	} {
		if got := Hands(c.p, c.p.StepIndex(c.step)); got != c.want {
			t.Errorf("%s: %q; expected %q", c.step, got, c.want)
		}
	}
}

// The limit of 20 min in trays is passed by what is wet there longer: a limit of 10 min.
func TestWet(t *testing.T) {
	p := plan(t, "tern-hangers", sequence.Conditions{}) // 1 + 9 + 0.5 + 5 + 0.5 + 2 + 10 + 1 min; 29 of 90 min is 32.2%
	if total, limit := Wet(p); total != "29:00" || limit != "33% of limit, 1:01:00 in hand" {
		t.Errorf("%q, %q", total, limit)
	}
	p = plan(t, "tern-hangers", sequence.Conditions{WetLimit: 20 * time.Minute}) // 29 of 20 min is 145%
	if _, limit := Wet(p); limit != "145% of limit (20:00 in hangers), 9:00 too long" || !OverLimit(p) {
		t.Errorf("%q", limit)
	}
	p.Wet.Margin = nil
	if _, limit := Wet(p); limit != "no limit known" || OverLimit(p) {
		t.Errorf("%q", limit)
	}
}

func TestDevelop(t *testing.T) {
	cold := sequence.Celsius(20)
	p := plan(t, "tern-hangers", sequence.Conditions{BathTemperature: &cold})
	if today, recipe := Develop(p, sequence.Units{}); today != "9:00" || recipe != "at "+Temperature(20, (sequence.Units{})) {
		t.Errorf("%q, %q", today, recipe)
	}
	p = plan(t, "tern-hangers", sequence.Conditions{Factor: 2})
	if today, recipe := Develop(p, sequence.Units{}); today != "18:00" || recipe != "recipe 9:00 at "+Temperature(20, (sequence.Units{})) {
		t.Errorf("%q, %q", today, recipe)
	}
}

// Of a film test the shortest and the longest time of the recipe, at its own temperature.
func TestDevelopOfAFilmTest(t *testing.T) {
	for _, name := range []string{"plover-film-test", "plover-test-together"} {
		p := plan(t, name, sequence.Conditions{})
		if today, what := Develop(p, sequence.Units{}); today != "5:00–13:00" || what != "a time for each of 4 sheets" {
			t.Errorf("%s: %q, %q", name, today, what)
		}
	}
}

func TestShort(t *testing.T) {
	for d, want := range map[time.Duration]string{0: "0 s", 10 * time.Second: "10 s", 90 * time.Second: "1 min 30 s", time.Hour: "1 h"} {
		if got := Short(d); got != want {
			t.Errorf("%v: %q; expected %q", d, got, want)
		}
	}
}

func TestSentenceEnds(t *testing.T) {
	for in, want := range map[string]string{"": "", "one short note": "One short note.", "Really?": "Really?"} {
		if got := Sentence(in); got != want {
			t.Errorf("%q: %q; expected %q", in, got, want)
		}
	}
}
