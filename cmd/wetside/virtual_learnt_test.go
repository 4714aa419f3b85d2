package main

import (
	"slices"
	"strings"
	"testing"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/hometest"
	"example.org/wetside/sequence/film"
	"example.org/wetside/sequence/journal"
)

// After a session it is said what it taught of the film's time: nothing until the negatives were looked at, then by how
// much the interval got narrower, in the words and the JSON of its page.
func TestWhatASessionTaught(t *testing.T) {
	if ownProcess(t) {
		return
	}
	hometest.New(t)
	said := func(args ...string) string {
		t.Helper()
		s := runVirtually(t, nil, args...)
		if s.status != app.ExitOK {
			t.Fatalf("%q: status %d: %s", args, s.status, &s.err)
		}
		return strings.Join(strings.Fields(s.out.String()), " ")
	}
	if text := said("run", "curlew-tank", "--plain", "--sound", "off"); strings.Contains(text, "Film's time") {
		t.Errorf("of a film of which nothing is known: %s", text)
	}
	said("film", "Curlew 400", "--borrow", "11m", "--from", "a forum")
	if text := said("run", "curlew-tank", "--plain", "--sound", "off"); !strings.Contains(text, "Nothing is learnt until the negatives are looked at: if they look good, the interval then gets ") {
		t.Errorf("after a session: %s", text)
	}
	id := slices.Max(journal.Default().IDs())
	said("notebook", id, "--look", "good")
	l := app.Learnt(id)
	if l == nil || l.From != "look" || l.Before == nil || l.Narrower == nil || !(*l.Narrower > 0.02 && *l.Narrower < 0.5) {
		t.Fatalf("learnt %+v", l)
	}
	if text := said("notebook", id); !strings.Contains(text, "What was learnt of the film Film's time at 20 °C for a gradient of 0.58: ") || !strings.Contains(text, "narrower.") {
		t.Errorf("its page: %s", text)
	}
	if text := said("notebook", id, "--json"); !strings.Contains(text, `"from":"look"`) && !strings.Contains(text, `"from": "look"`) {
		t.Errorf("its JSON: %s", text)
	}
	all := app.Films().Collect("Curlew 400")
	p, err := film.Assess(&all[0], all, film.Question{Aim: l.AverageGradient, At: &l.Temperature})
	if err != nil || *p.Target.Time != *l.After.Time || *p.Target.Low != *l.After.Low {
		t.Errorf("the film's page has %+v, %v; the session's %+v", p.Target, err, l.After)
	}
}
