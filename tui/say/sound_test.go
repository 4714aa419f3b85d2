package say

import (
	"strings"
	"testing"

	"example.org/wetside/sequence"
)

// However many ways out were tried, one sentence says that there is no sound, and says it once.
func TestNoSoundIsOneSentence(t *testing.T) {
	none := "NO SOUND: pulse: no sound server: /run/user/1000/pulse/native: connect: no such file or directory; " +
		"device: this build has no sound device of its own; exec: none of pacat, pw-cat, aplay is installed"
	for state, want := range map[string]string{
		none: "No sound: no sound server and no player were found; wetside ready tells more.",
		"NO SOUND: pulse: no sound server: /run/x: connect: refused; exec: aplay: cannot open": "No sound: no way to a loudspeaker works; wetside ready tells more.",
		"NO SOUND: no sound server: /run/user/1000/pulse/native: connect: refused":             "No sound: no sound server was found; wetside ready tells more.",
		"NO SOUND: the sound server has muted wetside":                                         "No sound: the sound server has muted wetside.",
		"the loudspeaker is gone": "No sound: the loudspeaker is gone.",
		"":                        "No sound.",
	} {
		same(t, NoSound(state), want)
		lost := sequence.Event{Kind: sequence.SoundLost, Text: state}
		same(t, Event(nil, lost, celsius), strings.TrimSuffix(want, "."))
	}
	same(t, SoundNow(none), "no sound")
	same(t, SoundNow("sound: exec, 40 ms (pulse: no sound server: /run/user/1000)"), "sound: exec, 40 ms")
}
