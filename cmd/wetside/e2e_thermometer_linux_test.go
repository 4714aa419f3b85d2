package main

// A thermometer that says what no bath does, blocks, dies or goes away, before the program
// as it is built: told within five seconds, never silently believed, and read again by
// whoever takes the session up.

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

const sensedRecipe = `title = "Tern 125, sensed"
film = { name = "Tern 125" }
load = { vessel = "hangers", sheets = 2, size = "4x5in" }
[[step]]
kind = "develop"
time = "10m"
agitate = { initial = "1s", for = "1s", every = "2s" }
temperature = { at = 20, coefficient = 2.2, range = [18, 24] }
[[step]]
kind = "fix"
time = "1m"
`

// sensed is a home with that recipe and a thermometer's file.
type sensed struct {
	machine
	file string
}

func newSensed(t *testing.T, first string) sensed {
	t.Helper()
	s := sensed{machine: newLaptop(t, "10s", "10s", "10s")}
	s.file = s.path("temp1_input")
	if err := os.WriteFile(s.path("sensed.toml"), []byte(sensedRecipe), 0o600); err != nil {
		t.Fatal(err)
	}
	if first != "" {
		s.says(first)
	}
	return s
}

// says writes the file as a careful writer does.
func (s sensed) says(text string) {
	if err := os.WriteFile(s.file+".new", []byte(text), 0o600); err != nil {
		s.t.Error(err)
	}
	if err := os.Rename(s.file+".new", s.file); err != nil {
		s.t.Error(err)
	}
}

// begins runs the recipe.
func (s sensed) begins(wrap ...string) *process {
	return s.start(wrap, "run", "sensed.toml", "--plain", "--json", "--sound", "off", "--thermometer", s.file)
}

// read is what was believed of the sensor between two moments.
func (r *process) read(from, to sequence.Elapsed) (list []chem.Celsius) {
	for _, e := range r.events {
		if e.Kind == sequence.ReadingTaken && e.Source == sequence.BySensor && e.At >= from && e.At <= to {
			list = append(list, *e.Temperature)
		}
	}
	return list
}

// told is when something about the thermometer was told after a moment, and in which words;
// events are read up to it.
func (r *process) told(after sequence.Elapsed) sequence.Event {
	r.t.Helper()
	about := func(e sequence.Event) bool {
		return e.Kind == sequence.FollowerFailed && strings.Contains(e.Text, "thermometer") && e.At >= after
	}
	if i := slices.IndexFunc(r.events, about); i >= 0 {
		return r.events[i]
	}
	return r.until(about)
}

// promptly is how late something may be told: five seconds, and what a busy machine takes.
const promptly = 5*time.Second + 700*time.Millisecond

const jumpsAt = 3200 * time.Millisecond

func TestASensorThatErrs(t *testing.T) {
	shorted := "00 00 00 00 00 00 00 00 00 : crc=00 YES\n00 00 00 00 00 00 00 00 00 t=0\n"
	for name, c := range map[string]struct{ first, then string }{
		"shorted from the start":  {shorted, shorted},
		"59 from the start":       {"59000\n", "59000\n"},
		"just powered":            {"20000\n", "85000\n"},
		"shorted on the way":      {"20000\n", shorted},
		"40 on the way":           {"20000\n", "40000\n"},
		"taken away":              {"20000\n", ""},
		"a folder in its place":   {"20000\n", "/"},
		"a pipe from the start":   {"|", "|"},
		"a pipe on the way":       {"20000\n", "|"},
		"what is no number at it": {"20000\n", "\x1b]0;warm\a"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s := newSensed(t, "")
			put := func(text string) {
				switch text {
				case "":
					os.Remove(s.file)
				case "/":
					os.Remove(s.file)
					os.Mkdir(s.file, 0o700)
				case "|":
					os.Remove(s.file)
					if err := syscall.Mkfifo(s.file, 0o600); err != nil {
						t.Error(err)
					}
				default:
					s.says(text)
				}
			}
			put(c.first)
			cause := sequence.Elapsed(0)
			r := s.begins()
			if c.first != c.then {
				cause = jumpsAt
				time.AfterFunc(jumpsAt+200*time.Millisecond-r.events[0].At, func() { put(c.then) })
			}
			e := r.told(cause)
			if e.At > cause+promptly {
				t.Errorf("told %v after it: %q", e.At-cause, e.Text)
			}
			if strings.ContainsFunc(e.Text, func(c rune) bool { return c < ' ' }) {
				t.Errorf("told %q", e.Text)
			}
			r.until(func(e sequence.Event) bool { return e.At >= cause+8*time.Second })
			for _, x := range r.read(0, cause+8*time.Second) {
				if x != 20 {
					t.Errorf("%v was believed", x)
				}
			}
		})
	}
}

