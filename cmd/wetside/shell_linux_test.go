package main

// From a shell, as everybody starts it: killed are the screens, the supervisor, or both, and
// whatever is typed then, the glass is black, and the session goes on or is taken up exactly.

import (
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/light/vtest"
)

// shellSeat is somebody before a shell whose prompt has colours.
type shellSeat struct{ *terminal }

// atAShell sits down before bash, from which wetside is started with these words.
func atAShell(t *testing.T, f emulator, words string) shellSeat {
	t.Helper()
	tools(t, "bash")
	dir := t.TempDir()
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("bash", "--norc", "--noprofile", "-i")
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), probeAs+"=wetside", "XDG_STATE_HOME="+dir, "XDG_CONFIG_HOME="+dir, "XDG_DATA_HOME="+dir,
		"XDG_RUNTIME_DIR="+filepath.Join(dir, "run"), "TERM=xterm-256color", "COLORTERM=", "HOME="+dir, "PULSE_SERVER=unix:"+filepath.Join(dir, "none"),
		`PS1=\[\033[01;32m\]kay@saltmarsh\[\033[00m\]:\[\033[01;34m\]\w\[\033[00m\]\$ `, "PATH="+filepath.Dir(exe)+":"+os.Getenv("PATH"))
	cmd.Env = append(cmd.Env, f.env...)
	s := shellSeat{startAt(t, 80, 24, f.kind, cmd)}
	s.note = dir
	s.seen("a prompt", showing("saltmarsh"))
	s.types(filepath.Base(exe) + " " + words + "\r")
	return s
}

// supervisor and screens are wetside's two processes.
func (s shellSeat) supervisor() (pid int) {
	s.t.Helper()
	s.until("the supervisor", func() bool {
		if list := childrenOf(s.cmd.Process.Pid); len(list) > 0 {
			pid = list[0]
		}
		return pid > 0
	})
	return pid
}

func (s shellSeat) screens() (pid int) {
	s.t.Helper()
	supervisor := s.supervisor()
	s.until("the screens", func() bool {
		if list := childrenOf(supervisor); len(list) > 0 {
			pid = list[0]
		}
		return pid > 0
	})
	return pid
}

// inASession goes into the dark and begins.
func (s shellSeat) inASession() {
	s.t.Helper()
	s.prepared()
	s.darkens()
	s.begins()
	s.until("the first dip", func() bool { return s.began() == 1 })
}

// kills a process and waits for its end.
func (s shellSeat) kills(pid int) {
	s.t.Helper()
	syscall.Kill(pid, syscall.SIGKILL)
	s.until("the end of a process", func() bool { return !runs(pid) })
}

// runs tells whether a process does more than wait to be waited for.
func runs(pid int) bool {
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
	return err == nil && !strings.Contains(string(text), ") Z ")
}

// blindShort is a session whose second step offers light soon.
func blindShort(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "short.toml")
	text := strings.NewReplacer("1m10s", "1h", `"10m"`, `"10h"`, `"2m"`, `"1h"`, `"12s"`, `"2s"`).Replace(blindRecipe)
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// Only the supervisor is killed: the shell has its terminal back, and yet no key lights the glass,
// none goes to the shell, and the session goes on by the same two touches, to the light, to its
// end and to the prompt.
func TestOnlyTheSupervisorIsKilledUnderAShell(t *testing.T) {
	t.Parallel()
	s := atAShell(t, emulators["256 colours"], "run "+blindShort(t)+" --sound off --countdown 1s")
	s.inASession()
	screens := s.screens()
	s.kills(s.supervisor())
	time.Sleep(time.Second)
	s.holds()
	for _, keys := range []string{"x", "\r", "\r", "\x04", "exit\r", strings.Repeat("echo lit\r", 100)} {
		s.types(keys)
		time.Sleep(300 * time.Millisecond)
		s.holds()
	}
	if !runs(screens) {
		t.Fatal("the session has ended with its supervisor")
	}
	time.Sleep(2 * time.Second)
	s.twoTouches("the second step", func() bool { return s.began() == 2 })
	s.resize(100, 30)
	time.Sleep(3 * time.Second) // light is offered
	s.holds()
	s.allow(sequence.Safelight)
	s.until("the light", func() bool {
		s.bigKey()
		s.mu.Lock()
		defer s.mu.Unlock()
		return s.front.LitCell() != ""
	})
	s.holds()
	s.types("s")
	time.Sleep(200 * time.Millisecond)
	s.types("\x1b[C")
	time.Sleep(200 * time.Millisecond)
	s.types("\r")
	s.until("the end", func() bool { return strings.Contains(s.record(), `"session-stopped"`) })
	s.seen("the summary", showing("Summary"))
	s.allow(sequence.White)
	s.until("the screens' end", func() bool {
		s.types("\x03")
		time.Sleep(300 * time.Millisecond)
		return !runs(screens)
	})
	s.types("\recho back $((40+2))\r")
	s.seen("the shell", showing("back 42"))
}

