package engine

// A session for the tests, decided and applied as the loop does it.

import (
	"testing"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
)

// planOf is the plan of a recipe that must have one.
func planOf(t testing.TB, r sequence.Recipe, c sequence.Conditions) *sequence.Plan {
	t.Helper()
	p, err := planning.Resolve(r, c)
	if err != nil {
		t.Fatalf("Resolve: %v", err)
	}
	return &p
}

// session is a state and everything that it has emitted.
type session struct {
	s      State
	events []sequence.Event
	told   int // of the events, by a dialogue
}

// failing is a test, or a check of a drawn one.
type failing interface {
	Helper()
	Fatalf(string, ...any)
}

func begun(t failing, p *sequence.Plan, at sequence.Elapsed) *session {
	t.Helper()
	s, err := NewState(p)
	if err != nil {
		t.Fatalf("NewState: %v", err)
	}
	n := &session{s: s}
	n.do(sequence.Begin{ID: "saltmarsh"}, at)
	return n
}

// do decides and applies, as the loop does, and returns the new events.
func (n *session) do(c sequence.Command, now sequence.Elapsed) []sequence.Event {
	events := Decide(n.s, c, now)
	for _, e := range events {
		n.s = Apply(n.s, e)
	}
	n.events = append(n.events, events...)
	return events
}
