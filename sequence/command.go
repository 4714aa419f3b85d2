package sequence

// What can be asked of a session, and when it cannot be done.

import (
	"fmt"
	"time"

	"example.org/wetside/chem"
)

// Command asks something of a session: of the person, or of the driver (Wake,
// Begin, Gap, Resume, Tell).
type Command interface{ command() }

// The driver's commands.
type (
	// Wake only lets fall due what is due.
	Wake struct{}
	// Begin starts the session; its moment, at or before 0, is the lead.
	Begin struct{ ID, Version string }
	// Gap says that nothing was decided from From to To: the program slept.
	Gap struct{ From, To Elapsed }
	// Resume takes up a session cut off at From. Gap tells that it was away for
	// long enough to make a gap; Ask that the elapsed time itself is uncertain.
	Resume struct {
		From Elapsed
		Gap  bool
		Ask  bool
		Text string
	}
	// Tell records what neither moves film nor was asked for: sound lost or
	// back, a clock that jumped, trouble with the journal, light, hand-over.
	Tell struct {
		Kind EventKind
		Text string
	}
)

// The person's commands.
type (
	// MoveOn carries out the next change of bath now.
	MoveOn struct{}
	// Undo takes back the last act, within ten seconds.
	Undo struct{}
	// Hold stops moving on; the chemistry goes on.
	Hold struct{}
	// Go ends a hold.
	Go struct{}
	// Read gives the developer's temperature, Ago before now.
	Read struct {
		T      chem.Celsius
		Ago    time.Duration
		Source string // hand or sensor
		Sure   bool   // believed however far it is from what was expected
		Habits Habits // of whoever gave it: on which scale a refusal speaks
	}
	// TakeOut lifts the next sheet of a film test out of the developer now.
	TakeOut struct{}
	// Late says that Sheet is still where it was before the record moved it.
	Late struct{ Sheet int }
	// Aside says that Sheet is lost, ruined or set aside in plain water: it moves on
	// no more, and its wet time goes on.
	Aside struct{ Sheet int }
	// Remark adds a note.
	Remark struct{ Text string }
	// Stop ends the session before its end.
	Stop struct{}
)

func (Wake) command()    {}
func (Begin) command()   {}
func (Gap) command()     {}
func (Resume) command()  {}
func (Tell) command()    {}
func (MoveOn) command()  {}
func (Undo) command()    {}
func (Hold) command()    {}
func (Go) command()      {}
func (Read) command()    {}
func (TakeOut) command() {}
func (Late) command()    {}
func (Aside) command()   {}
func (Remark) command()  {}
func (Stop) command()    {}

// undoFor is how long an act can be taken back.
const undoFor = 10 * time.Second

// Where a reading comes from.
const (
	ByHand   = "hand"
	BySensor = "sensor"
)

// The temperatures that a reading is believed to be.
const lowest, highest chem.Celsius = 0, 60

// Refuse says why a command would change nothing at now, or returns "". Decide
// ignores such a command; whoever passes it on can tell the person.
func (s State) Refuse(c Command, now Elapsed) string {
	if _, ok := c.(Begin); ok {
		return unless(!s.began, "the session has begun already")
	}
	if !s.began {
		return "the session has not begun"
	}
	if s.over != "" {
		return "the session is over"
	}
	e := s.ahead.edge
	switch c := c.(type) {
	case MoveOn:
		return unless(e.at != Never, "nothing is left to move")
	case TakeOut:
		return unless(e.at != Never && e.from >= 0 && s.plan.Steps[e.from].TakesOut(),
			"no sheet of a film test is in the developer")
	case Undo:
		return unless(s.before != nil && now-s.actAt <= undoFor, "nothing was done in the last ten seconds")
	case Hold:
		return unless(!s.moves.held, "held already")
	case Go:
		return unless(s.moves.held, "nothing is held")
	case Read:
		return s.refuseReading(c, now)
	case Late:
		return s.refuseLate(c)
	case Aside:
		return s.refuseAside(c)
	}
	return ""
}

func unless(ok bool, why string) string {
	if ok {
		return ""
	}
	return why
}

// longestAgo is how old a reading may be.
const longestAgo = 24 * time.Hour

// slip is how far a reading typed by hand may be from what was expected before
// it is asked for again: 21.5 becomes 31.5 by a slip of the finger (our own rule).
const slip chem.Celsius = 6

func (s State) refuseReading(c Read, now Elapsed) string {
	if meant := c.withoutPoint(); c.T > highest && meant >= lowest && meant <= highest {
		return fmt.Sprintf("%s is no temperature of a bath: is it %s?", c.Habits.Temperature(c.T), c.Habits.Temperature(meant))
	}
	if !(c.T >= lowest && c.T <= highest) {
		return fmt.Sprintf("%s is no temperature of a bath; expected %s to %s", c.Habits.Temperature(c.T), c.Habits.Degrees(lowest), c.Habits.Temperature(highest))
	}
	if c.Ago < 0 || c.Ago > longestAgo {
		return fmt.Sprintf("a reading of %s ago; expected 0:00 to %s", Clock(c.Ago), Clock(longestAgo))
	}
	if c.Sure || c.Source != ByHand {
		return ""
	}
	for i := range s.plan.Steps {
		if s.plan.Steps[i].Works == nil {
			continue
		}
		if w := s.plan.Steps[i].Works; w.outside(c.T) {
			return fmt.Sprintf("%s is outside the recipe's table, %s to %s, and no time is known there: is that right? Then say it with sure",
				c.Habits.Temperature(c.T), c.Habits.Degrees(w.Table[0].T), c.Habits.Temperature(w.Table[len(w.Table)-1].T))
		}
		expected := s.course(i).At(now - c.Ago)
		return unless(c.T-expected <= slip && expected-c.T <= slip,
			fmt.Sprintf("%s where %s was expected: is that right? Then say it with sure", c.Habits.Temperature(c.T), c.Habits.Tenths(expected)))
	}
	return ""
}

// withoutPoint is what was meant where the decimal point was left out: 215 for 21.5.
func (c Read) withoutPoint() chem.Celsius {
	if c.Habits.Fahrenheit {
		return chem.FromFahrenheit(c.T.Fahrenheit() / 10)
	}
	return c.T / 10
}

func (s State) refuseSheet(n int) string {
	switch {
	case n < 1 || n > s.plan.Sheets:
		return fmt.Sprintf("there is no sheet %d; expected 1 to %d", n, s.plan.Sheets)
	case s.moves.film.aside(s.plan, n-1):
		return fmt.Sprintf("sheet %d is set aside", n)
	}
	return ""
}

func (s State) refuseAside(c Aside) string {
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

func (s State) refuseLate(c Late) string {
	if why := s.refuseSheet(c.Sheet); why != "" {
		return why
	}
	late := s.moves.late != nil && s.moves.late[c.Sheet-1]
	return unless(s.where(c.Sheet-1) >= 0 && !late, fmt.Sprintf("sheet %d has not been moved", c.Sheet))
}
