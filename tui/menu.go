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
	sheet   int       // of that choice, named last: two presses take it; 0 while none is
	offered time.Time // when; zero for none
}

// open reports whether a choice stands at a moment.
func (n menuModel) open(now time.Time) bool {
	return !n.offered.IsZero() && now.Sub(n.offered) <= menuFor
}

// choices are what the menu offers as a session stands, in order. Advice takes words.
func choices(s Session) []Saying {
	l, list := s.Look(), []Saying{OffersHold}
	if l.Held {
		list[0] = OffersGo
	}
	if l.CanUndo {
		list = slices.Insert(list, 0, OffersUndo)
	}
	switch late := s.Stragglers(); {
	case len(late) > 0 && late[0].All:
		list = append(list, OffersFilm)
	case len(late) > 0:
		list = append(list, OffersLate)
	}
	if len(s.Losable()) > 0 {
		list = append(list, OffersLost)
	}
	if s.Speaks() {
		list = append(list, OffersHelp)
	}
	return append(list, OffersStop)
}

// sheets are those that a choice may mean, in order; none where it means no sheet.
func (s Saying) sheets(of Session) []int {
	switch s {
	case OffersLost:
		return of.Losable()
	case OffersLate:
		var list []int
		for _, l := range of.Stragglers() {
			list = append(list, l.Sheet)
		}
		return list
	}
	return nil
}

// command is what the choice that was offered last asks of a session.
func (n menuModel) command(s Session) sequence.Command {
	switch n.offers {
	case OffersHold:
		return sequence.Hold{}
	case OffersGo:
		return sequence.Go{}
	case OffersUndo:
		return sequence.Undo{}
	case OffersStop:
		return sequence.Stop{}
	case OffersLost:
		return sequence.Aside{Sheet: n.sheet}
	case OffersFilm:
		for _, l := range s.Stragglers() {
			return sequence.Late{Sheet: l.Sheet}
		}
	}
	return sequence.Late{Sheet: n.sheet}
}

// following is what comes behind one in a list; the first behind the last, and behind what
// is not there.
func following[T comparable](list []T, one T) T {
	return list[(slices.Index(list, one)+1)%len(list)]
}

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

// bigInDark answers one touch and acts on two, also while the menu is open.
func (m Model) bigInDark(t touch) (tea.Model, tea.Cmd) {
	switch {
	case t == sameTouch:
		return m, nil
	case m.screen == running && m.menu.open(m.o.Now()):
		return m.choose(t), nil
	case t == twoTouches:
		return m.actInDark()
	case m.screen == running:
		m.run.session.Answer()
	case m.screen == preparing && !m.starting:
		m.o.Host.Say(SaysLoading)
	case !m.starting: // it could not be taken up
		m.o.Host.Say(m.why)
	}
	return m, nil
}

// choose takes what the menu offered last: by one touch what can be taken back, by two
// what cannot, or which sheet is meant; of that the first touch says it again.
func (m Model) choose(t touch) Model {
	s, chosen := m.run.session, m.menu
	switch list := chosen.offers.sheets(s); {
	case chosen.sheet == 0 && len(list) > 0:
		m.press = m.press.over()
		return m.name(list[0])
	case t == oneTouch && chosen.sheet > 0:
		return m.name(chosen.sheet)
	case t == oneTouch && chosen.offers == OffersStop:
		return m // the second is awaited
	}
	m.menu, m.press = menuModel{}, m.press.over()
	if chosen.offers == OffersHelp {
		s.Say(SaysAdvice)
		return m
	}
	return m.ask(chosen.command(s))
}

// name offers one sheet of the choice that was taken.
func (m Model) name(sheet int) Model {
	m.menu.sheet, m.menu.offered = sheet, m.o.Now()
	m.run.session.Names(m.menu.offers, sheet)
	return m
}

// offerNext opens the menu, or goes on to its next choice, or to the next sheet of one;
// after the last one comes the first. A touch of the big key that waited for its second
// waits no more.
func (m Model) offerNext() Model {
	m.press = m.press.over()
	switch {
	case m.screen == preparing && !m.starting:
		m.o.Host.Say(SaysLoading)
		return m
	case m.screen != running && !m.starting:
		m.o.Host.Say(m.why)
		return m
	case m.screen != running:
		return m
	case m.run.session.Look().Over != "":
		m.run.session.Answer()
		return m
	}
	s, open := m.run.session, m.menu.open(m.o.Now())
	if list := m.menu.offers.sheets(s); open && m.menu.sheet > 0 && len(list) > 0 {
		return m.name(following(list, m.menu.sheet))
	}
	list := choices(s)
	next := list[0]
	if open {
		next = following(list, m.menu.offers)
	}
	m.menu = menuModel{offers: next, offered: m.o.Now()}
	s.Say(next)
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
