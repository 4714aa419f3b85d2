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
	offers  Utterance // the choice that was offered last
	sheet   int       // of that choice, named last: two presses take it; 0 while none is
	offered time.Time // when; zero for none
}

// open reports whether a choice stands at a moment.
func (n menuModel) open(now time.Time) bool {
	return !n.offered.IsZero() && now.Sub(n.offered) <= menuFor
}

// choices are what the menu offers as a session stands, in order. Advice takes words.
func choices(s SessionView) []Utterance {
	l, list := s.Snapshot(), []Utterance{OffersHold}
	if l.Held {
		list[0] = OffersGo
	}
	if l.CanUndo {
		list = slices.Insert(list, 0, OffersUndo)
	}
	switch late := s.LateSheets(); {
	case len(late) > 0 && late[0].Together:
		list = append(list, OffersFilm)
	case len(late) > 0:
		list = append(list, OffersLate)
	}
	if len(s.SheetsToSetAside()) > 0 {
		list = append(list, OffersSetAside)
	}
	if s.Speaks() {
		list = append(list, OffersAdvice)
	}
	return append(list, OffersStop)
}

// sheets are those that a choice may mean, in order; none where it means no sheet.
func (s Utterance) sheets(of SessionView) []int {
	switch s {
	case OffersSetAside:
		return of.SheetsToSetAside()
	case OffersLate:
		var list []int
		for _, l := range of.LateSheets() {
			list = append(list, l.Sheet)
		}
		return list
	}
	return nil
}

// command is what the choice that was offered last asks of a session.
func (n menuModel) command(s SessionView) sequence.Command {
	switch n.offers {
	case OffersHold:
		return sequence.Hold{}
	case OffersGo:
		return sequence.EndHold{}
	case OffersUndo:
		return sequence.Undo{}
	case OffersStop:
		return sequence.EndSession{}
	case OffersSetAside:
		return sequence.SetSheetAside{Sheet: n.sheet}
	case OffersFilm:
		for _, l := range s.LateSheets() {
			return sequence.MarkLate{Sheet: l.Sheet}
		}
	}
	return sequence.MarkLate{Sheet: n.sheet}
}

// following is what comes behind one in a list; the first behind the last, and behind what
// is not there.
func following[T comparable](list []T, one T) T {
	return list[(slices.Index(list, one)+1)%len(list)]
}

// darkKey is all that a key can do while no cell is lit, on whatever screen.
func (m Model) darkKey(key string) (tea.Model, tea.Cmd) {
	var t pressKind
	switch actionOf(runScreen, key) {
	case bigKeyAction:
		m.bigPress, t = m.bigPress.press(m.o.Now())
		return m.bigInDark(t)
	case menu:
		m.menuPress, t = m.menuPress.press(m.o.Now())
		if t != samePress {
			return m.offerNext(), nil
		}
	case goBack:
		m.escapePress, t = m.escapePress.press(m.o.Now())
		if t == twoPresses && m.screen != runScreen && !m.starting {
			return m.lightBack()
		}
	}
	return m, nil
}

// bigInDark answers one touch and acts on two, also while the menu is open.
func (m Model) bigInDark(t pressKind) (tea.Model, tea.Cmd) {
	switch {
	case t == samePress:
		return m, nil
	case m.screen == runScreen && m.menu.open(m.o.Now()):
		return m.choose(t), nil
	case t == twoPresses:
		return m.actInDark()
	case m.screen == runScreen:
		m.run.session.SpeakState()
	case m.screen == prepareScreen && !m.starting:
		m.o.Backend.Say(SaysLoading)
	case !m.starting: // it could not be taken up
		m.o.Backend.Say(m.failure)
	}
	return m, nil
}

// choose takes what the menu offered last: by one touch what can be taken back, by two
// what cannot, or which sheet is meant; of that the first touch says it again.
func (m Model) choose(t pressKind) Model {
	s, chosen := m.run.session, m.menu
	switch list := chosen.offers.sheets(s); {
	case chosen.sheet == 0 && len(list) > 0:
		m.bigPress = m.bigPress.reset()
		return m.name(list[0])
	case t == onePress && chosen.sheet > 0:
		return m.name(chosen.sheet)
	case t == onePress && chosen.offers == OffersStop:
		return m // the second is awaited
	}
	m.menu, m.bigPress = menuModel{}, m.bigPress.reset()
	if chosen.offers == OffersAdvice {
		s.Say(SaysAdvice)
		return m
	}
	return m.ask(chosen.command(s))
}

// name offers one sheet of the choice that was taken.
func (m Model) name(sheet int) Model {
	m.menu.sheet, m.menu.offered = sheet, m.o.Now()
	m.run.session.OfferSheet(m.menu.offers, sheet)
	return m
}

// offerNext opens the menu, or goes on to its next choice, or to the next sheet of one;
// after the last one comes the first. A touch of the big key that waited for its second
// waits no more.
func (m Model) offerNext() Model {
	m.bigPress = m.bigPress.reset()
	switch {
	case m.screen == prepareScreen && !m.starting:
		m.o.Backend.Say(SaysLoading)
		return m
	case m.screen != runScreen && !m.starting:
		m.o.Backend.Say(m.failure)
		return m
	case m.screen != runScreen:
		return m
	case m.run.session.Snapshot().Over != "":
		m.run.session.SpeakState()
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
		s.Say(SaysNotPossible)
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
	if !m.messageIsError {
		m = m.showMessage("the light is back; nothing has begun")
	}
	return m.setDark(false)
}

// actInDark begins or takes up, brings back a light that was offered, or moves on.
func (m Model) actInDark() (tea.Model, tea.Cmd) {
	switch {
	case m.screen == prepareScreen:
		return m.start(m.o.asWithFilm(SessionStart{Plan: m.prep.plan, Notes: m.prep.answers}))
	case m.screen != runScreen: // dark from the first frame, and the session could not be taken up
		return m.resume(m.o.Resume)
	}
	s := m.run.session
	if l := s.Snapshot(); l.LightOffered || l.Over != "" {
		s.Do(sequence.Report{Kind: sequence.LightChanged, Text: "on"})
		m.run = m.run.refresh()
		m, cmd := m.setDark(false)
		m, again := m.tickAfter(heardWithin)
		return m, tea.Sequence(cmd, again)
	}
	if l := s.Snapshot(); l.InRow && !l.Held {
		return m.ask(sequence.Hold{}), nil // a sheet is stuck: the row waits, the next two presses move it
	}
	return m.ask(sequence.MoveOn{}), nil
}
