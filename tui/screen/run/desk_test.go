package run

// A session with someone at the keys, in an injected moment: keys go the way that the root
// has them go.

import (
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/light"
	"example.org/wetside/tui/press"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/screen/runtest"
)

type desk struct {
	t                 testing.TB
	m                 Model
	s                 *runtest.Session
	now               time.Time
	big, menu, escape press.Detector
	opened            screen.Action // that leads to another screen
	message           screen.Message
	cmd               tea.Cmd
	lights            []light.Light
}

const countdown = 10 * time.Second

// at is a session of a recipe, taken in hand at its beginning; change alters what it is.
func at(t testing.TB, r sequence.Recipe, dark bool, change ...func(*runtest.Session, *screen.Env)) *desk {
	t.Helper()
	d := &desk{t: t, now: time.Date(2024, 5, 4, 21, 0, 0, 0, time.UTC)}
	clock := func() time.Time { return d.now }
	env := screen.Env{Now: clock}
	d.s = runtest.New(t, r, sequence.Conditions{}, countdown, clock)
	for _, c := range change {
		c(d.s, &env)
	}
	d.m = New(env, d.s, dark)
	d.cmd = d.m.Start()
	d.lights = []light.Light{d.m.Light()}
	return d
}

// rehearsal is in real time and keeps its light.
func rehearsal(t testing.TB, name string, change ...func(*runtest.Session, *screen.Env)) *desk {
	t.Helper()
	real := func(s *runtest.Session, _ *screen.Env) { s.Speed = 1 }
	return at(t, runtest.Recipe(t, name), false, append([]func(*runtest.Session, *screen.Env){real}, change...)...).wait(countdown)
}

// inDark is a session with film, dark, at its first sheet.
func inDark(t testing.TB, name string, change ...func(*runtest.Session, *screen.Env)) *desk {
	t.Helper()
	return at(t, runtest.Recipe(t, name), true, change...).wait(countdown)
}

// begun is a session with film in the light, at its first sheet.
func begun(t testing.TB, name string, change ...func(*runtest.Session, *screen.Env)) *desk {
	t.Helper()
	return at(t, runtest.Recipe(t, name), false, change...).wait(countdown)
}

func (d *desk) took(s screen.Screen, a screen.Action, cmd tea.Cmd) *desk {
	wasDark := d.m.dark
	d.m, d.cmd = s.(Model), cmd
	d.do(a)
	if d.m.dark != wasDark {
		d.big, d.menu, d.escape = d.big.Reset(), d.menu.Reset(), d.escape.Reset()
	}
	if l := d.m.Light(); l != d.lights[len(d.lights)-1] {
		d.lights = append(d.lights, l)
	}
	return d
}

func (d *desk) do(a screen.Action) {
	switch a := a.(type) {
	case nil:
	case screen.Several:
		for _, one := range a {
			d.do(one)
		}
	case screen.TouchSpent:
		d.big = d.big.Reset()
	case screen.Message:
		d.message = a
	default:
		d.opened = a
	}
}

// press gives keys the way the root does, each followed by silence.
func (d *desk) press(keys ...string) *desk {
	for _, name := range keys {
		k, is := d.m.env.Keys.Of(name)
		switch {
		case d.m.dark && !is:
		case d.m.dark && k == screen.BigKey:
			d.touch(k, &d.big)
		case d.m.dark && k == screen.MenuKey:
			d.big = d.big.Reset()
			d.touch(k, &d.menu)
		case d.m.dark:
			d.touch(k, &d.escape)
		case is && k == screen.BigKey && !d.m.About().Typing:
			d.message = screen.Message{}
			d.touch(k, &d.big)
		default:
			d.message = screen.Message{}
			d.took(d.m.Update(keyMsg(name)))
		}
	}
	return d
}

func (d *desk) touch(k screen.Key, p *press.Detector) {
	next, kind := p.Press(d.now)
	if kind == press.Same {
		next, kind = next.Quiet()
	}
	*p = next
	if kind != press.Same {
		d.took(d.m.Touch(screen.Touch{Key: k, Kind: kind}))
	}
}

func (d *desk) types(text string) *desk {
	for _, r := range text {
		d.press(string(r))
	}
	return d
}

func (d *desk) later(t time.Duration) *desk {
	d.now = d.now.Add(t)
	return d
}

// wait lets time go by and ticks.
func (d *desk) wait(t time.Duration) *desk {
	return d.later(t).took(d.m.Update(tickMsg{d.m.generation}))
}

func (d *desk) twice(key string) *desk { return d.press(key).later(time.Second).press(key) }

func (d *desk) isDark() *desk {
	d.t.Helper()
	if d.m.Light() != light.Dark {
		d.t.Fatalf("the light is %s; expected dark", d.m.Light())
	}
	return d
}

func keyMsg(name string) tea.KeyMsg {
	named := map[string]tea.KeyType{" ": tea.KeySpace, "enter": tea.KeyEnter, "esc": tea.KeyEscape, "up": tea.KeyUp,
		"down": tea.KeyDown, "left": tea.KeyLeft, "right": tea.KeyRight, "backspace": tea.KeyBackspace, "tab": tea.KeyTab,
		"pgdown": tea.KeyPgDown, "pgup": tea.KeyPgUp, "f1": tea.KeyF1, "f5": tea.KeyF5}
	if kind, ok := named[name]; ok {
		msg := tea.KeyMsg{Type: kind}
		if name == " " {
			msg.Runes = []rune(name)
		}
		return msg
	}
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(name)}
}
