package tui

// What the screens ask for, carried out.

import (
	"errors"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/screen/run"
)

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
		var cmd tea.Cmd
		m.stack, cmd = m.stack.renewed()
		return m, cmd
	case screen.Quit:
		if m.quitting = !a.Sure && m.stack.unsaved(); m.quitting {
			return m, nil
		}
		return m, tea.Quit
	case screen.Message:
		return m.say(a.Text, a.Fault)
	case screen.Begin:
		return m.starts(m.beginning(a))
	case screen.Resume:
		return m.starts(m.resuming(a))
	case screen.NextRound:
		if m.next != nil {
			return m.enter(*m.next)
		}
		return m.enter(a.Otherwise)
	case screen.Edit:
		return m.edit(a.Recipe)
	case screen.TouchSpent:
		m.touches = m.touches.spent()
		return m, nil
	}
	return m.enter(a)
}

// enter opens a screen over the one that is shown. A plan begins the way to a session
// anew, and a summary stands in place of its run: neither can be come back to.
func (m Model) enter(a screen.Action) (Model, tea.Cmd) {
	s, err := open(m.o.Backend, m.o.Env, a)
	if err != nil {
		return m.say(err.Error(), true)
	}
	switch a := a.(type) {
	case screen.OpenPlan:
		m.stack = m.stack.only(s)
		m.message = message{text: a.Text}
	case screen.OpenSummary:
		m.stack, m.message = m.stack.only(s), message{} // what was said in the session is over with it
	default:
		m.stack = m.stack.under(s)
	}
	return m, started(s)
}

// back goes one level up, to a screen that reads anew what it shows and hears what the one
// that was left tells it.
func (m Model) back(tell tea.Msg) (Model, tea.Cmd) {
	var cmd tea.Cmd
	m.stack, cmd = m.stack.less().renewed()
	if tell == nil {
		return m, cmd
	}
	m, heard := m.give(tell)
	return m, tea.Batch(cmd, heard)
}

// starts begins a session, or takes one up: never two.
func (m Model) starts(session tea.Cmd) (Model, tea.Cmd) {
	if m.starting {
		return m, nil
	}
	m.starting = true
	return m, session
}

// beginning begins one, outside Update; a test of panics looks for it by this name.
func (m Model) beginning(a screen.Begin) tea.Cmd {
	return func() tea.Msg {
		session, err := m.o.Backend.Begin(a.Start)
		return begunMsg{session, err}
	}
}

// resuming takes one up, outside Update.
func (m Model) resuming(a screen.Resume) tea.Cmd {
	return func() tea.Msg {
		session, err := m.o.Backend.Resume(a)
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
	m.next = m.stack.nextRound()
	s := run.New(m.o.Env, msg.session, m.dark())
	m.message, m.help, m.stack = message{}, nil, m.stack.only(s)
	return m, started(s)
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
