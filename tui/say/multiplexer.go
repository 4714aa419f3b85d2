package say

// What draws around the screens where they do not reach: tmux, GNU screen, and the like.

// OverSSH says what belongs to another computer than the one before the person.
const OverSSH = "This window is on another computer than wetside (SSH): sound comes from the far one, and only its lamps, blanking and sleep are seen to."

// Around says what of it may be lit in the dark; hidden says that its line is switched off.
func Around(who string, hidden bool) string {
	if hidden {
		return aroundName(who) + " draws a line below this window: it is switched off for the dark, and comes back at the end. " +
			"Other panes are hidden. Look at the frame of the window before film is opened."
	}
	return aroundName(who) + " draws lines and messages of its own that cannot be switched off from here: they may stay lit in the dark. " +
		"Switch them off, or leave it, before film is opened."
}

// AroundNote is what is recorded when that is accepted.
func AroundNote(who string, hidden bool) string {
	if hidden {
		return aroundName(who) + " around the screens, its line switched off, accepted"
	}
	return aroundName(who) + " around the screens, not known to be dark, accepted"
}

func aroundName(who string) string {
	switch who {
	case "screen":
		return "GNU screen"
	case "another":
		return "A program that shares this terminal"
	}
	return who
}
