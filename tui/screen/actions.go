package screen

// What a screen asks of the root. Opening a screen puts it over the one that asked; Back
// takes the top one away.

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/holders"
	"example.org/wetside/sequence/notebook"
)

// Action is one of the types below.
type Action interface{ action() }

type (
	// Back goes one level up; from the recipes it does nothing. What it tells is given to the
	// screen that is come back to; nil for nothing.
	Back struct{ Tell tea.Msg }
	// Home goes back to the recipes.
	Home struct{}
	// Quit leaves the program; Sure where nothing would be lost, or the person has said so.
	Quit struct{ Sure bool }
	// Message is a sentence at the foot until the next key, or for ten seconds; of
	// something that could not be done with Fault.
	Message struct {
		Text  string
		Fault bool
	}
	// TouchSpent says that the big key's last touch was an answer, not the first of two.
	TouchSpent struct{}
	// Several are carried out in turn.
	Several []Action
)

// Towards a session.
type (
	// OpenPlan plans a recipe by its name, or the one that is given under a name of its own.
	OpenPlan struct {
		Name       string
		Recipe     *sequence.Recipe // nil: found by its name
		Conditions sequence.RawConditions
		Round      int    // rounds that are over, where the conditions name sheets in all
		Text       string // said at the foot; "" for nothing
	}
	OpenPrepare struct{ Plan *sequence.Plan }
	// OpenDarkRehearsal darkens the screen; two presses begin there, as with film.
	OpenDarkRehearsal struct {
		Plan *sequence.Plan
		How  Rehearsal
	}
	// Begin begins a session; the screen stays until it has begun, and then hears a
	// BeginFailedMsg or is gone.
	Begin  struct{ Start SessionStart }
	Resume struct {
		ID           string
		BehindDamage bool // its record is damaged: from its last good line, in a new file
	}
	// NextRound plans the round after the session that was begun last, where its plan was one
	// of several; otherwise what is given.
	NextRound struct{ Otherwise OpenPlan }
	// OpenSummary shows a session that is over, in place of its run.
	OpenSummary struct{ Session Session }
)

// Beside it.
type (
	OpenNotebook struct{}
	// OpenSession shows one session of the notebook, and there does what is asked for at once.
	OpenSession struct {
		ID   string
		Then Task
	}
	OpenCompare  struct{ A, B notebook.Session }
	OpenBottles  struct{ Recipe *sequence.Recipe } // nil: of all recipes
	OpenHolders  struct{}
	OpenGroups   struct{ Sheets []holders.ExposedSheet }
	OpenFilmTest struct{ Recipe sequence.Recipe }
	// OpenFilms shows all that is known of films, one where it is named first.
	OpenFilms struct{ Name string }
	// OpenDensities lists the readings that are kept.
	OpenDensities struct{}
	// OpenReadingSetup asks which sheets are to be read, of a session where one is given.
	OpenReadingSetup struct{ Session *notebook.Session }
	// OpenReading goes on with readings, step after step.
	OpenReading   struct{ File densities.ReadingsFile }
	OpenCurves    struct{ File densities.ReadingsFile }
	OpenScan      struct{} // densities are read off a picture
	OpenSounds    struct{}
	OpenNewRecipe struct{ From string } // a recipe's name that it starts from, or is changed; "" for none
	// Edit opens the person's own editor on a recipe; the screen hears an EditedMsg.
	Edit struct{ Recipe string }
)

// Task is what OpenSession does at once.
type Task int

// The tasks.
const (
	JustLook Task = iota
	AddNote
	DescribeNegatives
	DescribeEmulsion
	ReadDensities
)

func (Back) action()              {}
func (Home) action()              {}
func (Quit) action()              {}
func (Message) action()           {}
func (TouchSpent) action()        {}
func (Several) action()           {}
func (OpenPlan) action()          {}
func (OpenPrepare) action()       {}
func (OpenDarkRehearsal) action() {}
func (Begin) action()             {}
func (Resume) action()            {}
func (NextRound) action()         {}
func (OpenSummary) action()       {}
func (OpenNotebook) action()      {}
func (OpenSession) action()       {}
func (OpenCompare) action()       {}
func (OpenBottles) action()       {}
func (OpenHolders) action()       {}
func (OpenGroups) action()        {}
func (OpenFilmTest) action()      {}
func (OpenFilms) action()         {}
func (OpenDensities) action()     {}
func (OpenReadingSetup) action()  {}
func (OpenReading) action()       {}
func (OpenCurves) action()        {}
func (OpenScan) action()          {}
func (OpenSounds) action()        {}
func (OpenNewRecipe) action()     {}
func (Edit) action()              {}

// EditedMsg tells the screen that asked for the editor that it was left.
type EditedMsg struct {
	Recipe string // its name; of a shipped one the copy's
	Err    error  // of the editor, not of what was written
}

// MeasuredMsg tells the plan what the developer was read to have while preparing, as typed.
type MeasuredMsg struct{ Temperature string }

// BeginFailedMsg tells the screen that asked for a session why there is none.
type BeginFailedMsg struct{ Err error }
