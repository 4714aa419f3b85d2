// Package drive works a screen in tests as a person would: by its keys, looking at what it
// shows. Start with On.
package drive

import (
	"fmt"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/widget"
)

// Desk is a screen being worked.
type Desk struct {
	T       testing.TB
	Screen  screen.Screen
	Actions []screen.Action // asked for since the last Asked
	pending []tea.Cmd
	wait    time.Duration // for a command of a Live one
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

// Live is On for a screen whose commands are carried out as soon as they are asked for; what takes
// longer than wait is a tick, and not waited for.
func Live(t testing.TB, s screen.Screen, wait time.Duration) *Desk {
	d := On(t, s)
	d.wait = wait
	return d.Done()
}

// Size is another body.
func (d *Desk) Size(w, h int) *Desk {
	d.w, d.h = w, h
	if s, ok := d.Screen.(screen.Sized); ok {
		d.Screen = s.Sized(w, h)
	}
	return d
}

// Press presses keys, by bubbletea's names; what is no name of one is typed.
func (d *Desk) Press(keys ...string) *Desk {
	for _, k := range keys {
		if _, named := special[k]; named {
			d.Send(Key(k))
		} else {
			d.Type(k)
		}
	}
	return d
}

// Type types a text, character by character.
func (d *Desk) Type(s string) *Desk {
	for _, r := range s {
		d.Send(Key(string(r)))
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
	if d.wait > 0 {
		d.Done()
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
		msg := d.answer(cmd)
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

// answer is what a command comes to; nil for a tick that is not waited for.
func (d *Desk) answer(cmd tea.Cmd) tea.Msg {
	if d.wait == 0 {
		return cmd()
	}
	answer := make(chan tea.Msg, 1)
	go func() { answer <- cmd() }()
	select {
	case msg := <-answer:
		return msg
	case <-time.After(d.wait):
		return nil
	}
}

// Last is what was asked for last; nil for nothing.
func (d *Desk) Last() screen.Action {
	if len(d.Actions) == 0 {
		return nil
	}
	return d.Actions[len(d.Actions)-1]
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

// View is a body of that size, without colours.
func (d *Desk) View(w, h int) string { return ansi.Strip(d.Screen.View(w, h)) }

// Text is what is shown, without colours.
func (d *Desk) Text() string { return d.View(d.w, d.h) }

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
	Picture(d.T, name, d.Screen, d.w, d.h)
	return d
}

// Fits expects no row wider and not more rows than there is room for, in all sizes of a body
// down to the least, and in each of them the marks that are named.
func (d *Desk) Fits(marks ...string) *Desk {
	d.T.Helper()
	d.everySize(8, 4, func(_, _ int, view string) string {
		for _, m := range marks {
			if !strings.Contains(view, m) {
				return fmt.Sprintf("no %q", m)
			}
		}
		return ""
	})
	if n := len(d.Screen.About().Foot); n > 6 {
		d.T.Errorf("%d keys at the foot", n)
	}
	return d
}

// FitsAnd is Fits, in more sizes, with what check says against each body.
func (d *Desk) FitsAnd(check func(w, h int, view string) string) {
	d.T.Helper()
	d.everySize(7, 3, check)
}

func (d *Desk) everySize(columns, rows int, check func(w, h int, view string) string) {
	d.T.Helper()
	for w := 36; w <= 196; w += columns {
		for h := 8; h <= 56; h += rows {
			view := d.View(w, h)
			why := check(w, h, view)
			if n := strings.Count(view, "\n") + 1; n > h {
				why = fmt.Sprintf("%d rows", n)
			}
			if n := widget.Width(view); n > w {
				why = fmt.Sprintf("a row of %d columns", n)
			}
			if why != "" {
				d.T.Fatalf("%T, %dx%d: %s\n%s", d.Screen, w, h, why, view)
			}
		}
	}
}
