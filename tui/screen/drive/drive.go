// Package drive works a screen in tests as a person would: by its keys, looking at what it
// shows. Start with On.
package drive

import (
	"flag"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"example.org/wetside/tui/light/lighttest"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/widget"
)

var update = flag.Bool("update", false, "write the pictures anew")

// Desk is a screen being worked.
type Desk struct {
	T       testing.TB
	Screen  screen.Screen
	Actions []screen.Action // asked for since the last Asked
	pending []tea.Cmd
	w, h    int
}

// On works a screen in a body of 76x18, which a window of 80x24 leaves.
func On(t testing.TB, s screen.Screen) *Desk {
	d := (&Desk{T: t, Screen: s}).Size(76, 18)
	if s, ok := s.(screen.Started); ok {
		d.pending = append(d.pending, s.Start())
	}
	return d
}

// Size is another body.
func (d *Desk) Size(w, h int) *Desk {
	d.w, d.h = w, h
	if s, ok := d.Screen.(screen.Sized); ok {
		d.Screen = s.Sized(w, h)
	}
	return d
}

var named = map[string]tea.KeyType{"up": tea.KeyUp, "down": tea.KeyDown, "left": tea.KeyLeft, "right": tea.KeyRight,
	"enter": tea.KeyEnter, "esc": tea.KeyEsc, "tab": tea.KeyTab, "shift+tab": tea.KeyShiftTab, "backspace": tea.KeyBackspace,
	"pgup": tea.KeyPgUp, "pgdown": tea.KeyPgDown, "home": tea.KeyHome, "end": tea.KeyEnd, "ctrl+u": tea.KeyCtrlU, "space": tea.KeySpace}

// Press presses keys, by bubbletea's names.
func (d *Desk) Press(keys ...string) *Desk {
	for _, k := range keys {
		if t, ok := named[k]; ok {
			d.Send(tea.KeyMsg{Type: t})
			continue
		}
		d.Send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(k)})
	}
	return d
}

// Type types a text, character by character.
func (d *Desk) Type(s string) *Desk {
	for _, r := range s {
		d.Press(string(r))
	}
	return d
}

// Send gives the screen a message.
func (d *Desk) Send(msg tea.Msg) *Desk {
	s, a, cmd := d.Screen.Update(msg)
	d.Screen = s
	if a != nil {
		d.Actions = append(d.Actions, a)
	}
	if cmd != nil {
		d.pending = append(d.pending, cmd)
	}
	return d
}

// Pending takes away what was to be carried out, in the order in which it was asked for.
func (d *Desk) Pending() []tea.Cmd {
	list := d.pending
	d.pending = nil
	return list
}

// Done carries out all that is pending, and what follows from it.
func (d *Desk) Done() *Desk {
	for len(d.pending) > 0 {
		cmd := d.pending[0]
		d.pending = d.pending[1:]
		if cmd == nil {
			continue
		}
		msg := cmd()
		if batch, ok := msg.(tea.BatchMsg); ok {
			d.pending = append(d.pending, batch...)
			continue
		}
		if msg != nil {
			d.Send(msg)
		}
	}
	return d
}

// Asked is the last action asked for of the type of T; it fails where there was none.
func Asked[T screen.Action](d *Desk) T {
	d.T.Helper()
	list := d.Actions
	d.Actions = nil
	for i := len(list) - 1; i >= 0; i-- {
		if several, ok := list[i].(screen.Several); ok {
			list = append(list[:i:i], several...)
			i = len(list)
			continue
		}
		if a, ok := list[i].(T); ok {
			return a
		}
	}
	var none T
	d.T.Fatalf("no %T was asked for, but %+v", none, list)
	return none
}

// Says expects a message at the foot, by a part of it.
func (d *Desk) Says(part string) *Desk {
	d.T.Helper()
	if m := Asked[screen.Message](d); !strings.Contains(m.Text, part) {
		d.T.Fatalf("%q is said; expected %q in it", m.Text, part)
	}
	return d
}

// Text is what is shown, without colours.
func (d *Desk) Text() string { return ansi.Strip(d.Screen.View(d.w, d.h)) }

// Shows expects a text.
func (d *Desk) Shows(part string) *Desk {
	d.T.Helper()
	if s := d.Text(); !strings.Contains(s, part) {
		d.T.Fatalf("%q is not shown:\n%s", part, s)
	}
	return d
}

// Hides expects a text not to be there.
func (d *Desk) Hides(part string) *Desk {
	d.T.Helper()
	if s := d.Text(); strings.Contains(s, part) {
		d.T.Fatalf("%q is shown:\n%s", part, s)
	}
	return d
}

// Golden compares the picture with testdata/NAME.txt, and looks at it by every light.
func (d *Desk) Golden(name string) *Desk {
	d.T.Helper()
	lighttest.Every(d.T, d.Screen.View(d.w, d.h), d.w, d.h)
	path := filepath.Join("testdata", name+".txt")
	var rows []string
	for row := range strings.SplitSeq(d.Text(), "\n") {
		rows = append(rows, strings.TrimRight(row, " "))
	}
	got := strings.Join(rows, "\n") + "\n"
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			d.T.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			d.T.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		d.T.Fatal(err)
	}
	if got != string(want) {
		d.T.Errorf("%s has changed (-update writes it anew):\n%s", path, got)
	}
	return d
}

// Fits expects no row wider and not more rows than there is room for, in all sizes of a body
// down to the least, and in each of them the marks that are named.
func (d *Desk) Fits(marks ...string) *Desk {
	d.T.Helper()
	for w := 36; w <= 196; w += 8 {
		for h := 8; h <= 56; h += 4 {
			view := d.Screen.View(w, h)
			rows := strings.Split(view, "\n")
			if len(rows) > h {
				d.T.Fatalf("%s, %dx%d: %d rows\n%s", reflect.TypeOf(d.Screen), w, h, len(rows), ansi.Strip(view))
			}
			for _, r := range rows {
				if widget.Width(r) > w {
					d.T.Fatalf("%s, %dx%d: %d columns in %q", reflect.TypeOf(d.Screen), w, h, widget.Width(r), ansi.Strip(r))
				}
			}
			for _, m := range marks {
				if !strings.Contains(ansi.Strip(view), m) {
					d.T.Fatalf("%s, %dx%d: no %q\n%s", reflect.TypeOf(d.Screen), w, h, m, ansi.Strip(view))
				}
			}
		}
	}
	if n := len(d.Screen.About().Foot); n > 6 {
		d.T.Errorf("%d keys at the foot", n)
	}
	return d
}
