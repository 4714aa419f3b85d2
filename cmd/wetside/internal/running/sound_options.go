package running

// What was asked for by way of sound, and whether that can be heard.

import (
	"slices"
	"strings"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/recipes/settings"
	"example.org/wetside/tui/cue"
)

// Audible reports whether there is anything by which it could be heard. A sound file is
// left alone: it holds what the session was heard by.
func (a SoundOptions) Audible() bool { return a.Sink != "off" && SoundFile(a.Sink) == "" }

// wavPrefix begins the way to a sound file.
const wavPrefix = "wav:"

// SoundFile is the file of a way out; "" for one that is heard.
func SoundFile(sink string) string {
	name, isFile := strings.CutPrefix(sink, wavPrefix)
	if !isFile {
		return ""
	}
	return name
}

// SoundOptions is what a session is to be heard by.
type SoundOptions struct {
	Sink  string    // which sink
	Voice cue.Level // how much is said
}

// Check finds what is wrong with the words.
func (a SoundOptions) Check() error {
	if !slices.Contains(settings.VoiceLevels, string(a.Voice)) {
		return app.Usagef("--voice: %q; expected off, sparse or full", a.Voice)
	}
	return nil
}

// CheckTyped refuses words about a voice where the same line turns the sound off. The supervisor
// names both whenever it has a session taken up.
func (a SoundOptions) CheckTyped(typed func(string) bool) error {
	if typed("voice") && typed("sound") && a.Sink == "off" && a.Voice != cue.Off && !app.IsSupervised() {
		return app.Usagef("--voice %s and --sound off do not go together: nothing would be heard", a.Voice)
	}
	return nil
}
