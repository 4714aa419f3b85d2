// Package session is the screen of one session that was: what came of it in a line, planned
// and actual to one scale, its steps and sheets, what was read and noted, and what the
// record says for next time. Notes are added here, never changed.
package session

import (
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/film"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/widget"
)

// Backend is what this screen needs of the world.
type Backend interface {
	Read(id string) (notebook.Session, error)
	Note(id string, n notebook.Note) error
	Archive(id string) error             // out of the notebook, with a way back
	Densities() []densities.ReadingsFile // all readings that are kept
	Learnt(id string) *film.Learnt       // what it taught of its film's time; nil for nothing
}

// Model is the screen.
type Model struct {
	b       Backend
	env     screen.Env
	session notebook.Session
	read    []densities.ReadingsFile // off its negatives
	learnt  *film.Learnt
	task    screen.Task // done at once

	writing *widget.Prompt // a note being typed
	choices *choices       // being chosen
	busy    bool           // something is being written down
	first   int            // row at the top
	w, h    int            // room for the body
}

// Messages.
type (
	archivedMsg struct{ err error }
	readingsMsg struct {
		list []densities.ReadingsFile
		then screen.Task // done now
	}
	learntMsg struct{ learnt *film.Learnt }
	notedMsg  struct {
		session notebook.Session // as it is now
		note    notebook.Note
		learnt  *film.Learnt
		err     error
	}
)

// New makes it. It errs where nothing of the session can be read.
func New(b Backend, env screen.Env, open screen.OpenSession) (Model, error) {
	s, err := b.Read(open.ID)
	if s.Plan == nil {
		if err == nil {
			err = fmt.Errorf("%s: nothing of it can be read", open.ID)
		}
		return Model{}, err
	}
	return Model{b: b, env: env, session: s, task: open.Then}, nil
}

// Sized tells how much room there is.
func (m Model) Sized(w, h int) screen.Screen {
	m.w, m.h = w, h
	return m
}

// Start has its readings looked for, and then does what was asked for at once.
func (m Model) Start() tea.Cmd { return tea.Batch(m.readings(m.task), m.learns()) }

// Renew looks for its readings anew.
func (m Model) Renew() (screen.Screen, tea.Cmd) {
	return m, tea.Batch(m.readings(screen.JustLook), m.learns())
}

// learns has it found out what the session taught.
func (m Model) learns() tea.Cmd {
	return func() tea.Msg { return learntMsg{m.b.Learnt(m.session.ID)} }
}

func (m Model) readings(then screen.Task) tea.Cmd {
	return func() tea.Msg {
		return readingsMsg{slices.DeleteFunc(m.b.Densities(), func(k densities.ReadingsFile) bool {
			return k.Err != nil || k.Readings.Session != m.session.ID
		}), then}
	}
}

// Unsaved reports whether leaving would lose something that was typed.
func (m Model) Unsaved() bool {
	return m.writing != nil && strings.TrimSpace(m.writing.Value()) != "" ||
		m.choices != nil && m.choices.several && len(m.choices.chosen()) > 0
}

// tasks are the keys that do them.
var tasks = map[screen.Task]string{
	screen.AddNote: "n", screen.DescribeNegatives: "v", screen.DescribeEmulsion: "e", screen.ReadDensities: "d",
}

// act does what a key asks for.
func (m Model) act(name string) (screen.Screen, screen.Action, tea.Cmd) {
	switch name {
	case "n":
		m.writing = widget.NewPrompt("Note", "", "").Hint("what the next session should know")
	case "v":
		m.choices = looks(&m.session)
	case "e":
		m.choices = emulsions(&m.session)
	case "d":
		return m, m.densities(), nil
	case "r":
		return m, m.repeat(), nil
	case "x":
		if m.busy {
			return m, nil, nil
		}
		m.busy = true
		return m, nil, func() tea.Msg { return archivedMsg{m.b.Archive(m.session.ID)} }
	}
	return m, nil, nil
}

// densities goes on with the readings of the session, or begins them.
func (m Model) densities() screen.Action {
	if len(m.read) > 0 {
		return screen.OpenReading{File: m.read[0]}
	}
	s := m.session
	return screen.OpenReadingSetup{Session: &s}
}

// repeat plans the session again: what was chosen then, with what its result asks for. The
// temperatures are another day's.
func (m Model) repeat() screen.Action {
	s := m.session
	words := m.env.Defaults.Or(s.Plan.Conditions.Retyped())
	text := "As on " + s.Day() + ". Read the developer's temperature anew."
	if c, ok := s.Correction(); ok {
		words.Factor = c.Of(s.Plan.Conditions)
		text = "Developing time × " + words.Factor + ": " + say.Correction(c) + "."
	}
	recipe := s.Plan.Recipe
	return screen.OpenPlan{Name: s.ID, Recipe: &recipe, Conditions: words, Text: text}
}

// keep writes a note down beside the record.
func (m Model) keep(n notebook.Note) (screen.Screen, screen.Action, tea.Cmd) {
	m.busy = true
	n.Written = m.env.Now()
	b, id := m.b, m.session.ID
	return m, nil, func() tea.Msg {
		err := b.Note(id, n)
		s, _ := b.Read(id)
		return notedMsg{s, n, b.Learnt(id), err}
	}
}

// noted takes in the session with its new note; what could not be written stays typed.
func (m Model) noted(msg notedMsg) (screen.Screen, screen.Action, tea.Cmd) {
	m.busy = false
	if msg.err != nil {
		if m.writing != nil {
			m.writing = m.writing.Faulted("not kept: " + msg.err.Error())
		}
		return m, screen.Message{Text: "The note was not kept: " + msg.err.Error(), Fault: true}, nil
	}
	m.writing, m.choices, m.learnt = nil, nil, msg.learnt
	if msg.session.Plan != nil {
		m.session = msg.session
	}
	said := "Noted."
	if len(msg.note.Appearances) > 0 {
		for _, t := range say.Causes(&m.session, m.env.Units()) {
			said += " " + say.Tidy(t)
		}
		if m.learnt != nil && m.learnt.From != "" {
			said += " " + say.LearntInShort(m.learnt)
		}
	}
	return m, screen.Message{Text: said}, nil
}

// archived leaves the session, and says how it comes back.
func (m Model) archived(err error) (screen.Screen, screen.Action, tea.Cmd) {
	m.busy = false
	if err != nil {
		return m, screen.Message{Text: err.Error(), Fault: true}, nil
	}
	return m, screen.Several{screen.Back{}, screen.Message{
		Text: "Archived. In the notebook a shows what is archived, and u restores it."}}, nil
}

// when is when the session began, in the person's way.
func (m Model) when() string {
	if s := m.session.Started; s != nil {
		return say.DateAndTime(*s, m.env.Units())
	}
	return m.session.Day()
}