// Only the supervisor is killed, and then the screens: the shell goes on before a black glass.
func TestSupervisorThenScreensUnderAShell(t *testing.T) {
	t.Parallel()
	s := atAShell(t, emulators["256 colours"], "run "+blindShort(t)+" --sound off --countdown 1s")
	s.inASession()
	screens := s.screens()
	s.kills(s.supervisor())
	time.Sleep(300 * time.Millisecond)
	s.kills(screens)
	marker := filepath.Join(s.note, "marker")
	s.until("the shell", func() bool {
		s.types("\r: >" + marker + "\r")
		time.Sleep(300 * time.Millisecond)
		_, err := os.Stat(marker)
		return err == nil
	})
	s.holds()
}

// kills are how many there are of each kind: a share by itself, 200 where all is asked for.
func kills() (lanes, each int) {
	switch {
	case os.Getenv("WETSIDE_FULL") == "1":
		return 4, 50
	case e2e:
		return 1, 6
	}
	return 1, 1
}

// Screens, supervisor, or both are killed at any moment, from a shell, in the dark; the session goes
// on, is taken up by the supervisor, or is resumed on another terminal, and nobody has it twice.
func TestKilledUnderAShell(t *testing.T) {
	t.Parallel()
	lanes, each := kills()
	for _, who := range []string{"screens", "supervisor", "both"} {
		for lane := range lanes {
			t.Run(fmt.Sprint(who, " ", lane+1), func(t *testing.T) {
				t.Parallel()
				r := rand.New(rand.NewPCG(26, uint64(len(who)*10+lane)))
				for range each {
					killedUnderAShell(t, who, r)
				}
			})
		}
	}
}

func killedUnderAShell(t *testing.T, who string, r *rand.Rand) {
	t.Run("", func(t *testing.T) {
		s := atAShell(t, emulators["256 colours"], "run "+blindShort(t)+" --sound off --countdown 1s")
		s.inASession()
		time.Sleep(time.Duration(r.IntN(500)) * time.Millisecond)
		supervisor, screens := s.supervisor(), s.screens()
		switch who {
		case "screens":
			s.kills(screens)
			s.until("the session taken up", func() bool { return s.resumed() == 1 })
		case "supervisor":
			s.kills(supervisor)
			s.types([]string{" ", "\r", "x", "\x1b"}[r.IntN(4)])
		case "both":
			syscall.Kill(supervisor, syscall.SIGKILL)
			time.Sleep(time.Duration(r.IntN(30)) * time.Millisecond)
			s.kills(screens)
		}
		time.Sleep(300 * time.Millisecond)
		s.holds()
		had := s.resumed()
		other := s.elsewhere()
		s.until("the session resumed elsewhere", func() bool { return s.resumed() == had+1 })
		time.Sleep(500 * time.Millisecond)
		s.types("\r")
		time.Sleep(500 * time.Millisecond)
		s.holds()
		if n := s.resumed(); n != had+1 {
			t.Errorf("resumed %d times; want %d", n, had+1)
		}
		other.leave()
	})
}

// resumed is how often the session was taken up.
func (s shellSeat) resumed() int { return strings.Count(s.record(), `"event":"resumed"`) }

// elsewhere resumes the session on a second terminal.
func (s shellSeat) elsewhere() *terminal {
	s.t.Helper()
	exe, err := os.Executable()
	if err != nil {
		s.t.Fatal(err)
	}
	cmd := exec.Command(exe, "resume", "--sound", "off")
	cmd.Dir, cmd.Env = s.note, s.cmd.Env
	other := startAt(s.t, 80, 24, vtest.Behaviour{ErasesWithPen: true, SetsColours: true, Answers: true}, cmd)
	other.note = s.note
	return other
}

// A supervisor whose screens were killed so often that it rests does not take back a session that
// was resumed on another terminal meanwhile, also when that one has been killed too.
func TestResumedElsewhereIsNotTakenBack(t *testing.T) {
	for name, killed := range map[string]bool{"goes on there": false, "killed there": true} {
		t.Run(name, func(t *testing.T) {
			if !ownProcess(t) { // each: most of it is waiting
				resumedElsewhere(t, killed)
			}
		})
	}
}

func resumedElsewhere(t *testing.T, killed bool) {
	t.Setenv(probeWindow, "15s")
	s := atAShell(t, emulators["256 colours"], "run "+blindShort(t)+" --sound off --countdown 1s")
	s.inASession()
	for n := range 3 {
		s.kills(s.screens())
		s.until("the session taken up", func() bool { return s.resumed() == n+1 })
	}
	s.kills(s.screens())
	other := s.elsewhere()
	s.until("the session resumed elsewhere", func() bool { return s.resumed() == 4 })
	if killed {
		other.leave()
	}
	time.Sleep(18 * time.Second) // longer than the supervisor rests
	if strings.Contains(s.record(), `"handed-over"`) || s.resumed() != 4 {
		t.Errorf("taken back: %d times resumed", s.resumed())
	}
	s.holds()
}
