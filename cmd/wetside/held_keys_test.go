//go:build unix

package main

// A key held down on the program itself: one press, however long, wherever it falls. The
// repeats come as the keyboards of X.org, GNOME, Plasma and the Linux console send them.

import (
	"maps"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"example.org/wetside/cmd/wetside/internal/supervisor"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/light/vtest"
	"example.org/wetside/tui/press"
)

// repeats are when a held key repeats first, and how often then: X.org's default (xset(1), r
// rate: 660 ms, 25 Hz), the defaults of GNOME's and Plasma's settings (500 ms and 30 ms; 600 ms
// and 25 Hz), and the Linux console's (kbdrate(8): 250 ms, 10.9 Hz).
var repeats = map[string][2]time.Duration{
	"X.org":   {660 * time.Millisecond, 40 * time.Millisecond},
	"GNOME":   {500 * time.Millisecond, 30 * time.Millisecond},
	"Plasma":  {600 * time.Millisecond, 40 * time.Millisecond},
	"console": {250 * time.Millisecond, 92 * time.Millisecond},
}

// holdFor is how long a key is held, and restFor how long nothing is typed then.
const (
	holdFor = 1800 * time.Millisecond
	restFor = 700 * time.Millisecond
)

// hold holds a key down. A machine that stalls in it types two touches instead: true where
// the repeats were regular.
func (s *terminal) hold(key string, k [2]time.Duration) (regular bool) {
	s.types(key)
	regular = true
	last := time.Now()
	for gap, until := k[0], last.Add(holdFor); last.Before(until); gap = k[1] {
		time.Sleep(gap)
		now := time.Now()
		regular = regular && now.Sub(last) < gap+press.Silence/2
		last = now
		s.types(key)
	}
	time.Sleep(restFor)
	return regular
}

// perKeyboard runs with the repeats of a keyboard, and again where the machine did not keep them.
// All four are held in virtual time (tui/root_test.go); on the whole program they are in the full
// run, in any other end-to-end run those whose first repeat comes last, and whose repeats are slowest.
func perKeyboard(t *testing.T, run func(s *retryable, k [2]time.Duration)) {
	chosen := []string{"GNOME"}
	switch {
	case full:
		chosen = slices.Collect(maps.Keys(repeats))
	case e2e:
		chosen = []string{"X.org", "console"}
	}
	for _, name := range chosen {
		k := repeats[name]
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			for range 10 {
				s := &retryable{T: t}
				run(s, k)
				if !s.irregular {
					for _, fault := range s.faults {
						t.Error(fault)
					}
					return
				}
			}
			t.Skip("no attempt in ten without a stall of the machine")
		})
	}
}

// retryable takes faults that do not count where the hand was not regular.
type retryable struct {
	*testing.T
	faults    []string
	irregular bool
}

func (s *retryable) wants(is bool, fault string) {
	if !is {
		s.faults = append(s.faults, fault)
	}
}

// While film is loaded, in a dark step, and when light is offered.
func TestAHeldKeyIsOneTouchInTheDark(t *testing.T) {
	t.Parallel()
	perKeyboard(t, func(r *retryable, k [2]time.Duration) {
		s := intoTheDark(r.T, emulators["256 colours"], 80, 24)
		time.Sleep(restFor)
		hold := func(key, fault string, is func() bool) {
			regular := s.hold(key, k)
			r.irregular = r.irregular || !regular
			r.wants(is(), fault)
		}
		hold(" ", "a held key began a session", func() bool { return s.record() == "" })
		hold("\x1b[6~", "a held presenter began a session", func() bool { return s.record() == "" })
		hold("\x1b", "escape held brought light", func() bool { s.mu.Lock(); defer s.mu.Unlock(); return s.front.LitCell() == "" })
		if r.irregular {
			return
		}
		s.holds()
		s.begins()
		s.until("the first dip", func() bool { return s.began() == 1 })
		time.Sleep(2 * time.Second)
		for range 2 {
			hold(" ", "a held key moved film on in the dark", func() bool { return s.began() == 1 })
			time.Sleep(2 * time.Second)
		}
		if r.irregular {
			return
		}
		s.twoTouches("the second step", func() bool { return s.began() == 2 })
		s.holds()
	})
}

