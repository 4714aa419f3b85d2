package tui

// The keys in the dark: the big one, one touch of which only speaks and two act;
// the second one, which opens a menu, spoken or by tones to be counted, that the big
// one answers; and escape, which twice brings the light back where there is no session.

import (
	"slices"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/sequence"
)

// menuFor is how long a choice stands after it was offered.
const menuFor = 10 * time.Second

// menuModel is the spoken menu; nothing is offered in the zero value.
type menuModel struct {
	offers  Saying    // the choice that was offered last
	offered time.Time // when; zero for none
}

// open reports whether a choice stands at a moment.
func (n menuModel) open(now time.Time) bool {
	return !n.offered.IsZero() && now.Sub(n.offered) <= menuFor
}

// choices are what the menu offers as a session stands, in order. Advice takes words.
func choices(l sequence.Look, speaks bool) []Saying {
	list := []Saying{OffersHold, OffersStop}
	if l.Held {
		list[0] = OffersGo
	}
	if speaks {
		list = slices.Insert(list, 1, OffersHelp)
	}
	if l.CanUndo {
		list = slices.Insert(list, 0, OffersUndo)
	}
	return list
}

// commands are what the choices ask of a session.
var commands = map[Saying]sequence.Command{OffersHold: sequence.Hold{}, OffersGo: sequence.Go{},
	OffersUndo: sequence.Undo{}, OffersStop: sequence.Stop{}}

// darkKey is all that a key can do while no cell is lit, on whatever screen.
func (m Model) darkKey(key string) (tea.Model, tea.Cmd) {
	var t touch
	switch actionOf(running, key) {
	case big:
		m.press, t = m.press.hit(m.o.Now())
		return m.bigInDark(t)
	case menu:
		m.second, t = m.second.hit(m.o.Now())
		if t != sameTouch {
			return m.offerNext(), nil
		}
	case back:
		m.third, t = m.third.hit(m.o.Now())
		if t == twoTouches && m.screen != running && !m.starting {
			return m.lightBack()
		}
	}
	return m, nil
}

// bigInDark answers one touch and acts on two; while the menu is open it takes what
// was offered: by one touch what can be taken back, by two what cannot.
func (m Model) bigInDark(t touch) (tea.Model, tea.Cmd) {
	if t == sameTouch {
		return m, nil
	}
	if m.screen == running && m.menu.open(m.o.Now()) {
		if t == oneTouch && m.menu.offers == OffersStop {
			return m, nil // the second is awaited
		}
		chosen := m.menu.offers
		m.menu, m.press = menuModel{}, m.press.over()
		if chosen == OffersHelp {
			m.run.session.Say(SaysAdvice)
			return m, nil
		}
		return m.ask(commands[chosen]), nil
	}
	switch {
	case t == twoTouches:
		return m.actInDark()
	case m.screen == running:
		m.run.session.Answer()
	case m.screen == preparing && !m.starting:
		m.o.Host.Say(SaysLoading)
	}
	return m, nil
}

// offerNext opens the menu, or goes on to its next choice; after the last one comes
// the first. A touch of the big key that waited for its second waits no more.
func (m Model) offerNext() Model {
	m.press = m.press.over()
	switch {
	case m.screen == preparing && !m.starting:
		m.o.Host.Say(SaysLoading)
		return m
	case m.screen != running:
		return m
	case m.run.session.Look().Over != "":
		m.run.session.Answer()
		return m
	}
	list := choices(m.run.session.Look(), m.run.session.Speaks())
	next := list[0]
	for i, c := range list[:len(list)-1] {
		if m.menu.open(m.o.Now()) && c == m.menu.offers {
			next = list[i+1]
		}
	}
	m.menu = menuModel{offers: next, offered: m.o.Now()}
	m.run.session.Say(next)
	return m
}

// ask puts a command to the session in the dark; what it refuses is heard. Without a
// voice it is heard too that it was done: a move has its own tone.
func (m Model) ask(c sequence.Command) Model {
	s := m.run.session
	if s.Refuse(c) != "" {
		s.Say(SaysNo)
		return m
	}
	s.Do(c)
	if _, moves := c.(sequence.MoveOn); !moves && !s.Speaks() {
		s.Say(SaysDone)
	}
	return m
}

// lightBack lights the screen before a session, with what went wrong, if anything.
func (m Model) lightBack() (tea.Model, tea.Cmd) {
	if !m.wrong {
		m = m.say("the light is back; nothing has begun")
	}
	return m.setDark(false)
}

// actInDark begins or takes up, brings back a light that was offered, or moves on.
func (m Model) actInDark() (tea.Model, tea.Cmd) {
	switch {
	case m.screen == preparing:
		return m.start(m.o.asWithFilm(Start{Plan: m.prep.plan, Notes: m.prep.answers}))
	case m.screen != running: // dark from the first frame, and the session could not be taken up
		return m.takeUp(m.o.TakeUp)
	}
	s := m.run.session
	if l := s.Look(); l.Offer || l.Over != "" {
		s.Do(sequence.Tell{Kind: sequence.LightChanged, Text: "on"})
		m.run = m.run.pull()
		m, cmd := m.setDark(false)
		m, again := m.later(heardWithin)
		return m, tea.Sequence(cmd, again)
	}
	if l := s.Look(); l.Row && !l.Held {
		return m.ask(sequence.Hold{}), nil // a sheet is stuck: the row waits, the next two presses move it
	}
	return m.ask(sequence.MoveOn{}), nil
}
