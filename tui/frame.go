package tui

// What stands around a screen's body, and how much room it leaves.

import (
	"strings"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

const (
	margin = 2
	airy   = 20 // rows from which there is a blank one beneath the head and above the foot
)

// frame is what stands around a body: head, message, foot, and the margins.
type frame struct {
	w, h int
	said []string // rows of a message or a question above the foot
}

// inner is the width between the margins.
func (f frame) inner() int { return max(1, f.w-2*margin) }

// air is how many blank rows stand between the parts.
func (f frame) air() int {
	if f.h >= airy {
		return 1
	}
	return 0
}

// body is how many rows the body has.
func (f frame) body() int { return max(1, f.h-2-2*f.air()-len(f.said)) }

// around draws a body with what stands around it.
func (f frame) around(about screen.About, body, keys string) string {
	rows := []string{f.head(about)}
	rows = append(rows, make([]string, f.air())...)
	lines := strings.Split(body, "\n")
	rows = append(rows, lines[:min(f.body(), len(lines))]...)
	for len(rows) < f.h-1-f.air()-len(f.said) {
		rows = append(rows, "")
	}
	rows = append(rows, f.said...)
	rows = append(rows, make([]string, f.air())...)
	rows = append(rows, keys)
	for i, row := range rows {
		rows[i] = strings.Repeat(" ", margin) + row
	}
	return strings.Join(rows, "\n")
}

// head is the title, and what stands at its right and behind it where there is room.
func (f frame) head(about screen.About) string {
	const gap = 3
	w := f.inner()
	title, of, right := safetext.Clean(about.Title), safetext.Clean(about.Of), safetext.Clean(about.Right)
	if widget.Width(title)+2+widget.Width(right) > w {
		right = ""
	}
	left := style.Title(widget.Truncate(title, w))
	if of != "" && widget.Width(title)+gap+widget.Width(of)+gap+widget.Width(right) <= w {
		left += strings.Repeat(" ", gap) + style.Label(of)
	}
	return widget.Spread(left, style.Label(right), w)
}
