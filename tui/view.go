package tui

// The picture: head, body, message, foot.

import (
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

// The least window that is drawn in.
const (
	leastWidth  = 40
	leastHeight = 12
	mostMessage = 4
)

func frameOf(m Model) frame { return frame{m.w, m.h, said(m)} }

// said is the message, or the question, in rows.
func said(m Model) []string {
	text, paint := m.message.text, style.Value
	switch {
	case m.quitting:
		text, paint = "Leave wetside? What is not kept yet is lost. y leaves, any other key stays.", style.Heading
	case m.starting && text == "":
		text = "One moment."
	case m.message.fault:
		paint = style.Heading
	}
	if text == "" {
		return nil
	}
	w := max(1, m.w-2*margin)
	rows := widget.Wrap(safetext.Clean(text), w)
	if len(rows) > mostMessage {
		rows = append(rows[:mostMessage-1], widget.Truncate(rows[mostMessage-1]+" …", w))
	}
	for i, row := range rows {
		rows[i] = paint(row)
	}
	return rows
}

// View draws the screen, in white light's full colour; in the dark nothing.
func (m Model) View() string {
	if m.dark() {
		return ""
	}
	if m.w < leastWidth || m.h < leastHeight {
		return style.Value("window too small") + "\n" + style.Label("40x12 at least")
	}
	f := frameOf(m)
	about, w, h := m.stack.top().About(), f.inner(), f.body()
	if m.help == nil {
		return f.around(about, m.stack.top().View(w, h), keysOf(about, w))
	}
	return f.help(*m.help, about)
}

// keysOf is the foot's keys; where something is typed ? is a letter, and opens no help.
func keysOf(about screen.About, w int) string {
	if about.Typing {
		return widget.KeysAlone(w, about.Foot...)
	}
	return widget.Keys(w, about.Foot...)
}
