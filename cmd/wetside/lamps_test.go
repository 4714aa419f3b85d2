//go:build unix

package main

// The light behind the panel and under the keys: dark with the screen, and put back
// by whoever is left, but never before the screen may be lit.

import (
	"os"
	"path/filepath"
	"slices"
	"syscall"
	"testing"
	"time"

	"example.org/wetside/cmd/wetside/internal/supervisor"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/room"
)

const (
	lampsLit  = "backlight/panel=1200 leds/tpacpi::kbd_backlight=2"
	lampsDark = "backlight/panel=0 leds/tpacpi::kbd_backlight=0"
)

// lampsIn makes a folder of lamps, which takes the place of the computer's in what is
// started from now on, without a session manager.
func lampsIn(t *testing.T) string {
	t.Helper()
	root := t.TempDir()
	for _, l := range room.ParseLamps(lampsLit) {
		dir := filepath.Join(root, l.Class, l.Name)
		if err := os.MkdirAll(dir, 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, "brightness"), nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	t.Setenv("DBUS_SYSTEM_BUS_ADDRESS", "unix:path=/nonexistent/bus")
	if _, err := room.SetLamps(root, room.ParseLamps(lampsLit)); err != nil {
		t.Fatal(err)
	}
	t.Setenv(probeLamps, root)
	return root
}

func (s *terminal) lamps(root, want string) {
	s.t.Helper()
	s.until("the lamps "+want, func() bool { return supervisor.FormatLamps(room.Lamps(root)) == want })
}

func TestLampsOutliveTheScreens(t *testing.T) {
	if ownProcess(t) {
		return
	}
	root := lampsIn(t)
	s := intoTheDark(t, emulator{kind: modernTerminal}, 80, 24)
	s.lamps(root, lampsDark)
	syscall.Kill(s.screensOf(), syscall.SIGKILL) // before a session: nothing is taken up
	s.until("the screens' end", func() bool {
		return len(childrenOf(s.cmd.Process.Pid)) == 0
	})
	time.Sleep(supervisor.IgnoreTypedFor)
	s.lamps(root, lampsDark)
	s.enter()
	s.lamps(root, lampsLit)
}

// Screens that take over in the dark know what the lamps were before.
func TestLampsAreHandedOn(t *testing.T) {
	root := lampsIn(t)
	s := probeAt(t, 40, 12, modernTerminal, "2031-05-04T2110-plover")
	child := s.darken()
	s.lamps(root, lampsDark)
	syscall.Kill(child, syscall.SIGKILL)
	next := s.noted("started resume 2031-05-04T2110-plover")
	s.lamps(root, lampsDark)
	if next == child {
		t.Fatal("the same screens")
	}
	s.holds()
	s.allow(sequence.White)
	s.types("L")
	s.noted("light safelight")
	s.lamps(root, lampsLit)
	s.types("W")
	s.noted("light white")
	s.types("Q")
	<-s.ended
	s.lamps(root, lampsLit)
}

func TestLampsOutliveTheSupervisor(t *testing.T) {
	if ownProcess(t) {
		return
	}
	root := lampsIn(t)
	s := probeUnderAShell(t)
	child := s.darken()
	s.lamps(root, lampsDark)
	parent := parentOf(t, child)
	syscall.Kill(parent, syscall.SIGKILL)
	s.until("the supervisor's end", func() bool { return !slices.Contains(childrenOf(parent), child) }) // whoever has its number now
	s.types("Q")
	time.Sleep(2 * supervisor.IgnoreTypedFor)
	s.lamps(root, lampsDark)
	s.enter()
	s.lamps(root, lampsLit)
}
