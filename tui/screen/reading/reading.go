// Package reading is the screens of densities: the readings that are kept, what is asked
// before new ones, and the place where they are typed, step after step. Start with List,
// Setup and Model, each a screen; nothing is read or written but in their commands.
package reading

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/widget"
)

// Backend is what these screens need of the world.
type Backend interface {
	Sessions() []notebook.Summary // newest first
	Read(id string) (notebook.Session, error)
	Densities() []densities.ReadingsFile // newest first
	Tablets() []densities.Tablet         // calibrated ones
	NameDensities(film string) string    // for new readings
	// KeepDensities has them on disk when it returns.
	KeepDensities(name string, r *curve.Readings) error
}

// Model is the entry of readings. What is entered is kept before the next key is taken up:
// keys that come meanwhile wait.
type Model struct {
	b    Backend
	name string
	place
	typed     *widget.Prompt
	confirmed bool // what is typed was asked about: enter again takes it
	undone    []entry
	keeping   bool // the last entry is on its way to the disk
	waiting   []tea.KeyMsg
	said      string // what is said once it is there
	lost      string // why the last entry is not on the disk; "" where it is
}

// entry is a step as it was before.
type entry struct {
	col, row int
	was      *curve.Density
	err      curve.Density // standard error, where a picture told it
}

// New goes on where a step is still to be read.
func New(b Backend, f densities.ReadingsFile) Model {
	return Model{b: b, name: f.Name, place: unread(f.Readings), typed: widget.NewPrompt("", "", "")}
}

// Unsaved reports whether leaving now would lose something.
func (m Model) Unsaved() bool { return m.keeping || m.lost != "" || m.typed.Value() != "" }

// keptMsg tells that the readings are on the disk, or why they are not.
type keptMsg struct{ err error }

// keep has the readings on the disk; said is what is said once they are there.
func (m Model) keep(said string) (Model, tea.Cmd) {
	m.keeping, m.said = true, said
	return m, func() tea.Msg { return keptMsg{m.b.KeepDensities(m.name, &m.r)} }
}

// Update takes a message.
func (m Model) Update(msg tea.Msg) (screen.Screen, screen.Action, tea.Cmd) {
	if len(m.r.Sheets) == 0 {
		if k, ok := msg.(tea.KeyMsg); ok && k.String() == "esc" {
			return m, screen.Back{}, nil
		}
		return m, nil, nil
	}
	switch msg := msg.(type) {
	case tea.KeyMsg:
		if m.keeping {
			m.waiting = append(m.waiting[:len(m.waiting):len(m.waiting)], msg)
			return m, nil, nil
		}
		return m.key(msg)
	case keptMsg:
		return m.kept(msg)
	}
	return m, nil, nil
}

// kept says what came of the last entry, and takes up the keys that waited, up to the next
// entry or until one leaves the screen.
func (m Model) kept(msg keptMsg) (screen.Screen, screen.Action, tea.Cmd) {
	m.keeping, m.lost = false, ""
	var action screen.Action
	if m.said != "" {
		action = screen.Message{Text: m.said}
	}
	if msg.err != nil {
		m.lost = msg.err.Error()
		action = screen.Message{Text: "Not kept: " + m.lost + ". Go on here: each entry tries again.", Fault: true}
	}
	keys := m.waiting
	m.waiting = nil
	for i, k := range keys {
		next, a, cmd := m.key(k)
		m = next
		if a != nil {
			action = a
		}
		if _, said := a.(screen.Message); cmd != nil || a != nil && !said {
			m.waiting = keys[i+1:]
			return m, action, cmd
		}
	}
	return m, action, nil
}

func say(text string) screen.Action { return screen.Message{Text: text} }

// to moves the cursor; what was typed and not taken is gone.
func (m Model) to(col, row int) Model {
	m.place = m.place.to(col, row)
	m.typed, m.confirmed = widget.NewPrompt("", "", ""), false
	return m
}

// next is the step after this one, the next sheet's after the last; false at the end.
func (m Model) next() (Model, bool) {
	switch {
	case m.row < len(m.r.Tablet)-1:
		return m.to(m.col, m.row+1), true
	case m.col < len(m.r.Sheets)-1:
		return m.to(m.col+1, baseRow), true
	}
	return m.to(m.col, m.row), false
}

// curves shows what the readings come to.
func (m Model) curves() (Model, screen.Action, tea.Cmd) {
	if f, _ := m.r.Family(m.name); len(f.Curves) == 0 {
		return m, screen.Message{Text: "No sheet has two readings yet; a curve needs more.", Fault: true}, nil
	}
	return m, screen.OpenCurves{File: densities.ReadingsFile{Name: m.name, Readings: m.r}}, nil
}
