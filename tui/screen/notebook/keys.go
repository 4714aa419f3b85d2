package notebook

// The keys of the notebook, and what each does.

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/widget"
)

// Update takes a message.
func (m Model) Update(msg tea.Msg) (screen.Screen, screen.Action, tea.Cmd) {
	switch msg := msg.(type) {
	case listMsg:
		m.kept, m.archived, m.read = msg.kept, msg.archived, true
		next, _, cmd := m.moved(m.at)
		return next, said(msg.done, msg.err), cmd
	case readMsg:
		return m.came(msg)
	case pairMsg:
		if msg.err != nil {
			return m, said("", msg.err), nil
		}
		m.first = ""
		return m, screen.OpenCompare{A: msg.a, B: msg.b}, nil
	case tea.KeyMsg:
		if m.asking != nil {
			return m.typed(msg)
		}
		return m.key(msg.String())
	}
	return m, nil, nil
}

// said is what is said at the foot: that it was done, or why it could not be.
func said(done string, err error) screen.Action {
	switch {
	case err != nil:
		return screen.Message{Text: err.Error(), Fault: true}
	case done != "":
		return screen.Message{Text: done}
	}
	return nil
}

func (m Model) key(name string) (screen.Screen, screen.Action, tea.Cmd) {
	if at, ok := m.pager.Move(m.at, len(m.shown()), name); ok {
		return m.moved(at)
	}
	switch name {
	case "enter":
		return m.enter()
	case "/":
		m.asking = widget.NewPrompt("Search", "", m.search).Hint("film, vessel, day such as 2026-11, bath, words of a note")
	case "c":
		return m.compare()
	case "r":
		m.rehearsals = !m.rehearsals
		return m.moved(0)
	case "a":
		m.away, m.first = !m.away, ""
		return m.moved(0)
	case "u":
		if c := m.chosen(); c != nil && m.away {
			id := c.ID
			return m, nil, m.reread(func() error { return m.b.Restore(id) }, "Restored: "+id+" is in the notebook again.")
		}
	case "q":
		return m, screen.Quit{}, nil
	case "esc":
		return m.back()
	}
	return m, nil, nil
}

// back goes one level up: out of a search, out of the archive, out of the notebook.
func (m Model) back() (screen.Screen, screen.Action, tea.Cmd) {
	switch {
	case m.search != "":
		m.search = ""
	case m.away:
		m.away = false
	default:
		return m, screen.Back{}, nil
	}
	return m.moved(0)
}

// typed takes a key of the search; the table follows each.
func (m Model) typed(k tea.KeyMsg) (screen.Screen, screen.Action, tea.Cmd) {
	switch k.String() {
	case "enter":
		m.asking = nil
		return m, nil, nil
	case "esc":
		m.asking, m.search = nil, ""
		return m.moved(0)
	case "up", "down", "pgup", "pgdown":
		at, _ := m.pager.Move(m.at, len(m.shown()), k.String())
		return m.moved(at)
	}
	m.asking = m.asking.Typed(k)
	m.search = m.asking.Value()
	return m.moved(0)
}

// enter opens the chosen session.
func (m Model) enter() (screen.Screen, screen.Action, tea.Cmd) {
	c := m.chosen()
	switch {
	case c == nil:
		return m, nil, nil
	case m.away:
		return m, screen.Message{Text: "This session is archived: u restores it, then it opens."}, nil
	}
	return m, screen.OpenSession{ID: c.ID}, nil
}

// compare takes the chosen session as the first of two, or compares it with the first.
func (m Model) compare() (screen.Screen, screen.Action, tea.Cmd) {
	c := m.chosen()
	switch {
	case c == nil:
		return m, nil, nil
	case m.first == "":
		m.first = c.ID
		return m, screen.Message{Text: "The first of two is chosen. c on another session compares them; c on this one lets it go."}, nil
	case m.first == c.ID:
		m.first = ""
		return m, screen.Message{Text: "No session is chosen to be compared."}, nil
	}
	return m, nil, func() tea.Msg {
		first, err := m.b.Read(m.first)
		if err != nil {
			return pairMsg{err: err}
		}
		second, err := m.b.Read(c.ID)
		return pairMsg{first, second, err}
	}
}

// About is what stands around it.
func (m Model) About() screen.About {
	a := screen.About{Title: "Notebook", Right: m.count(), Help: help(), Typing: m.asking != nil}
	if m.away {
		a.Title = "Archived sessions"
	}
	switch {
	case m.asking != nil:
		a.Foot = []key.Binding{widget.Bind("enter", "keep the search"), widget.Bind("↑↓", "choose"), widget.Bind("esc", "show all")}
	case m.away:
		a.Foot = []key.Binding{widget.Bind("u", "restore"), widget.Bind("↑↓", "choose"), widget.Bind("/", "search"), widget.Bind("a", "notebook"), widget.Bind("esc", "notebook")}
	case len(m.shown()) == 0 && m.search == "":
		a.Foot = []key.Binding{widget.Bind("r", m.toggled()), widget.Bind("a", "archived"), widget.Bind("esc", "recipes")}
	default:
		a.Foot = []key.Binding{widget.Bind("enter", "open"), widget.Bind("/", "search"), widget.Bind("c", "compare"), widget.Bind("r", m.toggled()), widget.Bind("a", "archived"), widget.Bind("esc", "recipes")}
	}
	return a
}

func (m Model) toggled() string {
	if m.rehearsals {
		return "hide rehearsals"
	}
	return "rehearsals"
}

func help() widget.Help {
	return widget.Help{
		About:  "Every session keeps itself here, from its first minute to what you note about the negatives. Nothing is ever deleted: what is archived can be restored.",
		Guides: []string{"sharing", "files"},
		Groups: []widget.KeyGroup{
			{Purpose: "One session", Keys: []key.Binding{widget.Bind("enter", "open it: planned and actual, notes, repeat, archive"), widget.Bind("u", "restore it, where archived sessions are shown")}},
			{Purpose: "Two sessions", Keys: []key.Binding{widget.Bind("c", "choose the first, then the one to compare it with")}},
			{Purpose: "Looking", Keys: []key.Binding{widget.Bind("/", "search by film, vessel, day, bath, sheet, words of notes"), widget.Bind("↑↓", "choose a session"),
				widget.Bind("pgup pgdn", "a page of sessions up or down"), widget.Bind("home end", "the newest, the oldest"), widget.Bind("r", "show or hide rehearsals"), widget.Bind("a", "show what is archived, or the notebook")}},
			{Purpose: "Leaving", Keys: []key.Binding{widget.Bind("esc", "one level back"), widget.Bind("q", "leave wetside")}},
		},
	}
}
