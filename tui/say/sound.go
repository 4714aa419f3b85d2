package say

// Why there is no sound, in one sentence: what each way out answered is for wetside ready and
// the journal.

import "strings"

// NoSound is that sentence for a sink's state, "NO SOUND: reason", or for its reason alone.
func NoSound(state string) string {
	const more = "; wetside ready tells more."
	why := strings.TrimPrefix(state, "NO SOUND: ")
	switch {
	case why == "":
		return "No sound."
	case strings.HasPrefix(why, "pulse: ") && strings.Contains(why, "no sound server") && strings.Contains(why, "is installed"):
		return "No sound: no sound server and no player were found" + more
	case strings.HasPrefix(why, "pulse: "):
		return "No sound: no way to a loudspeaker works" + more
	case strings.HasPrefix(why, "no sound server"):
		return "No sound: no sound server was found" + more
	}
	return "No sound: " + strings.TrimSuffix(why, ".") + "."
}

// SoundNow is a sink's state in a few words, for the head of a screen.
func SoundNow(state string) string {
	if !strings.HasPrefix(state, "sound") {
		return "no sound"
	}
	short, _, _ := strings.Cut(state, " (")
	return short
}
