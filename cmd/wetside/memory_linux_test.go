package main

// What a session in the dark takes of the memory, with sound and voice: WETSIDE_E2E=1 for a
// minute and a half, WETSIDE_FULL=1 beside it for an hour.

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/wetside/tui/light/vtest"
)

// darkHour is an hour of hands at work, in the dark to its end.
const darkHour = `title = "Dunlin 25, an hour in the dark"
film = { name = "Dunlin 25", wet_limit = "2h" }
load = { vessel = "hangers", sheets = 4, size = "4x5in" }
[[step]]
kind = "presoak"
time = "5m"
agitate = { initial = "30s", for = "10s", every = "30s" }
[[step]]
kind = "develop"
time = "30m"
agitate = { initial = "60s", for = "10s", every = "60s" }
[[step]]
kind = "fix"
time = "45m"
agitate = { initial = "60s", for = "10s", every = "30s" }
lights_on_after = "44m"
`

// residentMB is how much of a process is in memory, in MB (VmRSS, proc(5)).
func residentMB(t *testing.T, pid int) float64 { t.Helper(); return statusMB(t, pid, "VmRSS:") }

func statusMB(t *testing.T, pid int, what string) float64 {
	t.Helper()
	text, _ := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	_, rest, _ := strings.Cut(string(text), what)
	var kB float64
	if _, err := fmt.Sscan(rest, &kB); err != nil {
		t.Fatalf("process %d: no %s %v", pid, what, err)
	}
	return kB / 1000
}

// builtOnTerminal is the program as it is installed, on a terminal of 80 columns: what tests
// bring along would be counted otherwise.
func builtOnTerminal(t *testing.T, env []string, args ...string) *terminal {
	t.Helper()
	program, err := builtProgram()
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	cmd := exec.Command(program, args...)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "XDG_STATE_HOME="+dir, "XDG_CONFIG_HOME="+dir, "XDG_DATA_HOME="+dir,
		"XDG_RUNTIME_DIR="+filepath.Join(dir, "run"), "TERM=xterm-256color", "COLORTERM=", "HOME="+dir)
	cmd.Env = append(cmd.Env, env...)
	s := startAt(t, 80, 24, modernTerminal, cmd)
	s.note = dir
	return s
}

func TestMemoryInTheDark(t *testing.T) {
	server := soundServer(t)
	recipe := filepath.Join(t.TempDir(), "hour.toml")
	if err := os.WriteFile(recipe, []byte(darkHour), 0o600); err != nil {
		t.Fatal(err)
	}
	s := builtOnTerminal(t, []string{"PULSE_SERVER=" + server.Getenv("PULSE_SERVER")}, "run", recipe, "--sound", "pulse", "--voice", "full", "--countdown", "4s")
	s.prepared()
	s.darkens()
	s.begins()
	length, every := 90*time.Second, 5*time.Second
	if full {
		length, every = time.Hour, 20*time.Second
	}
	var seen []float64
	pid := s.screensOf()
	for began := time.Now(); time.Since(began) < length; time.Sleep(every) {
		seen = append(seen, residentMB(t, pid))
		s.types(" ") // the state is spoken
	}
	s.holds()
	quarter := len(seen) / 4
	early, late := mean(seen[quarter:2*quarter]), mean(seen[len(seen)-quarter:])
	t.Logf("%v: screens %.1f MB in the second quarter, %.1f MB in the last, %.1f MB at most; supervisor %.1f MB",
		length, early, late, largest(seen), residentMB(t, s.cmd.Process.Pid))
	if most := 35.0; largest(seen) > most {
		t.Errorf("%.1f MB; expected %v at most", largest(seen), most)
	}
	if growth := 2.0; late > early+growth {
		t.Errorf("from %.1f to %.1f MB; expected at most %v more", early, late, growth)
	}
}

func mean(list []float64) (m float64) {
	for _, x := range list {
		m += x / float64(len(list))
	}
	return m
}

func largest(list []float64) (m float64) {
	for _, x := range list {
		m = max(m, x)
	}
	return m
}

// peakMB is the most that a process ever had in memory (VmHWM, proc(5)).
func peakMB(t *testing.T, pid int) float64 { t.Helper(); return statusMB(t, pid, "VmHWM:") }

// A picture, a book, the wrong window: what is pasted, with an end or without, where something
// may be typed or not, in the dark, is taken and let go, and no key of it is one.
func TestABigPasteStaysSmall(t *testing.T) {
	if !e2e {
		t.Skip("takes ten seconds; WETSIDE_E2E=1 runs it")
	}
	t.Parallel()
	size := 3 << 20
	if full {
		size = 20 << 20
	}
	keys := strings.Repeat("q ?  m\u00e9\r\n", size/10)
	for name, c := range map[string]struct{ before, end string }{
		"on the list": {"", "\x1b[201~"}, "into a field": {"N/", "\x1b[201~"}, "without an end": {"", ""}, "in the dark": {"", "\x1b[201~"},
	} {
		t.Run(name, func(t *testing.T) {
			var args []string
			if name == "in the dark" {
				args = []string{"run", "tern-hangers", "--sound", "off"}
			}
			s := builtOnTerminal(t, nil, args...)
			if args == nil {
				s.seen("the list", func(g *vtest.Terminal) bool { return g.Alternate() && strings.TrimSpace(all(g)) != "" })
			} else {
				s.prepared()
				s.darkens()
				s.begins()
			}
			if c.before != "" {
				s.types(c.before)
				s.seen("a field", showing("keep the search"))
			}
			s.seesNoKeyOf(keys, c.end, c.before != "")
			peak := peakMB(t, s.screensOf())
			t.Logf("%.1f MB at most", peak)
			if most := 60.0; peak > most {
				t.Errorf("%.1f MB; expected %v at most", peak, most)
			}
		})
	}
}

// seesNoKeyOf pastes, waits until the paste is over, and wants the screen behind as it was, by
// the same process, and no step moved on.
func (s *terminal) seesNoKeyOf(pasted, end string, field bool) {
	s.t.Helper()
	look := func() string {
		s.mu.Lock()
		defer s.mu.Unlock()
		return all(s.front)
	}
	time.Sleep(restFor) // the screen is drawn as its parts are known
	was, began, pid := look(), s.began(), s.screensOf()
	s.types("\x1b[200~")
	done := make(chan error, 1)
	go func() {
		_, err := s.master.WriteString(pasted + end)
		done <- err
	}()
	select {
	case err := <-done:
		if err != nil {
			s.t.Fatal(err)
		}
	case <-time.After(testLimit):
		s.t.Errorf("%d MB were not taken in %v", len(pasted)>>20, testLimit)
	}
	time.Sleep(restFor)
	if field { // what is typed by hand alone takes it out again
		s.seen("what was pasted, in the field", showing("q ?"))
		s.types("\x15")
		time.Sleep(restFor)
	}
	s.holds()
	if is := look(); is != was || s.began() != began || s.screensOf() != pid {
		s.t.Errorf("%d steps begun by %d, then %d by %d; before:\n%s\nafter:\n%s", began, pid, s.began(), s.screensOf(), was, is)
	}
}
