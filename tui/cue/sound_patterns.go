package cue

// What each kind of cue sounds like. The rhythm carries the meaning and the
// priority (one or two notes: low; three: medium; five and five: high); pitch
// only supports it. Proportions follow IEC 60601-1-8 through secondary texts
// and ISO 7731 from memory: fundamental 150 to 1000 Hz, at least four harmonics
// from 300 to 4000 Hz, no pure tones, 20 ms of rise. Nothing lies above 3 kHz,
// where ears age first. The onset of the first note is the act. Loudness follows
// priority: the levels are what makes the greatest momentary loudness (EBU R 128, both
// loudspeakers) -8 LUFS for what must be done or is wrong, -10 for the rest of three
// notes, -11 below, -13 for what comes every few seconds, and the tick soft.

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/faiface/beep"
	"github.com/faiface/beep/effects"

	"example.org/wetside/sequence"
)

// Rate is the sample rate of everything in this package, in frames a second.
const Rate = beep.SampleRate(44100)

// note is one tone of a sound.
type note struct {
	gap    int     // silence before it, ms
	length int     // ms, rise and fall included
	pitch  float64 // fundamental, Hz
}

// sound is a rhythm with its pitches.
type sound struct {
	level       float64 // 1 is a long tone's common loudness; a short note is heard softer
	notes       []note
	description string // what it sounds like, and what it asks for
}

// Lengths of notes, ms. The shortest still holds a steady tone of 100 ms.
const (
	short = 140
	long  = 380
)

// sounds has an entry for every kind in sequence.CueKinds. No two have the
// same rhythm, except agitate and reverse, which are each other's mirror.
var sounds = map[sequence.CueKind]sound{
	sequence.CueTick: {0.4, []note{{0, 120, 330}},
		"one soft short note: all is well, nothing to do"},
	sequence.CueShuffle: {1.05, []note{{0, 200, 494}},
		"one short note: the bottom sheet to the top"},
	sequence.CueStand: {0.75, []note{{0, 650, 196}},
		"one long low note: stop agitating and let it stand"},

	sequence.CueAgitate: {0.95, []note{{0, short, 392}, {80, long, 587}},
		"short, long, rising: agitate from now"},
	sequence.CueReverse: {0.9, []note{{0, long, 440}, {80, short, 370}},
		"long, short, falling: turn the drum the other way"},
	sequence.CueLoad: {1.3, []note{{0, short, 523}, {80, short, 523}},
		"two short notes close together: the next sheet into the bath now"},
	sequence.CueReading: {1.1, []note{{0, short, 330}, {420, short, 330}},
		"two short notes far apart: a temperature was taken and the end has moved"},
	sequence.CueLightsOffer: {0.85, []note{{0, long, 294}, {180, long, 440}},
		"two long notes, rising: the last sheet may see light; two presses bring it"},

	sequence.CueReady: {1.35, []note{{0, short, 440}, {160, short, 440}, {160, short, 440}},
		"three short even notes: get ready, a transfer or a pour comes in 20 s"},
	sequence.CueTransfer: {1.25, []note{{0, 480, 523}, {80, short, 659}, {80, short, 659}},
		"long, short, short, loud: touch the next bath now"},
	sequence.CuePull: {1.25, []note{{0, short, 659}, {80, short, 659}, {80, 480, 523}},
		"short, short, long: lift this sheet out of the developer now"},
	sequence.CueDrain: {1, []note{{0, long, 494}, {100, long, 392}, {100, long, 311}},
		"three long notes, falling: lift and let it drip"},
	sequence.CueLightsOut: {0.95, []note{{0, long, 349}, {80, short, 349}, {80, long, 262}},
		"long, short, long: the next step is dark, put the light out"},
	sequence.CueWetWarning: {1.05, []note{{0, short, 587}, {80, long, 587}, {80, short, 587}},
		"short, long, short: wet time runs short"},
	sequence.CueDone: {1, []note{{0, 250, 392}, {120, 400, 494}, {120, 900, 587}},
		"three notes, each longer and higher: the last sheet out, all done"},

	sequence.CueOverdue: {1.55, slices.Concat(fiveEven(349, 0), fiveEven(349, 520)),
		"five even notes, and five again: time is up, holding; the bath goes on working"},
	sequence.CueWetLimit: {1.8, slices.Concat(threeAndTwo(659, 554, 0), threeAndTwo(659, 554, 700)),
		"three and two quick notes, and again: the film has been wet for as long as it may"},
}

// fiveEven is five notes of one pitch at one distance, after a gap in ms.
func fiveEven(pitch float64, gap int) []note {
	return []note{{gap, short, pitch}, {110, short, pitch}, {110, short, pitch}, {110, short, pitch},
		{110, short, pitch}}
}

// threeAndTwo is three quick notes and, apart from them, two.
func threeAndTwo(three, two float64, gap int) []note {
	return []note{{gap, 120, three}, {80, 120, three}, {80, 120, three}, {260, 120, two}, {80, 120, two}}
}

// soundOf is the sound of a kind of cue, or of a signal.
func soundOf(kind sequence.CueKind) sound {
	if s, ok := signals[kind]; ok {
		return s
	}
	if digits, is := strings.CutPrefix(string(kind), sheetSignalPrefix); is {
		if n, err := strconv.Atoi(digits); err == nil {
			return sheetTone(n)
		}
	}
	return sounds[kind]
}

// Sound is a fresh streamer of one kind of cue or signal; an unknown kind is silent.
func Sound(kind sequence.CueKind) beep.Streamer {
	s := soundOf(kind)
	parts := make([]beep.Streamer, 0, 2*len(s.notes))
	for _, n := range s.notes {
		parts = append(parts, beep.Silence(frames(n.gap)), tone(n.pitch, frames(n.length)))
	}
	return &effects.Gain{Streamer: beep.Seq(parts...), Gain: s.level - 1}
}

// Length is how long one kind of cue sounds.
func Length(kind sequence.CueKind) time.Duration {
	total := 0
	for _, n := range soundOf(kind).notes {
		total += n.gap + n.length
	}
	return time.Duration(total) * time.Millisecond
}

// Describe says in a plain sentence what one kind of cue sounds like and asks
// for; empty for an unknown kind.
func Describe(kind sequence.CueKind) string { return soundOf(kind).description }

// frames is a time in ms as frames.
func frames(ms int) int { return Rate.N(time.Duration(ms) * time.Millisecond) }
