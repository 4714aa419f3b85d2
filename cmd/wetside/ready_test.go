//go:build unix

package main

// wetside ready: questions on a terminal, lamps, and lines that fit.

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/doctor"
	"example.org/wetside/cmd/wetside/internal/supervisor"
	"example.org/wetside/tui/light/vtest"
	"example.org/wetside/tui/room"
)

// readyAt opens wetside ready before somebody, with a loudspeaker that takes all.
func readyAt(t *testing.T) *terminal {
	t.Helper()
	bin := t.TempDir()
	player := "#!/bin/sh\nexec cat >/dev/null\n"
	if err := os.WriteFile(filepath.Join(bin, "pacat"), []byte(player), 0o700); err != nil {
		t.Fatal(err)
	}
	return wetsideWith(t, modernTerminal, []string{"PATH=" + bin + string(os.PathListSeparator) + os.Getenv("PATH"), "TMUX=",
		"DBUS_SYSTEM_BUS_ADDRESS=unix:path=/nonexistent/bus"}, "ready", "--sound", "exec")
}

// reads waits for words on the screen, however they are broken into lines.
func (s *terminal) reads(words string) {
	s.t.Helper()
	s.seen(words, func(g *vtest.Terminal) bool {
		return strings.Contains(strings.Join(strings.Fields(all(g)), " "), words)
	})
}

// answers types a key once what was typed before can no longer be meant.
func (s *terminal) answers(key string) {
	time.Sleep(2 * doctor.StrayKeyTime)
	s.types(key)
}

func TestReadyAsks(t *testing.T) {
	t.Parallel()
	s := readyAt(t)
	s.resize(100, 60)
	s.reads("over the water? [y/n, enter to pass]")
	s.answers("x") // no answer
	s.answers("n")
	s.reads("no heard not heard over running water")
	s.reads("Did you understand them all?")
	s.answers("n")
	s.reads("care voice words are not understood")
	s.reads("seconds of quiet")
	s.answers(" ")
	s.reads("care quiet skipped")
	s.reads("ok screen its background is black")
	s.reads("Press your switch once")
	s.answers("b")
	s.reads(`no switch "b" came: it does nothing in the dark`)
	s.reads("not ready for film")
	<-s.ended
	if status := s.cmd.ProcessState.ExitCode(); status != app.ExitFailed {
		t.Errorf("status %d", status)
	}
	s.givenBack()
}

func TestReadyKnowsTheSwitch(t *testing.T) {
	t.Parallel()
	s := readyAt(t)
	s.resize(100, 60)
	s.reads("over the water?")
	s.answers("y")
	s.reads("ok heard over running water")
	s.reads("Did you understand them all?")
	s.answers("y")
	s.reads("ok voice understood over running water; set to sparse")
	s.reads("seconds of quiet")
	s.answers("\r")
	s.reads("Press your switch once")
	s.answers("\x1b[6~")
	time.Sleep(doctor.StrayKeyTime + 50*time.Millisecond)
	s.types("\x1b[6~") // it rings
	s.reads(`ok switch "pgdown" came 2 times, which counts as one press: it is the big key`)
	<-s.ended
	s.givenBack()
}

func TestReadyCanBeLeft(t *testing.T) {
	t.Parallel()
	s := readyAt(t)
	s.reads("over the water?")
	s.answers("\x03")
	<-s.ended
	if status := s.cmd.ProcessState.ExitCode(); status != app.ExitFailed {
		t.Errorf("status %d", status)
	}
	s.mu.Lock()
	seen := string(s.raw)
	s.mu.Unlock()
	if strings.Contains(seen, "not answered, no") || strings.Contains(seen, "Press your switch") {
		t.Errorf("it went on: %q", seen)
	}
	s.givenBack()
}

func TestLampsAreTriedOut(t *testing.T) {
	root := lampsIn(t)
	want := map[string]doctor.Level{"panel": doctor.LevelCare, "key light": doctor.LevelOK, "leds": doctor.LevelCare}
	check := func(texts map[string]string) {
		t.Helper()
		for _, f := range doctor.CheckLamps(root) {
			if f.Level != want[f.Check] || !strings.Contains(f.Text, texts[f.Check]) { // "" where it does not matter
				t.Errorf("%s: %s %q; want %s, %q", f.Check, f.Level, f.Text, want[f.Check], texts[f.Check])
			}
		}
	}
	check(map[string]string{"panel": "panel goes to zero", "key light": "tpacpi::kbd_backlight goes dark", "leds": "none is known"})
	dir := filepath.Join(root, "leds", "input3::capslock")
	if err := os.MkdirAll(dir, 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "brightness"), []byte("1\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	check(map[string]string{"leds": "lit now: input3::capslock"})
	if os.Getuid() != 0 { // whom no file refuses
		os.Chmod(filepath.Join(root, "leds", "tpacpi::kbd_backlight", "brightness"), 0o400)
		want["key light"] = doctor.LevelCare
		check(map[string]string{"key light": "cannot be turned down"})
	}
	if now := supervisor.FormatLamps(room.Lamps(root)); now != "backlight/panel=1200 leds/input3::capslock=1 leds/tpacpi::kbd_backlight=2" {
		t.Errorf("trying left them at %s", now)
	}
}
