package running

import (
	"example.org/wetside/sequence"
	"example.org/wetside/tui"
	"example.org/wetside/tui/cue"
)

// Phrases are the words for what the screens ask a voice to say.
var Phrases = map[tui.Utterance]cue.Phrase{
	tui.SaysLoading:     cue.Loading(),
	tui.SaysNotBegun:    cue.NotBegun(),
	tui.SaysElsewhere:   cue.RunElsewhere(),
	tui.SaysNotPossible: cue.NotPossible(),
	tui.OffersHold:      cue.ChoiceHold.Offer(),
	tui.OffersGo:        cue.ChoiceGo.Offer(),
	tui.OffersUndo:      cue.ChoiceUndo.Offer(),
	tui.OffersLate:      cue.ChoiceLate.Offer(),
	tui.OffersFilm:      cue.ChoiceFilm.Offer(),
	tui.OffersSetAside:  cue.ChoiceSetAside.Offer(),
	tui.OffersAdvice:    cue.ChoiceAdvice.Offer(),
	tui.OffersStop:      cue.ChoiceStop.Offer(),
}

// Signals are the tones for what they ask for while a session has no voice.
var Signals = map[tui.Utterance]sequence.CueKind{
	tui.SaysNotPossible: cue.SignalRefused,
	tui.SaysDone:        cue.SignalDone,
	tui.OffersHold:      cue.SignalHold,
	tui.OffersGo:        cue.SignalGo,
	tui.OffersUndo:      cue.SignalUndo,
	tui.OffersLate:      cue.SignalLate,
	tui.OffersFilm:      cue.SignalLate,
	tui.OffersSetAside:  cue.SignalSetAside,
	tui.OffersStop:      cue.SignalStop,
}

// SheetChoices are the choices that mean one sheet of several.
var SheetChoices = map[tui.Utterance]cue.Choice{tui.OffersLate: cue.ChoiceLate, tui.OffersSetAside: cue.ChoiceSetAside}
