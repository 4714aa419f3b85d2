package session

// The keys of one session, and what each does.

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/sequence/notebook"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/widget"
)

// Update takes a message.
func (m Model) Update(msg tea.Msg) (screen.Screen, screen.Action, tea.Cmd) {
	switch msg := msg.(type) {
	case readingsMsg:
		m.read = msg.list
		return m.act(tasks[msg.then])
	case learntMsg:
		m.learnt = msg.learnt
		return m, nil, nil
	case notedMsg:
		return m.noted(msg)
	case archivedMsg:
		return m.archived(msg.err)
	case tea.KeyMsg:
		return m.key(msg)
	}
	return m, nil, nil
}

func (m Model) key(k tea.KeyMsg) (screen.Screen, screen.Action, tea.Cmd) {
	switch {
	case m.busy:
		return m, nil, nil // what was typed is being written down
	case m.writing != nil:
		return m.typed(k)
	case m.choices != nil:
		return m.choosing(k)
	}
	if s, moved := m.scroll(m.w, m.h).Key(k.String()); moved {
		m.first = s.First
		return m, nil, nil
	}
	switch name := k.String(); name {
	case "esc":
		return m, screen.Back{}, nil
	case "q":
		return m, screen.Quit{}, nil
	default:
		return m.act(name)
	}
}

// typed takes a key of a note.
func (m Model) typed(k tea.KeyMsg) (screen.Screen, screen.Action, tea.Cmd) {
	switch k.String() {
	case "esc":
		m.writing = nil
		return m, nil, nil
	case "enter":
		if strings.TrimSpace(m.writing.Value()) == "" {
			m.writing = nil
			return m, nil, nil
		}
		n := notebook.Note{Text: m.writing.Value()}
		if err := n.Check(); err != nil {
			m.writing = m.writing.Faulted(err.Error())
			return m, nil, nil
		}
		return m.keep(n)
	}
	m.writing = m.writing.Typed(k)
	return m, nil, nil
}

// About is what stands around it.
func (m Model) About() screen.About {
	s := &m.session
	a := screen.About{Title: s.Recipe, Right: m.when(), Help: help(), Typing: m.writing != nil}
	if state := say.RecordState(&s.Summary); state != "" {
		a.Right = state + ", " + a.Right
	}
	switch {
	case m.writing != nil:
		a.Foot = []key.Binding{widget.Bind("enter", "keep the note"), widget.Bind("esc", "leave it")}
	case m.choices != nil && m.choices.several:
		a.Foot = []key.Binding{widget.Bind("enter", "keep"), widget.Bind("↑↓", "which"), widget.Bind("←→", "yes or no"), widget.Bind("esc", "leave it")}
	case m.choices != nil:
		a.Foot = []key.Binding{widget.Bind("enter", "keep"), widget.Bind("↑↓", "which"), widget.Bind("esc", "leave it")}
	default:
		a.Foot = []key.Binding{widget.Bind("n", "note"), widget.Bind("v", "negatives"), widget.Bind("e", "emulsion"), widget.Bind("r", "repeat"), widget.Bind("d", "densities"), widget.Bind("esc", "back")}
	}
	return a
}

func help() widget.Help {
	return widget.Help{
		About:  "What was planned and what was done, to one scale. Notes stand beside the record; the record itself is never changed. What you say of negatives and emulsion counts when the session is repeated and when a wet limit is proposed.",
		Guides: []string{"temperature", "wet-time"},
		Groups: []widget.KeyGroup{
			{Purpose: "The negatives", Keys: []key.Binding{widget.Bind("n", "add a note"), widget.Bind("v", "say how the negatives look"),
				widget.Bind("e", "say how the emulsion came through"), widget.Bind("d", "read densities, or go on with them")}},
			{Purpose: "The plan", Keys: []key.Binding{widget.Bind("r", "repeat: plan it again as it was chosen, with what the result asks for")}},
			{Purpose: "Looking", Keys: []key.Binding{widget.Bind("↑↓", "read on"), widget.Bind("pgup pgdn", "page by page"), widget.Bind("home end", "beginning, end")}},
			{Purpose: "The notebook", Keys: []key.Binding{widget.Bind("x", "archive: out of the notebook, until it is restored there")}},
			{Purpose: "Leaving", Keys: []key.Binding{widget.Bind("esc", "one level back"), widget.Bind("q", "leave wetside")}},
		},
	}
}
