package main

// Too large, without an end, never read, never written: each is answered or served within a
// second, by the program as it is built.

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"golang.org/x/sys/unix"

	"example.org/wetside/sequence"
)

// answerLimit is how long an answer may take on a machine that is busy; the aim is a second,
// and what waits for somebody waits for ever.
const answerLimit = 10 * time.Second

// answers runs a command and wants it to end by itself, refusing, with a word in its error.
func (l machine) answers(word string, args ...string) {
	l.t.Helper()
	program, err := builtProgram()
	if err != nil {
		l.t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(l.t.Context(), answerLimit)
	defer cancel()
	cmd := exec.CommandContext(ctx, program, args...)
	var errs bytes.Buffer
	cmd.Dir, cmd.Env, cmd.Stderr = l.dir, append(l.env, "EDITOR=false"), &errs
	began := time.Now()
	err = cmd.Run()
	took := time.Since(began)
	switch {
	case ctx.Err() != nil:
		l.t.Errorf("%v: no answer in %v", args, answerLimit)
	case err == nil || !strings.Contains(errs.String(), word):
		l.t.Errorf("%v: %v, %.200q; expected a refusal with %q", args, err, errs.String(), word)
	case took > time.Second:
		l.t.Logf("%v: answered after %v", args, took)
	}
}

func TestFilesWithoutAnEnd(t *testing.T) {
	t.Parallel()
	l := newLaptop(t, "6s", "6s", "6s")
	pipe := l.path("pipe.toml")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Skip(err)
	}
	mute, err := os.OpenFile(l.path("pipe.toml"), os.O_RDWR, 0) // in half of them somebody has it open
	if err != nil {
		t.Fatal(err)
	}
	readers := [][]string{{"check"}, {"plan"}, {"mix"}, {"run", "--plain", "--sound", "off"}, {"curve"}, {"fit", "bath"}, {"fit", "coefficient"},
		{"fit", "reciprocity"}, {"holders", "import"}, {"new", "one", "--no-edit", "--from"}, {"film-test", "--sheets", "3"}, {"expose", "--metered", "8s"}}
	for _, state := range []string{"did not come soon", "pipe that nobody writes"} {
		for _, r := range readers {
			l.answers(state, append(r, "./pipe.toml")...)
		}
		mute.Close()
	}
	settings := filepath.Join(l.path("xdg_config_home"), "wetside")
	if err := os.MkdirAll(settings, 0o700); err != nil {
		t.Fatal(err)
	}
	if err := syscall.Mkfifo(filepath.Join(settings, "config.toml"), 0o600); err != nil {
		t.Fatal(err)
	}
	l.answers("pipe that nobody writes", "plan", "tern.toml")
	l.answers("pipe that nobody writes", "resume", "--plain")
}

func TestFilesThatAreTooLarge(t *testing.T) {
	t.Parallel()
	l := newLaptop(t, "6s", "6s", "6s")
	write := func(name, head, line string, size int) string {
		text := head + strings.Repeat(line, (size-len(head))/len(line)+1)
		if err := os.WriteFile(l.path(name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return name
	}
	const most = 1 << 20
	trial := write("trial", "", "1000,20.5\n", most+1)
	l.answers("1024 KiB", "fit", "bath", trial)
	l.answers("1024 KiB", "fit", "coefficient", trial)
	l.answers("1024 KiB", "fit", "reciprocity", write("tests", "metered,needed\n", "8,40\n", most+1))
	l.answers("1024 KiB", "curve", write("curve", "log_h,5m\n", "0.1,0.2\n", most+1))
	l.answers("1024 KiB", "holders", "import", write("holders", "holder,film\n", "1A,Tern 125\n", most+1))
	l.answers("expected", "check", "./"+write("large.toml", "", "# nothing\n", 65<<10))
	l.answers("readings", "fit", "bath", write("long", "", "1000,20.5\n", most/2))
	l.answers("tests", "fit", "reciprocity", write("many", "metered,needed\n", "8,40\n", most/2))
	l.answers("--target", "curve", "--target", "nan", "curve")
	l.answers("--target", "curve", "--target", "+Inf", "curve")
}

// A line longer than any command is passed over and said, the next one is served.
func TestALineWithoutAnEnd(t *testing.T) {
	t.Parallel()
	l := newLaptop(t, "20s", "6s", "6s")
	r := l.start(nil, "run", "tern.toml", "--plain", "--json", "--sound", "off")
	for _, size := range []int{64<<10 - 1, 64 << 10, 64<<10 + 1, 1 << 20} {
		fmt.Fprintf(r.in, "note %s\nnote after %d\n", strings.Repeat("x", size), size)
		want := fmt.Sprintf("after %d", size)
		r.until(func(e sequence.Event) bool { return e.Kind == sequence.Noted && e.Text == want })
	}
	fmt.Fprintln(r.in, "stop")
	r.finish(0)
	if n := strings.Count(r.stderr.String(), "64 KiB"); n != 4 { // with "note " before it each is over
		t.Errorf("%d of 4 long lines were told: %q", n, &r.stderr)
	}
}

// Nobody reads: commands are served, and a signal ends it.
func TestBlockedOutputAndASignal(t *testing.T) {
	t.Parallel()
	for name, bothBlocked := range map[string]bool{"output": false, "output and errors": true} {
		t.Run(name, func(t *testing.T) {
			l := newLaptop(t, "1m", "6s", "6s")
			full, write, err := os.Pipe()
			if err != nil {
				t.Fatal(err)
			}
			defer full.Close()
			fill(t, write)
			cmd := l.command(nil, "run", "tern.toml", "--plain", "--json", "--sound", "off")
			in, err := cmd.StdinPipe()
			if err != nil {
				t.Fatal(err)
			}
			cmd.Stdout = write
			if bothBlocked {
				cmd.Stderr = write
			}
			if err := cmd.Start(); err != nil {
				t.Fatal(err)
			}
			defer cmd.Process.Kill()
			write.Close()
			for range 2000 {
				fmt.Fprintln(in, "nonsense")
			}
			fmt.Fprintln(in, "note served")
			l.recorded("served")
			ended := make(chan error, 1)
			cmd.Process.Signal(syscall.SIGTERM)
			began := time.Now()
			go func() { ended <- cmd.Wait() }()
			select {
			case <-ended:
				t.Logf("ended after %v", time.Since(began))
				if got := cmd.ProcessState.ExitCode(); got != 1 {
					t.Errorf("exit status %d; expected 1", got)
				}
			case <-time.After(answerLimit):
				t.Errorf("it runs on %v after SIGTERM", answerLimit)
			}
		})
	}
}

// fill writes into a pipe until it takes no more.
func fill(t *testing.T, w *os.File) {
	t.Helper()
	fd := int(w.Fd())
	if err := unix.SetNonblock(fd, true); err != nil {
		t.Fatal(err)
	}
	for {
		if _, err := unix.Write(fd, []byte(".")); errors.Is(err, unix.EAGAIN) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
	}
	if err := unix.SetNonblock(fd, false); err != nil {
		t.Fatal(err)
	}
}

// recorded waits until a journal holds a text.
func (l machine) recorded(text string) {
	l.t.Helper()
	for until := time.Now().Add(testLimit); time.Now().Before(until); time.Sleep(10 * time.Millisecond) {
		names, _ := filepath.Glob(l.path("xdg_state_home/wetside/sessions/*.jsonl"))
		for _, name := range names {
			if data, _ := os.ReadFile(name); bytes.Contains(data, []byte(text)) {
				return
			}
		}
	}
	l.t.Fatalf("%q never reached the journal", text)
}
