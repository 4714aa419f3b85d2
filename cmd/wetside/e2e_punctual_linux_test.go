package main

// Cues come on time whatever waits: a disk that takes seconds, a terminal that
// nobody reads. What is heard is measured in a file of the session's sound.

import (
	"bytes"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/creack/pty"
	"golang.org/x/sys/unix"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
)

// punctual is how far from its plan a cue may be heard, and how late it may be told
// of: a disk or a terminal that held anybody up would do so for many seconds, and
// less is the machine's affair.
func punctual() (heard, told time.Duration) {
	if full {
		return 50 * time.Millisecond, time.Second
	}
	return time.Second, 2500 * time.Millisecond
}

// late tells how far the onsets of a file are from the cues, which began factor
// times as fast: the worst of those that stand alone, and of how many. The file
// begins before the session, so the first cue is where its onset is.
func late(t *testing.T, file string, cues []sequence.Cue, factor float64) (worst time.Duration, of int) {
	t.Helper()
	found, _ := onsets(t, file)
	for i := range cues {
		cues[i].At = time.Duration(float64(cues[i].At) / factor)
	}
	starts, free := instants(cues), int64(0)
	if len(found) == 0 || len(starts) == 0 {
		t.Fatalf("%d onsets of %d cues", len(found), len(starts))
	}
	first := starts[0].at
	for i, s := range starts {
		if i == 0 || s.at >= free+2*quiet {
			off := slices.MinFunc(distances(found, s.at-first+found[0]), func(a, b int64) int { return int(a - b) })
			worst, of = max(worst, time.Duration(off)*time.Second/rate), of+1
		}
		free = max(free, s.ends)
	}
	return worst, of
}

func distances(found []int64, at int64) []int64 {
	var list []int64
	for _, f := range found {
		list = append(list, max(f-at, at-f))
	}
	return list
}

// atLast tries three times: a busy machine may stall any process.
func atLast(t *testing.T, try func() string) {
	t.Helper()
	wrong := ""
	for range 3 {
		if wrong = try(); wrong == "" {
			return
		}
		t.Log(wrong)
	}
	t.Error(wrong)
}

// Every thread's second write to the disk takes three seconds, or in full every
// write: cues are heard, and told on standard output, on time all the same.
func TestSlowDiskDelaysNoCue(t *testing.T) {
	t.Parallel()
	inject, most := "fsync:delay_enter=3000000:when=2", "4s"
	if full {
		inject, most = "fsync:delay_enter=3000000", "20s"
	}
	requireTool(t, "strace", "-f", "-qq", "--seccomp-bpf", "-o", "/dev/null", "-e", "trace=fsync", "-e", "inject="+inject, "true")
	atLast(t, func() string {
		l := newLaptop(t, most, "2s", "2s")
		trace := l.path("trace")
		wrap := []string{"strace", "-f", "-qq", "--seccomp-bpf", "-o", trace, "-e", "trace=fsync", "-e", "inject=" + inject}
		r := l.start(wrap, "run", "tern.toml", "--plain", "--json", "--sound", "wav:"+l.path("heard.wav"), "--voice", "off")
		told, began := time.Duration(0), boottime()-r.events[0].At
		for r.next() {
			began = min(began, boottime()-r.events[len(r.events)-1].At)
			told = max(told, boottime()-r.events[len(r.events)-1].At-began)
		}
		r.finish(0)
		injected, err := os.ReadFile(trace)
		if n := bytes.Count(injected, []byte("(DELAYED)")); err != nil || n == 0 {
			t.Fatalf("%d delays were injected: %v", n, err)
		}
		cues := cuesOf(r.events)
		heard, of := late(t, l.path("heard.wav"), cues, 1)
		if h, w := punctual(); heard > h || told > w || of < 5 { // what is told comes through pipes, under strace
			return fmt.Sprintf("%d cues: heard up to %v off, told up to %v late; want %v and %v", of, heard, told, h, w)
		}
		list := l.store().List()
		if len(list) != 1 || list[0].Status != journal.Done {
			return fmt.Sprintf("kept: %+v", list)
		}
		t.Logf("%d delays; %d cues heard within %v, told within %v", bytes.Count(injected, []byte("(DELAYED)")), of, heard, told)
		return ""
	})
}

