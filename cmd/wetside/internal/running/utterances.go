package running

// What the screens ask a voice to say, as phrases, and without a voice as tones.

import (
	"example.org/wetside/sequence"
	"example.org/wetside/tui/cue"
	"example.org/wetside/tui/screen"
)

// Utterance is how something is told: in words, and while a session has no voice by a tone.
type Utterance struct {
	Words cue.Phrase
	Tone  sequence.CueKind // "" for none
}

// Utterances are for what the screens ask to be told.
var Utterances = map[screen.Utterance]Utterance{
	screen.SaysLoading:     {Words: cue.Loading()},
	screen.SaysNotBegun:    {Words: cue.NotBegun()},
	screen.SaysElsewhere:   {Words: cue.RunElsewhere()},
	screen.SaysNotPossible: {cue.NotPossible(), cue.SignalRefused},
	screen.SaysDone:        {Tone: cue.SignalDone},
	screen.OffersHold:      {cue.ChoiceHold.Offer(), cue.SignalHold},
	screen.OffersGo:        {cue.ChoiceGo.Offer(), cue.SignalGo},
	screen.OffersUndo:      {cue.ChoiceUndo.Offer(), cue.SignalUndo},
	screen.OffersLate:      {cue.ChoiceLate.Offer(), cue.SignalLate},
	screen.OffersFilm:      {cue.ChoiceFilm.Offer(), cue.SignalLate},
	screen.OffersSetAside:  {cue.ChoiceSetAside.Offer(), cue.SignalSetAside},
	screen.OffersAdvice:    {Words: cue.ChoiceAdvice.Offer()},
	screen.OffersStop:      {cue.ChoiceStop.Offer(), cue.SignalStop},
}

// SheetChoices are the choices that mean one sheet of several.
var SheetChoices = map[screen.Utterance]cue.Choice{screen.OffersLate: cue.ChoiceLate, screen.OffersSetAside: cue.ChoiceSetAside}
