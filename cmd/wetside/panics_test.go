//go:build unix

package main

// Panics of wetside itself, in each of its goroutines: the screen stays black, and the
// session is taken up, or the supervisor waits. The test program, started again as wetside,
// has a clock that panics where a file says so: every part of it reads the clock. View
// alone does not; it is dressed.

import (
	"os"
	"runtime/debug"
	"strings"
	"syscall"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/screens"
	"example.org/wetside/cmd/wetside/internal/supervisor"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/tui/room"
)

// faultyClock is a clock that panics once it is read below the function that a file names.
type faultyClock struct {
	clock.Source
	file string
}

func (t faultyClock) Read() clock.Mark {
	t.spring(string(debug.Stack()))
	return t.Source.Read()
}

// spring panics where the file's word is in a text, and takes the word away.
func (t faultyClock) spring(text string) {
	where, err := os.ReadFile(t.file)
	if err != nil || len(where) == 0 || !strings.Contains(text, string(where)) {
		return
	}
	os.Remove(t.file)
	panic(slowPanic("the fault that was asked for in " + string(where)))
}

// slowPanic is a panic on which the process takes its time to die: Go runs what the panicking
// function deferred, then asks for the text, and only then stops everybody else. Whoever
// was woken up by what was deferred has long done what he was waiting to do.
type slowPanic string

func (s slowPanic) Error() string {
	time.Sleep(500 * time.Millisecond)
	return string(s)
}

// panickingView is screens whose View panics.
type panickingView struct {
	tea.Model
	trap faultyClock
}

func (b panickingView) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	next, cmd := b.Model.Update(msg)
	b.Model = next
	return b, cmd
}

func (b panickingView) View() string {
	b.trap.spring("View")
	return b.Model.View()
}

// faulty is the program with that clock and those screens.
func faulty(file string) *app.Env {
	t := faultyClock{clock.System(), file}
	screens.WrapModel = func(m tea.Model) tea.Model { return panickingView{m, t} }
	return &app.Env{In: os.Stdin, Out: os.Stdout, Err: os.Stderr, Clock: t, Signals: app.EndSignals, StartAwake: room.KeepAwake}
}

// faultAt names a place, whole or not at all.
func faultAt(t *testing.T, file, where string) {
	t.Helper()
	if err := os.WriteFile(file+".new", []byte(where), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(file+".new", file); err != nil {
		t.Fatal(err)
	}
}

func TestPanicsOfWetsideStayDark(t *testing.T) {
	t.Parallel()
	places := []struct{ name, where, key string }{
		{"Update", "tui.Model.Update", ""},
		{"View", "View", "m"},
		{"the engine's loop", "live.(*loop).run", ""},
		{"the sound's loop", "cue/sink.(*puller).run", ""},
	}
	if !e2e {
		places = places[:3]
	}
	for _, c := range places {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			file := t.TempDir() + "/fault"
			s := begunInTheDark(t, file)
			child := s.screensOf()
			faultAt(t, file, c.where)
			s.until("the fault", func() bool {
				s.types(c.key)
				time.Sleep(100 * time.Millisecond)
				_, err := os.Stat(file)
				return err != nil
			})
			s.until("the session taken up", func() bool { return strings.Contains(s.record(), `"event":"resumed"`) })
			if s.screensOf() == child {
				t.Error("the screens live on")
			}
			s.inTheDark(7)
			s.logged(c.where)
			s.holds()
		})
	}
}

// begunInTheDark is a session in the dark whose program has a fault's file.
func begunInTheDark(t *testing.T, file string) *terminal {
	t.Helper()
	s := intoTheDark(t, emulator{kind: modernTerminal}, 80, 24, probeFault+"="+file)
	s.begins()
	return s
}

// logged wants the panic in the log, where the screens' standard error goes.
func (s *terminal) logged(where string) {
	s.t.Helper()
	s.until("the log", func() bool {
		log, _ := os.ReadFile(s.note + "/wetside/screens.log")
		return strings.Contains(string(log), "the fault that was asked for in "+where)
	})
}

// A command panics while film is loaded and nothing has begun: the supervisor waits.
func TestPanicWhileBeginningStaysDark(t *testing.T) {
	t.Parallel()
	file := t.TempDir() + "/fault"
	s := intoTheDark(t, emulator{kind: modernTerminal}, 80, 24, probeFault+"="+file)
	faultAt(t, file, "beginning.func")
	s.until("the fault", func() bool {
		s.bigKey()
		_, err := os.Stat(file)
		return err != nil
	})
	s.logged("beginning.func")
	s.until("the screens' end", func() bool { return len(childrenOf(s.cmd.Process.Pid)) == 0 })
	s.resize(91, 27)
	time.Sleep(2 * supervisor.IgnoreTypedFor)
	s.enter()
}

// The screens are gone, and saying so panics: the supervisor outlives it, and says it again.
func TestPanicOfTheSoundLeavesTheSupervisor(t *testing.T) {
	t.Parallel()
	file, bin := t.TempDir()+"/fault", t.TempDir()
	if err := os.WriteFile(bin+"/pacat", []byte("#!/bin/sh\necho >>\"$0.ran\"\nexec cat >/dev/null\n"), 0o700); err != nil {
		t.Fatal(err)
	}
	s := intoTheDarkWith(t, "exec", emulator{kind: modernTerminal}, 80, 24, probeFault+"="+file,
		"PATH="+bin+string(os.PathListSeparator)+os.Getenv("PATH"))
	s.until("the screens' loudspeaker", func() bool { // the second: the first was opened to see whether there is one
		ran, _ := os.ReadFile(bin + "/pacat.ran")
		return len(ran) == 2
	})
	faultAt(t, file, "(*IdleSound).open")
	syscall.Kill(s.screensOf(), syscall.SIGKILL)
	s.until("the fault", func() bool { _, err := os.Stat(file); return err != nil })
	s.logged("(*IdleSound).open")
	if e2e {
		faultAt(t, file, "(*IdleSound).open")
		s.until("a fault when it is said again", func() bool { _, err := os.Stat(file); return err != nil })
	}
	s.resize(91, 27)
	s.enter()
}

// A follower that panics is told of and started again; the screens live on.
func TestPanicOfAFollowerEndsNothing(t *testing.T) {
	t.Parallel()
	file := t.TempDir() + "/fault"
	s := begunInTheDark(t, file)
	child := s.screensOf()
	faultAt(t, file, "(*Sound).speak.func")
	s.until("the trouble told", func() bool { return strings.Contains(s.record(), "voice: panic: the fault") })
	s.inTheDark(8)
	if s.screensOf() != child {
		t.Error("the screens were started anew")
	}
}
