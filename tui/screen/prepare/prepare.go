// Package prepare is the list that is worked off before a session: mix, set out, measure,
// see to the laptop and the room. What matters for light and safety is asked with keys of
// its own; then the big key darkens the screen for loading, or begins where nothing is dark.
package prepare

import (
	"cmp"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/light"
	"example.org/wetside/tui/press"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
)

// Backend is what this screen needs of the world.
type Backend interface {
	Sound() string        // whether there is sound, before a session
	Say(screen.Utterance) // where there is no session; nothing is waited for
}

// Model is the screen.
type Model struct {
	b     Backend
	env   screen.Env
	sound string

	thermometer
	at   int            // the line under the cursor
	done [sections]bool // worked off
	w, h int            // room for the body

	answers [asksCount]string // what is recorded of each; "" while it stands

	dark     bool // the screen is black, for loading
	darkOnly bool // and nothing else: a dark rehearsal begins here
	film     screen.OpenFilm
	starting bool   // the session is being begun
	failed   string // why the last could not begin
}

// New makes it.
func New(b Backend, env screen.Env, p *sequence.Plan) Model {
	return Model{b: b, env: env, sound: b.Sound(), thermometer: thermometer{opened: p, plan: p, units: env.Units()}}
}

// DarkRehearsal makes it black already, for a rehearsal: no film is loaded, and two presses begin.
func DarkRehearsal(b Backend, env screen.Env, p *sequence.Plan, how screen.Rehearsal) Model {
	env.Rehearsal = how
	m := New(b, env, p)
	m.dark, m.darkOnly = true, true
	return m
}

// Sized tells how much room there is.
func (m Model) Sized(w, h int) screen.Screen {
	m.w, m.h = w, h
	return m
}

// questions are what is asked, as it stands.
func (m Model) questions() questions {
	return questions{m.plan, m.units, m.sound, m.env.BlackUnconfirmed, string(m.env.Around), m.env.HidesLine, m.env.OverSSH, m.env.Rehearsal.Dark, m.answers}
}

// lines is the whole list.
func (m Model) lines() []line {
	return checklist{m.questions(), m.thermometer, m.env.Keys.BigName()}.lines()
}

// section is where the cursor is.
func (m Model) section() int {
	list := m.lines()
	return list[max(0, min(m.at, len(list)-1))].section
}

// Unsaved reports whether leaving would lose answers or a reading.
func (m Model) Unsaved() bool { return m.reading != "" || m.answers != [asksCount]string{} }

// Update takes a message.
func (m Model) Update(msg tea.Msg) (screen.Screen, screen.Action, tea.Cmd) {
	switch msg := msg.(type) {
	case screen.BeginFailedMsg: // a dark screen stays dark: the film may be open
		m.starting, m.failed = false, msg.Err.Error()
	case tea.KeyMsg:
		if m.dark || m.starting {
			return m, nil, nil
		}
		before := m.film
		m, action := m.key(msg)
		m.film = m.film.After(before)
		m.film.May = m.film.May || mayBeLoaded(m)
		return m, action, nil
	}
	return m, nil, nil
}

// Light is white at the desk, red from the question about the panel on, as dim as can be
// read where film is loaded by safelight, and from then on.
func (m Model) Light() light.Light {
	switch {
	case m.dark:
		return light.Dark
	case first(m.plan) == sequence.Safelight && (m.starting || m.film.May || m.section() == roomSection):
		return light.Safelight
	case m.plan.HasDark() && (m.answers[askPanel] != "" || m.section() >= laptopSection):
		return light.Red
	}
	return light.White
}

// mayBeLoaded reports whether the screen, all questions answered, shows that film is loaded now.
func mayBeLoaded(m Model) bool {
	_, open := m.questions().open()
	safelit := first(m.plan) == sequence.Safelight && m.section() == roomSection
	return (m.dark || safelit) && !open && !m.env.Rehearsal.Dark
}

// first is the light of a plan's first step, in which film is loaded.
func first(p *sequence.Plan) sequence.Light { return p.Steps[0].RoomLight }

// Touch is a touch of the big key; in the dark also of the others.
func (m Model) Touch(t screen.Touch) (screen.Screen, screen.Action, tea.Cmd) {
	var action screen.Action
	switch {
	case m.starting:
	case m.dark:
		m, action = m.touchedInDark(t)
	case t.Key == screen.BigKey:
		m, action = m.ready()
	}
	return m, action, nil
}

// touchedInDark answers one touch, begins by two, and lights the screen by escape twice.
func (m Model) touchedInDark(t screen.Touch) (Model, screen.Action) {
	switch {
	case t.Key == screen.EscapeKey && t.Kind == press.Two:
		if m.darkOnly {
			return m, screen.Several{screen.Back{}, screen.Message{Text: cmp.Or(say.Sentence(m.failed), "Nothing has begun."), Fault: true}}
		}
		m.dark = false
		if m.failed != "" {
			return m, screen.Message{Text: strings.TrimSpace(say.Sentence(m.failed) + " " + m.film.Warning()), Fault: true}
		}
		return m, screen.Message{Text: strings.TrimSpace("The light is back, red. Nothing has begun. " + m.film.Warning()), Fault: true}
	case t.Key == screen.BigKey && t.Kind == press.Two:
		return m.begin()
	case t.Key != screen.EscapeKey:
		m.b.Say(screen.SaysLoading)
	}
	return m, nil
}

// ready goes on when all is answered: it darkens the screen where the first step is dark,
// else it begins. It answers nothing itself.
func (m Model) ready() (Model, screen.Action) {
	switch ask, open := m.questions().open(); {
	case m.fault != "":
		return m.goTo(measureSection), spent("First the thermometer: " + m.fault + ".")
	case open:
		return m.goToAsk(ask), spent("First: " + ask.short() + " The big key is no answer.")
	case first(m.plan) == sequence.Dark:
		m.dark = true
		m.film.May = mayBeLoaded(m)
		return m, nil
	case first(m.plan) == sequence.Safelight && m.section() != roomSection:
		m = m.goTo(roomSection)
		m.film.May = mayBeLoaded(m)
		return m, screen.TouchSpent{}
	}
	m, action := m.begin()
	return m, screen.Several{action, screen.TouchSpent{}}
}

// Interrupt leaves the program.
func (m Model) Interrupt() (screen.Screen, screen.Action, tea.Cmd) {
	var action screen.Action
	m.film, action = m.film.Left(screen.Quit{}, "ctrl+c")
	return m, action, nil
}

func spent(text string) screen.Action {
	return screen.Several{screen.Message{Text: text, Fault: true}, screen.TouchSpent{}}
}

// begin begins the session, with film or rehearsed as if.
func (m Model) begin() (Model, screen.Action) {
	s := screen.SessionStart{Plan: m.plan, Countdown: m.env.Countdown, Notes: m.questions().notes()}
	if r := m.env.Rehearsal; r.Dark {
		s.RehearsalSpeed, s.SkipQuiet, s.Dark = r.Speed, r.SkipQuiet, true
	}
	m.starting, m.failed = true, ""
	return m, screen.Begin{Start: s}
}

// measured takes in what the thermometer reads now. A yes to dangers that are no longer the
// same is dropped.
func (m Model) measured(t thermometer) Model {
	if m.thermometer = t; m.answers[askDanger] != m.questions().dangerNote() {
		m.answers[askDanger] = ""
	}
	return m
}
