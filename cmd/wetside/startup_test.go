//go:build unix

package main

// No command asks the terminal anything before the screens do, and none waits for
// a terminal that does not answer.

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/light/vtest"
)

// wetsideAt runs wetside itself on a terminal.
func wetsideAt(t testing.TB, kind vtest.Behaviour, args ...string) *terminal {
	t.Helper()
	return wetsideWith(t, kind, nil, args...)
}

// wetsideWith is wetsideAt with more in its environment.
func wetsideWith(t testing.TB, kind vtest.Behaviour, env []string, args ...string) *terminal {
	t.Helper()
	dir := t.TempDir()
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(exe, args...)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), probeAs+"=wetside", "XDG_STATE_HOME="+dir, "XDG_CONFIG_HOME="+dir, "XDG_DATA_HOME="+dir,
		"XDG_RUNTIME_DIR="+filepath.Join(dir, "run"), "TERM=xterm-256color", "COLORTERM=", "HOME="+dir, "PULSE_SERVER=unix:"+filepath.Join(dir, "none"))
	cmd.Env = append(cmd.Env, env...)
	s := startAt(t, 80, 24, kind, cmd)
	s.note = dir
	return s
}

func TestNoCommandAsksTheTerminal(t *testing.T) {
	t.Parallel()
	lines := [][]string{{"--version"}, {"plan", "tern-hangers"}, {"nonsense"}}
	for _, c := range cli.NewRoot((&app.Env{})).Commands() {
		lines = append(lines, []string{c.Name(), "--help"})
	}
	for _, args := range lines {
		t.Run(fmt.Sprint(args), func(t *testing.T) {
			s := wetsideAt(t, vtest.Behaviour{Mute: true}, args...)
			<-s.ended
			s.until("its words", func() bool { s.mu.Lock(); defer s.mu.Unlock(); return len(s.raw) > 0 })
			s.mu.Lock()
			defer s.mu.Unlock()
			if bytes.Contains(s.raw, []byte("]11;?")) {
				t.Errorf("asked: %.60q", s.raw)
			}
		})
	}
}

// The screens open on a terminal that never answers, and ask only after they have
// taken it over.
func TestScreensOpenWithoutAnAnswer(t *testing.T) {
	s := wetsideAt(t, vtest.Behaviour{Mute: true}, []string(nil)...)
	s.seen("the screens", func(g *vtest.Terminal) bool { return strings.Contains(g.Text(0), "wetside") })
	s.mu.Lock()
	asked, begun := bytes.Index(s.raw, []byte("]11;?")), bytes.Index(s.raw, []byte("\x1b[?1049h"))
	if asked >= 0 && asked < begun || begun < 0 {
		t.Errorf("asked at byte %d, taken over at %d: %.80q", asked, begun, s.raw)
	}
	s.mu.Unlock()
	s.types("q")
	<-s.ended
}

// BenchmarkFirstFrame is from the start of the program to its first frame, on a
// terminal that answers, by the least of its runs: ms/first.
func BenchmarkFirstFrame(b *testing.B) {
	best := time.Hour
	for b.Loop() {
		began := time.Now()
		s := wetsideAt(b, modernTerminal)
		s.seen("the screens", func(g *vtest.Terminal) bool { return strings.Contains(g.Text(0), "wetside") })
		best = min(best, time.Since(began))
		b.StopTimer()
		s.types("q")
		<-s.ended
		b.StartTimer()
	}
	b.ReportMetric(float64(best.Microseconds())/1000, "ms/first")
}

// A window that is resized again and again shows the whole frame of its size each
// time, and nothing but red: the name in the first row, the keys in the last.
func TestResizedScreens(t *testing.T) {
	t.Parallel()
	_, red := redDesk(t)
	s := wetsideWith(t, modernTerminal, []string{red})
	s.seen("the screens", func(g *vtest.Terminal) bool { return strings.Contains(g.Text(0), "wetside") })
	s.allow(sequence.Safelight)
	r := rand.New(rand.NewPCG(300, 1))
	n := 60
	if e2e {
		n = 300
	}
	for range n {
		w, h := 40+r.IntN(160), 12+r.IntN(48)
		s.resize(w, h)
		s.seen(fmt.Sprintf("the screens at %dx%d", w, h), func(g *vtest.Terminal) bool {
			return strings.Contains(g.Text(0), "wetside") && strings.Contains(g.Text(h-1), "enter") && strings.Count(all(g), "wetside") == 1
		})
		s.holds()
	}
}
