package cue

// The menu of the second key as the voice offers it, and the answers to what cannot be.

// Choice is one of what the menu of the second key offers.
type Choice Word

// The choices.
const (
	ChoiceHold     Choice = "hold"
	ChoiceGo       Choice = "go-on"
	ChoiceUndo     Choice = "undo"
	ChoiceAdvice   Choice = "advice"
	ChoiceStop     Choice = "stop"
	ChoiceLate     Choice = "late-sheet"
	ChoiceFilm     Choice = "film-late"
	ChoiceSetAside Choice = "set-aside-sheet"
)

// Offer says a choice and how it is taken: what cannot be taken back by two presses.
func (c Choice) Offer() Phrase {
	if c == ChoiceStop {
		return Phrase{{Word(c)}, {"press-twice"}}
	}
	return Phrase{{Word(c)}, {"press-to-choose"}}
}

// Sheet says a choice of one sheet, which takes two presses.
func (c Choice) Sheet(n int) Phrase {
	return Phrase{append(Clause{Word(c)}, numberWords(n)...), {"press-twice"}}
}

// NotPossible is the answer where what was asked cannot be done.
func NotPossible() Phrase { return Phrase{{"not-possible"}} }