// Nobody reads the terminal for ten seconds, in full for sixty: the screens are
// stuck, the session is not.
func TestUnreadTerminalDelaysNoCue(t *testing.T) {
	t.Parallel()
	const faster = 30.0
	unread := 10 * time.Second
	if full {
		unread = time.Minute
	}
	atLast(t, func() string {
		l := newLaptop(t, "20m", "20m", "20m") // thirty times as fast: two minutes
		program, err := builtProgram()
		if err != nil {
			t.Fatal(err)
		}
		cmd := exec.Command(program, "run", "tern.toml", "--rehearse", fmt.Sprint(faster), "--sound", "wav:"+l.path("heard.wav"), "--voice", "off")
		cmd.Dir, cmd.Env = l.dir, append(l.env, "TERM=xterm-256color")
		master, err := pty.StartWithSize(cmd, &pty.Winsize{Cols: 80, Rows: 24})
		if err != nil {
			skipOrFail(t, "no terminal: "+err.Error())
		}
		defer master.Close()
		defer cmd.Process.Kill()
		shown := make([]byte, 0, 1<<20)
		reads(t, master, &shown, "Rehearsal")
		began := time.Now()
		r := rand.New(rand.NewPCG(13, 13))
		for range 100 { // frames enough to fill whatever holds them
			pty.Setsize(master, &pty.Winsize{Cols: uint16(60 + r.IntN(100)), Rows: uint16(20 + r.IntN(40))})
			time.Sleep(20 * time.Millisecond)
		}
		time.Sleep(unread - time.Since(began))
		if n := len(eventsAt(t, l)); n < 5 {
			t.Fatalf("%d events while nobody read", n)
		}
		shown = shown[:0]
		reads(t, master, &shown, "developed") // the screens go on
		cmd.Process.Signal(unix.SIGTERM)
		go io.Copy(io.Discard, master)
		cmd.Wait()
		behind, given := time.Duration(0), []sequence.Cue(nil)
		for _, r := range eventsAt(t, l) {
			if r.Event.Kind == sequence.CueGiven {
				behind = max(behind, time.Duration(float64(r.Clock.Elapsed-r.Event.At)/faster))
				given = append(given, cuesOf([]sequence.Event{r.Event})...)
			}
		}
		heard, of := late(t, l.path("heard.wav"), given, faster)
		if h, w := punctual(); heard > h || behind > w || of < 4 { // a busy machine may notice late what it has scheduled
			return fmt.Sprintf("%d cues: heard up to %v off, given up to %v late; want %v and %v", of, heard, behind, h, w)
		}
		t.Logf("%d cues heard within %v, given within %v", of, heard, behind)
		return ""
	})
}

// reads reads the terminal until a text has come.
func reads(t *testing.T, master *os.File, shown *[]byte, text string) {
	t.Helper()
	buf := make([]byte, 4096)
	for until := time.Now().Add(testLimit); !bytes.Contains(*shown, []byte(text)); {
		n, err := master.Read(buf)
		*shown = append(*shown, buf[:n]...)
		if strings.Contains(string(buf[:n]), "\x1b[c") {
			master.WriteString("\x1b[?62c")
		}
		if err != nil || time.Now().After(until) {
			t.Fatalf("%q did not come: %v", text, err)
		}
	}
}

// eventsAt are the records of the only session.
func eventsAt(t *testing.T, l machine) []journal.Record {
	t.Helper()
	names, _ := filepath.Glob(l.path("xdg_state_home/wetside/sessions/*.jsonl"))
	if len(names) != 1 {
		t.Fatalf("sessions: %q", names)
	}
	kept, err := journal.Read(names[0])
	if err != nil {
		t.Fatal(err)
	}
	return kept.Records
}
