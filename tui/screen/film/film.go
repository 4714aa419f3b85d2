// Package film is the screen of all that is known of films: each in one developer and handling, how sure it is, the
// growth with its band, and what to test next.
package film

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/film"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/widget"
)

// Backend is what this screen needs of the world.
type Backend interface {
	Films() []film.Known // all that is known, of each film what is known best first
}

// Model is the screen.
type Model struct {
	b   Backend
	env screen.Env

	wanted string // the film that it was opened for; "" for none
	known  []film.Known
	read   bool
	at     int
	page   *film.Page // of the one chosen; nil while it is worked out
	fault  string
	warmer sequence.Celsius // than the reference, today
	first  int              // row of the page at the top
	table  bool             // in a narrow window: the page in place of the picture
	w, h   int
}

// Messages.
type (
	knownMsg []film.Known
	pageMsg  struct {
		at     int
		warmer sequence.Celsius
		page   film.Page
		err    error
	}
)

// usual is the temperature that the page is for until another is chosen.
const usual sequence.Celsius = 20

// How far the temperature goes, and in which steps.
const (
	coolest = -4
	warmest = 8
)

// New makes it, with the cursor on a film where one is named.
func New(b Backend, env screen.Env, name string) Model { return Model{b: b, env: env, wanted: name} }

// Start has all read.
func (m Model) Start() tea.Cmd {
	return func() tea.Msg { return knownMsg(m.b.Films()) }
}

// Renew has all read anew.
func (m Model) Renew() (screen.Screen, tea.Cmd) { return m, m.Start() }

// Sized tells how much room there is.
func (m Model) Sized(w, h int) screen.Screen {
	m.w, m.h = w, h
	return m
}

// Update takes a message.
func (m Model) Update(msg tea.Msg) (screen.Screen, screen.Action, tea.Cmd) {
	switch msg := msg.(type) {
	case knownMsg:
		m.known, m.read = msg, true
		at := m.at
		for i := range m.known {
			if strings.EqualFold(m.known[i].Film, m.wanted) {
				at, m.wanted = i, ""
			}
		}
		return m.chosen(at)
	case pageMsg:
		if msg.at == m.at && msg.warmer == m.warmer {
			m.page, m.fault = &msg.page, ""
			if msg.err != nil {
				m.page, m.fault = nil, msg.err.Error()
			}
		}
		return m, nil, nil
	case tea.KeyMsg:
		return m.key(msg.String())
	}
	return m, nil, nil
}

// chosen puts the cursor on a film, and has its page worked out.
func (m Model) chosen(at int) (screen.Screen, screen.Action, tea.Cmd) {
	m.at, m.first = min(max(0, at), max(0, len(m.known)-1)), 0
	return m.assessed()
}

// assessed has the page worked out anew.
func (m Model) assessed() (screen.Screen, screen.Action, tea.Cmd) {
	m.page = nil
	if len(m.known) == 0 {
		return m, nil, nil
	}
	return m, nil, func() tea.Msg {
		today := usual + m.warmer
		page, err := film.Assess(&m.known[m.at], m.known, film.Question{At: &today})
		return pageMsg{m.at, m.warmer, page, err}
	}
}

// About is what stands around it.
func (m Model) About() screen.About {
	return screen.About{Title: "Films", Right: say.Temperature(usual+m.warmer, m.env.Units()) + " today",
		Foot: m.foot(),
		Help: widget.Help{
			About:  "All that tests, sessions, notes and borrowed times say of a film in one developer, vessel and agitation. The band holds nine of ten next sessions; o is a sheet of a test, + a session at what was wanted of it. What is only assumed stands last.",
			Guides: []string{"curves", "film-test"},
			Groups: []widget.KeyGroup{
				{Purpose: "Looking", Keys: []key.Binding{widget.Bind("↑↓", "another film or handling"), widget.Bind("pgup pgdn", "read the page on"), widget.Bind("tab", "picture or page, in a narrow window")}},
				{Purpose: "Today", Keys: []key.Binding{widget.Bind("←→", "the developer cooler or warmer, by 1 °C")}},
				{Purpose: "Leaving", Keys: []key.Binding{widget.Bind("esc", "back"), widget.Bind("q", "leave wetside")}},
			}}}
}

// foot are the keys that matter now.
func (m Model) foot() []key.Binding {
	list := []key.Binding{widget.Bind("↑↓", "film"), widget.Bind("←→", "temperature")}
	if m.w < wide {
		word := "page"
		if m.table {
			word = "picture"
		}
		list = append(list, widget.Bind("tab", word))
	}
	if m.w >= wide || m.table {
		list = append(list, widget.Bind("pgdn", "read on"))
	}
	return append(list, widget.Bind("esc", "back"))
}

// counts is what is known of it, in numbers.
func counts(k *film.Known) string {
	return say.Count(len(k.Tests), "test") + ", " + say.Count(len(k.Sessions), "session")
}
