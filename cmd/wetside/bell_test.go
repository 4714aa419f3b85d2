//go:build unix

package main

// The bell of a terminal in the place of a sound that nobody hears.

import (
	"strings"
	"testing"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/room/glass"
)

// rang waits until the bell has rung so often.
func (s *seat) rang(least int) {
	s.t.Helper()
	s.seen("the bell", func(g *glass.Glass) bool { return g.Bells >= least })
}

func TestTheBellStandsInForSound(t *testing.T) {
	t.Parallel()
	t.Run("plain", func(t *testing.T) {
		t.Parallel()
		s := wetsideAt(t, modern, "run", "tern-hangers", "--plain", "--rehearse", "200", "--sound", "off")
		s.rang(10)
	})
	t.Run("screens", func(t *testing.T) {
		t.Parallel()
		s := wetsideAt(t, modern, "run", "tern-hangers", "--rehearse", "200", "--sound", "off")
		s.seen("the plan", (*glass.Glass).Alternate)
		s.allow(sequence.Safelight)
		s.until("a session", func() bool {
			s.types("\r")
			s.bigKey()
			s.mu.Lock()
			defer s.mu.Unlock()
			return s.front.Bells > 0
		})
		s.rang(10)
	})
	t.Run("none for scripts", func(t *testing.T) {
		t.Parallel()
		s := wetsideAt(t, modern, "run", "tern-hangers", "--plain", "--json", "--rehearse", "2000", "--sound", "off")
		s.seen("its end", func(g *glass.Glass) bool { return strings.Contains(string(s.raw), "session-done") })
		s.mu.Lock()
		defer s.mu.Unlock()
		if s.front.Bells > 0 {
			t.Errorf("%d bells among JSON", s.front.Bells)
		}
	})
}

// Where film could be open and nobody rehearses, a bell that flashes would fog it.
func TestTheBellRingsOnlyWhereNothingCanFog(t *testing.T) {
	given := sequence.Event{Kind: sequence.CueGiven, Cue: sequence.CueMove}
	for _, c := range []struct {
		event     sequence.Event
		look      sequence.Look
		rehearsal bool
		want      bool
	}{
		{given, sequence.Look{Light: sequence.Dark}, false, false},
		{given, sequence.Look{Light: sequence.Safelight}, false, false},
		{given, sequence.Look{Light: sequence.White}, false, true},
		{given, sequence.Look{Light: sequence.Dark, Lit: true}, false, true},
		{given, sequence.Look{Light: sequence.Dark}, true, true},
		{sequence.Event{Kind: sequence.CueGiven, Cue: sequence.CueTick}, sequence.Look{Light: sequence.White}, false, false},
		{sequence.Event{Kind: sequence.StepBegan}, sequence.Look{Light: sequence.White}, false, false},
	} {
		if got := rings(c.event, c.look, c.rehearsal); got != c.want {
			t.Errorf("%+v: rings %v", c, got)
		}
	}
}
