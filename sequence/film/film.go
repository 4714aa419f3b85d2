// Package film is all that is known of a film in one developer, how sure that is, and what to test next.
//
// For commands and screens. Collect reads sessions, densities and borrowed times; Assess makes of them what a page
// shows. Nothing of another developer, vessel or agitation counts unless Question.Also asks for it, and then it
// counts for little and is said.
package film

import (
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/chem/growthbelief"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/notebook"
)

// Handling is what a film's growth belongs to.
type Handling = densities.TestConditions

// Known is what was found of one film in one handling.
type Known struct {
	Handling
	Tests    []Test
	Sessions []Session
	Borrowed []BorrowedTime
	Recipe   *sequence.Recipe // of the newest session; nil where there is none
}

// Test is the densities of one session's sheets, read.
type Test struct {
	Readings string // their name
	Session  string // "" where none is linked
	Day      string
	Sheets   []growthbelief.Reading
	Indexes  []TestedIndex
}

// TestedIndex is the exposure index at a developing time.
type TestedIndex struct {
	Time  time.Duration
	Index float64
}

// Session is one that was carried out to the end.
type Session struct {
	ID, Day     string
	Time        time.Duration // that its sheets were developed for
	Temperature chem.Celsius
	Development string // N, N-1; "" for N
	Appearances []notebook.Appearance
	Wet         map[sequence.Vessel]notebook.WetTrial // where the emulsion was noted
}

// look is what the negatives say of development; false where nobody looked, or the record of a look says nothing.
func (s *Session) look() (growthbelief.Look, bool) {
	for _, a := range s.Appearances {
		switch a {
		case notebook.Good:
			return growthbelief.Right, true
		case notebook.Thin:
			return growthbelief.Thin, true
		case notebook.Dense:
			return growthbelief.Dense, true
		}
	}
	return 0, false
}
