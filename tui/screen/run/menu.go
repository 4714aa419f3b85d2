package run

// The menu of the second key in the dark, spoken or by tones to be counted, that the big
// key answers.

import (
	"slices"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/press"
	"example.org/wetside/tui/screen"
)

// menuFor is how long a choice stands after it was offered.
const menuFor = 10 * time.Second

// menu is the spoken menu; nothing is offered in the zero value.
type menu struct {
	offers  screen.Utterance // the choice that was offered last
	sheet   int              // of that choice, named last: two touches take it; 0 while none is
	offered time.Time        // when; zero for none
}

// open reports whether a choice stands at a moment.
func (n menu) open(now time.Time) bool {
	return !n.offered.IsZero() && now.Sub(n.offered) <= menuFor
}

// choices are what the menu offers as a session stands, in order. Advice takes words.
func choices(s screen.Session) []screen.Utterance {
	l, list := s.Snapshot(), []screen.Utterance{screen.OffersHold}
	if l.Held {
		list[0] = screen.OffersGo
	}
	if l.CanUndo {
		list = slices.Insert(list, 0, screen.OffersUndo)
	}
	switch late := s.LateSheets(); {
	case len(late) > 0 && late[0].Together:
		list = append(list, screen.OffersFilm)
	case len(late) > 0:
		list = append(list, screen.OffersLate)
	}
	if len(s.SheetsToSetAside()) > 0 {
		list = append(list, screen.OffersSetAside)
	}
	if s.Speaks() {
		list = append(list, screen.OffersAdvice)
	}
	return append(list, screen.OffersStop)
}

// sheetsOf are those that a choice may mean, in order; none where it means no sheet.
func sheetsOf(offer screen.Utterance, s screen.Session) []int {
	switch offer {
	case screen.OffersSetAside:
		return s.SheetsToSetAside()
	case screen.OffersLate:
		var list []int
		for _, l := range s.LateSheets() {
			list = append(list, l.Sheet)
		}
		return list
	}
	return nil
}

// command is what the choice that was offered last asks of a session.
func (n menu) command(s screen.Session) sequence.Command {
	switch n.offers {
	case screen.OffersHold:
		return sequence.Hold{}
	case screen.OffersGo:
		return sequence.EndHold{}
	case screen.OffersUndo:
		return sequence.Undo{}
	case screen.OffersStop:
		return sequence.EndSession{}
	case screen.OffersSetAside:
		return sequence.SetSheetAside{Sheet: n.sheet}
	case screen.OffersFilm:
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

// choose takes what the menu offered last: by one touch what can be undone, by two
// what cannot, or which sheet is meant; of that the first touch says it again. Where a touch
// was the answer, the next is a first one.
func (m Model) choose(kind press.Kind) (Model, screen.Action) {
	chosen := m.menu
	switch list := sheetsOf(chosen.offers, m.session); {
	case chosen.sheet == 0 && len(list) > 0:
		return m.name(list[0]), screen.TouchSpent{}
	case kind == press.One && chosen.sheet > 0:
		return m.name(chosen.sheet), nil
	case kind == press.One && chosen.offers == screen.OffersStop:
		return m, nil // the second is awaited
	}
	m.menu = menu{}
	if chosen.offers == screen.OffersAdvice {
		m.session.Say(screen.SaysAdvice)
		return m, screen.TouchSpent{}
	}
	m.ask(chosen.command(m.session))
	return m, screen.TouchSpent{}
}

// name offers one sheet of the choice that was taken.
func (m Model) name(sheet int) Model {
	m.menu.sheet, m.menu.offered = sheet, m.env.Now()
	m.session.OfferSheet(m.menu.offers, sheet)
	return m
}

// offerNext opens the menu, or goes on to its next choice, or to the next sheet of one;
// after the last one comes the first. A session that is over has nothing to choose.
func (m Model) offerNext() Model {
	s, open := m.session, m.menu.open(m.env.Now())
	if s.Snapshot().Over != "" {
		s.SpeakState()
		return m
	}
	if list := sheetsOf(m.menu.offers, s); open && m.menu.sheet > 0 && len(list) > 0 {
		return m.name(following(list, m.menu.sheet))
	}
	list := choices(s)
	next := list[0]
	if open {
		next = following(list, m.menu.offers)
	}
	m.menu = menu{offers: next, offered: m.env.Now()}
	s.Say(next)
	return m
}
