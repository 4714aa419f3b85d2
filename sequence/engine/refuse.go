package engine

// Why a command would change nothing now.

import (
	"fmt"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

// undoFor is how long an act can be taken back.
const undoFor = 10 * time.Second

// Refuse says why a command would change nothing at now, or returns "". Decide
// ignores such a command; whoever passes it on can tell the person.
func (s State) Refuse(c sequence.Command, now sequence.Elapsed) string {
	if _, ok := c.(sequence.Begin); ok {
		return refuseUnless(!s.began, "the session has begun already")
	}
	if !s.began {
		return "the session has not begun"
	}
	if s.over != "" {
		return "the session is over"
	}
	e := s.forecastNow.change
	switch c := c.(type) {
	case sequence.MoveOn:
		return refuseUnless(e.at != sequence.Never, "nothing is left to move")
	case sequence.Pull:
		return refuseUnless(e.at != sequence.Never && e.from >= 0 && s.plan.Steps[e.from].PullsSheets(),
			"no sheet of a film test is in the developer")
	case sequence.Undo:
		return refuseUnless(s.filmBeforeAct != nil && now-s.actAt <= undoFor, "nothing was done in the last ten seconds")
	case sequence.Hold:
		return refuseUnless(!s.filmState.held, "held already")
	case sequence.EndHold:
		return refuseUnless(s.filmState.held, "nothing is held")
	case sequence.TakeReading:
		return s.refuseReading(c, now)
	case sequence.MarkLate:
		return s.refuseLate(c)
	case sequence.SetSheetAside:
		return s.refuseAside(c)
	}
	return ""
}

func refuseUnless(ok bool, why string) string {
	if ok {
		return ""
	}
	return why
}

// oldestReading is how old a reading may be.
const oldestReading = 24 * time.Hour

// mostSurprise is how far a reading typed by hand may be from what was expected before
// it is asked for again: 21.5 becomes 31.5 by a slip of the finger (our own rule).
const mostSurprise chem.Celsius = 6

func (s State) refuseReading(c sequence.TakeReading, now sequence.Elapsed) string {
	if meant := withoutPoint(c); c.T > sequence.HighestBath && meant >= sequence.LowestBath && meant <= sequence.HighestBath {
		return fmt.Sprintf("%s is no temperature of a bath: is it %s?", c.Units.Temperature(c.T), c.Units.Temperature(meant))
	}
	if !(c.T >= sequence.LowestBath && c.T <= sequence.HighestBath) {
		return fmt.Sprintf("%s is no temperature of a bath; expected %s to %s", c.Units.Temperature(c.T), c.Units.Degrees(sequence.LowestBath), c.Units.Temperature(sequence.HighestBath))
	}
	if c.Ago < 0 || c.Ago > oldestReading {
		return fmt.Sprintf("a reading of %s ago; expected 0:00 to %s", sequence.FormatElapsed(c.Ago), sequence.FormatElapsed(oldestReading))
	}
	if c.Confirmed || c.Source != sequence.ByHand {
		return ""
	}
	for i := range s.plan.Steps {
		if s.plan.Steps[i].TimeByTemperature == nil {
			continue
		}
		if w := s.plan.Steps[i].TimeByTemperature; outside(w, c.T) {
			return fmt.Sprintf("%s is outside the recipe's table, %s to %s, and no time is known there: is that right? Then say it with sure",
				c.Units.Temperature(c.T), c.Units.Degrees(w.Table[0].T), c.Units.Temperature(w.Table[len(w.Table)-1].T))
		}
		expected := s.course(i).At(now - c.Ago)
		return refuseUnless(c.T-expected <= mostSurprise && expected-c.T <= mostSurprise,
			fmt.Sprintf("%s where %s was expected: is that right? Then say it with sure", c.Units.Temperature(c.T), c.Units.ToTenth(expected)))
	}
	return ""
}

// withoutPoint is what was meant where the decimal point was left out: 215 for 21.5.
func withoutPoint(c sequence.TakeReading) chem.Celsius {
	if c.Units.Fahrenheit {
		return chem.FromFahrenheit(c.T.Fahrenheit() / 10)
	}
	return c.T / 10
}

func (s State) refuseSheet(n int) string {
	switch {
	case n < 1 || n > s.plan.Sheets:
		return fmt.Sprintf("there is no sheet %d; expected 1 to %d", n, s.plan.Sheets)
	case s.filmState.film.IsSetAside(s.plan, n-1):
		return fmt.Sprintf("sheet %d is set aside", n)
	}
	return ""
}

func (s State) refuseAside(c sequence.SetSheetAside) string {
	if why := s.refuseSheet(c.Sheet); why != "" {
		return why
	}
	at, others := s.where(c.Sheet-1), 0
	for k := range s.plan.Sheets {
		if k != c.Sheet-1 && s.where(k) < len(s.plan.Steps) {
			others++
		}
	}
	switch {
	case at < 0 || at >= len(s.plan.Steps):
		return fmt.Sprintf("sheet %d is not in a bath", c.Sheet)
	case others == 0:
		return fmt.Sprintf("sheet %d is the last one; end the session instead", c.Sheet)
	}
	return ""
}

func (s State) refuseLate(c sequence.MarkLate) string {
	if why := s.refuseSheet(c.Sheet); why != "" {
		return why
	}
	late := s.filmState.late != nil && s.filmState.late[c.Sheet-1]
	return refuseUnless(s.where(c.Sheet-1) >= 0 && !late, fmt.Sprintf("sheet %d has not been moved", c.Sheet))
}
