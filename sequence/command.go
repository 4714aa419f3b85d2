package sequence

// What can be asked of a session, and when it cannot be done.

import (
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
	// Report records what neither moves film nor was asked for: sound lost or
	// back, a clock that jumped, trouble with the journal, light, hand-over.
	Report struct {
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
	// EndHold ends a hold.
	EndHold struct{}
	// TakeReading gives the developer's temperature, Ago before now.
	TakeReading struct {
		T         chem.Celsius
		Ago       time.Duration
		Source    string // hand or sensor
		Confirmed bool   // believed however far it is from what was expected
		Units     Units  // of whoever gave it: on which scale a refusal speaks
	}
	// Pull lifts the next sheet of a film test out of the developer now.
	Pull struct{}
	// MarkLate says that Sheet is still where it was before the record moved it.
	MarkLate struct{ Sheet int }
	// SetSheetAside says that Sheet is lost, ruined or set aside in plain water: it moves on
	// no more, and its wet time goes on.
	SetSheetAside struct{ Sheet int }
	// AddNote adds a note.
	AddNote struct{ Text string }
	// EndSession ends the session before its end.
	EndSession struct{}
)

func (Wake) command()          {}
func (Begin) command()         {}
func (Gap) command()           {}
func (Resume) command()        {}
func (Report) command()        {}
func (MoveOn) command()        {}
func (Undo) command()          {}
func (Hold) command()          {}
func (EndHold) command()       {}
func (TakeReading) command()   {}
func (Pull) command()          {}
func (MarkLate) command()      {}
func (SetSheetAside) command() {}
func (AddNote) command()       {}
func (EndSession) command()    {}

// Where a reading comes from.
const (
	ByHand   = "hand"
	BySensor = "sensor"
)
