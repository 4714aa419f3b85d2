package cue

// What the voice says where no session is carried out: before one, and when one is lost.

// Loading is the answer while film is loaded in the dark and nothing has begun.
func Loading() Phrase { return Phrase{{"before-first"}, {"begin-twice"}} }

// NotBegun says that a session could not be begun in the dark, and how light comes.
func NotBegun() Phrase { return Phrase{{"not-begun"}, {"escape-twice"}} }

// RunElsewhere says that a session could not be taken up since another program carries
// it out, how it is tried again, and how light comes.
func RunElsewhere() Phrase { return Phrase{{"held-elsewhere"}, {"begin-twice"}, {"escape-twice"}} }

// GoneElsewhere says that another program has taken the session up, and how light comes
// from who is left.
func GoneElsewhere() Phrase { return Phrase{{"held-elsewhere"}, {"light-twice"}} }

// SessionLost says that nobody carries a session out any more, where there was one, and how
// light comes from who is left.
func SessionLost(session bool) Phrase {
	if session {
		return Phrase{{"cut-off"}, {"light-twice"}}
	}
	return Phrase{{"light-twice"}}
}

// PressWhenClear is how a stopwatch of the clearing test begins.
func PressWhenClear() Phrase { return Phrase{{"press-when-clear"}} }
