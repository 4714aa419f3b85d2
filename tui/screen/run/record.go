package run

// What the record holds so far: what was heard and done, the last of it.

import (
	"slices"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

const (
	fewTold  = 2  // fewer are not worth their heading
	mostTold = 12 // more would be a list to read, not a look
)

// soFar is its heading and, under it, what the person did, what did not go as planned, and each move of film;
// as many of the last lines as there is room for, and nil where there is none.
func (m moment) soFar(w, h int) []string {
	var told []string
	for _, e := range slices.Backward(m.events) {
		if len(told) == min(mostTold, h-1) {
			break
		}
		if line := say.EventLine(m.plan, e, m.units); line != "" && (say.Moves(e) || say.Afterwards(e)) {
			told = append(told, style.Value(widget.Truncate(safetext.Clean(line), w)))
		}
	}
	if len(told) < fewTold {
		return nil
	}
	slices.Reverse(told)
	return append([]string{style.Label("the record so far")}, told...)
}