// In the light a held key moves on once; in the preparation it goes one step.
func TestAHeldKeyIsOneTouchInTheLight(t *testing.T) {
	t.Parallel()
	perKeyboard(t, func(r *retryable, k [2]time.Duration) {
		recipe := orthoRecipe(r.T, sequence.White, sequence.White, sequence.White, sequence.White)
		s := wetsideWith(r.T, modernTerminal, emulators["256 colours"].env, "run", recipe, "--sound", "off", "--countdown", "1s")
		s.seen("the plan", func(g *vtest.Terminal) bool { return g.Alternate() && strings.TrimSpace(all(g)) != "" })
		s.types("\r")
		s.seen("the preparation", showing("Prepare:"))
		s.types("y") // to so long a session
		regular := s.hold(" ", k)
		s.until("the first step", func() bool { return s.began() > 0 })
		regular = s.hold(" ", k) && regular
		r.irregular = !regular
		r.wants(s.began() == 2, "a held key moved on more than once, or not at all")
	})
}

// On the black screen of a supervisor whose screens have gone.
func TestAHeldKeyIsOneTouchForTheSupervisor(t *testing.T) {
	t.Parallel()
	perKeyboard(t, func(r *retryable, k [2]time.Duration) {
		s := probeAt(r.T, 40, 12, modernTerminal, "")
		child := s.darken()
		syscall.Kill(child, syscall.SIGKILL)
		s.until("the child's end", func() bool { return syscall.Kill(child, 0) != nil })
		time.Sleep(2 * supervisor.IgnoreTypedFor)
		for _, key := range []string{" ", "\r", "\x1b[6~"} {
			regular := s.hold(key, k)
			r.irregular = r.irregular || !regular
			select {
			case <-s.ended:
				r.wants(false, "light by a held key")
				return
			case <-time.After(2 * time.Second):
			}
		}
		s.types("\r") // one touch of Enter
		time.Sleep(3 * time.Second)
		s.holds()
		s.enter()
	})
}

// Where the terminal tells releases, a key held for ever is one press, and two touches are
// two without a silence behind them.
func TestATerminalThatTellsReleasesIsAsked(t *testing.T) {
	t.Parallel()
	kind := modernTerminal
	kind.TellsKeys = true
	s := intoTheDarkTelling(t, kind)
	s.types("\x1b[32;1:1u")
	for range 30 {
		time.Sleep(30 * time.Millisecond)
		s.types("\x1b[32;1:2u")
	}
	time.Sleep(time.Second)
	s.types("\x1b[32;1:3u")
	time.Sleep(3 * time.Second)
	if s.record() != "" {
		t.Error("a held key began a session")
	}
	s.until("the session", func() bool {
		for range 2 {
			s.types("\x1b[32;1:1u\x1b[32;1:3u")
			time.Sleep(touchGap)
		}
		time.Sleep(2 * time.Second)
		return strings.Contains(s.record(), `"session-began"`)
	})
	s.holds()
}

// intoTheDarkTelling is intoTheDark with keys as such a terminal sends them.
func intoTheDarkTelling(t *testing.T, kind vtest.Behaviour) *terminal {
	s := wetsideWith(t, kind, emulators["256 colours"].env, "run", "tern-hangers", "--sound", "off")
	s.seen("that keys are told", func(g *vtest.Terminal) bool { return g.KeyFlags&2 != 0 })
	s.seen("the plan", func(g *vtest.Terminal) bool { return g.Alternate() && strings.TrimSpace(all(g)) != "" })
	s.types("\x1b[13;1:1u\x1b[13;1:3u")
	s.seen("the preparation", showing("Prepare:"))
	for _, key := range []string{"121", "99", "121", "121"} { // y c y y
		s.types("\x1b[" + key + ";1:1u\x1b[" + key + ";1:3u")
	}
	s.until("black", func() bool {
		s.types("\x1b[32;1:1u\x1b[32;1:3u")
		time.Sleep(touchGap)
		s.mu.Lock()
		defer s.mu.Unlock()
		return s.front.LitCell() == ""
	})
	s.allow(sequence.Dark)
	time.Sleep(3 * time.Second)
	return s
}
