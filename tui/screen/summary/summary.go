// Package summary is what came of a session, right after it: the result in one line, then
// only what differed from plan, then what to do next. Start with Model.
package summary

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/film"
	"example.org/wetside/tui/light"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/widget"
)

// Backend is what this screen needs of the world.
type Backend interface {
	Learnt(id string) *film.Learnt // what a session taught of its film's time; nil for nothing
}

// Model is the screen.
type Model struct {
	b       Backend
	env     screen.Env
	session screen.Session
	look    engine.Snapshot
	outcome string
	done    []engine.Development
	differs []say.Differed
	events  []sequence.Event
	learnt  *film.Learnt
	film    screen.OpenFilm
	first   int // row at the top
	w, h    int // room for the body
}

type learntMsg struct{ learnt *film.Learnt }

// New makes it of a session that is over.
func New(b Backend, env screen.Env, s screen.Session) Model {
	m := Model{b: b, env: env, session: s, look: s.Snapshot()}
	m.film.May = m.look.Over == sequence.SessionStopped && m.Light() != light.White && !m.rehearsed()
	m.events = s.Events()
	if state, err := engine.Replay(s.Plan(), m.events); err == nil {
		m.done = state.Developments()
	}
	m.outcome = m.headline(say.Outcome(s.Plan(), m.look, m.done))
	m.differs = say.AllDiffered(s.Plan(), m.look, m.done)
	return m
}

// Start has it found out what the session taught.
func (m Model) Start() tea.Cmd {
	return func() tea.Msg { return learntMsg{m.b.Learnt(m.session.ID())} }
}

// Renew finds it out anew: something may have been noted.
func (m Model) Renew() (screen.Screen, tea.Cmd) { return m, m.Start() }

// Sized tells how much room there is.
func (m Model) Sized(w, h int) screen.Screen {
	m.w, m.h = w, h
	return m
}

// Light is white where the room may have it: a session that was ended early may leave film
// open, by safelight or in the dark.
func (m Model) Light() light.Light {
	if l := m.look; l.Light == sequence.White || m.session.Lit() || l.LightOn && l.LightOffered && l.Light == sequence.Dark {
		return light.White
	}
	if m.look.Over == sequence.SessionStopped && m.look.Light == sequence.Safelight {
		return light.Safelight // as dim as can be read: the film lies where it did
	}
	return light.Red
}

// Update takes a key.
func (m Model) Update(msg tea.Msg) (screen.Screen, screen.Action, tea.Cmd) {
	if l, ok := msg.(learntMsg); ok {
		m.learnt = l.learnt
	}
	k, ok := msg.(tea.KeyMsg)
	if !ok {
		return m, nil, nil
	}
	before := m.film
	m, action := m.key(k.String())
	m.film = m.film.After(before)
	return m, action, nil
}

// tasks are the keys that lead to the session in the notebook, and what is done there.
var tasks = map[string]screen.Task{
	"n": screen.AddNote, "v": screen.DescribeNegatives, "e": screen.DescribeEmulsion, "d": screen.ReadDensities,
}

// again plans the next round; where there is none the same recipe under the same conditions.
func (m Model) again() screen.Action {
	p := m.session.Plan()
	r := p.Recipe
	return screen.NextRound{Otherwise: screen.OpenPlan{Name: r.Title, Recipe: &r, Conditions: m.env.Defaults.Or(p.Conditions.Retyped()),
		Text: "The same plan as before, at the recipe's temperature: type what the thermometer reads now."}}
}

// About is the head, the foot and the help.
func (m Model) About() screen.About {
	a := screen.About{Title: "Summary", Right: m.session.Plan().Recipe.Title}
	bind := widget.Bind
	note, looks, emulsion, densities := bind("n", "note"), bind("v", "negatives"), bind("e", "emulsion"), bind("d", "densities")
	home, again := bind("enter", "recipes"), bind("a", "plan again")
	a.Foot = []key.Binding{home, note, looks, emulsion, densities, again}
	if m.rehearsed() { // reading densities can be practised too; of negatives and emulsion there is nothing to say
		a.Foot = []key.Binding{home, again, note, densities}
	}
	a.Help = widget.Help{
		About: "The session is over. What it came to stands in one line; beneath it only what was not as planned. " +
			"All of it is in the notebook, and what is noted later too.",
		Guides: []string{"wet-time", "print"},
		Groups: []widget.KeyGroup{
			{Purpose: "Now, or when the film is dry", Keys: []key.Binding{bind("n", "a note"), bind("v", "how the negatives look"),
				bind("e", "the emulsion"), bind("d", "read densities")}},
			{Purpose: "Next", Keys: []key.Binding{bind("a", "plan the same recipe again, or its next round"), bind("enter", "the recipes"), bind("q", "leave wetside")}},
			{Purpose: "Looking", Keys: []key.Binding{bind("↑↓ pgup pgdn", "read on"), bind("home end", "beginning, end")}},
		}}
	return a
}

func (m Model) rehearsed() bool { return m.session.RehearsalSpeed() > 0 }

// next is what comes next.
func (m Model) next() string {
	switch {
	case m.rehearsed():
		return "No film was wet; the notebook keeps rehearsals apart. Next: press enter for the recipes, choose one and plan it " +
			"for today's temperature; Prepare then leads to the dark. Press a to plan this recipe again."
	case m.film.May:
		return "Film may lie open: the screen stays red here. The recipes come in white light, so cover it first."
	case m.look.Over == sequence.SessionStopped:
		return "n notes why it was ended. a plans the same recipe again."
	}
	red := ""
	if m.Light() == light.Red {
		red = " The last step was not in white light: the screen stays red here, the recipes come in white."
	}
	for i := range m.session.Plan().Steps {
		if len(m.session.Plan().Steps[i].Doses) > 0 {
			return "A film test: when the negatives are dry, d reads their densities, here or in the notebook." + red
		}
	}
	return "When the film is dry: v how the negatives look, e the emulsion, n a note; here or in the notebook. a plans the next round." + red
}

// headline is the result; of a rehearsal how it was rehearsed before it.
func (m Model) headline(outcome string) string {
	if !m.rehearsed() {
		return outcome
	}
	how := "in the dark"
	if m.session.Lit() {
		how = "in the light"
	}
	if m.session.SkipsQuiet() {
		how = "with real hands, " + how
	} else {
		how += fmt.Sprintf(", %g×", m.session.RehearsalSpeed())
	}
	return "Rehearsed " + how + ". " + strings.TrimSpace(strings.TrimPrefix(outcome, "Done."))
}
