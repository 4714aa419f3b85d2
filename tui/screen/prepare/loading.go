package prepare

// Film while it is loaded: once the room was dark for it, or as dim as can be read, it may be out of its
// holder, and nothing leads to white light before that was said.

import (
	"strings"

	"example.org/wetside/tui/screen"
)

// loading is what is known of it.
type loading struct {
	film   bool // it may be out
	warned bool // that was said to the last key, which would have left for white light
}

// told is that in a sentence; "" where no film can be out.
func (l loading) told() string {
	if !l.film {
		return ""
	}
	return " Film may be out of its holder: cover it before there is white light."
}

// left does what leads to white light; where film may be open it is said first, and the same key once
// more does it.
func (l loading) left(then screen.Action, key string) (loading, screen.Action) {
	if l.film && !l.warned {
		l.warned = true
		return l, screen.Message{Text: strings.TrimSpace(l.told()) + " " + key + " once more goes on.", Fault: true}
	}
	return l, then
}
