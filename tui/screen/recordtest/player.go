package recordtest

// Somebody at the keys of a screen that shows the notebook, and what is seen there.

import (
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/screen/drive"
)

// Keys are the messages of keys by their names, and of texts typed.
func Keys(names ...string) (list []tea.KeyMsg) {
	for _, name := range names {
		special, ok := map[string]tea.KeyType{"enter": tea.KeyEnter, "esc": tea.KeyEsc, "up": tea.KeyUp, "down": tea.KeyDown, "left": tea.KeyLeft,
			"right": tea.KeyRight, "pgup": tea.KeyPgUp, "pgdown": tea.KeyPgDown, "home": tea.KeyHome, "end": tea.KeyEnd, "space": tea.KeySpace}[name]
		if ok {
			list = append(list, tea.KeyMsg{Type: special})
			continue
		}
		for _, r := range name {
			list = append(list, tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}})
		}
	}
	return list
}

// Player gives a screen messages, and carries out what it asks for of its own.
type Player struct {
	Screen  screen.Screen
	Actions []screen.Action
	wait    time.Duration // for a command; what takes longer is a tick, and not waited for
}

// Play begins with a screen, and all that it has read.
func Play(s screen.Screen) *Player { return PlayTicking(s, time.Minute) }

// PlayTicking is Play for a screen with a clock, whose other commands take less than wait.
func PlayTicking(s screen.Screen, wait time.Duration) *Player {
	p := &Player{Screen: s, wait: wait}
	p.Size(76, 18)
	if started, ok := s.(screen.Started); ok {
		p.run(started.Start())
	}
	return p
}

// Size is another body than that of 76x18.
func (p *Player) Size(w, h int) *Player {
	if s, ok := p.Screen.(screen.Sized); ok {
		p.Screen = s.Sized(w, h)
	}
	return p
}

// Press presses keys, one after the other; a name that is no key is typed.
func (p *Player) Press(names ...string) *Player {
	for _, k := range Keys(names...) {
		p.Send(k)
	}
	return p
}

// Send gives it a message, and the answers of the commands that it leads to.
func (p *Player) Send(msg tea.Msg) *Player {
	s, action, cmd := p.Screen.Update(msg)
	p.Screen = s
	if action != nil {
		p.Actions = append(p.Actions, action)
	}
	p.run(cmd)
	return p
}

func (p *Player) run(cmd tea.Cmd) {
	if cmd == nil {
		return
	}
	answer := make(chan tea.Msg, 1)
	go func() { answer <- cmd() }()
	select {
	case msg := <-answer:
		p.answered(msg)
	case <-time.After(p.wait):
	}
}

func (p *Player) answered(msg tea.Msg) {
	switch msg := msg.(type) {
	case nil:
	case tea.BatchMsg:
		for _, one := range msg {
			p.run(one)
		}
	default:
		p.Send(msg)
	}
}

// Last is what was asked of the root last; nil for nothing.
func (p *Player) Last() screen.Action {
	if len(p.Actions) == 0 {
		return nil
	}
	return p.Actions[len(p.Actions)-1]
}

// View is the screen without its colours.
func (p *Player) View(w, h int) string { return ansi.Strip(p.Screen.View(w, h)) }

// Golden compares a body of 76x18, what an 80x24 window leaves, with testdata/NAME.txt, and
// looks at it by every light.
func Golden(t *testing.T, name string, p *Player) {
	t.Helper()
	drive.Picture(t, name, p.Screen, 76, 18)
}

// Fits has a screen drawn in bodies of all sizes: no row is over its width, and there are
// not more rows than there is room for. check looks at each without its colours.
func Fits(t *testing.T, p *Player, check func(w, h int, view string) string) {
	t.Helper()
	for w := 36; w <= 196; w += 7 {
		for h := 8; h <= 56; h += 3 {
			view := p.View(w, h)
			rows := strings.Split(view, "\n")
			if len(rows) > h {
				t.Fatalf("%dx%d: %d rows\n%s", w, h, len(rows), view)
			}
			for _, row := range rows {
				if n := ansi.StringWidth(row); n > w {
					t.Fatalf("%dx%d: a row of %d: %q", w, h, n, row)
				}
			}
			if why := check(w, h, view); why != "" {
				t.Fatalf("%dx%d: %s\n%s", w, h, why, view)
			}
		}
	}
}
