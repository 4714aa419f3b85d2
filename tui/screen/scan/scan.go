// Package scan is the screen on which densities are read off a picture of negatives beside a step
// tablet: which picture and tablet, where the strips lie on it, what is doubtful, and how long each
// strip was developed. Start with Model. Pictures are decoded and measured in its commands, never in
// Update; the measuring is chem/scan's.
package scan

import (
	"errors"
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/chem/curve"
	"example.org/wetside/chem/scan"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/tui/form"
	"example.org/wetside/tui/screen"
)

// Backend is what this screen needs of the world.
type Backend interface {
	form.SessionReader
	// Pictures lists what lies in a folder; "" is where the program was started.
	Pictures(folder string) densities.PictureFolder
	OpenPicture(path string) (*scan.Picture, densities.PictureFile, error)
	NameDensities(film string) string
	KeepDensities(name string, r *curve.Readings) error
}

// Model is the screen: first a form, then the picture.
type Model struct {
	b    Backend
	env  screen.Env
	busy string // what is being done; "" for nothing
	setup
	look // at the picture; its picture is nil while the form is asked
}

// New makes it.
func New(b Backend, env screen.Env) Model { return Model{b: b, env: env, setup: newSetup()} }

// Messages.
type (
	folderMsg   struct{ folder densities.PictureFolder }
	sessionsMsg struct{ list []notebook.Summary }
	openedMsg   struct {
		opened
		found measuredMsg
		err   error
	}
	measuredMsg struct {
		result *scan.Result
		along  [][]float64
		err    error
	}
	keptMsg struct {
		file densities.ReadingsFile
		left int
		err  error
	}
)

// Start lists the pictures, and the sessions that may have developed what is on them.
func (m Model) Start() tea.Cmd {
	return tea.Batch(m.list(""), func() tea.Msg { return sessionsMsg{m.b.Sessions()} })
}

func (m Model) list(folder string) tea.Cmd {
	return func() tea.Msg { return folderMsg{m.b.Pictures(folder)} }
}

// Unsaved reports whether leaving now would lose something.
func (m Model) Unsaved() bool { return m.result != nil }

// Update takes a message.
func (m Model) Update(msg tea.Msg) (screen.Screen, screen.Action, tea.Cmd) {
	switch msg := msg.(type) {
	case folderMsg:
		m.setup = m.listed(msg.folder)
	case sessionsMsg:
		m.sessions, m.form = m.sessions.Offered(m.form, msg.list)
	case form.SessionMsg:
		m.sessions, m.form = m.sessions.Took(m.form, msg.Session)
	case openedMsg:
		return m.show(msg)
	case measuredMsg:
		return m.measured(msg)
	case keptMsg:
		return m.kept(msg)
	case tea.KeyMsg:
		switch {
		case m.typing != nil:
			return m.typed(msg)
		case m.picture != nil:
			return m.key(msg)
		}
		return m.asking(msg)
	}
	return m, nil, nil
}

// show shows the picture. Where no tablet or strip was found they are laid across it, to be moved.
func (m Model) show(msg openedMsg) (screen.Screen, screen.Action, tea.Cmd) {
	m.busy = ""
	if msg.err != nil {
		m.form = m.form.Faulted(fieldPicture, msg.err)
		return m, nil, nil
	}
	m.look = look{opened: msg.opened}
	r, err := msg.found.result, msg.found.err
	tablet := m.laid(1)
	if r.TabletAt.Steps > 0 {
		tablet, m.at = r.TabletAt, 1
	}
	m.marks = []mark{{at: tablet}}
	if err == nil {
		times := m.times()
		for i, s := range r.Strips {
			one := mark{at: s.At}
			if i < len(times) {
				one.time = times[i]
			}
			m.marks = append(m.marks, one)
		}
		return m.measured(msg.found)
	}
	m.marks = append(m.marks, mark{at: m.laid(2)})
	text := err.Error()
	switch {
	case errors.Is(err, scan.ErrNoTablet):
		text = fmt.Sprintf("No tablet of %d steps was found: esc, if it has another number; else move its outline onto it, then the strip's.", len(m.tablet))
	case errors.Is(err, scan.ErrNoStrips):
		text = "No strip was found beside the tablet: move the outline onto one with the arrows."
	}
	return m.reads(screen.Message{Text: text, Fault: true})
}

// reads measures the marks as they lie, one reading at a time, and asks for an action.
func (m Model) reads(action screen.Action) (screen.Screen, screen.Action, tea.Cmd) {
	if m.busy != "" {
		m.again = true
		return m, action, nil
	}
	m.busy, m.again = "The strips are being read.", false
	p, o := m.picture, m.options()
	return m, action, func() tea.Msg { return measure(p, o) }
}

// measure is the work, which takes a moment.
func measure(p *scan.Picture, o scan.Options) measuredMsg {
	r, err := scan.Read(p, o)
	if r == nil {
		r = &scan.Result{}
	}
	msg := measuredMsg{result: r, err: err}
	at := []scan.Strip{r.TabletAt}
	for _, s := range r.Strips {
		at = append(at, s.At)
	}
	for _, s := range at {
		var list []float64
		if s.Steps > 0 {
			list = p.Along(s, r.Tone, placesAlong)
		}
		msg.along = append(msg.along, list)
	}
	return msg
}

// placesAlong are those of a profile within a step.
const placesAlong = 6

// measured takes a result, or reads anew what was moved meanwhile.
func (m Model) measured(msg measuredMsg) (screen.Screen, screen.Action, tea.Cmd) {
	m.busy = ""
	switch {
	case m.picture == nil: // it was left meanwhile
		return m, nil, nil
	case m.again:
		return m.reads(nil)
	}
	m.result, m.along, m.fault = msg.result, msg.along, ""
	if msg.err != nil {
		m.result, m.fault = nil, msg.err.Error()
	}
	return m, nil, nil
}
