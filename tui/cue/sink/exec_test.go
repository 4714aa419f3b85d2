//go:build unix

package sink

import (
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"
)

// programs makes a folder of shell scripts the whole search path.
func programs(t *testing.T, scripts map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, body := range scripts {
		if err := os.WriteFile(filepath.Join(dir, name), []byte("#!/bin/sh\nPATH=/usr/bin:/bin\n"+body+"\n"), 0o700); err != nil {
			t.Fatal(err)
		}
	}
	t.Setenv("PATH", dir)
	return dir
}

// counting is a source that may be asked from elsewhere how far it is.
type counting struct {
	frames atomic.Int64
	enough chan struct{} // closed at half a second
}

func (c *counting) Pull(frames [][2]float64, _ time.Time) {
	for i := range frames {
		frames[i] = [2]float64{0.5, 0.5}
	}
	if n := c.frames.Add(int64(len(frames))); n-int64(len(frames)) < Rate/2 && n >= Rate/2 {
		close(c.enough)
	}
}

func TestExecWithoutAProgram(t *testing.T) {
	programs(t, nil)
	_, err := Open("exec", &silence{})
	if err == nil || err.Error() != "sound: exec: none of pacat, pw-cat, aplay is installed" {
		t.Errorf("error %v", err)
	}
}

func TestExecSaysWhyProgramsFail(t *testing.T) {
	programs(t, map[string]string{"pacat": "printf 'no \\033[2J server\\n' >&2; exit 1", "aplay": "exit 3"})
	_, err := Open("exec", &silence{})
	if want := "sound: exec: pacat: no ?[2J server; aplay: ended by itself: exit status 3"; err == nil || err.Error() != want {
		t.Errorf("error %v, want %s", err, want)
	}
}

// A program that swallows whatever it gets is paced by the sink; and what it got
// is what was pulled.
func TestExecFeedsTheFirstThatWorksInRealTime(t *testing.T) {
	dir := programs(t, map[string]string{"pacat": "exit 1", "aplay": "exec cat >\"$0.out\""})
	source := &counting{enough: make(chan struct{})}
	s, err := Open("exec", source)
	if err != nil {
		t.Fatal(err)
	}
	began := time.Now()
	<-source.enough
	took := time.Since(began)
	e := s.(*execSink)
	e.mu.Lock()
	least := 500*time.Millisecond - execAhead - 2*e.latency
	e.mu.Unlock()
	if took < least {
		t.Errorf("half a second of sound swallowed in %v, want %v at least", took, least)
	}
	if !s.Sounding() || !strings.HasPrefix(s.State(), "sound: exec, ") {
		t.Errorf("state %q", s.State())
	}
	s.Close()
	got, err := os.ReadFile(filepath.Join(dir, "aplay.out"))
	if err != nil || len(got) < 4*execFrames || sample(0.5) != int16(uint16(got[0])|uint16(got[1])<<8) {
		t.Errorf("the program got %d bytes: %v", len(got), err)
	}
}

func TestPatienceGrowsAndStartsAnew(t *testing.T) {
	var p backoff
	for i, want := range []time.Duration{500, 1000, 2000, 4000, 5000, 5000} {
		if got := p.next(time.Second); got != want*time.Millisecond {
			t.Errorf("wait %d is %v, want %d ms", i+1, got, want)
		}
	}
	if got := p.next(time.Minute); got != retryFirst {
		t.Errorf("after a good minute the wait is %v", got)
	}
}

func TestFollowSmoothsGulpsAndBelievesJumps(t *testing.T) {
	at := time.Now()
	if got := smoothOrigin(at, at.Add(16*time.Millisecond)).Sub(at); got != time.Millisecond {
		t.Errorf("a gulp of 16 ms moves the origin by %v, want 1 ms", got)
	}
	if got := smoothOrigin(at, at.Add(time.Second)).Sub(at); got != time.Second {
		t.Errorf("a jump of 1 s moves the origin by %v", got)
	}
}
