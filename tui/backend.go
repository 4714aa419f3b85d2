package tui

// What the screens need of the world, given by cmd.

import (
	"errors"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
)

// Backend finds recipes and starts sessions. Begin and Resume may take a while;
// they are called outside Update. Light is called at once, before the frame
// that it is for.
type Backend interface {
	NotebookStore
	BottleStore
	DensityStore
	FilmTests
	HolderStore
	Recipes() []recipes.Entry
	Recipe(name string) (sequence.Recipe, error)
	// Edit finds the person's editor for a recipe of their own, of a shipped one for a copy
	// that it makes, and tells its name. The editor has the terminal until it is left, or
	// errs where there may be no light but the room's.
	Edit(recipe string) (name string, editor tea.ExecCommand, err error)
	// ObservedLimit is the wet limit that notes on the emulsion speak for, in a sentence; "" for none.
	ObservedLimit(film string, v sequence.Vessel) string
	Unfinished() []Unfinished // sessions cut off, newest first
	FirstRun() bool           // nobody has run a session on this computer yet
	Begin(SessionStart) (SessionView, error)
	Resume(id string) (SessionView, error)
	Light(sequence.Light) // what the screen may show from now on
	Sound() string        // whether there is sound, before a session
	SoundPlayer
	Say(Utterance) // where there is no session; nothing is waited for
}

// Utterance is what a voice is asked to say.
type Utterance int

// What is said: before a session, and then what the menu of the second key offers, and
// that something cannot be done. A voice tells of each act what came of it; that it is
// done is for tones alone.
const (
	SaysLoading   Utterance = iota // nothing has begun; how it begins
	SaysNotBegun                   // the session could not begin; how light comes
	SaysElsewhere                  // nor be taken up, since another program has it
	SaysNotPossible
	SaysDone
	OffersHold
	OffersGo
	OffersUndo
	OffersLate     // to say which sheet is late
	OffersFilm     // that all of it is late
	OffersSetAside // to say which sheet is set aside
	OffersAdvice
	OffersStop
	SaysAdvice // the one thing that can still be done about the wet time
)

// ErrElsewhere is among the errors of Resume where another wetside has the session.
var ErrElsewhere = errors.New("another wetside has the session")

// SessionStart is how a session is begun.
type SessionStart struct {
	Plan           *sequence.Plan
	Countdown      time.Duration // before the first dip
	RehearsalSpeed float64       // times as fast; 0 for no rehearsal
	SkipQuiet      bool          // a rehearsal that passes over the quiet between moves
	Dark           bool          // a rehearsal without light, as with film
	Notes          []string      // what was answered before the film was opened
}

// Unfinished is a session that has no end: it was cut off, or goes on elsewhere.
type Unfinished struct {
	ID, Recipe string
	Began      time.Time
	Rehearsal  bool
	Elsewhere  bool // on another laptop, where it may go on
	Running    bool // another wetside carries it out now
}

// SessionView is a session being carried out.
type SessionView interface {
	Snapshot() engine.Snapshot
	Plan() *sequence.Plan
	Do(sequence.Command)
	Refuse(sequence.Command) string // why it would change nothing; "" if it would
	Advise() (engine.Advice, bool)
	SpeakState() // how it stands, in words; without a voice, that the key was felt
	// OfferSheet offers one sheet of what OffersLate or OffersSetAside stands for; without a voice
	// it can be counted.
	OfferSheet(what Utterance, sheet int)
	LateSheets() []engine.LateSheet
	SheetsToSetAside() []int
	Say(Utterance) // in place of all that is being said; without a voice, by tones
	Speaks() bool  // whether there is a voice
	ID() string
	Sound() string           // one line: which sound, or why none
	Sleep() string           // one line: whether the laptop is kept awake; "" while that is not known
	Record() string          // where the journal lies
	UnsavedBecause() string  // why it lies in memory alone; "" while the disk takes it
	RehearsalSpeed() float64 // times as fast; 0 for no rehearsal
	SkipsQuiet() bool        // it passes over the quiet between moves
	Lit() bool               // a rehearsal that keeps its light in the dark
	Events() []sequence.Event
}
