package main

// In the dark, with a session that another program has, or takes up: the screen stays
// black, and it is heard why and what to do.

import (
	"bufio"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"example.org/wetside/cmd/wetside/internal/running"
	"example.org/wetside/cmd/wetside/internal/supervisor"
	"example.org/wetside/tui/cue"
	"example.org/wetside/tui/cue/sink/pulsetest"
)

// beside starts this program as another, with the same home.
func (b blindRun) beside(as string, args ...string) (said *bufio.Reader, end func()) {
	b.t.Helper()
	cmd := exec.Command("/proc/self/exe", args...)
	cmd.Env = append(b.cmd.Env, probeAs+"="+as)
	in, err := cmd.StdinPipe()
	if err != nil {
		b.t.Fatal(err)
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		b.t.Fatal(err)
	}
	if err := pulsetest.Ahead(cmd.Start); err != nil {
		b.t.Fatal(err)
	}
	ended := false
	end = func() {
		if !ended {
			ended = true
			in.Close()
			cmd.Process.Kill()
			cmd.Wait()
		}
	}
	b.t.Cleanup(end)
	return bufio.NewReader(out), end
}

// session is the name of the only one.
func (b blindRun) session() string {
	b.t.Helper()
	names, err := filepath.Glob(filepath.Join(b.note, "wetside", "sessions", "*.jsonl"))
	if err != nil || len(names) != 1 {
		b.t.Fatalf("journals %q: %v", names, err)
	}
	return strings.TrimSuffix(filepath.Base(names[0]), ".jsonl")
}

func (b blindRun) begins() {
	b.t.Helper()
	b.rest(1)
	b.terminal.begins()
	b.rest(5)
}

func TestHeldElsewhereInTheDarkIsHeard(t *testing.T) {
	server := soundServer(t)
	withRetries(t, func(a *retry) { heldElsewhereInTheDark(a, server) })
}

func heldElsewhereInTheDark(t *retry, server *pulsetest.Server) {
	stop, began := server.Record(pulsetest.Sinks[0]), time.Now()
	b := blindSession(t.T, server)
	b.begins()
	said, end := b.beside("holder", b.session())
	b.rest(0.5)
	syscall.Kill(b.screensOf(), syscall.SIGKILL)
	if line, err := said.ReadString('\n'); line != "held\n" {
		t.Fatalf("the holder says %q: %v", line, err)
	}
	cut := time.Since(began)
	b.rest(running.HandoverWait.Seconds() + 7) // it is asked for, in vain
	b.holds()
	again := time.Since(began)
	b.press(" ")
	b.rest(6)
	b.holds()
	if n := strings.Count(b.record(), `"event":"resumed"`); n != 0 {
		t.Errorf("taken up %d times while it was held", n)
	}
	end()
	b.twice() // again
	b.until("the session taken up", func() bool { return strings.Contains(b.record(), `"event":"resumed"`) })
	up := time.Since(began)
	b.rest(4)
	b.holds()
	tape := recording{t: t, samples: thinned(stop())}
	tape.within("who has it", cue.RunElsewhere().Streamer(), cut, again)
	tape.within("how to try again", spoken("begin-twice"), cut, again)
	tape.within("how light comes", spoken("escape-twice"), cut, again)
	tape.within("who has it, at a touch", cue.RunElsewhere().Streamer(), again, again+4*time.Second)
	tape.within("that it is taken up", spoken("taken-up"), up-time.Second, up+4*time.Second)
}

func TestHandedOverInTheDarkIsHeard(t *testing.T) {
	server := soundServer(t)
	withRetries(t, func(a *retry) { handedOverInTheDark(a, server) })
}

func handedOverInTheDark(t *retry, server *pulsetest.Server) {
	stop, began := server.Record(pulsetest.Sinks[0]), time.Now()
	b := blindSession(t.T, server)
	b.begins()
	cut, child := time.Since(began), b.screensOf()
	said, _ := b.beside("wetside", "resume", b.session(), "--plain", "--json", "--sound", "off")
	if line, err := said.ReadString('\n'); !strings.Contains(line, `"resumed"`) {
		t.Fatalf("the other says %q: %v", line, err)
	}
	b.until("the screens' end", func() bool { return syscall.Kill(child, 0) != nil })
	b.rest(8)
	once := time.Since(began)
	b.rest(supervisor.AnnounceEvery.Seconds() - 2)
	b.press(" ") // one touch brings no light
	b.holds()
	samples := stop()
	b.enter()
	tape := recording{t: t, samples: thinned(samples)}
	tape.within("who has it", cue.GoneElsewhere().Streamer(), cut, once)
	tape.within("how light comes", spoken("light-twice"), cut, once)
	if _, like := tape.closest(cue.GoneElsewhere().Streamer(), once.Seconds(), time.Since(began).Seconds()); like > alike {
		t.Errorf("it is said again, across what the other program sounds")
	}
}
