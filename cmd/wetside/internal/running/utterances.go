package running

// What the screens ask a voice to say, as phrases, and without a voice as tones.

import (
	"example.org/wetside/sequence"
	"example.org/wetside/tui/cue"
	"example.org/wetside/tui/screen"
)

// Phrases are the words for what the screens ask a voice to say.
var Phrases = map[screen.Utterance]cue.Phrase{
	screen.SaysLoading:     cue.Loading(),
	screen.SaysNotBegun:    cue.NotBegun(),
	screen.SaysElsewhere:   cue.RunElsewhere(),
	screen.SaysNotPossible: cue.NotPossible(),
	screen.OffersHold:      cue.ChoiceHold.Offer(),
	screen.OffersGo:        cue.ChoiceGo.Offer(),
	screen.OffersUndo:      cue.ChoiceUndo.Offer(),
	screen.OffersLate:      cue.ChoiceLate.Offer(),
	screen.OffersFilm:      cue.ChoiceFilm.Offer(),
	screen.OffersSetAside:  cue.ChoiceSetAside.Offer(),
	screen.OffersAdvice:    cue.ChoiceAdvice.Offer(),
	screen.OffersStop:      cue.ChoiceStop.Offer(),
}

// Signals are the tones for what they ask for while a session has no voice.
var Signals = map[screen.Utterance]sequence.CueKind{
	screen.SaysNotPossible: cue.SignalRefused,
	screen.SaysDone:        cue.SignalDone,
	screen.OffersHold:      cue.SignalHold,
	screen.OffersGo:        cue.SignalGo,
	screen.OffersUndo:      cue.SignalUndo,
	screen.OffersLate:      cue.SignalLate,
	screen.OffersFilm:      cue.SignalLate,
	screen.OffersSetAside:  cue.SignalSetAside,
	screen.OffersStop:      cue.SignalStop,
}

// SheetChoices are the choices that mean one sheet of several.
var SheetChoices = map[screen.Utterance]cue.Choice{screen.OffersLate: cue.ChoiceLate, screen.OffersSetAside: cue.ChoiceSetAside}
