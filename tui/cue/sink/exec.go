package sink

// The sink for any Unix that has a program which plays raw frames from its
// standard input. The pipe to it is kept small, since everything in it is heard
// late; the latency is an estimate from the sizes that the program was told.

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"sync"
	"time"
)

const (
	pipeBytes   = 4096
	execFrames  = pipeBytes / frameBytes / 2
	startupTime = 300 * time.Millisecond // a player that ends within it does not work
	execAhead   = 200 * time.Millisecond // more than the latency: the player only swallows
)

// command is a program that plays, and the time between its input and the ear.
type command struct {
	name    string
	args    []string
	latency time.Duration
}

var commands = []command{
	{"pacat", []string{"--playback", "--raw", "--rate=44100", "--channels=2", "--format=s16le", "--latency-msec=50"},
		50 * time.Millisecond},
	{"pw-cat", []string{"-p", "--rate", "44100", "--channels", "2", "--format", "s16", "--latency", "20ms", "-"},
		20 * time.Millisecond},
	{"aplay", []string{"-q", "-t", "raw", "-r", "44100", "-c", "2", "-f", "S16_LE", "--buffer-time=80000"},
		80 * time.Millisecond},
}

// player is a running program.
type player struct {
	command
	process *exec.Cmd
	in      *os.File
	stderr  *stderrTail
	ended   chan struct{} // closed when it has
}

// startPlayer starts the first program that is installed and goes on.
func startPlayer(quit <-chan struct{}) (*player, error) {
	var reasons []string
	for _, c := range commands {
		path, err := exec.LookPath(c.name)
		if err != nil {
			continue
		}
		p, err := start(c, path)
		if err == nil {
			err = p.awaitStart(quit)
		}
		if err == nil {
			return p, nil
		}
		reasons = append(reasons, c.name+": "+err.Error())
	}
	if reasons == nil {
		return nil, errors.New("none of pacat, pw-cat, aplay is installed")
	}
	return nil, errors.New(strings.Join(reasons, "; "))
}

func start(c command, path string) (*player, error) {
	out, in, err := os.Pipe()
	if err != nil {
		return nil, err
	}
	shrinkPipe(in)
	p := &player{command: c, process: exec.Command(path, c.args...), in: in, stderr: &stderrTail{}, ended: make(chan struct{})}
	p.process.Stdin, p.process.Stderr = out, p.stderr
	detach(p.process)
	err = p.process.Start()
	out.Close()
	if err != nil {
		in.Close()
		return nil, err
	}
	go func() {
		p.process.Wait()
		close(p.ended)
	}()
	return p, nil
}

// awaitStart waits out the probation; it errs where the program ends in it.
func (p *player) awaitStart(quit <-chan struct{}) error {
	timer := time.NewTimer(startupTime)
	defer timer.Stop()
	select {
	case <-p.ended:
		p.in.Close()
		return p.reason()
	case <-quit:
		p.stop()
		return errors.New("closed")
	case <-timer.C:
		return nil
	}
}

// reason is why the program ended, in its own words where it had any.
func (p *player) reason() error {
	if words := p.stderr.line(); words != "" {
		return errors.New(words)
	}
	return fmt.Errorf("ended by itself: %v", p.process.ProcessState)
}

// stop ends the program at once.
func (p *player) stop() {
	p.process.Process.Kill()
	p.in.Close()
	<-p.ended
}

// stderrTail keeps the last line that a program wrote.
type stderrTail struct {
	mu   sync.Mutex
	last []byte
}

func (t *stderrTail) Write(b []byte) (int, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.last = append(t.last, b...)
	t.last = bytes.Clone(t.last[max(0, len(t.last)-512):])
	return len(b), nil
}

// line is printable ASCII alone: it is shown on a terminal.
func (t *stderrTail) line() string {
	t.mu.Lock()
	defer t.mu.Unlock()
	lines := strings.Split(strings.TrimSpace(string(t.last)), "\n")
	return strings.Map(func(r rune) rune {
		if r < ' ' || r > '~' {
			return '?'
		}
		return r
	}, lines[len(lines)-1])
}
