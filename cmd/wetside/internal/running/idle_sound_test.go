package running

import (
	"testing"

	"example.org/wetside/tui/cue"
	"example.org/wetside/tui/screen"
)

// All that the screens ask a voice to say has words, and what stands in a menu without a
// voice has a signal of its own.
func TestEverySayingIsHeard(t *testing.T) {
	heard := map[string]screen.Utterance{}
	for s := screen.SaysLoading; s <= screen.OffersStop; s++ {
		words, signal := Utterances[s].Words.String(), Utterances[s].Tone
		if words == "" && s != screen.SaysDone {
			t.Errorf("%d has no words", s)
		}
		if other, twice := heard[words]; twice {
			t.Errorf("%d and %d are said alike", s, other)
		}
		heard[words] = s
		if needs := s >= screen.SaysNotPossible && s != screen.OffersAdvice; needs && cue.Length(signal) == 0 {
			t.Errorf("%d has no signal", s)
		}
	}
	for s, c := range SheetChoices {
		if c.Sheet(1).String() == c.Sheet(2).String() || cue.Length(cue.SignalSheet(1)) == cue.Length(cue.SignalSheet(2)) {
			t.Errorf("%d: sheets are told alike", s)
		}
	}
}
