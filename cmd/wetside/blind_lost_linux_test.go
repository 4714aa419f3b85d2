package main

// A session that cannot be taken up in the dark, and one that nobody carries out any
// more: the screen stays black, and a recorded sound server was given the words.

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/faiface/beep"

	"example.org/wetside/cmd/wetside/internal/supervisor"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/cue"
	"example.org/wetside/tui/cue/sink/pulsetest"
)

// spoil changes a byte in the middle of the session's journal.
func (b blindRun) spoil() {
	b.t.Helper()
	names, err := filepath.Glob(filepath.Join(b.note, "wetside", "sessions", "*.jsonl"))
	if err != nil || len(names) != 1 {
		b.t.Fatalf("journals %q: %v", names, err)
	}
	f, err := os.OpenFile(names[0], os.O_RDWR, 0)
	if err != nil {
		b.t.Fatal(err)
	}
	defer f.Close()
	text, _ := os.ReadFile(names[0])
	if _, err := f.WriteAt([]byte("#"), int64(strings.IndexByte(string(text), '\n')+20)); err != nil {
		b.t.Fatal(err)
	}
}

// within wants a sound on the tape between two instants of its recording.
func (h recording) within(what string, s beep.Streamer, from, to time.Duration) {
	h.t.Helper()
	at, like := h.closest(s, from.Seconds()-1, to.Seconds()-1) // the recording begins a little late
	if like < alike {
		h.t.Errorf("%s is not heard: likeness %.2f at best, at %.2f s of %v to %v", what, like, at, from, to)
	}
}

func TestLostInTheDarkIsHeard(t *testing.T) {
	server := soundServer(t)
	withRetries(t, func(a *retry) { lostInTheDark(a, server) })
}

func lostInTheDark(t *retry, server *pulsetest.Server) {
	stop, began := server.Record(pulsetest.Sinks[0]), time.Now()
	b := blindSession(t.T, server)
	b.begins()
	b.spoil()
	marks := []time.Duration{time.Since(began)}
	for range supervisor.MaxRestarts { // each of them cannot take it up
		child := b.screensOf()
		syscall.Kill(child, syscall.SIGKILL)
		b.until("other screens", func() bool { now := b.screensOf(); return now != 0 && now != child })
		b.rest(5.5)
		b.holds()
		marks = append(marks, time.Since(began))
	}
	b.press(" ") // twice would try again; once says nothing that is not so
	b.rest(1)
	syscall.Kill(b.screensOf(), syscall.SIGKILL)
	b.rest(5.5) // the supervisor waits, and says so
	b.holds()
	marks = append(marks, time.Since(began))
	samples := stop()
	b.resize(97, 31)
	b.enter()
	b.mu.Lock()
	shown := string(b.raw)
	b.mu.Unlock()
	if !strings.Contains(shown, "the screens ended unexpectedly") {
		t.Error("the shell is back and says nothing")
	}
	tape := recording{t: t, samples: thinned(samples)}
	for i := range supervisor.MaxRestarts {
		tape.within(fmt.Sprint("that it cannot begin, time ", i+1), spoken("not-begun"), marks[i], marks[i+1])
		tape.within(fmt.Sprint("how light comes, time ", i+1), spoken("escape-twice"), marks[i], marks[i+1])
	}
	tape.within("that it is cut off", spoken("cut-off"), marks[supervisor.MaxRestarts], marks[supervisor.MaxRestarts+1])
	tape.within("how light comes then", cue.SessionLost(false).Streamer(), marks[supervisor.MaxRestarts], marks[supervisor.MaxRestarts+1])
}

// Escape twice brings the light back where a session could not be taken up, with why.
func TestEscapeFromASessionThatCannotBegin(t *testing.T) {
	server := soundServer(t)
	b := blindSession(t, server)
	b.begins()
	b.spoil()
	child := b.screensOf()
	syscall.Kill(child, syscall.SIGKILL)
	b.until("other screens", func() bool { now := b.screensOf(); return now != 0 && now != child })
	b.rest(3)
	lit := func() bool {
		b.mu.Lock()
		defer b.mu.Unlock()
		return strings.Contains(all(b.front), "damaged")
	}
	for try := 0; try < 8 && !lit(); try++ { // where the machine stalls, two touches come too far apart
		b.press("\x1b")
		b.rest(0.8)
		b.holds()
		b.allow(sequence.Safelight)
		b.press("\x1b")
		for range 25 {
			if !lit() {
				b.rest(0.1)
			}
		}
	}
	if !lit() {
		t.Error("two touches of escape did not bring light, and why")
	}
	b.holds()
}
