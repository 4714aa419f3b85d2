package engine

// Why a command would change nothing now.

import (
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

// Rehearsed is a state in a rehearsal so many times as fast: what the person has time for is
// as long there as with film.
func Rehearsed(s State, speed float64) State {
	s.speed = speed
	return s
}

// Refuse is why a command would change nothing at now; none where it would. Decide
// ignores such a command; whoever passes it on can tell the person.
func (s State) Refuse(c sequence.Command, now sequence.Elapsed) sequence.Refusal {
	if _, ok := c.(sequence.Begin); ok {
		return refuseUnless(!s.began, "begun-already")
	}
	if !s.began {
		return sequence.Refusal{Code: "not-begun"}
	}
	if s.over != "" {
		return sequence.Refusal{Code: "over"}
	}
	e := s.forecastNow.change
	switch c := c.(type) {
	case sequence.MoveOn:
		return refuseUnless(e.at != sequence.Never, "nothing-to-move")
	case sequence.Pull:
		return refuseUnless(e.at != sequence.Never && e.from >= 0 && s.plan.Steps[e.from].PullsSheets(), "no-test-sheet")
	case sequence.Undo:
		return refuseUnless(s.canUndo(now, s.speed), "nothing-to-undo")
	case sequence.Hold:
		return refuseUnless(!s.filmState.held, "held-already")
	case sequence.EndHold:
		return refuseUnless(s.filmState.held, "not-held")
	case sequence.TakeReading:
		return refuseReading(s, c, now)
	case sequence.MarkLate:
		return refuseLate(s, c)
	case sequence.SetSheetAside:
		return refuseAside(s, c)
	}
	return sequence.Refusal{}
}

func refuseUnless(ok bool, code string) sequence.Refusal {
	if ok {
		return sequence.Refusal{}
	}
	return sequence.Refusal{Code: code}
}

func refuseSheet(code string, sheet int) sequence.Refusal {
	return sequence.Refusal{Code: code, Values: sequence.Values{Sheet: sheet}}
}

// oldestReading is how old a reading may be.
const oldestReading = 24 * time.Hour

// mostSurprise is how far a reading typed by hand may be from what was expected before
// it is asked for again: 21.5 becomes 31.5 by a slip of the finger (our own rule).
const mostSurprise chem.Celsius = 6

func refuseReading(s State, c sequence.TakeReading, now sequence.Elapsed) sequence.Refusal {
	if meant := withoutPoint(c); c.T > sequence.HighestBath && meant >= sequence.LowestBath && meant <= sequence.HighestBath {
		return sequence.Refusal{Code: "point-left-out", Values: sequence.Values{Temperature: c.T, Expected: meant}}
	}
	if !(c.T >= sequence.LowestBath && c.T <= sequence.HighestBath) {
		return sequence.Refusal{Code: "no-bath-so-warm", Values: sequence.Values{Temperature: c.T, Low: sequence.LowestBath, High: sequence.HighestBath}}
	}
	if c.Ago < 0 || c.Ago > oldestReading {
		return sequence.Refusal{Code: "reading-too-old", Values: sequence.Values{Ago: c.Ago, Of: oldestReading}}
	}
	if c.Confirmed || c.Source != sequence.ByHand {
		return sequence.Refusal{}
	}
	for i := range s.plan.Steps {
		w := s.plan.Steps[i].TimeByTemperature
		if w == nil {
			continue
		}
		if outside(w, c.T) {
			return sequence.Refusal{Code: "outside-table", Values: sequence.Values{Temperature: c.T, Low: w.Table[0].T, High: w.Table[len(w.Table)-1].T}}
		}
		if expected := s.course(i).At(now - c.Ago); !(c.T-expected <= mostSurprise && expected-c.T <= mostSurprise) {
			return sequence.Refusal{Code: "not-expected", Values: sequence.Values{Temperature: c.T, Expected: expected}}
		}
		break
	}
	return sequence.Refusal{}
}

// withoutPoint is what was meant where the decimal point was left out: 215 for 21.5.
func withoutPoint(c sequence.TakeReading) chem.Celsius {
	if c.Units.Fahrenheit {
		return chem.FromFahrenheit(c.T.Fahrenheit() / 10)
	}
	return c.T / 10
}

func refuseNumber(s State, n int) sequence.Refusal {
	switch {
	case n < 1 || n > s.plan.Sheets:
		return sequence.Refusal{Code: "no-such-sheet", Values: sequence.Values{Sheet: n, Sheets: s.plan.Sheets}}
	case s.filmState.film.IsSetAside(s.plan, n-1):
		return refuseSheet("set-aside-already", n)
	}
	return sequence.Refusal{}
}

func refuseAside(s State, c sequence.SetSheetAside) sequence.Refusal {
	if why := refuseNumber(s, c.Sheet); why.Refused() {
		return why
	}
	switch at := s.where(c.Sheet - 1); {
	case at < 0 || at >= len(s.plan.Steps):
		return refuseSheet("not-in-a-bath", c.Sheet)
	case notYetOut(s.filmState) == 1:
		return refuseSheet("last-sheet", c.Sheet)
	}
	return sequence.Refusal{}
}

func refuseLate(s State, c sequence.MarkLate) sequence.Refusal {
	if why := refuseNumber(s, c.Sheet); why.Refused() {
		return why
	}
	if late := s.filmState.late != nil && s.filmState.late[c.Sheet-1]; late || s.where(c.Sheet-1) < 0 {
		return refuseSheet("not-transferred", c.Sheet)
	}
	return sequence.Refusal{}
}
