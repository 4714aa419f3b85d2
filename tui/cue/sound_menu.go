package cue

// What answers the person where there is no voice: the menu of the second key, by
// double notes that can be counted, and whether what was chosen is done. No plan has
// these among its cues. A double note is two pitches without a gap, as no cue has it.

import (
	"fmt"
	"slices"
	"strconv"

	"github.com/faiface/beep"

	"example.org/wetside/sequence"
)

// The signals.
const (
	SignalHold     sequence.CueKind = "menu-hold"
	SignalGo       sequence.CueKind = "menu-go-on"
	SignalUndo     sequence.CueKind = "menu-undo"
	SignalStop     sequence.CueKind = "menu-stop"
	SignalLate     sequence.CueKind = "menu-late"
	SignalSetAside sequence.CueKind = "menu-set-aside"
	SignalDone     sequence.CueKind = "chosen"
	SignalRefused  sequence.CueKind = "refused"
)

// Signals lists all of them, of the sheets' numbers one.
var Signals = []sequence.CueKind{SignalHold, SignalUndo, SignalStop, SignalLate, SignalSetAside, SignalSheet(12), SignalGo, SignalDone, SignalRefused}

// sheetSignalPrefix is what the names of the sheets' signals begin with.
const sheetSignalPrefix = "menu-sheet-"

// SignalSheet is the number of a sheet, to be counted.
func SignalSheet(n int) sequence.CueKind {
	return sequence.CueKind(sheetSignalPrefix + strconv.Itoa(n))
}

// sheetTone is the sound of a sheet's signal.
func sheetTone(n int) sound {
	notes := []note{{0, 500, 220}}
	gap := 300 // after the low note, and between tens and ones
	for range n / 10 {
		notes = append(notes, note{gap, 450, 494})
		gap = 150
	}
	if n >= 10 {
		gap = 300
	}
	for range n % 10 {
		notes = append(notes, note{gap, short, 494})
		gap = 200
	}
	says := fmt.Sprintf("a low note, then long ones for tens and short ones to be counted: sheet %d; two presses take it", n)
	return sound{0.76, notes, says}
}

// Kinds are all that can be heard but words: every kind of cue, then the signals.
func Kinds() []sequence.CueKind { return slices.Concat(sequence.CueKinds, Signals) }

// doubleGap is the gap between double notes, ms.
const doubleGap = 300

// doubleNote is one double note after a gap; each half is so long, all in ms.
func doubleNote(gap, half int) []note { return []note{{gap, half, 392}, {0, half, 587}} }

// doubleNotes are so many, to be counted.
func doubleNotes(n int) []note {
	notes := slices.Repeat(doubleNote(doubleGap, 200), n)
	notes[0].gap = 0
	return notes
}

// signals has an entry for each; their rhythms are none of the cues'.
var signals = map[sequence.CueKind]sound{
	SignalHold: {0.9, doubleNotes(1),
		"one double note: the menu offers hold; one press takes it"},
	SignalUndo: {0.9, doubleNotes(2),
		"two double notes: the menu offers undo; one press takes it"},
	SignalStop: {0.9, doubleNotes(3),
		"three double notes: the menu offers to end the session; two presses take it"},
	SignalLate: {0.9, doubleNotes(4),
		"four double notes: the menu offers late, a sheet or the film is still where it was; one press takes it"},
	SignalSetAside: {0.9, doubleNotes(5),
		"five double notes: the menu offers set aside, a sheet is lost or waits in water; one press takes it"},
	SignalGo: {0.83, doubleNote(0, 500),
		"one long double note: held, and the menu offers to go on; one press takes it"},
	SignalDone: {0.9, []note{{0, long, 494}, {80, long, 330}},
		"two long notes close together, falling: what was chosen is done"},
	SignalRefused: {0.7, []note{{0, 650, 220}, {80, 650, 165}},
		"two very long low notes: no, that cannot be done"},
}

// Signal answers by one of the signals at once, in place of the one before it.
func (e *Ear) Signal(kind sequence.CueKind) {
	e.mu.Lock()
	defer e.mu.Unlock()
	if e.signal != nil {
		e.signal.fadeOut()
		e.pending = slices.DeleteFunc(e.pending, func(w *pendingCue) bool { return w.placing.Sound == beep.Streamer(e.signal) })
	}
	e.signal = &fadeable{Streamer: Sound(kind), left: -1}
	e.pending = append(e.pending, &pendingCue{cue: sequence.Cue{Kind: kind}, atOnce: true, length: Length(kind),
		placing: Placing{Sound: e.signal}})
}
