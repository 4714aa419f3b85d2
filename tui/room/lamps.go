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
	backlight = "backlight"
	leds      = "leds"
)

// Lamp is one of the laptop's lights, and how bright it is or was.
type Lamp struct {
	Class string // backlight or leds
	Name  string // as the kernel calls it
	Value int    // brightness, in the lamp's own steps
}

// String is how a lamp is told to the keeper: "backlight/panel=1200".
func (l Lamp) String() string { return fmt.Sprintf("%s/%s=%d", l.Class, l.Name, l.Value) }

// Panel tells whether it is the light behind the panel.
func (l Lamp) Panel() bool { return l.Class == backlight }

func (l Lamp) same(m Lamp) bool { return l.Class == m.Class && l.Name == m.Name }

// Keys tells whether it is the light under the keys. Other lamps of class leds are
// signals: charging, capitals, the radio.
func (l Lamp) Keys() bool { return l.Class == leds && strings.Contains(l.Name, "kbd_backlight") }

// ParseLamps reads lamps as String writes them, blanks between; what is none is left
// out.
func ParseLamps(text string) []Lamp {
	var list []Lamp
	for word := range strings.FieldsSeq(text) {
		name, value, _ := strings.Cut(word, "=")
		class, name, _ := strings.Cut(name, "/")
		n, err := strconv.Atoi(value)
		if l := (Lamp{class, name, n}); err == nil && n >= 0 && l.known() {
			list = append(list, l)
		}
	}
	return list
}

// known tells whether a lamp can be one of the kernel's, and be told in a word.
func (l Lamp) known() bool {
	return (l.Class == backlight || l.Class == leds) && l.Name != "" && l.Name != "." && l.Name != ".." &&
		!strings.ContainsAny(l.Name, "/= \t\r\n")
}

// Lamps lists all that there are under root, for example SysClass, as bright as they
// are now. What cannot be read is left out.
func Lamps(root string) []Lamp {
	var list []Lamp
	for _, class := range []string{backlight, leds} {
		entries, _ := os.ReadDir(filepath.Join(root, class))
		for _, e := range entries {
			l := Lamp{Class: class, Name: e.Name()}
			text, err := os.ReadFile(l.file(root))
			if err != nil || !l.known() {
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

// setTime bounds setting all of a laptop's lamps.
const setTime = 1500 * time.Millisecond

// Set makes lamps as bright as they say: through the system's session manager where
// there is one, which needs no right of its own, else by the kernel's files. It
// returns those that could be set, and why others could not.
func Set(root string, lamps []Lamp) (done []Lamp, err error) {
	if len(lamps) == 0 {
		return nil, nil
	}
	ctx, cancel := context.WithTimeout(context.Background(), setTime)
	defer cancel()
	set, leave := setter(ctx)
	defer leave()
	for _, l := range lamps {
		why := set(l)
		if why != nil {
			if file := write(l.file(root), l.Value); file != nil {
				err = fmt.Errorf("%s/%s: %s; %w", l.Class, l.Name, why, file)
				continue
			}
		}
		done = append(done, l)
	}
	return done, err
}

// write writes a number into a file that is there.
func write(name string, n int) error {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_TRUNC, 0)
	if err != nil {
		return err
	}
	defer f.Close()
	_, err = f.WriteString(strconv.Itoa(n))
	return err
}

// Glow darkens the lamps of panel and keys and puts them back, in a goroutine of its
// own: nobody waits for the session manager. What was changed is told first, so that
// somebody who lives longer can put it back.
type Glow struct {
	root string
	tell func([]Lamp)
	wake chan struct{}
	done chan struct{}

	mu   sync.Mutex
	dark bool
	over bool
	out  []Lamp // dark now, with what they were
}

// NewGlow looks after the lamps under root. Out are those that somebody before us has
// darkened. Tell is given all that must be put back, whenever that changes.
func NewGlow(root string, out []Lamp, tell func([]Lamp)) *Glow {
	g := &Glow{root: root, tell: tell, wake: make(chan struct{}, 1), done: make(chan struct{}),
		out: out, dark: len(out) > 0}
	go g.run()
	return g
}

// Dark says whether it is to be dark. It does not wait for it.
func (g *Glow) Dark(dark bool) { g.want(func() { g.dark = dark }) }

func (g *Glow) want(change func()) {
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
func (g *Glow) Close() {
	g.want(func() { g.over = true })
	select {
	case <-g.done:
	case <-time.After(setTime + setTime/4):
	}
}

// Out lists the lamps that were darkened, as they were.
func (g *Glow) Out() []Lamp {
	g.mu.Lock()
	defer g.mu.Unlock()
	return g.out
}

func (g *Glow) run() {
	defer close(g.done)
	for range g.wake {
		g.mu.Lock()
		dark, over := g.dark, g.over
		g.mu.Unlock()
		if dark {
			g.darken()
		} else {
			g.putBack()
		}
		if over {
			return
		}
	}
}

// darken turns down what shines, unless it was turned down before: a lamp that the
// person has lit again since then is theirs.
func (g *Glow) darken() {
	if len(g.Out()) > 0 {
		return
	}
	var lit, off []Lamp
	for _, l := range Lamps(g.root) {
		if l.Value > 0 && (l.Panel() || l.Keys()) {
			lit, off = append(lit, l), append(off, Lamp{l.Class, l.Name, 0})
		}
	}
	if len(lit) == 0 {
		return
	}
	g.keep(lit)
	done, _ := Set(g.root, off)
	g.keep(slices.DeleteFunc(lit, func(l Lamp) bool { return !slices.ContainsFunc(done, l.same) }))
}

// putBack tries again next time what could not be put back.
func (g *Glow) putBack() {
	if out := g.Out(); len(out) > 0 {
		done, _ := Set(g.root, out)
		g.keep(slices.DeleteFunc(slices.Clone(out), func(l Lamp) bool { return slices.ContainsFunc(done, l.same) }))
	}
}

// keep tells what must be put back, and keeps it.
func (g *Glow) keep(out []Lamp) {
	g.mu.Lock()
	g.out = out
	g.mu.Unlock()
	g.tell(out)
}
