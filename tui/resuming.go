package tui

// The screen that stands until a session that was cut off is there again.

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/tui/light"
	"example.org/wetside/tui/press"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

// waiting is that screen: black where the terminal was black when the session was cut off.
// Should it not be taken up, one touch says so and two try again; escape twice brings light.
// Until it was said that film should be covered, esc leads nowhere: a key that is struck in
// the second in which the session comes back would show the recipes, in white.
type waiting struct {
	env     screen.Env
	backend Backend
	id      string
	dark    bool
	failed  screen.Utterance
	why     string // it could not be taken up; "" while it is tried
	warned  bool   // it was said that esc leads into white light
}

func (s waiting) Update(msg tea.Msg) (screen.Screen, screen.Action, tea.Cmd) {
	switch msg := msg.(type) {
	case screen.BeginFailedMsg:
		s.failed, s.why, s.warned = saidOf(msg.Err), msg.Err.Error(), true
	case tea.KeyMsg:
		if msg.String() == "esc" && s.warned {
			return s, screen.Home{}, nil
		}
	}
	return s, nil, nil
}

// Interrupt leaves at the second time of asking: a shell is white.
func (s waiting) Interrupt() (screen.Screen, screen.Action, tea.Cmd) {
	if s.warned {
		return s, screen.Quit{}, nil
	}
	s.warned = true
	return s, screen.Message{Text: "Film may lie open: cover it before ctrl+c leaves, into white light.", Fault: true}, nil
}

// Touch is heard in the dark: nothing is seen there.
func (s waiting) Touch(t screen.Touch) (screen.Screen, screen.Action, tea.Cmd) {
	switch {
	case t.Key == screen.EscapeKey && t.Kind == press.Two:
		s.dark, s.warned = false, true
		if s.why != "" {
			return s, screen.Message{Text: s.why, Fault: true}, nil
		}
		return s, screen.Message{Text: "The session was not taken up. Film may lie open: cover it before esc leads to the recipes, in white light.", Fault: true}, nil
	case t.Key == screen.BigKey && t.Kind == press.Two:
		s.why, s.warned = "", false
		return s, screen.Resume{ID: s.id}, nil
	case t.Key != screen.EscapeKey:
		s.backend.Say(s.failed)
	}
	return s, nil, nil
}

// Light is as dim as can be read until the session is there: film may lie open by safelight.
func (s waiting) Light() light.Light {
	if s.dark {
		return light.Dark
	}
	return light.Safelight
}

func (s waiting) View(w, h int) string {
	text := "The session is being taken up."
	if s.why != "" {
		text = "The session was not taken up. " + s.env.Keys.BigName() + " twice tries it again. esc leads to the recipes, " +
			"which come in white light: cover the film first."
	}
	return widget.CutRows(strings.Join(widget.Painted(text, w, style.Value), "\n"), h)
}

func (s waiting) About() screen.About { return screen.About{Title: "wetside"} }
