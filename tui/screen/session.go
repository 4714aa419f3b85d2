package screen

// A session as the screens see it, and how one is begun.

import (
	"errors"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
)

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
	Countdown      time.Duration // before the first sheet goes in
	RehearsalSpeed float64       // times as fast; 0 for no rehearsal
	SkipQuiet      bool          // a rehearsal that passes over the quiet between transfers
	Dark           bool          // a rehearsal without light, as with film
	Notes          []string      // what was answered before the film was opened
}

// Unfinished is a session that was cut off, or that runs elsewhere.
type Unfinished struct {
	ID, Recipe string
	Began      time.Time
	Rehearsal  bool
	Elsewhere  bool      // on another laptop, where it may go on
	Running    bool      // another wetside carries it out now
	Damaged    *LastGood // nil for a record that is whole
}

// LastGood is how far the record of a damaged session is believable.
type LastGood struct {
	Line  int // that is not
	Plan  *sequence.Plan
	State engine.Snapshot // before it
	At    time.Time
}

// Session is a session being carried out.
type Session interface {
	Snapshot() engine.Snapshot
	Plan() *sequence.Plan
	Do(sequence.Command)
	DoAndKeep(sequence.Command) bool          // Do, and waits for the disk, a quarter of a second at most; false where that has it not yet
	Refuse(sequence.Command) sequence.Refusal // why it would change nothing
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
	SkipsQuiet() bool        // it passes over the quiet between transfers
	Lit() bool               // a rehearsal that keeps its light in the dark
	Events() []sequence.Event
}

// Sound is one of the sounds that the screens teach.
type Sound struct{ Name, Says string }
