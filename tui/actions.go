package tui

// What the screens ask for, carried out.

import (
	"errors"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/widget"
)

// keyLine is the foot; with the help open, how it is left.
func (m Model) keyLine(foot []key.Binding, w int) string {
	if m.help != nil {
		return widget.Keys(w, key.NewBinding(key.WithKeys("esc"), key.WithHelp("esc", "back to the screen")),
			key.NewBinding(key.WithKeys("down"), key.WithHelp("↑↓", "read on")))
	}
	return widget.Keys(w, foot...)
}

// do carries out an action; nil is none.
func (m Model) do(a screen.Action) (Model, tea.Cmd) {
	switch a := a.(type) {
	case nil:
		return m, nil
	case screen.Several:
		var cmds []tea.Cmd
		for _, one := range a {
			var cmd tea.Cmd
			m, cmd = m.do(one)
			cmds = append(cmds, cmd)
		}
		return m, tea.Batch(cmds...)
	case screen.Back:
		return m.back(a.Tell)
	case screen.Home:
		m.stack = m.stack[:1:1]
		return m.renewed()
	case screen.Quit:
		if m.quitting = !a.Sure && m.losesSomething(); m.quitting {
			return m, nil
		}
		return m, tea.Quit
	case screen.Message:
		return m.say(a.Text, a.Fault)
	case screen.Begin:
		return m.begin(a.Start)
	case screen.Resume:
		return m.resume(a.ID)
	case screen.NextRound:
		return m.nextRound(a.Otherwise)
	case screen.Edit:
		return m.edit(a.Recipe)
	case screen.TouchSpent:
		m.big = m.big.Reset()
		return m, nil
	}
	return m.enter(a)
}

// enter opens a screen over the one that is shown. A plan begins the way to a session
// anew, and a summary stands in place of its run: neither can be come back to.
func (m Model) enter(a screen.Action) (Model, tea.Cmd) {
	s, err := m.open(a)
	if err != nil {
		return m.say(err.Error(), true)
	}
	switch a := a.(type) {
	case screen.OpenPlan:
		m.stack = append(m.stack[:1:1], s)
		m.message = message{text: a.Text}
	case screen.OpenSummary:
		m.stack = append(m.stack[:1:1], s)
	default:
		m.stack = append(m.stack[:len(m.stack):len(m.stack)], s)
	}
	return m, started(s)
}

func started(s screen.Screen) tea.Cmd {
	if s, ok := s.(screen.Started); ok {
		return s.Start()
	}
	return nil
}

// back goes one level up, to a screen that reads anew what it shows and hears what the one
// that was left tells it.
func (m Model) back(tell tea.Msg) (Model, tea.Cmd) {
	if len(m.stack) > 1 {
		m.stack = m.stack[: len(m.stack)-1 : len(m.stack)-1]
	}
	m, cmd := m.renewed()
	if tell == nil {
		return m, cmd
	}
	m, heard := m.give(tell)
	return m, tea.Batch(cmd, heard)
}

func (m Model) renewed() (Model, tea.Cmd) {
	if s, ok := m.top().(screen.Renewed); ok {
		next, cmd := s.Renew()
		return m.with(next), cmd
	}
	return m, nil
}

// losesSomething reports whether leaving now would lose what was not kept: a plan with
// conditions of its own, a line being typed.
func (m Model) losesSomething() bool {
	s, ok := m.top().(interface{ Unsaved() bool })
	return ok && s.Unsaved()
}

// begin begins a session, never two.
func (m Model) begin(s screen.SessionStart) (Model, tea.Cmd) {
	if m.starting {
		return m, nil
	}
	m.starting = true
	host := m.o.Backend
	return m, func() tea.Msg {
		session, err := host.Begin(s)
		return begunMsg{session, err}
	}
}

// resume takes up a session.
func (m Model) resume(id string) (Model, tea.Cmd) {
	if m.starting {
		return m, nil
	}
	m.starting = true
	return m, m.resumeCmd(id)
}

func (m Model) resumeCmd(id string) tea.Cmd {
	host := m.o.Backend
	return func() tea.Msg {
		session, err := host.Resume(id)
		return begunMsg{session, err}
	}
}

// begun shows the session that was started, in the place of what led to it, or tells the
// screen why there is none. A dark screen stays dark either way.
func (m Model) begun(msg begunMsg) (Model, tea.Cmd) {
	m.starting = false
	if msg.err != nil {
		if m.dark() {
			m.o.Backend.Say(saidOf(msg.err))
		}
		m, gone := m.say(msg.err.Error(), true)
		m, cmd := m.give(screen.BeginFailedMsg{Err: msg.err})
		return m, tea.Batch(gone, cmd)
	}
	m = m.remembersRound()
	s := m.running(msg.session, m.dark())
	m.message, m.help, m.stack = message{}, nil, append(m.stack[:1:1], s)
	return m, started(s)
}

// remembersRound keeps how the next round is planned, of the plan that a session began from.
func (m Model) remembersRound() Model {
	m.next = nil
	for _, s := range m.stack {
		if s, ok := s.(interface {
			Next() (screen.OpenPlan, bool)
		}); ok {
			if next, ok := s.Next(); ok {
				m.next = &next
			}
		}
	}
	return m
}

// nextRound plans the round after the session that was begun last, or what is given where
// there is none.
func (m Model) nextRound(otherwise screen.OpenPlan) (Model, tea.Cmd) {
	if m.next != nil {
		otherwise = *m.next
	}
	return m.enter(otherwise)
}

// edit opens the person's editor, which has the terminal until it is left.
func (m Model) edit(recipe string) (Model, tea.Cmd) {
	if m.starting {
		return m, nil
	}
	name, editor, err := m.o.Backend.Edit(recipe)
	if err != nil {
		return m.say(err.Error(), true)
	}
	m.starting = true
	return m, tea.Exec(editor, func(err error) tea.Msg { return screen.EditedMsg{Recipe: name, Err: err} })
}

// saidOf is what a voice says of a session that could not be begun or taken up.
func saidOf(err error) screen.Utterance {
	if errors.Is(err, screen.ErrElsewhere) {
		return screen.SaysElsewhere
	}
	return screen.SaysNotBegun
}
