package session

// The body: the page in its window, and what is being typed or chosen below it.

import (
	"strings"

	"example.org/wetside/tui/widget"
)

// View draws the body: what is asked below, the session above it.
func (m Model) View(w, h int) string {
	asked := m.asked(w, h)
	room := h
	if asked != "" {
		room = max(0, h-strings.Count(asked, "\n")-2)
	}
	if room == 0 {
		return asked
	}
	body := m.scroll(w, room).View()
	if asked == "" {
		return body
	}
	return body + strings.Repeat("\n", max(0, room-strings.Count(body, "\n")-1)) + "\n\n" + asked
}

// asked is what is being typed or chosen; as high as it must be, and no higher than there is room.
func (m Model) asked(w, h int) string {
	switch {
	case m.writing != nil:
		return m.writing.View(w)
	case m.choices != nil:
		return m.choices.View(w, min(h, len(m.choices.options)+1))
	}
	return ""
}

// scroll is all there is to read, in a window.
func (m Model) scroll(w, h int) widget.Scroll {
	g := page{m.session, m.read, m.learnt, m.env.Units()}
	return widget.Flowing(w, h, func(w int) []string { return []string{g.text(w)} }).Moved(m.first)
}
