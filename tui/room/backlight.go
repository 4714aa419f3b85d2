package room

// What else of the laptop shines: the light behind the panel and under the keys. In
// the dark both go to zero, and come back afterwards. The kernel lists them as
// folders with the files brightness and max_brightness (its documentation:
// ABI/stable/sysfs-class-backlight, ABI/testing/sysfs-class-led).

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"
)

// SysClass is where the kernel lists its lamps.
const SysClass = "/sys/class"

// The kernel's two classes of lamps.
const (
	classBacklight = "backlight"
	classLEDs      = "leds"
)

// Lamp is one of the laptop's lights, and how bright it is or was.
type Lamp struct {
	Class string // backlight or leds
	Name  string // as the kernel calls it
	Value int    // brightness, in the lamp's own steps
}

// String is how a lamp is told to the supervisor: "backlight/panel=1200".
func (l Lamp) String() string { return fmt.Sprintf("%s/%s=%d", l.Class, l.Name, l.Value) }

// IsPanel tells whether it is the light behind the panel.
func (l Lamp) IsPanel() bool { return l.Class == classBacklight }

func (l Lamp) same(m Lamp) bool { return l.Class == m.Class && l.Name == m.Name }

// IsKeyboard tells whether it is the light under the keys. Other lamps of class leds are
// signals: charging, capitals, the radio.
func (l Lamp) IsKeyboard() bool {
	return l.Class == classLEDs && strings.Contains(l.Name, "kbd_backlight")
}

// ParseLamps reads lamps as String writes them, blanks between; what is none is left
// out.
func ParseLamps(text string) []Lamp {
	var list []Lamp
	for word := range strings.FieldsSeq(text) {
		name, value, _ := strings.Cut(word, "=")
		class, name, _ := strings.Cut(name, "/")
		n, err := strconv.Atoi(value)
		if l := (Lamp{class, name, n}); err == nil && n >= 0 && l.isValid() {
			list = append(list, l)
		}
	}
	return list
}

// isValid tells whether a lamp can be one of the kernel's, and be told in a word.
func (l Lamp) isValid() bool {
	return (l.Class == classBacklight || l.Class == classLEDs) && l.Name != "" && l.Name != "." && l.Name != ".." &&
		!strings.ContainsAny(l.Name, "/= \t\r\n")
}

// Lamps lists all that there are under root, for example SysClass, as bright as they
// are now. What cannot be read is left out.
func Lamps(root string) []Lamp {
	var list []Lamp
	for _, class := range []string{classBacklight, classLEDs} {
		entries, _ := os.ReadDir(filepath.Join(root, class))
		for _, e := range entries {
			l := Lamp{Class: class, Name: e.Name()}
			text, err := os.ReadFile(l.file(root))
			if err != nil || !l.isValid() {
				continue
			}
			if l.Value, err = strconv.Atoi(strings.TrimSpace(string(text))); err == nil {
				list = append(list, l)
			}
		}
	}
	return list
}

func (l Lamp) file(root string) string { return filepath.Join(root, l.Class, l.Name, "brightness") }

// setTimeout bounds setting all of a laptop's lamps.
const setTimeout = 1500 * time.Millisecond

// SetLamps makes lamps as bright as they say: through the system's session manager where
// there is one, which needs no right of its own, else by the kernel's files. It
// returns those that could be set, and why others could not.
func SetLamps(root string, lamps []Lamp) (done []Lamp, err error) {
	if len(lamps) == 0 {
		return nil, nil
	}
	ctx, cancel := context.WithTimeout(context.Background(), setTimeout)
	defer cancel()
	set, leave := newLampSetter(ctx)
	defer leave()
	for _, l := range lamps {
		why := set(l)
		if why != nil {
			if file := writeNumber(l.file(root), l.Value); file != nil {
				err = fmt.Errorf("%s/%s: %s; %w", l.Class, l.Name, why, file)
				continue
			}
		}
		done = append(done, l)
	}
	return done, err
}

// writeNumber writes a number into a file that is there.
func writeNumber(name string, n int) error {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_TRUNC, 0)
	if err != nil {
		return err
	}
	defer f.Close()
	_, err = f.WriteString(strconv.Itoa(n))
	return err
}

// Backlight darkens the lamps of panel and keys and puts them back, in a goroutine of its
// own: nobody waits for the session manager. What was changed is told first, so that
// somebody who lives longer can put it back.
type Backlight struct {
	root     string
	onChange func([]Lamp)
	wake     chan struct{}
	done     chan struct{}

	mu      sync.Mutex
	dark    bool
	closing bool
	dimmed  []Lamp // dark now, with what they were
}

// NewBacklight looks after the lamps under root. Out are those that somebody before us has
// darkened. Tell is given all that must be put back, whenever that changes.
func NewBacklight(root string, out []Lamp, tell func([]Lamp)) *Backlight {
	g := &Backlight{root: root, onChange: tell, wake: make(chan struct{}, 1), done: make(chan struct{}),
		dimmed: out, dark: len(out) > 0}
	go g.run()
	return g
}

// Dark says whether it is to be dark. It does not wait for it.
func (g *Backlight) Dark(dark bool) { g.update(func() { g.dark = dark }) }

func (g *Backlight) update(change func()) {
	g.mu.Lock()
	change()
	g.mu.Unlock()
	select {
	case g.wake <- struct{}{}:
	default:
	}
}

// Close carries out what was asked last and waits for it, a little longer than
// setting lamps may take. Lamps that are dark stay so: Out says what they were.
func (g *Backlight) Close() {
	g.update(func() { g.closing = true })
	select {
	case <-g.done:
	case <-time.After(setTimeout + setTimeout/4):
	}
}

// Dimmed lists the lamps that were darkened, as they were.
func (g *Backlight) Dimmed() []Lamp {
	g.mu.Lock()
	defer g.mu.Unlock()
	return g.dimmed
}

func (g *Backlight) run() {
	defer close(g.done)
	for range g.wake {
		g.mu.Lock()
		dark, over := g.dark, g.closing
		g.mu.Unlock()
		if dark {
			g.dim()
		} else {
			g.restore()
		}
		if over {
			return
		}
	}
}

// dim turns down what shines, unless it was turned down before: a lamp that the
// person has lit again since then is theirs.
func (g *Backlight) dim() {
	if len(g.Dimmed()) > 0 {
		return
	}
	var lit, off []Lamp
	for _, l := range Lamps(g.root) {
		if l.Value > 0 && (l.IsPanel() || l.IsKeyboard()) {
			lit, off = append(lit, l), append(off, Lamp{l.Class, l.Name, 0})
		}
	}
	if len(lit) == 0 {
		return
	}
	g.setDimmed(lit)
	done, _ := SetLamps(g.root, off)
	g.setDimmed(slices.DeleteFunc(lit, func(l Lamp) bool { return !slices.ContainsFunc(done, l.same) }))
}

// restore tries again next time what could not be put back.
func (g *Backlight) restore() {
	if out := g.Dimmed(); len(out) > 0 {
		done, _ := SetLamps(g.root, out)
		g.setDimmed(slices.DeleteFunc(slices.Clone(out), func(l Lamp) bool { return slices.ContainsFunc(done, l.same) }))
	}
}

// setDimmed tells what must be put back, and keeps it.
func (g *Backlight) setDimmed(out []Lamp) {
	g.mu.Lock()
	g.dimmed = out
	g.mu.Unlock()
	g.onChange(out)
}
