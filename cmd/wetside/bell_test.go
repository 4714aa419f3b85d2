//go:build unix

package main

// The bell of a terminal in the place of a sound that nobody hears.

import (
	"strings"
	"testing"

	"example.org/wetside/tui/light/vtest"
)

// rang waits until the bell has rung so often.
func (s *terminal) rang(least int) {
	s.t.Helper()
	s.seen("the bell", func(g *vtest.Terminal) bool { return g.Bells >= least })
}

func TestTheBellStandsInForSound(t *testing.T) {
	t.Parallel()
	t.Run("plain", func(t *testing.T) {
		t.Parallel()
		s := wetsideAt(t, modernTerminal, "run", "tern-hangers", "--plain", "--rehearse", "200", "--sound", "off")
		s.rang(10)
	})
	t.Run("screens", func(t *testing.T) {
		t.Parallel()
		s := wetsideAt(t, modernTerminal, "run", "tern-hangers", "--rehearse", "200", "--sound", "off")
		s.seen("the rehearsal", showing("Rehearsal 200×")) // it begins by itself
		s.rang(10)
	})
	t.Run("none for scripts", func(t *testing.T) {
		t.Parallel()
		s := wetsideAt(t, modernTerminal, "run", "tern-hangers", "--plain", "--json", "--rehearse", "2000", "--sound", "off")
		s.seen("its end", func(g *vtest.Terminal) bool { return strings.Contains(string(s.raw), "session-done") })
		s.mu.Lock()
		defer s.mu.Unlock()
		if s.front.Bells > 0 {
			t.Errorf("%d bells among JSON", s.front.Bells)
		}
	})
}