// What ten readings say is used, and told.
func TestASensorThatInsists(t *testing.T) {
	t.Parallel()
	s := newSensed(t, "30000\n")
	r := s.begins()
	e := r.until(kind(sequence.ReadingTaken))
	if *e.Temperature != 30 || e.At < 8500*time.Millisecond || e.At > 12*time.Second {
		t.Errorf("%v believed at %v; expected 30 with the tenth reading", *e.Temperature, e.At)
	}
	if e := r.told(8500 * time.Millisecond); !strings.Contains(e.Text, "10 readings") {
		t.Errorf("told %q", e.Text)
	}
}

// What the person reads is what counts: a sensor that it confirms is believed at once, one
// that goes on contradicting is not.
func TestASensorThatThePersonCorrects(t *testing.T) {
	t.Parallel()
	for typed, believed := range map[string]bool{"30.5 sure": true, "20": false} {
		s := newSensed(t, "30000\n")
		r := s.begins()
		fmt.Fprintf(r.in, "temp %s\n", typed)
		r.until(func(e sequence.Event) bool { return e.Kind == sequence.ReadingTaken && e.Source == sequence.ByHand })
		if believed {
			if e := r.until(kind(sequence.ReadingTaken)); *e.Temperature != 30 || e.At > 4*time.Second {
				t.Errorf("confirmed by %s: %v at %v", typed, *e.Temperature, e.At)
			}
			continue
		}
		r.until(func(e sequence.Event) bool { return e.At > 15*time.Second })
		if list := r.read(0, sequence.Never); len(list) > 0 {
			t.Errorf("contradicted by %s: %v", typed, list)
		}
	}
}

// A writer that wrote steadily and died leaves a file that says what was.
func TestASensorWhoseWriterDied(t *testing.T) {
	t.Parallel()
	s := newSensed(t, "20000\n")
	stop := make(chan struct{})
	died := make(chan sequence.Elapsed, 1)
	r := s.begins()
	began := time.Now()
	go func() {
		for tick := time.NewTicker(500 * time.Millisecond); ; {
			select {
			case <-tick.C:
				s.says("20000\n")
			case <-stop:
				died <- time.Since(began)
				return
			}
		}
	}()
	r.until(func(e sequence.Event) bool { return e.At > 8*time.Second })
	if i := slices.IndexFunc(r.events, kind(sequence.FollowerFailed)); i >= 0 {
		t.Errorf("while it wrote: %+v", r.events[i])
	}
	close(stop)
	at := <-died
	e := r.told(at)
	if e.At > at+promptly+time.Second { // that much later it may have been looked at
		t.Errorf("told %v after it", e.At-at)
	}
	r.until(func(x sequence.Event) bool { return x.At >= e.At+5*time.Second })
	if list := r.read(e.At, sequence.Never); len(list) > 0 {
		t.Errorf("%v was believed after it", list)
	}
	s.says("20100\n")
	r.until(kind(sequence.ReadingTaken))
}

// A read that the kernel does not answer holds up nothing: strace lets each wait half a minute.
func TestASensorThatBlocks(t *testing.T) {
	t.Parallel()
	s := newSensed(t, "20000\n")
	wrap := []string{"strace", "-f", "-qq", "-o", "/dev/null", "-P", s.file, "-e", "trace=read", "-e", "inject=read:delay_enter=30000000"}
	requireTool(t, append(slices.Clone(wrap), "true")...)
	r := s.begins(wrap...)
	if e := r.told(0); e.At > promptly+time.Second {
		t.Errorf("told at %v: %q", e.At, e.Text)
	}
	fmt.Fprintln(r.in, "temp 20.5")
	if e := r.until(kind(sequence.ReadingTaken)); e.Source != sequence.ByHand || e.At > 10*time.Second {
		t.Errorf("typed beside it: %+v", e)
	}
	fmt.Fprintln(r.in, "stop")
	r.finish(0)
}

// Taken up, the session reads on, from the file that it began with or from another.
func TestTheThermometerGoesOn(t *testing.T) {
	t.Parallel()
	s := newSensed(t, "20300\n")
	r := s.start(nil, "run", "sensed.toml", "--plain", "--json", "--sound", "off", "--thermometer", "temp1_input", "--sensor-in", "jacket", "--jacket-offset", "0.5")
	s.onDisk(r.events[0])
	r.until(kind(sequence.ReadingTaken))
	r.kill()
	again := s.start(nil, "resume", "--plain", "--json", "--sound", "off")
	if e := again.until(kind(sequence.ReadingTaken)); *e.Temperature != 20.8 || e.Source != sequence.BySensor {
		t.Errorf("taken up: %+v; expected 20.3 and 0.5", e)
	}
	again.kill()
	if err := os.WriteFile(s.path("other"), []byte("20.9\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	other := s.start(nil, "resume", "--plain", "--json", "--sound", "off", "--thermometer", "other")
	if e := other.until(kind(sequence.ReadingTaken)); *e.Temperature != 20.9 {
		t.Errorf("taken up with another: %+v; expected 20.9", e)
	}
	other.kill()
}
