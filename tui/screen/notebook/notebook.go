// Package notebook is the screen of all sessions kept: a table to search, and the chosen one
// beside it. Two are chosen to be compared. Rehearsals and what was archived are out of
// sight until they are asked for.
package notebook

import (
	"cmp"
	"maps"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/sequence/notebook"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/widget"
)

// Backend is what this screen needs of the world.
type Backend interface {
	Sessions() []notebook.Summary             // newest first
	ArchivedSessions() []notebook.Summary     // out of the notebook, newest first
	Read(id string) (notebook.Session, error) // an archived one too
	Restore(id string) error                  // an archived one, into the notebook
}

// Model is the screen.
type Model struct {
	b   Backend
	env screen.Env

	listing
	known   map[string]facts // of sessions that were read, by id
	open    *notebook.Session
	reading bool           // a session is being read; never two at once
	asking  *widget.Prompt // the search being typed
	pager   *widget.Pager
	first   string // the first of two to be compared; "" for none
}

// facts is what the table shows of a session that must be read for it.
type facts struct{ result, wet string }

// Messages.
type (
	listMsg struct {
		kept, archived []notebook.Summary
		err            error // of what was done before
		done           string
	}
	readMsg struct {
		id      string
		session notebook.Session
		err     error
	}
	pairMsg struct {
		a, b notebook.Session
		err  error
	}
)

// New makes it.
func New(b Backend, env screen.Env) Model {
	return Model{b: b, env: env, known: map[string]facts{}, pager: &widget.Pager{}}
}

// Start has the sessions listed.
func (m Model) Start() tea.Cmd { return m.reread(nil, "") }

// Renew has them listed anew: the chosen one may have been noted on.
func (m Model) Renew() (screen.Screen, tea.Cmd) {
	if c := m.chosen(); c != nil {
		m.known = maps.Clone(m.known)
		delete(m.known, c.ID)
		m.open = nil
	}
	return m, m.reread(nil, "")
}

// reread does something, and lists all; done is said where it could be done.
func (m Model) reread(do func() error, done string) tea.Cmd {
	return func() tea.Msg {
		var err error
		if do != nil {
			err = do()
		}
		return listMsg{m.b.Sessions(), m.b.ArchivedSessions(), err, done}
	}
}

// moved puts the cursor on a row, and has read what is not known yet.
func (m Model) moved(at int) (screen.Screen, screen.Action, tea.Cmd) {
	m.at = min(max(0, at), max(0, len(m.shown())-1))
	return m.readNext()
}

// around is how many rows on either side of the cursor are read for the table.
const around = 40

// readNext reads the chosen session, or else the nearest row that is not known.
func (m Model) readNext() (screen.Screen, screen.Action, tea.Cmd) {
	c := m.chosen()
	if m.reading || c == nil {
		return m, nil, nil
	}
	id := c.ID
	if m.open != nil && m.open.ID == id {
		id = m.nearestUnknown()
	}
	if id == "" {
		return m, nil, nil
	}
	m.reading = true
	return m, nil, func() tea.Msg {
		s, err := m.b.Read(id)
		return readMsg{id, s, err}
	}
}

func (m Model) nearestUnknown() string {
	list := m.shown()
	var near []int
	for i := max(0, m.at-around); i < min(len(list), m.at+around+1); i++ {
		if _, ok := m.known[list[i].ID]; !ok {
			near = append(near, i)
		}
	}
	if len(near) == 0 {
		return ""
	}
	distance := func(i int) int { return max(i-m.at, m.at-i) }
	return list[slices.MinFunc(near, func(a, b int) int { return cmp.Compare(distance(a), distance(b)) })].ID
}

// came takes in a session that was read.
func (m Model) came(msg readMsg) (screen.Screen, screen.Action, tea.Cmd) {
	m.reading = false
	m.known = maps.Clone(m.known)
	m.known[msg.id] = factsOf(&msg.session, msg.err)
	if c := m.chosen(); c != nil && c.ID == msg.id {
		msg.session.ID = msg.id
		m.open = &msg.session
	}
	return m.readNext()
}
