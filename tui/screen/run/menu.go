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
	sheet := n.sheet
	if late := s.LateSheets(); n.offers == screen.OffersFilm && len(late) > 0 {
		sheet = late[0].Sheet
	}
	return map[screen.Utterance]sequence.Command{
		screen.OffersHold: sequence.Hold{}, screen.OffersGo: sequence.EndHold{}, screen.OffersUndo: sequence.Undo{},
		screen.OffersStop: sequence.EndSession{}, screen.OffersSetAside: sequence.SetSheetAside{Sheet: sheet},
		screen.OffersFilm: sequence.MarkLate{Sheet: sheet}, screen.OffersLate: sequence.MarkLate{Sheet: sheet},
	}[n.offers]
}

// following is what comes behind one in a list; the first behind the last, and behind what
// is not there.
func following[T comparable](list []T, one T) T {
	return list[(slices.Index(list, one)+1)%len(list)]
}

// answer is what a touch of the big key came to while the menu is open.
type answer struct {
	asks  sequence.Command // of the session; nil for nothing
	spent bool             // the touch was the answer: the next is a first one
}

// touched takes what the menu offered last: by one touch what can be undone, by two
// what cannot, or which sheet is meant; of that the first touch says it again.
func (n menu) touched(kind press.Kind, s screen.Session, now time.Time) (menu, answer) {
	switch list := sheetsOf(n.offers, s); {
	case n.sheet == 0 && len(list) > 0:
		return n.named(list[0], s, now), answer{spent: true}
	case kind == press.One && n.sheet > 0:
		return n.named(n.sheet, s, now), answer{}
	case kind == press.One && n.offers == screen.OffersStop:
		return n, answer{} // the second is awaited
	case n.offers == screen.OffersAdvice:
		s.Say(screen.SaysAdvice)
		return menu{}, answer{spent: true}
	}
	return menu{}, answer{n.command(s), true}
}

// named offers one sheet of the choice that was taken.
func (n menu) named(sheet int, s screen.Session, now time.Time) menu {
	n.sheet, n.offered = sheet, now
	s.OfferSheet(n.offers, sheet)
	return n
}

// next opens the menu, or goes on to its next choice, or to the next sheet of one;
// after the last one comes the first. A session that is over has nothing to choose.
func (n menu) next(s screen.Session, now time.Time) menu {
	open := n.open(now)
	if s.Snapshot().Over != "" {
		s.SpeakState()
		return n
	}
	if list := sheetsOf(n.offers, s); open && n.sheet > 0 && len(list) > 0 {
		return n.named(following(list, n.sheet), s, now)
	}
	list := choices(s)
	next := list[0]
	if open {
		next = following(list, n.offers)
	}
	s.Say(next)
	return menu{offers: next, offered: now}
}
