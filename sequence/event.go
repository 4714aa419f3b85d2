package sequence

// Events: everything that happens in a session, one flat shape for the
// journal, for --json and for whoever follows.

import "example.org/wetside/chem"

// Event is one thing that happened. At is the moment at which it was due, not
// the moment at which the program noticed.
type Event struct {
	At          Elapsed       `json:"at_s"`
	Kind        EventKind     `json:"event"`
	Step        string        `json:"step,omitzero"`
	Sheet       int           `json:"sheet,omitzero"` // 1..n where one sheet is meant
	Cue         CueKind       `json:"cue,omitzero"`
	For         Elapsed       `json:"for_s,omitzero"`         // agitate: how long; cue of a reading: until the move
	Change      Elapsed       `json:"change_s,omitzero"`      // cue of a reading: by how much the move comes later than was told
	Since       *Elapsed      `json:"since_s,omitzero"`       // gap: its start; reading: when it was read; overrun: when it was due
	Temperature *chem.Celsius `json:"temperature_c,omitzero"` // reading
	Uncertain   bool          `json:"uncertain,omitzero"`     // reading: outside the recipe's table, counted by its last slope
	Source      string        `json:"source,omitzero"`        // reading: hand or sensor; set-aside: hand, where a sheet left the session
	Text        string        `json:"text,omitzero"`          // note, reason
	Act         int           `json:"act,omitzero"`           // numbers the acts of the person; 0: by itself
	ID          string        `json:"id,omitzero"`            // session-began
	Version     string        `json:"version,omitzero"`       // session-began: the program's
}

// EventKind says what happened; past tense.
type EventKind string

// The kinds of event. Moved is the record of film changing baths: Step is the
// bath that is entered ("" at the last sheet out), Sheet the sheet, 0 for the whole
// load. Alive is a heartbeat of the clock and changes nothing.
const (
	SessionBegan     EventKind = "session-began"
	StepBegan        EventKind = "step-began"
	StepEnded        EventKind = "step-ended"
	Transferred      EventKind = "moved"
	Pulled           EventKind = "taken-out"
	SetAside         EventKind = "set-aside"
	CueGiven         EventKind = "cue"
	ReadingTaken     EventKind = "reading"
	Overran          EventKind = "overrun"
	Held             EventKind = "held"
	HoldEnded        EventKind = "went-on"
	Resumed          EventKind = "resumed"
	WetWarned        EventKind = "wet-warning"
	WetPassed        EventKind = "wet-limit-passed"
	SoundLost        EventKind = "sound-lost"
	SoundBack        EventKind = "sound-back"
	ClockJumped      EventKind = "clock-jumped"
	Noted            EventKind = "note"
	GapFound         EventKind = "gap"
	Undone           EventKind = "undone"
	LateReported     EventKind = "late"
	LightChanged     EventKind = "light"
	SleepReported    EventKind = "sleep"      // whether the laptop is kept awake, in Text
	SuspendAnnounced EventKind = "suspending" // the laptop is about to sleep
	HandedOver       EventKind = "handed-over"
	SessionDone      EventKind = "session-done"
	SessionStopped   EventKind = "session-stopped"
	Heartbeat        EventKind = "alive"
	FollowerFailed   EventKind = "trouble" // a follower failed: the journal, the sound; the session goes on
)
