package tui

// The picture: head, body, message, foot.

import (
	"strings"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

// The least window that is drawn in, and the margins.
const (
	leastWidth  = 40
	leastHeight = 12
	margin      = 2
	airy        = 20 // rows from which there is a blank one beneath the head and above the foot
	mostMessage = 4
)

// inner is the width between the margins.
func (m Model) inner() int { return max(1, m.w-2*margin) }

// air is how many blank rows stand between the parts.
func (m Model) air() int {
	if m.h >= airy {
		return 1
	}
	return 0
}

// foot is the message, or the question, in rows.
func (m Model) foot() []string {
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
	rows := widget.Wrap(safetext.Clean(text), m.inner())
	if len(rows) > mostMessage {
		rows = rows[:mostMessage]
		rows[mostMessage-1] = widget.Truncate(rows[mostMessage-1]+" …", m.inner())
	}
	for i, row := range rows {
		rows[i] = paint(row)
	}
	return rows
}

// bodyHeight is how many rows the body has.
func (m Model) bodyHeight() int { return max(1, m.h-2-2*m.air()-len(m.foot())) }

// View draws the screen, in white light's full colour; in the dark nothing.
func (m Model) View() string {
	if m.dark() {
		return ""
	}
	if m.w < leastWidth || m.h < leastHeight {
		return style.Value("window too small") + "\n" + style.Label("40x12 at least")
	}
	about, w, h := m.top().About(), m.inner(), m.bodyHeight()
	body := ""
	if m.help != nil {
		help := *m.help
		help.Width, help.Height = w, h
		body = help.View()
	} else {
		body = m.top().View(w, h)
	}
	rows := []string{m.head(about.Title, about.Right, w)}
	rows = append(rows, make([]string, m.air())...)
	lines := strings.Split(body, "\n")
	rows = append(rows, lines[:min(h, len(lines))]...)
	foot := m.foot()
	for len(rows) < m.h-1-m.air()-len(foot) {
		rows = append(rows, "")
	}
	rows = append(rows, foot...)
	rows = append(rows, make([]string, m.air())...)
	rows = append(rows, m.keyLine(about.Foot, w))
	for i, row := range rows {
		rows[i] = strings.Repeat(" ", margin) + row
	}
	return strings.Join(rows, "\n")
}

// head is the title, and what stands at its right where there is room.
func (m Model) head(title, right string, w int) string {
	title, right = safetext.Clean(title), safetext.Clean(right)
	if widget.Width(title)+2+widget.Width(right) > w {
		right = ""
	}
	return widget.Spread(style.Title(widget.Truncate(title, w)), style.Label(right), w)
}
