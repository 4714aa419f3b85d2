package page

// What a page tells of one session, whatever it is written as.

import (
	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
)

// SessionPage is what a page tells of one session. Where Plan is nil nothing of it
// but the head can be told.
type SessionPage struct {
	Title, ID, Status string
	Result            string // what came of it, in a sentence
	When              string // from when to when, in words
	Rehearsal         bool
	WrittenByNewer    bool   // written by a newer wetside
	Problem           string // what is wrong with its record; "" for nothing

	Plan      *sequence.Plan
	Passages  []sequence.Passage   // what has happened; Out is Never while a sheet is in
	Developed []engine.Development // of the stays in developers
	At        sequence.Elapsed     // until when it is known
	Wet       []SheetWetTime
	LimitAt   *sequence.Elapsed // when the worst sheet used its limit up, or would have; nil where none is known

	Readings, Exceptions, Notes []sequence.Event
	Missed                      []sequence.Cue // not given because the program was away
	NotesAfter                  []LateNote
	Densities                   []string      // readings that are linked to it, a line each
	Curves                      []CurveFamily // what they come to, for the picture
	Learnt                      []string      // of the film's time
	Suggestions                 []string
	Record                      string         // name of the file that it is kept in; "" where not known
	Units                       sequence.Units // of whoever reads it
}

// CurveFamily is the curves of some readings.
type CurveFamily struct {
	Family  curve.Family
	Results curve.Results
}

// SheetWetTime is the wet time of one sheet.
type SheetWetTime struct {
	Sheet   int
	Total   sequence.Elapsed
	Vessels string   // in words
	Used    *float64 // share of the limits; nil where none is known
	Aside   bool     // set aside in water
}

// LateNote is a note written when the session was over.
type LateNote struct{ When, Text string }
